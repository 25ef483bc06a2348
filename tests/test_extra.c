/* Screw eyes, other fittings, and more of what hangs on a hanger: masses and places by hand, the
 * handbook's worked figure, and where their steps fall. */
#include "recipe_text.h"

#include "compute/plug/reach.h"
#include "model/reference.h"

/* Basswood: specific gravity 0.37 at 12 % (USDA Wood Handbook, table 5-3a). */
static const char basswood[] = "wood: {species: basswood, density: 400 kg/m3}\n";
static const double steel = 7900;

#define EYES(tie, hangers) \
    "hardware:\n  line tie: " tie "\n  hangers: [" hangers "]\n  line: 100 N\n"
#define SCREW_TIE "{place: nose, screw: {mass: 1 g, shank: 20 mm, diameter: 2 mm}}"

static const struct results *computed(struct bench *b, struct recipe_parts parts) {
    struct compilation *c = NEW(&b->arena, struct compilation, 1);
    *c = bench_compile(b, parts);
    if (compilation_failed(c)) print_error("%s", bench_said(b));
    assert_false(compilation_failed(c));
    return &c->results;
}

static const struct mass_row *row_called(const struct results *r, const char *name) {
    for (int i = 0; i < r->masses.count; i++)
        if (is_called(r->masses.rows[i].item, name)) return &r->masses.rows[i];
    return NULL;
}

static int step_called(const struct results *r, const char *id) {
    for (int i = 0; i < r->run.route.count; i++)
        if (strcmp(r->run.route.operations[i].id, id) == 0) return i;
    return -1;
}

/* --- screw eyes ------------------------------------------------------------------------------ */

static void a_screws_shank_lies_in_the_wood_and_its_ring_at_the_mouth(void **state) {
    struct bench *b = *state;
    const struct results *r = computed(b, PARTS(.hardware = EYES(SCREW_TIE, "")));
    const struct mass_row *row = row_called(r, "line tie screw eye");
    assert_non_null(row);
    double shank = steel * disc(2e-3) * 20e-3;
    assert_close(row->mass, 1e-3, 1e-12);
    assert_close(row->x, shank * 10e-3 / 1e-3, 1e-12); /* the rest stands at x = 0 */
    assert_int_equal(row->stage, STAGE_HUNG);
}

static void its_pilot_takes_so_much_wood(void **state) {
    struct bench *b = *state;
    const struct results *r = computed(b, PARTS(.hardware = EYES(SCREW_TIE, "")));
    const struct pilot *pilot = &r->plug.fittings[FITTING_TIE].pilot;
    assert_close(pilot->diameter, 1.4e-3, 1e-12);
    assert_close(pilot->depth, 20e-3, 1e-12);
    double body = box_length * box_height * box_width - disc(1.4e-3) * 20e-3;
    assert_close(row_called(r, "wood")->mass, box_wood * body, 1e-9);
}

/* Wood screw of gauge 2 in wood of gravity 0.37, 0.6 in deep: 15 700 G^2 D L psi, inches. */
static void it_holds_as_the_handbook_says(void **state) {
    struct bench *b = *state;
    const struct results *r = computed(
        b, PARTS(.wood = basswood,
                 .hardware =
                     EYES("{place: nose, screw: {mass: 1 g, shank: 0.6 in, diameter: 0.086 in}}",
                          "{place: belly, at: 50 mm, hook: {size: '6'}, screw: {mass: 1 g, "
                          "shank: 0.6 in, diameter: 0.086 in}}")));
    double pounds = 15700 * 0.37 * 0.37 * 0.086 * 0.6;
    bool across = false, along = false;
    for (int i = 0; i < r->strength.count; i++) {
        const struct strength_row *row = &r->strength.rows[i];
        if (row->joint == JOINT_SCREW)
            across = true, assert_close(row->load, 4.4482216 * pounds, 1e-4);
        if (row->joint == JOINT_SCREW_END)
            along = true, assert_close(row->load, 0.75 * 4.4482216 * pounds, 1e-4);
        assert_true(row->joint != JOINT_STRANDS && row->joint != JOINT_AS_SCREW);
    }
    assert_true(across && along);
}

static void without_twisted_eyes_no_wire_is_bought(void **state) {
    struct bench *b = *state;
    const struct results *r = computed(
        b, PARTS(.hardware = EYES(
                     SCREW_TIE, "{place: tail, hook: {size: '6'}, screw: {mass: 1 g, shank: 20 mm, "
                                "diameter: 2 mm}}")));
    int screws = 0;
    for (int i = 0; i < r->supply.count; i++) {
        assert_true(r->supply.rows[i].item.key != NAME_WIRE);
        if (r->supply.rows[i].item.key == NAME_SCREW_AS_TIE) screws = (int)r->supply.rows[i].one;
    }
    assert_int_equal(screws, 2); /* two alike in one row */
    assert_int_equal(step_called(r, "hang"), -1);
    assert_true(step_called(r, "turn-in") > step_called(r, "weigh-bodies"));
    assert_true(step_called(r, "turn-in") < step_called(r, "float-test"));
}

static void one_that_goes_in_last_is_rigged(void **state) {
    struct bench *b = *state;
    const struct results *r = computed(
        b, PARTS(.hardware = EYES(
                     SCREW_TIE, "{place: tail, hook: {size: '6'}, screw: {mass: 1 g, shank: 20 mm, "
                                "diameter: 2 mm, last: true}}"),
                 .finish = "finish: {topcoat: {kind: epoxy, coats: 1}}\n"));
    assert_int_equal(row_called(r, "hanger screw eye 1")->stage, STAGE_RIGGED);
    assert_true(step_called(r, "turn-in-last") > step_called(r, "topcoat-1"));
    assert_true(step_called(r, "turn-in-last") < step_called(r, "rig"));
    struct burden test = mass_burden(&r->masses, CONDITION_TEST);
    double all = 0;
    for (int i = 0; i < r->masses.count; i++)
        if (stage_counts(r->masses.rows[i].stage, CONDITION_TEST)) all += r->masses.rows[i].mass;
    assert_close(test.mass, all, 1e-12);
}

/* --- other fittings -------------------------------------------------------------------------- */

#define FITTING(text) .steps = "fittings:\n  - {name: skirt, " text "}\n"

static void a_fitting_weighs_and_displaces_where_it_is(void **state) {
    struct bench *b = *state;
    const struct results *without = computed(b, PARTS(.head = NULL));
    double mass = without->finished.burden.mass, hung = without->finished.burden.hung_volume;
    double x = without->finished.burden.x;
    const struct results *r =
        computed(b, PARTS(FITTING("at: tail, up: -3 mm, mass: 0.5 g, count: 2")));
    const struct mass_row *row = row_called(r, "skirt");
    assert_close(row->mass, 1e-3, 1e-12);
    assert_close(row->x, box_length, 1e-12);
    assert_close(row->z, -3e-3, 1e-12);
    assert_close(row->outside, 1e-3 / steel, 1e-12);
    assert_close(r->finished.burden.mass, mass + 1e-3, 1e-12);
    assert_close(r->finished.burden.x, (x * mass + box_length * 1e-3) / (mass + 1e-3), 1e-9);
    assert_close(r->finished.burden.hung_volume, hung + 1e-3 / steel, 1e-9);
}

/* What is as heavy as the water that it displaces changes neither reserve nor level. */
static void one_as_dense_as_water_hangs_there_for_nothing(void **state) {
    struct bench *b = *state;
    const struct results *without = computed(b, PARTS(.head = NULL));
    double volume = 2e-6, mass = volume * without->plug.water;
    double slack = without->finished.rest.capacity - without->finished.burden.mass;
    const struct results *r =
        computed(b, PARTS(.steps = arena_printf(
                              &b->arena,
                              "fittings:\n  - {name: bag, at: 50 mm, mass: %.9f g, volume: 2 ml}\n",
                              mass * 1e3)));
    assert_close(r->finished.rest.capacity - r->finished.burden.mass, slack, 1e-6);
}

static void fittings_fall_where_their_stage_says(void **state) {
    struct bench *b = *state;
    const struct results *r = computed(
        b, PARTS(.finish = "finish:\n  paint: {layers: [{colour: white, kind: opaque}]}\n"
                           "  topcoat: {kind: epoxy, coats: 1}\n",
                 .steps = "fittings:\n  - {name: keel, at: 50 mm, mass: 1 g, stage: hung}\n"
                          "  - {name: sticker, at: 50 mm, mass: 1 g, stage: painted}\n"
                          "  - {name: propeller, at: tail, mass: 1 g}\n"
                          "  - {name: second propeller, at: nose, mass: 1 g}\n"));
    assert_true(step_called(r, "fit-early-1") < step_called(r, "float-test"));
    assert_true(step_called(r, "fit-on-paint-1") > step_called(r, "colour-1"));
    assert_true(step_called(r, "fit-on-paint-1") < step_called(r, "topcoat-1"));
    assert_true(step_called(r, "fit-last-1") > step_called(r, "topcoat-1"));
    assert_true(step_called(r, "fit-last-2") > step_called(r, "fit-last-1"));
    assert_true(step_called(r, "fit-last-2") < step_called(r, "prove"));
    struct burden test = mass_burden(&r->masses, CONDITION_TEST);
    struct burden finished = mass_burden(&r->masses, CONDITION_FINISHED);
    assert_true(finished.mass - test.mass > 1e-3); /* the sticker comes after the test */
}

/* --- hooks, rings, links --------------------------------------------------------------------- */

static void two_hooks_a_ring_by_size_and_a_link(void **state) {
    struct bench *b = *state;
    const struct results *r = computed(
        b, PARTS(.hardware =
                     "hardware:\n  wire: {diameter: 1 mm}\n  line tie: {place: nose}\n  hangers: ["
                     "{place: tail, eye: 3 mm, hook: {kind: single, size: '2', count: 2}, ring: "
                     "{size: '4'}, "
                     "link: {mass: 0.3 g, length: 11 mm}}]\n"));
    const struct hook_row *hook = reference_hook_of(HOOK_SINGLE, str_of("2"));
    const struct ring_row *ring = reference_ring_of(str_of("4"));
    assert_close(row_called(r, "hook 1")->mass, 2 * hook->mass, 1e-12);
    assert_close(row_called(r, "ring 1")->mass, ring->mass, 1e-12);
    assert_close(row_called(r, "link 1")->mass, 0.3e-3, 1e-12);
    const struct fitting *hanger = r->plug.fittings[FITTING_HANGERS].fitting;
    assert_close(reach_swing(hanger), 3e-3 + 11e-3 + ring_length(hanger->ring) + hook->length,
                 1e-12);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(a_screws_shank_lies_in_the_wood_and_its_ring_at_the_mouth),
        BENCH_TEST(its_pilot_takes_so_much_wood),
        BENCH_TEST(it_holds_as_the_handbook_says),
        BENCH_TEST(without_twisted_eyes_no_wire_is_bought),
        BENCH_TEST(one_that_goes_in_last_is_rigged),
        BENCH_TEST(a_fitting_weighs_and_displaces_where_it_is),
        BENCH_TEST(one_as_dense_as_water_hangs_there_for_nothing),
        BENCH_TEST(fittings_fall_where_their_stage_says),
        BENCH_TEST(two_hooks_a_ring_by_size_and_a_link),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
