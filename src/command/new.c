/* new: prints a starter recipe, or a starter workshop, under a name. */
#include <string.h>

#include "command/command.h"
#include "emit/print/style.h"

/* A name as a YAML scalar that reads back as it is: single quotes, doubled inside. */
static void put_scalar(struct buf *out, const char *name) {
    buf_char(out, '\'');
    for (; *name; name++) {
        if ((unsigned char)*name < ' ') continue;
        if (*name == '\'') buf_char(out, '\'');
        buf_char(out, *name);
    }
    buf_char(out, '\'');
}

int command_new(struct arena *arena, const struct options *options) {
    static const char mark[] = "@NAME@";
    struct buf out = {.arena = arena};
    struct str starter = options->workshop ? style_workshop_yaml : style_starter_yaml;
    for (size_t i = 0; i < starter.size;) {
        if (starter.size - i > strlen(mark) && memcmp(starter.data + i, mark, strlen(mark)) == 0) {
            put_scalar(&out, options->files[0]);
            i += strlen(mark);
        } else {
            buf_char(&out, starter.data[i++]);
        }
    }
    return command_print(&out);
}
