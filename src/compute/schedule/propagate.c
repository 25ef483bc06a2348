#include "compute/schedule/inner.h"

/* Propagation: conclusions from arcs, maximal time lags and resources, each with its explanation,
 * the literals that it follows from (lazy clause generation needs them).
 *
 * Resources are looked at in two ways.  Disjunctive pairs: two tasks whose demands do not go
 * together are in progress one after the other, so if one cannot come first, it comes second.  And
 * the time-table: a task that must begin by `late` and cannot end before `early end` has a
 * compulsory part in between (Lahrichi, Comptes Rendus de l'Academie des Sciences 294, 1982,
 * 209-211; from memory); where the compulsory parts of others leave no room, a task is pushed past
 * them, explained tick by tick (Schutt, Feydy, Stuckey and Wallace, Constraints 16, 2011, 250-282).
 */

#include <stdlib.h>

/* --- literals of tasks ----------------------------------------------------------------------- */

/* The start is late enough for the task to begin at `tick` or later. */
static struct literal begins_from(const struct instance *instance, const struct task *task,
                                  int64_t tick) {
    int i = task->activity;
    struct slot slot =
        task->resting ? slot_ending_from(instance, i, tick) : slot_from(instance, i, tick);
    return (struct literal){2 * i, slot.start};
}

static struct literal begins_until(const struct instance *instance, const struct task *task,
                                   int64_t tick) {
    int i = task->activity;
    struct slot slot =
        task->resting ? slot_ending_until(instance, i, tick) : slot_until(instance, i, tick);
    return (struct literal){2 * i + 1, -slot.start};
}

static int64_t wait_within(const struct instance *instance, const struct task *task) {
    return task->waiting ? instance->project->activities[task->activity].wait : 0;
}

static struct literal ends_from(const struct instance *instance, const struct task *task,
                                int64_t tick) {
    int64_t work_end = tick - wait_within(instance, task);
    return (struct literal){2 * task->activity,
                            slot_ending_from(instance, task->activity, work_end).start};
}

static struct literal ends_until(const struct instance *instance, const struct task *task,
                                 int64_t tick) {
    int64_t work_end = tick - wait_within(instance, task);
    return (struct literal){2 * task->activity + 1,
                            -slot_ending_until(instance, task->activity, work_end).start};
}

static const struct slot *early(const struct exact *s, int i) {
    return &s->bound[2 * i];
}

static const struct slot *late(const struct exact *s, int i) {
    return &s->bound[2 * i + 1];
}

/* --- arcs ------------------------------------------------------------------------------------ */

static struct reason by_arc(int arc) {
    return (struct reason){WHY_ARC, arc, 0};
}

static bool push_along_arcs(struct exact *s, int i) {
    const struct instance *instance = s->instance;
    for (int k = instance->from_first[i]; k < instance->from_first[i + 1]; k++) {
        const struct arc *arc = &instance->arcs[instance->from[k]];
        struct literal after = {2 * arc->after, arc_end(arc, early(s, i))};
        if (!trail_raise(s, after, by_arc(instance->from[k]))) return false;
    }
    for (int k = instance->into_first[i]; k < instance->into_first[i + 1]; k++) {
        const struct arc *arc = &instance->arcs[instance->into[k]];
        int64_t due = early(s, i)->start - arc->within;
        if (arc->within < 0 || early(s, arc->before)->work_end >= due) continue;
        struct literal before = {2 * arc->before,
                                 slot_ending_from(instance, arc->before, due).start};
        if (!trail_raise(s, before, by_arc(instance->into[k]))) return false;
    }
    return true;
}

static int64_t wait_of_arc(const struct instance *instance, const struct arc *arc) {
    return arc->by_work ? 0 : instance->project->activities[arc->before].wait;
}

static bool pull_along_arcs(struct exact *s, int i) {
    const struct instance *instance = s->instance;
    for (int k = instance->into_first[i]; k < instance->into_first[i + 1]; k++) {
        const struct arc *arc = &instance->arcs[instance->into[k]];
        int64_t work_end = late(s, i)->start - wait_of_arc(instance, arc);
        if (late(s, arc->before)->work_end <= work_end) continue;
        struct literal before = {2 * arc->before + 1,
                                 -slot_ending_until(instance, arc->before, work_end).start};
        if (!trail_raise(s, before, by_arc(instance->into[k]))) return false;
    }
    for (int k = instance->from_first[i]; k < instance->from_first[i + 1]; k++) {
        const struct arc *arc = &instance->arcs[instance->from[k]];
        if (arc->within < 0) continue;
        struct literal after = {2 * arc->after + 1, -(late(s, i)->work_end + arc->within)};
        if (!trail_raise(s, after, by_arc(instance->from[k]))) return false;
    }
    return true;
}

struct literal propagate_arc_reason(const struct exact *s, int number, struct literal l) {
    const struct instance *instance = s->instance;
    const struct arc *arc = &instance->arcs[number];
    int before = arc->before, after = arc->after;
    if (l.bound == 2 * after) { /* starts by the end of `before` or later */
        int64_t tick = slot_until(instance, after, l.least - 1).start + 1;
        struct slot slot = slot_ending_from(instance, before, tick - wait_of_arc(instance, arc));
        return (struct literal){2 * before, slot.start};
    }
    if (l.bound == 2 * before) { /* ends no more than the window before `after` */
        int64_t work_end = slot_until(instance, before, l.least - 1).work_end;
        return (struct literal){2 * after, work_end + arc->within + 1};
    }
    int64_t latest = -l.least;
    if (l.bound == 2 * before + 1) { /* ends before `after` starts */
        struct slot slot = slot_from(instance, before, latest + 1);
        return (struct literal){2 * after + 1, -(arc_end(arc, &slot) - 1)};
    }
    int64_t start = slot_from(instance, after, latest + 1).start; /* starts within the window */
    struct slot slot = slot_ending_until(instance, before, start - arc->within - 1);
    return (struct literal){2 * before + 1, -slot.start};
}

/* --- disjunctive pairs ----------------------------------------------------------------------- */

/* Stores why `a` cannot be over before `b` begins, and one literal more. */
static struct reason by_pair(struct exact *s, const struct task *a, const struct task *b,
                             struct literal besides) {
    struct reason reason = {WHY_STORED, s->stored_count, 3};
    int64_t begin = task_begin(b, late(s, b->activity));
    trail_store(s, ends_from(s->instance, a, begin + 1));
    trail_store(s, begins_until(s->instance, b, begin));
    trail_store(s, besides);
    return reason;
}

/* If `a` cannot be over before `b` begins, it begins after `b` has ended. */
static bool order_pair(struct exact *s, const struct task *a, const struct task *b) {
    const struct slot *early_a = early(s, a->activity), *late_a = late(s, a->activity);
    const struct slot *early_b = early(s, b->activity), *late_b = late(s, b->activity);
    if (task_end(a, early_a) <= task_begin(b, late_b)) return true;

    int64_t from = task_end(b, early_b), until = task_begin(a, late_a);
    if (task_begin(a, early_a) < from) {
        struct reason reason = by_pair(s, a, b, ends_from(s->instance, b, from));
        if (!trail_raise(s, begins_from(s->instance, a, from), reason)) return false;
    }
    if (task_end(b, late_b) > until) {
        struct reason reason = by_pair(s, a, b, begins_until(s->instance, a, until));
        if (!trail_raise(s, ends_until(s->instance, b, until), reason)) return false;
    }
    return true;
}

static bool order_pairs(struct exact *s, int i) {
    for (int k = s->pair_first[i]; k < s->pair_first[i + 1]; k++) {
        const struct disjunction *pair = &s->disjunction[s->pair[k]];
        if (!order_pair(s, &pair->a, &pair->b)) return false;
        if (!order_pair(s, &pair->b, &pair->a)) return false;
    }
    return true;
}

/* --- the time-table -------------------------------------------------------------------------- */

static bool compulsory(const struct exact *s, const struct task *task, int64_t from, int64_t to) {
    return task_begin(task, late(s, task->activity)) <= from &&
           task_end(task, early(s, task->activity)) >= to;
}

static int by_tick(const void *a, const void *b) {
    const struct edge *x = a, *y = b;
    return (x->tick > y->tick) - (x->tick < y->tick);
}

/* Stores why at `tick` more than `most` is used by the compulsory parts of others than task `self`
 * (or -1). */
static void store_use(struct exact *s, const struct resource *r, int64_t tick, int most, int self) {
    int used = 0;
    for (int k = 0; k < r->count; k++)
        if (k != self && compulsory(s, &r->task[k], tick, tick + 1)) used += r->task[k].demand;
    for (int k = 0; k < r->count; k++) {
        const struct task *task = &r->task[k];
        if (k == self || !compulsory(s, task, tick, tick + 1)) continue;
        if (used - task->demand > most) {
            used -= task->demand; /* the rest is enough */
            continue;
        }
        trail_store(s, begins_until(s->instance, task, tick));
        trail_store(s, ends_from(s->instance, task, tick + 1));
    }
}

static bool overloaded(struct exact *s, const struct resource *r, const struct stretch *stretch) {
    int first = s->stored_count;
    store_use(s, r, stretch->from + (stretch->to - stretch->from) / 2, r->capacity, -1);
    s->conflict_size = 0;
    s->emptied = false;
    for (int k = first; k < s->stored_count; k++) s->conflict[s->conflict_size++] = s->stored[k];
    s->stored_count = first;
    return false;
}

static int collect_edges(const struct exact *s, const struct resource *r) {
    int edges = 0;
    for (int k = 0; k < r->count; k++) {
        const struct task *task = &r->task[k];
        int64_t from = task_begin(task, late(s, task->activity));
        int64_t to = task_end(task, early(s, task->activity));
        if (from >= to) continue;
        r->edge[edges++] = (struct edge){from, task->demand};
        r->edge[edges++] = (struct edge){to, -task->demand};
    }
    return edges;
}

/* Adds up compulsory parts in stretches; false when one exceeds the capacity. */
static bool add_up_use(struct exact *s, struct resource *r) {
    int edges = collect_edges(s, r), used = 0;
    qsort(r->edge, (size_t)edges, sizeof *r->edge, by_tick);
    r->stretches = 0;
    for (int e = 0; e + 1 < edges; e++) {
        used += r->edge[e].change;
        struct stretch stretch = {r->edge[e].tick, r->edge[e + 1].tick, used};
        if (used == 0 || stretch.from == stretch.to) continue;
        if (used > r->capacity) return overloaded(s, r, &stretch);
        r->stretch[r->stretches++] = stretch;
    }
    return true;
}

static bool no_room(const struct exact *s, const struct resource *r, const struct task *task,
                    const struct stretch *stretch) {
    int most = r->capacity - task->demand;
    if (stretch->used <= most) return false;
    bool own = compulsory(s, task, stretch->from, stretch->to);
    return stretch->used - (own ? task->demand : 0) > most;
}

static bool push_past_use(struct exact *s, const struct resource *r, int self) {
    const struct task *task = &r->task[self];
    for (int k = 0; k < r->stretches; k++) {
        const struct stretch *stretch = &r->stretch[k];
        while (stretch->to > task_begin(task, early(s, task->activity)) &&
               stretch->from < task_end(task, early(s, task->activity)) &&
               no_room(s, r, task, stretch)) {
            int64_t tick = task_end(task, early(s, task->activity));
            if (tick > stretch->to) tick = stretch->to;
            struct reason reason = {WHY_STORED, s->stored_count, 0};
            trail_store(s, ends_from(s->instance, task, tick));
            store_use(s, r, tick - 1, r->capacity - task->demand, self);
            reason.size = s->stored_count - reason.about;
            if (!trail_raise(s, begins_from(s->instance, task, tick), reason)) return false;
        }
        if (stretch->from >= task_end(task, early(s, task->activity))) break;
    }
    return true;
}

static bool pull_before_use(struct exact *s, const struct resource *r, int self) {
    const struct task *task = &r->task[self];
    for (int k = r->stretches - 1; k >= 0; k--) {
        const struct stretch *stretch = &r->stretch[k];
        while (stretch->to > task_begin(task, late(s, task->activity)) &&
               stretch->from < task_end(task, late(s, task->activity)) &&
               no_room(s, r, task, stretch)) {
            int64_t tick = task_begin(task, late(s, task->activity));
            if (tick < stretch->from) tick = stretch->from;
            struct reason reason = {WHY_STORED, s->stored_count, 0};
            trail_store(s, begins_until(s->instance, task, tick));
            store_use(s, r, tick, r->capacity - task->demand, self);
            reason.size = s->stored_count - reason.about;
            if (!trail_raise(s, ends_until(s->instance, task, tick), reason)) return false;
        }
        if (stretch->to <= task_begin(task, late(s, task->activity))) break;
    }
    return true;
}

static bool propagate_resource(struct exact *s, struct resource *r) {
    if (!add_up_use(s, r)) return false;
    for (int k = 0; k < r->count; k++) {
        int i = r->task[k].activity;
        if (early(s, i)->start == late(s, i)->start) continue;
        if (!push_past_use(s, r, k) || !pull_before_use(s, r, k)) return false;
    }
    return true;
}

/* --- all together ---------------------------------------------------------------------------- */

/* A node is one bound passed on; long tables count for more, so that nodes measure time. */
enum { ROWS_OF_NODE = 16 };

static bool examine_raises(struct exact *s) {
    while (s->examined < s->raises && s->nodes < s->node_limit) {
        int bound = s->trail[s->examined++].bound, i = bound / 2;
        s->nodes += 1 + (s->pair_first[i + 1] - s->pair_first[i]) / ROWS_OF_NODE;
        if (!nogood_propagate(s, bound)) return false;
        if (!(bound & 1 ? pull_along_arcs(s, i) : push_along_arcs(s, i))) return false;
        if (!order_pairs(s, i)) return false;
    }
    return true;
}

bool propagate(struct exact *s) {
    for (int number = 0; number < s->instance->project->resources;) {
        if (!examine_raises(s)) return false;
        if (s->nodes >= s->node_limit) return true;
        struct resource *r = &s->resource[number++];
        if (!r->changed) continue;
        r->changed = false;
        s->nodes += r->count / ROWS_OF_NODE;
        if (!propagate_resource(s, r)) {
            r->changed = true; /* it has not been looked at to the end */
            return false;
        }
        number = 0;
    }
    return examine_raises(s);
}
