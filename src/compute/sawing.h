/* What is cut from which board on hand: the blanks of several runs together (docs/physics.md,
 * 10.8).  Runs whose workshops are the same share its boards; SI units.
 */
#ifndef PLUGWRIGHT_SAWING_H
#define PLUGWRIGHT_SAWING_H

#include "compute/cutting/cutting.h"
#include "compute/results.h"

/* One wood of one workshop; or, where there is no stock of boards, of all runs without one, out of
 * boards like the shop's, as many as it takes. */
struct sawing_wood {
    struct str species;
    bool on_hand;
    struct cutting_task task; /* its boards, and what the runs want of them */
    const int *runs;          /* of each want */
    struct cutting cutting;
};

struct sawing {
    struct sawing_wood *woods; /* as the runs name them first */
    int count;
    const int *blanks; /* of each run, that come out of the boards on hand */
};

/* Whether two workshops are the same to the byte; NULL is the same as none. */
bool sawing_shares(const struct results *a, const struct results *b);

/* In the order in which the runs are to have blanks.  A run without boards on hand whose shop does
 * not say what its boards are like has no wood here. */
struct sawing sawing_of(struct arena *arena, const struct results *const *runs, int count);

#endif
