/* describe: the program itself, for man and for shells. */
#include "command/describe.h"

#include <string.h>

#include "command/list.h"
#include "command/options.h"
#include "emit/manual.h"
#include "emit/write/roff.h"

/* --- plugwright(1) -------------------------------------------------------------------------- */

static void put_option(struct buf *out, const struct option_row *row) {
    buf_text(out, ".It");
    if (row->letter) buf_printf(out, " Fl %c ,", row->letter);
    buf_printf(out, " Fl Fl %s", row->name);
    if (row->argument) buf_printf(out, " Ar %s", row->argument);
    buf_char(out, '\n');
    roff_line(out, row->says);
}

static void put_options(struct buf *out, unsigned taken, bool common) {
    int count;
    const struct option_row *rows = options_rows(&count);
    for (int i = 0; i < count; i++)
        if (common ? rows[i].bit == 0 : rows[i].bit & taken) put_option(out, &rows[i]);
}

static void put_command(struct buf *out, const struct command *command) {
    buf_printf(out, ".Ss %s %s\n", command->name, command->arguments);
    roff_line(out, command->what);
    if (command->options) {
        buf_text(out, ".Bl -tag -width Ds\n");
        put_options(out, command->options, false);
        buf_text(out, ".El\n");
    }
    buf_text(out, ".Pp\nFor example:\n.Dl");
    buf_char(out, ' ');
    roff_line(out, command->example);
}

void describe_man(struct buf *out) {
    int count;
    const struct command *commands = list_commands(&count);
    buf_text(out, ".Dd " MANUAL_DATE "\n.Dt PLUGWRIGHT 1\n.Os\n.Sh NAME\n.Nm plugwright\n"
                  ".Nd compiler from recipes of wooden plugs to work orders\n.Sh SYNOPSIS\n"
                  ".Nm\n.Ar command\n.Op Ar option ...\n.Op Ar\n.Sh DESCRIPTION\n.Nm\n"
                  "reads a recipe of a wooden plug, described in\n.Xr plugwright-recipe 5 ,\n"
                  "says what is wrong with it, computes its weight, floating, ballast, materials\n"
                  "and time, and writes the work order for the bench.\n"
                  "A file may be\n.Sq -\nfor standard input, and\n.Fl Fl\nends the options.\n"
                  ".Sh COMMANDS\n");
    for (int i = 0; i < count; i++) put_command(out, &commands[i]);
    buf_text(out, ".Ss Options of all commands\n.Bl -tag -width Ds\n");
    put_options(out, 0, true);
    buf_text(out, ".El\n"
                  ".Sh ENVIRONMENT\n.Bl -tag -width Ds\n.It Ev NO_COLOR , TERM\n"
                  "Messages are not coloured where\n.Ev NO_COLOR\nis set or\n.Ev TERM\nis\n"
                  ".Sq dumb .\n.It Ev SOURCE_DATE_EPOCH\nThe date inside a PDF.\n.El\n"
                  ".Sh EXIT STATUS\n.Bl -tag -width Ds\n.It 0\nAll is well.\n.It 1\n"
                  "A recipe has errors; for\n.Cm diff ,\nthe recipes differ.\n.It 2\n"
                  "Wrong use, an unreadable file, a failed write or a missing tool.\n.El\n"
                  ".Sh SEE ALSO\n.Xr git 1 ,\n.Xr pandoc 1 ,\n.Xr plugwright-recipe 5\n");
}

/* --- the command --------------------------------------------------------------------------------
 */

static const struct form {
    const char *name;
    void (*put)(struct buf *out);
} forms[] = {{"man", describe_man},
             {"man-recipe", manual_man},
             {"bash", describe_bash},
             {"zsh", describe_zsh},
             {"fish", describe_fish}};

int command_describe(struct arena *arena, const struct options *options) {
    struct buf out = {.arena = arena};
    for (size_t i = 0; i < sizeof forms / sizeof *forms; i++) {
        if (strcmp(options->files[0], forms[i].name) != 0) continue;
        forms[i].put(&out);
        return command_print(&out);
    }
    return command_trouble(arena, "describe gives man, man-recipe, bash, zsh or fish, not '%s'",
                           options->files[0]);
}
