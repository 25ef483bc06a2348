/* Work orders on paper: Pandoc with WeasyPrint, several orders at a time.
 *
 * Both tools are found in PATH and started without a shell.  Every order is rendered in a private
 * temporary folder that holds its Markdown, its drawings and our style and nothing else, and that
 * is removed afterwards, also after an interrupt.  The reader is the smallest that the order needs
 * (CommonMark with pipe tables and task lists, no HTML), and of the environment the tools get PATH
 * alone.  A filter of ours makes fields of the boxes and blanks on the tablet's page; with its
 * template that is all markup there which is not Pandoc's own.  What the tools have made is looked
 * at before it takes the place of an earlier sheet.  Same order, same bytes.
 */
#ifndef PLUGWRIGHT_PRINT_H
#define PLUGWRIGHT_PRINT_H

#include <stdbool.h>
#include <stdio.h>

#include "model/recipe.h"
#include "system/publish.h"

/* What an order can be rendered as: bits. */
enum print_form {
    PRINT_PDF = 1,    /* PAGE.pdf, for the bench */
    PRINT_TABLET = 2, /* PAGE.html: one page that needs nothing else and keeps its ticks */
};

struct print_job {
    unsigned forms;           /* what is to be made of it */
    const char *page;         /* what its files are called: "grebe", "grebe-card" */
    const char *kind;         /* of page, for its style: "order", "card" or "plan" */
    struct publication order; /* its drawings and PAGE.md */
    struct str title;
    enum paper paper;
    struct str run; /* what the tablet's page knows of the run (emit/order/tablet.h) */
    /* Set by print_orders: */
    bool published;
    unsigned made;       /* what was rendered and published with it */
    const char *failure; /* NULL, or what went wrong in one or more lines */
};

/* No order takes this long to render on a machine that can be worked with. */
enum { PRINT_SECONDS = 180 };

/* Renders `jobs`, as many sheets at once as there are processors, and publishes each order with all
 * that was made of it as soon as that is there.  A tool is stopped after `seconds`; what cannot be
 * rendered is missing from its order.  `terminal`, unless NULL, shows progress in one line that is
 * wiped in the end.
 * Returns how many jobs failed.  A missing tool fails every job that needs it, with the name of the
 * Debian package that has it. */
int print_orders(struct arena *arena, struct print_job *jobs, int count, int seconds,
                 FILE *terminal);

#endif
