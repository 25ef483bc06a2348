/* Figures put into the rows of a workshop's text; all other bytes stay as they are.
 *
 * A row is an item of one of the workshop's lists, told by its name (or kind and size).  A figure
 * that it has is written over; one that it has not follows the first; a row that is not there is
 * put at the head of its list, and the list at the end of the file.
 */
#ifndef PLUGWRIGHT_AMEND_H
#define PLUGWRIGHT_AMEND_H

#include "read/tree.h"

enum { AMEND_VALUES = 4 };

struct amendment {
    const char *list; /* "woods" */
    struct {
        const char *key, *value;
    } tells[2], values[AMEND_VALUES]; /* by what the row is known (the second may be NULL), and what
                                       * it is to hold, the first before the rest */
    bool there_only;                  /* a row that is not there is not made */
};

/* The item of the list, or NULL. */
const struct node *amend_row(const struct node *root, const struct amendment *amendment);

/* The text of `source`, whose tree is `root`, amended. */
struct str amend_text(struct arena *arena, const struct source *source, const struct node *root,
                      const struct amendment *amendments, int count);

#endif
