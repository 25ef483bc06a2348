/* Work orders on paper: Pandoc with WeasyPrint, several orders at a time.
 *
 * Both tools are found in PATH and started without a shell.  Every order is rendered in a private
 * temporary folder that holds its Markdown, its drawings and our style and nothing else, and that
 * is removed afterwards, also after an interrupt.  The reader is the smallest that the order needs
 * (CommonMark with pipe tables and task lists, no HTML).  Same order, same bytes.
 */
#ifndef PLUGWRIGHT_PRINT_H
#define PLUGWRIGHT_PRINT_H

#include <stdio.h>

#include "model/recipe.h"
#include "system/publish.h"

enum print_form {
    PRINT_PDF,    /* order.pdf, for the bench */
    PRINT_TABLET, /* order.html: one page that needs nothing else and keeps its ticks */
};

struct print_job {
    enum print_form form;
    const char *directory, *stem;     /* where publish_folder put the order, and the result goes */
    const struct publish_file *files; /* the drawings and "order.md", as they were published */
    int count;
    struct str title;
    enum paper paper;
    const char *failure; /* set by print_orders: NULL, or what went wrong in one or more lines */
};

/* Renders `jobs`, as many at once as there are processors, and publishes each result as soon as it
 * is there.  `terminal`, unless NULL, shows progress in one line that is wiped in the end.
 * Returns how many jobs failed.  A missing tool fails every job that needs it, with the name of the
 * Debian package that has it. */
int print_orders(struct arena *arena, struct print_job *jobs, int count, FILE *terminal);

#endif
