/* Aims out of reach: one error that names the nearest, and remedies that do what they say. */
#include "recipe_text.h"

#include "compute/ballast/ballast.h"
#include "compute/ballast/remedy.h"
#include "compute/ballast/solve.h"

static const double degree_step = 0.5;

/* The knobs that remedies turn. */
struct knobs {
    double wood;                  /* kg/m3 */
    double belly_hook, tail_hook; /* g */
    int coats;
    double at[2]; /* mm */
    int bores;
    const char *aim;
};

static const struct knobs usual = {400, 4.4, 1.5, 2, {45, 90}, 1, NULL};

static struct recipe_parts parts_of(struct bench *b, struct knobs k) {
    struct buf ballast = {.arena = &b->arena};
    buf_printf(&ballast, "ballast:\n  aim: {%s}\n  bores:\n", k.aim);
    for (int i = 0; i < k.bores; i++)
        buf_printf(&ballast, "    - {at: %.6f mm, drill: %d mm, load: solve}\n", k.at[i],
                   10 - 2 * i);
    return PARTS(.wood = arena_printf(&b->arena, "wood: {species: basswood, density: %.6f kg/m3}\n",
                                      k.wood),
                 .body = swimmer_body,
                 .hardware = arena_printf(
                     &b->arena,
                     "hardware:\n  wire: {diameter: 1.2 mm}\n  line tie: {place: nose}\n"
                     "  hangers:\n    - {place: belly, at: 55 mm, depth: 12 mm, "
                     "hook: {mass: %.6f g}}\n    - {place: tail, hook: {mass: %.6f g}}\n",
                     k.belly_hook, k.tail_hook),
                 .ballast = ballast.data, .eyes = swimmer_eyes,
                 .finish = arena_printf(
                     &b->arena, "finish: {topcoat: {kind: epoxy, coats: %d, film: 0.4 mm}}\n",
                     k.coats));
}

static struct solution solve(struct bench *b, struct knobs k) {
    struct plug plug = plug_of(&b->arena, bench_good(b, parts_of(b, k)));
    return ballast_of(&b->arena, &plug).solution;
}

static struct remedy remedy(struct bench *b, struct knobs k) {
    struct plug plug = plug_of(&b->arena, bench_good(b, parts_of(b, k)));
    return remedy_of(&b->arena, &plug);
}

static bool reached(struct bench *b, struct knobs k) {
    return solve(b, k).status == SOLVE_FOUND;
}

/* One error alone, in the place of the aim. */
static void expect_one_error(struct bench *b, struct knobs k) {
    bench_compile(b, parts_of(b, k));
    int errors = 0;
    for (int i = 0; i < b->diags.count; i++) {
        const struct diag *d = &b->diags.items[i];
        if (d->severity != SEVERITY_ERROR) continue;
        errors++;
        assert_string_equal(d->rule, "aim");
        assert_string_equal(arena_printf(&b->arena, "%d:%d", d->at.line, d->at.column),
                            bench_place(b, "aim:"));
        assert_non_null(strstr(d->message, "no load of zero or more reaches"));
        assert_non_null(strstr(d->message, "the nearest is"));
        assert_int_equal(strstr(d->message, "the nearest is reserve") != NULL,
                         strstr(k.aim, "reserve") != NULL);
        assert_int_equal(strstr(d->message, "attitude") != NULL, strstr(k.aim, "attitude") != NULL);
    }
    assert_int_equal(errors, 1);
}

/* Each remedy that is offered, applied alone, brings the aim within reach; and it is no larger than
 * it has to be. */
static int expect_remedies(struct bench *b, struct knobs k) {
    int offered = 0;
    assert_int_equal(solve(b, k).status, SOLVE_UNREACHABLE);
    struct remedy r = remedy(b, k);
    if (r.wood_density > 0) {
        struct knobs changed = k;
        changed.wood = r.wood_density;
        assert_true(reached(b, changed));
        changed.wood += 2;
        assert_false(reached(b, changed));
        offered++;
    }
    if (r.lighter_hooks > 0) {
        struct knobs changed = k;
        double all = k.belly_hook + k.tail_hook, less = r.lighter_hooks * 1e3;
        changed.belly_hook *= 1 - less / all, changed.tail_hook *= 1 - less / all;
        assert_true(reached(b, changed));
        less -= 0.12; /* a tenth of a gram is what it is rounded up to */
        changed.belly_hook = k.belly_hook * (1 - less / all);
        changed.tail_hook = k.tail_hook * (1 - less / all);
        assert_false(reached(b, changed));
        offered++;
    }
    if (r.fewer_coats > 0) {
        struct knobs changed = k;
        changed.coats -= r.fewer_coats;
        assert_true(reached(b, changed));
        changed.coats++;
        assert_false(reached(b, changed));
        offered++;
    }
    for (int i = 0; i < r.place_count; i++) {
        struct knobs changed = k;
        changed.at[r.places[i].bore] = r.places[i].at * 1e3;
        assert_true(reached(b, changed));
        if (i) assert_true(r.places[i].moved >= r.places[i - 1].moved);
    }
    offered += r.place_count > 0;
    return offered;
}

static struct knobs with(const char *aim, int bores) {
    struct knobs k = usual;
    k.aim = aim;
    k.bores = bores;
    return k;
}

static void a_reserve_out_of_reach_is_one_error(void **state) {
    struct knobs k = with("reserve: 60 %", 1);
    expect_one_error(*state, k);
}

static void an_attitude_out_of_reach_is_one_error(void **state) {
    struct knobs k = with("attitude: -20 deg", 1);
    expect_one_error(*state, k);
}

static void both_out_of_reach_for_the_reserve_is_one_error(void **state) {
    struct knobs k = with("reserve: 60 %, attitude: 3 deg", 2);
    expect_one_error(*state, k);
}

static void both_out_of_reach_for_the_attitude_is_one_error(void **state) {
    struct knobs k = with("reserve: 10 %, attitude: 30 deg", 2);
    expect_one_error(*state, k);
}

static void a_reserve_comes_within_reach_by_every_remedy(void **state) {
    struct knobs k = with("reserve: 35 %", 1);
    k.wood = 420, k.coats = 3;
    assert_int_equal(expect_remedies(*state, k), 3); /* where the bore is does not matter */
}

static void an_attitude_comes_within_reach_by_moving_the_bore(void **state) {
    struct knobs k = with("attitude: -3 deg", 1);
    k.at[0] = 30;
    assert_true(expect_remedies(*state, k) >= 1);
    assert_int_equal(remedy(*state, k).places[0].bore, 0);
}

static void both_come_within_reach_by_moving_one_bore(void **state) {
    struct knobs k = with("reserve: 12 %, attitude: 12 deg", 2);
    assert_true(expect_remedies(*state, k) >= 1);
    assert_true(remedy(*state, k).place_count > 0);
}

static void remedies_hold_for_both_aims_together(void **state) {
    struct knobs k = with("reserve: 36 %, attitude: 2 deg", 2);
    k.coats = 3;
    assert_true(expect_remedies(*state, k) >= 1);
}

static void what_no_change_can_give_is_said_so(void **state) {
    struct bench *b = *state;
    struct knobs k = with("reserve: 95 %", 1);
    expect_one_error(b, k);
    struct remedy r = remedy(b, k);
    assert_near(r.wood_density, 0, 0);
    assert_near(r.lighter_hooks, 0, 0);
    assert_int_equal(r.fewer_coats, 0);
    assert_int_equal(r.place_count, 0);
    for (int i = 0; i < b->diags.count; i++)
        if (b->diags.items[i].severity == SEVERITY_ERROR)
            assert_non_null(strstr(b->diags.items[i].hint, "no single change of those was enough"));
}

/* Putty no denser than the filler, in a bore of given depth: whatever goes in, nothing changes. */
static void loads_that_weigh_no_more_than_what_they_replace_reach_nothing(void **state) {
    static const char *const bores[] = {
        "{at: 43 mm, drill: 8 mm, depth: 12 mm, load: solve}",
        "{at: 43 mm, drill: 8 mm, depth: 12 mm, load: solve}, {at: 90 mm, drill: 8 mm, load: "
        "solve}",
    };
    struct bench *b = *state;
    for (int i = 0; i < 2; i++) {
        const char *ballast = arena_printf(
            &b->arena, "ballast:\n  density: 1 g/cm3\n  aim: {reserve: 20 %%%s}\n  bores: [%s]\n",
            i ? ", attitude: 3 deg" : "", bores[i]);
        struct compilation c = bench_compile(b, PARTS(SWIMMER, .ballast = ballast));
        assert_int_equal(c.results.ballast.solution.status, SOLVE_UNREACHABLE);
        assert_int_equal(b->diags.errors, 1);
        assert_null(strstr(bench_said(b), "nan"));
        assert_null(strstr(bench_said(b), "inf"));
    }
}

/* --- the nearest ----------------------------------------------------------------------------- */

/* The outcome that is named is what the loads that are named give. */
static void the_nearest_is_what_its_loads_weigh(void **state) {
    static const struct {
        const char *aim;
        int bores;
    } cases[] = {{"reserve: 60 %", 1},
                 {"attitude: -20 deg", 1},
                 {"reserve: 60 %, attitude: 3 deg", 2},
                 {"reserve: 10 %, attitude: 30 deg", 2}};
    struct bench *b = *state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct plug plug =
            plug_of(&b->arena, bench_good(b, parts_of(b, with(cases[i].aim, cases[i].bores))));
        struct ballast_result r = ballast_of(&b->arena, &plug);
        struct weighing w = weighing_of(&b->arena, &plug, &r.evaluations);
        struct outcome o = weighing_outcome(&w, r.fills, CONDITION_FINISHED);
        assert_near(o.reserve, r.solution.outcome.reserve, 1e-9);
        assert_near(o.attitude, r.solution.outcome.attitude, 1e-7);
        for (int k = 0; k < cases[i].bores; k++)
            assert_near(r.fills[k].load, r.solution.load[k], 1e-12);
    }
}

/* With one bore there is one load to vary: none is nearer. */
static void no_load_of_one_bore_comes_nearer(void **state) {
    static const char *const aims[] = {"reserve: 60 %", "attitude: -20 deg", "attitude: 4 deg"};
    struct bench *b = *state;
    for (int i = 0; i < 3; i++) {
        struct knobs k = with(aims[i], 1);
        if (i == 2) k.at[0] = 80;
        struct plug plug = plug_of(&b->arena, bench_good(b, parts_of(b, k)));
        struct ballast_result r = ballast_of(&b->arena, &plug);
        struct weighing w = weighing_of(&b->arena, &plug, &r.evaluations);
        const struct aim *aim = plug.recipe->ballast->aim;
        double named = solve_miss(aim, &r.solution.outcome);
        assert_int_equal(r.solution.status, SOLVE_UNREACHABLE);
        for (double load = 0; load < 0.020; load += 0.0005) {
            struct bore_fill fill = bore_filled(&plug, 0, load, bore_slug(&plug, 0, load));
            struct outcome o = weighing_outcome(&w, &fill, CONDITION_FINISHED);
            if (o.found) assert_true(solve_miss(aim, &o) >= named - degree_step);
        }
    }
}

/* With two bores the reserve is kept where it can be, and the attitude comes as near as it can. */
static void no_loads_that_keep_the_reserve_come_nearer(void **state) {
    struct bench *b = *state;
    struct plug plug =
        plug_of(&b->arena, bench_good(b, parts_of(b, with("reserve: 10 %, attitude: 30 deg", 2))));
    struct ballast_result r = ballast_of(&b->arena, &plug);
    const struct solution *s = &r.solution;
    assert_near(s->outcome.reserve, 0.10, 1e-8);
    struct weighing w = weighing_of(&b->arena, &plug, &r.evaluations);
    double rate[2];
    for (int i = 0; i < 2; i++) rate[i] = 1 - plug.wood_density / plug.ballast_density;
    for (int i = 0; i <= 40; i++) { /* shift metal from one bore to the other */
        double first = (s->load[0] + s->load[1] * rate[1] / rate[0]) * i / 40;
        double second = s->load[1] + (s->load[0] - first) * rate[0] / rate[1];
        if (second < 0) continue;
        struct bore_fill fills[2] = {bore_filled(&plug, 0, first, bore_slug(&plug, 0, first)),
                                     bore_filled(&plug, 1, second, bore_slug(&plug, 1, second))};
        struct outcome o = weighing_outcome(&w, fills, CONDITION_FINISHED);
        assert_near(o.reserve, 0.10, 1e-6);
        assert_true(fabs(o.attitude - 30 * one_degree) >=
                    fabs(s->outcome.attitude - 30 * one_degree) - 1e-3);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(a_reserve_out_of_reach_is_one_error),
        BENCH_TEST(an_attitude_out_of_reach_is_one_error),
        BENCH_TEST(both_out_of_reach_for_the_reserve_is_one_error),
        BENCH_TEST(both_out_of_reach_for_the_attitude_is_one_error),
        BENCH_TEST(a_reserve_comes_within_reach_by_every_remedy),
        BENCH_TEST(an_attitude_comes_within_reach_by_moving_the_bore),
        BENCH_TEST(both_come_within_reach_by_moving_one_bore),
        BENCH_TEST(remedies_hold_for_both_aims_together),
        BENCH_TEST(what_no_change_can_give_is_said_so),
        BENCH_TEST(loads_that_weigh_no_more_than_what_they_replace_reach_nothing),
        BENCH_TEST(the_nearest_is_what_its_loads_weigh),
        BENCH_TEST(no_load_of_one_bore_comes_nearer),
        BENCH_TEST(no_loads_that_keep_the_reserve_come_nearer),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
