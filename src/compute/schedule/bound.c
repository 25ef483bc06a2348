#include "compute/schedule/inner.h"

/* Lower bounds, by two relaxations.
 *
 * By sequence: activities that each take more than half of a resource use it one after the other,
 * as on one machine.  The earliest time by which so and so many of each kind can be over, in any
 * order, follows from the earliest times for one fewer of each kind, since a later begin never ends
 * earlier; arcs between them are left aside.  (The dynamic program of Held and Karp, Journal of the
 * Society for Industrial and Applied Mathematics 10, 1962, 196-210, over numbers of each kind
 * instead of sets.)  This is for resources that are kept through waits: for others the demands
 * below say as much.
 *
 * By deadlines, destructive improvement (Klein and Scholl, European Journal of Operational Research
 * 112, 1999, 322-346): if all is to end by a deadline, arcs, hours and resources narrow every
 * activity down to a stretch of time (propagate.c).  A deadline is refuted when that leaves some
 * activity no start, or when the tasks that lie wholly between two ticks need more of a resource
 * than there is: overload checking (Baptiste, Le Pape and Nuijten, "Constraint-Based Scheduling",
 * 2001, chapter 3).  Every refuted deadline raises the bound, so halving the interval is safe.
 */

#include <stdlib.h>
#include <string.h>

/* --- sequence -------------------------------------------------------------------------------- */

/* Activities that use a resource alike: from the start or the end of their work, to the end of
 * their work or of their wait. */
struct kind {
    struct activity shape;
    bool resting, waiting;
    int64_t earliest; /* least head */
    int count;
    int stride; /* of its count in the number of a state */
};

struct machine {
    const struct instance *instance;
    int resource;
    struct kind *kind;
    int kinds;
};

/* Does activity `i` keep all others like it from the resource, and while it does what? */
static bool excludes(const struct machine *m, int i, struct kind *use) {
    const struct activity *a = &m->instance->project->activities[i];
    int capacity = m->instance->capacity[m->resource];
    bool working = work_length(a) > 0 && 2 * a->work[m->resource] > capacity;
    bool waiting = a->wait > 0 && 2 * a->rest[m->resource] > capacity;
    const struct slot *head = &m->instance->head[i];
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

static void add_kind(struct machine *m, const struct kind *use) {
    for (int k = 0; k < m->kinds; k++) {
        if (!alike(&m->kind[k], use)) continue;
        m->kind[k].count++;
        m->kind[k].earliest = least(m->kind[k].earliest, use->earliest);
        return;
    }
    m->kind[m->kinds++] = *use;
}

/* Numbers the states: how many there are, or 0 when that is above `most`. */
static int number_states(struct machine *m, int most) {
    int states = 1;
    for (int k = 0; k < m->kinds; k++) {
        m->kind[k].stride = states;
        if (m->kind[k].count + 1 > most / states) return 0;
        states *= m->kind[k].count + 1;
    }
    return states;
}

/* When one of the kind is over that begins at `tick` or later. */
static int64_t over(const struct machine *m, const struct kind *kind, int64_t tick) {
    if (tick < kind->earliest) tick = kind->earliest;
    struct slot slot = {tick, tick, tick};
    if (!kind->resting) slot_fit(&m->instance->project->hours, &kind->shape, tick, &slot);
    return slot.work_end + (kind->waiting ? kind->shape.wait : 0);
}

/* The earliest time by which all are over. */
static int64_t all_over(struct arena *arena, const struct machine *m, int states) {
    int64_t *time = NEW(arena, int64_t, states);
    for (int state = 1; state < states; state++) time[state] = INT64_MAX;
    for (int state = 0; state + 1 < states; state++)
        for (int k = 0; k < m->kinds; k++) {
            const struct kind *kind = &m->kind[k];
            if (state / kind->stride % (kind->count + 1) == kind->count) continue;
            int64_t *next = &time[state + kind->stride];
            *next = least(*next, over(m, kind, time[state]));
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
            const struct arc *arc = &instance->arcs[instance->from[k]];
            int64_t end = arc_end(arc, before);
            if (scratch[arc->after].start < end)
                scratch[arc->after] = slot_from(instance, arc->after, end);
        }
    }
    return instance_makespan(instance, scratch);
}

static int64_t bound_of_machine(struct arena *arena, struct machine *m) {
    enum { MOST_STATES = 1 << 18 };
    const struct instance *instance = m->instance;
    struct kind use;
    bool waiting = false;
    m->kinds = 0;
    for (int i = 0; i < instance->count; i++) {
        if (!excludes(m, i, &use)) continue;
        add_kind(m, &use);
        waiting = waiting || use.waiting;
    }
    int states = number_states(m, MOST_STATES);
    if (!waiting || states == 0) return 0;
    int64_t time = all_over(arena, m, states);

    /* Whichever comes last, what follows it is still to be done. */
    int64_t bound = INT64_MAX;
    struct slot *scratch = NEW(arena, struct slot, instance->count);
    for (int i = 0; i < instance->count; i++) {
        if (!excludes(m, i, &use)) continue;
        struct slot slot = slot_ending_from(instance, i, time - (use.waiting ? use.shape.wait : 0));
        if (slot.start < instance->head[i].start) slot = instance->head[i];
        bound = least(bound, end_after(instance, i, slot, scratch));
    }
    return bound;
}

int64_t bound_by_sequence(struct arena *arena, const struct instance *instance) {
    struct machine m = {instance, 0, NEW(arena, struct kind, instance->count), 0};
    int64_t bound = 0;
    for (; m.resource < instance->project->resources; m.resource++) {
        int64_t by_this = bound_of_machine(arena, &m);
        if (by_this > bound) bound = by_this;
    }
    return bound;
}

/* --- deadlines ------------------------------------------------------------------------------- */

/* What one task needs of a resource, and when. */
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
        if (r->task[k].waiting || !project->activities[r->task[k].activity].in_hours) return false;
    return true;
}

static void collect_demands(const struct exact *s, const struct resource *r, bool in_hours,
                            struct demand *demand) {
    for (int k = 0; k < r->count; k++) {
        const struct task *task = &r->task[k];
        const struct activity *a = &s->instance->project->activities[task->activity];
        const struct slot *early = &s->bound[2 * task->activity];
        const struct slot *late = &s->bound[2 * task->activity + 1];
        int64_t length = (task->resting ? 0 : work_length(a)) + (task->waiting ? a->wait : 0);
        demand[k].from = task->resting ? early->work_end : early->start;
        demand[k].to = task->waiting ? late->end : late->work_end;
        demand[k].amount = length * task->demand;
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
