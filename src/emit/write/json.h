/* A small JSON writer: objects and lists are opened, filled from first to last, and closed.
 *
 * Text is kept as it is, but no byte leaves that a reader could not see: hidden characters
 * (base/unicode.h) are written as escapes, which is the same JSON, and what is not UTF-8 reads
 * U+FFFD.  Numbers have 12 significant digits; -0 is 0, and what is not finite is null.  Memory of
 * the library behind it ends the program when it runs out, as the arena's does.
 */
#ifndef PLUGWRIGHT_WRITE_JSON_H
#define PLUGWRIGHT_WRITE_JSON_H

#include <stdbool.h>
#include <stdint.h>

#include "base/buf.h"
#include "base/unit.h"

struct json_t; /* the library's */

struct json {
    struct arena *arena;
    struct json_t **open; /* the root, and what is open in it, the innermost last */
    int depth;
    size_t capacity;
};

/* An object, and all of it written with a line end behind. */
struct json json_begin(struct arena *arena);
void json_end(struct json *json, struct buf *out);

/* In all of these `key` is NULL inside a list. */
void json_open_object(struct json *json, const char *key);
void json_open_list(struct json *json, const char *key);
void json_close(struct json *json);

void json_put_text(struct json *json, const char *key, const char *text); /* NULL is null */
void json_put_str(struct json *json, const char *key, struct str text);
void json_put_number(struct json *json, const char *key, double value);
void json_put_number_if(struct json *json, const char *key, bool given, double value); /* or null */
/* In the unit that lists for machines have (base/unit.h): "mass_g". */
void json_put_shown(struct json *json, const char *key, enum shown_as what, double value);
void json_put_shown_if(struct json *json, const char *key, bool given, enum shown_as what,
                       double value);
void json_put_whole(struct json *json, const char *key, int64_t value);
void json_put_flag(struct json *json, const char *key, bool value);
void json_put_null(struct json *json, const char *key);

#endif
