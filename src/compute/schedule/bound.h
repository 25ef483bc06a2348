/* Lower bounds: no schedule is shorter. */
#ifndef PLUGWRIGHT_SCHEDULE_BOUND_H
#define PLUGWRIGHT_SCHEDULE_BOUND_H

#include "compute/schedule/exact.h"

/* By resources with room for one activity at a time, which they serve in turn. */
int64_t bound_by_turns(struct arena *arena, const struct instance *instance);

/* By showing that all deadlines below it cannot be kept; `low` is a bound already, no bound above
 * `high` is looked for. */
int64_t bound_by_deadlines(struct arena *arena, struct exact *s, int64_t low, int64_t high);

#endif
