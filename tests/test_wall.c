/* The wood above a ballast bore, against distances that can be worked out by hand and against dense
 * sampling of bodies with grooves and notches. */
#include "recipe_text.h"

#include "bodies.h"
#include "compute/plug/wall.h"
#include "compute/shape/section.h"

struct bored {
    struct plug plug;
    struct bore_fill fill;
};

static struct bored bored(struct bench *b, struct recipe_parts parts) {
    struct bored r = {.plug = plug_of(&b->arena, bench_good(b, parts))};
    r.fill = bore_as_written(&r.plug, 0);
    return r;
}

/* One bore, written as "at, drill, depth" in mm. */
static const char *one_bore(struct bench *b, double at, double drill, double depth) {
    return arena_printf(&b->arena,
                        "ballast: {bores: [{at: %g mm, drill: %g mm, depth: %g mm, load: []}]}\n",
                        at, drill, depth);
}

static double wall(struct bench *b, const char *body, double at, double drill, double depth) {
    struct bored r = bored(b, PARTS(.body = body, .ballast = one_bore(b, at, drill, depth)));
    return wall_least(&r.plug, &r.fill);
}

static const char *tube(struct bench *b, const char *section, double height, double width) {
    return arena_printf(&b->arena,
                        "body:\n  length: 100 mm\n  section: {shape: %s}\n  stations:\n"
                        "    - {at: 0 %%, back: %g mm, belly: %g mm, width: %g mm}\n"
                        "    - {at: 100 %%, back: %g mm, belly: %g mm, width: %g mm}\n",
                        section, height / 2, height / 2, width, height / 2, height / 2, width);
}

/* --- by hand --------------------------------------------------------------------------------- */

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
    assert_near(wall(b, tube(b, "square", 20, 20), 50, 8, 20.5), 0, 0);
    assert_near(wall(b, tube(b, "oval", 20, 20), 50, 8, 19.9), 0, 0);
    assert_near(wall(b, tube(b, "square", 20, 20), 50, 8, 20), 0, 1e-8);
    assert_near(wall(b, tube(b, "square", 20, 20), 2, 8, 10), 0, 1e-8); /* out of the nose */
}

/* Every point of the upper surface, on a fine grid: the search may only be nearer, and not by more
 * than half a step of the grid. */
static double brute_wall(const struct bored *r) {
    enum { X = 600, U = 180 };
    const struct bore_fill *fill = &r->fill;
    double nearest = INFINITY, top = fill->axis.z + fill->depth;
    for (int i = 0; i <= X; i++) {
        double x = r->plug.outline.length * i / X;
        struct section s = section_at(&r->plug.outline, x, 0);
        for (int k = 0; k <= U; k++) {
            double angle = circle / 2 * k / U;
            double y = s.half_width * cos(angle), z = s.centre + s.half_height * sin(angle);
            double side = fmax(hypot(x - fill->axis.x, y) - fill->drill / 2, 0);
            nearest = fmin(nearest, hypot(side, fmax(fmax(z - top, fill->axis.z - z), 0)));
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
            struct bored r = bored(b, PARTS(.body = body, .ballast = one_bore(b, at, 5, depth)));
            double found = wall_least(&r.plug, &r.fill), brute = brute_wall(&r);
            assert_true(found <= brute + 1.01e-7);
            assert_true(found >= brute - 0.1e-3);
        }
}

/* --- grooves and notches ---------------------------------------------------------------------- */

/* A body of any shape that is cut in at one or two places to less than its height or width, within
 * a few tenths of a millimetre or a few millimetres along x. */
static struct body_table grooved(unsigned long long *seed) {
    struct body_table table = {0};
    double high = body_between(seed, 0.008, 0.014), wide = body_between(seed, 0.016, 0.030), x = 0;
    body_row(&table, 0, high, high, wide);
    int cuts = 1 + (body_random(seed) < 0.5);
    for (int i = 0; i < cuts; i++) {
        double half = body_between(seed, 0.0003, 0.004), share = body_between(seed, 0.4, 0.95);
        bool flanks = body_random(seed) < 0.4;
        x += half + body_between(seed, 0.010, 0.030);
        body_row(&table, x - half, high, high, wide);
        body_row(&table, x, flanks ? high : share * high, high, flanks ? share * wide : wide);
        x += half;
        body_row(&table, x, high * body_between(seed, 0.9, 1), high, wide);
    }
    body_row(&table, x + 0.030, high * body_between(seed, 0.5, 1), high, wide);
    return table;
}

/* Distance from the bore to the surface at x and u, in thirds of side, corner and flat. */
static double sampled(const struct plug *plug, const struct bore_fill *fill, double x, double u) {
    struct section s = section_at(&plug->outline, x, 0);
    double a = s.half_width, h = s.half_height, r = s.radius, y, z;
    double part = s.shape == SECTION_OVAL ? u : fmod(3 * u, 1), c = cos(circle / 2 * part);
    double n = sin(circle / 2 * part);
    if (s.shape == SECTION_OVAL)
        y = a * c, z = h * n;
    else if (u < 1.0 / 3)
        y = a, z = part * (h - r);
    else if (u < 2.0 / 3)
        y = a - r + r * c, z = h - r + r * n;
    else
        y = (a - r) * (u < 1 ? 1 - part : 0), z = h;
    double side = hypot(x - fill->axis.x, y) - fill->drill / 2;
    double over = s.centre + z - fill->axis.z - fill->depth, under = fill->axis.z - s.centre - z;
    return hypot(fmax(side, 0), fmax(fmax(over, under), 0));
}

/* On a grid, then on a finer one about each of the nearest nodes. */
static double dense_wall(const struct plug *plug, const struct bore_fill *fill) {
    enum { X = 1000, U = 48, NEAREST = 6, FINE = 20 };
    double length = plug->outline.length, found[NEAREST], at[NEAREST], turn[NEAREST];
    for (int i = 0; i < NEAREST; i++) found[i] = INFINITY;
    for (int i = 0; i <= X; i++)
        for (int k = 0; k <= U; k++) {
            double x = length * i / X, u = (double)k / U, d = sampled(plug, fill, x, u);
            int place = NEAREST;
            while (place > 0 && found[place - 1] > d) place--;
            if (place == NEAREST) continue;
            for (int m = NEAREST - 1; m > place; m--)
                found[m] = found[m - 1], at[m] = at[m - 1], turn[m] = turn[m - 1];
            found[place] = d, at[place] = x, turn[place] = u;
        }
    double least = found[0];
    for (int i = 0; i < NEAREST; i++)
        for (int m = -FINE; m <= FINE; m++)
            for (int k = -FINE; k <= FINE; k++) {
                double x = at[i] + length / X * m / FINE, u = turn[i] + 1.0 / U * k / FINE;
                if (x < 0 || x > length || u < 0 || u > 1) continue;
                least = fmin(least, sampled(plug, fill, x, u));
            }
    for (int end = 0; end < 2; end++) { /* the flat ends, over their height */
        struct section s = section_at(&plug->outline, end * length, 0);
        for (int k = 0; k <= 200; k++) {
            double z = s.centre + s.half_height * k / 200, top = fill->axis.z + fill->depth;
            double along = fmax(fabs(end * length - fill->axis.x) - fill->drill / 2, 0);
            least = fmin(least, hypot(along, fmax(fmax(z - top, fill->axis.z - z), 0)));
        }
    }
    return least;
}

static void no_groove_is_overlooked(void **state) {
    struct bench *b = *state;
    unsigned long long seed = 764;
    for (int i = 0; i < 450; i++) {
        struct body_table table = grooved(&seed);
        struct plug plug = {0};
        plug.outline = body_outline(&b->arena, &table, (enum section_shape)(i % 3), 0.004);
        struct bore_fill fill = {.axis.u_z = 1, .drill = body_between(&seed, 0.004, 0.012)};
        fill.axis.x = body_between(&seed, 0.1, 0.9) * plug.outline.length;
        fill.axis.z = plug_bottom(&plug, fill.axis.x);
        fill.depth = body_between(&seed, 0.4, 0.95) * (plug_top(&plug, fill.axis.x) - fill.axis.z);
        double found = wall_least(&plug, &fill), dense = dense_wall(&plug, &fill);
        assert_true(found <= dense + 1.01e-7); /* proven: nothing is nearer */
        assert_true(found >= dense - 1e-5);    /* and there is a point that near */
    }
}

/* Curves that meet the bore's end and rim at one distance all along an arc leave no single nearest
 * point to close in upon: a corner rounded about the rim, and a back that is level over the bore.
 */
static void a_wall_of_one_thickness_all_around_is_found_too(void **state) {
    struct bench *b = *state;
    const char *rounded = tube(b, "rounded, radius: 6 mm", 20, 20);
    assert_near(wall(b, rounded, 50, 8, 14), 0.006, 1e-7); /* the rim is the corner's centre */
    assert_near(wall(b, tube(b, "square", 30, 20), 50, 6, 22), 0.007, 1e-7);
}

/* --- what is due ------------------------------------------------------------------------------ */

static void exactly_what_is_due_is_not_under_it(void **state) {
    (void)state;
    assert_true(wall_enough(0.003));
    assert_true(wall_enough(0.0029995));
    assert_false(wall_enough(0.0029985));
    assert_false(wall_enough(0));
    assert_true(wall_short(0, 0)); /* nothing left is never enough */
}

static void a_low_body_has_to_do_with_less(void **state) {
    (void)state;
    struct plug plug = {.bare = {.height = 0.0199}};
    assert_near(wall_doubtful(&plug), 0.004, 0);
    plug.bare.height = 0.0113 + 0.0087;
    assert_near(wall_doubtful(&plug), 0.005, 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(in_a_box_the_nearest_face_is_the_wall),
        BENCH_TEST(below_the_middle_of_the_body_the_wall_is_measured_to_the_middle_line),
        BENCH_TEST(in_a_round_body_the_rim_of_the_bore_is_nearest),
        BENCH_TEST(in_a_rounded_box_the_corner_may_be_nearest),
        BENCH_TEST(a_bore_through_the_back_has_no_wall),
        BENCH_TEST(the_search_finds_the_nearest_point_of_a_curved_body),
        BENCH_TEST(no_groove_is_overlooked),
        BENCH_TEST(a_wall_of_one_thickness_all_around_is_found_too),
        BENCH_TEST(exactly_what_is_due_is_not_under_it),
        BENCH_TEST(a_low_body_has_to_do_with_less),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
