/* A route that is being written: its operations first (draft.c), then their order (route.c).
 * Nobody but these two needs this header.
 */
#ifndef PLUGWRIGHT_WORK_DRAFT_H
#define PLUGWRIGHT_WORK_DRAFT_H

#include "compute/work/route.h"
#include "compute/work/sequence.h"

/* Operations are numbered in the order of the rows, the recipe's own after them. */
struct draft {
    struct arena *arena;
    const struct recipe *recipe;
    double surface; /* of the bare body, m2 */
    struct diags *diags;
    struct operation *operations;
    int count;
    int first[OPERATION_KEYS], last[OPERATION_KEYS]; /* -1: not needed */
    struct sequence *sequence;
    struct precedence *links;
    int link_count;
    size_t link_capacity;
    int *link_at; /* count * count: 1 + the index of the link from one to the other, or 0 */
    int hints;    /* how many more near words are looked for */
};

/* The operations of the recipe, with its own steps added, skipped and changed. */
struct draft draft_of(struct arena *arena, const struct recipe *recipe, double surface,
                      struct diags *diags);

/* Index of an operation, or -1; and the same for an id of the recipe's steps, where -1 comes with a
 * diagnostic at `member`. */
int draft_find(const struct draft *draft, struct str id);
int draft_find_named(struct draft *draft, struct str id, const void *member);

#endif
