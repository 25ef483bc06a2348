#include "compute/schedule/inner.h"

/* The trail: every bound that was raised, in its order, by decision levels, so that a level can be
 * taken back and a conflict traced to what made it.
 */

void trail_store(struct exact *s, struct literal l) {
    GROW(s->arena, s->stored, s->stored_count, s->stored_capacity);
    s->stored[s->stored_count++] = l;
}

static void note_change(struct exact *s, int i) {
    const struct activity *a = &s->instance->project->activities[i];
    for (int r = 0; r < s->instance->project->resources; r++)
        if (a->work[r] > 0 || a->rest[r] > 0) s->resource[r].changed = true;
}

bool trail_raise(struct exact *s, struct literal l, struct reason reason) {
    if (literal_true(s, l)) return true;
    GROW(s->arena, s->trail, s->raises, s->trail_capacity);
    s->trail[s->raises] =
        (struct raise){s->bound[l.bound], l.bound, s->depth, s->last_raise[l.bound], reason};
    s->last_raise[l.bound] = s->raises++;
    int i = l.bound / 2;
    s->bound[l.bound] =
        l.bound & 1 ? slot_until(s->instance, i, -l.least) : slot_from(s->instance, i, l.least);
    note_change(s, i);

    int64_t opposite = bound_value(s, l.bound ^ 1);
    if (bound_value(s, l.bound) + opposite <= 0) return true;
    s->emptied = true;
    s->conflict_size = 2;
    s->conflict[0] = (struct literal){l.bound, 1 - opposite};
    s->conflict[1] = (struct literal){l.bound ^ 1, opposite};
    return false;
}

void trail_open_level(struct exact *s) {
    GROW(s->arena, s->level, s->depth, s->level_capacity);
    s->level[s->depth++] = (struct level){s->raises, s->stored_count, 0};
}

void trail_back_to(struct exact *s, int depth) {
    if (depth >= s->depth) return;
    s->depth = depth;
    while (s->raises > s->level[depth].raises) {
        const struct raise *raise = &s->trail[--s->raises];
        s->bound[raise->bound] = raise->before;
        s->last_raise[raise->bound] = raise->previous;
    }
    s->stored_count = s->level[depth].stored;
    s->examined = s->raises;
}

int trail_raise_of(const struct exact *s, struct literal l) {
    int k = s->last_raise[l.bound];
    while (k >= 0) {
        const struct raise *raise = &s->trail[k];
        int64_t before = l.bound & 1 ? -raise->before.start : raise->before.start;
        if (before < l.least) return k;
        k = raise->previous;
    }
    return -1;
}
