/* What the bench told: a plug that is built of other wood than computed must be found out. */
#include "recipe_text.h"

static const char two_bores[] = "ballast:\n  aim: {reserve: 12 %, attitude: 3 deg}\n  bores:\n"
                                "    - {at: 40 mm, drill: 9 mm, load: solve}\n"
                                "    - {at: 90 mm, drill: 9 mm, load: solve}\n";
static const char *const table_wood = "wood: {species: basswood, moisture: 8 %}\n";

static struct compilation good(struct bench *b, struct recipe_parts parts) {
    struct compilation c = bench_compile(b, parts);
    if (c.diags.errors) print_error("%s", bench_said(b));
    assert_int_equal(c.diags.errors, 0);
    return c;
}

static const char *text(struct bench *b, const char *format, double a, double c) {
    struct buf out = {.arena = &b->arena};
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
    buf_printf(&out, format, a, c);
#pragma GCC diagnostic pop
    return out.data;
}

/* A plug as the table says, its loads as solved; and the same plug in wood that is 30 kg/m3 denser,
 * with those loads, which stands in the water as a builder would read it. */
static void a_waterline_tells_the_density(void **state) {
    struct bench *b = *state;
    struct compilation planned = good(b, PARTS(SWIMMER, .wood = table_wood, .ballast = two_bores));
    double density = planned.results.plug.wood_density + 30;
    const char *loads = text(b,
                             "ballast:\n  bores:\n"
                             "    - {at: 40 mm, drill: 9 mm, load: [{mass: %.9f g}]}\n"
                             "    - {at: 90 mm, drill: 9 mm, load: [{mass: %.9f g}]}\n",
                             planned.results.ballast.fills[0].load * 1e3,
                             planned.results.ballast.fills[1].load * 1e3);
    struct compilation built = good(
        b, PARTS(SWIMMER,
                 .wood = text(b, "wood: {species: basswood, density: %.9f kg/m3}\n", density, 0),
                 .ballast = loads));
    struct compilation read =
        good(b, PARTS(SWIMMER, .wood = table_wood, .ballast = two_bores,
                      .measured = text(b, "measured: {float: {nose: %.9f mm, tail: %.9f mm}}\n",
                                       built.results.test.waterline_nose * 1e3,
                                       built.results.test.waterline_tail * 1e3)));
    const struct correction *c = &read.results.correction;
    assert_int_equal(c->by, CORRECTED_BY_FLOAT);
    assert_int_equal(c->cause, CAUSE_WOOD);
    assert_near(c->wood_density, density, 0.1);
    /* half a millimetre over the waterplane: some square centimetres of water, to within a gram */
    assert_true(c->density_doubt > 1 && c->density_doubt < 60);
    assert_true(c->solvable && !c->closed);
    /* the corrected loads are those of that wood */
    struct compilation anew = good(
        b, PARTS(SWIMMER,
                 .wood = text(b, "wood: {species: basswood, density: %.9f kg/m3}\n", density, 0),
                 .ballast = two_bores));
    for (int i = 0; i < 2; i++) assert_near(c->load[i], anew.results.ballast.fills[i].load, 5e-6);
}

static void a_heavy_sealed_body_of_weighed_wood_took_more_sealer(void **state) {
    struct bench *b = *state;
    const char *weighed = "wood: {species: basswood, density: 400 kg/m3}\n";
    struct compilation planned = good(b, PARTS(SWIMMER, .wood = weighed, .ballast = two_bores));
    double sealed = 0, more = 0.5e-3;
    for (int i = 0; i < planned.results.masses.count; i++) {
        const struct mass_row *row = &planned.results.masses.rows[i];
        if (row->stage == STAGE_SHAPED || row->stage == STAGE_HUNG || row->stage == STAGE_SEALED)
            sealed += row->mass;
    }
    struct compilation read = good(
        b, PARTS(SWIMMER, .wood = weighed, .ballast = two_bores,
                 .measured = text(b, "measured: {sealed: %.9f g}\n", (sealed + more) * 1e3, 0)));
    const struct correction *c = &read.results.correction;
    assert_int_equal(c->by, CORRECTED_BY_SEALED);
    assert_int_equal(c->cause, CAUSE_SEALER);
    assert_near(c->excess, more, 1e-9);
    /* two coats at 40 g/m2, the default, and what was found besides */
    assert_close(c->uptake, 0.040 + more / (2 * planned.results.plug.bare.surface), 1e-6);
    assert_true(c->as_built.reserve < planned.results.finished.rest.reserve);
    double before = planned.results.ballast.fills[0].load + planned.results.ballast.fills[1].load;
    assert_true(c->load[0] + c->load[1] < before);
}

static double sealed_mass(const struct results *r) {
    return mass_tally(&r->masses, SEALED_STAGES).mass;
}

/* A balance may be off by 0.1 g, a rule by 0.5 mm at either end of the waterline. */
static void what_the_bench_cannot_tell_corrects_nothing(void **state) {
    struct bench *b = *state;
    static const double more[] = {0, 0.09e-3, -0.09e-3, 0.11e-3, -0.11e-3};
    struct compilation planned = good(b, PARTS(SWIMMER, .wood = table_wood, .ballast = two_bores));
    double sealed = sealed_mass(&planned.results);
    for (size_t i = 0; i < sizeof more / sizeof *more; i++) {
        struct compilation read = good(b, PARTS(SWIMMER, .wood = table_wood, .ballast = two_bores,
                                                .measured = text(b, "measured: {sealed: %.9f g}\n",
                                                                 (sealed + more[i]) * 1e3, 0)));
        assert_int_equal(read.results.correction.told, i >= 3);
    }
    static const double up[] = {0, 0.4, -0.4, 0.6, -0.6}; /* mm, both ends */
    for (size_t i = 0; i < sizeof up / sizeof *up; i++) {
        struct compilation read =
            good(b, PARTS(SWIMMER, .wood = table_wood, .ballast = two_bores,
                          .measured = text(b, "measured: {float: {nose: %.9f mm, tail: %.9f mm}}\n",
                                           planned.results.test.waterline_nose * 1e3 + up[i],
                                           planned.results.test.waterline_tail * 1e3 + up[i])));
        assert_int_equal(read.results.correction.told, i >= 3);
    }
}

/* A body that is 3 g lighter than computed asks for more than bores of given depth hold. */
static void loads_that_do_not_fit_correct_nothing(void **state) {
    struct bench *b = *state;
    const char *ballast = "ballast:\n  aim: {reserve: 12 %, attitude: 3 deg}\n  bores:\n"
                          "    - {at: 40 mm, drill: 9 mm, depth: 15.5 mm, load: solve}\n"
                          "    - {at: 90 mm, drill: 9 mm, depth: 12 mm, load: solve}\n";
    struct compilation planned = good(b, PARTS(SWIMMER, .wood = table_wood, .ballast = ballast));
    double sealed = sealed_mass(&planned.results);
    for (int i = 0; i < 2; i++) {
        double less = i ? 3 : 0.2;
        struct compilation read = good(
            b, PARTS(SWIMMER, .wood = table_wood, .ballast = ballast,
                     .measured = text(b, "measured: {sealed: %.9f g}\n", sealed * 1e3 - less, 0)));
        const struct correction *c = &read.results.correction;
        double first = bore_slug(&read.results.plug, 0, c->load[0]);
        double second = bore_slug(&read.results.plug, 1, c->load[1]);
        assert_true(c->told && c->solvable);
        assert_int_equal(c->fits, first <= 0.0155 && second <= 0.012);
        assert_int_equal(c->fits, i == 0);
    }
}

static void a_finished_plug_is_closed(void **state) {
    struct bench *b = *state;
    struct compilation read =
        good(b, PARTS(SWIMMER, .wood = table_wood, .ballast = two_bores,
                      .measured = "measured: {finished: 40 g, float: {nose: 4 mm, tail: 3 mm}}\n"));
    assert_true(read.results.correction.closed);
}

static void without_readings_nothing_is_corrected(void **state) {
    struct bench *b = *state;
    struct compilation c = good(b, PARTS(SWIMMER, .ballast = two_bores));
    assert_int_equal(c.results.correction.by, CORRECTED_BY_NOTHING);
}

/* One side of a submerged box of width 2a grows by e: it gains e h L of volume at a + e/2 from the
 * middle, lifted by water less wood; small angles: tan(heel) = moment / (M GM). */
static void a_fat_side_of_a_box_leans_by_its_moment(void **state) {
    struct bench *b = *state;
    struct compilation c =
        good(b, PARTS(.ballast = "ballast:\n  bores:\n"
                                 "    - {at: 50 mm, drill: 12 mm, load: [{mass: 14 g}]}\n"
                                 "    - {at: 30 mm, drill: 8 mm, load: [{mass: 6 g}]}\n"
                                 "    - {at: 70 mm, drill: 8 mm, load: [{mass: 6 g}]}\n"));
    const struct results *r = &c.results;
    assert_false(r->finished.rest.afloat);
    assert_true(r->fat_side_given);
    double e = 1e-3, a = box_width / 2;
    double moment = (r->plug.water - box_wood) * e * box_height * box_length * (a + e / 2);
    assert_close(tan(r->fat_side_lean), moment / (r->finished.burden.mass * r->finished.rest.gm),
                 1e-3);
}

/* Of a box what is under a slanting surface is its length times its width times the mean depth at
 * both ends, and the surface cuts it in its plan over the cosine of the slant. */
static void a_box_floats_with_the_mass_of_its_mean_depth(void **state) {
    struct bench *b = *state;
    static const struct water_level levels[] = {
        {0, 0}, {0.004, 0.004}, {0.002, -0.005}, {-0.006, 0.008}};
    struct plug plug = plug_of(&b->arena, bench_good(b, PARTS(0)));
    double rule = 0.5e-3, hung = 0.8e-6, plan = box_length * box_width;
    for (size_t i = 0; i < sizeof levels / sizeof *levels; i++) {
        double depth = box_height / 2 + (levels[i].nose + levels[i].tail) / 2, doubt;
        double slant = hypot(box_length, levels[i].nose - levels[i].tail) / box_length;
        double mass = correction_mass_afloat(&plug, levels[i], hung, &doubt);
        assert_close(mass, plug.water * (plan * depth + hung), 1e-9);
        assert_close(doubt, plug.water * plan * slant * rule, 1e-9);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(a_waterline_tells_the_density),
        BENCH_TEST(a_heavy_sealed_body_of_weighed_wood_took_more_sealer),
        BENCH_TEST(what_the_bench_cannot_tell_corrects_nothing),
        BENCH_TEST(loads_that_do_not_fit_correct_nothing),
        BENCH_TEST(a_finished_plug_is_closed),
        BENCH_TEST(without_readings_nothing_is_corrected),
        BENCH_TEST(a_fat_side_of_a_box_leans_by_its_moment),
        BENCH_TEST(a_box_floats_with_the_mass_of_its_mean_depth),
    };
    return cmocka_run_group_tests_name("correction", tests, NULL, NULL);
}
