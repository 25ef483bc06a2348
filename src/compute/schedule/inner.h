/* What the files of the scheduler share: a checked project, places in time, generated schedules.
 * Nothing outside src/compute/schedule*.c includes this.
 *
 * Start, end of work and end of the wait of an activity determine each other (opening hours and
 * all), and each is a monotone function of the others.
 */
#ifndef PLUGWRIGHT_SCHEDULE_INNER_H
#define PLUGWRIGHT_SCHEDULE_INNER_H

#include "compute/schedule/solve.h"

/* Where an activity lies in time. */
struct slot {
    int64_t start, work_end, end;
};

/* A link as the scheduler sees it. */
struct tie {
    int before, after;
    int64_t within; /* -1: no latest time, or one that cannot bind */
    bool by_work;   /* `after` waits for the work of `before` alone, not for its wait */
};

static inline int64_t tie_end(const struct tie *tie, const struct slot *before) {
    return tie->by_work ? before->work_end : before->end;
}

/* A project that has been found to be sound: links without loops, every piece fits somewhere,
 * every demand is within its capacity. */
struct instance {
    const struct project *project;
    int count;
    int capacity[SCHEDULE_MAX_RESOURCES];
    struct tie *ties; /* the links, and ties that put activities alike in order */
    int tie_count;
    bool windows;     /* there is a latest time */
    const int *order; /* every activity behind all that it follows */
    /* Ties to i: into[into_first[i]] .. into[into_first[i + 1] - 1]; ties from i likewise. */
    const int *into_first, *into, *from_first, *from;
    const unsigned char *follows; /* a row of bits for each: which follow it, directly or not */
    const struct slot *head;      /* earliest by ties, windows and hours alone */
    int64_t horizon;              /* if there is a schedule at all, one is no longer than this */
};

/* NULL, with the activity to blame, when the project cannot be carried out. */
const struct instance *instance_of(struct arena *arena, const struct project *project,
                                   int *culprit);

/* Does `after` follow `before`, directly or not? */
static inline bool schedule_follows(const struct instance *instance, int before, int after) {
    size_t row = ((size_t)instance->count + 7) / 8;
    return instance->follows[(size_t)before * row + (size_t)after / 8] >> after % 8 & 1;
}

/* schedule_twins.c: adds ties between activities that could change places with all that hangs on
 * them; returns how many.  There is room in `ties` for one for each activity. */
int schedule_tie_twins(struct arena *arena, struct instance *instance);

/* Latest places if all is to end by `deadline`, by ties and hours alone. */
void schedule_tails(const struct instance *instance, int64_t deadline, struct slot *tail);

static inline int64_t work_length(const struct activity *activity) {
    return activity->pieces > 0 ? activity->first + (activity->pieces - 1) * activity->each : 0;
}

/* The slots of activity `i` next to a tick: the earliest that starts at it or later, the latest
 * that starts by it; the earliest whose work ends at it or later, the latest whose work ends by it.
 */
struct slot slot_from(const struct instance *instance, int i, int64_t tick);
struct slot slot_until(const struct instance *instance, int i, int64_t tick);
struct slot slot_ending_from(const struct instance *instance, int i, int64_t tick);
struct slot slot_ending_until(const struct instance *instance, int i, int64_t tick);

int64_t schedule_makespan(const struct slot *slot, int count);

#endif
