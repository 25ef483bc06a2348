#include "command/command.h"

#include <errno.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

int command_worse(int status, int other) {
    return status > other ? status : other;
}

int command_trouble(struct arena *arena, const char *format, ...) {
    struct buf message = {.arena = arena};
    va_list args;
    va_start(args, format);
    buf_vprintf(&message, format, args);
    va_end(args);
    fflush(stdout);
    fprintf(stderr, "plugwright: error: %s\n", diag_clean(arena, message.data));
    return STATUS_TROUBLE;
}

/* Unless it is asked for or forbidden: on a terminal that can, where nobody has said NO_COLOR. */
static bool colour_wanted(const struct options *options) {
    const char *no_color = getenv("NO_COLOR"), *terminal = getenv("TERM");
    if (options->color && strcmp(options->color, "auto") != 0)
        return strcmp(options->color, "always") == 0;
    return isatty(STDERR_FILENO) && !(no_color && *no_color) &&
           !(terminal && strcmp(terminal, "dumb") == 0);
}

int command_report(struct arena *arena, struct compilation *c, const struct options *options) {
    if (c->failure) return command_trouble(arena, "%s", c->failure);
    diags_print(&c->diags, stderr, colour_wanted(options));
    diags_summary(&c->diags, stderr);
    bool bad = c->diags.errors || (options->strict && c->diags.warnings);
    return bad ? STATUS_ERRORS : STATUS_FINE;
}

static bool is_workshop(struct arena *arena, const char *file) {
    if (strcmp(file, "-") == 0) return false;
    struct compilation c = compile_read(arena, file);
    return c.document.root && variant_is_workshop(c.document.root);
}

struct options command_recipes(struct arena *arena, const struct options *options) {
    struct options own = *options;
    struct buf said = {.arena = arena};
    if (options->count < 2) return own;
    own.files = NEW(arena, char *, options->count);
    own.count = 0;
    for (int i = 0; i < options->count; i++)
        if (is_workshop(arena, options->files[i]))
            buf_printf(&said, "%s is a workshop and no recipe: passed over\n",
                       diag_clean(arena, options->files[i]));
        else
            own.files[own.count++] = options->files[i];
    if (!own.count) return *options;
    if (said.size) fputs(said.data, stderr);
    return own;
}

int command_print(const struct buf *out) {
    if (out->size) fwrite(out->data, 1, out->size, stdout);
    if (fflush(stdout) == 0 && !ferror(stdout)) return STATUS_FINE;
    return command_trouble(out->arena, "standard output: %s", strerror(errno));
}

struct publish_file *command_files(struct arena *arena, const struct figure_list *figures,
                                   int more) {
    struct publish_file *files = NEW(arena, struct publish_file, figures->count + more);
    for (int i = 0; i < figures->count; i++)
        files[i] =
            (struct publish_file){figures->figures[i].file, buf_whole(&figures->figures[i].svg)};
    return files;
}
