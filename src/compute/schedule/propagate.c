#include "compute/schedule/exact.h"

/* Conclusions from ties, latest times and resources, each with the literals that it follows from.
 *
 * Resources are looked at in two ways.  Two parts whose demands do not go together are in progress
 * one after the other, so if one cannot come first, it comes second.  And an activity that must
 * start by `late` and cannot end before `early end` uses its resources for certain in between;
 * where others leave no room, an activity is pushed past (time-tabling; explained tick by tick as
 * in Schutt, Feydy, Stuckey and Wallace, Constraints 16, 2011, 250-282).
 */

#include <stdlib.h>

/* --- parts of activities --------------------------------------------------------------------- */

static int64_t part_begin(const struct usage *part, const struct slot *slot) {
    return part->resting ? slot->work_end : slot->start;
}

static int64_t part_end(const struct usage *part, const struct slot *slot) {
    return part->waiting ? slot->end : slot->work_end;
}

/* The start is late enough for the part to begin at `tick` or later. */
static struct literal begins_from(const struct instance *instance, const struct usage *part,
                                  int64_t tick) {
    int i = part->activity;
    struct slot slot =
        part->resting ? slot_ending_from(instance, i, tick) : slot_from(instance, i, tick);
    return (struct literal){2 * i, slot.start};
}

static struct literal begins_until(const struct instance *instance, const struct usage *part,
                                   int64_t tick) {
    int i = part->activity;
    struct slot slot =
        part->resting ? slot_ending_until(instance, i, tick) : slot_until(instance, i, tick);
    return (struct literal){2 * i + 1, -slot.start};
}

static int64_t wait_within(const struct instance *instance, const struct usage *part) {
    return part->waiting ? instance->project->activities[part->activity].wait : 0;
}

static struct literal ends_from(const struct instance *instance, const struct usage *part,
                                int64_t tick) {
    int64_t work_end = tick - wait_within(instance, part);
    return (struct literal){2 * part->activity,
                            slot_ending_from(instance, part->activity, work_end).start};
}

static struct literal ends_until(const struct instance *instance, const struct usage *part,
                                 int64_t tick) {
    int64_t work_end = tick - wait_within(instance, part);
    return (struct literal){2 * part->activity + 1,
                            -slot_ending_until(instance, part->activity, work_end).start};
}

static const struct slot *early(const struct exact *s, int i) {
    return &s->bound[2 * i];
}

static const struct slot *late(const struct exact *s, int i) {
    return &s->bound[2 * i + 1];
}

/* --- ties ------------------------------------------------------------------------------------ */

static struct reason by_tie(int tie) {
    return (struct reason){WHY_TIE, tie, 0};
}

static bool push_along_ties(struct exact *s, int i) {
    const struct instance *instance = s->instance;
    for (int k = instance->from_first[i]; k < instance->from_first[i + 1]; k++) {
        const struct tie *tie = &instance->ties[instance->from[k]];
        struct literal after = {2 * tie->after, tie_end(tie, early(s, i))};
        if (!exact_raise(s, after, by_tie(instance->from[k]))) return false;
    }
    for (int k = instance->into_first[i]; k < instance->into_first[i + 1]; k++) {
        const struct tie *tie = &instance->ties[instance->into[k]];
        int64_t due = early(s, i)->start - tie->within;
        if (tie->within < 0 || early(s, tie->before)->work_end >= due) continue;
        struct literal before = {2 * tie->before,
                                 slot_ending_from(instance, tie->before, due).start};
        if (!exact_raise(s, before, by_tie(instance->into[k]))) return false;
    }
    return true;
}

static int64_t wait_of_tie(const struct instance *instance, const struct tie *tie) {
    return tie->by_work ? 0 : instance->project->activities[tie->before].wait;
}

static bool pull_along_ties(struct exact *s, int i) {
    const struct instance *instance = s->instance;
    for (int k = instance->into_first[i]; k < instance->into_first[i + 1]; k++) {
        const struct tie *tie = &instance->ties[instance->into[k]];
        int64_t work_end = late(s, i)->start - wait_of_tie(instance, tie);
        if (late(s, tie->before)->work_end <= work_end) continue;
        struct literal before = {2 * tie->before + 1,
                                 -slot_ending_until(instance, tie->before, work_end).start};
        if (!exact_raise(s, before, by_tie(instance->into[k]))) return false;
    }
    for (int k = instance->from_first[i]; k < instance->from_first[i + 1]; k++) {
        const struct tie *tie = &instance->ties[instance->from[k]];
        if (tie->within < 0) continue;
        struct literal after = {2 * tie->after + 1, -(late(s, i)->work_end + tie->within)};
        if (!exact_raise(s, after, by_tie(instance->from[k]))) return false;
    }
    return true;
}

struct literal exact_tie_reason(const struct exact *s, int number, struct literal l) {
    const struct instance *instance = s->instance;
    const struct tie *tie = &instance->ties[number];
    int before = tie->before, after = tie->after;
    if (l.bound == 2 * after) { /* starts by the end of `before` or later */
        int64_t tick = slot_until(instance, after, l.least - 1).start + 1;
        struct slot slot = slot_ending_from(instance, before, tick - wait_of_tie(instance, tie));
        return (struct literal){2 * before, slot.start};
    }
    if (l.bound == 2 * before) { /* ends no more than the window before `after` */
        int64_t work_end = slot_until(instance, before, l.least - 1).work_end;
        return (struct literal){2 * after, work_end + tie->within + 1};
    }
    int64_t latest = -l.least;
    if (l.bound == 2 * before + 1) { /* ends before `after` starts */
        struct slot slot = slot_from(instance, before, latest + 1);
        return (struct literal){2 * after + 1, -(tie_end(tie, &slot) - 1)};
    }
    int64_t start = slot_from(instance, after, latest + 1).start; /* starts within the window */
    struct slot slot = slot_ending_until(instance, before, start - tie->within - 1);
    return (struct literal){2 * before + 1, -slot.start};
}

/* --- rivals ---------------------------------------------------------------------------------- */

/* Stores why `a` cannot be over before `b` begins, and one literal more. */
static struct reason by_rivals(struct exact *s, const struct usage *a, const struct usage *b,
                               struct literal besides) {
    struct reason reason = {WHY_STORED, s->stored_count, 3};
    int64_t begin = part_begin(b, late(s, b->activity));
    exact_store(s, ends_from(s->instance, a, begin + 1));
    exact_store(s, begins_until(s->instance, b, begin));
    exact_store(s, besides);
    return reason;
}

/* If `a` cannot be over before `b` begins, it begins after `b` has ended. */
static bool order_rivals(struct exact *s, const struct usage *a, const struct usage *b) {
    const struct slot *early_a = early(s, a->activity), *late_a = late(s, a->activity);
    const struct slot *early_b = early(s, b->activity), *late_b = late(s, b->activity);
    if (part_end(a, early_a) <= part_begin(b, late_b)) return true;

    int64_t from = part_end(b, early_b), until = part_begin(a, late_a);
    if (part_begin(a, early_a) < from) {
        struct reason reason = by_rivals(s, a, b, ends_from(s->instance, b, from));
        if (!exact_raise(s, begins_from(s->instance, a, from), reason)) return false;
    }
    if (part_end(b, late_b) > until) {
        struct reason reason = by_rivals(s, a, b, begins_until(s->instance, a, until));
        if (!exact_raise(s, ends_until(s->instance, b, until), reason)) return false;
    }
    return true;
}

static bool order_all_rivals(struct exact *s, int i) {
    for (int k = s->rival_first[i]; k < s->rival_first[i + 1]; k++) {
        const struct rivals *rivals = &s->rivals[s->rival[k]];
        if (!order_rivals(s, &rivals->a, &rivals->b)) return false;
        if (!order_rivals(s, &rivals->b, &rivals->a)) return false;
    }
    return true;
}

/* --- certain use ----------------------------------------------------------------------------- */

static bool uses_for_certain(const struct exact *s, const struct usage *part, int64_t from,
                             int64_t to) {
    return part_begin(part, late(s, part->activity)) <= from &&
           part_end(part, early(s, part->activity)) >= to;
}

static int by_tick(const void *a, const void *b) {
    const struct edge *x = a, *y = b;
    return (x->tick > y->tick) - (x->tick < y->tick);
}

/* Stores why at `tick` more than `most` is used by others than part `self` (or -1). */
static void store_use(struct exact *s, const struct resource *r, int64_t tick, int most, int self) {
    int used = 0;
    for (int k = 0; k < r->count; k++)
        if (k != self && uses_for_certain(s, &r->part[k], tick, tick + 1))
            used += r->part[k].demand;
    for (int k = 0; k < r->count; k++) {
        const struct usage *part = &r->part[k];
        if (k == self || !uses_for_certain(s, part, tick, tick + 1)) continue;
        if (used - part->demand > most) {
            used -= part->demand; /* the rest is enough */
            continue;
        }
        exact_store(s, begins_until(s->instance, part, tick));
        exact_store(s, ends_from(s->instance, part, tick + 1));
    }
}

static bool overloaded(struct exact *s, const struct resource *r, const struct stretch *stretch) {
    int first = s->stored_count;
    store_use(s, r, stretch->from + (stretch->to - stretch->from) / 2, r->capacity, -1);
    s->conflict_size = 0;
    for (int k = first; k < s->stored_count; k++) s->conflict[s->conflict_size++] = s->stored[k];
    s->stored_count = first;
    return false;
}

static int collect_edges(const struct exact *s, const struct resource *r) {
    int edges = 0;
    for (int k = 0; k < r->count; k++) {
        const struct usage *part = &r->part[k];
        int64_t from = part_begin(part, late(s, part->activity));
        int64_t to = part_end(part, early(s, part->activity));
        if (from >= to) continue;
        r->edge[edges++] = (struct edge){from, part->demand};
        r->edge[edges++] = (struct edge){to, -part->demand};
    }
    return edges;
}

/* Adds up certain use in stretches; false when one exceeds the capacity. */
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

static bool no_room(const struct exact *s, const struct resource *r, const struct usage *part,
                    const struct stretch *stretch) {
    int most = r->capacity - part->demand;
    if (stretch->used <= most) return false;
    bool own = uses_for_certain(s, part, stretch->from, stretch->to);
    return stretch->used - (own ? part->demand : 0) > most;
}

static bool push_past_use(struct exact *s, const struct resource *r, int self) {
    const struct usage *part = &r->part[self];
    for (int k = 0; k < r->stretches; k++) {
        const struct stretch *stretch = &r->stretch[k];
        while (stretch->to > part_begin(part, early(s, part->activity)) &&
               stretch->from < part_end(part, early(s, part->activity)) &&
               no_room(s, r, part, stretch)) {
            int64_t tick = part_end(part, early(s, part->activity));
            if (tick > stretch->to) tick = stretch->to;
            struct reason reason = {WHY_STORED, s->stored_count, 0};
            exact_store(s, ends_from(s->instance, part, tick));
            store_use(s, r, tick - 1, r->capacity - part->demand, self);
            reason.size = s->stored_count - reason.about;
            if (!exact_raise(s, begins_from(s->instance, part, tick), reason)) return false;
        }
        if (stretch->from >= part_end(part, early(s, part->activity))) break;
    }
    return true;
}

static bool pull_before_use(struct exact *s, const struct resource *r, int self) {
    const struct usage *part = &r->part[self];
    for (int k = r->stretches - 1; k >= 0; k--) {
        const struct stretch *stretch = &r->stretch[k];
        while (stretch->to > part_begin(part, late(s, part->activity)) &&
               stretch->from < part_end(part, late(s, part->activity)) &&
               no_room(s, r, part, stretch)) {
            int64_t tick = part_begin(part, late(s, part->activity));
            if (tick < stretch->from) tick = stretch->from;
            struct reason reason = {WHY_STORED, s->stored_count, 0};
            exact_store(s, begins_until(s->instance, part, tick));
            store_use(s, r, tick, r->capacity - part->demand, self);
            reason.size = s->stored_count - reason.about;
            if (!exact_raise(s, ends_until(s->instance, part, tick), reason)) return false;
        }
        if (stretch->to <= part_begin(part, late(s, part->activity))) break;
    }
    return true;
}

static bool propagate_resource(struct exact *s, struct resource *r) {
    if (!add_up_use(s, r)) return false;
    for (int k = 0; k < r->count; k++) {
        int i = r->part[k].activity;
        if (early(s, i)->start == late(s, i)->start) continue;
        if (!push_past_use(s, r, k) || !pull_before_use(s, r, k)) return false;
    }
    return true;
}

/* --- all together ---------------------------------------------------------------------------- */

/* A node is one bound passed on; long tables count for more, so that nodes measure time. */
enum { ROWS_OF_NODE = 16 };

static bool examine_steps(struct exact *s) {
    while (s->examined < s->steps && s->nodes < s->node_limit) {
        int bound = s->step[s->examined++].bound, i = bound / 2;
        s->nodes += 1 + (s->rival_first[i + 1] - s->rival_first[i]) / ROWS_OF_NODE;
        if (!exact_clauses_propagate(s, bound)) return false;
        if (!(bound & 1 ? pull_along_ties(s, i) : push_along_ties(s, i))) return false;
        if (!order_all_rivals(s, i)) return false;
    }
    return true;
}

bool exact_propagate(struct exact *s) {
    for (int number = 0; number < s->instance->project->resources;) {
        if (!examine_steps(s)) return false;
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
    return examine_steps(s);
}
