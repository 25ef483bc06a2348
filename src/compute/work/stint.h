/* Stints at the bench: the hands-on work of one step between two closings of the shop
 * (docs/physics.md, 12.2 and 12.3).  Times in seconds from the run's start.
 */
#ifndef PLUGWRIGHT_WORK_STINT_H
#define PLUGWRIGHT_WORK_STINT_H

#include "compute/schedule/solve.h"

struct stint {
    int step; /* index into the run's steps */
    int64_t from, to;
    int first_plug, last_plug; /* of the load, from 1: those worked on in this stint */
    bool last;                 /* the step's work is done with it */
};

/* The stints of one activity that starts at `start`: one for every opening that its pieces need.
 * `list` has room for `activity->pieces`.  Returns their number. */
int stint_split(const struct hours *hours, const struct activity *activity, int64_t start,
                struct stint *list);

#endif
