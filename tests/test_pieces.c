/* The best loads of the pieces on hand, against weighing every combination. */
#include "answer.h"

#include "bodies.h"

#include "compute/ballast/pieces.h"
#include "compute/plug/wall.h"

/* --- every combination ------------------------------------------------------------------------ */

/* All ways to put up to eight of the pieces into one bore, as counts by piece. */
enum { MOST_WAYS = 6000, MOST_KINDS = 8, MOST_SHOWN = 400 };

struct way {
    int count[MOST_KINDS], pieces, shown;
    struct bore_fill fill;
};

struct ways {
    struct way *list;
    int count;
};

/* A ball is no wider than the drill, or by 0.2 mm where it is soft metal; a load is no higher than
 * its bore; a bore that is deepened to suit leaves 3 mm of wood above.  The scale shows tenths. */
static void add_way(const struct answer *a, int bore, struct way way, struct ways *ways) {
    const struct ballast *ballast = a->recipe->ballast;
    double mass = 0, height = 0, give = a->plug.ballast_soft ? 0.0002 : 0;
    bool goes_in = true;
    for (int k = 0; k < ballast->piece_count; k++) {
        const struct piece *piece = &ballast->pieces[k];
        way.pieces += way.count[k];
        goes_in &= !piece->count.given || way.count[k] <= piece->count.value;
        goes_in &= !way.count[k] || !piece->ball.given ||
                   piece->ball.value <= ballast->bores[bore].drill + give + 1e-9;
        mass += way.count[k] * piece_mass(&a->plug, piece);
        height += way.count[k] * bore_piece_height(&a->plug, bore, piece);
    }
    way.fill = bore_filled(&a->plug, bore, mass, height);
    way.shown = (int)floor(mass / 1e-4 + 0.5 + 1e-6);
    goes_in &= way.fill.fits && (!way.pieces || ballast->bores[bore].depth.given ||
                                 wall_enough(wall_least(&a->plug, &way.fill)));
    if (!goes_in) return;
    assert_true(ways->count < MOST_WAYS && way.shown < MOST_SHOWN);
    ways->list[ways->count++] = way;
}

static void add_ways(const struct answer *a, int bore, struct way way, int kind, int left,
                     struct ways *ways) {
    if (kind == a->recipe->ballast->piece_count) {
        add_way(a, bore, way, ways);
        return;
    }
    for (way.count[kind] = 0; way.count[kind] <= left; way.count[kind]++)
        add_ways(a, bore, way, kind + 1, left - way.count[kind], ways);
}

static struct ways ways_into(struct bench *b, const struct answer *a, int bore) {
    struct ways ways = {NEW(&b->arena, struct way, MOST_WAYS), 0};
    if (bore < 0)
        ways.count = 1; /* of no second bore */
    else
        add_ways(a, bore, (struct way){.pieces = 0}, 0, 8, &ways);
    return ways;
}

static bool together(const struct answer *a, const struct way *one, const struct way *two) {
    for (int k = 0; k < a->recipe->ballast->piece_count; k++) {
        const struct piece *piece = &a->recipe->ballast->pieces[k];
        if (piece->count.given && one->count[k] + two->count[k] > piece->count.value) return false;
    }
    return true;
}

/* What the loads that show the same on the scale in both bores come to. */
struct same {
    int fewest;  /* pieces; 0: none, 1 more than there are */
    double miss; /* the least of those that have so few */
};

static int by_miss(const void *a, const void *b) {
    const struct same *x = a, *y = b;
    if (!x->fewest != !y->fewest) return x->fewest ? -1 : 1;
    return x->miss < y->miss ? -1 : x->miss > y->miss;
}

static double miss_of(struct weighing *w, const struct answer *a, const int bores[2],
                      const struct way *one, const struct way *two) {
    struct bore_fill fills[MAX_BORES];
    for (int i = 0; i < MAX_BORES; i++) fills[i] = a->result.fills[i];
    fills[bores[0]] = one->fill;
    if (bores[1] >= 0) fills[bores[1]] = two->fill;
    struct outcome outcome = weighing_outcome(w, fills, CONDITION_FINISHED);
    return solve_miss(a->recipe->ballast->aim, &outcome);
}

/* Every combination tried; every one that has the fewest pieces of its like is weighed.  Gives the
 * likes, least miss first. */
static struct same *brute_force(struct bench *b, const struct answer *a) {
    struct same *all = NEW(&b->arena, struct same, MOST_SHOWN * MOST_SHOWN);
    int bores[2] = {-1, -1}, solved = 0;
    long evaluations = 0;
    for (int i = 0; i < a->recipe->ballast->bore_count; i++)
        if (a->recipe->ballast->bores[i].solve) bores[solved++] = i;
    struct ways first = ways_into(b, a, bores[0]), second = ways_into(b, a, bores[1]);
    struct weighing w = weighing_of(&b->arena, &a->plug, &evaluations);
    for (int pass = 0; pass < 2; pass++)
        for (int i = 0; i < first.count; i++)
            for (int k = 0; k < second.count; k++) {
                const struct way *one = &first.list[i], *two = &second.list[k];
                struct same *same = &all[one->shown * MOST_SHOWN + two->shown];
                int pieces = 1 + one->pieces + two->pieces;
                if (!together(a, one, two)) continue;
                if (pass == 0) {
                    same->miss = INFINITY;
                    if (!same->fewest || pieces < same->fewest) same->fewest = pieces;
                } else if (pieces == same->fewest) {
                    same->miss = fmin(same->miss, miss_of(&w, a, bores, one, two));
                }
            }
    qsort(all, MOST_SHOWN * MOST_SHOWN, sizeof *all, by_miss);
    return all;
}

static int pieces_of(const struct piece_load *load) {
    int pieces = 0;
    for (int i = 0; i < MAX_BORES; i++)
        for (int k = 0; k < BALLAST_PIECES_PER_BORE; k++) pieces += load->piece[i][k] >= 0;
    return pieces;
}

static void expect_best(struct bench *b, struct recipe_parts parts) {
    struct answer a = answer_to(b, parts);
    if (a.result.solution.status == SOLVE_UNREACHABLE) {
        assert_int_equal(a.result.best_count, 0); /* the recipe is in error, and nothing printed */
        return;
    }
    const struct same *best = brute_force(b, &a);
    int count = 0;
    while (count < BALLAST_BEST_LOADS && best[count].fewest) count++;
    assert_int_equal(a.result.best_count, count);
    assert_true(a.result.best_proven);
    for (int i = 0; i < count; i++) {
        const struct piece_load *load = &a.result.best[i];
        assert_near(load->miss, best[i].miss, 1e-9);
        assert_near(solve_miss(a.recipe->ballast->aim, &load->outcome), load->miss, 1e-12);
        bool tied = (i > 0 && best[i].miss - best[i - 1].miss < 1e-9) ||
                    best[i + 1].miss - best[i].miss < 1e-9;
        if (!tied) assert_int_equal(1 + pieces_of(load), best[i].fewest);
    }
}

static void expect_best_swimmer(struct bench *b, const char *ballast) {
    expect_best(b, PARTS(SWIMMER, .ballast = ballast));
}

static void the_best_loads_are_those_of_weighing_every_combination(void **state) {
    static const char *const hands[] = {
        "{ball: 8 mm}, {ball: 5 mm}, {mass: 1 g}, {mass: 0.3 g}",
        "{ball: 9.4 mm, count: 1}, {ball: 8 mm, count: 2}, {mass: 0.7 g, count: 1}, {mass: 2 g}",
        "{mass: 2.5 g}, {mass: 2.6 g, count: 3}, {ball: 0.25 in, count: 2}",
        "{ball: 12 mm}, {mass: 30 g}", /* nothing of it goes in, or all of it is far too much */
        "{mass: 3 g}, {mass: 1.5 g}, {mass: 6 g}",
    };
    static const char *const aims[] = {"reserve: 12 %", "attitude: 3 deg", "reserve: -4 %",
                                       "reserve: 10 %, attitude: 5 deg",
                                       "reserve: 18 %, attitude: -2 deg"};
    static const char *const bores[] = {
        "{at: 45 mm, drill: 9.2 mm, load: solve}",
        "{at: 30 mm, drill: 9.2 mm, depth: 12 mm, load: solve}",
        TWO_BORES,
        ("{at: 45 mm, drill: 9.2 mm, load: solve}, {at: 70 mm, drill: 5 mm, load: [{mass: 1 g}]}, "
         "{at: 95 mm, drill: 8 mm, depth: 14 mm, load: solve}"),
    };
    struct bench *b = *state;
    for (size_t hand = 0; hand < sizeof hands / sizeof *hands; hand++)
        for (int aim = 0; aim < 5; aim++)
            for (int bore = 0; bore < 4; bore++) {
                if (bore >= 2 && aim < 3) continue; /* two bores need both aims */
                expect_best_swimmer(
                    b, arena_printf(&b->arena, "ballast: {aim: {%s}, bores: [%s], pieces: [%s]}\n",
                                    aims[aim], bores[bore], hands[hand]));
            }
}

/* Whatever may lie on a bench, in metal soft or hard, with counts and without. */
static const char *any_hand(struct bench *b, unsigned long long *seed, int kinds) {
    struct buf text = {.arena = &b->arena};
    for (int i = 0; i < kinds; i++) {
        if (i) buf_text(&text, ", ");
        if (body_random(seed) < 0.5)
            buf_printf(&text, "{ball: %.1f mm", body_between(seed, 4, 9.4));
        else
            buf_printf(&text, "{mass: %.2f g", body_between(seed, 0.3, 5));
        if (body_random(seed) < 0.4)
            buf_printf(&text, ", count: %d", 1 + (int)(body_random(seed) * 5));
        buf_text(&text, "}");
    }
    return text.data;
}

static void any_hand_is_searched_to_the_end(void **state) {
    static const char *const metals[] = {"lead", "tungsten", "tin", "brass"};
    struct bench *b = *state;
    unsigned long long seed = 8;
    for (int i = 0; i < 60; i++) {
        bool two = i % 2, depths = body_random(&seed) < 0.3;
        const char *depth = depths ? ", depth: 16 mm" : "";
        const char *hand = any_hand(b, &seed, 1 + (int)(body_random(&seed) * (two ? 3 : 5)));
        const char *other =
            arena_printf(&b->arena, ", {at: %.0f mm, drill: 8 mm%s, load: solve}",
                         body_between(&seed, 80, 100), body_random(&seed) < 0.5 ? depth : "");
        expect_best_swimmer(
            b,
            arena_printf(&b->arena,
                         "ballast: {material: %s, aim: {reserve: %.1f %%, attitude: %.1f deg}, "
                         "bores: [{at: %.0f mm, drill: 9.2 mm%s, load: solve}%s], "
                         "pieces: [%s]}\n",
                         metals[i / 2 % 4], body_between(&seed, -6, 20), body_between(&seed, -3, 8),
                         body_between(&seed, 35, 55), depth, two ? other : "", hand));
    }
}

/* Three of the larger balls would come nearest, but would leave less than 3 mm of wood above. */
static void loads_that_would_break_through_the_back_are_passed_over(void **state) {
    struct bench *b = *state;
    const char *ballast = "ballast: {aim: {reserve: 1 %}, bores: [{at: 52 mm, drill: 9.2 mm, load: "
                          "solve}], pieces: [{ball: 9.2 mm}, {ball: 9.3 mm}, {mass: 4 g}]}\n";
    expect_best_swimmer(b, ballast);
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
    expect_best_swimmer(
        b, "ballast: {material: tungsten, aim: {reserve: 10 %, attitude: 5 deg}, bores: "
           "[" TWO_BORES "], pieces: [{ball: 8 mm}, {ball: 6 mm, count: 3}, {mass: 1 g}]}\n");
}

/* A sinker of heavy wood with its ballast high up: its centre of gravity lies above that of its
 * buoyancy, so that it finds no rest within a right angle.  Its loads still differ by their
 * reserve, and where an attitude is aimed at too, those that find a rest come first. */
static void loads_that_sink_a_plug_top_heavy_are_told_apart_by_their_reserve(void **state) {
    static const char *const aims[] = {"reserve: -8 %", "reserve: -8 %, attitude: 4 deg"};
    struct bench *b = *state;
    for (int i = 0; i < 2; i++) {
        const char *ballast = arena_printf(
            &b->arena,
            "ballast: {aim: {%s}, bores: [{at: 50 mm, drill: 9 mm, depth: 16.5 mm, load: solve}], "
            "pieces: [{mass: 1.3 g}, {mass: 4.2 g}, {mass: 0.7 g}]}\n",
            aims[i]);
        struct recipe_parts parts =
            PARTS(.wood = "wood: {species: basswood, density: 900 kg/m3}\n", .ballast = ballast);
        expect_best(b, parts);
        struct answer a = answer_to(b, parts);
        assert_int_equal(a.result.best_count, BALLAST_BEST_LOADS);
        assert_int_equal(a.result.best[0].outcome.found, i == 1);
        if (i == 0) assert_near(a.result.best[0].outcome.reserve, -0.08, 1e-3);
    }
}

/* Three of 1.5 g weigh as much as one of 4.5 g, and are harder to get into the wood. */
static void of_loads_that_weigh_the_same_the_fewest_pieces_are_named(void **state) {
    struct answer a =
        swimmer(*state, "ballast: {aim: {reserve: 12 %}, bores: [{at: 45 mm, drill: 9.2 mm, "
                        "load: solve}], pieces: [{mass: 1.5 g}, {mass: 4.5 g}, {mass: 4.52 g}]}\n");
    for (int i = 0; i < a.result.best_count; i++) {
        const struct piece_load *load = &a.result.best[i];
        int small = 0;
        for (int k = 0; k < BALLAST_PIECES_PER_BORE; k++) small += load->piece[0][k] == 0;
        assert_true(small < 3);
        for (int k = 0; k < i; k++) /* and no two show the same on the scale */
            assert_true(lround(load->load[0] / 1e-4) != lround(a.result.best[k].load[0] / 1e-4));
    }
    assert_int_equal(a.result.best_count, BALLAST_BEST_LOADS);
}

/* 32 kinds of shot make 77 million loads of eight for one bore. */
static void a_search_that_cannot_end_says_so(void **state) {
    struct bench *b = *state;
    struct buf hand = {.arena = &b->arena};
    for (int i = 0; i < 32; i++)
        buf_printf(&hand, "%s{mass: %.2f g}", i ? ", " : "", 0.1 + 0.01 * i);
    struct answer a =
        swimmer(b, arena_printf(&b->arena,
                                "ballast: {aim: {reserve: 10 %%, attitude: 5 deg}, bores: "
                                "[" TWO_BORES "], pieces: [%s]}\n",
                                hand.data));
    assert_false(a.result.best_proven);
    assert_int_equal(a.result.best_count, BALLAST_BEST_LOADS);
}

static void few_combinations_are_weighed_in_the_water(void **state) {
    struct bench *b = *state;
    struct answer a =
        swimmer(b, "ballast: {aim: {reserve: 10 %, attitude: 5 deg}, bores: "
                   "[" TWO_BORES "], pieces: [{ball: 8 mm}, {ball: 6 mm}, {mass: 1 g}, "
                   "{mass: 0.4 g}]}\n");
    struct answer without =
        swimmer(b, "ballast: {aim: {reserve: 10 %, attitude: 5 deg}, bores: [" TWO_BORES "]}\n");
    int all = ways_into(b, &a, 0).count * ways_into(b, &a, 1).count;
    assert_true(all > 10000);
    assert_true(a.result.evaluations - without.result.evaluations < 100);
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
        BENCH_TEST(any_hand_is_searched_to_the_end),
        BENCH_TEST(loads_that_would_break_through_the_back_are_passed_over),
        BENCH_TEST(hard_pieces_are_stacked_in_the_search_too),
        BENCH_TEST(loads_that_sink_a_plug_top_heavy_are_told_apart_by_their_reserve),
        BENCH_TEST(of_loads_that_weigh_the_same_the_fewest_pieces_are_named),
        BENCH_TEST(a_search_that_cannot_end_says_so),
        BENCH_TEST(few_combinations_are_weighed_in_the_water),
        BENCH_TEST(the_best_name_the_pieces_that_they_are_made_of),
        BENCH_TEST(pieces_without_an_aim_or_a_bore_to_solve_are_not_searched),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
