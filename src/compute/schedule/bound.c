#include "compute/schedule/bound.h"

/* In turn: activities that each take more than half of a resource use it one after the other.  The
 * earliest time by which so and so many of each kind can be over, in any order, follows from the
 * earliest times for one fewer of each kind, since a later begin never ends earlier; links between
 * them are left aside.  This is for resources that are kept through waits: for others the demands
 * below say as much.
 *
 * Deadlines: if all is to end by a deadline, links, hours and resources narrow every activity down
 * to a stretch of time (schedule_propagate.c).  A deadline is refuted when that leaves some
 * activity no start, or when those that lie wholly between two ticks need more of a resource than
 * there is (Baptiste, Le Pape and Nuijten, "Constraint-Based Scheduling", 2001, chapter 3).  Every
 * refuted deadline raises the bound, so halving the interval is safe.
 */

#include <stdlib.h>
#include <string.h>

/* --- in turn --------------------------------------------------------------------------------- */

/* Activities that use a resource alike: from the start or the end of their work, to the end of
 * their work or of their wait. */
struct kind {
    struct activity shape;
    bool resting, waiting;
    int64_t earliest; /* least head */
    int count;
    int stride; /* of its count in the number of a state */
};

struct turns {
    const struct instance *instance;
    int resource;
    struct kind *kind;
    int kinds;
};

/* Does activity `i` keep all others like it from the resource, and while it does what? */
static bool excludes(const struct turns *t, int i, struct kind *use) {
    const struct activity *a = &t->instance->project->activities[i];
    int capacity = t->instance->capacity[t->resource];
    bool working = work_length(a) > 0 && 2 * a->work[t->resource] > capacity;
    bool waiting = a->wait > 0 && 2 * a->rest[t->resource] > capacity;
    const struct slot *head = &t->instance->head[i];
    *use = (struct kind){*a, !working, waiting, working ? head->start : head->work_end, 1, 0};
    return working || waiting;
}

static bool alike(const struct kind *a, const struct kind *b) {
    const struct activity *x = &a->shape, *y = &b->shape;
    return a->resting == b->resting && a->waiting == b->waiting && x->first == y->first &&
           x->each == y->each && x->pieces == y->pieces && x->wait == y->wait &&
           x->in_hours == y->in_hours;
}

static int64_t least(int64_t a, int64_t b) {
    return a < b ? a : b;
}

static void add_kind(struct turns *t, const struct kind *use) {
    for (int k = 0; k < t->kinds; k++) {
        if (!alike(&t->kind[k], use)) continue;
        t->kind[k].count++;
        t->kind[k].earliest = least(t->kind[k].earliest, use->earliest);
        return;
    }
    t->kind[t->kinds++] = *use;
}

/* Numbers the states: how many there are, or 0 when that is above `most`. */
static int number_states(struct turns *t, int most) {
    int states = 1;
    for (int k = 0; k < t->kinds; k++) {
        t->kind[k].stride = states;
        if (t->kind[k].count + 1 > most / states) return 0;
        states *= t->kind[k].count + 1;
    }
    return states;
}

/* When one of the kind is over that begins at `tick` or later. */
static int64_t over(const struct turns *t, const struct kind *kind, int64_t tick) {
    if (tick < kind->earliest) tick = kind->earliest;
    int64_t start, work_end = tick;
    if (!kind->resting)
        hours_fit(&t->instance->project->hours, &kind->shape, tick, &start, &work_end);
    return work_end + (kind->waiting ? kind->shape.wait : 0);
}

/* The earliest time by which all are over. */
static int64_t all_over(struct arena *arena, const struct turns *t, int states) {
    int64_t *time = NEW(arena, int64_t, states);
    for (int state = 1; state < states; state++) time[state] = INT64_MAX;
    for (int state = 0; state + 1 < states; state++)
        for (int k = 0; k < t->kinds; k++) {
            const struct kind *kind = &t->kind[k];
            if (state / kind->stride % (kind->count + 1) == kind->count) continue;
            int64_t *next = &time[state + kind->stride];
            *next = least(*next, over(t, kind, time[state]));
        }
    return time[states - 1];
}

/* The project's end when activity `i` lies no earlier than in `slot`. */
static int64_t end_after(const struct instance *instance, int i, struct slot slot,
                         struct slot *scratch) {
    memcpy(scratch, instance->head, (size_t)instance->count * sizeof *scratch);
    scratch[i] = slot;
    for (int n = 0; n < instance->count; n++) {
        const struct slot *before = &scratch[instance->order[n]];
        const int *first = &instance->from_first[instance->order[n]];
        for (int k = first[0]; k < first[1]; k++) {
            const struct tie *tie = &instance->ties[instance->from[k]];
            int64_t end = tie_end(tie, before);
            if (scratch[tie->after].start < end)
                scratch[tie->after] = slot_from(instance, tie->after, end);
        }
    }
    return schedule_makespan(scratch, instance->count);
}

static int64_t bound_of_turns(struct arena *arena, struct turns *t) {
    enum { MOST_STATES = 1 << 18 };
    const struct instance *instance = t->instance;
    struct kind use;
    bool waiting = false;
    t->kinds = 0;
    for (int i = 0; i < instance->count; i++) {
        if (!excludes(t, i, &use)) continue;
        add_kind(t, &use);
        waiting = waiting || use.waiting;
    }
    int states = number_states(t, MOST_STATES);
    if (!waiting || states == 0) return 0;
    int64_t time = all_over(arena, t, states);

    /* Whichever comes last, what follows it is still to be done. */
    int64_t bound = INT64_MAX;
    struct slot *scratch = NEW(arena, struct slot, instance->count);
    for (int i = 0; i < instance->count; i++) {
        if (!excludes(t, i, &use)) continue;
        struct slot slot = slot_ending_from(instance, i, time - (use.waiting ? use.shape.wait : 0));
        if (slot.start < instance->head[i].start) slot = instance->head[i];
        bound = least(bound, end_after(instance, i, slot, scratch));
    }
    return bound;
}

int64_t bound_by_turns(struct arena *arena, const struct instance *instance) {
    struct turns t = {instance, 0, NEW(arena, struct kind, instance->count), 0};
    int64_t bound = 0;
    for (; t.resource < instance->project->resources; t.resource++) {
        int64_t by_this = bound_of_turns(arena, &t);
        if (by_this > bound) bound = by_this;
    }
    return bound;
}

/* --- deadlines ------------------------------------------------------------------------------- */

/* What one part of an activity needs of a resource, and when. */
struct demand {
    int64_t from, to; /* nothing of it lies outside */
    int64_t amount;
};

static int by_end(const void *a, const void *b) {
    const struct demand *x = a, *y = b;
    if (x->to != y->to) return x->to < y->to ? -1 : 1;
    return (x->from > y->from) - (x->from < y->from);
}

/* Is the resource used by work in opening hours alone?  Then only those count. */
static bool used_in_hours(const struct exact *s, const struct resource *r) {
    const struct project *project = s->instance->project;
    if (project->hours.count == 0) return false;
    for (int k = 0; k < r->count; k++)
        if (r->part[k].waiting || !project->activities[r->part[k].activity].in_hours) return false;
    return true;
}

static void collect_demands(const struct exact *s, const struct resource *r, bool in_hours,
                            struct demand *demand) {
    for (int k = 0; k < r->count; k++) {
        const struct usage *part = &r->part[k];
        const struct activity *a = &s->instance->project->activities[part->activity];
        const struct slot *early = &s->bound[2 * part->activity];
        const struct slot *late = &s->bound[2 * part->activity + 1];
        int64_t length = (part->resting ? 0 : work_length(a)) + (part->waiting ? a->wait : 0);
        demand[k].from = part->resting ? early->work_end : early->start;
        demand[k].to = part->waiting ? late->end : late->work_end;
        demand[k].amount = length * part->demand;
        if (!in_hours) continue;
        demand[k].from = hours_open_until(&s->instance->project->hours, demand[k].from);
        demand[k].to = hours_open_until(&s->instance->project->hours, demand[k].to);
    }
    qsort(demand, (size_t)r->count, sizeof *demand, by_end);
}

/* Do the demands that lie wholly between two ticks always fit between them? */
static bool demands_fit(const struct demand *demand, int count, int capacity) {
    for (int a = 0; a < count; a++) {
        int64_t from = demand[a].from, amount = 0;
        if (a > 0 && from == demand[a - 1].from) continue;
        for (int k = 0; k < count; k++) {
            if (demand[k].from < from) continue;
            amount += demand[k].amount;
            if (amount > (demand[k].to - from) * capacity) return false;
        }
    }
    return true;
}

static bool refuted(struct exact *s, int64_t deadline, struct demand *scratch) {
    if (!exact_assume(s, deadline)) return true;
    for (int number = 0; number < s->instance->project->resources; number++) {
        const struct resource *r = &s->resource[number];
        collect_demands(s, r, used_in_hours(s, r), scratch);
        if (!demands_fit(scratch, r->count, r->capacity)) return true;
    }
    return false;
}

int64_t bound_by_deadlines(struct arena *arena, struct exact *s, int64_t low, int64_t high) {
    struct demand *scratch = NEW(arena, struct demand, 2 * s->instance->count);
    while (low < high && s->nodes < s->node_limit) {
        int64_t middle = low + (high - low) / 2;
        if (refuted(s, middle, scratch))
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}
