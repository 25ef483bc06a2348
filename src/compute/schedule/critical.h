/* Critical path method: earliest and latest starts, total and free float (docs/physics.md, 12.1).
 * Any unit of time.  Source: Kelley and Walker 1959.
 */
#ifndef PLUGWRIGHT_SCHEDULE_CRITICAL_H
#define PLUGWRIGHT_SCHEDULE_CRITICAL_H

#include <stdbool.h>

#include "base/arena.h"

struct critical_link {
    int before, after;
};

struct critical_times {
    double early_start, late_start; /* in the unit of the durations */
    double total_float, free_float;
    bool critical;
};

/* The activities in an order that puts each behind all that it follows; NULL when the links form a
 * loop. */
const int *critical_order(struct arena *arena, int count, const struct critical_link *links,
                          int link_count);

/* `durations` of `count` activities, links in any order.  Returns the project's length, or a
 * negative number when the links form a loop.  `times` has room for `count`. */
double critical_path(struct arena *arena, const double *durations, int count,
                     const struct critical_link *links, int link_count,
                     struct critical_times *times);

#endif
