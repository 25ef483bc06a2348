/* new: prints a starter recipe, or a starter workshop, under a name. */
#include <string.h>

#include "command/command.h"
#include "emit/print/style.h"

#ifndef SHARE
#define SHARE "/usr/local/share/plugwright"
#endif

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

/* Where `make install` puts the schemas, so that editors find them. */
static void put_share(struct buf *out, const char *name) {
    (void)name;
    buf_text(out, SHARE);
}

static const struct {
    const char *mark;
    void (*put)(struct buf *out, const char *name);
} places[] = {{"@NAME@", put_scalar}, {"@SHARE@", put_share}};

/* Fills the place that begins here, if one does; its size. */
static size_t fill_place(struct buf *out, struct str rest, const char *name) {
    for (size_t i = 0; i < sizeof places / sizeof *places; i++) {
        size_t size = strlen(places[i].mark);
        if (rest.size < size || memcmp(rest.data, places[i].mark, size) != 0) continue;
        places[i].put(out, name);
        return size;
    }
    return 0;
}

int command_new(struct arena *arena, const struct options *options) {
    struct buf out = {.arena = arena};
    struct str rest = options->workshop ? style_workshop_yaml : style_starter_yaml;
    while (rest.size) {
        size_t taken = fill_place(&out, rest, options->files[0]);
        if (!taken) buf_char(&out, rest.data[0]), taken = 1;
        rest = (struct str){rest.data + taken, rest.size - taken};
    }
    return command_print(&out);
}
