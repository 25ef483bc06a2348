/* What is asked of the ballast, put together: the loads as written or solved, the same for lighter
 * and heavier wood and for every body that may come off the scale, the best that can be made of
 * what lies on hand, and the table of the float test. */
#include "compute/ballast/ballast.h"

#include "compute/ballast/pieces.h"
#include "compute/ballast/solve.h"
#include "compute/ballast/spread.h"
#include "compute/ballast/trim.h"
#include "compute/plug/wall.h"

double ballast_loads(const struct ballast_result *ballast) {
    double total = 0;
    for (int i = 0; i < ballast->bore_count; i++) total += fill_load(&ballast->fills[i]);
    return total;
}

struct ballast_result ballast_loaded(struct arena *arena, const struct plug *plug) {
    const struct ballast *ballast = plug->recipe->ballast;
    struct ballast_result result = {.bore_count = ballast ? ballast->bore_count : 0};
    struct weighing w = weighing_of(arena, plug, &result.evaluations);
    for (int i = 0; i < result.bore_count; i++) result.fills[i] = bore_as_written(plug, i);
    result.solution = solve_loads(&w, result.fills);
    if (result.solution.status == SOLVE_UNREACHABLE)
        solve_nearest(&w, result.fills, &result.solution);
    for (int i = 0; i < result.bore_count; i++) result.wall[i] = wall_least(plug, &result.fills[i]);
    return result;
}

struct ballast_result ballast_of(struct arena *arena, const struct plug *plug) {
    struct ballast_result result = ballast_loaded(arena, plug);
    struct weighing w = weighing_of(arena, plug, &result.evaluations);
    result.spread = spread_of(plug);
    result.scatter = spread_scatter(plug->recipe);
    result.light = spread_case_of(arena, plug, plug->wood_density * (1 - result.spread),
                                  result.fills, &result.evaluations);
    result.heavy = spread_case_of(arena, plug, plug->wood_density * (1 + result.spread),
                                  result.fills, &result.evaluations);
    if (result.solution.status == SOLVE_FOUND)
        result.by_blank_count = spread_by_blank(arena, plug, result.spread, result.fills,
                                                &result.by_blank, &result.evaluations);
    if (result.solution.status != SOLVE_UNREACHABLE)
        result.best_count = pieces_best(arena, &w, result.fills, result.best, &result.best_proven);
    result.trial_count = trim_moves(&w, result.fills, result.trials);
    return result;
}
