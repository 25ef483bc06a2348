/* How a plug runs: the section of the language, bands, verdicts, changes, and one measured depth.
 */
#include "recipe_text.h"

#include "compute/running/running.h"
#include "compute/running/tweak.h"

static const char bores[] =
    "ballast:\n  bores:\n    - {at: 40 mm, drill: 8 mm, load: [{mass: 8 g}]}\n"
    "    - {at: 80 mm, drill: 8 mm, load: [{mass: 3 g}]}\n";
static const char lip[] = "lip: {thickness: 1.5 mm, length: 28 mm, width: 20 mm, shape: round, "
                          "at: 10 mm, angle: 36 deg, slot: 8 mm}\n";
static const char line[] = "running: {diameter: 0.30 mm}\n";

#define RUNNER .ballast = bores, .lip = lip, .running = line

static const struct running_result *run(struct bench *bench, struct recipe_parts parts) {
    struct compilation *c = NEW(&bench->arena, struct compilation, 1);
    *c = bench_compile(bench, parts);
    if (compilation_failed(c)) print_error("%s", bench_said(bench));
    assert_false(compilation_failed(c));
    return &c->results.running;
}

/* --- the language ---------------------------------------------------------------------------- */

static void a_diameter_is_enough_and_the_rest_is_common_practice(void **state) {
    const struct recipe *recipe = bench_good(*state, PARTS(RUNNER));
    const struct running *r = recipe->running;
    static const double speed[] = {0.8, 1.5, 2.5}, out[] = {10, 20, 30, 40, 60};
    assert_close(r->diameter, 0.30e-3, 1e-12);
    assert_close(r->density, 1140, 1e-12);
    assert_close(r->tip, 1, 1e-12);
    assert_int_equal(r->speed_count, 3);
    assert_int_equal(r->out_count, 5);
    for (int i = 0; i < 3; i++) assert_close(r->speed[i], speed[i], 1e-12);
    for (int i = 0; i < 5; i++) assert_close(r->out[i], out[i], 1e-12);
}

static void one_speed_or_a_list_of_them_in_any_unit(void **state) {
    const struct recipe *recipe = bench_good(
        *state,
        PARTS(.running = "running: {diameter: 0.012 in, speed: 3 kn, out: [30 ft, 30 m]}\n"));
    assert_int_equal(recipe->running->speed_count, 1);
    assert_close(recipe->running->speed[0], 3 * 1852.0 / 3600, 1e-12);
    assert_close(recipe->running->out[0], 9.144, 1e-12);
    assert_close(recipe->running->diameter, 0.3048e-3, 1e-12);
    recipe = bench_good(
        *state, PARTS(.running = "running: {diameter: 0.3 mm, speed: [5.4 km/h, 3 mph]}\n"));
    assert_close(recipe->running->speed[0], 1.5, 1e-12);
    assert_close(recipe->running->speed[1], 1.34112, 1e-12);
}

static void what_is_wrong_is_said_at_its_own_place(void **state) {
    struct bench *bench = *state;
    bench_recipe(bench, PARTS(.running = "running: {speed: 1 m/s}\n"));
    bench_expect(bench, "running:", "error missing-key: the running lacks its key 'diameter'");
    bench_recipe(bench, PARTS(.running = "running: {diameter: 0.3 mm, speed: [1 m/s, 5 m/s]}\n"));
    bench_expect(bench, "5 m/s", "error range: speed 5 m/s is outside 0.3 m/s to 4 m/s");
    bench_recipe(bench, PARTS(.running = "running: {diameter: 0.3 mm, speed: 2 m}\n"));
    assert_int_equal(bench_count(bench, "value"), 1);
    bench_recipe(bench, PARTS(.running = "running: {diameter: 3 mm}\n"));
    bench_expect(bench, "3 mm", "error range: diameter 3 mm is outside 0.08 mm to 1.5 mm");
    bench_recipe(bench, PARTS(.running = "running: {diameter: 0.3 mm, out: [20 m, 20 m]}\n"));
    bench_expect(bench, "[20 m",
                 "error running: lengths of line are listed from the shortest to the longest");
    bench_recipe(bench, PARTS(.running = "running: {diameter: 0.3 mm, out: []}\n"));
    bench_expect(bench, "[]}", "error range: 'out' has 0 items; 1 to 12 are allowed");
    bench_recipe(bench, PARTS(.running = "running: {diameter: 0.3 mm, out: {a: 2 m}}\n"));
    assert_int_equal(bench_count(bench, "node-kind"), 1);
    bench_recipe(bench,
                 PARTS(.measured = "measured: {running: {speed: 1 m/s, out: 30 m, depth: 2 m}}\n"));
    bench_expect(bench, "2 m}",
                 "error running: a depth was measured, but nothing says on which line");
    bench_recipe(
        bench, PARTS(.running = line,
                     .measured = "measured: {running: {speed: 1 m/s, out: 30 m, depth: 31 m}}\n"));
    bench_expect(bench, "31 m", "error running: a plug runs less deep than its line is long");
}

static void without_the_section_nothing_is_computed(void **state) {
    const struct running_result *r = run(*state, PARTS(SWIMMER, .ballast = bores, .lip = lip));
    assert_false(r->given);
}

/* --- bands ----------------------------------------------------------------------------------- */

static void check_band(const struct estimate *estimate) {
    assert_true(estimate->band.given && estimate->points);
    assert_true(estimate->band.low <= estimate->band.median &&
                estimate->band.median <= estimate->band.high);
}

static void every_answer_is_a_band_and_depth_grows_with_the_line(void **state) {
    const struct running_result *r = run(*state, PARTS(SWIMMER, RUNNER));
    assert_true(r->given && r->kind == TOW_BY_LIP);
    assert_int_equal(r->speed_count, 3);
    assert_int_equal(r->middle_speed, 1);
    assert_int_equal(r->middle_out, 2);
    for (int i = 0; i < r->speed_count; i++) {
        const struct running_speed *s = &r->speeds[i];
        double last = -1;
        assert_true(s->steady && s->runs == VERDICT_YES);
        check_band(&s->trim);
        check_band(&s->pull);
        check_band(&s->angle);
        check_band(&s->tie_aside);
        for (int k = 0; k < r->out_count; k++) {
            check_band(&s->depth[k]);
            assert_true(s->depth[k].band.median > last);
            last = s->depth[k].band.median;
        }
        assert_close(s->beat, 0.13 * s->speed / 0.020, 1e-12);
        assert_close(s->beat_doubt, 0.25 * s->beat, 1e-12);
        if (i) assert_true(s->pull.band.median > s[-1].pull.band.median);
    }
    check_band(&r->dives_from);
    check_band(&r->hold_speed);
}

/* Each point by itself, from the parts below. */
static void a_bands_values_are_those_of_its_points(void **state) {
    const struct running_result *r = run(*state, PARTS(SWIMMER, RUNNER));
    const struct running_speed *s = &r->speeds[2];
    static const double out[] = {10, 20, 30, 40, 60};
    for (int n = 1; n <= SPREAD_POINTS; n += 7) {
        struct coefficients k = spread_point(n);
        struct stream stream = stream_of(&r->rig.tow, &k);
        struct pull pull = pull_at(&stream, 2.5);
        struct hold hold = hold_at(&stream, &pull);
        double depth[5];
        rig_depths(&r->rig, &k, &pull, LINE_STEPS, out, 5, depth);
        assert_true(s->trim.points->value[n - 1] == pull.trim);
        assert_true(s->pull.points->value[n - 1] == pull.tension);
        assert_true(s->tie_aside.points->value[n - 1] == hold.tie_aside);
        for (int i = 0; i < 5; i++) assert_true(s->depth[i].points->value[n - 1] == depth[i]);
        assert_true(r->dives_from.points->value[n - 1] == pull_dives_from(&stream));
        assert_true(r->hold_speed.points->value[n - 1] == hold_speed(&stream));
    }
}

static void slow_it_stays_at_the_surface(void **state) {
    const struct running_result *r =
        run(*state, PARTS(SWIMMER, .ballast = bores, .lip = lip,
                          .running = "running: {diameter: 0.3 mm, speed: 0.3 m/s}\n"));
    assert_int_equal(r->speeds[0].runs, VERDICT_NO);
    assert_true(r->speeds[0].depth[4].band.high == 0);
    assert_true(r->dives_from.band.low > 0.3);
    assert_string_equal(name_runs[r->speeds[0].runs], "surface");
}

static void without_a_lip_one_that_floats_has_no_answers(void **state) {
    const struct running_result *r = run(*state, PARTS(SWIMMER, .ballast = bores, .running = line));
    assert_true(r->given && r->kind == TOW_ON_TOP);
    assert_false(r->dives_from.band.given || r->speeds[0].depth[0].band.given);
}

/* Depth and pull, but no trim and no hold; it is deeper the slower it goes. */
static void without_a_lip_a_sinker_runs_by_its_weight(void **state) {
    const struct running_result *r =
        run(*state,
            PARTS(SWIMMER, .running = line,
                  .ballast =
                      "ballast:\n  bores:\n    - {at: 40 mm, drill: 10 mm, load: [{mass: 14 g}]}\n"
                      "    - {at: 80 mm, drill: 10 mm, load: [{mass: 12 g}]}\n"));
    assert_true(r->kind == TOW_BY_WEIGHT);
    for (int i = 0; i < 3; i++) {
        const struct running_speed *s = &r->speeds[i];
        assert_true(s->runs == VERDICT_YES && s->depth[2].band.given && s->pull.band.given);
        assert_false(s->trim.band.given || s->tie_aside.band.given);
        if (i) assert_true(s->depth[2].band.median < s[-1].depth[2].band.median);
    }
    assert_false(r->hold_speed.band.given);
    assert_false(r->tweaks[TWEAK_LIP_LONGER].possible);
    assert_true(r->tweaks[TWEAK_MORE_BALLAST].possible);
    assert_true(r->tweaks[TWEAK_MORE_BALLAST].depth.low > 0);
}

/* Pulled by the belly far aft it has no attitude to hold. */
static void one_that_turns_over_has_no_steady_attitude(void **state) {
    const struct running_result *r =
        run(*state, PARTS(.body = swimmer_body, RUNNER,
                          .hardware = "hardware:\n  wire: {diameter: 1.2 mm}\n"
                                      "  line tie: {place: back, at: 130 mm, depth: 4 mm}\n"));
    int unsteady = 0;
    for (int i = 0; i < 3; i++) {
        const struct running_speed *s = &r->speeds[i];
        if (s->steady) continue;
        unsteady++;
        assert_false(s->trim.band.given || s->depth[0].band.given || s->tie_aside.band.given);
    }
    assert_true(unsteady > 0);
}

static void a_lip_that_stands_dry_at_rest_is_a_warning(void **state) {
    struct bench *bench = *state;
    bench_compile(bench, PARTS(SWIMMER, .running = line,
                               .ballast = "ballast:\n  bores:\n"
                                          "    - {at: 110 mm, drill: 8 mm, load: [{mass: 6 g}]}\n",
                               .lip = "lip: {thickness: 1 mm, length: 16 mm, width: 12 mm, shape: "
                                      "square, at: 4 mm, angle: 5 deg, slot: 6 mm}\n"));
    assert_int_equal(bench_count(bench, "running"), 1);
    bench_compile(bench, PARTS(SWIMMER, RUNNER));
    assert_int_equal(bench_count(bench, "running"), 0);
}

/* --- changes --------------------------------------------------------------------------------- */

/* Against the recipe written anew with its loads as pieces. */
static void a_change_is_the_difference_to_the_recipe_with_it(void **state) {
    static const struct {
        enum tweak tweak;
        const char *lip, *running, *ballast;
    } cases[] = {
        {TWEAK_LIP_STEEPER,
         "lip: {thickness: 1.5 mm, length: 28 mm, width: 20 mm, shape: round, at: 10 mm, "
         "angle: 41 deg, slot: 8 mm}\n",
         line, bores},
        {TWEAK_LIP_LONGER,
         "lip: {thickness: 1.5 mm, length: 30.8 mm, width: 20 mm, shape: round, at: 10 mm, "
         "angle: 36 deg, slot: 8 mm}\n",
         line, bores},
        {TWEAK_LIP_WIDER,
         "lip: {thickness: 1.5 mm, length: 28 mm, width: 22 mm, shape: round, at: 10 mm, "
         "angle: 36 deg, slot: 8 mm}\n",
         line, bores},
        {TWEAK_LINE_THINNER, lip, "running: {diameter: 0.24 mm}\n", bores},
        {TWEAK_MORE_BALLAST, lip, line,
         "ballast:\n  bores:\n    - {at: 40 mm, drill: 8 mm, load: [{mass: 9 g}]}\n"
         "    - {at: 80 mm, drill: 8 mm, load: [{mass: 3 g}]}\n"},
    };
    struct bench *bench = *state;
    const struct running_result *before = run(bench, PARTS(SWIMMER, RUNNER));
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        const struct running_tweak *told = &before->tweaks[cases[i].tweak];
        const struct running_result *after =
            run(bench, PARTS(SWIMMER, .lip = cases[i].lip, .running = cases[i].running,
                             .ballast = cases[i].ballast));
        struct band depth = running_change(&before->speeds[1].depth[2], &after->speeds[1].depth[2]);
        struct band trim = running_change(&before->speeds[1].trim, &after->speeds[1].trim);
        assert_true(told->possible);
        assert_near(told->depth.median, depth.median, 1e-5);
        assert_near(told->depth.low, depth.low, 1e-5);
        assert_near(told->depth.high, depth.high, 1e-5);
        assert_near(told->trim.median, trim.median, 1e-9);
    }
    assert_true(before->tweaks[TWEAK_LIP_STEEPER].depth.high < 0);
    assert_true(before->tweaks[TWEAK_LINE_THINNER].depth.low > 0);
    assert_true(before->tweaks[TWEAK_TIE_UP].trim.low > 0);
}

static void a_change_that_cannot_be_made_is_not_told(void **state) {
    const struct running_result *r =
        run(*state, PARTS(SWIMMER, .running = line,
                          .lip = "lip: {thickness: 1.5 mm, length: 22 mm, width: 27 mm, shape: "
                                 "round, at: 10 mm, angle: 88 deg, slot: 8 mm}\n"));
    assert_false(r->tweaks[TWEAK_LIP_STEEPER].possible); /* past 90 degrees */
    assert_false(r->tweaks[TWEAK_LIP_WIDER].possible);   /* no longer round */
    assert_false(r->tweaks[TWEAK_MORE_BALLAST].possible);
    assert_true(r->tweaks[TWEAK_LIP_LONGER].possible);
}

static void the_same_plug_twice_has_no_change(void **state) {
    const struct running_result *a = run(*state, PARTS(SWIMMER, RUNNER));
    const struct running_result *b = run(*state, PARTS(SWIMMER, RUNNER));
    struct band change = running_change(&a->speeds[1].depth[2], &b->speeds[1].depth[2]);
    assert_true(change.given && change.low == 0 && change.median == 0 && change.high == 0);
    assert_true(band_unclear(&change));
}

/* --- a reading ------------------------------------------------------------------------------- */

static const struct running_result *measure(struct bench *bench, const char *reading) {
    return run(bench, PARTS(SWIMMER, RUNNER, .measured = reading));
}

static double width(const struct estimate *estimate) {
    return (estimate->band.high - estimate->band.low) / estimate->band.median;
}

static void one_measured_depth_closes_the_band(void **state) {
    const struct running_result *before = run(*state, PARTS(SWIMMER, RUNNER));
    double median = before->speeds[1].depth[2].band.median;
    assert_true(median > 1.5 && median < 4.5);
    const struct running_result *after =
        measure(*state, "measured: {running: {speed: 1.5 m/s, out: 30 m, depth: 3 m}}\n");
    assert_true(after->sounding.given && after->sounding.left > 50);
    assert_close(after->sounding.predicted.median, median, 1e-4);
    const struct running_speed *s = &after->speeds[1];
    assert_near(s->depth[2].band.low, 3, 1e-4);
    assert_near(s->depth[2].band.high, 3, 1e-4);
    assert_true(width(&s->depth[1]) < 0.12 && width(&s->depth[3]) < 0.12);
    assert_true(width(&after->speeds[2].depth[2]) < 0.5 * width(&before->speeds[2].depth[2]));
}

static void what_it_predicts_itself_moves_the_median_least(void **state) {
    const struct running_result *before = run(*state, PARTS(SWIMMER, RUNNER));
    double median = before->speeds[1].depth[2].band.median;
    struct bench *bench = *state;
    const struct running_result *after = measure(
        bench,
        arena_printf(&bench->arena,
                     "measured: {running: {speed: 1.5 m/s, out: 30 m, depth: %.9f m}}\n", median));
    assert_close(after->speeds[1].depth[4].band.median, before->speeds[1].depth[4].band.median,
                 0.05);
}

static void a_reading_out_of_reach_is_a_warning_and_changes_nothing(void **state) {
    struct bench *bench = *state;
    const struct running_result *before = run(bench, PARTS(SWIMMER, RUNNER));
    const struct running_result *after =
        measure(bench, "measured: {running: {speed: 1.5 m/s, out: 30 m, depth: 25 m}}\n");
    assert_int_equal(bench_count(bench, "running"), 1);
    assert_int_equal(after->sounding.left, 0);
    assert_true(after->speeds[1].depth[2].band.median == before->speeds[1].depth[2].band.median);
}

/* The middle of a square plate is half-way out; at an attitude t a point's height over the water is
 * x sin t + z cos t. */
static void a_lip_is_dry_where_its_middle_is_out_of_the_water(void **state) {
    struct bench *bench = *state;
    static const double attitude[] = {-0.5, 0, 0.2, 1.2};
    const struct recipe *recipe = bench_good(
        bench, PARTS(.lip = "lip: {thickness: 1.5 mm, length: 28 mm, width: 20 mm, shape: square, "
                            "at: 10 mm, angle: 36 deg, slot: 8 mm}\n"));
    struct plug plug = plug_of(&bench->arena, recipe);
    double turn = 36 * one_degree, half = plug.plate.extent / 2, hair = 1e-6;
    assert_near(plug.plate.extent, 0.020, 1e-12); /* 28 mm, 8 of them in the slot */
    double x = plug.plate.mouth_x - half * cos(turn), z = plug.plate.mouth_z - half * sin(turn);
    for (size_t i = 0; i < sizeof attitude / sizeof *attitude; i++) {
        struct rest rest = {.afloat = true, .found = true, .attitude = attitude[i]};
        double height = x * sin(attitude[i]) + z * cos(attitude[i]);
        rest.level = height - hair;
        assert_true(running_lip_dry(&plug, &rest));
        rest.level = height + hair;
        assert_false(running_lip_dry(&plug, &rest));
        rest.level = height - hair, rest.afloat = false;
        assert_false(running_lip_dry(&plug, &rest));
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(a_diameter_is_enough_and_the_rest_is_common_practice),
        BENCH_TEST(one_speed_or_a_list_of_them_in_any_unit),
        BENCH_TEST(what_is_wrong_is_said_at_its_own_place),
        BENCH_TEST(without_the_section_nothing_is_computed),
        BENCH_TEST(every_answer_is_a_band_and_depth_grows_with_the_line),
        BENCH_TEST(a_bands_values_are_those_of_its_points),
        BENCH_TEST(slow_it_stays_at_the_surface),
        BENCH_TEST(without_a_lip_one_that_floats_has_no_answers),
        BENCH_TEST(without_a_lip_a_sinker_runs_by_its_weight),
        BENCH_TEST(one_that_turns_over_has_no_steady_attitude),
        BENCH_TEST(a_lip_that_stands_dry_at_rest_is_a_warning),
        BENCH_TEST(a_change_is_the_difference_to_the_recipe_with_it),
        BENCH_TEST(a_change_that_cannot_be_made_is_not_told),
        BENCH_TEST(the_same_plug_twice_has_no_change),
        BENCH_TEST(one_measured_depth_closes_the_band),
        BENCH_TEST(what_it_predicts_itself_moves_the_median_least),
        BENCH_TEST(a_reading_out_of_reach_is_a_warning_and_changes_nothing),
        BENCH_TEST(a_lip_is_dry_where_its_middle_is_out_of_the_water),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
