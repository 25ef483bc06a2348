/* Several jobs in one project, each with an end of its own: least weighted lateness first, then the
 * earliest end of all, then the least sum of ends.  Total weighted tardiness in the words of the
 * field; ticks as in solve.h.
 */
#ifndef PLUGWRIGHT_SCHEDULE_JOINT_H
#define PLUGWRIGHT_SCHEDULE_JOINT_H

#include "compute/schedule/solve.h"

/* Consecutive activities of the project. */
struct job {
    int first, count;
    int64_t due;    /* -1: whenever it is */
    int64_t weight; /* of a tick late, 0 to 2^12 */
    int64_t least;  /* proven: it never ends earlier, even alone */
};

struct joint_schedule {
    struct schedule schedule; /* `optimal`: no schedule is less late, and none ends earlier */
    int64_t lateness;         /* sum over the jobs of ticks late times weight */
    int64_t lateness_bound;   /* proven: no schedule has less */
};

/* Where activities have setups, these fall away as often as the schedule gains by it; the bounds
 * are those of a project without any setup.  `least` of a job must be, too.
 *
 * `start` is of every activity in some schedule that keeps everything: none that is worse is
 * returned.  Deterministic, as schedule_solve. */
struct joint_schedule schedule_joint(struct arena *arena, const struct project *project,
                                     const struct job *jobs, int job_count, const int64_t *start,
                                     long node_limit);

#endif
