#include "compute/schedule/inner.h"

/* Exact search by lazy clause generation (Ohrimenko, Stuckey and Codish, Constraints 14, 2009,
 * 357-391): conflict-driven search with nogood learning, over bounds instead of yes-or-no
 * variables.
 *
 * Arcs, maximal time lags, hours and resources narrow the bounds (propagate.c); where that is not
 * enough, a decision opens a level: an activity is tried in the earlier half of what it has left.
 * A dead end is traced back to the few bounds that made it, and that combination is kept as a
 * nogood, so that it is never entered again (conflict.c); search goes on at the level where the
 * nogood first has something to say.
 */

static const struct reason DECISION = {WHY_DECISION, 0, 0};

struct exact *exact_of(struct arena *arena, const struct instance *instance) {
    struct exact *s = NEW(arena, struct exact, 1);
    int bounds = 2 * instance->count;
    s->arena = arena;
    s->instance = instance;
    s->bound = NEW(arena, struct slot, bounds);
    s->last_raise = NEW(arena, int, bounds);
    s->conflict = NEW(arena, struct literal, 4 * bounds + 4);
    s->scratch = NEW(arena, struct literal, 4 * bounds + 4);
    s->learned = NEW(arena, struct literal, bounds);
    s->trace.least = NEW(arena, int64_t, bounds);
    s->trace.raise = NEW(arena, int, bounds);
    s->trace.bound = NEW(arena, int, bounds);
    s->nogoods.watches = NEW(arena, struct watches, bounds);
    s->score = NEW(arena, double, instance->count);
    s->bump = 1;
    for (int b = 0; b < bounds; b++) {
        s->bound[b] =
            b & 1 ? slot_until(instance, b / 2, instance->horizon) : instance->head[b / 2];
        s->last_raise[b] = s->trace.raise[b] = -1;
    }
    task_collect(s);
    return s;
}

static bool lower_all(struct exact *s, int64_t deadline) {
    for (int i = 0; i < s->instance->count; i++) {
        int64_t work_end = deadline - s->instance->project->activities[i].wait;
        struct literal l = {2 * i + 1, -slot_ending_until(s->instance, i, work_end).start};
        if (!trail_raise(s, l, DECISION)) return false;
    }
    return propagate(s);
}

bool exact_deadline(struct exact *s, int64_t deadline) {
    trail_back_to(s, 0);
    return lower_all(s, deadline);
}

bool exact_assume(struct exact *s, int64_t deadline) {
    trail_back_to(s, 0);
    trail_open_level(s);
    return lower_all(s, deadline);
}

static bool fixed(const struct exact *s, int i) {
    return s->bound[2 * i].start == s->bound[2 * i + 1].start;
}

/* Of all that are not fixed, the activity that took most part in late conflicts; of equals that
 * which can start first.  -1: all are fixed. */
static int choose(const struct exact *s) {
    int best = -1;
    for (int i = 0; i < s->instance->count; i++) {
        if (fixed(s, i)) continue;
        if (best < 0 || s->score[i] > s->score[best] ||
            (s->score[i] == s->score[best] && s->bound[2 * i].start < s->bound[2 * best].start))
            best = i;
    }
    return best;
}

/* The i-th of 1 1 2 1 1 2 4 1 1 2 1 1 2 4 8 ... (Luby, Sinclair and Zuckerman, Information
 * Processing Letters 47, 1993, 173-180). */
static int restart_length(int i) {
    int whole = 1;
    while (whole < i + 1) whole = 2 * whole + 1;
    while (whole > i + 1) {
        whole /= 2;
        if (i >= whole) i -= whole;
    }
    return (whole + 1) / 2;
}

/* Tries the earlier half of what an activity has left. */
static void try_early(struct exact *s, int i) {
    int64_t from = s->bound[2 * i].start, to = s->bound[2 * i + 1].start;
    trail_open_level(s);
    trail_raise(s, (struct literal){2 * i + 1, -(from + (to - from) / 2)}, DECISION);
}

enum exact_end exact_run(struct exact *s) {
    enum { RESTART = 100, FEW_NOGOODS = 2000, MANY_NOGOODS = 4000 };
    int restarts = 0, until = s->conflicts + RESTART;
    while (s->nodes < s->node_limit) {
        if (!propagate(s)) {
            if (!conflict_resolve(s)) return EXACT_NONE;
            continue;
        }
        if (s->nodes >= s->node_limit) break; /* not propagated to the end */
        if (s->conflicts >= until) {
            until = s->conflicts + RESTART * restart_length(++restarts);
            trail_back_to(s, 0);
            if (s->nogoods.count > MANY_NOGOODS) nogood_reduce(s, FEW_NOGOODS);
            continue;
        }
        int i = choose(s);
        if (i < 0) return EXACT_FOUND;
        try_early(s, i);
    }
    return EXACT_LIMIT;
}
