/* Loads to an aim: by hand, by properties that must hold, and from random plugs. */
#include "answer.h"

/* --- one aim --------------------------------------------------------------------------------- */

/* A load m adds m, its cover of filler, and takes the wood of slug and cover away: with the
 * densities f, w and b of filler, wood and ballast and the bore's area A
 *     wanted = empty + m (1 - w/b) + A cover (f - w). */
static void one_bore_meets_the_reserve_as_worked_by_hand(void **state) {
    struct bench *b = *state;
    struct answer a = answer_to(b, PARTS(.ballast = "ballast: {aim: {reserve: 20 %}, bores: [{at: "
                                                    "50 mm, drill: 8 mm, load: solve}]}\n"));
    double nose = disc(0.002) * 0.020, volume = 0.100 * 0.020 * 0.020;
    double twist = 2 * sqrt(1 + (circle / 6) * (circle / 6)) * 0.020;
    double empty = box_wood * (volume - nose) + 7900 * disc(0.001) * (twist + circle * 0.004);
    double wanted = 0.8 * a.plug.water * volume;
    double load =
        (wanted - empty - disc(0.008) * 0.002 * (bore_filler - box_wood)) / (1 - box_wood / lead);
    assert_int_equal(a.result.solution.status, SOLVE_FOUND);
    assert_near(a.result.fills[0].load, load, mg);
    assert_near(a.result.solution.outcome.reserve, 0.20, 1e-9);
    assert_close(a.result.fills[0].depth, load / (lead * disc(0.008)) + 0.002, 1e-6);
}

static void a_plug_may_be_asked_to_sink(void **state) {
    struct answer a =
        swimmer(*state, "ballast: {aim: {reserve: -6 %}, bores: [{at: 60 mm, drill: 10 mm, "
                        "load: solve}]}\n");
    assert_int_equal(a.result.solution.status, SOLVE_FOUND);
    assert_near(a.result.solution.outcome.reserve, -0.06, 1e-9);
    assert_false(a.result.solution.outcome.afloat);
}

static void one_bore_meets_an_attitude_that_alone_is_aimed_at(void **state) {
    for (int degrees = -4; degrees <= 8; degrees += 4) {
        struct bench *b = *state;
        struct answer a =
            swimmer(b, arena_printf(&b->arena,
                                    "ballast: {aim: {attitude: %d deg}, bores: [{at: %s, "
                                    "drill: 9 mm, load: solve}]}\n",
                                    degrees, degrees < 0 ? "70 mm" : "25 mm"));
        assert_int_equal(a.result.solution.status, SOLVE_FOUND);
        assert_near(a.result.solution.outcome.attitude, degrees * one_degree, 1e-6);
    }
}

static void a_bore_for_both_aims_meets_the_reserve_and_notes_the_attitude(void **state) {
    struct answer a =
        swimmer(*state, "ballast: {aim: {reserve: 12 %, attitude: 40 deg}, bores: [{at: "
                        "60 mm, drill: 10 mm, load: solve}]}\n");
    assert_int_equal(a.result.solution.status, SOLVE_FOUND);
    assert_true(a.result.solution.attitude_noted);
    assert_near(a.result.solution.outcome.reserve, 0.12, 1e-9);
    struct answer alone = swimmer(*state, "ballast: {aim: {reserve: 12 %}, bores: [{at: 60 mm, "
                                          "drill: 10 mm, load: solve}]}\n");
    assert_near(alone.result.fills[0].load, a.result.fills[0].load, 1e-12);
    assert_false(alone.result.solution.attitude_noted);
}

/* --- two aims -------------------------------------------------------------------------------- */

static void two_bores_meet_both_aims(void **state) {
    for (int degrees = -3; degrees <= 9; degrees += 3) {
        struct bench *b = *state;
        struct answer a =
            swimmer(b, arena_printf(&b->arena,
                                    "ballast: {aim: {reserve: 10 %%, attitude: %d deg}, "
                                    "bores: [{at: 25 mm, drill: 9 mm, load: solve}, "
                                    "{at: 100 mm, drill: 9 mm, load: solve}]}\n",
                                    degrees));
        assert_int_equal(a.result.solution.status, SOLVE_FOUND);
        assert_int_equal(a.result.solution.solved_count, 2);
        assert_near(a.result.solution.outcome.reserve, 0.10, 1e-8);
        assert_near(a.result.solution.outcome.attitude, degrees * one_degree, 1e-6);
        assert_true(a.result.fills[0].load >= 0 && a.result.fills[1].load >= 0);
    }
}

/* The loads written back as they were found: to 0.001 g, the aim is met. */
static void a_solved_recipe_written_back_with_its_loads_meets_its_aim(void **state) {
    struct bench *b = *state;
    struct answer a =
        swimmer(b, "ballast: {aim: {reserve: 11 %, attitude: 4 deg}, bores: [" TWO_BORES "]}\n");
    const char *fixed =
        arena_printf(&b->arena,
                     "ballast: {bores: [{at: 45 mm, drill: 10 mm, load: [{mass: %.6f "
                     "g}]}, {at: 85 mm, drill: 8 mm, load: [{mass: %.6f g}]}]}\n",
                     a.result.fills[0].load * 1e3, a.result.fills[1].load * 1e3);
    struct outcome anew = outcome_of(b, PARTS(SWIMMER, .ballast = fixed), CONDITION_FINISHED);
    assert_near(anew.reserve, 0.11, 1e-7);
    assert_near(anew.attitude, 4 * one_degree, 1e-5);
}

/* A load that is small against its bore, alone or beside a large one: what a recipe with it has for
 * its attitude and its reserve is aimed at, and the same load is found. */
static void a_small_load_is_found_too(void **state) {
    static const double loads[][2] = {{0.1, 0}, {0.3, 0}, {0.1, 6}, {0.3, 8}, {6, 0.1}};
    struct bench *b = *state;
    for (size_t i = 0; i < sizeof loads / sizeof *loads; i++) {
        bool two = loads[i][1] > 0;
        const char *second =
            two ? arena_printf(&b->arena, ", {at: 85 mm, drill: 8 mm, load: [{mass: %g g}]}",
                               loads[i][1])
                : "";
        const char *given = arena_printf(&b->arena,
                                         "ballast: {bores: [{at: 35 mm, drill: 10 mm, load: "
                                         "[{mass: %g g}]}%s]}\n",
                                         loads[i][0], second);
        struct outcome due = outcome_of(b, PARTS(SWIMMER, .ballast = given), CONDITION_FINISHED);
        const char *reserve =
            two ? arena_printf(&b->arena, "reserve: %.9f %%, ", due.reserve * 100) : "";
        const char *other = two ? ", {at: 85 mm, drill: 8 mm, load: solve}" : "";
        struct answer a = swimmer(b, arena_printf(&b->arena,
                                                  "ballast: {aim: {%sattitude: %.9f deg}, bores: "
                                                  "[{at: 35 mm, drill: 10 mm, load: solve}%s]}\n",
                                                  reserve, due.attitude / one_degree, other));
        assert_int_equal(a.result.solution.status, SOLVE_FOUND);
        assert_near(a.result.fills[0].load, loads[i][0] * 1e-3, mg);
        assert_near(a.result.fills[1].load, loads[i][1] * 1e-3, mg);
    }
}

static void the_order_of_the_bores_does_not_matter(void **state) {
    struct answer one =
        swimmer(*state, "ballast: {aim: {reserve: 11 %, attitude: 4 deg}, bores: [\n"
                        "  {at: 45 mm, drill: 10 mm, load: solve},\n"
                        "  {at: 85 mm, drill: 8 mm, load: solve},\n"
                        "  {at: 105 mm, drill: 5 mm, load: [{mass: 0.5 g}]}]}\n");
    struct answer other =
        swimmer(*state, "ballast: {aim: {reserve: 11 %, attitude: 4 deg}, bores: [\n"
                        "  {at: 105 mm, drill: 5 mm, load: [{mass: 0.5 g}]},\n"
                        "  {at: 85 mm, drill: 8 mm, load: solve},\n"
                        "  {at: 45 mm, drill: 10 mm, load: solve}]}\n");
    assert_int_equal(one.result.solution.status, SOLVE_FOUND);
    assert_near(one.result.fills[0].load, other.result.fills[2].load, mg);
    assert_near(one.result.fills[1].load, other.result.fills[1].load, mg);
    assert_near(one.result.fills[2].load, 0.0005, 1e-12);
}

static void a_depth_that_is_given_stays_and_filler_takes_the_rest(void **state) {
    struct answer a = swimmer(*state, "ballast: {aim: {reserve: 12 %}, bores: [{at: 55 mm, "
                                      "drill: 10 mm, depth: 15 mm, load: solve}]}\n");
    const struct bore_fill *fill = &a.result.fills[0];
    assert_int_equal(a.result.solution.status, SOLVE_FOUND);
    assert_near(fill->depth, 0.015, 1e-12);
    assert_close(fill->filler, bore_filler * disc(0.010) * (0.015 - fill->slug), 1e-9);
    assert_near(a.result.solution.outcome.reserve, 0.12, 1e-9);
}

/* A gram would not even fit into it. */
static void a_narrow_bore_of_given_depth_meets_the_reserve_too(void **state) {
    struct bench *b = *state;
    const char *given =
        "ballast: {bores: [{at: 45 mm, drill: 2 mm, depth: 15 mm, load: [{mass: 0.3 "
        "g}]}]}\n";
    struct outcome got = outcome_of(b, PARTS(SWIMMER, .ballast = given), CONDITION_FINISHED);
    struct answer a =
        swimmer(b, arena_printf(&b->arena,
                                "ballast: {aim: {reserve: %.10f %%}, bores: [{at: 45 mm, drill: 2 "
                                "mm, depth: 15 mm, load: solve}]}\n",
                                got.reserve * 100));
    assert_int_equal(a.result.solution.status, SOLVE_FOUND);
    assert_near(a.result.fills[0].load, 0.0003, mg);
    assert_near(a.result.solution.outcome.reserve, got.reserve, 1e-8);
}

/* --- as good as met -------------------------------------------------------------------------- */

/* With its bore empty the plug has the most reserve that it can have.  A balance tells 0.1 g. */
static void a_reserve_that_a_balance_cannot_tell_from_the_most_is_met(void **state) {
    struct bench *b = *state;
    const char *none = "ballast: {bores: [{at: 55 mm, drill: 10 mm, depth: 12 mm, load: []}]}\n";
    struct outcome most = outcome_of(b, PARTS(SWIMMER, .ballast = none), CONDITION_FINISHED);
    struct answer a = swimmer(b, none);
    long evaluations = 0;
    struct weighing w = weighing_of(&b->arena, &a.plug, &evaluations);
    double gram = 1e-3 / weighing_capacity(&w, CONDITION_FINISHED);
    for (int i = 0; i < 2; i++) {
        double beyond = i ? 0.12 : 0.08;
        a = swimmer(b, arena_printf(&b->arena,
                                    "ballast: {aim: {reserve: %.8f %%}, bores: [{at: 55 mm, drill: "
                                    "10 mm, depth: 12 mm, load: solve}]}\n",
                                    (most.reserve + beyond * gram) * 100));
        assert_int_equal(a.result.solution.status, i ? SOLVE_UNREACHABLE : SOLVE_FOUND);
        assert_near(a.result.fills[0].load, 0, 0);
        assert_near(a.result.solution.outcome.reserve, most.reserve, 1e-9);
    }
}

/* All of the load in one bore lays the plug as steep as two bores can.  A rule read to 0.5 mm at
 * both ends of 140 mm tells 0.41 degrees. */
static void an_attitude_that_a_rule_cannot_tell_from_the_steepest_is_met(void **state) {
    struct bench *b = *state;
    struct answer a = swimmer(b, "ballast: {aim: {reserve: 10 %}, bores: [{at: 45 mm, drill: 10 "
                                 "mm, depth: 18 mm, load: solve}, {at: 85 mm, drill: 8 mm, depth: "
                                 "12 mm, load: []}]}\n");
    double steepest = a.result.solution.outcome.attitude / one_degree;
    for (int i = 0; i < 2; i++) {
        a = swimmer(b, arena_printf(&b->arena,
                                    "ballast: {aim: {reserve: 10 %%, attitude: %.6f deg}, bores: "
                                    "[{at: 45 mm, drill: 10 mm, depth: 18 mm, load: solve}, {at: "
                                    "85 mm, drill: 8 mm, depth: 12 mm, load: solve}]}\n",
                                    steepest + (i ? 0.45 : 0.36)));
        assert_int_equal(a.result.solution.status, i ? SOLVE_UNREACHABLE : SOLVE_FOUND);
        assert_near(a.result.fills[1].load, 0, 1e-9);
        assert_near(a.result.solution.outcome.attitude, steepest * one_degree, 1e-6);
    }
}

static void nothing_to_solve_leaves_the_loads_as_they_are_written(void **state) {
    struct answer a = swimmer(*state, "ballast: {aim: {reserve: 12 %}, bores: [{at: 55 mm, "
                                      "drill: 10 mm, load: [{mass: 3 g}]}]}\n");
    assert_int_equal(a.result.solution.status, SOLVE_NONE);
    assert_near(a.result.fills[0].load, 0.003, 1e-12);
    assert_near(a.result.solution.load[0], 0.003, 1e-12);
}

/* --- properties ------------------------------------------------------------------------------ */

/* The minimal standard generator (Park and Miller 1988). */
static double random_between(unsigned *seed, double low, double high) {
    *seed = (unsigned)((uint64_t)*seed * 16807 % 2147483647);
    return low + (high - low) * *seed / 2147483647.0;
}

/* Whatever some loads give is found when it is aimed at, with no more metal. */
static void an_aim_that_some_loads_give_is_met_with_no_more_metal(void **state) {
    struct bench *b = *state;
    unsigned seed = 20261125;
    int tried = 0;
    for (int round = 0; round < 60; round++) {
        double at1 = random_between(&seed, 20, 60), at2 = random_between(&seed, 75, 115);
        double one = random_between(&seed, 0, 12), two = random_between(&seed, 0, 6);
        const char *fixed =
            arena_printf(&b->arena,
                         "ballast: {bores: [{at: %.3f mm, drill: 9 mm, load: [{mass: "
                         "%.3f g}]}, {at: %.3f mm, drill: 7 mm, load: [{mass: %.3f "
                         "g}]}]}\n",
                         at1, one, at2, two);
        struct outcome got = outcome_of(b, PARTS(SWIMMER, .ballast = fixed), CONDITION_FINISHED);
        if (!got.found || fabs(got.attitude) > 60 * one_degree) continue;
        struct answer a = swimmer(
            b, arena_printf(&b->arena,
                            "ballast: {aim: {reserve: %.10f %%, attitude: %.10f deg}, bores: [{at: "
                            "%.3f mm, drill: 9 mm, load: solve}, {at: %.3f mm, drill: 7 mm, load: "
                            "solve}]}\n",
                            got.reserve * 100, got.attitude / one_degree, at1, at2));
        tried++;
        assert_int_equal(a.result.solution.status, SOLVE_FOUND);
        assert_near(a.result.solution.outcome.reserve, got.reserve, 1e-8);
        assert_near(a.result.solution.outcome.attitude, got.attitude, 1e-5);
        double total = a.result.fills[0].load + a.result.fills[1].load;
        assert_true(total <= (one + two) * 1e-3 + 1e-6);
    }
    assert_true(tried > 40);
}

/* No lighter load meets the attitude: below it the attitude stays on one side of the aim. */
static void the_least_load_is_taken_where_several_would_do(void **state) {
    struct bench *b = *state;
    for (int degrees = -6; degrees <= 6; degrees += 2) {
        struct answer a =
            swimmer(b, arena_printf(&b->arena,
                                    "ballast: {aim: {attitude: %d deg}, bores: [{at: %d mm, "
                                    "drill: 9 mm, load: solve}]}\n",
                                    degrees, degrees < 0 ? 75 : 28));
        assert_int_equal(a.result.solution.status, SOLVE_FOUND);
        double found = a.result.fills[0].load, side = 0;
        struct weighing w = weighing_of(&b->arena, &a.plug, &a.result.evaluations);
        for (int i = 0; i < 40; i++) {
            double load = found * 0.999 * i / 40;
            struct bore_fill fill = bore_filled(&a.plug, 0, load, bore_slug(&a.plug, 0, load));
            double off =
                weighing_outcome(&w, &fill, CONDITION_FINISHED).attitude - degrees * one_degree;
            if (i) assert_true(off * side > 0);
            side = off;
        }
    }
}

static void more_ballast_never_floats_higher(void **state) {
    struct bench *b = *state;
    double last[2] = {1, 1};
    for (int grams = 0; grams <= 20; grams += 2) {
        const char *ballast = arena_printf(&b->arena,
                                           "ballast: {bores: [{at: 55 mm, drill: 10 mm, load: "
                                           "[{mass: %d g}]}]}\n",
                                           grams);
        for (int kind = CONDITION_TEST; kind <= CONDITION_FINISHED; kind++) {
            struct outcome o =
                outcome_of(b, PARTS(SWIMMER, .ballast = ballast), (enum condition_kind)kind);
            assert_true(o.reserve < last[kind]);
            last[kind] = o.reserve;
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(one_bore_meets_the_reserve_as_worked_by_hand),
        BENCH_TEST(a_plug_may_be_asked_to_sink),
        BENCH_TEST(one_bore_meets_an_attitude_that_alone_is_aimed_at),
        BENCH_TEST(a_bore_for_both_aims_meets_the_reserve_and_notes_the_attitude),
        BENCH_TEST(two_bores_meet_both_aims),
        BENCH_TEST(a_solved_recipe_written_back_with_its_loads_meets_its_aim),
        BENCH_TEST(a_small_load_is_found_too),
        BENCH_TEST(the_order_of_the_bores_does_not_matter),
        BENCH_TEST(a_depth_that_is_given_stays_and_filler_takes_the_rest),
        BENCH_TEST(a_narrow_bore_of_given_depth_meets_the_reserve_too),
        BENCH_TEST(a_reserve_that_a_balance_cannot_tell_from_the_most_is_met),
        BENCH_TEST(an_attitude_that_a_rule_cannot_tell_from_the_steepest_is_met),
        BENCH_TEST(nothing_to_solve_leaves_the_loads_as_they_are_written),
        BENCH_TEST(an_aim_that_some_loads_give_is_met_with_no_more_metal),
        BENCH_TEST(the_least_load_is_taken_where_several_would_do),
        BENCH_TEST(more_ballast_never_floats_higher),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
