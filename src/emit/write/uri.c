#include "emit/write/uri.h"

#include <stdbool.h>
#include <string.h>

#include "base/buf.h"

const char *uri_of(struct arena *arena, const char *name) {
    struct buf out = {.arena = arena};
    buf_text(&out, "");
    for (; *name; name++) {
        unsigned char c = (unsigned char)*name;
        bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                     strchr("-._~/", c) != NULL;
        if (plain)
            buf_char(&out, (char)c);
        else
            buf_printf(&out, "%%%02X", c);
    }
    return out.data;
}
