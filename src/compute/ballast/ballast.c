/* What is asked of the ballast, put together: the loads as written or solved, the same for lighter
 * and heavier wood and for every body that may come off the scale, the best that can be made of
 * what lies on hand, and the float-test card. */
#include "compute/ballast/ballast.h"

#include <math.h>

#include "compute/ballast/pieces.h"
#include "compute/ballast/remedy.h"
#include "compute/ballast/solve.h"
#include "compute/ballast/spread.h"
#include "compute/plug/wall.h"

/* A gram more or less in one bore that stays as it was drilled, or is drilled to suit. */
static struct trial trial_of(const struct weighing *w, const struct bore_fill *fills, int bore,
                             double change) {
    struct bore_fill changed[MAX_BORES];
    struct trial trial = {.bore = bore, .change = change};
    double load = fills[bore].load + change;
    if (load < 0) return trial;
    for (int i = 0; i < MAX_BORES; i++) changed[i] = fills[i];
    double slug = fmax(fills[bore].slug + bore_slug(w->plug, bore, change), 0);
    changed[bore] = bore_filled(w->plug, bore, load, slug);
    trial.possible = changed[bore].fits;
    if (!trial.possible) return trial;
    trial.test = weighing_outcome(w, changed, CONDITION_TEST);
    trial.finished = weighing_outcome(w, changed, CONDITION_FINISHED);
    return trial;
}

static void try_grams(const struct weighing *w, struct ballast_result *result) {
    const double gram = 1e-3;
    for (int i = 0; i < result->bore_count; i++) {
        result->trials[result->trial_count++] = trial_of(w, result->fills, i, gram);
        result->trials[result->trial_count++] = trial_of(w, result->fills, i, -gram);
    }
}

double ballast_loads(const struct ballast_result *ballast) {
    double total = 0;
    for (int i = 0; i < ballast->bore_count; i++) total += ballast->fills[i].load;
    return total;
}

struct ballast_result ballast_of(struct arena *arena, const struct plug *plug) {
    const struct ballast *ballast = plug->recipe->ballast;
    struct ballast_result result = {.bore_count = ballast ? ballast->bore_count : 0};
    struct weighing w = weighing_of(arena, plug, &result.evaluations);
    for (int i = 0; i < result.bore_count; i++) result.fills[i] = bore_as_written(plug, i);
    result.solution = solve_loads(&w, result.fills);
    if (result.solution.status == SOLVE_UNREACHABLE) {
        solve_nearest(&w, result.fills, &result.solution);
        result.solution.remedy = remedy_of(arena, plug);
    }
    result.spread = spread_of(plug);
    result.scatter = spread_scatter(plug->recipe);
    result.light = spread_case_of(arena, plug, plug->wood_density * (1 - result.spread),
                                  result.fills, &result.evaluations);
    result.heavy = spread_case_of(arena, plug, plug->wood_density * (1 + result.spread),
                                  result.fills, &result.evaluations);
    if (result.solution.status == SOLVE_FOUND)
        result.by_blank_count = spread_by_blank(arena, plug, result.spread, result.fills,
                                                &result.by_blank, &result.evaluations);
    result.best_count = pieces_best(arena, &w, result.fills, result.best, &result.best_proven);
    try_grams(&w, &result);
    for (int i = 0; i < result.bore_count; i++)
        result.wall[i] = wall_least(plug, &result.fills[i]);
    result.clearance_count = clearance_all(arena, plug, result.fills, &result.clearances);
    return result;
}
