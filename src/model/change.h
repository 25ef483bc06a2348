/* What was changed between two recipes, by meaning: values by the rows of the grammar, lists by
 * minimal edit alignment of what their items say (so an item put in does not change all later
 * ones), and nothing that only was written in another way.
 */
#ifndef PLUGWRIGHT_CHANGE_H
#define PLUGWRIGHT_CHANGE_H

#include "model/walk.h"

enum change_kind {
    CHANGE_VALUE,   /* of a key */
    CHANGE_SHIFTED, /* an item of a list stands elsewhere along the body */
    CHANGE_ADDED,   /* a part, or an item of a list */
    CHANGE_REMOVED,
    CHANGE_REORDERED, /* an item stands elsewhere in its list */
};

struct change {
    enum change_kind kind;
    int line;                   /* changes of one item share one */
    const char *path;           /* of the value, or of the part or list that something came to */
    const char *item;           /* "layer \"copper\"", "bore at 25 mm"; NULL: of the part itself */
    const char *key;            /* "hook size"; NULL: of a whole item or part */
    const char *before, *after; /* to be read, as written where that is short; of what came or
                                 * went, what it says; of a new order, places from 1 */
    const char *old_value, *new_value; /* canonical; NULL: none */
    const char *behind;                /* of an added item: its neighbour before, or NULL */
};

enum { CHANGE_DEPTH = 6 };

/* All changes of one part's own values, or of one list, or a part that came or went: what can be
 * taken over from one recipe into another by itself (model/graft.h). */
struct change_group {
    const char *path, *name; /* "finish.paint.layers", "layers"; "" of the recipe's own values */
    const struct field *way[CHANGE_DEPTH]; /* from the recipe to the part */
    int depth;
    bool whole; /* the last field as it stands; false: the values of the part it leads to */
    int first, count;
};

struct change_list {
    struct change *items;
    int count, group_count;
    size_t capacity, group_capacity;
    struct change_group *groups;
    int bore_before[MAX_BORES]; /* of every new ballast bore: which one it was, or -1 */
};

struct change_list change_between(struct walk old, struct walk new);

#endif
