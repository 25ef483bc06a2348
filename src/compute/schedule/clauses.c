#include "compute/schedule/exact.h"

/* Clauses learned from conflicts.  Two literals of each are watched: as long as neither becomes
 * false, the clause can say nothing (Moskewicz and others, Design Automation Conference 2001).
 */

#include <limits.h>
#include <stdlib.h>
#include <string.h>

static void watch(struct exact *s, int number, struct literal l) {
    struct watches *w = &s->clauses.watches[l.bound];
    GROW(s->arena, w->watch, w->count, w->capacity);
    w->watch[w->count++] = (struct watch){l.least, number};
}

/* Puts a literal that is not false in the first place and watches it; false when there is none. */
static bool watch_another(struct exact *s, int number) {
    const struct clause *clause = &s->clauses.clause[number];
    struct literal *l = &s->clauses.literal[clause->first];
    for (int k = 2; k < clause->size; k++) {
        if (literal_true(s, literal_not(l[k]))) continue;
        struct literal other = l[0];
        l[0] = l[k];
        l[k] = other;
        watch(s, number, l[0]);
        return true;
    }
    return false;
}

/* What a clause says once its watched literal on `bound` has become false.  Sets `keep` to whether
 * it still watches that one; false on a conflict. */
static bool speak(struct exact *s, int number, int bound, bool *keep) {
    struct literal *l = &s->clauses.literal[s->clauses.clause[number].first];
    if (l[0].bound != bound) { /* the false one first */
        struct literal other = l[0];
        l[0] = l[1];
        l[1] = other;
    }
    *keep = literal_true(s, l[1]) || !watch_another(s, number);
    return !*keep || exact_raise(s, l[1], (struct reason){WHY_CLAUSE, number, 0});
}

bool exact_clauses_propagate(struct exact *s, int bound) {
    int opposite = bound ^ 1, kept = 0, k = 0;
    int64_t false_from = 1 - bound_value(s, bound); /* "at least" this and more has become false */
    struct watches *w = &s->clauses.watches[opposite];
    bool sound = true;
    for (; sound && k < w->count; k++) {
        bool keep = true;
        if (w->watch[k].least >= false_from) sound = speak(s, w->watch[k].clause, opposite, &keep);
        if (keep) w->watch[kept++] = w->watch[k];
    }
    while (k < w->count) w->watch[kept++] = w->watch[k++];
    w->count = kept;
    return sound;
}

int exact_clauses_add(struct exact *s, const struct literal *literals, int size, int spread) {
    struct clauses *c = &s->clauses;
    GROW(s->arena, c->clause, c->count, c->capacity);
    c->literal = arena_grow(s->arena, c->literal, (size_t)c->literals, (size_t)size,
                            &c->literal_capacity, sizeof *c->literal);
    c->clause[c->count] = (struct clause){c->literals, size, spread};
    memcpy(&c->literal[c->literals], literals, (size_t)size * sizeof *literals);
    c->literals += size;
    watch(s, c->count, literals[0]);
    watch(s, c->count, literals[1]);
    return c->count++;
}

static int by_value(const void *a, const void *b) {
    return *(const int *)a - *(const int *)b;
}

/* The greatest spread among the `most` clauses that spanned fewest levels, and how many of them
 * have it. */
static int spread_to_keep(struct exact *s, int most, int *have_it) {
    struct clauses *c = &s->clauses;
    *have_it = 0;
    if (c->count <= most) return INT_MAX;
    int *spread = NEW(s->arena, int, c->count);
    for (int k = 0; k < c->count; k++) spread[k] = c->clause[k].spread;
    qsort(spread, (size_t)c->count, sizeof *spread, by_value);
    int greatest = spread[most - 1];
    for (int k = 0; k < most; k++) *have_it += spread[k] == greatest;
    return greatest;
}

/* Drops literals that are false for good; says whether the clause still has something to say. */
static bool tidy_clause(struct exact *s, struct clause *clause) {
    struct literal *l = &s->clauses.literal[clause->first];
    int kept = 0;
    for (int k = 0; k < clause->size; k++) {
        if (literal_true(s, l[k])) return false;
        if (!literal_true(s, literal_not(l[k]))) l[kept++] = l[k];
    }
    clause->size = kept;
    return kept > 1;
}

void exact_clauses_reduce(struct exact *s, int most) {
    struct clauses *c = &s->clauses;
    int count = c->count, left, greatest = spread_to_keep(s, most, &left);
    for (int b = 0; b < 2 * s->instance->count; b++) c->watches[b].count = 0;
    c->count = c->literals = 0;
    for (int k = 0; k < count; k++) {
        struct clause clause = c->clause[k];
        if (clause.spread > greatest || !tidy_clause(s, &clause)) continue;
        if (clause.spread == greatest && left-- <= 0) continue;
        memmove(&c->literal[c->literals], &c->literal[clause.first],
                (size_t)clause.size * sizeof *c->literal);
        clause.first = c->literals;
        c->literals += clause.size;
        watch(s, c->count, c->literal[clause.first]);
        watch(s, c->count, c->literal[clause.first + 1]);
        c->clause[c->count++] = clause;
    }
}
