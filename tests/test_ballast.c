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

/* For every bore and a gram more or less: the recipe changed by hand and weighed. */
static void the_card_is_what_the_changed_recipe_weighs(void **state) {
    static const char *const depth[] = {"", "depth: 18 mm, "};
    struct bench *b = *state;
    for (int given = 0; given < 2; given++) {
#define CARD                                                                \
    "ballast: {bores: [{at: 45 mm, drill: 10 mm, %sload: [{mass: %d g}]}, " \
    "{at: 85 mm, drill: 8 mm, %sload: [{mass: %d g}]}]}\n"
        struct answer a =
            swimmer(b, arena_printf(&b->arena, CARD, depth[given], 5, depth[given], 3));
        assert_int_equal(a.result.trial_count, 4);
        for (int i = 0; i < 4; i++) {
            const struct trial *t = &a.result.trials[i];
            int first = 5 + (t->bore == 0 ? (t->change > 0 ? 1 : -1) : 0);
            int second = 3 + (t->bore == 1 ? (t->change > 0 ? 1 : -1) : 0);
            struct recipe_parts changed =
                PARTS(SWIMMER, .ballast = arena_printf(&b->arena, CARD, depth[given], first,
                                                       depth[given], second));
            struct outcome test = outcome_of(b, changed, CONDITION_TEST);
            struct outcome finished = outcome_of(b, changed, CONDITION_FINISHED);
            assert_true(t->possible);
            assert_near(fabs(t->change), 0.001, 1e-15);
            assert_outcome(&t->test, &test);
            assert_outcome(&t->finished, &finished);
        }
#undef CARD
    }
}

static void less_than_nothing_and_more_than_the_bore_holds_cannot_be_tried(void **state) {
    /* 7 mm of 8 mm are 4 g of lead: half a gram is in one bore, 3.5 g in the other */
    struct answer a =
        swimmer(*state, "ballast: {bores: [\n"
                        "  {at: 45 mm, drill: 8 mm, depth: 7 mm, load: [{mass: 0.5 g}]},\n"
                        "  {at: 85 mm, drill: 8 mm, depth: 7 mm, load: [{mass: 3.5 g}]}]}\n");
    for (int i = 0; i < a.result.trial_count; i++) {
        const struct trial *t = &a.result.trials[i];
        assert_int_equal(t->possible, t->bore == 0 ? t->change > 0 : t->change < 0);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(the_spread_is_the_tables_or_that_of_weighed_stock_or_ones_own),
        BENCH_TEST(the_spread_agrees_with_solving_and_weighing_at_the_other_density),
        BENCH_TEST(wood_too_heavy_for_the_aim_has_no_loads_in_the_spread),
        BENCH_TEST(the_card_is_what_the_changed_recipe_weighs),
        BENCH_TEST(less_than_nothing_and_more_than_the_bore_holds_cannot_be_tried),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
