#include "compute/schedule/inner.h"

/* Activity lists by a priority rule: of all activities whose predecessors are listed, the one of
 * least priority comes next (Kolisch, European Journal of Operational Research 90, 1996, 320-333).
 *
 * A maximal time lag holds an activity close to one that it follows: once the first is placed,
 * nothing else should take the resources that the second needs in time.  So the list puts what the
 * second needs besides ahead of the first, and the second and all between the two right behind it.
 * That is a wish: arcs come before it.
 */

/* Pairs of activities, collected and then grouped by their first. */
struct pairs {
    struct arena *arena;
    int (*pair)[2];
    int count;
    size_t capacity;
};

static void add_pair(struct pairs *pairs, int a, int b) {
    GROW(pairs->arena, pairs->pair, pairs->count, pairs->capacity);
    pairs->pair[pairs->count][0] = a;
    pairs->pair[pairs->count++][1] = b;
}

static const int *group_pairs(const struct pairs *pairs, int count, const int **first_of) {
    int *first = NEW(pairs->arena, int, count + 1);
    int *next = NEW(pairs->arena, int, count);
    int *grouped = NEW(pairs->arena, int, pairs->count);
    for (int k = 0; k < pairs->count; k++) first[pairs->pair[k][0] + 1]++;
    for (int i = 0; i < count; i++) first[i + 1] += first[i];
    for (int i = 0; i < count; i++) next[i] = first[i];
    for (int k = 0; k < pairs->count; k++) grouped[next[pairs->pair[k][0]]++] = pairs->pair[k][1];
    *first_of = first;
    return grouped;
}

/* Where chains are collected: each activity is met once for a window. */
struct walk {
    const struct instance *instance;
    struct pairs ahead, close;
    int *met;   /* of each activity: the window that met it last, from 1 on */
    int *stack; /* activities that are met and not left yet */
};

/* Who is needed by `i`, which lies close behind the window's first activity, but not by that. */
static void collect_needed(struct walk *walk, const struct arc *window, int i) {
    const struct instance *instance = walk->instance;
    for (int k = instance->into_first[i]; k < instance->into_first[i + 1]; k++) {
        int needed = instance->arcs[instance->into[k]].before;
        if (needed != window->before && !instance_follows(instance, window->before, needed))
            add_pair(&walk->ahead, needed, window->before);
    }
}

/* For one maximal time lag, the `number`-th: who should stand ahead of its first activity and who
 * close behind it.  Along the arcs from the first, as far as they lead to the second. */
static void collect_chain(struct walk *walk, const struct arc *window, int number) {
    const struct instance *instance = walk->instance;
    int depth = 0;
    walk->stack[depth++] = window->before;
    while (depth) {
        int from = walk->stack[--depth];
        for (int k = instance->from_first[from]; k < instance->from_first[from + 1]; k++) {
            int i = instance->arcs[instance->from[k]].after;
            bool between = i == window->after || instance_follows(instance, i, window->after);
            if (!between || walk->met[i] == number) continue;
            walk->met[i] = number;
            add_pair(&walk->close, window->before, i);
            collect_needed(walk, window, i);
            if (i != window->after) walk->stack[depth++] = i;
        }
    }
}

static struct chains chains_of(struct arena *arena, const struct instance *instance) {
    struct walk walk = {instance,
                        {.arena = arena},
                        {.arena = arena},
                        NEW(arena, int, instance->count),
                        NEW(arena, int, instance->count)};
    for (int k = 0; k < instance->arc_count; k++)
        if (instance->arcs[k].within >= 0) collect_chain(&walk, &instance->arcs[k], k + 1);
    struct chains chains;
    int *counts = NEW(arena, int, instance->count);
    for (int k = 0; k < walk.ahead.count; k++) counts[walk.ahead.pair[k][1]]++;
    chains.ahead_count = counts;
    chains.ahead = group_pairs(&walk.ahead, instance->count, &chains.ahead_first);
    chains.close = group_pairs(&walk.close, instance->count, &chains.close_first);
    return chains;
}

struct lister *lister_of(struct arena *arena, const struct instance *instance) {
    struct lister *lister = NEW(arena, struct lister, 1);
    lister->instance = instance;
    lister->chains = chains_of(arena, instance);
    lister->missing = NEW(arena, int, instance->count);
    lister->pending = NEW(arena, int, instance->count);
    lister->urgent = NEW(arena, bool, instance->count);
    lister->eligible = NEW(arena, int, instance->count);
    return lister;
}

static int rank(const struct lister *lister, int i) {
    if (lister->urgent[i]) return 0;
    return lister->pending[i] > 0 ? 2 : 1;
}

static bool goes_first(const struct lister *lister, const int64_t *priority, int a, int b) {
    int rank_a = rank(lister, a), rank_b = rank(lister, b);
    if (rank_a != rank_b) return rank_a < rank_b;
    if (priority[a] != priority[b]) return priority[a] < priority[b];
    return a < b;
}

/* Takes note that `i` is listed; returns how many are eligible now. */
static int release_followers(struct lister *lister, int i, int eligible) {
    const struct instance *instance = lister->instance;
    const struct chains *chains = &lister->chains;
    for (int k = chains->ahead_first[i]; k < chains->ahead_first[i + 1]; k++)
        lister->pending[chains->ahead[k]]--;
    for (int k = chains->close_first[i]; k < chains->close_first[i + 1]; k++)
        lister->urgent[chains->close[k]] = true;
    for (int k = instance->from_first[i]; k < instance->from_first[i + 1]; k++) {
        int after = instance->arcs[instance->from[k]].after;
        if (--lister->missing[after] == 0) lister->eligible[eligible++] = after;
    }
    return eligible;
}

void list_by(struct lister *lister, const int64_t *priority, int *list) {
    int count = lister->instance->count, eligible = 0;
    for (int i = 0; i < count; i++) {
        lister->missing[i] = lister->instance->into_first[i + 1] - lister->instance->into_first[i];
        lister->pending[i] = lister->chains.ahead_count[i];
        lister->urgent[i] = false;
        if (lister->missing[i] == 0) lister->eligible[eligible++] = i;
    }
    for (int n = 0; n < count; n++) {
        int best = 0;
        for (int k = 1; k < eligible; k++)
            if (goes_first(lister, priority, lister->eligible[k], lister->eligible[best])) best = k;
        list[n] = lister->eligible[best];
        lister->eligible[best] = lister->eligible[--eligible];
        eligible = release_followers(lister, list[n], eligible);
    }
}
