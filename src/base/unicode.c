#include "base/unicode.h"

#include <stdlib.h>
#include <string.h>
#include <utf8proc.h>

/* Whether eight bytes are all printable ASCII: none has its high bit set, nor by taking a blank
 * away from it (a control character would borrow), nor by adding one to it (DEL would carry). */
static bool eight_printable(const char *data) {
    const uint64_t each = UINT64_C(0x0101010101010101);
    uint64_t bytes;
    memcpy(&bytes, data, sizeof bytes);
    return ((bytes | (bytes - each * ' ') | (bytes + each)) & each * 0x80) == 0;
}

static bool is_printable_ascii(char c) {
    return c >= ' ' && c < 0x7F;
}

size_t unicode_skip_ascii(struct str text, size_t byte) {
    while (text.size - byte >= 8 && eight_printable(text.data + byte)) byte += 8;
    while (byte < text.size && is_printable_ascii(text.data[byte])) byte++;
    return byte;
}

int unicode_decode(const char *data, size_t size, uint32_t *point) {
    utf8proc_int32_t value = 0;
    utf8proc_ssize_t most = size < 4 ? (utf8proc_ssize_t)size : 4;
    utf8proc_ssize_t length = utf8proc_iterate((const utf8proc_uint8_t *)data, most, &value);
    if (length <= 0) return 0;
    *point = (uint32_t)value;
    return (int)length;
}

/* Where Unicode has a line end: LF, VT, FF, CR, NEL, LS and PS. */
static bool is_break(uint32_t point) {
    return (point >= '\t' && point <= '\r') || point == 0x85 || point == 0x2028 || point == 0x2029;
}

static bool is_hidden(const utf8proc_property_t *property) {
    switch (property->category) {
    case UTF8PROC_CATEGORY_CC:
    case UTF8PROC_CATEGORY_CF:
    case UTF8PROC_CATEGORY_CO:
    case UTF8PROC_CATEGORY_CS:
    case UTF8PROC_CATEGORY_CN:
        return true;
    default:
        return property->ignorable;
    }
}

struct character unicode_take(struct str *rest) {
    struct character c = {{rest->data, 1}, (unsigned char)*rest->data, CHARACTER_SHOWN, 1};
    if (!is_printable_ascii(*rest->data)) {
        int size = unicode_decode(rest->data, rest->size, &c.point);
        const utf8proc_property_t *property = utf8proc_get_property((utf8proc_int32_t)c.point);
        c.kind = size == 0             ? CHARACTER_BROKEN
                 : is_break(c.point)   ? CHARACTER_BREAK
                 : is_hidden(property) ? CHARACTER_HIDDEN
                                       : CHARACTER_SHOWN;
        c.width = c.kind == CHARACTER_HIDDEN  ? 0
                  : c.kind == CHARACTER_SHOWN ? utf8proc_charwidth((utf8proc_int32_t)c.point)
                                              : 1;
        if (size) c.bytes.size = (size_t)size;
    }
    *rest = (struct str){rest->data + c.bytes.size, rest->size - c.bytes.size};
    return c;
}

size_t unicode_points(struct str text) {
    size_t points = 0;
    for (size_t i = 0; i < text.size; i++) points += !unicode_continues(text.data[i]);
    return points;
}

int unicode_width(struct str text) {
    int width = 0;
    while (text.size) width += unicode_take(&text).width;
    return width;
}

struct str unicode_clean(struct arena *arena, struct str text) {
    struct buf out = {.arena = arena};
    size_t ascii = unicode_skip_ascii(text, 0);
    buf_bytes(&out, text.data, ascii);
    text = (struct str){text.data + ascii, text.size - ascii};
    while (text.size) {
        struct character c = unicode_take(&text);
        if (c.kind == CHARACTER_BREAK) c.bytes = str_of(" ");
        if (c.kind == CHARACTER_BROKEN) c.bytes = str_of(UNICODE_REPLACEMENT);
        if (c.kind != CHARACTER_HIDDEN) buf_str(&out, c.bytes);
    }
    return (struct str){out.data, out.size};
}

const char *unicode_cut(struct arena *arena, const char *text, int most) {
    struct str rest = str_of(text);
    for (int width = 0; rest.size;) {
        const char *end = rest.data;
        width += unicode_take(&rest).width;
        if (width > most) return arena_printf(arena, "%.*s\xE2\x80\xA6", (int)(end - text), text);
    }
    return text;
}

void unicode_pad(struct buf *out, const char *text, int width) {
    int spare = abs(width) - unicode_width(str_of(text));
    if (width > 0) buf_text(out, text);
    for (int i = 0; i < spare; i++) buf_char(out, ' ');
    if (width < 0) buf_text(out, text);
}
