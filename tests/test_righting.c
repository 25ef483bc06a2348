/* Righting arms against closed forms that any text of naval architecture has (wall-sided, circular
 * and submerged bodies), with the figures evaluated from the formula beside them, and against
 * polygons clipped by brute force. */
#include "close.h"

#include "bodies.h"
#include "compute/float/flotation.h"
#include "compute/shape/section.h"

static const double PI = 3.14159265358979323846, WATER = 1000;

static struct arena arena;

static int arena_gone(void **state) {
    (void)state;
    arena_free(&arena);
    return 0;
}

static double radians(double degrees) {
    return degrees * PI / 180;
}

/* A prism about the datum, its mass a share of what it can displace, G a height z above its middle.
 */
static struct righting righting_of_prism(double height, double width, enum section_shape shape,
                                         double share, double z, struct rest *rest) {
    struct outline outline = body_prism(&arena, 0.2, height, width, shape, 0);
    struct hull hull = body_hull(&arena, &outline);
    struct burden burden = {.mass = share * WATER * hull.volume, .x = 0.1, .z = z};
    *rest = hydro_rest(&hull, &burden, WATER);
    return hydro_righting(&hull, &burden, WATER, rest);
}

/* GZ = sin f (GM + BM tan^2 f / 2) until an edge emerges, here at 30.96 degrees; 10 degrees of a
 * box of 30 x 20 mm, s 0.45, G at the centre: 0.514499 mm. */
static void a_box_rights_itself_by_the_wall_sided_formula(void **state) {
    (void)state;
    struct rest rest;
    struct righting righting = righting_of_prism(0.020, 0.030, SECTION_SQUARE, 0.45, 0, &rest);
    assert_near(1e3 * righting.arm[1], 0.514499, 1e-5);
    for (int i = 0; i <= 3; i++) {
        double t = tan(radians(10 * i)), bm = 0.030 * 0.030 / (12 * 0.009);
        assert_near(righting.arm[i], sin(radians(10 * i)) * (rest.gm + bm / 2 * t * t), 5e-8);
    }
}

/* A rectangle heeled in water, by polygon clipping alone: GZ of G on the middle line. */
static double polygon_arm(double width, double height, double share, double z, double heel) {
    double p = sin(heel), q = cos(heel), low = -width - height, high = width + height, gz = 0;
    static const double corner[4][2] = {{-1, -1}, {1, -1}, {1, 1}, {-1, 1}};
    for (int step = 0; step < 100; step++) {
        double level = 0.5 * (low + high), y[8], v[8], area = 0, my = 0, mz = 0;
        int count = 0;
        for (int i = 0; i < 4; i++) {
            double a[2] = {corner[i][0] * width / 2, corner[i][1] * height / 2};
            double b[2] = {corner[(i + 1) % 4][0] * width / 2, corner[(i + 1) % 4][1] * height / 2};
            double ga = p * a[0] + q * a[1] - level, gb = p * b[0] + q * b[1] - level;
            if (ga < 0) {
                y[count] = a[0];
                v[count++] = a[1];
            }
            if ((ga < 0) != (gb < 0)) {
                y[count] = a[0] + ga / (ga - gb) * (b[0] - a[0]);
                v[count++] = a[1] + ga / (ga - gb) * (b[1] - a[1]);
            }
        }
        for (int i = 0; i < count; i++) {
            int j = (i + 1) % count;
            double twice = y[i] * v[j] - y[j] * v[i];
            area += twice / 2;
            my += twice * (y[i] + y[j]) / 6;
            mz += twice * (v[i] + v[j]) / 6;
        }
        if (area < share * width * height)
            low = level;
        else
            high = level;
        if (area > 0) gz = -(my / area) * q - (z - mz / area) * p;
    }
    return gz;
}

static void a_box_agrees_with_a_clipped_polygon_at_every_heel(void **state) {
    (void)state;
    static const double row[][4] = {{0.030, 0.020, 0.45, 0},
                                    {0.030, 0.020, 0.45, 0.002},
                                    {0.024, 0.020, 0.80, -0.001},
                                    {0.016, 0.030, 0.60, -0.006}};
    for (int k = 0; k < 4; k++) {
        const double *r = row[k];
        struct rest rest;
        struct righting righting = righting_of_prism(r[1], r[0], SECTION_SQUARE, r[2], r[3], &rest);
        assert_true(rest.gm > 0);
        double low = -1, high = -1;
        for (int i = 1; i < RIGHTING_STEPS - 1; i++)
            assert_near(righting.arm[i], polygon_arm(r[0], r[1], r[2], r[3], radians(10 * i)),
                        5e-8);
        for (int i = 1; i < 1800 && high < 0; i++) {
            low = radians(0.1 * (i - 1));
            if (polygon_arm(r[0], r[1], r[2], r[3], radians(0.1 * i)) <= 0) high = radians(0.1 * i);
        }
        assert_true(righting.vanishes == (high > 0));
        for (int i = 0; high > 0 && i < 50; i++) {
            double middle = 0.5 * (low + high);
            if (polygon_arm(r[0], r[1], r[2], r[3], middle) > 0)
                low = middle;
            else
                high = middle;
        }
        if (high > 0) assert_near(righting.vanishing, low, 1e-4);
        assert_true(righting.self_righting == (high < 0));
    }
}

/* GZ = e sin f at every angle and draught: M is the axis. */
static void a_circular_section_rights_itself_by_the_sine(void **state) {
    (void)state;
    for (int k = 1; k < 10; k++) {
        struct rest rest;
        struct righting oval = righting_of_prism(0.02, 0.02, SECTION_OVAL, 0.1 * k, -0.003, &rest);
        for (int i = 0; i < RIGHTING_STEPS; i++)
            assert_near(oval.arm[i], 0.003 * sin(radians(10 * i)), 2e-9);
        assert_false(oval.vanishes);
        assert_true(oval.self_righting);
    }
}

static void a_circle_drawn_as_a_rounded_square_does_the_same(void **state) {
    (void)state;
    struct outline outline = body_prism(&arena, 0.2, 0.02, 0.02, SECTION_ROUNDED, 0.01);
    struct hull hull = body_hull(&arena, &outline);
    struct burden burden = {.mass = 0.6 * WATER * hull.volume, .x = 0.1, .z = -0.003};
    struct rest rest = hydro_rest(&hull, &burden, WATER);
    struct righting righting = hydro_righting(&hull, &burden, WATER, &rest);
    for (int i = 0; i < RIGHTING_STEPS; i++)
        assert_near(righting.arm[i], 0.003 * sin(radians(10 * i)), 2e-9);
}

/* A square beam comes to rest at tan^2 f = 12 s (1 - s) - 2 for s up to 1/4, and as steep for 1 - s
 * there its arm passes zero, from below. */
static void a_square_beam_rests_at_its_tilt(void **state) {
    (void)state;
    for (int i = 1; i <= 2; i++) {
        double t = tan(radians(10 * i)), s = 0.5 - sqrt(0.25 - (2 + t * t) / 12);
        assert_true(s > 0.2113249 && s <= 0.25);
        for (int side = 0; side < 2; side++) {
            struct rest rest;
            struct righting righting =
                righting_of_prism(0.02, 0.02, SECTION_SQUARE, side ? 1 - s : s, 0, &rest);
            assert_true(rest.gm < 0 && righting.vanishes && righting.vanishing <= 0);
            assert_near(righting.arm[i], 0, 1e-10);
            assert_true(righting.arm[i + 1] > 1e-6);
            if (i == 2) assert_true(righting.arm[1] < -1e-6);
        }
    }
}

/* GZ = BG sin f. */
static void below_the_surface_the_arm_is_a_sine(void **state) {
    (void)state;
    struct rest rest;
    struct righting righting = righting_of_prism(0.02, 0.03, SECTION_OVAL, 1.2, -0.004, &rest);
    assert_false(rest.afloat);
    for (int i = 0; i < RIGHTING_STEPS; i++)
        assert_near(righting.arm[i], 0.004 * sin(radians(10 * i)), 1e-15);
    assert_true(righting.self_righting && !righting.vanishes);
    righting = righting_of_prism(0.02, 0.03, SECTION_OVAL, 1.2, 0.004, &rest);
    assert_true(righting.vanishes && !righting.self_righting);
    assert_near(righting.vanishing, 0, 0);
}

static void a_top_heavy_body_has_no_range_of_stability(void **state) {
    (void)state;
    struct rest rest;
    struct righting righting = righting_of_prism(0.02, 0.02, SECTION_OVAL, 0.5, 0.001, &rest);
    assert_true(rest.gm < 0 && righting.vanishes && !righting.self_righting);
    assert_near(righting.vanishing, 0, 0);
}

/* One section's rim as a polygon, clipped without any of the program's closed forms. */
static void add_slice(const struct section *s, double p, double q, double level, double wide,
                      double sums[3]) {
    enum { SIDES = 360 };
    double y[2 * SIDES], z[2 * SIDES], area = 0, my = 0, mz = 0;
    int count = 0;
    double y0 = 0, z0 = 0;
    for (int i = 0; i <= SIDES; i++) {
        double turn = 2 * PI * (i % SIDES + 0.5) / SIDES, c = cos(turn), n = sin(turn);
        bool oval = s->shape == SECTION_OVAL;
        double y1 =
            oval ? s->half_width * c : s->radius * c + copysign(s->half_width - s->radius, c);
        double z1 =
            oval ? s->half_height * n : s->radius * n + copysign(s->half_height - s->radius, n);
        z1 += s->centre;
        double g0 = p * y0 + q * z0 - level, g1 = p * y1 + q * z1 - level;
        if (i > 0 && (g0 < 0) != (g1 < 0)) {
            y[count] = y0 + g0 / (g0 - g1) * (y1 - y0);
            z[count++] = z0 + g0 / (g0 - g1) * (z1 - z0);
        }
        if (i > 0 && g1 < 0) {
            y[count] = y1;
            z[count++] = z1;
        }
        y0 = y1;
        z0 = z1;
    }
    for (int i = 0; i < count; i++) {
        int j = (i + 1) % count;
        double twice = y[i] * z[j] - y[j] * z[i];
        area += twice / 2;
        my += twice * (y[i] + y[j]) / 6;
        mz += twice * (z[i] + z[j]) / 6;
    }
    sums[0] += wide * area;
    sums[1] += wide * my;
    sums[2] += wide * mz;
}

/* GZ of a body without a lip by slices of polygons; the level by bisection. */
static double sliced_arm(const struct outline *outline, const struct burden *burden,
                         double attitude, double heel) {
    enum { SLICES = 300 };
    double p = sin(heel), q = cos(heel), low = -0.2, high = 0.2, sums[3] = {0};
    for (int step = 0; step < 40; step++) {
        double c = 0.5 * (low + high);
        sums[0] = sums[1] = sums[2] = 0;
        for (int i = 0; i < SLICES; i++) {
            double x = outline->length * (i + 0.5) / SLICES;
            struct section s = section_at(outline, x, 0);
            add_slice(&s, p, q, (c - x * sin(attitude)) / cos(attitude), outline->length / SLICES,
                      sums);
        }
        if (sums[0] < burden->mass / WATER)
            low = c;
        else
            high = c;
    }
    return -sums[1] / sums[0] * q - (burden->z - sums[2] / sums[0]) * p;
}

/* To the 0.005 mm aimed at: a tenth of what two programs may differ by. */
static void the_arms_of_a_plug_agree_with_slices_of_polygons(void **state) {
    (void)state;
    struct body_table table = body_plug();
    for (int shape = 0; shape < 3; shape++) {
        struct outline outline = body_outline(&arena, &table, (enum section_shape)shape, 0.005);
        struct hull hull = body_hull(&arena, &outline);
        struct burden burden = {.mass = (0.7 + 0.1 * shape) * WATER * hull.volume,
                                .x = 0.05 + 0.008 * shape,
                                .z = -0.003};
        struct rest rest = hydro_rest(&hull, &burden, WATER);
        struct righting righting = hydro_righting(&hull, &burden, WATER, &rest);
        for (int i = 2; i < RIGHTING_STEPS; i += 5) {
            double want = sliced_arm(&outline, &burden, rest.attitude, radians(10 * i));
            assert_near(righting.arm[i], want, 5e-6);
        }
    }
}

static double fine_arm(const struct displacement *d, const struct burden *burden, double attitude,
                       double heel) {
    struct pose pose = pose_of(attitude, heel);
    struct flotation f = flotation_in(d, &pose, NULL, 0, HULL_FINE);
    return -f.buoyancy.y * pose.q - (burden->z - f.buoyancy.z) * pose.p;
}

/* Arms against the finer integration, and the vanishing angle against steps of half a degree. */
static void any_body_loses_its_stability_where_a_dense_search_finds_it(void **state) {
    (void)state;
    unsigned long long seed = 4711;
    int vanished = 0, kept = 0;
    for (int i = 0; i < 160; i++) {
        struct body_table table = body_any(&seed);
        struct outline outline = body_outline(&arena, &table, (enum section_shape)(i % 3), 0.004);
        struct plate none = {0}, lip = body_lip();
        struct hull hull = hull_of(&arena, &outline, 0.0005, i % 2 ? &lip : &none);
        double size = hull.top - hull.bottom;
        struct burden burden = {.mass = body_between(&seed, 0.3, 0.99) * WATER * hull.volume,
                                .x = hull.moment_x / hull.volume +
                                     0.05 * hull.length * body_between(&seed, -1, 1),
                                .z = hull.bottom + size * body_between(&seed, 0.45, 0.65)};
        struct rest rest = hydro_rest(&hull, &burden, WATER);
        struct displacement d;
        if (!rest.found || !(rest.gm > 0)) continue;
        assert_true(displacement_of(&hull, &burden, burden.mass / WATER, &d));
        struct righting righting = hydro_righting(&hull, &burden, WATER, &rest);
        double first = 0;
        for (int k = 1; k < 360; k++) {
            double arm = fine_arm(&d, &burden, rest.attitude, radians(0.5 * k));
            if (k % 20 == 0) assert_near(righting.arm[k / 20], arm, 2e-4 * size);
            if (first <= 0 && arm <= 0) first = radians(0.5 * k);
        }
        if (righting.vanishes) {
            assert_true(first > 0 && righting.vanishing <= first + 1e-3);
            assert_true(righting.vanishing >= first - radians(0.5) - 1e-3);
            vanished++;
        } else {
            assert_true(first <= 0);
            kept++;
        }
        assert_true(righting.self_righting == !righting.vanishes);
    }
    assert_true(vanished > 5 && kept > 10);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_box_rights_itself_by_the_wall_sided_formula),
        cmocka_unit_test(a_box_agrees_with_a_clipped_polygon_at_every_heel),
        cmocka_unit_test(a_circular_section_rights_itself_by_the_sine),
        cmocka_unit_test(a_circle_drawn_as_a_rounded_square_does_the_same),
        cmocka_unit_test(a_square_beam_rests_at_its_tilt),
        cmocka_unit_test(below_the_surface_the_arm_is_a_sine),
        cmocka_unit_test(a_top_heavy_body_has_no_range_of_stability),
        cmocka_unit_test(the_arms_of_a_plug_agree_with_slices_of_polygons),
        cmocka_unit_test(any_body_loses_its_stability_where_a_dense_search_finds_it),
    };
    return cmocka_run_group_tests(tests, NULL, arena_gone);
}
