/* How long a plan of several runs takes: 5 recipes and 40, by turns those that are given.
 * Usage: bench_plan RECIPE... */
#include <stdio.h>
#include <time.h>

#include "compile.h"
#include "compute/implied.h"
#include "compute/work/plan.h"
#include "model/colourway.h"

enum { MOST = 40 };

static double now(void) {
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static struct plan_order order_of(struct arena *arena, const struct compilation *c) {
    const struct ballast_result *ballast = &c->results.ballast;
    struct walk walk = {
        .arena = arena, .recipe = c->recipe, .implied = implied_values(arena, &c->results)};
    double *loads = NEW(arena, double, MAX_BORES);
    for (int i = 0; i < ballast->bore_count; i++) loads[i] = ballast->fills[i].load;
    return (struct plan_order){.recipe = c->recipe,
                               .alone = &c->results.run,
                               .body = colourway_body(&walk),
                               .floating = colourway_floating(&walk),
                               .loads = loads};
}

/* From the files to the plan, as the command does it; false where one of them is no recipe. */
static bool bench(char **paths, int given, int count) {
    static struct compilation compilations[MOST];
    struct arena arena = {0};
    struct plan_order orders[MOST];
    int plugs = 0;
    double start = now();
    for (int i = 0; i < count; i++) {
        compilations[i] = compile_recipe(&arena, paths[i % given]);
        if (compilation_failed(&compilations[i])) return false;
        orders[i] = order_of(&arena, &compilations[i]);
        plugs += compilations[i].recipe->make;
    }
    double compiled = now() - start;
    struct plan plan = plan_of(&arena, orders, count);
    double took = now() - start;
    printf("plan of %d recipes, %d plugs: %.2f s, %.2f s of it compiling", count, plugs, took,
           compiled);
    const double day = 86400;
    if (plan.feasible)
        printf("; done after %.1f days, none before %.1f, in turn %.1f\n",
               (double)plan.all.makespan / day, (double)plan.all.lower_bound / day,
               (double)plan.in_turn / day);
    else
        printf("; none found\n");
    arena_free(&arena);
    return true;
}

int main(int argc, char **argv) {
    if (argc < 2) return 2;
    bool fine = bench(argv + 1, argc - 1, 5) && bench(argv + 1, argc - 1, MOST);
    return fine ? 0 : 1;
}
