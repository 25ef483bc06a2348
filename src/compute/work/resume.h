/* The rest of a run of which some operations are done (docs/physics.md, 12.6).  Nobody knows when
 * they were: what follows them is planned as if each had been finished as late as can be, in the
 * shop's hours and before the rest begins.  Times in seconds from the beginning of the rest.
 *
 * A coat that is done has a window for the next one that may be over: the next one is scuffed.
 */
#ifndef PLUGWRIGHT_WORK_RESUME_H
#define PLUGWRIGHT_WORK_RESUME_H

#include "compute/work/planner.h"

/* Marks as done what the recipe skips, where all before it is done; returns the index of an
 * operation that is done though link `*link` puts one before it that is not, or -1. */
int resume_check(const struct route *route, bool *done, int *link);

/* The route with scuffing between a coat that is done and one that is not. */
struct route resume_route(struct arena *arena, const struct recipe *recipe, struct route route);

/* Takes out what is done, and keeps back what has to wait for it. */
void resume_planner(struct planner *planner);

/* Takes out what is done, and nothing else. */
void resume_take_out(struct planner *planner);

/* When the shop was open last before: done work has ended by then. */
int64_t resume_last_open(const struct hours *hours);

#endif
