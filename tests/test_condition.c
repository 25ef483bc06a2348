/* The plug in the water as a whole: closed forms on a bar, and what must not change with its size
 * or with the end that it is looked at from. */
#include "recipe_text.h"

#include "compute/ballast/ballast.h"
#include "compute/plug/condition.h"

struct afloat {
    const struct recipe *recipe;
    struct plug plug;
    struct condition test, finished;
};

static struct afloat put_afloat(struct bench *b, struct recipe_parts parts) {
    struct afloat a = {.recipe = bench_good(b, parts)};
    a.plug = plug_of(&b->arena, a.recipe);
    struct ballast_result ballast = ballast_of(&b->arena, &a.plug);
    struct mass_list masses = mass_rows(&b->arena, &a.plug, ballast.fills);
    double loads = 0;
    for (int i = 0; i < ballast.bore_count; i++) loads += ballast.fills[i].load;
    struct burden test = mass_burden(&masses, CONDITION_TEST);
    struct burden finished = mass_burden(&masses, CONDITION_FINISHED);
    a.test = condition_of(&a.plug, &test, CONDITION_TEST, loads);
    a.finished = condition_of(&a.plug, &finished, CONDITION_FINISHED, loads);
    return a;
}

/* --- a plank, by hand ------------------------------------------------------------------------ */

/* 100 x 10 x 30 mm on its flat, tied on the back in the middle: it lies level, with a draught of
 * mass / (water L w) and GM = w^2 / (12 draught) + draught / 2 - height of G above the keel. */
static void a_plank_floats_by_hand_calculation(void **state) {
    struct afloat a = put_afloat(
        *state, PARTS(.body = "body:\n  length: 100 mm\n  section: {shape: square}\n  stations:\n"
                              "    - {at: 0 %, back: 5 mm, belly: 5 mm, width: 30 mm}\n"
                              "    - {at: 100 %, back: 5 mm, belly: 5 mm, width: 30 mm}\n",
                      .hardware = "hardware:\n  wire: {diameter: 1 mm}\n"
                                  "  line tie: {place: back, at: 50 mm, depth: 5 mm}\n"));
    const struct condition *c = &a.finished;
    double capacity = a.plug.water * 0.100 * 0.010 * 0.030;
    double draught = c->burden.mass / (a.plug.water * 0.100 * 0.030);
    double gravity = c->burden.z + 0.005;
    assert_close(c->rest.capacity, capacity, 1e-7);
    assert_near(c->rest.reserve, 1 - c->burden.mass / capacity, 1e-9);
    assert_near(c->rest.attitude, 0, 1e-7);
    assert_near(c->waterline_nose, draught - 0.005, 1e-7);
    assert_near(c->waterline_tail, draught - 0.005, 1e-7);
    assert_close(c->rest.gm, 0.030 * 0.030 / (12 * draught) + draught / 2 - gravity, 1e-5);
    assert_true(c->stable);
    assert_int_equal(c->state, STATE_FLOATS);
    /* nothing but its own wood and wire: float test and finished plug are the same */
    assert_near(a.test.rest.reserve, c->rest.reserve, 1e-12);
}

/* One millimetre of sideways error leans the plug by atan(m 1 mm / (M GM)). */
static void lean_is_the_moment_of_the_ballast_over_that_of_the_plug(void **state) {
    struct afloat a =
        put_afloat(*state, PARTS(SWIMMER, .ballast = "ballast: {bores: [{at: 45 mm, drill: "
                                                     "10 mm, load: [{mass: 8 g}]}, {at: "
                                                     "85 mm, drill: 8 mm, load: [{mass: "
                                                     "3 g}]}]}\n"));
    const struct condition *c = &a.finished;
    assert_close(c->ballast_mass, 0.011, 1e-12);
    assert_true(c->lean_given);
    assert_close(condition_lean(c, c->ballast_mass, 0.001),
                 atan(0.011 * 0.001 / (c->burden.mass * c->rest.gm)), 1e-12);
}

/* Half a per cent either way of what it displaces at most. */
static void a_plug_floats_suspends_or_sinks_by_its_reserve(void **state) {
    static const struct {
        double reserve;
        enum float_state state;
        bool waterline;
    } cases[] = {
        {0.60, STATE_FLOATS, true},     {0.51, STATE_FLOATS, true},
        {0.49, STATE_SUSPENDS, true},   {0.06, STATE_SUSPENDS, true},
        {0.04, STATE_SUSPENDS, false},  {-0.04, STATE_SUSPENDS, false},
        {-0.49, STATE_SUSPENDS, false}, {-0.51, STATE_SINKS, false},
        {-5, STATE_SINKS, false},
    };
    struct bench *b = *state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        const char *ballast = arena_printf(&b->arena,
                                           "ballast: {aim: {reserve: %.6f %%}, bores: [{at: 52 mm, "
                                           "drill: 10 mm, load: solve}]}\n",
                                           cases[i].reserve);
        struct afloat a = put_afloat(b, PARTS(SWIMMER, .ballast = ballast));
        assert_near(a.finished.rest.reserve, cases[i].reserve / 100, 1e-8);
        assert_int_equal(a.finished.state, cases[i].state);
        assert_int_equal(a.finished.waterline_given, cases[i].waterline);
        assert_int_equal(a.finished.speed > 0, cases[i].reserve > 0);
    }
}

/* --- size and side --------------------------------------------------------------------------- */

/* A plug with all its lengths times k: wire and hooks as well, so every mass is times k^3. */
static struct afloat at_scale(struct bench *b, double k) {
    struct buf body = {.arena = &b->arena};
    static const double rows[][4] = {
        {0, 3, 3, 6}, {14, 9, 12, 17}, {49, 13, 16, 24}, {98, 10, 11, 18}, {140, 3, 3, 5}};
    buf_printf(&body,
               "body:\n  length: %.9f mm\n  section: {shape: rounded, radius: %.9f mm}\n"
               "  stations:\n",
               140 * k, 5 * k);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        buf_printf(&body, "    - {at: %.9f mm, back: %.9f mm, belly: %.9f mm, width: %.9f mm}\n",
                   rows[i][0] * k, rows[i][1] * k, rows[i][2] * k, rows[i][3] * k);
    double cube = k * k * k;
    return put_afloat(
        b, PARTS(.body = body.data,
                 .hardware = arena_printf(
                     &b->arena,
                     "hardware:\n  wire: {diameter: %.9f mm}\n"
                     "  line tie: {place: nose, depth: %.9f mm, eye: %.9f mm}\n  hangers:\n"
                     "    - {place: belly, at: %.9f mm, depth: %.9f mm, eye: %.9f mm, "
                     "hook: {mass: %.9f g}}\n",
                     1.2 * k, 18 * k, 3 * k, 62 * k, 12 * k, 3 * k, 4.4 * cube),
                 .lip = arena_printf(
                     &b->arena,
                     "lip: {thickness: %.9f mm, length: %.9f mm, width: %.9f mm, shape: "
                     "round, at: %.9f mm, angle: 35 deg, slot: %.9f mm}\n",
                     2 * k, 34 * k, 20 * k, 8 * k, 10 * k),
                 .ballast =
                     arena_printf(&b->arena,
                                  "ballast: {cover: %.9f mm, bores: [{at: %.9f mm, drill: %.9f mm, "
                                  "load: [{mass: %.9f g}]}]}\n",
                                  2 * k, 45 * k, 9 * k, 7 * cube),
                 .finish = arena_printf(
                     &b->arena, "finish: {topcoat: {kind: epoxy, film: %.9f mm}}\n", 0.25 * k)));
}

static void size_changes_lengths_and_masses_and_no_angle(void **state) {
    struct bench *b = *state;
    struct afloat one = at_scale(b, 1);
    assert_true(fabs(one.finished.rest.attitude) > one_degree); /* or this would show nothing */
    static const double scales[] = {0.6, 1.5, 2.5};
    for (size_t i = 0; i < sizeof scales / sizeof *scales; i++) {
        double k = scales[i];
        struct afloat other = at_scale(b, k);
        const struct condition *pairs[][2] = {{&one.test, &other.test},
                                              {&one.finished, &other.finished}};
        for (int p = 0; p < 2; p++) {
            const struct condition *c = pairs[p][0], *d = pairs[p][1];
            assert_close(d->burden.mass, c->burden.mass * k * k * k, 1e-7);
            assert_near(d->rest.reserve, c->rest.reserve, 1e-7);
            assert_near(d->rest.attitude, c->rest.attitude, 1e-6);
            assert_close(d->waterline_nose, c->waterline_nose * k, 1e-5);
            assert_close(d->waterline_tail, c->waterline_tail * k, 1e-5);
            assert_close(d->rest.gm, c->rest.gm * k, 1e-4);
            for (int a = 0; a < RIGHTING_STEPS; a++)
                assert_near(d->righting.arm[a], c->righting.arm[a] * k, 1e-6 * k);
            assert_near(d->righting.vanishing, c->righting.vanishing, 1e-4);
            assert_close(d->speed, c->speed * sqrt(k), 1e-6); /* Froude's law */
        }
    }
}

/* The same plug with nose and tail exchanged. */
static struct afloat seen_from(struct bench *b, bool tail_first) {
    static const double rows[][4] = {
        {0, 3, 3, 6}, {20, 9, 12, 17}, {50, 13, 16, 24}, {95, 10, 11, 18}, {140, 2, 4, 5}};
    struct buf body = {.arena = &b->arena};
    buf_text(&body, "body:\n  length: 140 mm\n  section: {shape: oval}\n  stations:\n");
    for (int i = 0; i < 5; i++) {
        const double *row = rows[tail_first ? 4 - i : i];
        buf_printf(&body, "    - {at: %g mm, back: %g mm, belly: %g mm, width: %g mm}\n",
                   tail_first ? 140 - row[0] : row[0], row[1], row[2], row[3]);
    }
#define AT(x) (tail_first ? 140.0 - (x) : (x))
    return put_afloat(
        b,
        PARTS(.body = body.data,
              .hardware = arena_printf(&b->arena,
                                       "hardware:\n  wire: {diameter: 1.2 mm}\n"
                                       "  line tie: {place: back, at: %g mm}\n  hangers:\n"
                                       "    - {place: belly, at: %g mm, hook: {mass: 3 g}}\n",
                                       AT(12), AT(60)),
              .ballast = arena_printf(&b->arena,
                                      "ballast: {bores: [{at: %g mm, drill: 9 mm, load: [{mass: 6 "
                                      "g}]}]}\n",
                                      AT(40)),
              .eyes = arena_printf(&b->arena, "eyes: {size: 6 mm, at: %g mm, up: 2 mm}\n", AT(18)),
              .finish = swimmer_finish));
#undef AT
}

static void a_plug_turned_end_for_end_lies_the_other_way(void **state) {
    struct afloat one = seen_from(*state, false), other = seen_from(*state, true);
    const struct condition *c = &one.finished, *d = &other.finished;
    assert_true(fabs(c->rest.attitude) > one_degree);
    assert_close(d->burden.mass, c->burden.mass, 1e-9);
    assert_near(d->burden.x, 0.140 - c->burden.x, 1e-8);
    assert_near(d->burden.z, c->burden.z, 1e-8);
    assert_near(d->rest.attitude, -c->rest.attitude, 1e-6);
    assert_near(d->waterline_nose, c->waterline_tail, 1e-8);
    assert_near(d->waterline_tail, c->waterline_nose, 1e-8);
    assert_near(d->rest.gm, c->rest.gm, 1e-7);
    for (int i = 0; i < RIGHTING_STEPS; i++)
        assert_near(d->righting.arm[i], c->righting.arm[i], 1e-7);
}

static void salt_water_carries_more(void **state) {
    struct afloat fresh = put_afloat(*state, PARTS(SWIMMER));
    struct afloat salt = put_afloat(
        *state, PARTS(SWIMMER, .water = "water: {temperature: 15 degC, salinity: 35 g/kg}\n"));
    /* EOS-80 (UNESCO 1983): 1025.97275 kg/m3 at 15 degC and 35; 999.1 without salt */
    assert_near(salt.plug.water, 1025.973, 0.001);
    assert_true(salt.finished.rest.reserve > fresh.finished.rest.reserve);
    assert_close(salt.finished.rest.capacity / fresh.finished.rest.capacity,
                 salt.plug.water / fresh.plug.water, 1e-9);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(a_plank_floats_by_hand_calculation),
        BENCH_TEST(lean_is_the_moment_of_the_ballast_over_that_of_the_plug),
        BENCH_TEST(a_plug_floats_suspends_or_sinks_by_its_reserve),
        BENCH_TEST(size_changes_lengths_and_masses_and_no_angle),
        BENCH_TEST(a_plug_turned_end_for_end_lies_the_other_way),
        BENCH_TEST(salt_water_carries_more),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
