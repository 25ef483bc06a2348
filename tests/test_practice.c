/* Common practice of the trade, for which there is no published source, and which the compiler
 * keeps all the same.  Every test here is "common practice, no source". */
#include "recipe_text.h"

#include "emit/words/words.h"
#include "model/reference.h"

#define LIP                                                                                       \
    "lip: {thickness: 2 mm, length: 34 mm, width: 20 mm, shape: round, at: 8 mm, angle: 35 deg, " \
    "slot: 6 mm}\n"
#define BORED_BALLAST "bores: [{at: 43 mm, drill: 9 mm, load: [{mass: 8 g}]}]}\n"
#define BALLAST       "ballast: {" BORED_BALLAST

static struct compilation plug(struct bench *b, struct recipe_parts more) {
    struct recipe_parts parts =
        PARTS(SWIMMER, .lip = LIP, .ballast = BALLAST, .shop = more.shop, .steps = more.steps);
    if (more.finish) parts.finish = more.finish;
    return bench_compile(b, parts);
}

static const struct operation *step_called(const struct compilation *c, const char *id) {
    int found = route_find(&c->results.run.route, str_of(id));
    if (found < 0) print_error("no operation %s\n", id);
    assert_true(found >= 0);
    return &c->results.run.route.operations[found];
}

static const char *what_of(struct bench *b, const struct compilation *c, const char *id) {
    return words_of(&b->arena, c->recipe, step_called(c, id)).what;
}

/* Whether one operation comes before another however the route is worked. */
static bool follows(const struct route *route, int before, int after) {
    if (before == after) return true;
    for (int i = 0; i < route->link_count; i++)
        if (route->links[i].after == after && follows(route, before, route->links[i].before))
            return true;
    return false;
}

static void expect_order(const struct compilation *c, const char *before, const char *after) {
    const struct route *route = &c->results.run.route;
    int one = (int)(step_called(c, before) - route->operations);
    int other = (int)(step_called(c, after) - route->operations);
    if (!follows(route, one, other)) print_error("%s is not before %s\n", before, after);
    assert_true(follows(route, one, other));
}

/* The recipe asks for the opposite order, and is refused with a reason. */
static void expect_refused(struct bench *b, const char *first, const char *second) {
    const char *steps = arena_printf(&b->arena, "steps: [{order: [%s, %s]}]\n", first, second);
    plug(b, PARTS(.steps = steps));
    assert_int_equal(b->diags.errors, 1);
    assert_int_equal(bench_count(b, "step-order"), 1);
    assert_non_null(strstr(bench_said(b), "would spoil the work"));
    assert_non_null(strstr(bench_said(b), ", because "));
}

static void the_lips_slot_is_cut_while_the_block_is_still_square(void **state) {
    struct bench *b = *state;
    struct compilation c = plug(b, PARTS(.shop = NULL));
    expect_order(&c, "slot", "saw-side");
    expect_order(&c, "slot", "saw-top");
    expect_refused(b, "saw-side", "slot");
}

static void the_float_test_comes_after_sealing_and_before_the_ballast_is_closed_in(void **state) {
    struct bench *b = *state;
    struct compilation c = plug(b, PARTS(.shop = NULL));
    expect_order(&c, "seal-2", "float-test");
    expect_order(&c, "hang", "float-test");
    expect_order(&c, "float-test", "set-ballast");
    expect_refused(b, "float-test", "seal-1");
    expect_refused(b, "set-ballast", "float-test");
}

static void the_float_test_is_done_with_the_hooks_hung_and_is_weighed_so(void **state) {
    struct compilation c = plug(*state, PARTS(.shop = NULL));
    assert_non_null(strstr(what_of(*state, &c, "float-test"), "Hang on the hooks and rings"));
    double hung = 0;
    for (int i = 0; i < c.results.masses.count; i++)
        if (c.results.masses.rows[i].stage == STAGE_RIGGED) hung += c.results.masses.rows[i].mass;
    assert_true(hung > 0.006);
    assert_close(c.results.test.burden.hung_volume, hung / 7900, 1e-9);
}

static void bright_colours_stand_on_an_opaque_ground(void **state) {
    static const char *const kinds[] = {"fluorescent", "transparent", "pearl"};
    struct bench *b = *state;
    for (int i = 0; i < 3; i++) {
        plug(b, PARTS(.finish = arena_printf(
                          &b->arena, "finish: {paint: {layers: [{colour: fire, kind: %s}]}}\n",
                          kinds[i])));
        assert_int_equal(bench_count(b, "opaque-ground"), 1);
        plug(b, PARTS(.finish =
                          arena_printf(&b->arena,
                                       "finish: {paint: {layers: [{colour: white, kind: opaque}, "
                                       "{colour: fire, kind: %s}]}}\n",
                                       kinds[i])));
        assert_int_equal(bench_count(b, "opaque-ground"), 0);
    }
}

static void paint_is_thinned_one_to_one(void **state) {
    struct compilation c = plug(*state, PARTS(.shop = NULL));
    const char *what = what_of(*state, &c, "colour-1");
    assert_non_null(strstr(what, "thin it 1:1 "));
}

static const char *finish_of(struct bench *b, const char *seal, const char *topcoat) {
    return arena_printf(&b->arena,
                        "finish:\n  seal: {kind: %s}\n"
                        "  paint: {layers: [{colour: white, kind: opaque}]}\n"
                        "  topcoat: {kind: %s}\n",
                        seal, topcoat);
}

/* What is laid brings its own dangers, and no others'. */
static void every_kind_of_coat_warns_of_itself(void **state) {
    enum {
        EPOXY = 1u << CAUTION_EPOXY,
        SOLVENT = 1u << CAUTION_SOLVENT,
        RAGS = 1u << CAUTION_OILY_RAGS,
        GLUE = 1u << CAUTION_CYANOACRYLATE,
        ISOCYANATE = 1u << CAUTION_ISOCYANATE,
        LIGHT = 1u << CAUTION_LIGHT_RESIN
    };
    static const struct {
        const char *seal;
        unsigned sealer;
        const char *topcoat;
        unsigned coat;
    } rows[] = {{"sanding sealer", SOLVENT, "epoxy", EPOXY},
                {"shellac", SOLVENT, "urethane", ISOCYANATE | SOLVENT},
                {"thinned varnish", SOLVENT | RAGS, "varnish", SOLVENT | RAGS},
                {"penetrating epoxy", EPOXY | SOLVENT, "lacquer", SOLVENT},
                {"cyanoacrylate", GLUE, "light-cured resin", LIGHT},
                {"drying oil", RAGS, "epoxy", EPOXY}};
    struct bench *b = *state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct compilation c =
            plug(b, PARTS(.finish = finish_of(b, rows[i].seal, rows[i].topcoat)));
        assert_int_equal(step_called(&c, "seal-1")->cautions, rows[i].sealer);
        assert_int_equal(step_called(&c, "reseal")->cautions, rows[i].sealer);
        assert_int_equal(step_called(&c, "topcoat-1")->cautions, rows[i].coat);
    }
}

/* Each coat dries before the next, is sanded where the row says so, and the last one is weighed. */
static void sealer_is_laid_coat_by_coat(void **state) {
    struct bench *b = *state;
    struct compilation c = plug(b, PARTS(.finish = finish_of(b, "shellac", "epoxy")));
    expect_order(&c, "seal-1", "seal-2");
    expect_order(&c, "seal-2", "seal-3");
    assert_null(strstr(what_of(b, &c, "seal-1"), "P320"));
    assert_non_null(strstr(what_of(b, &c, "seal-2"), "Sand the coat below smooth with P320"));
    assert_non_null(strstr(what_of(b, &c, "seal-1"), "Weigh one plug."));
    assert_int_equal(step_called(&c, "seal-2")->weighed, WEIGHED_NOT);
    assert_int_equal(step_called(&c, "seal-3")->weighed, WEIGHED_SEALED);
    assert_true(step_called(&c, "seal-2")->cautions & 1u << CAUTION_DUST);
    c = plug(b, PARTS(.finish = finish_of(b, "drying oil", "epoxy")));
    assert_null(strstr(what_of(b, &c, "seal-2"), "P320"));
    assert_near(step_called(&c, "seal-1")->wait, 3 * 24 * 3600, 1e-6);
    plug(b, PARTS(.steps = "steps: [{change: seal, wait: 2 h}]\n"));
    assert_non_null(strstr(b->diags.items[0].hint, "'seal-1'"));
}

/* Ten degrees colder a sealer that cures takes twice as long, and one that dries as long as ever; a
 * topcoat of epoxy or with it does not cure at all in the cold. */
static void warmth_hastens_what_cures(void **state) {
    struct bench *b = *state;
    static const struct {
        const char *seal, *topcoat;
        double sealer, coat; /* how much longer at 11 than at 21 degC */
    } rows[] = {{"penetrating epoxy", "epoxy", 2, 2},
                {"shellac", "urethane", 1, 2},
                {"drying oil", "varnish", 1, 2},
                {"cyanoacrylate", "lacquer", 1, 1},
                {"sanding sealer", "light-cured resin", 1, 1}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const char *finish = finish_of(b, rows[i].seal, rows[i].topcoat);
        struct compilation warm =
            plug(b, PARTS(.finish = finish, .shop = "shop: {temperature: 21 degC}\n"));
        double sealer = step_called(&warm, "seal-1")->wait;
        double coat = step_called(&warm, "topcoat-1")->wait;
        struct compilation cold =
            plug(b, PARTS(.finish = finish, .shop = "shop: {temperature: 11 degC}\n"));
        assert_close(step_called(&cold, "seal-1")->wait, rows[i].sealer * sealer, 1e-9);
        assert_close(step_called(&cold, "topcoat-1")->wait, rows[i].coat * coat, 1e-9);
    }
    plug(b, PARTS(.finish = finish_of(b, "penetrating epoxy", "varnish"),
                  .shop = "shop: {temperature: 8 degC}\n",
                  .steps = "steps: [{change: hang, wait: 1 d}]\n"));
    assert_non_null(strstr(bench_said(b), "the shop is too cold for the epoxy of 'seal-1'"));
}

static void balloons_make_a_lighter_filler_and_dust(void **state) {
    struct bench *b = *state;
    unsigned dust = 1u << CAUTION_PLASTIC_DUST;
    struct compilation c = plug(b, PARTS(.shop = NULL));
    assert_non_null(strstr(what_of(b, &c, "set-ballast"), "with thickened epoxy in"));
    assert_false(step_called(&c, "set-ballast")->cautions & dust);
    double heavy = mass_find(&c.results.masses, NAME_FILLER)->mass;
    struct recipe_parts parts = PARTS(SWIMMER, .ballast = "ballast: {closed with: epoxy with "
                                                          "balloons, " BORED_BALLAST);
    c = bench_compile(b, parts);
    assert_non_null(strstr(what_of(b, &c, "set-ballast"), "with epoxy with balloons in"));
    assert_true(step_called(&c, "set-ballast")->cautions & dust);
    assert_close(mass_find(&c.results.masses, NAME_FILLER)->mass / heavy, 0.7 / 1.2, 1e-9);
}

static void the_last_colour_dries_through_before_the_topcoat(void **state) {
    struct compilation c = plug(*state, PARTS(.shop = NULL));
    expect_order(&c, "colour-1", "dry-through");
    expect_order(&c, "dry-through", "topcoat-1");
    assert_near(step_called(&c, "dry-through")->wait, 12 * 3600, 1e-6);
}

static void a_plug_is_proved_in_water_when_its_topcoat_has_hardened(void **state) {
    struct compilation c = plug(*state, PARTS(.shop = "shop: {temperature: 21 degC}\n"));
    expect_order(&c, "topcoat-2", "harden");
    expect_order(&c, "harden", "prove");
    assert_near(step_called(&c, "topcoat-2")->wait + step_called(&c, "harden")->wait, 5 * 86400.0,
                1e-6);
}

/* At 21 degC; a colder shop takes longer by the ten-degree rule. */
static void two_part_epoxy_is_mixed_in_equal_parts_and_cures_a_day_on_the_wheel(void **state) {
    struct compilation c = plug(*state, PARTS(.shop = "shop: {temperature: 21 degC}\n"));
    const struct operation *last = step_called(&c, "topcoat-2");
    assert_int_equal(last->station, AT_WHEEL);
    assert_near(last->wait, 24 * 3600, 1);
    assert_non_null(strstr(what_of(*state, &c, "topcoat-1"), "Measure resin and hardener 1:1"));
    for (int i = 0; i < c.results.supply.mix_count; i++)
        assert_close(c.results.supply.mixes[i].resin, c.results.supply.mixes[i].hardener, 1e-12);
    c = plug(*state, PARTS(.shop = "shop: {temperature: 11 degC}\n"));
    assert_near(step_called(&c, "topcoat-2")->wait, 48 * 3600, 1);
}

static void eyes_are_set_and_the_lip_is_glued_before_the_topcoat(void **state) {
    struct compilation c = plug(*state, PARTS(.shop = NULL));
    expect_order(&c, "colour-1", "eyes");
    expect_order(&c, "eyes", "topcoat-1");
    expect_order(&c, "lip-glue", "topcoat-1");
    expect_order(&c, "topcoat-2", "rig");
}

static void wires_are_eighteen_gauge_stainless(void **state) {
    struct bench *b = *state;
    const struct recipe *r = bench_good(
        b, PARTS(.hardware = "hardware:\n  wire: {diameter: 18 wm, material: stainless}\n"
                             "  line tie: {place: nose}\n"));
    assert_near(r->hardware->wire->diameter, 0.0475 * 0.0254, 1e-9);
    assert_non_null(
        reference_wire_strength(r->hardware->wire->material, r->hardware->wire->diameter));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(the_lips_slot_is_cut_while_the_block_is_still_square),
        BENCH_TEST(the_float_test_comes_after_sealing_and_before_the_ballast_is_closed_in),
        BENCH_TEST(the_float_test_is_done_with_the_hooks_hung_and_is_weighed_so),
        BENCH_TEST(bright_colours_stand_on_an_opaque_ground),
        BENCH_TEST(paint_is_thinned_one_to_one),
        BENCH_TEST(every_kind_of_coat_warns_of_itself),
        BENCH_TEST(sealer_is_laid_coat_by_coat),
        BENCH_TEST(warmth_hastens_what_cures),
        BENCH_TEST(balloons_make_a_lighter_filler_and_dust),
        BENCH_TEST(the_last_colour_dries_through_before_the_topcoat),
        BENCH_TEST(a_plug_is_proved_in_water_when_its_topcoat_has_hardened),
        BENCH_TEST(two_part_epoxy_is_mixed_in_equal_parts_and_cures_a_day_on_the_wheel),
        BENCH_TEST(eyes_are_set_and_the_lip_is_glued_before_the_topcoat),
        BENCH_TEST(wires_are_eighteen_gauge_stainless),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
