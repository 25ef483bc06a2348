#include "compute/schedule_search.h"

/* Clauses learned from conflicts.  Two literals of each are watched: as long as neither becomes
 * false, the clause can say nothing (Moskewicz and others, Design Automation Conference 2001).
 */

#include <limits.h>
#include <stdlib.h>
#include <string.h>

static void watch(struct clauses *c, int number, int slot) {
    int bound = c->literal[c->clause[number].first + slot].bound;
    c->clause[number].next[slot] = c->watch[bound];
    c->watch[bound] = 2 * number + slot;
}

/* Puts a literal that is not false in the place of the watched one; false when there is none. */
static bool watch_another(struct search *s, int number, int slot) {
    struct clauses *c = &s->clauses;
    struct literal *l = &c->literal[c->clause[number].first];
    for (int k = 2; k < c->clause[number].size; k++) {
        if (literal_true(s, literal_not(l[k]))) continue;
        struct literal other = l[slot];
        l[slot] = l[k];
        l[k] = other;
        watch(c, number, slot);
        return true;
    }
    return false;
}

/* A change of `bound` can make literals on the opposite bound false. */
bool clauses_propagate(struct search *s, int bound) {
    struct clauses *c = &s->clauses;
    int *link = &c->watch[bound ^ 1];
    while (*link >= 0) {
        int number = *link / 2, slot = *link % 2;
        struct clause *clause = &c->clause[number];
        const struct literal *l = &c->literal[clause->first];
        int next = clause->next[slot];
        if (!literal_true(s, literal_not(l[slot])) ||
            (clause->size > 1 && literal_true(s, l[1 - slot]))) {
            link = &clause->next[slot];
            continue;
        }
        if (watch_another(s, number, slot)) {
            *link = next;
            continue;
        }
        struct reason reason = {WHY_CLAUSE, number, 0};
        if (!search_raise(s, l[1 - slot], reason)) return false;
        link = &clause->next[slot];
    }
    return true;
}

int clauses_add(struct search *s, const struct literal *literals, int size, int spread) {
    struct clauses *c = &s->clauses;
    if (c->count == c->capacity)
        c->clause = search_grow(s->arena, c->clause, c->count, &c->capacity, sizeof *c->clause);
    while (c->literals + size > c->literal_capacity)
        c->literal = search_grow(s->arena, c->literal, c->literals, &c->literal_capacity,
                                 sizeof *c->literal);
    c->clause[c->count] = (struct clause){c->literals, size, {-1, -1}, spread};
    memcpy(&c->literal[c->literals], literals, (size_t)size * sizeof *literals);
    c->literals += size;
    watch(c, c->count, 0);
    watch(c, c->count, 1);
    return c->count++;
}

static int by_value(const void *a, const void *b) {
    return *(const int *)a - *(const int *)b;
}

/* The greatest spread of the `most` clauses that spanned fewest levels. */
static int spread_to_keep(struct search *s, int most) {
    struct clauses *c = &s->clauses;
    if (c->count <= most) return INT_MAX;
    int *spread = NEW(s->arena, int, c->count);
    for (int k = 0; k < c->count; k++) spread[k] = c->clause[k].spread;
    qsort(spread, (size_t)c->count, sizeof *spread, by_value);
    return spread[most];
}

/* Drops literals that are false for good; says whether the clause still has something to say. */
static bool tidy_clause(struct search *s, struct clause *clause) {
    struct literal *l = &s->clauses.literal[clause->first];
    int kept = 0;
    for (int k = 0; k < clause->size; k++) {
        if (literal_true(s, l[k])) return false;
        if (!literal_true(s, literal_not(l[k]))) l[kept++] = l[k];
    }
    clause->size = kept;
    return kept > 1;
}

void clauses_reduce(struct search *s, int most) {
    struct clauses *c = &s->clauses;
    int count = c->count, keep = spread_to_keep(s, most), kept_of_last = most / 2;
    for (int b = 0; b < 2 * s->plan->count; b++) c->watch[b] = -1;
    c->count = c->literals = 0;
    for (int k = 0; k < count; k++) {
        struct clause clause = c->clause[k];
        if (clause.spread > keep || !tidy_clause(s, &clause)) continue;
        if (clause.spread == keep && kept_of_last-- <= 0) continue;
        memmove(&c->literal[c->literals], &c->literal[clause.first],
                (size_t)clause.size * sizeof *c->literal);
        clause.first = c->literals;
        c->literals += clause.size;
        c->clause[c->count] = clause;
        watch(c, c->count, 0);
        watch(c, c->count++, 1);
    }
}
