/* The through wire: the box's kerf by hand, a wedge and an ellipsoid's by their integrals, and what
 * conservation asks of wood that is sawn out and put back. */
#include "recipe_text.h"

#include "compute/plug/through.h"

#define WIRED(through, hangers)                                \
    "hardware:\n  wire: {diameter: 1 mm}\n  through: " through \
    "\n  line tie: {place: nose, eye: 4 mm}\n"                 \
    "  hangers: [" hangers "]\n  line: 100 N\n"

static const double wire_density = 7900; /* of stainless steel, grammar/tables/metal.def */

static const struct compilation *compiled(struct bench *b, struct recipe_parts parts) {
    struct compilation *c = NEW(&b->arena, struct compilation, 1);
    *c = bench_compile(b, parts);
    return c;
}

static const struct results *computed(struct bench *b, struct recipe_parts parts) {
    const struct compilation *c = compiled(b, parts);
    if (compilation_failed(c)) print_error("%s", bench_said(b));
    assert_false(compilation_failed(c));
    return &c->results;
}

static const struct mass_row *row_called(const struct results *r, const char *name) {
    for (int i = 0; i < r->masses.count; i++)
        if (is_called(r->masses.rows[i].item, name)) return &r->masses.rows[i];
    return NULL;
}

static void a_boxs_kerf_is_a_slab(void **state) {
    struct bench *b = *state;
    const struct results *r =
        computed(b, PARTS(.hardware = WIRED("{from: belly, kerf: 2 mm, up: 3 mm}", "")));
    const struct through_fit *fit = &r->plug.through;
    assert_close(fit->kerf, 2e-3 * 13e-3 * box_length, 1e-12);
    assert_close(fit->kerf_x, box_length / 2, 1e-12);
    assert_close(fit->kerf_z, -3.5e-3, 1e-12);
    assert_close(fit->closed, fit->kerf - disc(1e-3) * box_length, 1e-12);
    const struct results *back =
        computed(b, PARTS(.hardware = WIRED("{from: back, kerf: 2 mm, up: 3 mm}", "")));
    assert_close(back->plug.through.kerf, 2e-3 * 7e-3 * box_length, 1e-12);
    assert_close(back->plug.through.kerf_z, 6.5e-3, 1e-12);
}

/* L + 2 (pi (eye + d) + 3 pi 2 d), from its middle; its mass acts at half the body's length. */
static void the_wire_is_as_long_as_its_parts(void **state) {
    struct bench *b = *state;
    const struct results *r = computed(b, PARTS(.hardware = WIRED("{up: 1 mm}", "")));
    double length = box_length + 2 * (circle * 5e-3 + 3 * circle * 2e-3);
    assert_close(r->plug.through.wire, length, 1e-12);
    const struct mass_row *row = row_called(r, "through wire");
    assert_close(row->mass, wire_density * disc(1e-3) * length, 5e-3);
    assert_close(row->x, box_length / 2, 1e-12);
    assert_close(row->z, 1e-3, 1e-12);
    assert_int_equal(row->stage, STAGE_HUNG);
}

/* A body whose belly falls in a straight line from 5 to 15 mm: the kerf is a trapezium. */
static void a_wedges_kerf_is_a_trapezium(void **state) {
    struct bench *b = *state;
    const struct results *r = computed(
        b, PARTS(.body = "body:\n  length: 100 mm\n  section: {shape: square}\n  stations:\n"
                         "    - {at: 0 mm, back: 10 mm, belly: 5 mm, width: 20 mm}\n"
                         "    - {at: 100 mm, back: 10 mm, belly: 15 mm, width: 20 mm}\n",
                 .hardware = WIRED("{from: belly, kerf: 1.5 mm}", "")));
    const struct through_fit *fit = &r->plug.through;
    assert_close(fit->kerf, 1.5e-3 * 0.1 * 10e-3, 1e-12);
    assert_close(fit->kerf_x, 0.1 / 3 * (5 + 2 * 15) / (5 + 15), 1e-9);
    assert_close(fit->kerf_z, -(5e-3 * 5e-3 + 5e-3 * 15e-3 + 15e-3 * 15e-3) / 3 / (2 * 10e-3),
                 1e-9);
}

/* Sawn out and closed with a strip of the same wood, the body has lost no more than the wire's
 * room; what it displaces stays as it was. */
static void a_strip_puts_the_wood_back(void **state) {
    struct bench *b = *state;
    const struct results *plain =
        computed(b, PARTS(.hardware = "hardware:\n  wire: {diameter: 1 mm}\n"
                                      "  line tie: {place: nose, pilot: 0.3 mm, depth: 2 mm}\n"));
    double wood = row_called(plain, "wood")->mass + box_wood * disc(0.3e-3) * 2e-3;
    double capacity = plain->finished.rest.capacity;
    const struct results *r = computed(b, PARTS(.hardware = WIRED("{kerf: 3 mm}", "")));
    double sum = row_called(r, "wood")->mass + row_called(r, "strip in the kerf")->mass;
    assert_close(sum, wood - box_wood * disc(1e-3) * box_length, 1e-9);
    assert_close(r->finished.rest.capacity, capacity, 1e-9);
    assert_close(plug_body_mass(&r->plug), row_called(r, "wood")->mass, 1e-9);
}

static void filler_weighs_what_it_weighs(void **state) {
    struct bench *b = *state;
    const struct results *r =
        computed(b, PARTS(.hardware = WIRED("{kerf: 2 mm, close: filler, filler: 0.6 g/cm3}", "")));
    double kerf = 2e-3 * 10e-3 * box_length;
    assert_close(row_called(r, "filler in the kerf")->mass, 600 * (kerf - disc(1e-3) * box_length),
                 1e-9);
}

static void a_hanger_is_an_eye_round_the_wire(void **state) {
    struct bench *b = *state;
    const struct results *r = computed(
        b, PARTS(.hardware = WIRED("{from: back, up: 2 mm}",
                                   "{place: belly, at: 50 mm, eye: 3 mm, hook: {size: '6'}}")));
    const struct fitted *hanger = &r->plug.fittings[FITTING_HANGERS];
    assert_close(hanger->pilot.depth, 12e-3, 1e-12);
    assert_close(hanger->twisted + hanger->looped, 2 * 12e-3 + circle * 4e-3, 1e-12);
    const struct pilot *tie = &r->plug.fittings[FITTING_TIE].pilot;
    assert_true(tie->given && !pilot_bored(tie));
    assert_close(tie->mouth_z, 2e-3, 1e-12);
    for (int i = 0; i < r->strength.count; i++) {
        enum joint joint = r->strength.rows[i].joint;
        assert_true(joint != JOINT_STRANDS && joint != JOINT_AS_SCREW && joint != JOINT_AS_NAIL);
        if (joint == JOINT_THROUGH) /* 0.037 to 0.041 in: 275 ksi */
            assert_close(r->strength.rows[i].load, disc(1e-3) * 275 * 6.894757e6, 1e-4);
    }
}

static void a_bore_into_the_kerf_is_an_error_and_one_from_the_other_side_is_none(void **state) {
    struct bench *b = *state;
    const char *bore = "ballast: {bores: [{at: 50 mm, drill: 6 mm, load: [{mass: 1 g}]}]}\n";
    compiled(b, PARTS(.hardware = WIRED("{from: belly}", ""), .ballast = bore));
    assert_int_equal(bench_count(b, "through"), 1);
    assert_non_null(
        strstr(bench_said(b), "error through: bore 1 meets the kerf of the through wire"));
    computed(b, PARTS(.hardware = WIRED("{from: back}", ""), .ballast = bore));
    assert_int_equal(bench_count(b, "through"), 0);
    compiled(b, PARTS(.hardware = WIRED("{from: back}", ""),
                      .ballast = "ballast: {bores: [{at: 50 mm, drill: 6 mm, depth: 9 mm, load: "
                                 "[{mass: 1 g}]}]}\n"));
    assert_non_null(
        strstr(bench_said(b), "warning through: only 0.5 mm between bore 1 and the kerf"));
}

static void eyes_of_the_flanks_are_clear_beside_it(void **state) {
    struct bench *b = *state;
    const struct results *r =
        computed(b, PARTS(.hardware = WIRED("{from: back, kerf: 2 mm}", ""),
                          .eyes = "eyes: {size: 4 mm, depth: 3 mm, at: 20 mm, up: 5 mm}\n"));
    for (int i = 0; i < r->clearances.count; i++)
        if (r->clearances.openings[i].kind == OPENING_SOCKETS)
            assert_close(through_distance(&r->plug, &r->clearances.openings[i]),
                         10e-3 - 3e-3 - 1e-3, 1e-9);
}

static void a_wire_that_leaves_the_wood_is_an_error(void **state) {
    struct bench *b = *state;
    compiled(b, PARTS(.hardware = WIRED("{up: 9 mm}", "")));
    assert_int_equal(bench_count(b, "through"), 1);
}

static void its_steps_stand_where_they_must(void **state) {
    struct bench *b = *state;
    const struct results *r =
        computed(b, PARTS(.hardware = WIRED("{}", ""), .finish = "finish: {seal: {}}\n"));
    static const char *const due[] = {"layout",   "saw-kerf",  "saw-side", "weigh-bodies",
                                      "lay-wire", "pare-kerf", "seal-1"};
    int next = 0, count = sizeof due / sizeof *due;
    for (int i = 0; i < r->run.route.count; i++) {
        assert_string_not_equal(r->run.route.operations[i].id, "hang");
        if (next < count && strcmp(r->run.route.operations[i].id, due[next]) == 0) next++;
    }
    assert_int_equal(next, count);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(a_boxs_kerf_is_a_slab),
        BENCH_TEST(the_wire_is_as_long_as_its_parts),
        BENCH_TEST(a_wedges_kerf_is_a_trapezium),
        BENCH_TEST(a_strip_puts_the_wood_back),
        BENCH_TEST(filler_weighs_what_it_weighs),
        BENCH_TEST(a_hanger_is_an_eye_round_the_wire),
        BENCH_TEST(a_bore_into_the_kerf_is_an_error_and_one_from_the_other_side_is_none),
        BENCH_TEST(eyes_of_the_flanks_are_clear_beside_it),
        BENCH_TEST(a_wire_that_leaves_the_wood_is_an_error),
        BENCH_TEST(its_steps_stand_where_they_must),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
