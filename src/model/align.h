/* Minimal edit alignment of two sequences: which item became which, and which came or went.
 *
 * Source: the dynamic programme of Needleman and Wunsch (1970), J. Mol. Biol. 48, 443-453, with the
 * costs of an edit distance.
 */
#ifndef PLUGWRIGHT_ALIGN_H
#define PLUGWRIGHT_ALIGN_H

#include "base/arena.h"

struct align_pair {
    int old, new; /* -1: put in, taken out */
};

/* Cost of the old item becoming the new one: 0 where they are alike.  To put in or to take out
 * costs 1, so from 2 on two items are never paired. */
typedef double align_cost(const void *context, int old, int new);

/* Pairs in order, at most old_count + new_count of them; *count says how many.  Takes time and
 * memory of the product of the counts. */
const struct align_pair *align(struct arena *arena, int old_count, int new_count, align_cost *cost,
                               const void *context, int *count);

#endif
