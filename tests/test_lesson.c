/* What the bench taught, of a builder whose wood and sealer are known to be others than the tables
 * have.  The weighings are made by hand from the rows of mass. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "compile.h"
#include "compute/lesson.h"

static const double ninety = 1.6448536269514722;

static struct compilation sanderling(struct arena *arena) {
    struct compilation c = compile_recipe(arena, "recipes/sanderling.yaml");
    assert_false(compilation_failed(&c));
    return c;
}

static struct lesson learned(struct arena *arena, const struct recipe *const *recipes,
                             const struct results *const *results, int count) {
    struct lesson_source *sources = NEW(arena, struct lesson_source, count);
    for (int i = 0; i < count; i++)
        sources[i] = (struct lesson_source){.recipe = recipes[i], .results = results[i]};
    return lesson_of(arena, sources, count, count);
}

static double row(const struct results *r, enum name_key key) {
    return mass_find(&r->masses, key)->mass;
}

/* The recipe with weighings of plugs whose wood and sealer are so much heavier. */
static const struct recipe *built(struct arena *arena, const struct compilation *c, double wood,
                                  double sealer, int plugs) {
    struct recipe *recipe = NEW(arena, struct recipe, 1);
    struct measured *m = NEW(arena, struct measured, 1);
    const struct results *r = &c->results;
    *recipe = *c->recipe;
    recipe->measured = m;
    m->blank = NEW(arena, double, plugs);
    m->sealed = NEW(arena, double, plugs);
    m->finished = NEW(arena, double, plugs);
    for (int i = 0; i < plugs; i++) {
        double heavier = (wood - 1) * row(r, NAME_WOOD) + (sealer - 1) * row(r, NAME_SEALER);
        m->blank[i] = wood * plug_assumed_density(recipe) * r->plug.shaped;
        m->sealed[i] = mass_tally(&r->masses, SEALED_STAGES).mass + heavier;
        m->finished[i] = r->finished.burden.mass + heavier;
    }
    m->blank_count = m->sealed_count = m->finished_count = plugs;
    return recipe;
}

static const struct lesson_figure *find(const struct lesson *l, enum lesson_kind kind) {
    for (int i = 0; i < l->masses.task.count; i++)
        if (l->masses.figures[i].kind == kind) return &l->masses.figures[i];
    fail();
    return NULL;
}

static bool covers(const struct lesson_figure *f, double ratio) {
    return fabs(log(ratio) - f->mean) <= ninety * f->deviation;
}

static void wood_and_sealer_are_told_apart(void **state) {
    struct arena arena = {0};
    struct compilation c = sanderling(&arena);
    const struct results *results = &c.results;
    (void)state;
    const struct recipe *recipe = built(&arena, &c, 1.12, 1.5, 6);
    struct lesson l = learned(&arena, &recipe, &results, 1);
    const struct lesson_figure *wood = find(&l, LESSON_WOOD), *sealer = find(&l, LESSON_SEALER);
    assert_int_equal(l.mass_trial.plugs, 6);
    assert_int_equal(wood->readings, 18);
    assert_int_equal(sealer->readings, 12);
    assert_true(covers(wood, 1.12) && !covers(wood, 1));
    assert_true(covers(sealer, 1.5) && sealer->mean > 0.1);
    /* each plug is foretold by the others, and much better than by the tables */
    assert_true(l.mass_trial.after < l.mass_trial.before / 4);
    assert_true(l.mass_trial.reserve_after < l.mass_trial.reserve_before / 4);
    assert_true(l.next.given && l.next.after < l.next.before);
    arena_free(&arena);
}

/* Plugs as the tables have them: nothing moves, and the doubt shrinks. */
static void a_builder_like_the_tables_learns_no_other_figures(void **state) {
    struct arena arena = {0};
    struct compilation c = sanderling(&arena);
    const struct results *results = &c.results;
    (void)state;
    const struct recipe *recipe = built(&arena, &c, 1, 1, 4);
    struct lesson l = learned(&arena, &recipe, &results, 1);
    for (int i = 0; i < l.masses.task.count; i++)
        assert_true(fabs(l.masses.figures[i].mean) < 1e-9);
    assert_true(find(&l, LESSON_WOOD)->prior_share < 0.2);
    assert_true(l.mass_trial.before < 1e-12);
    arena_free(&arena);
}

/* Without a weighing what stands is all there is, and the first one worth making is said. */
static void nothing_measured_leaves_all_as_it_stands(void **state) {
    struct arena arena = {0};
    struct compilation c = sanderling(&arena);
    const struct recipe *recipe = c.recipe;
    const struct results *results = &c.results;
    (void)state;
    struct lesson l = learned(&arena, &recipe, &results, 1);
    const struct lesson_figure *wood = find(&l, LESSON_WOOD);
    assert_true(wood->mean == 0 && wood->readings == 0);
    assert_true(fabs(wood->deviation - recipe->wood->row->spread) < 1e-15);
    assert_int_equal(l.mass_trial.plugs, 0);
    assert_true(l.next.given);
    arena_free(&arena);
}

/* Bodies that differ get loads that make up for it: plugs built to the order weigh as it says, and
 * nothing is learned from that. */
static void every_plug_has_its_own_loads(void **state) {
    enum { PLUGS = 3 };
    struct arena arena = {0};
    struct compilation c = sanderling(&arena);
    struct recipe recipe = *c.recipe;
    double blank[PLUGS], finished[PLUGS];
    struct measured measured = {.blank = blank, .blank_count = PLUGS};
    (void)state;
    recipe.measured = &measured;
    for (int i = 0; i < PLUGS; i++)
        blank[i] = (0.97 + 0.03 * i) * plug_assumed_density(&recipe) * c.results.plug.shaped;
    struct results with = results_afloat(&arena, &recipe);
    with.run = c.results.run;
    assert_int_equal(with.ballast.by_blank_count, PLUGS);
    for (int i = 0; i < PLUGS; i++) {
        const struct spread_case *own = &with.ballast.by_blank[i];
        finished[i] = with.finished.burden.mass + (0.03 * i - 0.03) * row(&with, NAME_WOOD);
        for (int k = 0; k < with.ballast.bore_count; k++)
            finished[i] += own->load[k] - with.ballast.fills[k].load;
    }
    measured.finished = finished;
    measured.finished_count = PLUGS;
    const struct recipe *recipes = &recipe;
    const struct results *results = &with;
    struct lesson l = learned(&arena, &recipes, &results, 1);
    assert_true(fabs(finished[0] - finished[2]) < fabs(blank[0] - blank[2]) / 2);
    /* what is left to explain is the wood alone: one plug light, one as foretold, one heavy */
    double off = 0.03 * row(&with, NAME_WOOD) * sqrt(2.0 / 3);
    assert_true(fabs(l.mass_trial.before - off) < 1e-3 * off);
    assert_true(fabs(find(&l, LESSON_HOOK)->mean) < 0.01);
    assert_true(fabs(find(&l, LESSON_TOPCOAT)->mean) < 0.01);
    assert_true(fabs(find(&l, LESSON_WOOD)->mean) < 0.01);
    arena_free(&arena);
}

/* An operation of one run that took half as long again. */
static void minutes_have_their_ratio(void **state) {
    struct arena arena = {0};
    struct compilation c = sanderling(&arena);
    struct recipe recipe = *c.recipe;
    struct timing timing[8];
    struct measured measured = {.minutes = timing};
    const struct recipe *recipes[3] = {&recipe, &recipe, &recipe};
    const struct results *results[3] = {&c.results, &c.results, &c.results};
    const struct run *run = &c.results.run;
    (void)state;
    recipe.measured = &measured;
    timing[0].step = str_of("round");
    for (int i = 0; i < run->count; i++)
        if (str_is(timing[0].step, run->route.operations[run->steps[i].operation].id))
            timing[0].took += 1.5 * (double)run->steps[i].hands_on;
    measured.timing_count = 1;
    struct lesson l = learned(&arena, recipes, results, 3);
    assert_int_equal(l.times.task.count, 1);
    assert_int_equal(l.times.figures[0].readings, 3);
    assert_true(covers(&l.times.figures[0], 1.5) && l.times.figures[0].mean > 0.3);
    assert_true(l.time_trial.after < l.time_trial.before / 3);
    arena_free(&arena);
}

/* Plugs that differ by what the wood alone does: each says so of the wood, the heavier the more,
 * and those that are surest are kept where there are many. */
static void plugs_say_what_they_weigh_of_a_figure(void **state) {
    enum { PLUGS = LESSON_POINTS + 6 };
    struct arena arena = {0};
    struct compilation c = sanderling(&arena);
    const struct results *results = &c.results;
    (void)state;
    const struct recipe *recipe = built(&arena, &c, 1.1, 1, PLUGS);
    for (int i = 0; i < PLUGS; i++) recipe->measured->blank[i] *= 1 + 0.002 * i;
    recipe->measured->sealed_count = recipe->measured->finished_count = 0;
    struct lesson l = learned(&arena, &recipe, &results, 1);
    lesson_claims(&arena, &l);
    int wood = 0;
    while (l.masses.figures[wood].kind != LESSON_WOOD) wood++;
    struct lesson_points points = lesson_points_of(&arena, &l.masses, wood);
    assert_int_equal(points.count, LESSON_POINTS);
    assert_int_equal(points.more, PLUGS - LESSON_POINTS);
    assert_int_equal(points.weaker, 0);
    for (int i = 1; i < points.count; i++) {
        const struct learn_claim *before = points.claims[i - 1], *claim = points.claims[i];
        assert_int_equal(l.masses.sources[claim->plug].source, 0);
        assert_int_equal(l.masses.sources[claim->plug].number, claim->plug + 1);
        double apart = 0.002 * (claim->plug - before->plug);
        assert_true(fabs(claim->mean - before->mean - apart) < 0.2 * apart);
    }
    /* of two plugs, which may differ as plugs do, none says much of the volume: it is known to 2 %
     * before any is weighed */
    recipe->measured->blank_count = 2;
    l = learned(&arena, &recipe, &results, 1);
    lesson_claims(&arena, &l);
    assert_int_equal(l.masses.figures[0].kind, LESSON_SHAPING);
    points = lesson_points_of(&arena, &l.masses, 0);
    assert_int_equal(points.weaker, 2);
    assert_int_equal(points.count + points.more, 0);
    arena_free(&arena);
}

/* A sealer that stands at half as much again by now: older plugs, made when it stood at less, say
 * of it that it is as it stands. */
static void older_plugs_are_of_the_figures_as_they_stand(void **state) {
    struct arena arena = {0};
    struct compilation c = sanderling(&arena);
    struct recipe now = *c.recipe;
    struct finish finish = *now.finish;
    struct seal seal = *finish.seal;
    (void)state;
    seal.uptake *= 1.5;
    finish.seal = &seal;
    now.finish = &finish;
    const struct recipe *past = built(&arena, &c, 1, 1.5, 6);
    bool plugs[6] = {[5] = true};
    const struct weighing_repeats repeats = {.plugs = plugs, .plug_count = 6};
    const struct lesson_source sources[] = {
        {.recipe = &now, .results = &c.results},
        {.recipe = past, .results = &c.results, .date = "2026-01-02", .repeats = &repeats}};
    struct lesson l = lesson_of(&arena, sources, 2, 1);
    const struct lesson_figure *sealer = find(&l, LESSON_SEALER);
    assert_int_equal(l.mass_trial.plugs, 5); /* one counts elsewhere */
    assert_int_equal(l.masses.sources[0].source, 1);
    assert_true(fabs(sealer->stands - seal.uptake) < 1e-12);
    assert_true(fabs(sealer->mean) < 0.05 && sealer->prior_share < 0.5);
    assert_int_equal(l.next.recipe, 0);
    /* beside each other, both are what their own recipe says */
    l = learned(&arena, (const struct recipe *[]){&now, past},
                (const struct results *[]){&c.results, &c.results}, 2);
    assert_true(find(&l, LESSON_SEALER)->mean > 0.2);
    arena_free(&arena);
}

/* Boards whose density was weighed are two, although the recipe has one name. */
static void each_weighed_board_is_a_wood(void **state) {
    struct arena arena = {0};
    struct compilation c = sanderling(&arena);
    struct recipe recipes[2] = {*c.recipe, *c.recipe};
    struct wood woods[2] = {*c.recipe->wood, *c.recipe->wood};
    int boards = 0;
    (void)state;
    for (int i = 0; i < 2; i++) {
        woods[i].density = (struct opt){.given = true, .value = 380.0 + 40.0 * i};
        recipes[i].wood = &woods[i];
    }
    const struct lesson_source sources[] = {
        {.recipe = &recipes[0], .results = &c.results},
        {.recipe = &recipes[1], .results = &c.results, .date = "2026-01-02"}};
    struct lesson l = lesson_of(&arena, sources, 2, 1);
    for (int i = 0; i < l.masses.task.count; i++) boards += l.masses.figures[i].lone;
    assert_int_equal(boards, 2);
    arena_free(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(wood_and_sealer_are_told_apart),
        cmocka_unit_test(a_builder_like_the_tables_learns_no_other_figures),
        cmocka_unit_test(nothing_measured_leaves_all_as_it_stands),
        cmocka_unit_test(every_plug_has_its_own_loads),
        cmocka_unit_test(plugs_say_what_they_weigh_of_a_figure),
        cmocka_unit_test(older_plugs_are_of_the_figures_as_they_stand),
        cmocka_unit_test(each_weighed_board_is_a_wood),
        cmocka_unit_test(minutes_have_their_ratio),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
