/* One mapping over another, key by key. */
#ifndef PLUGWRIGHT_MERGE_H
#define PLUGWRIGHT_MERGE_H

#include "read/tree.h"

struct merge {
    struct arena *arena;
    struct diags *diags;
    const char *giver; /* who gives what lies under: "the base" */
};

/* Merges a mapping over the one that lies under it: first what it gives itself, in its order, then
 * what is left of the other, by name.  Mappings in both merge likewise, everything else is
 * replaced, and `none` drops a mapping or a list.  The other's own list of children is used up. */
struct node *merge_trees(const struct merge *merge, struct node *base, struct node *own);

#endif
