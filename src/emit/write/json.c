/* With base/json the only file that knows jansson.  What it builds, it builds in memory first:
 * jansson keeps the order in which keys are put.
 */
#include "emit/write/json.h"

#include <jansson.h>
#include <math.h>

#include "base/unicode.h"
#include "base/json.h"

enum { DIGITS = 12, INDENT = 2 }; /* enough digits to compare two programs by */

/* Of jansson's failures only those of memory are left: texts are UTF-8 and numbers finite. */
static json_t *sound(json_t *value) {
    if (!value) arena_out_of_memory();
    return value;
}

static void open_value(struct json *json, json_t *value) {
    GROW(json->arena, json->open, json->depth, json->capacity);
    json->open[json->depth++] = value;
}

static void put(struct json *json, const char *key, json_t *value) {
    json_t *into = json->open[json->depth - 1];
    int failed = key ? json_object_set_new(into, key, sound(value))
                     : json_array_append_new(into, sound(value));
    if (failed) arena_out_of_memory();
}

struct json json_begin(struct arena *arena) {
    struct json json = {.arena = arena};
    json_memory();
    open_value(&json, sound(json_object()));
    return json;
}

void json_open_object(struct json *json, const char *key) {
    json_t *object = json_object();
    put(json, key, object);
    open_value(json, object);
}

void json_open_list(struct json *json, const char *key) {
    json_t *list = json_array();
    put(json, key, list);
    open_value(json, list);
}

void json_close(struct json *json) {
    json->depth--;
}

static struct str as_utf8(struct arena *arena, struct str text) {
    struct buf out = {.arena = arena};
    buf_text(&out, "");
    while (text.size) {
        struct character c = unicode_take(&text);
        buf_str(&out, c.kind == CHARACTER_BROKEN ? str_of(UNICODE_REPLACEMENT) : c.bytes);
    }
    return (struct str){out.data, out.size};
}

void json_put_str(struct json *json, const char *key, struct str text) {
    text = as_utf8(json->arena, text);
    put(json, key, json_stringn(text.data, text.size));
}

void json_put_text(struct json *json, const char *key, const char *text) {
    if (text)
        json_put_str(json, key, str_of(text));
    else
        json_put_null(json, key);
}

void json_put_number(struct json *json, const char *key, double value) {
    if (isfinite(value))
        put(json, key, json_real(value == 0 ? 0 : value)); /* never -0 */
    else
        json_put_null(json, key);
}

void json_put_number_if(struct json *json, const char *key, bool given, double value) {
    json_put_number(json, key, given ? value : NAN);
}

void json_put_shown(struct json *json, const char *key, enum shown_as what, double value) {
    json_put_number(json, key, unit_number(shown_exact(what).unit, value));
}

void json_put_shown_if(struct json *json, const char *key, bool given, enum shown_as what,
                       double value) {
    json_put_shown(json, key, what, given ? value : NAN);
}

void json_put_whole(struct json *json, const char *key, int64_t value) {
    put(json, key, json_integer(value));
}

void json_put_flag(struct json *json, const char *key, bool value) {
    put(json, key, json_boolean(value));
}

void json_put_null(struct json *json, const char *key) {
    put(json, key, json_null());
}

/* RFC 8259, 7: beyond U+FFFF a pair of surrogates. */
static void put_escape(struct buf *out, uint32_t point) {
    if (point > 0xFFFF)
        buf_printf(out, "\\u%04x\\u%04x", 0xD800 + (unsigned)((point - 0x10000) >> 10),
                   0xDC00 + (unsigned)(point & 0x3FF));
    else
        buf_printf(out, "\\u%04x", (unsigned)point);
}

/* All but ASCII stands inside strings; the line ends between values are the only controls. */
static void put_visible(struct buf *out, struct str text) {
    while (text.size) {
        struct character c = unicode_take(&text);
        if (c.kind == CHARACTER_SHOWN || c.point == '\n')
            buf_str(out, c.bytes);
        else
            put_escape(out, c.point);
    }
}

static int take_bytes(const char *bytes, size_t size, void *out) {
    buf_bytes(out, bytes, size);
    return 0;
}

void json_end(struct json *json, struct buf *out) {
    struct buf text = {.arena = json->arena};
    json_t *root = json->open[0];
    size_t flags = JSON_INDENT(INDENT) | JSON_REAL_PRECISION(DIGITS);
    if (json_dump_callback(root, take_bytes, &text, flags)) arena_out_of_memory();
    json_decref(root);
    put_visible(out, (struct str){text.data, text.size});
    buf_char(out, '\n');
}
