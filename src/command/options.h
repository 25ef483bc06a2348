/* The options of all commands as rows: getopt_long's arrays, the check of which command takes
 * which, and the lines of the help are made from them.
 */
#ifndef PLUGWRIGHT_OPTIONS_H
#define PLUGWRIGHT_OPTIONS_H

#include "command/command.h"

/* A set of options, for the table of commands. */
enum {
    OPTION_OUTPUT = 1 << 0,
    OPTION_JSON = 1 << 1,
    OPTION_PDF = 1 << 2,
    OPTION_HTML = 1 << 3,
    OPTION_MARKDOWN = 1 << 4,
    OPTION_HISTORY = 1 << 5,
    OPTION_OWN = 1 << 6,
    OPTION_CARD = 1 << 7,
    OPTION_BRIEF = 1 << 8,
    OPTION_COPIES = 1 << 9,
    OPTION_SOLID = 1 << 10,
    OPTION_OUTLINES = 1 << 11,
    OPTION_FORCE = 1 << 12,
    OPTION_STRICT = 1 << 13,
    OPTION_SARIF = 1 << 14,
    OPTION_ONCE = 1 << 15,
    OPTION_WORKSHOP = 1 << 16, /* of `new`: a flag; */
    OPTION_OWN_ROWS = 1 << 17, /* of `tables`, under the same name: with a file */
    OPTION_DONE = 1 << 18,
    OPTION_FROM = 1 << 19,
    OPTION_WRITE = 1 << 20,
    OPTION_PLOTS = 1 << 21, /* of `learn`, under the name that OPTION_HTML has elsewhere */
    OPTION_PAST = 1 << 22,  /* likewise, and OPTION_HISTORY elsewhere */
};

struct option_row {
    unsigned bit; /* 0: every command takes it, and none */
    const char *name;
    char letter;          /* 0: none */
    const char *argument; /* what it takes, or NULL */
    const char *says;
    size_t member; /* of struct options: a bool, or with an argument a text */
};

const struct option_row *options_rows(int *count);

/* Reads the options from argv[first] on; those that stand in the set `taken`, --help and --version
 * are taken, and what is left are the operands.  `command` is its name, NULL for none.  Returns
 * NULL, or what is wrong in the use. */
const char *options_read(struct arena *arena, int argc, char **argv, int first, const char *command,
                         unsigned taken, struct options *options);

/* A line for each option of the set, and for those that every command takes. */
void options_help(struct buf *out, unsigned taken);

#endif
