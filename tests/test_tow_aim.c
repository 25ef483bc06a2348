/* The lip that meets an aim: what the answer promises is computed again by the ordinary way, from a
 * recipe with the answer written into it.
 */
#include "recipe_text.h"

#include "compute/aim.h"
#include "model/reference.h"

static const char bores[] =
    "ballast:\n  bores:\n    - {at: 40 mm, drill: 8 mm, load: [{mass: 8 g}]}\n"
    "    - {at: 80 mm, drill: 8 mm, load: [{mass: 3 g}]}\n";
static const char solved_bores[] =
    "ballast:\n  aim: {reserve: 12 %, attitude: 3 deg}\n  bores:\n"
    "    - {at: 40 mm, drill: 10 mm, load: solve}\n    - {at: 80 mm, drill: 8 mm, load: solve}\n";
static const char by_length[] =
    "lip: {thickness: 1.5 mm, length: solve, width: 20 mm, shape: round, "
    "at: 10 mm, angle: 36 deg, slot: 8 mm}\n";
static const char by_angle[] =
    "lip: {thickness: 1.5 mm, length: 28 mm, width: 20 mm, shape: round, "
    "at: 10 mm, angle: solve, slot: 8 mm}\n";

/* At the speed and on the line of the recipe, which stand in the middle of their lists. */
static const char *running(struct bench *b, const char *depth) {
    return arena_printf(&b->arena,
                        "running: {diameter: 0.30 mm, speed: 1.5 m/s, out: 30 m%s%s%s}\n",
                        depth ? ", aim: {depth: " : "", depth ? depth : "",
                        depth ? ", out: 30 m, speed: 1.5 m/s}" : "");
}

static const struct compilation *compiled(struct bench *b, struct recipe_parts parts) {
    struct compilation *c = NEW(&b->arena, struct compilation, 1);
    *c = bench_compile(b, parts);
    if (compilation_failed(c)) print_error("%s", bench_said(b));
    assert_false(compilation_failed(c));
    return c;
}

static double depth_of(const struct compilation *c) {
    return c->results.running.speeds[0].depth[0].band.median;
}

static const struct compilation *with_lip(struct bench *b, const char *ballast, double length,
                                          double angle) {
    const char *lip =
        arena_printf(&b->arena,
                     "lip: {thickness: 1.5 mm, length: %.9g mm, width: 20 mm, shape: round, "
                     "at: 10 mm, angle: %.9g deg, slot: 8 mm}\n",
                     length * 1e3, angle / one_degree);
    return compiled(b, PARTS(SWIMMER, .ballast = ballast, .lip = lip, .running = running(b, NULL)));
}

static const struct compilation *aimed(struct bench *b, const char *ballast, const char *lip,
                                       const char *depth) {
    return compiled(b,
                    PARTS(SWIMMER, .ballast = ballast, .lip = lip, .running = running(b, depth)));
}

static double millimetre(void) {
    return reference_fact[FACT_AIM_DEPTH].value;
}

static void a_length_meets_the_depth_when_it_is_written(void **state) {
    struct bench *b = *state;
    const struct compilation *c = aimed(b, bores, by_length, "2.4 m");
    assert_close(depth_of(c), 2.4, millimetre() / 2.4);
    const struct lip *lip = c->recipe->lip;
    const struct compilation *written = with_lip(b, bores, lip->length, lip->angle);
    assert_close(depth_of(written), 2.4, millimetre() / 2.4);
    assert_close(written->results.finished.burden.mass, c->results.finished.burden.mass, 1e-9);
}

static void an_angle_meets_the_depth_when_it_is_written(void **state) {
    struct bench *b = *state;
    const struct compilation *c = aimed(b, bores, by_angle, "2.4 m");
    const struct lip *lip = c->recipe->lip;
    const struct compilation *written = with_lip(b, bores, lip->length, lip->angle);
    assert_close(depth_of(written), 2.4, millimetre() / 2.4);
    assert_close(lip->length, 28e-3, 1e-12);
}

static void ballast_is_solved_together_with_the_lip(void **state) {
    struct bench *b = *state;
    const struct compilation *c = aimed(b, solved_bores, by_length, "2.4 m");
    assert_close(c->results.finished.rest.reserve, 0.12, 1e-3);
    const struct compilation *written =
        with_lip(b, solved_bores, c->recipe->lip->length, c->recipe->lip->angle);
    for (int i = 0; i < 2; i++)
        assert_close(written->results.ballast.fills[i].load, c->results.ballast.fills[i].load,
                     1e-9);
    assert_close(depth_of(written), 2.4, millimetre() / 2.4);
}

/* Every length on a fine grid below the answer runs less deep, every angle above it too: there is
 * no shorter lip and no steeper one. */
static void the_answer_is_the_shortest_lip_and_the_steepest(void **state) {
    struct bench *b = *state;
    double length = aimed(b, bores, by_length, "2.4 m")->recipe->lip->length;
    for (double shorter = 18e-3; shorter < length - 0.2e-3; shorter += 0.7e-3)
        assert_true(depth_of(with_lip(b, bores, shorter, 36 * one_degree)) < 2.4);
    double angle = aimed(b, bores, by_angle, "2.4 m")->recipe->lip->angle;
    for (double steeper = 90; steeper > angle / one_degree + 0.2; steeper -= 3.7)
        assert_true(depth_of(with_lip(b, bores, 28e-3, steeper * one_degree)) < 2.4);
}

/* Beyond the hump a second, longer lip would run as deep: it is there, and not taken. */
static void of_two_lips_the_shorter_is_taken(void **state) {
    struct bench *b = *state;
    double length = aimed(b, bores, by_length, "2.6 m")->recipe->lip->length;
    bool deeper = false, again = false;
    for (double longer = length + 1e-3; longer < 108e-3; longer += 2e-3) {
        double depth = depth_of(with_lip(b, bores, longer, 36 * one_degree));
        deeper = deeper || depth > 2.6;
        again = again || (deeper && depth < 2.6);
    }
    assert_true(deeper);
    assert_true(again);
}

static void out_of_reach_tells_what_can_be_reached(void **state) {
    struct bench *b = *state;
    bench_compile(
        b, PARTS(SWIMMER, .ballast = bores, .lip = by_length, .running = running(b, "12 m")));
    assert_int_equal(bench_count(b, "running"), 1);
    const char *said = bench_said(b), *to = strstr(said, ") to ");
    assert_non_null(to);
    double deepest = strtod(to + strlen(") to "), NULL);
    assert_true(deepest > 2 && deepest < 6);
    /* a little less deep there is a lip, a little deeper there is none */
    aimed(b, bores, by_length, arena_printf(&b->arena, "%.2f m", deepest - 0.02));
    struct compilation c = bench_compile(
        b, PARTS(SWIMMER, .ballast = bores, .lip = by_length,
                 .running = running(b, arena_printf(&b->arena, "%.2f m", deepest + 0.02))));
    assert_true(compilation_failed(&c));
}

/* Near its top the hump passes the aim between two steps of the walk. */
static void a_hump_between_two_steps_is_found(void **state) {
    struct bench *b = *state;
    double deepest = 0, best = 0;
    for (double length = 30e-3; length < 70e-3; length += 0.1e-3) {
        double depth = depth_of(with_lip(b, bores, length, 36 * one_degree));
        if (depth > deepest) deepest = depth, best = length;
    }
    const struct compilation *c =
        aimed(b, bores, by_length, arena_printf(&b->arena, "%.6f m", deepest - 1e-4));
    assert_true(fabs(c->recipe->lip->length - best) < 3e-3);
    assert_true(fabs(depth_of(c) - deepest) < 2 * millimetre());
}

static void a_measured_depth_moves_no_lip(void **state) {
    struct bench *b = *state;
    double length = aimed(b, bores, by_length, "2.4 m")->recipe->lip->length;
    const struct compilation *c = compiled(
        b, PARTS(SWIMMER, .ballast = bores, .lip = by_length, .running = running(b, "2.4 m"),
                 .measured = "measured: {running: {speed: 1.5 m/s, out: 30 m, depth: 2 m}}\n"));
    assert_true(c->recipe->lip->length == length);
    assert_close(depth_of(c), 2, 1e-2);
}

static void a_check_computes_the_aim(void **state) {
    struct bench *b = *state;
    const struct compilation *c = aimed(b, bores, by_length, "2.4 m");
    bench_recipe(
        b, PARTS(SWIMMER, .ballast = bores, .lip = by_length, .running = running(b, "2.4 m")));
    assert_true(isnan(b->recipe->lip->length)); /* bound, not yet solved */
    assert_true(aim_meet(&b->arena, b->recipe, &b->diags));
    assert_true(b->recipe->lip->length == c->recipe->lip->length);
    const struct recipe *own = aim_own_lip(&b->arena, b->recipe);
    own->lip->length = 1;
    assert_true(b->recipe->lip->length == c->recipe->lip->length);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(a_length_meets_the_depth_when_it_is_written),
        BENCH_TEST(an_angle_meets_the_depth_when_it_is_written),
        BENCH_TEST(ballast_is_solved_together_with_the_lip),
        BENCH_TEST(the_answer_is_the_shortest_lip_and_the_steepest),
        BENCH_TEST(of_two_lips_the_shorter_is_taken),
        BENCH_TEST(out_of_reach_tells_what_can_be_reached),
        BENCH_TEST(a_hump_between_two_steps_is_found),
        BENCH_TEST(a_measured_depth_moves_no_lip),
        BENCH_TEST(a_check_computes_the_aim),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
