#include "compute/schedule/inner.h"

/* The serial schedule generation scheme: one activity of a list after the other, each at its
 * earliest (Kelley, "The critical-path method: resources planning and scheduling", in Industrial
 * Scheduling, 1963, 347-365; Kolisch, European Journal of Operational Research 90, 1996, 320-333),
 * and justification to the right, which makes a better list of a schedule (Valls, Ballestin and
 * Quintanilla, the same journal 165, 2005, 375-386), both carried over to opening hours and maximal
 * time lags.  Where a lag is missed, the activity that it counts from is taken out and put off: the
 * unscheduling step of Franck, Neumann and Schwindt (OR Spektrum 23, 2001, 297-324; from memory).
 */

#include <stdlib.h>

/* An activity to be justified; of equal ends, `place` in the list decides. */
struct ending {
    int64_t end;
    int place, activity;
};

struct serial *serial_of(struct arena *arena, const struct instance *instance) {
    struct serial *s = NEW(arena, struct serial, 1);
    s->instance = instance;
    for (int r = 0; r < instance->project->resources; r++) {
        /* Every activity adds at most three steps, and two more while one is being added. */
        s->profile[r].time = NEW(arena, int64_t, 3 * instance->count + 4);
        s->profile[r].used = NEW(arena, int, 3 * instance->count + 4);
        s->profile[r].kind = NEW(arena, int, 3 * instance->count + 4);
        s->profile[r].one_kind = instance->project->one_kind[r];
        s->profile[r].capacity = instance->capacity[r];
    }
    s->slot = NEW(arena, struct slot, instance->count);
    s->release = NEW(arena, int64_t, instance->count);
    s->place = NEW(arena, int, instance->count);
    s->ending = NEW(arena, struct ending, instance->count);
    s->follows_on = NEW(arena, bool, instance->count);
    s->stuck = -1;
    return s;
}

/* Takes (sign 1) or gives back (sign -1) what activity `i` uses in its slot. */
static void use_resources(struct serial *s, int i, int sign) {
    const struct activity *a = &s->instance->project->activities[i];
    const struct slot *slot = &s->slot[i];
    for (int r = 0; r < s->instance->project->resources; r++) {
        profile_add(&s->profile[r], slot->start, slot->work_end, sign * a->work[r], a->kind);
        profile_add(&s->profile[r], slot->work_end, slot->end, sign * a->rest[r], a->kind);
    }
}

/* What keeps an activity out of a slot. */
struct block {
    int64_t from, to;
    bool in_wait; /* it reaches into the wait, not into the work */
};

static bool find_block(struct serial *s, int i, struct slot slot, struct block *block) {
    const struct activity *a = &s->instance->project->activities[i];
    for (int r = 0; r < s->instance->project->resources; r++) {
        struct profile *profile = &s->profile[r];
        block->in_wait = false;
        if (profile_blocked(profile, slot.start, slot.work_end, a->work[r], a->kind, &block->from,
                            &block->to))
            return true;
        block->in_wait = true;
        if (profile_blocked(profile, slot.work_end, slot.end, a->rest[r], a->kind, &block->from,
                            &block->to))
            return true;
    }
    return false;
}

static struct slot earliest_free(struct serial *s, int i, int64_t earliest) {
    struct slot slot = slot_from(s->instance, i, earliest);
    struct block block;
    while (find_block(s, i, slot, &block))
        slot = block.in_wait ? slot_ending_from(s->instance, i, block.to)
                             : slot_from(s->instance, i, block.to);
    return slot;
}

/* Right behind one of its kind that is placed already, where `i` then ends no later than in its
 * slot: it goes there instead, without its setup. */
static bool follow_on(struct serial *s, const int *list, int i, int64_t earliest,
                      struct slot *slot) {
    const struct activity *a = &s->instance->project->activities[i];
    bool found = false;
    for (int m = 0; m < s->place[i]; m++) {
        int64_t tick = s->slot[list[m]].work_end;
        struct slot other;
        struct block block;
        if (s->instance->project->activities[list[m]].kind != a->kind || tick < earliest) continue;
        if (tick > slot->start || !slot_following_on(s->instance, i, tick, &other)) continue;
        if (other.work_end > slot->work_end || find_block(s, i, other, &block)) continue;
        *slot = other;
        found = true;
    }
    return found;
}

/* A placing is a node; a long way through the profiles counts for more, so that nodes measure time.
 */
static void count_placing(struct serial *s) {
    enum { STEPS_OF_NODE = 16 };
    s->nodes++;
    for (int r = 0; r < s->instance->project->resources; r++) {
        s->nodes += s->profile[r].passed / STEPS_OF_NODE;
        s->profile[r].passed %= STEPS_OF_NODE;
    }
}

static int64_t end_of_those_before(const struct serial *s, int i) {
    const struct instance *instance = s->instance;
    int64_t latest = 0;
    for (int k = instance->into_first[i]; k < instance->into_first[i + 1]; k++) {
        const struct arc *arc = &instance->arcs[instance->into[k]];
        int64_t end = arc_end(arc, &s->slot[arc->before]);
        if (end > latest) latest = end;
    }
    return latest;
}

/* The maximal time lag that a start of `i` misses by most, or NULL. */
static const struct arc *missed_window(const struct serial *s, int i, int64_t start) {
    const struct instance *instance = s->instance;
    const struct arc *worst = NULL;
    int64_t most = 0;
    for (int k = instance->into_first[i]; k < instance->into_first[i + 1]; k++) {
        const struct arc *arc = &instance->arcs[instance->into[k]];
        if (arc->within < 0) continue;
        int64_t late = start - s->slot[arc->before].work_end - arc->within;
        if (late <= most) continue;
        most = late;
        worst = arc;
    }
    return worst;
}

static void start_afresh(struct serial *s, const int *list) {
    for (int r = 0; r < s->instance->project->resources; r++) profile_clear(&s->profile[r]);
    for (int n = 0; n < s->instance->count; n++) {
        s->release[n] = s->instance->head[n].start;
        s->place[list[n]] = n;
    }
}

bool serial_generate(struct serial *s, const int *list, long node_limit) {
    const struct instance *instance = s->instance;
    start_afresh(s, list);
    for (int n = 0; n < instance->count;) {
        int i = list[n];
        int64_t earliest = end_of_those_before(s, i);
        if (earliest < s->release[i]) earliest = s->release[i];
        struct slot slot = earliest_free(s, i, earliest);
        bool can_follow = s->setups && instance->project->activities[i].setup > 0;
        s->follows_on[i] = can_follow && follow_on(s, list, i, earliest, &slot);
        const struct arc *missed = missed_window(s, i, slot.start);
        if (missed || slot.start > instance->horizon) s->stuck = i;
        if (s->nodes >= node_limit || slot.start > instance->horizon) return false;
        count_placing(s);
        if (!missed) {
            s->slot[i] = slot;
            use_resources(s, i, 1);
            n++;
            continue;
        }
        int64_t due = slot.start - missed->within;
        s->release[missed->before] = slot_ending_from(instance, missed->before, due).start;
        while (n > s->place[missed->before]) use_resources(s, list[--n], -1);
    }
    return true;
}

/* --- late ------------------------------------------------------------------------------------ */

/* The last slot of `i` that leaves all other activities where they are. */
static struct slot latest_free(struct serial *s, int i, int64_t makespan) {
    const struct instance *instance = s->instance;
    int64_t wait = instance->project->activities[i].wait;
    int64_t work_end = makespan - wait, start = INT64_MAX;
    for (int k = instance->from_first[i]; k < instance->from_first[i + 1]; k++) {
        const struct arc *arc = &instance->arcs[instance->from[k]];
        int64_t due = s->slot[arc->after].start - (arc->by_work ? 0 : wait);
        if (due < work_end) work_end = due;
    }
    for (int k = instance->into_first[i]; k < instance->into_first[i + 1]; k++) {
        const struct arc *arc = &instance->arcs[instance->into[k]];
        if (arc->within < 0) continue;
        int64_t due = s->slot[arc->before].work_end + arc->within;
        if (due < start) start = due;
    }
    struct slot slot = slot_ending_until(instance, i, work_end);
    if (slot.start > start) slot = slot_until(instance, i, start);
    struct block block;
    while (find_block(s, i, slot, &block))
        slot = slot_ending_until(instance, i, block.in_wait ? block.from - wait : block.from);
    return slot;
}

static int last_first(const void *a, const void *b) {
    const struct ending *x = a, *y = b;
    if (x->end != y->end) return x->end > y->end ? -1 : 1;
    return y->place - x->place;
}

void serial_justify(struct serial *s) {
    int count = s->instance->count;
    int64_t makespan = instance_makespan(s->instance, s->slot);
    for (int i = 0; i < count; i++) s->ending[i] = (struct ending){s->slot[i].end, s->place[i], i};
    qsort(s->ending, (size_t)count, sizeof *s->ending, last_first);
    for (int n = 0; n < count; n++) {
        int i = s->ending[n].activity;
        if (s->follows_on[i]) continue; /* it stays behind the one that it follows */
        use_resources(s, i, -1);
        s->slot[i] = latest_free(s, i, makespan);
        use_resources(s, i, 1);
        count_placing(s);
    }
}
