/* Sittings: the work inside one opening of the shop; where only the start is known, the work of one
 * day; where not even that is, work without a pause (docs/physics.md, 12.5).  Seconds from the
 * run's start.
 */
#ifndef PLUGWRIGHT_WORK_SITTING_H
#define PLUGWRIGHT_WORK_SITTING_H

#include "compute/work/run.h"

struct sitting {
    int first, end; /* of the run's stints, `end` excluded */
    int64_t from, to, hands_on;
    struct period opening; /* without length where no hours are known */
};

/* The sitting that begins with this stint. */
struct sitting sitting_from(const struct recipe *recipe, const struct run *run, int first);

int sitting_count(const struct recipe *recipe, const struct run *run);

/* Days since the first Monday of the week in which the run begins, and whether they are known. */
int64_t sitting_day(const struct run *run, int64_t seconds);
bool sitting_has_days(const struct recipe *recipe);

/* Of all the run's plugs, from 1, those that are worked on in a stint. */
struct plug_range {
    int first, last;
};
struct plug_range sitting_plugs(const struct run *run, const struct stint *stint);

#endif
