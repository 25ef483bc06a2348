/* Which one more opening of the shop brings the end of a run's rest forward most.  Times in seconds
 * from the beginning of the rest. */
#ifndef PLUGWRIGHT_WORK_SOONER_H
#define PLUGWRIGHT_WORK_SOONER_H

#include "compute/work/run.h"

/* One more opening, on a day on which the shop is closed. */
struct extra_opening {
    struct period opening; /* without length: none was found that helps */
    int64_t gain;          /* by how much the end comes forward */
    bool tried, proven;    /* there are hours, and no run of years; no gain: no day can have one */
};

struct resumed {
    bool given;
    int64_t closed; /* when the shop was open last before: done work has ended by then */
    struct extra_opening extra;
};

/* For a run that is feasible; else only `given` is filled in. */
struct resumed resumed_of(const struct recipe *recipe, const struct run *run);

#endif
