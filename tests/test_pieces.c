/* The best loads of the pieces on hand, against weighing every combination. */
#include "answer.h"

#include "compute/ballast/pieces.h"
#include "compute/plug/wall.h"

/* --- the pieces on hand ---------------------------------------------------------------------- */

/* All ways to put up to three of the pieces into one bore, as counts by piece; a bore that is
 * deepened to suit leaves 3 mm of wood above. */
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
            mass += way.count[k] * piece_mass(&a->plug, piece);
            height += way.count[k] * bore_piece_height(&a->plug, bore, piece);
        }
        if (pieces > 3 || !goes_in) continue;
        way.fill = bore_filled(&a->plug, bore, mass, height);
        goes_in = way.fill.fits && (!pieces || ballast->bores[bore].depth.given ||
                                    wall_enough(wall_least(&a->plug, &way.fill)));
        assert_true(number < MOST_WAYS);
        if (goes_in) ways[number++] = way;
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
    struct weighing w = weighing_of(&b->arena, &a->plug, &evaluations);
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
        ("{at: 45 mm, drill: 9.2 mm, load: solve}, {at: 70 mm, drill: 5 mm, load: [{mass: 1 g}]}, "
         "{at: 95 mm, drill: 8 mm, load: solve}"),
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

/* Three of the larger balls would come nearest, but would leave less than 3 mm of wood above. */
static void loads_that_would_break_through_the_back_are_passed_over(void **state) {
    struct bench *b = *state;
    const char *ballast = "ballast: {aim: {reserve: 1 %}, bores: [{at: 52 mm, drill: 9.2 mm, load: "
                          "solve}], pieces: [{ball: 9.2 mm}, {ball: 9.3 mm}, {mass: 4 g}]}\n";
    expect_best(b, ballast);
    struct answer a = swimmer(b, ballast);
    assert_true(a.result.best_count > 0);
    for (int i = 0; i < a.result.best_count; i++) {
        double load = a.result.best[i].load[0];
        struct bore_fill fill = bore_filled(&a.plug, 0, load, bore_slug(&a.plug, 0, load));
        assert_true(wall_least(&a.plug, &fill) >= 0.003);
    }
}

static void hard_pieces_are_stacked_in_the_search_too(void **state) {
    struct bench *b = *state;
    expect_best(b,
                "ballast: {material: tungsten, aim: {reserve: 10 %, attitude: 5 deg}, bores: "
                "[" TWO_BORES "], pieces: [{ball: 8 mm}, {ball: 6 mm, count: 3}, {mass: 1 g}]}\n");
}

static void few_combinations_are_weighed_in_the_water(void **state) {
    struct bench *b = *state;
    double least[BALLAST_BEST_LOADS];
    int count;
    struct answer a =
        swimmer(b, "ballast: {aim: {reserve: 10 %, attitude: 5 deg}, bores: "
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
                if (piece >= 0) mass += piece_mass(&a.plug, &a.recipe->ballast->pieces[piece]);
            }
            assert_near(a.result.best[i].load[bore], mass, 1e-12);
        }
    assert_int_equal(a.result.best_count, BALLAST_BEST_LOADS);
}

static void pieces_without_an_aim_or_a_bore_to_solve_are_not_searched(void **state) {
    struct answer a =
        swimmer(*state, "ballast: {aim: {reserve: 9 %}, bores: [{at: 45 mm, drill: 9 mm, "
                        "load: []}], pieces: [{mass: 1 g}]}\n");
    assert_int_equal(a.result.best_count, 0);
    a = swimmer(*state, "ballast: {bores: [{at: 45 mm, drill: 9 mm, load: []}], "
                        "pieces: [{mass: 1 g}]}\n");
    assert_int_equal(a.result.best_count, 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(the_best_loads_are_those_of_weighing_every_combination),
        BENCH_TEST(loads_that_would_break_through_the_back_are_passed_over),
        BENCH_TEST(hard_pieces_are_stacked_in_the_search_too),
        BENCH_TEST(few_combinations_are_weighed_in_the_water),
        BENCH_TEST(the_best_name_the_pieces_that_they_are_made_of),
        BENCH_TEST(pieces_without_an_aim_or_a_bore_to_solve_are_not_searched),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
