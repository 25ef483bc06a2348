/* The commands as rows: help, manual pages and the shells' completion are made from them. */
#ifndef PLUGWRIGHT_LIST_H
#define PLUGWRIGHT_LIST_H

#include "command/command.h"

struct command {
    const char *name, *arguments, *what, *example;
    int least, most;  /* operands */
    unsigned options; /* OPTION_ bits */
    int (*run)(struct arena *arena, const struct options *options);
};

const struct command *list_commands(int *count);

#endif
