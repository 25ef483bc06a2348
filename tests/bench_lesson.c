/* How long learning takes of 200 recipes of three weighed plugs each, once they are compiled: by
 * turns those that are given, their weighings made up.  Usage: bench_lesson RECIPE... */
#include <stdio.h>
#include <time.h>

#include "compile.h"
#include "compute/lesson.h"

enum { RECIPES = 200, PLUGS = 3 };

static double now(void) {
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

/* Plugs that are some per cent heavier than foretold, each by another share. */
static const struct recipe *weighed(struct arena *arena, const struct compilation *c, int seed) {
    struct recipe *recipe = NEW(arena, struct recipe, 1);
    struct measured *m = NEW(arena, struct measured, 1);
    *recipe = *c->recipe;
    recipe->measured = m;
    m->blank = NEW(arena, double, PLUGS);
    m->finished = NEW(arena, double, PLUGS);
    for (int i = 0; i < PLUGS; i++) {
        double ratio = 1.04 + 0.01 * ((seed * PLUGS + i) % 7 - 3);
        m->blank[i] = ratio * plug_assumed_density(recipe) * c->results.plug.shaped;
        m->finished[i] = ratio * c->results.finished.burden.mass;
    }
    m->blank_count = m->finished_count = PLUGS;
    return recipe;
}

int main(int argc, char **argv) {
    static struct compilation compilations[RECIPES];
    static struct lesson_source sources[RECIPES];
    struct arena arena = {0};
    if (argc < 2) return 2;
    for (int i = 0; i < RECIPES; i++) {
        compilations[i] = compile_recipe(&arena, argv[1 + i % (argc - 1)]);
        if (compilation_failed(&compilations[i])) return 1;
        sources[i].recipe = weighed(&arena, &compilations[i], i);
        sources[i].results = &compilations[i].results;
    }
    double start = now();
    struct lesson lesson = lesson_of(&arena, sources, RECIPES, RECIPES);
    printf("learning from %d recipes, %d plugs, %d figures: %.1f ms\n", RECIPES,
           lesson.mass_trial.plugs, lesson.masses.task.count, (now() - start) * 1e3);
    arena_free(&arena);
    return 0;
}
