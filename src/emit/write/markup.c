#include "emit/write/markup.h"

#include <string.h>

#include "base/unicode.h"

static const char *reference(char c) {
    switch (c) {
    case '&':
        return "&amp;";
    case '<':
        return "&lt;";
    case '>':
        return "&gt;";
    default:
        return "&quot;";
    }
}

void markup_text(struct buf *out, struct str text) {
    for (struct str rest = unicode_clean(out->arena, text); rest.size;) {
        size_t plain = 0;
        while (plain < rest.size && !strchr("&<>\"", rest.data[plain])) plain++;
        buf_bytes(out, rest.data, plain);
        if (plain == rest.size) return;
        buf_text(out, reference(rest.data[plain]));
        rest = (struct str){rest.data + plain + 1, rest.size - plain - 1};
    }
}

void markup_drawing(struct buf *out, struct str svg) {
    static const char plain[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"
                                "-_.,:;=/()";
    buf_text(out, "data:image/svg+xml,");
    for (size_t i = 0, run; i < svg.size; i += run + 1) {
        for (run = 0; i + run < svg.size && strchr(plain, svg.data[i + run]);) run++;
        buf_bytes(out, svg.data + i, run);
        if (i + run < svg.size) buf_printf(out, "%%%02X", (unsigned char)svg.data[i + run]);
    }
}

void markup_element(struct buf *out, const char *tag, const char *text) {
    buf_printf(out, "<%s>", tag);
    markup_text(out, str_of(text));
    buf_printf(out, "</%s>", tag);
}

void markup_image(struct buf *out, const char *words, struct str svg) {
    buf_text(out, "<img alt=\"");
    markup_text(out, str_of(words));
    buf_text(out, "\" src=\"");
    markup_drawing(out, svg);
    buf_text(out, "\">");
}
