/* Room around ballast bores, against distances that can be worked out by hand. */
#include "recipe_text.h"

#include "compute/plug/clearance.h"

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
