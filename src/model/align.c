#include "model/align.h"

#include <math.h>
#include <stdbool.h>

/* A table of the least costs of turning the first i old items into the first k new ones. */
struct table {
    double *cost;
    int columns;
};

static double *cell(const struct table *t, int i, int k) {
    return &t->cost[(size_t)i * (size_t)t->columns + (size_t)k];
}

static double paired(const struct table *t, double cost, int i, int k) {
    return cost < 2 ? *cell(t, i - 1, k - 1) + cost : INFINITY;
}

static void fill(const struct table *t, int old_count, int new_count, align_cost *cost,
                 const void *context) {
    for (int i = 0; i <= old_count; i++) *cell(t, i, 0) = i;
    for (int k = 0; k <= new_count; k++) *cell(t, 0, k) = k;
    for (int i = 1; i <= old_count; i++)
        for (int k = 1; k <= new_count; k++) {
            double edit = 1 + fmin(*cell(t, i - 1, k), *cell(t, i, k - 1));
            *cell(t, i, k) = fmin(edit, paired(t, cost(context, i - 1, k - 1), i, k));
        }
}

const struct align_pair *align(struct arena *arena, int old_count, int new_count, align_cost *cost,
                               const void *context, int *count) {
    int most = old_count + new_count, at = most;
    struct table t = {.columns = new_count + 1};
    t.cost = arena_array(arena, (size_t)(old_count + 1), (size_t)t.columns * sizeof *t.cost);
    fill(&t, old_count, new_count, cost, context);

    struct align_pair *pairs = NEW(arena, struct align_pair, most);
    int i = old_count, k = new_count;
    while (i > 0 || k > 0) { /* back along the way that was cheapest */
        bool both = i > 0 && k > 0;
        if (both && *cell(&t, i, k) >= paired(&t, cost(context, i - 1, k - 1), i, k))
            pairs[--at] = (struct align_pair){--i, --k};
        else if (k > 0 && (i == 0 || *cell(&t, i, k - 1) <= *cell(&t, i - 1, k)))
            pairs[--at] = (struct align_pair){-1, --k};
        else
            pairs[--at] = (struct align_pair){--i, -1};
    }
    *count = most - at;
    return pairs + at;
}
