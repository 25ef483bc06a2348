/* JSON of other programs (RFC 8259) as a tree of values, in an arena. */
#ifndef PLUGWRIGHT_BASE_JSON_H
#define PLUGWRIGHT_BASE_JSON_H

#include <stdbool.h>

#include "base/arena.h"
#include "base/str.h"

enum json_kind { VALUE_NULL, VALUE_FLAG, VALUE_NUMBER, VALUE_TEXT, VALUE_LIST, VALUE_OBJECT };

struct json_value {
    enum json_kind kind;
    struct str key;  /* members of an object */
    struct str text; /* VALUE_TEXT, as UTF-8 */
    double number;
    bool whole; /* the number was written without a fraction */
    bool flag;
    struct json_value *first, *next; /* items or members, in the order of writing */
};

/* Memory of the library behind it ends the program when it runs out, as the arena's does.  For
 * those that use the library. */
void json_memory(void);

/* NULL where it is no JSON; then *wrong says why, on one line. */
const struct json_value *json_read(struct arena *arena, struct str bytes, const char **wrong);

/* The value behind some keys, such as "textDocument.uri", or NULL. */
const struct json_value *json_at(const struct json_value *value, const char *keys);

/* The same as a text, empty where there is none, and as a whole number, `otherwise` where there is
 * none or it is no number of an int. */
struct str json_text_at(const struct json_value *value, const char *keys);
int json_whole_at(const struct json_value *value, const char *keys, int otherwise);

#endif
