/* Bores from belly, back, nose, tail and flank: masses and walls of a box of 100 x 20 x 20 mm by
 * hand, mouths on a wedge, loads to an aim in closed form, walls against points sampled densely.
 * Source of all formulas: docs/physics.md, 3.5, 4.4, 6.1 and 7.1. */
#include "answer.h"

#include "bodies.h"
#include "compute/plug/clearance.h"
#include "compute/plug/wall.h"
#include "compute/shape/section.h"

/* One bore in lead, its other keys as given. */
static struct answer bored(struct bench *b, const char *bore) {
    return answer_to(b,
                     PARTS(.ballast = arena_printf(&b->arena, "ballast: {bores: [{%s}]}\n", bore)));
}

static const struct mass_row *row_of(const struct mass_list *list, const char *item) {
    for (int i = 0; i < list->count; i++)
        if (is_called(list->rows[i].item, item)) return &list->rows[i];
    fail();
    return NULL;
}

/* --- masses ---------------------------------------------------------------------------------- */

/* A bore of 6 mm, 12 mm deep, with 2 g of lead at its end: where load and filler act. */
static void a_load_lies_at_the_inner_end_whatever_side_it_came_from(void **state) {
    static const struct {
        const char *from;
        double x, z, u_x, u_z;
        int count;
    } sides[] = {
        {"at: 40 mm", 0.040, -0.010, 0, 1, 1},
        {"from: belly, at: 40 mm", 0.040, -0.010, 0, 1, 1},
        {"from: back, at: 40 mm", 0.040, 0.010, 0, -1, 1},
        {"from: nose, up: 4 mm", 0, 0.004, 1, 0, 1},
        {"from: tail, up: -4 mm", 0.100, -0.004, -1, 0, 1},
        {"from: tail", 0.100, 0, -1, 0, 1},
        {"from: flank, at: 40 mm, up: -3 mm", 0.040, -0.003, 0, 0, 2},
    };
    struct bench *b = *state;
    const double slug = 0.002 / (lead * disc(0.006)), rest = 0.012 - slug;
    const double nose = disc(0.002) * 0.020, box = 0.100 * 0.020 * 0.020;
    for (size_t i = 0; i < sizeof sides / sizeof *sides; i++) {
        struct answer a =
            bored(b, arena_printf(&b->arena, "%s, drill: 6 mm, depth: 12 mm, load: [{mass: 2 g}]",
                                  sides[i].from));
        struct mass_list list = mass_rows(&b->arena, &a.plug, a.result.fills);
        const struct mass_row *load = row_of(&list, "ballast bore 1");
        const struct mass_row *filler = row_of(&list, "filler bore 1"),
                              *wood = row_of(&list, "wood");
        double deep = 0.012 - slug / 2, n = sides[i].count, hole = n * disc(0.006) * 0.012;
        double left = box - nose - hole;
        assert_close(load->mass, n * 0.002, 1e-12);
        assert_near(load->x, sides[i].x + sides[i].u_x * deep, 1e-12);
        assert_near(load->z, sides[i].z + sides[i].u_z * deep, 1e-12);
        assert_close(filler->mass, n * bore_filler * disc(0.006) * rest, 1e-9);
        assert_near(filler->x, sides[i].x + sides[i].u_x * rest / 2, 1e-12);
        assert_near(filler->z, sides[i].z + sides[i].u_z * rest / 2, 1e-12);
        assert_close(wood->mass, box_wood * left, 1e-9);
        assert_near(
            wood->x,
            (box * 0.050 - nose * 0.010 - hole * (sides[i].x + sides[i].u_x * 0.006)) / left, 1e-9);
        assert_near(wood->z, -hole * (sides[i].z + sides[i].u_z * 0.006) / left, 1e-9);
        assert_close(ballast_loads(&a.result), n * 0.002, 1e-12);
    }
}

/* Those from nose and tail are bored into the block, all others after the weighing. */
static void the_shaped_body_has_the_bores_from_its_ends(void **state) {
    struct bench *b = *state;
    const double nose = disc(0.002) * 0.020, box = 0.100 * 0.020 * 0.020;
    struct answer tail = bored(b, "from: tail, drill: 6 mm, depth: 12 mm, load: []");
    struct answer flank = bored(b, "from: flank, at: 40 mm, drill: 6 mm, depth: 7 mm, load: []");
    assert_close(tail.plug.shaped, box - nose - disc(0.006) * 0.012, 1e-9);
    assert_close(flank.plug.shaped, box - nose, 1e-9);
    struct answer weighed = answer_to(
        b,
        PARTS(.ballast = "ballast: {bores: [{from: tail, drill: 6 mm, depth: 12 mm, load: []}]}\n",
              .measured = "measured: {blank: 15 g}\n"));
    assert_close(weighed.plug.wood_density, 0.015 / (box - nose - disc(0.006) * 0.012), 1e-9);
}

/* --- mouths ---------------------------------------------------------------------------------- */

/* A wedge, 4 mm high at the nose and 20 mm at the tail, the datum in its middle: at the height up a
 * line meets it at (up - 2 mm) / 8 mm of its length. */
static const char wedge[] = "body:\n  length: 100 mm\n  section: {shape: square}\n  stations:\n"
                            "    - {at: 0 %, back: 2 mm, belly: 2 mm, width: 20 mm}\n"
                            "    - {at: 100 %, back: 10 mm, belly: 10 mm, width: 20 mm}\n";

static void a_line_along_the_body_begins_where_the_outline_is_so_high(void **state) {
    struct bench *b = *state;
    struct plug plug = plug_of(&b->arena, bench_good(b, PARTS(.body = wedge)));
    static const double ups[] = {0, 1.9, 2.1, -2.1, 6, -6, 9.9};
    for (size_t i = 0; i < sizeof ups / sizeof *ups; i++) {
        double up = ups[i] * 1e-3, mouth = fmax((fabs(up) - 0.002) / 0.008, 0) * 0.100;
        struct position none = {0};
        struct axis nose = axis_of(&plug, SIDE_NOSE, none, up);
        struct axis tail = axis_of(&plug, SIDE_TAIL, none, up);
        assert_near(nose.x, mouth, 1e-9);
        assert_near(nose.room, 0.100 - mouth, 1e-9);
        assert_near(tail.x, 0.100, 1e-12);
        assert_near(tail.room, 0.100 - mouth, 1e-9);
    }
    struct axis beside = axis_of(&plug, SIDE_TAIL, (struct position){0}, 0.0101);
    assert_near(beside.room, 0, 0);
}

/* A body with a waist: the line at the height of the waist's back goes in and out again. */
static void a_line_ends_where_it_leaves_the_wood(void **state) {
    static const char waist[] = "body:\n  length: 100 mm\n  section: {shape: square}\n  stations:\n"
                                "    - {at: 0 %, back: 10 mm, belly: 10 mm, width: 20 mm}\n"
                                "    - {at: 50 %, back: 2 mm, belly: 10 mm, width: 20 mm}\n"
                                "    - {at: 100 %, back: 10 mm, belly: 10 mm, width: 20 mm}\n";
    struct bench *b = *state;
    struct plug plug = plug_of(&b->arena, bench_good(b, PARTS(.body = waist)));
    struct axis nose = axis_of(&plug, SIDE_NOSE, (struct position){0}, 0.006);
    struct axis tail = axis_of(&plug, SIDE_TAIL, (struct position){0}, 0.006);
    assert_near(nose.x, 0, 1e-12);
    assert_near(tail.x, 0.100, 1e-12);
    assert_near(nose.room, tail.room, 1e-9); /* it is the same both ways */
    assert_near(plug_top(&plug, nose.room), 0.006, 1e-9);
    assert_true(nose.room < 0.050);
}

static void a_flank_begins_where_the_section_is_so_wide(void **state) {
    static const char round[] = "body:\n  length: 100 mm\n  section: {shape: oval}\n  stations:\n"
                                "    - {at: 0 %, back: 10 mm, belly: 10 mm, width: 20 mm}\n"
                                "    - {at: 100 %, back: 10 mm, belly: 10 mm, width: 20 mm}\n";
    struct bench *b = *state;
    struct plug plug = plug_of(&b->arena, bench_good(b, PARTS(.body = round)));
    struct position at = {.value = 0.4, .share = true, .given = true};
    for (int up = -8; up <= 8; up += 4) {
        struct axis axis = axis_of(&plug, SIDE_FLANK, at, up * 1e-3);
        assert_near(axis.y, sqrt(100 - up * up) * 1e-3, 1e-9);
        assert_near(axis.room, axis.y, 0);
        assert_near(axis.x, 0.040, 1e-12);
    }
    assert_near(axis_of(&plug, SIDE_FLANK, at, 0.0101).room, 0, 0);
    /* From within, the same wood as from outside, the other way. */
    struct axis out = axis_of(&plug, SIDE_FLANK, at, 0.004);
    struct axis within = axis_of(&plug, SIDE_INSIDE, at, 0.004);
    assert_true(within.pair && within.room > 0);
    assert_near(within.room, out.room, 1e-12);
    assert_near(within.u_y, -out.u_y, 0);
    assert_near(within.z, 0.004, 0);
}

/* --- walls and room -------------------------------------------------------------------------- */

static double wall_in_box(struct bench *b, const char *bore) {
    struct answer a = bored(b, bore);
    return wall_least(&a.plug, &a.result.fills[0]);
}

/* The load of 1.5 g of lead in a bore of 6 mm stands 4.68 mm high: along the body the wood counts
 * that is around it. */
static void in_a_box_the_walls_are_those_of_the_nearest_face(void **state) {
    struct bench *b = *state;
    assert_near(wall_in_box(b, "from: back, at: 50 mm, drill: 6 mm, depth: 12 mm, load: []"), 0.007,
                1e-7);
    assert_near(wall_in_box(b, "from: back, at: 50 mm, drill: 6 mm, depth: 16 mm, load: []"), 0.004,
                1e-7);
    assert_near(wall_in_box(b, "from: tail, drill: 6 mm, depth: 30 mm, load: [{mass: 1.5 g}]"),
                0.007, 1e-7);
    assert_near(
        wall_in_box(b, "from: tail, up: 4 mm, drill: 6 mm, depth: 30 mm, load: [{mass: 1.5 g}]"),
        0.003, 1e-7);
    assert_near(
        wall_in_box(b, "from: tail, up: -4 mm, drill: 6 mm, depth: 30 mm, load: [{mass: 1.5 g}]"),
        0.003, 1e-7);
    assert_near(wall_in_box(b, "from: nose, up: -5 mm, drill: 4 mm, depth: 96 mm, load: []"), 0.003,
                1e-7);
    assert_near(wall_in_box(b, "from: nose, up: -5 mm, drill: 4 mm, depth: 98.5 mm, load: []"),
                0.0015, 1e-7);
    assert_near(wall_in_box(b, "from: nose, up: -5 mm, drill: 4 mm, depth: 101 mm, load: []"), 0,
                0);
    assert_near(
        wall_in_box(b, "from: flank, at: 50 mm, up: 4 mm, drill: 6 mm, depth: 8 mm, load: []"),
        0.003, 1e-7);
    assert_near(
        wall_in_box(b, "from: flank, at: 50 mm, up: -5 mm, drill: 6 mm, depth: 8 mm, load: []"),
        0.002, 1e-7);
    assert_near(
        wall_in_box(b, "from: flank, at: 50 mm, up: 8 mm, drill: 6 mm, depth: 8 mm, load: []"), 0,
        0);
    assert_near(wall_in_box(b, "from: flank, at: 5 mm, drill: 6 mm, depth: 8 mm, load: []"), 0.002,
                1e-7);
}

static void a_pair_is_apart_by_what_is_left_between_its_floors(void **state) {
    struct bench *b = *state;
    struct answer a = bored(b, "from: flank, at: 50 mm, drill: 6 mm, depth: 8 mm, load: []");
    struct clearances c = clearances_of(&a.plug, a.result.fills);
    for (int i = 0; i < c.pair_count; i++)
        if (c.pairs[i].one == c.pairs[i].other) assert_near(c.pairs[i].distance, 0.004, 1e-9);
}

/* Random bodies: every point of the surface on the bore's side, from the disc it ends in. */
static double dense_wall(const struct plug *plug, const struct axis *axis, double floor, double r) {
    enum { X = 900, U = 240 };
    double least = INFINITY, length = plug->outline.length;
    for (int i = 0; i <= X; i++) {
        struct section s = section_at(&plug->outline, length * i / X, 0);
        for (int k = 0; k <= U; k++) {
            double angle = circle * ((double)k / U - 0.5), y = s.half_width * cos(angle);
            double dx = length * i / X - axis->x,
                   dz = s.centre + s.half_height * sin(angle) - axis->z;
            least = fmin(least, hypot(fmax(hypot(dx, dz) - r, 0), y - floor));
        }
    }
    return least;
}

static void no_surface_is_nearer_to_the_floor_of_a_pair_than_said(void **state) {
    struct bench *b = *state;
    unsigned long long seed = 12;
    int inside = 0;
    for (int i = 0; i < 150; i++) {
        struct body_table table = {0};
        double x = 0;
        for (int row = 0; row < 5; row++) {
            body_row(&table, x, body_between(&seed, 0.003, 0.012),
                     body_between(&seed, 0.003, 0.012), body_between(&seed, 0.008, 0.026));
            x += body_between(&seed, 0.010, 0.030);
        }
        struct plug plug = {.outline = body_outline(&b->arena, &table, SECTION_OVAL, 0)};
        plug.bare = solid_of(&plug.outline, 0);
        struct position at = {.value = body_between(&seed, 0.1, 0.9), .share = true, .given = true};
        struct bore_fill fill = {
            .axis = axis_of(&plug, SIDE_FLANK, at, body_between(&seed, -0.006, 0.006)),
            .drill = body_between(&seed, 0.001, 0.008)};
        fill.depth = body_between(&seed, 0.2, 0.9) * fill.axis.room;
        double said = wall_least(&plug, &fill);
        double dense = dense_wall(&plug, &fill.axis, fill.axis.y - fill.depth, fill.drill / 2);
        assert_true(said <= dense + 1.01e-7);
        if (said == 0) continue; /* it comes out of the wood */
        inside++;
        double end = fmin(fill.axis.x, plug.outline.length - fill.axis.x) - fill.drill / 2;
        assert_true(said >= fmin(dense, end) - 0.2e-3);
    }
    assert_true(inside > 60);
}

/* --- loads to an aim ------------------------------------------------------------------------- */

/* As from the belly: wanted = empty + n (m (1 - w/b) + A cover (f - w)) of n bores. */
static void a_pair_meets_the_reserve_as_worked_by_hand(void **state) {
    struct bench *b = *state;
    struct answer a =
        answer_to(b, PARTS(.ballast = "ballast: {aim: {reserve: 20 %}, bores: [{from: flank, "
                                      "at: 50 mm, drill: 9 mm, load: solve}]}\n"));
    double nose = disc(0.002) * 0.020, volume = 0.100 * 0.020 * 0.020;
    double twist = 2 * sqrt(1 + (circle / 6) * (circle / 6)) * 0.020;
    double empty = box_wood * (volume - nose) + 7900 * disc(0.001) * (twist + circle * 0.004);
    double wanted = 0.8 * a.plug.water * volume;
    double load = ((wanted - empty) / 2 - disc(0.009) * 0.002 * (bore_filler - box_wood)) /
                  (1 - box_wood / lead);
    assert_int_equal(a.result.solution.status, SOLVE_FOUND);
    assert_near(a.result.fills[0].load, load, mg);
    assert_near(a.result.solution.outcome.reserve, 0.20, 1e-9);
}

/* Of fixed depth the filler takes what the load leaves:
 * wanted = empty + m (1 - f/b) + A depth (f - w). */
static void a_load_in_the_tail_meets_the_reserve_as_worked_by_hand(void **state) {
    struct bench *b = *state;
    struct answer a =
        answer_to(b, PARTS(.ballast = "ballast: {aim: {reserve: 30 %}, bores: [{from: tail, "
                                      "drill: 9 mm, depth: 25 mm, load: solve}]}\n"));
    double nose = disc(0.002) * 0.020, volume = 0.100 * 0.020 * 0.020;
    double twist = 2 * sqrt(1 + (circle / 6) * (circle / 6)) * 0.020;
    double empty = box_wood * (volume - nose) + 7900 * disc(0.001) * (twist + circle * 0.004);
    double wanted = 0.7 * a.plug.water * volume;
    double load = (wanted - empty - disc(0.009) * 0.025 * (bore_filler - box_wood)) /
                  (1 - bore_filler / lead);
    assert_int_equal(a.result.solution.status, SOLVE_FOUND);
    assert_near(a.result.fills[0].load, load, mg);
    assert_true(a.result.solution.outcome.attitude < -5 * one_degree); /* tail down */
}

/* What lies on hand goes into both of a pair. */
static void pieces_for_a_pair_are_there_twice(void **state) {
    struct bench *b = *state;
    struct answer a = answer_to(
        b, PARTS(.ballast = "ballast: {aim: {reserve: 20 %}, pieces: [{mass: 3 g, count: 3}, "
                            "{mass: 1 g, count: 6}],"
                            " bores: [{from: flank, at: 50 mm, drill: 9 mm, load: solve}]}\n"));
    assert_true(a.result.best_count > 0);
    for (int i = 0; i < a.result.best_count; i++) {
        int of_kind[2] = {0};
        for (int k = 0; k < BALLAST_PIECES_PER_BORE; k++)
            if (a.result.best[i].piece[0][k] >= 0) of_kind[a.result.best[i].piece[0][k]]++;
        assert_true(of_kind[0] <= 1 && of_kind[1] <= 3);
        struct bore_fill fill = bore_filled(&a.plug, 0, a.result.best[i].load[0],
                                            bore_slug(&a.plug, 0, a.result.best[i].load[0]));
        assert_true(wall_enough(wall_least(&a.plug, &fill)));
        assert_true(fill.depth <= axis_deepest(&fill.axis) + 1e-6);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(a_load_lies_at_the_inner_end_whatever_side_it_came_from),
        BENCH_TEST(the_shaped_body_has_the_bores_from_its_ends),
        BENCH_TEST(a_line_along_the_body_begins_where_the_outline_is_so_high),
        BENCH_TEST(a_line_ends_where_it_leaves_the_wood),
        BENCH_TEST(a_flank_begins_where_the_section_is_so_wide),
        BENCH_TEST(in_a_box_the_walls_are_those_of_the_nearest_face),
        BENCH_TEST(a_pair_is_apart_by_what_is_left_between_its_floors),
        BENCH_TEST(no_surface_is_nearer_to_the_floor_of_a_pair_than_said),
        BENCH_TEST(a_pair_meets_the_reserve_as_worked_by_hand),
        BENCH_TEST(a_load_in_the_tail_meets_the_reserve_as_worked_by_hand),
        BENCH_TEST(pieces_for_a_pair_are_there_twice),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
