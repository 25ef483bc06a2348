#include "compute/single.h"

#include <math.h>

#include "compute/aim.h"
#include "compute/judge.h"
#include "compute/ballast/solve.h"

/* Solved bores take the loads of before, the others what the recipe says. */
static void keep_loads(struct arena *arena, const struct results *r, const double *load_before,
                       struct single *single) {
    struct bore_fill fills[MAX_BORES];
    long evaluations = 0;
    struct weighing w = weighing_of(arena, &r->plug, &evaluations);
    single->kept = true;
    for (int i = 0; i < r->ballast.bore_count; i++) {
        fills[i] = r->ballast.fills[i];
        if (!fills[i].solved) continue;
        if (!isfinite(load_before[i])) single->kept = false;
        if (!single->kept) return;
        fills[i] = bore_filled(&r->plug, i, load_before[i], bore_slug(&r->plug, i, load_before[i]));
    }
    single->with_before = weighing_outcome(&w, fills, CONDITION_FINISHED);
}

struct single single_in(struct arena *arena, const struct results *r, const double *load_before) {
    struct single single = {.reserve = r->finished.rest.reserve,
                            .attitude = r->finished.rest.attitude,
                            .ballast = ballast_loads(&r->ballast)};
    single.depth = running_depth(arena, &r->plug, &r->masses, &r->finished.rest);
    keep_loads(arena, r, load_before, &single);
    return single;
}

static const char *first_error(const struct diags *diags) {
    for (int i = 0; i < diags->count; i++)
        if (diags->items[i].severity == SEVERITY_ERROR) return diags->items[i].message;
    return NULL;
}

struct single single_of(struct arena *arena, const struct recipe *recipe,
                        const double *load_before) {
    struct diags diags = {.arena = arena, .trial = true};
    struct results r = judge_recipe(arena, aim_own_lip(arena, recipe), &diags);
    if (diags.errors) return (struct single){.failure = first_error(&diags)};
    return single_in(arena, &r, load_before);
}
