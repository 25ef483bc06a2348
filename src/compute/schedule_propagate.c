#include "compute/schedule_search.h"

/* Conclusions from links, latest times and resources, each with the literals that it follows from.
 *
 * Resources are looked at in two ways.  Two parts whose demands do not go together are in progress
 * one after the other, so if one cannot come first, it comes second.  And an activity that must
 * start by `late` and cannot end before `early end` uses its resources for certain in between;
 * where others leave no room, an activity is pushed past (time-tabling; explained tick by tick as
 * in Schutt, Feydy, Stuckey and Wallace, Constraints 16, 2011, 250-282).
 */

#include <stdlib.h>

/* Parts of activities -------------------------------------------------------------------------- */

static int64_t part_begin(const struct part *part, const struct slot *slot) {
    return part->resting ? slot->work_end : slot->start;
}

static int64_t part_end(const struct part *part, const struct slot *slot) {
    return part->waiting ? slot->end : slot->work_end;
}

/* The start is late enough for the part to begin at `tick` or later. */
static struct literal begins_from(const struct plan *plan, const struct part *part, int64_t tick) {
    int i = part->activity;
    struct slot slot = part->resting ? slot_ending_from(plan, i, tick) : slot_from(plan, i, tick);
    return (struct literal){2 * i, slot.start};
}

static struct literal begins_until(const struct plan *plan, const struct part *part,
                                   int64_t tick) {
    int i = part->activity;
    struct slot slot = part->resting ? slot_ending_until(plan, i, tick) : slot_until(plan, i, tick);
    return (struct literal){2 * i + 1, -slot.start};
}

static int64_t wait_within(const struct plan *plan, const struct part *part) {
    return part->waiting ? plan->project->activities[part->activity].wait : 0;
}

static struct literal ends_from(const struct plan *plan, const struct part *part, int64_t tick) {
    int64_t work_end = tick - wait_within(plan, part);
    return (struct literal){2 * part->activity,
                            slot_ending_from(plan, part->activity, work_end).start};
}

static struct literal ends_until(const struct plan *plan, const struct part *part, int64_t tick) {
    int64_t work_end = tick - wait_within(plan, part);
    return (struct literal){2 * part->activity + 1,
                            -slot_ending_until(plan, part->activity, work_end).start};
}

static const struct slot *early(const struct search *s, int i) {
    return &s->bound[2 * i];
}

static const struct slot *late(const struct search *s, int i) {
    return &s->bound[2 * i + 1];
}

/* Links ---------------------------------------------------------------------------------------- */

static struct reason by_link(int link) {
    return (struct reason){WHY_LINK, link, 0};
}

static bool push_along_links(struct search *s, int i) {
    const struct plan *plan = s->plan;
    for (int k = plan->from_first[i]; k < plan->from_first[i + 1]; k++) {
        struct literal after = {2 * plan->links[plan->from[k]].after, early(s, i)->end};
        if (!search_raise(s, after, by_link(plan->from[k]))) return false;
    }
    for (int k = plan->into_first[i]; k < plan->into_first[i + 1]; k++) {
        const struct activity_link *link = &plan->links[plan->into[k]];
        int64_t due = early(s, i)->start - link->within;
        if (link->within < 0 || early(s, link->before)->work_end >= due) continue;
        struct literal before = {2 * link->before, slot_ending_from(plan, link->before, due).start};
        if (!search_raise(s, before, by_link(plan->into[k]))) return false;
    }
    return true;
}

static bool pull_along_links(struct search *s, int i) {
    const struct plan *plan = s->plan;
    for (int k = plan->into_first[i]; k < plan->into_first[i + 1]; k++) {
        int before = plan->links[plan->into[k]].before;
        int64_t due = late(s, i)->start;
        if (late(s, before)->end <= due) continue;
        int64_t work_end = due - plan->project->activities[before].wait;
        struct literal l = {2 * before + 1, -slot_ending_until(plan, before, work_end).start};
        if (!search_raise(s, l, by_link(plan->into[k]))) return false;
    }
    for (int k = plan->from_first[i]; k < plan->from_first[i + 1]; k++) {
        const struct activity_link *link = &plan->links[plan->from[k]];
        if (link->within < 0) continue;
        struct literal after = {2 * link->after + 1, -(late(s, i)->work_end + link->within)};
        if (!search_raise(s, after, by_link(plan->from[k]))) return false;
    }
    return true;
}

struct literal propagate_link_reason(const struct search *s, int number, struct literal l) {
    const struct plan *plan = s->plan;
    const struct activity_link *link = &plan->links[number];
    int before = link->before, after = link->after;
    int64_t wait = plan->project->activities[before].wait;
    if (l.bound == 2 * after) { /* starts by the end of `before` or later */
        int64_t tick = slot_until(plan, after, l.least - 1).start + 1;
        return (struct literal){2 * before, slot_ending_from(plan, before, tick - wait).start};
    }
    if (l.bound == 2 * before) { /* ends no more than the window before `after` */
        int64_t work_end = slot_until(plan, before, l.least - 1).work_end;
        return (struct literal){2 * after, work_end + link->within + 1};
    }
    int64_t latest = -l.least;
    if (l.bound == 2 * before + 1) { /* ends before `after` starts */
        int64_t end = slot_from(plan, before, latest + 1).end;
        return (struct literal){2 * after + 1, -(end - 1)};
    }
    int64_t start = slot_from(plan, after, latest + 1).start; /* starts within the window */
    struct slot slot = slot_ending_until(plan, before, start - link->within - 1);
    return (struct literal){2 * before + 1, -slot.start};
}

/* Rivals --------------------------------------------------------------------------------------- */

/* Stores why `a` cannot be over before `b` begins, and one literal more. */
static struct reason by_rivals(struct search *s, const struct part *a, const struct part *b,
                               struct literal besides) {
    struct reason reason = {WHY_STORED, s->stored_count, 3};
    int64_t begin = part_begin(b, late(s, b->activity));
    search_store(s, ends_from(s->plan, a, begin + 1));
    search_store(s, begins_until(s->plan, b, begin));
    search_store(s, besides);
    return reason;
}

/* If `a` cannot be over before `b` begins, it begins after `b` has ended. */
static bool order_rivals(struct search *s, const struct part *a, const struct part *b) {
    const struct slot *early_a = early(s, a->activity), *late_a = late(s, a->activity);
    const struct slot *early_b = early(s, b->activity), *late_b = late(s, b->activity);
    if (part_end(a, early_a) <= part_begin(b, late_b)) return true;

    int64_t from = part_end(b, early_b), until = part_begin(a, late_a);
    if (part_begin(a, early_a) < from) {
        struct reason reason = by_rivals(s, a, b, ends_from(s->plan, b, from));
        if (!search_raise(s, begins_from(s->plan, a, from), reason)) return false;
    }
    if (part_end(b, late_b) > until) {
        struct reason reason = by_rivals(s, a, b, begins_until(s->plan, a, until));
        if (!search_raise(s, ends_until(s->plan, b, until), reason)) return false;
    }
    return true;
}

static bool order_all_rivals(struct search *s, int i) {
    for (int k = s->rival_first[i]; k < s->rival_first[i + 1]; k++) {
        const struct rivals *rivals = &s->rivals[s->rival[k]];
        if (!order_rivals(s, &rivals->a, &rivals->b)) return false;
        if (!order_rivals(s, &rivals->b, &rivals->a)) return false;
    }
    return true;
}

/* Certain use ---------------------------------------------------------------------------------- */

static bool uses_for_certain(const struct search *s, const struct part *part, int64_t from,
                             int64_t to) {
    return part_begin(part, late(s, part->activity)) <= from &&
           part_end(part, early(s, part->activity)) >= to;
}

static int compare_ticks(const void *a, const void *b) {
    int64_t x = *(const int64_t *)a, y = *(const int64_t *)b;
    return (x > y) - (x < y);
}

/* Stores why at `tick` more than `most` is used by others than part `self` (or -1). */
static void store_use(struct search *s, const struct resource *r, int64_t tick, int most,
                      int self) {
    int used = 0;
    for (int k = 0; k < r->count; k++)
        if (k != self && uses_for_certain(s, &r->part[k], tick, tick + 1)) used += r->part[k].demand;
    for (int k = 0; k < r->count; k++) {
        const struct part *part = &r->part[k];
        if (k == self || !uses_for_certain(s, part, tick, tick + 1)) continue;
        if (used - part->demand > most) {
            used -= part->demand; /* the rest is enough */
            continue;
        }
        search_store(s, begins_until(s->plan, part, tick));
        search_store(s, ends_from(s->plan, part, tick + 1));
    }
}

static bool overloaded(struct search *s, const struct resource *r, const struct stretch *stretch) {
    int first = s->stored_count;
    store_use(s, r, stretch->from + (stretch->to - stretch->from) / 2, r->capacity, -1);
    s->conflict_size = 0;
    for (int k = first; k < s->stored_count; k++) s->conflict[s->conflict_size++] = s->stored[k];
    s->stored_count = first;
    return false;
}

/* Adds up certain use in stretches; false when one exceeds the capacity. */
static bool add_up_use(struct search *s, struct resource *r) {
    int edges = 0;
    for (int k = 0; k < r->count; k++) {
        const struct part *part = &r->part[k];
        int64_t from = part_begin(part, late(s, part->activity));
        int64_t to = part_end(part, early(s, part->activity));
        if (from >= to) continue;
        r->edge[edges++] = from;
        r->edge[edges++] = to;
    }
    qsort(r->edge, (size_t)edges, sizeof *r->edge, compare_ticks);
    r->stretches = 0;
    for (int e = 0; e + 1 < edges; e++) {
        struct stretch stretch = {r->edge[e], r->edge[e + 1], 0};
        if (stretch.from == stretch.to) continue;
        for (int k = 0; k < r->count; k++)
            if (uses_for_certain(s, &r->part[k], stretch.from, stretch.to))
                stretch.used += r->part[k].demand;
        if (stretch.used > r->capacity) return overloaded(s, r, &stretch);
        if (stretch.used > 0) r->stretch[r->stretches++] = stretch;
    }
    return true;
}

static bool no_room(const struct search *s, const struct resource *r, const struct part *part,
                    const struct stretch *stretch) {
    int own = uses_for_certain(s, part, stretch->from, stretch->to) ? part->demand : 0;
    return stretch->used - own > r->capacity - part->demand;
}

static bool push_past_use(struct search *s, const struct resource *r, int self) {
    const struct part *part = &r->part[self];
    for (int k = 0; k < r->stretches; k++) {
        const struct stretch *stretch = &r->stretch[k];
        while (stretch->to > part_begin(part, early(s, part->activity)) &&
               stretch->from < part_end(part, early(s, part->activity)) &&
               no_room(s, r, part, stretch)) {
            int64_t tick = part_end(part, early(s, part->activity));
            if (tick > stretch->to) tick = stretch->to;
            struct reason reason = {WHY_STORED, s->stored_count, 0};
            search_store(s, ends_from(s->plan, part, tick));
            store_use(s, r, tick - 1, r->capacity - part->demand, self);
            reason.size = s->stored_count - reason.about;
            if (!search_raise(s, begins_from(s->plan, part, tick), reason)) return false;
        }
        if (stretch->from >= part_end(part, early(s, part->activity))) break;
    }
    return true;
}

static bool pull_before_use(struct search *s, const struct resource *r, int self) {
    const struct part *part = &r->part[self];
    for (int k = r->stretches - 1; k >= 0; k--) {
        const struct stretch *stretch = &r->stretch[k];
        while (stretch->to > part_begin(part, late(s, part->activity)) &&
               stretch->from < part_end(part, late(s, part->activity)) &&
               no_room(s, r, part, stretch)) {
            int64_t tick = part_begin(part, late(s, part->activity));
            if (tick < stretch->from) tick = stretch->from;
            struct reason reason = {WHY_STORED, s->stored_count, 0};
            search_store(s, begins_until(s->plan, part, tick));
            store_use(s, r, tick, r->capacity - part->demand, self);
            reason.size = s->stored_count - reason.about;
            if (!search_raise(s, ends_until(s->plan, part, tick), reason)) return false;
        }
        if (stretch->to <= part_begin(part, late(s, part->activity))) break;
    }
    return true;
}

static bool propagate_resource(struct search *s, struct resource *r) {
    if (!add_up_use(s, r)) return false;
    for (int k = 0; k < r->count; k++) {
        int i = r->part[k].activity;
        if (early(s, i)->start == late(s, i)->start) continue;
        if (!push_past_use(s, r, k) || !pull_before_use(s, r, k)) return false;
    }
    return true;
}

/* All together --------------------------------------------------------------------------------- */

static bool examine_steps(struct search *s) {
    while (s->examined < s->steps && s->nodes < s->node_limit) {
        int bound = s->step[s->examined++].bound;
        s->nodes++;
        if (!clauses_propagate(s, bound)) return false;
        if (!(bound & 1 ? pull_along_links(s, bound / 2) : push_along_links(s, bound / 2)))
            return false;
        if (!order_all_rivals(s, bound / 2)) return false;
    }
    return true;
}

bool propagate(struct search *s) {
    for (int r = 0; r < s->plan->project->resources;) {
        if (!examine_steps(s)) return false;
        if (s->nodes >= s->node_limit) return true;
        if (!s->resource[r].changed) {
            r++;
            continue;
        }
        s->resource[r].changed = false;
        if (!propagate_resource(s, &s->resource[r])) return false;
        r = 0;
    }
    return examine_steps(s);
}

/* Preparation ---------------------------------------------------------------------------------- */

static int by_demand(const void *a, const void *b) {
    const struct part *x = a, *y = b;
    if (x->demand != y->demand) return x->demand - y->demand;
    return x->activity - y->activity;
}

static void collect_parts(struct search *s, int number) {
    const struct project *project = s->plan->project;
    struct resource *r = &s->resource[number];
    r->capacity = project->capacity[number];
    r->part = NEW(s->arena, struct part, 2 * project->count);
    for (int i = 0; i < project->count; i++) {
        const struct activity *a = &project->activities[i];
        int work = work_length(a) > 0 ? a->work[number] : 0, rest = a->wait > 0 ? a->rest[number] : 0;
        if (work > 0) r->part[r->count++] = (struct part){i, work, false, work == rest};
        if (rest > 0 && work != rest) r->part[r->count++] = (struct part){i, rest, true, true};
    }
    qsort(r->part, (size_t)r->count, sizeof *r->part, by_demand);
    r->stretch = NEW(s->arena, struct stretch, 2 * r->count);
    r->edge = NEW(s->arena, int64_t, 2 * r->count);
    r->changed = true;
}

static bool same_stretch(const struct part *a, const struct part *b) {
    return a->activity == b->activity && a->resting == b->resting && a->waiting == b->waiting;
}

/* Pairs that exclude each other on more than one resource are taken once. */
static bool first_to_exclude(const struct search *s, int number, const struct part *a,
                             const struct part *b) {
    for (int r = 0; r < number; r++) {
        const struct resource *other = &s->resource[r];
        int demand_a = 0, demand_b = 0;
        for (int k = 0; k < other->count; k++) {
            if (same_stretch(&other->part[k], a)) demand_a = other->part[k].demand;
            if (same_stretch(&other->part[k], b)) demand_b = other->part[k].demand;
        }
        if (demand_a > 0 && demand_b > 0 && demand_a + demand_b > other->capacity) return false;
    }
    return true;
}

/* Counts the rivals that links do not order anyway (and keeps them, where there is a place to). */
static int collect_rivals(const struct search *s, struct rivals *rivals) {
    enum { MOST = 1 << 16 };
    int count = 0;
    for (int number = 0; number < s->plan->project->resources; number++) {
        const struct resource *r = &s->resource[number];
        for (int x = 0; x < r->count; x++)
            for (int y = x + 1; y < r->count && count < MOST; y++) {
                const struct part *a = &r->part[x], *b = &r->part[y];
                if (a->activity == b->activity || a->demand + b->demand <= r->capacity) continue;
                if (plan_follows(s->plan, a->activity, b->activity)) continue;
                if (plan_follows(s->plan, b->activity, a->activity)) continue;
                if (!first_to_exclude(s, number, a, b)) continue;
                if (rivals) rivals[count] = (struct rivals){*a, *b};
                count++;
            }
    }
    return count;
}

static void index_rivals(struct search *s, int rivals) {
    int count = s->plan->count;
    s->rival_first = NEW(s->arena, int, count + 1);
    s->rival = NEW(s->arena, int, 2 * rivals);
    int *next = NEW(s->arena, int, count);
    for (int k = 0; k < rivals; k++) {
        s->rival_first[s->rivals[k].a.activity + 1]++;
        s->rival_first[s->rivals[k].b.activity + 1]++;
    }
    for (int i = 0; i < count; i++) s->rival_first[i + 1] += s->rival_first[i];
    for (int i = 0; i < count; i++) next[i] = s->rival_first[i];
    for (int k = 0; k < rivals; k++) {
        s->rival[next[s->rivals[k].a.activity]++] = k;
        s->rival[next[s->rivals[k].b.activity]++] = k;
    }
}

void propagate_prepare(struct search *s) {
    for (int r = 0; r < s->plan->project->resources; r++) collect_parts(s, r);
    int rivals = collect_rivals(s, NULL);
    s->rivals = NEW(s->arena, struct rivals, rivals);
    collect_rivals(s, s->rivals);
    index_rivals(s, rivals);
}
