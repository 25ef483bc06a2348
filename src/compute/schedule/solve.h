/* Resource-constrained project scheduling with opening hours and latest times; in the words of the
 * field, RCPSP with a calendar and maximal time lags (Bartusch, Moehring and Radermacher, Annals of
 * Operations Research 16, 1988, 201-240), for the shortest makespan.
 *
 * An activity is hands-on work in pieces and then an unattended wait that runs day and night.  A
 * piece is uninterrupted and inside one opening; the next one follows at once, or where the opening
 * has no room left for it, as soon as one has.  Openings that touch are one, also across the end of
 * the cycle.  Places have capacities; the builder is one resource like any other.  Some places hold
 * one kind of activity at a time (batches of incompatible families: Potts and Kovalyov, European
 * Journal of Operational Research 120, 2000, 228-249; from memory).
 * Time is a whole number of ticks (seconds for a run, anything for a benchmark).
 *
 * How it is solved: solve.c.  Fast where serial generation meets a lower bound at once; exact
 * for usual runs; for the rest as good as the node limit allows, with a bound that says how good.
 */
#ifndef PLUGWRIGHT_SCHEDULE_SOLVE_H
#define PLUGWRIGHT_SCHEDULE_SOLVE_H

#include <stdbool.h>
#include <stdint.h>

#include "base/arena.h"
#include "base/hours.h"

enum {
    SCHEDULE_MAX_RESOURCES = 8,
    SCHEDULE_NODE_LIMIT = 600000, /* for a run: half a second or so; most need some thousands */
};

struct activity {
    int64_t first, each; /* length of the first piece of work, and of every further one */
    int pieces;          /* number of pieces; 0: no work at all */
    int64_t wait;        /* after the last piece */
    int64_t earliest;    /* it never begins before this tick */
    bool in_hours;       /* pieces lie inside opening periods */
    int work[SCHEDULE_MAX_RESOURCES]; /* resources from the first piece's start to the last's end */
    int rest[SCHEDULE_MAX_RESOURCES]; /* resources during the wait */
    int job;                          /* those of two jobs are never taken for alike */
    int kind;      /* what it holds its resources for, from 1; 0: nothing that is told apart */
    int64_t setup; /* part of `first` that falls away where one of the same kind ended as this
                    * begins (sequence-dependent set-up); joint.h alone makes use of it */
};

/* `after` starts at the end of `before` (wait included) or later; with `within` >= 0 also at most
 * that long after the end of the work of `before` (a maximal time lag). */
struct activity_link {
    int before, after;
    int64_t within; /* -1: no latest time */
};

struct project {
    const struct activity *activities;
    int count;
    const struct activity_link *links;
    int link_count;
    int capacity[SCHEDULE_MAX_RESOURCES];
    bool one_kind[SCHEDULE_MAX_RESOURCES]; /* never holds activities of two kinds at once */
    int resources;
    struct hours hours;
};

/* Whether two activities may not hold a resource at once, whatever room there is on it. */
static inline bool project_keeps_apart(const struct project *project, int resource, int i, int j) {
    return project->one_kind[resource] &&
           project->activities[i].kind != project->activities[j].kind;
}

struct schedule {
    bool feasible;     /* false: some work fits in no opening, a demand exceeds its capacity, links
                        * form a loop, or no schedule that keeps all latest times was found */
    int64_t *start;    /* of each activity's work */
    int64_t *work_end; /* end of its last piece */
    int64_t *end;      /* end of its wait */
    bool *follows_on;  /* of each: it has no setup; NULL: all have */
    int64_t makespan;
    int64_t lower_bound; /* proven: no schedule is shorter */
    bool optimal;        /* makespan == lower_bound */
    long nodes;          /* activities placed and bounds passed on */
    int culprit;         /* infeasible: an activity that cannot be placed; else -1 */
};

/* Shortest makespan within `node_limit` nodes (deterministic: never a clock), everything as early
 * as that allows.  Never longer than serial generation by latest finish time. */
struct schedule schedule_solve(struct arena *arena, const struct project *project, long node_limit);

/* Serial schedule generation by latest finish time alone: the yardstick. */
struct schedule schedule_serial(struct arena *arena, const struct project *project);

#endif
