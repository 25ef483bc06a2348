/* Ballast: loads to an aim, the spread of the wood, the float-test card, the pieces on hand. */
#include "recipe_text.h"

#include "compute/ballast.h"
#include "compute/pieces.h"
#include "compute/solve.h"

struct answer {
    const struct recipe *recipe;
    struct frame frame;
    struct ballast_result result;
};

static struct answer answer_to(struct bench *b, struct recipe_parts parts) {
    struct answer a = {.recipe = bench_good(b, parts)};
    a.frame = frame_of(&b->arena, a.recipe);
    a.result = ballast_of(&b->arena, &a.frame);
    return a;
}

/* A swimmer with this ballast. */
static struct answer swimmer(struct bench *b, const char *ballast) {
    return answer_to(b, PARTS(SWIMMER, .ballast = ballast));
}

static struct outcome outcome_of(struct bench *b, struct recipe_parts parts,
                                 enum condition_kind kind) {
    struct frame frame = frame_of(&b->arena, bench_good(b, parts));
    struct bore_fill fills[MAX_BORES];
    long count = 0;
    struct weighing w = weighing_of(&b->arena, &frame, &count);
    for (int i = 0; frame.recipe->ballast && i < frame.recipe->ballast->bore_count; i++)
        fills[i] = bore_as_written(&frame, i);
    return weighing_outcome(&w, fills, kind);
}

static void assert_outcome(const struct outcome *got, const struct outcome *want) {
    assert_near(got->reserve, want->reserve, 1e-9);
    assert_near(got->attitude, want->attitude, 1e-8);
    assert_int_equal(got->waterline_given, want->waterline_given);
    assert_near(got->waterline_nose, want->waterline_nose, 1e-9);
    assert_near(got->waterline_tail, want->waterline_tail, 1e-9);
}

static const double mg = 1e-6;

#define TWO_BORES "{at: 45 mm, drill: 10 mm, load: solve}, {at: 85 mm, drill: 8 mm, load: solve}"

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
    double wanted = 0.8 * a.frame.water * volume;
    double load = (wanted - empty - disc(0.008) * 0.002 * (1000 - box_wood)) / (1 - box_wood / lead);
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
        struct answer a = swimmer(
            b, arena_printf(&b->arena, "ballast: {aim: {attitude: %d deg}, bores: [{at: %s, "
                                       "drill: 9 mm, load: solve}]}\n",
                            degrees, degrees < 0 ? "70 mm" : "25 mm"));
        assert_int_equal(a.result.solution.status, SOLVE_FOUND);
        assert_near(a.result.solution.outcome.attitude, degrees * one_degree, 1e-6);
    }
}

static void a_bore_for_both_aims_meets_the_reserve_and_notes_the_attitude(void **state) {
    struct answer a = swimmer(*state, "ballast: {aim: {reserve: 12 %, attitude: 40 deg}, bores: [{at: "
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
            swimmer(b, arena_printf(&b->arena, "ballast: {aim: {reserve: 10 %%, attitude: %d deg}, "
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
    const char *fixed = arena_printf(&b->arena,
                                     "ballast: {bores: [{at: 45 mm, drill: 10 mm, load: [{mass: %.6f "
                                     "g}]}, {at: 85 mm, drill: 8 mm, load: [{mass: %.6f g}]}]}\n",
                                     a.result.fills[0].load * 1e3, a.result.fills[1].load * 1e3);
    struct outcome anew =
        outcome_of(b, PARTS(SWIMMER, .ballast = fixed), CONDITION_FINISHED);
    assert_near(anew.reserve, 0.11, 1e-7);
    assert_near(anew.attitude, 4 * one_degree, 1e-5);
}

static void the_order_of_the_bores_does_not_matter(void **state) {
    struct answer one = swimmer(*state, "ballast: {aim: {reserve: 11 %, attitude: 4 deg}, bores: [\n"
                                        "  {at: 45 mm, drill: 10 mm, load: solve},\n"
                                        "  {at: 85 mm, drill: 8 mm, load: solve},\n"
                                        "  {at: 105 mm, drill: 5 mm, load: [{mass: 0.5 g}]}]}\n");
    struct answer other = swimmer(*state, "ballast: {aim: {reserve: 11 %, attitude: 4 deg}, bores: [\n"
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
    assert_close(fill->filler, 1000 * disc(0.010) * (0.015 - fill->slug), 1e-9);
    assert_near(a.result.solution.outcome.reserve, 0.12, 1e-9);
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
        const char *fixed = arena_printf(&b->arena,
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
        struct answer a = swimmer(
            b, arena_printf(&b->arena, "ballast: {aim: {attitude: %d deg}, bores: [{at: %d mm, "
                                       "drill: 9 mm, load: solve}]}\n",
                            degrees, degrees < 0 ? 75 : 28));
        assert_int_equal(a.result.solution.status, SOLVE_FOUND);
        double found = a.result.fills[0].load, side = 0;
        struct weighing w = weighing_of(&b->arena, &a.frame, &a.result.evaluations);
        for (int i = 0; i < 40; i++) {
            double load = found * 0.999 * i / 40;
            struct bore_fill fill = bore_filled(&a.frame, 0, load, bore_slug(&a.frame, 0, load));
            double off = weighing_outcome(&w, &fill, CONDITION_FINISHED).attitude -
                         degrees * one_degree;
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
        assert_close(a.result.light.wood_density, a.frame.wood_density * (1 - cases[i].spread), 1e-12);
        assert_close(a.result.heavy.wood_density, a.frame.wood_density * (1 + cases[i].spread), 1e-12);
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
#define CARD "ballast: {bores: [{at: 45 mm, drill: 10 mm, %sload: [{mass: %d g}]}, "               \
             "{at: 85 mm, drill: 8 mm, %sload: [{mass: %d g}]}]}\n"
        struct answer a =
            swimmer(b, arena_printf(&b->arena, CARD, depth[given], 5, depth[given], 3));
        assert_int_equal(a.result.trial_count, 4);
        for (int i = 0; i < 4; i++) {
            const struct trial *t = &a.result.trials[i];
            int first = 5 + (t->bore == 0 ? (t->change > 0 ? 1 : -1) : 0);
            int second = 3 + (t->bore == 1 ? (t->change > 0 ? 1 : -1) : 0);
            struct recipe_parts changed = PARTS(
                SWIMMER,
                .ballast = arena_printf(&b->arena, CARD, depth[given], first, depth[given], second));
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
    struct answer a = swimmer(*state, "ballast: {bores: [\n"
                                      "  {at: 45 mm, drill: 8 mm, depth: 7 mm, load: [{mass: 0.5 g}]},\n"
                                      "  {at: 85 mm, drill: 8 mm, depth: 7 mm, load: [{mass: 3.5 g}]}]}\n");
    for (int i = 0; i < a.result.trial_count; i++) {
        const struct trial *t = &a.result.trials[i];
        assert_int_equal(t->possible, t->bore == 0 ? t->change > 0 : t->change < 0);
    }
}

/* --- the pieces on hand ---------------------------------------------------------------------- */

/* All ways to put up to three of the pieces into one bore, as counts by piece. */
enum { MOST_WAYS = 200, MOST_KINDS = 8 };

struct way {
    int count[MOST_KINDS];
    struct bore_fill fill;
};

static int ways_into(const struct answer *a, int bore, struct way *ways) {
    const struct ballast *ballast = a->recipe->ballast;
    int kinds = ballast->piece_count, number = 0;
    for (int code = 0; code < 1 << (2 * kinds); code++) { /* two bits a kind: 0 to 3 of it */
        struct way way = {.count = {0}};
        int pieces = 0;
        bool goes_in = true;
        double mass = 0, height = 0;
        for (int k = 0; k < kinds; k++) {
            const struct piece *piece = &ballast->pieces[k];
            way.count[k] = code >> (2 * k) & 3;
            pieces += way.count[k];
            goes_in &= !piece->count.given || way.count[k] <= piece->count.value;
            goes_in &= !way.count[k] || !piece->ball.given ||
                       piece->ball.value <= ballast->bores[bore].drill + 0.0002 + 1e-9;
            mass += way.count[k] * piece_mass(&a->frame, piece);
            height += way.count[k] * bore_piece_height(&a->frame, bore, piece);
        }
        if (pieces > 3 || !goes_in) continue;
        way.fill = bore_filled(&a->frame, bore, mass, height);
        assert_true(number < MOST_WAYS);
        if (way.fill.fits) ways[number++] = way;
    }
    return number;
}

static bool together(const struct answer *a, const struct way *one, const struct way *two) {
    for (int k = 0; k < a->recipe->ballast->piece_count; k++) {
        const struct piece *piece = &a->recipe->ballast->pieces[k];
        if (piece->count.given && one->count[k] + two->count[k] > piece->count.value) return false;
    }
    return true;
}

/* Keeps the least five. */
static void keep_least(double least[BALLAST_BEST_LOADS], int *count, double miss) {
    int at = *count < BALLAST_BEST_LOADS ? (*count)++ : BALLAST_BEST_LOADS;
    if (at == BALLAST_BEST_LOADS && miss >= least[BALLAST_BEST_LOADS - 1]) return;
    if (at == BALLAST_BEST_LOADS) at--;
    for (; at > 0 && least[at - 1] > miss; at--) least[at] = least[at - 1];
    least[at] = miss;
}

/* Every combination weighed; gives how many there are. */
static int brute_force(struct bench *b, const struct answer *a, double least[BALLAST_BEST_LOADS],
                       int *count) {
    static struct way first[MOST_WAYS], second[MOST_WAYS];
    const struct ballast *ballast = a->recipe->ballast;
    long evaluations = 0;
    int bores[2] = {0}, solved = 0, all = 0;
    for (int i = 0; i < ballast->bore_count; i++)
        if (ballast->bores[i].solve) bores[solved++] = i;
    int firsts = ways_into(a, bores[0], first);
    int seconds = solved == 2 ? ways_into(a, bores[1], second) : 1;
    struct weighing w = weighing_of(&b->arena, &a->frame, &evaluations);
    struct bore_fill fills[MAX_BORES];
    for (int i = 0; i < ballast->bore_count; i++) fills[i] = a->result.fills[i];
    *count = 0;
    for (int i = 0; i < firsts; i++)
        for (int k = 0; k < seconds; k++) {
            if (solved == 2 && !together(a, &first[i], &second[k])) continue;
            fills[bores[0]] = first[i].fill;
            if (solved == 2) fills[bores[1]] = second[k].fill;
            struct outcome o = weighing_outcome(&w, fills, CONDITION_FINISHED);
            all++;
            if (o.found) keep_least(least, count, solve_miss(ballast->aim, &o));
        }
    return all;
}

static void expect_best(struct bench *b, const char *ballast) {
    double least[BALLAST_BEST_LOADS];
    int count;
    struct answer a = swimmer(b, ballast);
    int all = brute_force(b, &a, least, &count);
    assert_int_equal(a.result.best_count, count);
    for (int i = 0; i < count; i++) {
        assert_near(a.result.best[i].miss, least[i], 1e-9);
        assert_near(solve_miss(a.recipe->ballast->aim, &a.result.best[i].outcome), least[i], 1e-9);
    }
    assert_true(all >= count);
}

static void the_best_loads_are_those_of_weighing_every_combination(void **state) {
    static const char *const hands[] = {
        "{ball: 8 mm}, {ball: 5 mm}, {mass: 1 g}, {mass: 0.3 g}",
        "{ball: 9.4 mm, count: 1}, {ball: 8 mm, count: 2}, {mass: 0.7 g, count: 1}, {mass: 2 g}",
        "{mass: 2.5 g}, {mass: 2.6 g, count: 3}, {ball: 0.25 in, count: 2}",
        "{ball: 12 mm}, {mass: 30 g}", /* nothing of it goes in, or all of it is far too much */
    };
    static const char *const aims[] = {"reserve: 12 %", "attitude: 3 deg",
                                       "reserve: 10 %, attitude: 5 deg"};
    static const char *const bores[] = {
        "{at: 45 mm, drill: 9.2 mm, load: solve}",
        "{at: 30 mm, drill: 9.2 mm, depth: 12 mm, load: solve}",
        TWO_BORES,
        "{at: 45 mm, drill: 9.2 mm, load: solve}, {at: 70 mm, drill: 5 mm, load: [{mass: 1 g}]}, "
        "{at: 95 mm, drill: 8 mm, load: solve}",
    };
    struct bench *b = *state;
    for (int hand = 0; hand < 4; hand++)
        for (int aim = 0; aim < 3; aim++)
            for (int bore = 0; bore < 4; bore++) {
                if (bore >= 2 && aim < 2) continue; /* two bores need both aims */
                expect_best(b, arena_printf(&b->arena,
                                            "ballast: {aim: {%s}, bores: [%s], pieces: [%s]}\n",
                                            aims[aim], bores[bore], hands[hand]));
            }
}

static void hard_pieces_are_stacked_in_the_search_too(void **state) {
    struct bench *b = *state;
    expect_best(b, "ballast: {material: tungsten, aim: {reserve: 10 %, attitude: 5 deg}, bores: "
                   "[" TWO_BORES "], pieces: [{ball: 8 mm}, {ball: 6 mm, count: 3}, {mass: 1 g}]}\n");
}

static void few_combinations_are_weighed_in_the_water(void **state) {
    struct bench *b = *state;
    double least[BALLAST_BEST_LOADS];
    int count;
    struct answer a = swimmer(b, "ballast: {aim: {reserve: 10 %, attitude: 5 deg}, bores: "
                                 "[" TWO_BORES "], pieces: [{ball: 8 mm}, {ball: 6 mm}, {mass: 1 g}, "
                                 "{mass: 0.4 g}]}\n");
    int all = brute_force(b, &a, least, &count);
    struct answer without =
        swimmer(b, "ballast: {aim: {reserve: 10 %, attitude: 5 deg}, bores: [" TWO_BORES "]}\n");
    assert_true(a.result.evaluations - without.result.evaluations < all / 4);
}

static void the_best_name_the_pieces_that_they_are_made_of(void **state) {
    struct answer a = swimmer(*state, "ballast: {aim: {reserve: 10 %, attitude: 5 deg}, bores: "
                                      "[" TWO_BORES "], pieces: [{ball: 8 mm}, {mass: 1 g}, {mass: "
                                      "0.4 g}]}\n");
    for (int i = 0; i < a.result.best_count; i++)
        for (int bore = 0; bore < 2; bore++) {
            double mass = 0;
            for (int k = 0; k < BALLAST_PIECES_PER_BORE; k++) {
                int piece = a.result.best[i].piece[bore][k];
                if (piece >= 0) mass += piece_mass(&a.frame, &a.recipe->ballast->pieces[piece]);
            }
            assert_near(a.result.best[i].load[bore], mass, 1e-12);
        }
    assert_int_equal(a.result.best_count, BALLAST_BEST_LOADS);
}

static void pieces_without_an_aim_or_a_bore_to_solve_are_not_searched(void **state) {
    struct answer a = swimmer(*state, "ballast: {aim: {reserve: 9 %}, bores: [{at: 45 mm, drill: 9 mm, "
                                      "load: []}], pieces: [{mass: 1 g}]}\n");
    assert_int_equal(a.result.best_count, 0);
    a = swimmer(*state, "ballast: {bores: [{at: 45 mm, drill: 9 mm, load: []}], "
                        "pieces: [{mass: 1 g}]}\n");
    assert_int_equal(a.result.best_count, 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(one_bore_meets_the_reserve_as_worked_by_hand),
        BENCH_TEST(a_plug_may_be_asked_to_sink),
        BENCH_TEST(one_bore_meets_an_attitude_that_alone_is_aimed_at),
        BENCH_TEST(a_bore_for_both_aims_meets_the_reserve_and_notes_the_attitude),
        BENCH_TEST(two_bores_meet_both_aims),
        BENCH_TEST(a_solved_recipe_written_back_with_its_loads_meets_its_aim),
        BENCH_TEST(the_order_of_the_bores_does_not_matter),
        BENCH_TEST(a_depth_that_is_given_stays_and_filler_takes_the_rest),
        BENCH_TEST(nothing_to_solve_leaves_the_loads_as_they_are_written),
        BENCH_TEST(an_aim_that_some_loads_give_is_met_with_no_more_metal),
        BENCH_TEST(the_least_load_is_taken_where_several_would_do),
        BENCH_TEST(more_ballast_never_floats_higher),
        BENCH_TEST(the_spread_is_the_tables_or_that_of_weighed_stock_or_ones_own),
        BENCH_TEST(the_spread_agrees_with_solving_and_weighing_at_the_other_density),
        BENCH_TEST(wood_too_heavy_for_the_aim_has_no_loads_in_the_spread),
        BENCH_TEST(the_card_is_what_the_changed_recipe_weighs),
        BENCH_TEST(less_than_nothing_and_more_than_the_bore_holds_cannot_be_tried),
        BENCH_TEST(the_best_loads_are_those_of_weighing_every_combination),
        BENCH_TEST(hard_pieces_are_stacked_in_the_search_too),
        BENCH_TEST(few_combinations_are_weighed_in_the_water),
        BENCH_TEST(the_best_name_the_pieces_that_they_are_made_of),
        BENCH_TEST(pieces_without_an_aim_or_a_bore_to_solve_are_not_searched),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
