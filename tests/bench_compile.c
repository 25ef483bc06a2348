/* How long things take: reading, validation, solving, a whole compile without PDF, on a recipe.
 * Usage: bench_compile RECIPE...
 * Validation is held against what libyaml alone needs to scan the same bytes. */
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include <yaml.h>

#include "compile.h"
#include "compute/ballast/pieces.h"
#include "compute/judge.h"
#include "emit/drawing/drawing.h"
#include "emit/order/order.h"
#include "emit/report.h"
#include "model/bind.h"
#include "model/check.h"
#include "read/source.h"

static double now(void) {
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

struct job {
    const char *path;
    struct str bytes;
};

static void scan(const struct job *job) {
    yaml_parser_t parser;
    yaml_event_t event;
    int done = 0;
    yaml_parser_initialize(&parser);
    yaml_parser_set_input_string(&parser, (const unsigned char *)job->bytes.data, job->bytes.size);
    while (!done && yaml_parser_parse(&parser, &event)) {
        done = event.type == YAML_STREAM_END_EVENT;
        yaml_event_delete(&event);
    }
    yaml_parser_delete(&parser);
}

static void validate(const struct job *job) {
    struct arena arena = {0};
    struct diags diags = {.arena = &arena};
    const struct source *source = source_of(&arena, job->path, job->bytes, &diags);
    const struct node *root = tree_read(&arena, source, &diags);
    if (root) check_recipe(bind_recipe(&arena, root, NULL, &diags), &diags);
    arena_free(&arena);
}

static void compute(const struct job *job) {
    struct arena arena = {0};
    compile_text(&arena, job->path, job->bytes);
    arena_free(&arena);
}

static void everything(const struct job *job) {
    struct arena arena = {0};
    struct compilation c = compile_text(&arena, job->path, job->bytes);
    struct buf out = {.arena = &arena};
    if (!compilation_failed(&c)) {
        struct figure_list figures = drawing_all(&arena, c.recipe, &c.results);
        order_emit(&out, c.recipe, &c.results, &figures, &(struct order_style){.copies = 1});
    }
    arena_free(&arena);
}

/* Microseconds of one call: the best of several batches. */
static double measure(void (*run)(const struct job *), const struct job *job) {
    double best = 1e9;
    for (int batch = 0; batch < 7; batch++) {
        int calls = 40;
        double start = now();
        for (int i = 0; i < calls; i++) run(job);
        double each = (now() - start) / calls;
        if (each < best) best = each;
    }
    return best * 1e6;
}

/* Ballast alone: plug, loads, spread, pieces, card. */
static void ballast(const struct job *job) {
    struct arena arena = {0};
    struct compilation c = compile_text(&arena, job->path, job->bytes);
    if (compilation_failed(&c)) return;
    double best = 1e9;
    long evaluations = 0;
    for (int i = 0; i < 50; i++) {
        struct arena own = {0};
        double start = now();
        struct plug plug = plug_of(&own, c.recipe);
        struct ballast_result result = ballast_of(&own, &plug);
        double took = now() - start;
        evaluations = result.evaluations;
        if (took < best) best = took;
        arena_free(&own);
    }
    printf("  ballast, all answers          %8.1f us, %ld hydrostatic evaluations\n", best * 1e6,
           evaluations);
    arena_free(&arena);
}

/* The search among six kinds of pieces, as many of each as one likes, eight a bore. */
static void pieces(const struct job *job) {
    static struct piece six[] = {{.ball = {9e-3, true}},   {.ball = {7.5e-3, true}},
                                 {.ball = {6e-3, true}},   {.mass = {2e-3, true}},
                                 {.mass = {0.7e-3, true}}, {.mass = {0.3e-3, true}}};
    struct arena arena = {0};
    struct compilation c = compile_text(&arena, job->path, job->bytes);
    if (compilation_failed(&c) || !c.recipe->ballast || !c.recipe->ballast->aim) return;
    struct recipe recipe = *c.recipe;
    struct ballast ballast = *recipe.ballast;
    ballast.pieces = six, ballast.piece_count = 6;
    recipe.ballast = &ballast;
    double best = 1e9;
    long evaluations = 0;
    int found = 0;
    for (int i = 0; i < 50; i++) {
        struct arena own = {0};
        struct piece_load loads[BALLAST_BEST_LOADS];
        bool proven;
        struct plug plug = plug_of(&own, &recipe);
        evaluations = 0;
        struct weighing w = weighing_of(&own, &plug, &evaluations);
        double start = now();
        found = pieces_best(&own, &w, c.results.ballast.fills, loads, &proven);
        double took = now() - start;
        if (took < best) best = took;
        arena_free(&own);
    }
    printf("  six kinds of pieces           %8.1f us, %ld hydrostatic evaluations, %d found\n",
           best * 1e6, evaluations, found);
    arena_free(&arena);
}

static void bench(const char *path) {
    struct arena arena = {0};
    struct diags diags = {.arena = &arena};
    const char *failure = NULL;
    const struct source *source = source_read(&arena, path, &diags, &failure);
    if (!source) {
        fprintf(stderr, "%s\n", failure);
        exit(2);
    }
    struct job job = {path, source->file.text};
    double bare = measure(scan, &job), valid = measure(validate, &job);
    printf("%s, %zu bytes\n", path, job.bytes.size);
    printf("  libyaml alone                 %8.1f us\n", bare);
    printf("  validation                    %8.1f us, %.2f times that\n", valid, valid / bare);
    printf("  compile                       %8.1f us\n", measure(compute, &job));
    printf("  compile, drawings, Markdown   %8.1f us\n", measure(everything, &job));
    ballast(&job);
    pieces(&job);
    arena_free(&arena);
}

int main(int argc, char **argv) {
    for (int i = 1; i < argc; i++) bench(argv[i]);
    return argc > 1 ? 0 : 2;
}
