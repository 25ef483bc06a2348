#include "emit/write/roff.h"

static void put(struct buf *out, const char *text, bool quoted) {
    for (const char *at = text; *at; at++) {
        if (*at == '`') continue;
        if (*at == '\\')
            buf_text(out, "\\e");
        else if (*at == '"' && quoted)
            buf_text(out, "\\(dq");
        else if (*at == '\n')
            buf_char(out, ' ');
        else
            buf_char(out, *at);
    }
}

void roff_line(struct buf *out, const char *text) {
    buf_text(out, *text == '.' || *text == '\'' ? "\\&" : "");
    put(out, text, false);
    buf_char(out, '\n');
}

void roff_argument(struct buf *out, const char *text) {
    buf_text(out, " \"");
    put(out, text, true);
    buf_char(out, '"');
}
