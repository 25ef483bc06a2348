/* What the order says of the ballast besides its loads: the spread of the wood, the card. */
#include "answer.h"

static void assert_outcome(const struct outcome *got, const struct outcome *want) {
    assert_near(got->reserve, want->reserve, 1e-9);
    assert_near(got->attitude, want->attitude, 1e-8);
    assert_int_equal(got->waterline_given, want->waterline_given);
    assert_near(got->waterline_nose, want->waterline_nose, 1e-9);
    assert_near(got->waterline_tail, want->waterline_tail, 1e-9);
}

/* --- the spread of the wood ------------------------------------------------------------------ */

static void the_spread_is_the_tables_or_that_of_weighed_stock_or_ones_own(void **state) {
    static const struct {
        const char *wood, *measured;
        double spread;
    } cases[] = {
        {"wood: {species: basswood}\n", NULL, 0.10},
        {"wood: {species: basswood, density: 400 kg/m3}\n", NULL, 0.01},
        {"wood: {species: basswood}\n", "measured: {blank: 22 g}\n", 0.01},
        {"wood: {species: basswood, spread: 4 %}\n", NULL, 0.04},
        {"wood: {species: basswood, spread: 4 %}\n", "measured: {blank: 22 g}\n", 0.04},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct answer a =
            answer_to(*state, PARTS(SWIMMER, .wood = cases[i].wood, .measured = cases[i].measured));
        assert_near(a.result.spread, cases[i].spread, 1e-12);
        assert_close(a.result.light.wood_density, a.plug.wood_density * (1 - cases[i].spread),
                     1e-12);
        assert_close(a.result.heavy.wood_density, a.plug.wood_density * (1 + cases[i].spread),
                     1e-12);
    }
}

/* Light and heavy wood: the loads solved anew, and the plug with its ballast as it was. */
static void the_spread_agrees_with_solving_and_weighing_at_the_other_density(void **state) {
    static const char *const wood[] = {"wood: {species: basswood, density: 360 kg/m3}\n",
                                       "wood: {species: basswood, density: 440 kg/m3}\n"};
    static const char ballast[] =
        "ballast: {aim: {reserve: 12 %, attitude: 3 deg}, bores: [" TWO_BORES "]}\n";
    struct bench *b = *state;
    struct answer middle = answer_to(
        b, PARTS(SWIMMER, .wood = "wood: {species: basswood, density: 400 kg/m3, spread: 10 %}\n",
                 .ballast = ballast));
    for (int heavy = 0; heavy < 2; heavy++) {
        const struct spread_case *s = heavy ? &middle.result.heavy : &middle.result.light;
        struct answer other = answer_to(b, PARTS(SWIMMER, .wood = wood[heavy], .ballast = ballast));
        assert_true(s->solvable);
        for (int i = 0; i < 2; i++) assert_near(s->load[i], other.result.fills[i].load, mg);
        const char *built = arena_printf(
            &b->arena,
            "ballast: {bores: [{at: 45 mm, drill: 10 mm, depth: %.9f mm, load: [{mass: %.9f g}]}, "
            "{at: 85 mm, drill: 8 mm, depth: %.9f mm, load: [{mass: %.9f g}]}]}\n",
            middle.result.fills[0].depth * 1e3, middle.result.fills[0].load * 1e3,
            middle.result.fills[1].depth * 1e3, middle.result.fills[1].load * 1e3);
        struct outcome o = outcome_of(b, PARTS(SWIMMER, .wood = wood[heavy], .ballast = built),
                                      CONDITION_FINISHED);
        assert_near(s->as_built.reserve, o.reserve, 1e-8);
        assert_near(s->as_built.attitude, o.attitude, 1e-6);
    }
}

static void wood_too_heavy_for_the_aim_has_no_loads_in_the_spread(void **state) {
    struct answer a = answer_to(
        *state,
        PARTS(SWIMMER, .wood = "wood: {species: basswood, density: 500 kg/m3, spread: 50 %}\n",
              .ballast = "ballast: {aim: {reserve: 15 %}, bores: [{at: 55 mm, drill: 10 mm, "
                         "load: solve}]}\n"));
    assert_int_equal(a.result.solution.status, SOLVE_FOUND);
    assert_true(a.result.light.solvable);
    assert_false(a.result.heavy.solvable);
}

/* --- the float-test card --------------------------------------------------------------------- */

#define CARD                                                                  \
    "ballast: {bores: [{at: 45 mm, drill: 10 mm, %sload: [{mass: %.9f g}]}, " \
    "{at: 85 mm, drill: 8 mm, %sload: [{mass: %.9f g}]}]%s}\n"

/* Every line of the card: the recipe changed by hand and weighed. */
static void assert_card(struct bench *b, const char *depth, const char *pieces) {
    struct answer a = swimmer(b, arena_printf(&b->arena, CARD, depth, 5.0, depth, 3.0, pieces));
    assert_true(a.result.trial_count >= 4);
    for (int i = 0; i < a.result.trial_count; i++) {
        const struct trial *t = &a.result.trials[i];
        double loads[2] = {5, 3};
        loads[t->bore] += t->change * 1e3;
        struct recipe_parts changed =
            PARTS(SWIMMER,
                  .ballast = arena_printf(&b->arena, CARD, depth, loads[0], depth, loads[1], ""));
        struct outcome test = outcome_of(b, changed, CONDITION_TEST);
        struct outcome finished = outcome_of(b, changed, CONDITION_FINISHED);
        assert_true(t->possible);
        assert_outcome(&t->test, &test);
        assert_outcome(&t->finished, &finished);
    }
}

static void the_card_is_what_the_changed_recipe_weighs(void **state) {
    assert_card(*state, "", "");
    assert_card(*state, "depth: 18 mm, ", "");
    assert_card(*state, "", ", pieces: [{mass: 0.5 g}, {mass: 1.5 g}]");
}

/* The finest step that moves the waterline by a millimetre, or the last that moves it by no more
 * than three: 1, 2 or 5 of a decimal place. */
static void a_step_of_the_card_can_be_seen_and_followed(void **state) {
    static const double figures[] = {0.1, 0.2, 0.5, 1, 2, 5, 10};
    struct bench *b = *state;
    struct answer a = swimmer(b, arena_printf(&b->arena, CARD, "", 5.0, "", 3.0, ""));
    struct recipe_parts plain =
        PARTS(SWIMMER, .ballast = arena_printf(&b->arena, CARD, "", 5.0, "", 3.0, ""));
    struct outcome test = outcome_of(b, plain, CONDITION_TEST);
    assert_int_equal(a.result.trial_count, 4);
    for (int bore = 0; bore < 2; bore++) {
        double due = 0;
        for (size_t i = 0; i < sizeof figures / sizeof *figures && due == 0; i++) {
            double loads[2] = {5, 3};
            loads[bore] += figures[i];
            struct outcome o =
                outcome_of(b,
                           PARTS(SWIMMER, .ballast = arena_printf(&b->arena, CARD, "", loads[0], "",
                                                                  loads[1], "")),
                           CONDITION_TEST);
            double rise = fmax(fabs(o.waterline_nose - test.waterline_nose),
                               fabs(o.waterline_tail - test.waterline_tail));
            if (rise >= 0.001) due = figures[i];
            if (rise >= 0.001) assert_true(rise <= 0.003);
        }
        for (int i = 0; i < 2; i++) {
            assert_int_equal(a.result.trials[2 * bore + i].bore, bore);
            assert_near(fabs(a.result.trials[2 * bore + i].change), due * 1e-3, 1e-12);
            assert_int_equal(a.result.trials[2 * bore + i].piece, -1);
        }
    }
}

/* One's own pieces, the lightest three masses of them, and nothing that turns the plug over. */
static void moves_are_the_pieces_on_hand_where_there_are_any(void **state) {
    struct bench *b = *state;
    struct answer a =
        swimmer(b, arena_printf(&b->arena, CARD, "", 5.0, "", 3.0,
                                ", pieces: [{mass: 2 g}, {ball: 5 mm}, {mass: 0.3 g}, {mass: 9 g}, "
                                "{mass: 0.3 g}, {ball: 40 mm}]"));
    double masses[] = {0.3e-3, ball(0.005) * lead, 2e-3};
    bool seen[2][3] = {{false}};
    for (int i = 0; i < a.result.trial_count; i++) {
        const struct trial *t = &a.result.trials[i];
        int which = -1;
        for (int k = 0; k < 3; k++)
            if (fabs(fabs(t->change) - masses[k]) < 1e-9) which = k;
        assert_true(which >= 0);
        static const int rows[] = {2, 1, 0};
        assert_int_equal(t->piece, rows[which]);
        assert_true(fabs(t->test.attitude - a.result.trials[0].test.attitude) < 0.4);
        seen[t->bore][which] = true;
    }
    assert_true(seen[0][0] && seen[1][0] && seen[0][1] && seen[1][1]);
}

static void no_move_takes_out_what_is_not_there_or_turns_the_plug_by_ten_degrees(void **state) {
    struct bench *b = *state;
    struct answer a =
        swimmer(b, "ballast: {bores: [\n"
                   "  {at: 45 mm, drill: 8 mm, depth: 7 mm, load: [{mass: 0.2 g}]},\n"
                   "  {at: 85 mm, drill: 8 mm, depth: 7 mm, load: [{mass: 3.9 g}]}],\n"
                   "  pieces: [{mass: 0.5 g}, {mass: 3.8 g}]}\n");
    struct outcome test = outcome_of(
        b,
        PARTS(SWIMMER, .ballast =
                           "ballast: {bores: [\n"
                           "  {at: 45 mm, drill: 8 mm, depth: 7 mm, load: [{mass: 0.2 g}]},\n"
                           "  {at: 85 mm, drill: 8 mm, depth: 7 mm, load: [{mass: 3.9 "
                           "g}]}]}\n"),
        CONDITION_TEST);
    for (int i = 0; i < a.result.trial_count; i++) {
        const struct trial *t = &a.result.trials[i];
        assert_true(t->bore == 0 ? t->change > 0 : t->change < 0);
        assert_true(fabs(t->test.attitude - test.attitude) <= 10 * one_degree + 1e-9);
    }
    assert_true(a.result.trial_count > 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(the_spread_is_the_tables_or_that_of_weighed_stock_or_ones_own),
        BENCH_TEST(the_spread_agrees_with_solving_and_weighing_at_the_other_density),
        BENCH_TEST(wood_too_heavy_for_the_aim_has_no_loads_in_the_spread),
        BENCH_TEST(the_card_is_what_the_changed_recipe_weighs),
        BENCH_TEST(a_step_of_the_card_can_be_seen_and_followed),
        BENCH_TEST(moves_are_the_pieces_on_hand_where_there_are_any),
        BENCH_TEST(no_move_takes_out_what_is_not_there_or_turns_the_plug_by_ten_degrees),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
