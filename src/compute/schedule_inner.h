/* What the files of the scheduler share: a checked project, places in time, generated schedules.
 * Nothing outside src/compute/schedule*.c includes this.
 *
 * Start, end of work and end of the wait of an activity determine each other (opening hours and
 * all), and each is a monotone function of the others.
 */
#ifndef PLUGWRIGHT_SCHEDULE_INNER_H
#define PLUGWRIGHT_SCHEDULE_INNER_H

#include "compute/schedule.h"

/* Where an activity lies in time. */
struct slot {
    int64_t start, work_end, end;
};

/* A project that has been found to be sound: links without loops, every piece fits somewhere,
 * every demand is within its capacity. */
struct plan {
    const struct project *project;
    int count;
    const struct activity_link *links; /* with windows that can bind only */
    bool windows;                      /* there is a latest time */
    const int *order;                  /* every activity behind all that it follows */
    const int *into_first, *into; /* links to i: into[into_first[i]] .. into[into_first[i + 1] - 1] */
    const int *from_first, *from; /* links from i, likewise */
    const unsigned char *follows; /* a row of bits for each: which follow it, directly or not */
    const struct slot *head;      /* earliest by links, windows and hours alone */
    int64_t horizon;              /* if there is a schedule at all, one is no longer than this */
};

/* NULL, with the activity to blame, when the project cannot be carried out. */
const struct plan *schedule_plan_of(struct arena *arena, const struct project *project, int *culprit);

/* Does `after` follow `before`, directly or not? */
static inline bool plan_follows(const struct plan *plan, int before, int after) {
    size_t row = ((size_t)plan->count + 7) / 8;
    return plan->follows[(size_t)before * row + (size_t)after / 8] >> after % 8 & 1;
}

/* Latest places if all is to end by `deadline`, by links and hours alone. */
void plan_tails(const struct plan *plan, int64_t deadline, struct slot *tail);

static inline int64_t work_length(const struct activity *activity) {
    return activity->pieces > 0 ? activity->first + (activity->pieces - 1) * activity->each : 0;
}

/* The slots of activity `i` next to a tick: the earliest that starts at it or later, the latest
 * that starts by it; the earliest whose work ends at it or later, the latest whose work ends by it. */
struct slot slot_from(const struct plan *plan, int i, int64_t tick);
struct slot slot_until(const struct plan *plan, int i, int64_t tick);
struct slot slot_ending_from(const struct plan *plan, int i, int64_t tick);
struct slot slot_ending_until(const struct plan *plan, int i, int64_t tick);

/* Ticks of opening in [from, to). */
int64_t hours_between(const struct opening_hours *hours, int64_t from, int64_t to);

#endif
