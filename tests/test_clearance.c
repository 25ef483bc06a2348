/* Room around ballast bores, against distances that can be worked out by hand. */
#include "recipe_text.h"

#include "compute/plug/clearance.h"
#include "compute/shape/section.h"

struct roomy {
    const struct recipe *recipe;
    struct plug plug;
    struct bore_fill fills[MAX_BORES];
    struct clearance *list;
    int count;
};

static struct roomy room(struct bench *b, struct recipe_parts parts) {
    struct roomy r = {.recipe = bench_good(b, parts)};
    r.plug = plug_of(&b->arena, r.recipe);
    for (int i = 0; i < r.recipe->ballast->bore_count; i++)
        r.fills[i] = bore_as_written(&r.plug, i);
    r.count = clearance_all(&b->arena, &r.plug, r.fills, &r.list);
    return r;
}

static double distance_to(const struct roomy *r, int bore, const char *other) {
    for (int i = 0; i < r->count; i++)
        if (r->list[i].bore == bore && is_called(r->list[i].other, other))
            return r->list[i].distance;
    print_error("no distance of bore %d to %s\n", bore + 1, other);
    fail();
    return 0;
}

/* One bore, written as "at, drill, depth" in mm. */
static const char *one_bore(struct bench *b, double at, double drill, double depth) {
    return arena_printf(&b->arena,
                        "ballast: {bores: [{at: %g mm, drill: %g mm, depth: %g mm, load: []}]}\n",
                        at, drill, depth);
}

static double wall(struct bench *b, const char *body, double at, double drill, double depth) {
    struct roomy r = room(b, PARTS(.body = body, .ballast = one_bore(b, at, drill, depth)));
    return clearance_wall(&r.plug, &r.fills[0]);
}

static const char *tube(struct bench *b, const char *section, double height, double width) {
    return arena_printf(&b->arena,
                        "body:\n  length: 100 mm\n  section: {shape: %s}\n  stations:\n"
                        "    - {at: 0 %%, back: %g mm, belly: %g mm, width: %g mm}\n"
                        "    - {at: 100 %%, back: %g mm, belly: %g mm, width: %g mm}\n",
                        section, height / 2, height / 2, width, height / 2, height / 2, width);
}

/* --- the wall -------------------------------------------------------------------------------- */

/* In a box the back, a flank or an end is nearest. */
static void in_a_box_the_nearest_face_is_the_wall(void **state) {
    static const struct {
        double at, drill, depth, wall;
    } cases[] = {
        {50, 8, 15, 0.005},                     /* the back: 20 - 15 */
        {50, 8, 12, 0.006},                     /* the flanks, above the middle line: 10 - 4 */
        {50, 14, 12, 0.003}, {6, 8, 12, 0.002}, /* the nose: 6 - 4 */
        {95, 8, 13, 0.001},                     /* the tail: 5 - 4 */
        {50, 8, 17, 0.003},
    };
    struct bench *b = *state;
    const char *box = tube(b, "square", 20, 20);
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_near(wall(b, box, cases[i].at, cases[i].drill, cases[i].depth), cases[i].wall, 1e-8);
}

/* Only the surface above the sections' middle line counts: else the mouth would. */
static void below_the_middle_of_the_body_the_wall_is_measured_to_the_middle_line(void **state) {
    struct bench *b = *state;
    assert_near(wall(b, tube(b, "square", 20, 20), 50, 8, 8), hypot(0.006, 0.002), 1e-8);
    assert_near(wall(b, tube(b, "oval", 20, 20), 50, 8, 7), hypot(0.006, 0.003), 1e-8);
}

/* Across a round body of radius R a bore of radius r to depth d ends h = d - R above the middle:
 * its rim is R - hypot(r, h) from the surface. */
static void in_a_round_body_the_rim_of_the_bore_is_nearest(void **state) {
    struct bench *b = *state;
    const char *round = tube(b, "oval", 20, 20);
    static const double depths[] = {11, 13, 15, 16.5};
    for (size_t i = 0; i < sizeof depths / sizeof *depths; i++) {
        double high = depths[i] * 1e-3 - 0.010;
        assert_near(wall(b, round, 50, 8, depths[i]), 0.010 - hypot(0.004, high), 1e-8);
    }
    assert_near(wall(b, round, 50, 8, 10), 0.006, 1e-8);
}

/* The corner of a rounded box: from the bore's rim to the arc about (a - r, h - r). */
static void in_a_rounded_box_the_corner_may_be_nearest(void **state) {
    struct bench *b = *state;
    const char *rounded = tube(b, "rounded, radius: 8 mm", 20, 20);
    double rim_y = 0.006, rim_z = 0.006; /* drill 12, depth 16 */
    double corner = 0.008 - hypot(rim_y - 0.002, rim_z - 0.002);
    assert_near(wall(b, rounded, 50, 12, 16), fmin(corner, 0.004), 1e-8);
    assert_true(corner < 0.004);
}

static void a_bore_through_the_back_has_no_wall(void **state) {
    struct bench *b = *state;
    assert_true(wall(b, tube(b, "square", 20, 20), 50, 8, 20.5) < 0);
    assert_true(wall(b, tube(b, "oval", 20, 20), 50, 8, 19.9) <= 0);
    assert_near(wall(b, tube(b, "square", 20, 20), 50, 8, 20), 0, 1e-8);
}

/* Every point of the upper surface, on a fine grid: the search may only be nearer, and not by more
 * than half a step of the grid. */
static double brute_wall(const struct roomy *r) {
    enum { X = 600, U = 180 };
    const struct bore_fill *fill = &r->fills[0];
    double nearest = INFINITY, top = fill->mouth_z + fill->depth;
    for (int i = 0; i <= X; i++) {
        double x = r->plug.outline.length * i / X;
        struct section s = section_at(&r->plug.outline, x, 0);
        for (int k = 0; k <= U; k++) {
            double angle = circle / 2 * k / U;
            double y = s.half_width * cos(angle), z = s.centre + s.half_height * sin(angle);
            double side = fmax(hypot(x - fill->at, y) - fill->drill / 2, 0);
            nearest = fmin(nearest, hypot(side, fmax(fmax(z - top, fill->mouth_z - z), 0)));
        }
    }
    return nearest;
}

static void the_search_finds_the_nearest_point_of_a_curved_body(void **state) {
    static const char *const body =
        "body:\n  length: 100 mm\n  section: {shape: oval}\n  stations:\n"
        "    - {at: 0 mm, back: 2 mm, belly: 4 mm, width: 6 mm}\n"
        "    - {at: 20 mm, back: 11 mm, belly: 9 mm, width: 18 mm}\n"
        "    - {at: 50 mm, back: 8 mm, belly: 14 mm, width: 22 mm}\n"
        "    - {at: 80 mm, back: 12 mm, belly: 7 mm, width: 9 mm}\n"
        "    - {at: 100 mm, back: 3 mm, belly: 3 mm, width: 5 mm}\n";
    struct bench *b = *state;
    for (int at = 12; at <= 92; at += 10)
        for (int depth = 8; depth <= 16; depth += 4) {
            struct roomy r = room(b, PARTS(.body = body, .ballast = one_bore(b, at, 5, depth)));
            double found = clearance_wall(&r.plug, &r.fills[0]), brute = brute_wall(&r);
            if (found < 0) continue; /* broken through: no distance to compare */
            assert_true(found <= brute + 1e-9);
            assert_true(found >= brute - 0.1e-3);
        }
}

/* --- two bores ------------------------------------------------------------------------------- */

static void two_bores_are_as_far_apart_as_their_sides(void **state) {
    struct roomy r =
        room(*state, PARTS(.ballast = "ballast: {bores: [\n"
                                      "  {at: 40 mm, drill: 8 mm, depth: 12 mm, load: []},\n"
                                      "  {at: 52 mm, drill: 6 mm, depth: 9 mm, load: []},\n"
                                      "  {at: 59 mm, drill: 6 mm, depth: 9 mm, load: []}]}\n"));
    assert_near(distance_to(&r, 0, "bore 2"), 0.012 - 0.004 - 0.003, 1e-12);
    assert_near(distance_to(&r, 0, "bore 3"), 0.019 - 0.004 - 0.003, 1e-12);
    assert_near(distance_to(&r, 1, "bore 3"), 0.007 - 0.006, 1e-12);
    assert_int_equal(r.count, 3 + 3); /* and each with the wire of the line tie */
}

/* On a slanting belly one bore begins above the end of the other: corner to corner. */
static void bores_at_different_heights_are_apart_from_corner_to_corner(void **state) {
    struct roomy r = room(
        *state, PARTS(.body = "body:\n  length: 100 mm\n  section: {shape: oval}\n  stations:\n"
                              "    - {at: 0 mm, back: 30 mm, belly: 30 mm, width: 20 mm}\n"
                              "    - {at: 100 mm, back: 30 mm, belly: -10 mm, width: 20 mm}\n",
                      .ballast = "ballast: {bores: [\n"
                                 "  {at: 50 mm, drill: 8 mm, depth: 4 mm, load: []},\n"
                                 "  {at: 65 mm, drill: 6 mm, depth: 5 mm, load: []}]}\n"));
    /* mouths at -10 and -4 mm: 4 mm deep, the first ends at -6, 2 mm below the other's mouth */
    assert_near(distance_to(&r, 0, "bore 2"), hypot(0.015 - 0.004 - 0.003, 0.002), 1e-12);
}

static void bores_that_meet_have_a_distance_of_zero_or_less(void **state) {
    struct roomy r =
        room(*state, PARTS(.ballast = "ballast: {bores: [\n"
                                      "  {at: 40 mm, drill: 8 mm, depth: 12 mm, load: []},\n"
                                      "  {at: 46 mm, drill: 6 mm, depth: 9 mm, load: []},\n"
                                      "  {at: 47 mm, drill: 6 mm, depth: 9 mm, load: []}]}\n"));
    assert_near(distance_to(&r, 0, "bore 2"), 0.006 - 0.007, 1e-12); /* the least shift apart */
    assert_near(distance_to(&r, 0, "bore 3"), 0, 1e-12);
}

/* --- wires, slot, sockets -------------------------------------------------------------------- */

static void a_bore_and_the_wires_are_apart_as_drawn_from_the_side(void **state) {
    struct roomy r = room(
        *state,
        PARTS(.hardware = "hardware:\n  wire: {diameter: 1 mm}\n  line tie: {place: nose}\n"
                          "  hangers:\n    - {place: belly, at: 60 mm, depth: 10 mm}\n"
                          "    - {place: tail, depth: 15 mm}\n"
                          "    - {place: back, at: 48 mm, depth: 6 mm, pilot: 3 mm}\n",
              .ballast = "ballast: {bores: [{at: 50 mm, drill: 8 mm, depth: 9 mm, load: []}]}\n"));
    /* pilots are 2 mm wide; the tie's ends at 20 mm, the tail's at 85 mm, both on the datum,
     * their lower sides 9 mm above the mouth: level with the bore's end */
    assert_near(distance_to(&r, 0, "the wire of the line tie"), 0.046 - 0.020, 1e-12);
    assert_near(distance_to(&r, 0, "the wire of hanger 1"), 0.010 - 0.004 - 0.001, 1e-12);
    assert_near(distance_to(&r, 0, "the wire of hanger 2"), 0.085 - 0.054, 1e-12);
    /* the back's pilot ends at z = 4, the bore at -1; they overlap along the body */
    assert_near(distance_to(&r, 0, "the wire of hanger 3"), 0.005, 1e-12);
}

/* A slot at 45 degrees: its inner end is a corner 3 mm wide, seen against an upright side. */
static void a_bore_and_the_slot_are_apart_as_drawn_from_the_side(void **state) {
    struct roomy r = room(
        *state, PARTS(.lip = "lip: {thickness: 3 mm, length: 30 mm, width: 15 mm, shape: square, "
                             "at: 20 mm, angle: 45 deg, slot: 10 mm}\n",
                      .ballast = "ballast: {bores: [{at: 50 mm, drill: 8 mm, depth: 12 mm, "
                                 "load: []}]}\n"));
    double aft = 0.020 + 0.010 * sqrt(0.5) + 0.0015 * sqrt(0.5); /* the corner furthest aft */
    assert_near(distance_to(&r, 0, "the lip's slot"), 0.046 - aft, 1e-12);
}

static void a_slot_that_runs_into_a_bore_meets_it(void **state) {
    struct roomy r = room(
        *state, PARTS(.lip = "lip: {thickness: 3 mm, length: 60 mm, width: 15 mm, shape: square, "
                             "at: 20 mm, angle: 20 deg, slot: 30 mm}\n",
                      .ballast = "ballast: {bores: [{at: 50 mm, drill: 8 mm, depth: 12 mm, "
                                 "load: []}]}\n"));
    assert_true(distance_to(&r, 0, "the lip's slot") < 0);
}

/* In a box 20 mm wide a socket 3 mm deep has its floor 7 mm off the middle. */
static void a_bore_and_the_sockets_are_apart_across_the_body(void **state) {
    static const struct {
        double drill, depth, up, want;
    } cases[] = {
        {8, 16, 2, 0.003}, /* beside each other: floor at 7 mm, side of the bore at 4 mm */
        {8, 8, 5, 0.005},  /* its end 4 mm below the socket's rim: 3, 4, 5 */
        {16, 16, 2, 0},    /* it reaches past the floor */
    };
    struct bench *b = *state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        const char *eyes = arena_printf(
            &b->arena, "eyes: {size: 6 mm, depth: 3 mm, at: 50 mm, up: %g mm}\n", cases[i].up);
        struct roomy r = room(
            b, PARTS(.eyes = eyes, .ballast = one_bore(b, 50, cases[i].drill, cases[i].depth)));
        assert_near(distance_to(&r, 0, "the eye sockets"), cases[i].want, 2e-6);
    }
}

/* Fore and aft of a socket: 20 mm between centres, less both radii; across, the nearest points lie
 * on the bore's side and the floor's rim. */
static void a_bore_aft_of_the_sockets_is_apart_by_a_slanting_line(void **state) {
    struct bench *b = *state;
    struct roomy r = room(b, PARTS(.eyes = "eyes: {size: 6 mm, depth: 3 mm, at: 30 mm}\n",
                                   .ballast = one_bore(b, 50, 8, 16)));
    double least = INFINITY; /* over the bore's side, finer than the program does it */
    for (int i = 0; i <= 100000; i++) {
        double angle = circle * i / 100000;
        double along = fmax(fabs(0.020 + 0.004 * cos(angle)) - 0.003, 0);
        least = fmin(least, hypot(along, fmax(0.007 - 0.004 * sin(angle), 0)));
    }
    assert_near(distance_to(&r, 0, "the eye sockets"), least, 5e-6);
}

static void without_bores_there_is_nothing_to_be_near_to(void **state) {
    struct bench *b = *state;
    struct plug plug = plug_of(&b->arena, bench_good(b, PARTS(.head = NULL)));
    struct clearance *list;
    assert_int_equal(clearance_all(&b->arena, &plug, NULL, &list), 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(in_a_box_the_nearest_face_is_the_wall),
        BENCH_TEST(below_the_middle_of_the_body_the_wall_is_measured_to_the_middle_line),
        BENCH_TEST(in_a_round_body_the_rim_of_the_bore_is_nearest),
        BENCH_TEST(in_a_rounded_box_the_corner_may_be_nearest),
        BENCH_TEST(a_bore_through_the_back_has_no_wall),
        BENCH_TEST(the_search_finds_the_nearest_point_of_a_curved_body),
        BENCH_TEST(two_bores_are_as_far_apart_as_their_sides),
        BENCH_TEST(bores_at_different_heights_are_apart_from_corner_to_corner),
        BENCH_TEST(bores_that_meet_have_a_distance_of_zero_or_less),
        BENCH_TEST(a_bore_and_the_wires_are_apart_as_drawn_from_the_side),
        BENCH_TEST(a_bore_and_the_slot_are_apart_as_drawn_from_the_side),
        BENCH_TEST(a_slot_that_runs_into_a_bore_meets_it),
        BENCH_TEST(a_bore_and_the_sockets_are_apart_across_the_body),
        BENCH_TEST(a_bore_aft_of_the_sockets_is_apart_by_a_slanting_line),
        BENCH_TEST(without_bores_there_is_nothing_to_be_near_to),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
