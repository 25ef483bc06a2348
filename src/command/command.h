/* What commands have in common: options, statuses, and how they talk. */
#ifndef PLUGWRIGHT_COMMAND_H
#define PLUGWRIGHT_COMMAND_H

#include <stdbool.h>

#include "base/arena.h"
#include "base/buf.h"
#include "compile.h"
#include "emit/drawing/figure.h"
#include "system/publish.h"

/* Exit statuses (docs/command.md, Exit status); of several, the greatest counts. */
enum { STATUS_FINE = 0, STATUS_ERRORS = 1, STATUS_TROUBLE = 2 };

#define VERSION "1.0"

/* What was asked for, and the operands. */
struct options {
    bool json, pdf, html, markdown, history, own, card, brief, solid, outlines, force, strict,
        sarif, once, workshop, write, help, version;
    const char *directory, *copies, *color, *workshop_file, *done, *from;
    char **files;
    int count;
};

int command_worse(int status, int other);

/* Says on standard error what cannot be done; STATUS_TROUBLE. */
__attribute__((format(printf, 2, 3))) int command_trouble(struct arena *arena, const char *format,
                                                          ...);

/* Says on standard error what is wrong with a compilation, in colour as the options ask; the status
 * that it calls for. */
int command_report(struct arena *arena, struct compilation *c, const struct options *options);

/* The options with the recipes alone: of several files, workshops are passed over, which is said on
 * standard error, so that all files of a folder can be named at once.  Where there is no recipe at
 * all, as they were. */
struct options command_recipes(struct arena *arena, const struct options *options);

/* Prints on standard output, which is then told to be full or broken: STATUS_TROUBLE. */
int command_print(const struct buf *out);

/* Drawings as files, with room behind them for so many more. */
struct publish_file *command_files(struct arena *arena, const struct figure_list *figures,
                                   int more);

/* The commands themselves; each returns the exit status. */
int command_check(struct arena *arena, const struct options *options);
int command_weigh(struct arena *arena, const struct options *options);
int command_order(struct arena *arena, const struct options *options);
int command_describe(struct arena *arena, const struct options *options);
int command_plan(struct arena *arena, const struct options *options);
int command_learn(struct arena *arena, const struct options *options);
int command_diff(struct arena *arena, const struct options *options);
int command_watch(struct arena *arena, const struct options *options);
int command_facts(struct arena *arena, const struct options *options);
int command_tables(struct arena *arena, const struct options *options);
int command_lsp(struct arena *arena, const struct options *options);
int command_new(struct arena *arena, const struct options *options);

#endif
