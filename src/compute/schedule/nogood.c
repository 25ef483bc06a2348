#include "compute/schedule/inner.h"

/* Nogoods: clauses learned from conflicts.  Two literals of each are watched: as long as neither
 * becomes false, the clause can say nothing (Moskewicz, Madigan, Zhao, Zhang and Malik, Design
 * Automation Conference 2001, 530-535).  When there are too many, those of great literal block
 * distance go (Audemard and Simon, International Joint Conference on Artificial Intelligence 2009,
 * 399-404).
 */

#include <limits.h>
#include <stdlib.h>
#include <string.h>

static void watch(struct exact *s, int number, struct literal l) {
    struct watches *w = &s->nogoods.watches[l.bound];
    GROW(s->arena, w->watch, w->count, w->capacity);
    w->watch[w->count++] = (struct watch){l.least, number};
}

/* Puts a literal that is not false in the first place and watches it; false when there is none. */
static bool watch_another(struct exact *s, int number) {
    const struct nogood *nogood = &s->nogoods.nogood[number];
    struct literal *l = &s->nogoods.literal[nogood->first];
    for (int k = 2; k < nogood->size; k++) {
        if (literal_true(s, literal_not(l[k]))) continue;
        struct literal other = l[0];
        l[0] = l[k];
        l[k] = other;
        watch(s, number, l[0]);
        return true;
    }
    return false;
}

/* What a nogood says once its watched literal on `bound` has become false.  Sets `keep` to whether
 * it still watches that one; false on a conflict. */
static bool speak(struct exact *s, int number, int bound, bool *keep) {
    struct literal *l = &s->nogoods.literal[s->nogoods.nogood[number].first];
    if (l[0].bound != bound) { /* the false one first */
        struct literal other = l[0];
        l[0] = l[1];
        l[1] = other;
    }
    *keep = literal_true(s, l[1]) || !watch_another(s, number);
    return !*keep || trail_raise(s, l[1], (struct reason){WHY_NOGOOD, number, 0});
}

bool nogood_propagate(struct exact *s, int bound) {
    int opposite = bound ^ 1, kept = 0, k = 0;
    int64_t false_from = 1 - bound_value(s, bound); /* "at least" this and more has become false */
    struct watches *w = &s->nogoods.watches[opposite];
    bool sound = true;
    for (; sound && k < w->count; k++) {
        bool keep = true;
        if (w->watch[k].least >= false_from) sound = speak(s, w->watch[k].nogood, opposite, &keep);
        if (keep) w->watch[kept++] = w->watch[k];
    }
    while (k < w->count) w->watch[kept++] = w->watch[k++];
    w->count = kept;
    return sound;
}

int nogood_add(struct exact *s, const struct literal *literals, int size, int distance) {
    struct nogoods *c = &s->nogoods;
    GROW(s->arena, c->nogood, c->count, c->capacity);
    c->literal = arena_grow(s->arena, c->literal, (size_t)c->literals, (size_t)size,
                            &c->literal_capacity, sizeof *c->literal);
    c->nogood[c->count] = (struct nogood){c->literals, size, distance};
    memcpy(&c->literal[c->literals], literals, (size_t)size * sizeof *literals);
    c->literals += size;
    watch(s, c->count, literals[0]);
    watch(s, c->count, literals[1]);
    return c->count++;
}

static int by_value(const void *a, const void *b) {
    return *(const int *)a - *(const int *)b;
}

/* The greatest distance among the `most` nogoods that spanned fewest levels, and how many of them
 * have it. */
static int distance_to_keep(struct exact *s, int most, int *have_it) {
    struct nogoods *c = &s->nogoods;
    *have_it = 0;
    if (c->count <= most) return INT_MAX;
    int *distance = NEW(s->arena, int, c->count);
    for (int k = 0; k < c->count; k++) distance[k] = c->nogood[k].distance;
    qsort(distance, (size_t)c->count, sizeof *distance, by_value);
    int greatest = distance[most - 1];
    for (int k = 0; k < most; k++) *have_it += distance[k] == greatest;
    return greatest;
}

/* Drops literals that are false for good; says whether the nogood still has something to say. */
static bool tidy_nogood(struct exact *s, struct nogood *nogood) {
    struct literal *l = &s->nogoods.literal[nogood->first];
    int kept = 0;
    for (int k = 0; k < nogood->size; k++) {
        if (literal_true(s, l[k])) return false;
        if (!literal_true(s, literal_not(l[k]))) l[kept++] = l[k];
    }
    nogood->size = kept;
    return kept > 1;
}

void nogood_reduce(struct exact *s, int most) {
    struct nogoods *c = &s->nogoods;
    int count = c->count, left, greatest = distance_to_keep(s, most, &left);
    for (int b = 0; b < 2 * s->instance->count; b++) c->watches[b].count = 0;
    c->count = c->literals = 0;
    for (int k = 0; k < count; k++) {
        struct nogood nogood = c->nogood[k];
        if (nogood.distance > greatest || !tidy_nogood(s, &nogood)) continue;
        if (nogood.distance == greatest && left-- <= 0) continue;
        memmove(&c->literal[c->literals], &c->literal[nogood.first],
                (size_t)nogood.size * sizeof *c->literal);
        nogood.first = c->literals;
        c->literals += nogood.size;
        watch(s, c->count, c->literal[nogood.first]);
        watch(s, c->count, c->literal[nogood.first + 1]);
        c->nogood[c->count++] = nogood;
    }
}
