#include "compute/schedule/generate.h"

/* Serial generation (Kelley 1963; Kolisch, European Journal of Operational Research 90, 1996,
 * 320-333) and justification to the right (Valls, Ballestin and Quintanilla, the same journal 165,
 * 2005, 375-386), carried over to opening hours and latest times.
 */

#include <stdlib.h>

/* An activity to be justified; `place` in the list breaks ties of activities without length. */
struct ending {
    int64_t end;
    int place, activity;
};

struct generator *generator_of(struct arena *arena, const struct instance *instance) {
    struct generator *g = NEW(arena, struct generator, 1);
    g->instance = instance;
    for (int r = 0; r < instance->project->resources; r++) {
        /* Every activity adds at most three steps, and two more while one is being added. */
        g->profile[r].time = NEW(arena, int64_t, 3 * instance->count + 4);
        g->profile[r].used = NEW(arena, int, 3 * instance->count + 4);
        g->profile[r].capacity = instance->capacity[r];
    }
    g->slot = NEW(arena, struct slot, instance->count);
    g->release = NEW(arena, int64_t, instance->count);
    g->place = NEW(arena, int, instance->count);
    g->ending = NEW(arena, struct ending, instance->count);
    g->stuck = -1;
    return g;
}

/* Takes (sign 1) or gives back (sign -1) what activity `i` uses in its slot. */
static void use_resources(struct generator *g, int i, int sign) {
    const struct activity *a = &g->instance->project->activities[i];
    const struct slot *slot = &g->slot[i];
    for (int r = 0; r < g->instance->project->resources; r++) {
        profile_add(&g->profile[r], slot->start, slot->work_end, sign * a->work[r]);
        profile_add(&g->profile[r], slot->work_end, slot->end, sign * a->rest[r]);
    }
}

/* What keeps an activity out of a slot. */
struct block {
    int64_t from, to;
    bool in_wait; /* it reaches into the wait, not into the work */
};

static bool find_block(const struct generator *g, int i, struct slot slot, struct block *block) {
    const struct activity *a = &g->instance->project->activities[i];
    for (int r = 0; r < g->instance->project->resources; r++) {
        const struct profile *profile = &g->profile[r];
        block->in_wait = false;
        if (profile_blocked(profile, slot.start, slot.work_end, a->work[r], &block->from,
                            &block->to))
            return true;
        block->in_wait = true;
        if (profile_blocked(profile, slot.work_end, slot.end, a->rest[r], &block->from, &block->to))
            return true;
    }
    return false;
}

static struct slot earliest_free(const struct generator *g, int i, int64_t earliest) {
    struct slot slot = slot_from(g->instance, i, earliest);
    struct block block;
    while (find_block(g, i, slot, &block))
        slot = block.in_wait ? slot_ending_from(g->instance, i, block.to)
                             : slot_from(g->instance, i, block.to);
    return slot;
}

static int64_t end_of_those_before(const struct generator *g, int i) {
    const struct instance *instance = g->instance;
    int64_t latest = 0;
    for (int k = instance->into_first[i]; k < instance->into_first[i + 1]; k++) {
        const struct tie *tie = &instance->ties[instance->into[k]];
        int64_t end = tie_end(tie, &g->slot[tie->before]);
        if (end > latest) latest = end;
    }
    return latest;
}

/* The latest time that a start of `i` misses by most, or NULL. */
static const struct tie *missed_window(const struct generator *g, int i, int64_t start) {
    const struct instance *instance = g->instance;
    const struct tie *worst = NULL;
    int64_t most = 0;
    for (int k = instance->into_first[i]; k < instance->into_first[i + 1]; k++) {
        const struct tie *tie = &instance->ties[instance->into[k]];
        if (tie->within < 0) continue;
        int64_t late = start - g->slot[tie->before].work_end - tie->within;
        if (late <= most) continue;
        most = late;
        worst = tie;
    }
    return worst;
}

static void start_afresh(struct generator *g, const int *list) {
    for (int r = 0; r < g->instance->project->resources; r++) profile_clear(&g->profile[r]);
    for (int n = 0; n < g->instance->count; n++) {
        g->release[n] = g->instance->head[n].start;
        g->place[list[n]] = n;
    }
}

bool generate_early(struct generator *g, const int *list, long node_limit) {
    const struct instance *instance = g->instance;
    start_afresh(g, list);
    for (int n = 0; n < instance->count;) {
        int i = list[n];
        int64_t earliest = end_of_those_before(g, i);
        if (earliest < g->release[i]) earliest = g->release[i];
        struct slot slot = earliest_free(g, i, earliest);
        const struct tie *missed = missed_window(g, i, slot.start);
        if (missed || slot.start > instance->horizon) g->stuck = i;
        if (g->nodes++ >= node_limit || slot.start > instance->horizon) return false;
        if (!missed) {
            g->slot[i] = slot;
            use_resources(g, i, 1);
            n++;
            continue;
        }
        int64_t due = slot.start - missed->within;
        g->release[missed->before] = slot_ending_from(instance, missed->before, due).start;
        while (n > g->place[missed->before]) use_resources(g, list[--n], -1);
    }
    return true;
}

/* --- late ------------------------------------------------------------------------------------ */

/* The last slot of `i` that leaves all other activities where they are. */
static struct slot latest_free(const struct generator *g, int i, int64_t makespan) {
    const struct instance *instance = g->instance;
    int64_t wait = instance->project->activities[i].wait;
    int64_t work_end = makespan - wait, start = INT64_MAX;
    for (int k = instance->from_first[i]; k < instance->from_first[i + 1]; k++) {
        const struct tie *tie = &instance->ties[instance->from[k]];
        int64_t due = g->slot[tie->after].start - (tie->by_work ? 0 : wait);
        if (due < work_end) work_end = due;
    }
    for (int k = instance->into_first[i]; k < instance->into_first[i + 1]; k++) {
        const struct tie *tie = &instance->ties[instance->into[k]];
        if (tie->within < 0) continue;
        int64_t due = g->slot[tie->before].work_end + tie->within;
        if (due < start) start = due;
    }
    struct slot slot = slot_ending_until(instance, i, work_end);
    if (slot.start > start) slot = slot_until(instance, i, start);
    struct block block;
    while (find_block(g, i, slot, &block))
        slot = slot_ending_until(instance, i, block.in_wait ? block.from - wait : block.from);
    return slot;
}

static int last_first(const void *a, const void *b) {
    const struct ending *x = a, *y = b;
    if (x->end != y->end) return x->end > y->end ? -1 : 1;
    return y->place - x->place;
}

void generate_late(struct generator *g) {
    int count = g->instance->count;
    int64_t makespan = schedule_makespan(g->slot, count);
    for (int i = 0; i < count; i++) g->ending[i] = (struct ending){g->slot[i].end, g->place[i], i};
    qsort(g->ending, (size_t)count, sizeof *g->ending, last_first);
    for (int n = 0; n < count; n++) {
        int i = g->ending[n].activity;
        use_resources(g, i, -1);
        g->slot[i] = latest_free(g, i, makespan);
        use_resources(g, i, 1);
        g->nodes++;
    }
}
