/* The run, a schedule: when each operation of each load (in a factory: batch) happens, with one
 * builder, places and opening hours (docs/physics.md, 12).  Times in seconds from the run's start.
 * Work that fits into no opening makes a run that is not feasible and names the culprit; judge.h
 * makes that an error.
 */
#ifndef PLUGWRIGHT_WORK_RUN_H
#define PLUGWRIGHT_WORK_RUN_H

#include "base/clock.h"
#include "base/hours.h"
#include "compute/work/route.h"
#include "compute/schedule/solve.h"
#include "compute/work/stint.h"

struct run_step {
    int operation; /* index into the route */
    int load;      /* from 1; 0: the whole run at once */
    int plugs;
    int64_t start, work_end, end;
    int64_t latest; /* when it must have begun for its recoat window; -1: no window */
    int64_t hands_on;
    int64_t spared; /* of a colour, the cleaning that falls away; else 0 */
};

struct run {
    struct route route;     /* as planned, with the scuffing that the shop's hours ask for */
    struct run_step *steps; /* by start, then by the route's order */
    int count;
    struct stint *stints; /* by their beginning: what to do when */
    int stint_count;
    int64_t makespan, hands_on;
    int64_t lower_bound;
    bool feasible, optimal;
    int culprit;        /* infeasible: the operation that fits nowhere, or -1 */
    int topcoat_load;   /* plugs at most in one load of the topcoat */
    struct hours hours; /* the shop's; the origin is the second of the week (Monday 00:00 = 0) at
                         * which the run starts */
    long nodes;
};

/* Where a recoat window cannot be met in the shop's hours, the route of the run has a scuffing in
 * its place.  Operations that are done are left out, and what follows them
 * begins when their waits are surely over (resume.h). */
struct run run_of(struct arena *arena, const struct recipe *recipe, const struct route *planned);

#endif
