/* Sections cut by a line, against polygons of very many sides. */
#include "close.h"

#include "bodies.h"
#include "compute/shape/clip.h"

static const double PI = 3.14159265358979323846;

static const struct section oval = {SECTION_OVAL, 0.008, 0.0015, 0.012, 0};
static const struct section box = {SECTION_SQUARE, 0.010, -0.001, 0.015, 0};
static const struct section rounded = {SECTION_ROUNDED, 0.010, -0.001, 0.015, 0.004};
static const struct section stadium = {SECTION_ROUNDED, 0.010, 0.002, 0.015, 0.010};
static const struct section disc = {SECTION_ROUNDED, 0.009, 0, 0.009, 0.009};
static const struct section *const sections[] = {&oval, &box, &rounded, &stadium, &disc};
enum { SECTIONS = 5, SIDES = 40000 };

/* The section's rim as a polygon of very many sides, counter-clockwise. */
static void rim_point(const struct section *s, int i, double *y, double *z) {
    double turn = 2 * PI * (i % SIDES + 0.5) / SIDES, c = cos(turn), n = sin(turn);
    if (s->shape == SECTION_OVAL) {
        *y = s->half_width * c;
        *z = s->half_height * n;
    } else {
        *y = s->radius * c + copysign(s->half_width - s->radius, c);
        *z = s->radius * n + copysign(s->half_height - s->radius, n);
    }
    *z += s->centre;
}

/* Clips that polygon by brute force; its own error is about 1e-8 of the section. */
static struct cut cut_of_polygon(const struct section *s, double p, double q, double level) {
    double y[2 * SIDES], z[2 * SIDES], along[2] = {0, 0};
    int count = 0, ends = 0;
    for (int i = 0; i < SIDES; i++) {
        double y0, z0, y1, z1;
        rim_point(s, i, &y0, &z0);
        rim_point(s, i + 1, &y1, &z1);
        double g0 = p * y0 + q * z0 - level, g1 = p * y1 + q * z1 - level;
        if (g0 < 0) {
            y[count] = y0;
            z[count++] = z0;
        }
        if ((g0 < 0) == (g1 < 0)) continue;
        double t = g0 / (g0 - g1);
        y[count] = y0 + t * (y1 - y0);
        z[count] = z0 + t * (z1 - z0);
        if (ends < 2) along[ends++] = y[count] * q - z[count] * p;
        count++;
    }
    struct cut cut = {.middle = 0.5 * (along[0] + along[1]),
                      .half = 0.5 * fabs(along[0] - along[1])};
    for (int i = 0; i < count; i++) {
        int j = (i + 1) % count;
        double twice = y[i] * z[j] - y[j] * z[i];
        cut.area += twice / 2;
        cut.moment_y += twice * (y[i] + y[j]) / 6;
        cut.moment_z += twice * (z[i] + z[j]) / 6;
    }
    return cut;
}

static void check_cut(const struct section *s, double p, double q, double level) {
    struct cut got = clip_section(s, p, q, level), want = cut_of_polygon(s, p, q, level);
    assert_near(got.area, want.area, 1e-11);
    assert_near(got.moment_y, want.moment_y, 1e-13);
    assert_near(got.moment_z, want.moment_z, 1e-13);
    assert_near(got.middle, want.middle, 2e-7);
    assert_near(got.half, want.half, 2e-7);
}

static void a_cut_agrees_with_a_clipped_polygon(void **state) {
    (void)state;
    unsigned long long seed = 20251125;
    for (int i = 0; i < 120; i++) {
        const struct section *s = sections[i % SECTIONS];
        double turn = body_between(&seed, -PI, PI), p = sin(turn), q = cos(turn);
        double reach = clip_reach(s, p, q);
        check_cut(s, p, q, q * s->centre + body_between(&seed, -0.999, 0.999) * reach);
    }
}

static void a_level_cut_agrees_with_a_clipped_polygon(void **state) {
    (void)state;
    for (int i = 0; i < SECTIONS; i++)
        for (int k = 1; k < 14; k++) {
            const struct section *s = sections[i];
            double q = k % 2 ? 1 : -1, share = k / 7.0 - 1 + 1e-4;
            check_cut(s, 0, q, q * s->centre + share * s->half_height);
        }
}

/* A cap that only nips a corner, and one that leaves only a corner dry. */
static void a_cut_within_one_corner_is_exact(void **state) {
    (void)state;
    for (int i = 1; i < SECTIONS; i++)
        for (int k = 0; k < 8; k++) {
            const struct section *s = sections[i];
            double turn = PI / 4 * k + 0.6, p = sin(turn), q = cos(turn);
            double reach = clip_reach(s, p, q);
            check_cut(s, p, q, q * s->centre - reach + 0.0005);
            check_cut(s, p, q, q * s->centre + reach - 0.0005);
        }
}

/* Half of an ellipse: area pi a h/2, centroid 4 h/(3 pi) from its axis. */
static void half_an_oval_has_its_closed_form(void **state) {
    (void)state;
    double a = oval.half_width, h = oval.half_height, area = PI * a * h / 2;
    struct cut low = clip_section(&oval, 0, 1, oval.centre);
    assert_close(low.area, area, 1e-14);
    assert_close(low.moment_z, area * (oval.centre - 4 * h / (3 * PI)), 1e-13);
    assert_close(low.half, a, 1e-14);
    struct cut port = clip_section(&oval, 1, 0, 0);
    assert_close(port.area, area, 1e-14);
    assert_close(port.moment_y, -area * 4 * a / (3 * PI), 1e-13);
    assert_close(port.half, h, 1e-14);
}

static void a_slanting_cut_goes_over_into_a_level_one(void **state) {
    (void)state;
    for (int i = 0; i < SECTIONS; i++)
        for (int k = 0; k <= 20; k++) {
            const struct section *s = sections[i];
            double tilt = 1e-12, level = s->centre + (k / 10.0 - 1) * 0.99 * s->half_height;
            struct cut flat = clip_section(s, 0, 1, level);
            struct cut slant = clip_section(s, tilt, 1, level);
            assert_near(slant.area, flat.area, 1e-14);
            assert_near(slant.moment_y, flat.moment_y, 1e-16);
            assert_near(slant.moment_z, flat.moment_z, 1e-16);
            assert_near(slant.half, flat.half, 1e-10);
        }
}

static void both_sides_of_a_line_make_the_whole(void **state) {
    (void)state;
    unsigned long long seed = 7;
    for (int i = 0; i < 400; i++) {
        const struct section *s = sections[i % SECTIONS];
        double turn = body_between(&seed, -PI, PI), p = sin(turn), q = cos(turn);
        double level = body_between(&seed, -0.02, 0.02), area = section_area(s);
        struct cut one = clip_section(s, p, q, level), other = clip_section(s, -p, -q, -level);
        assert_near(one.area + other.area, area, 1e-17);
        assert_near(one.moment_y + other.moment_y, 0, 1e-19);
        assert_near(one.moment_z + other.moment_z, area * s->centre, 1e-19);
    }
}

/* dA/dt of the area below the line at distance t is the chord. */
static void the_area_grows_by_the_chord(void **state) {
    (void)state;
    unsigned long long seed = 11;
    for (int i = 0; i < 200; i++) {
        const struct section *s = sections[i % SECTIONS];
        double turn = body_between(&seed, -PI, PI), p = sin(turn), q = cos(turn), step = 1e-7;
        double level = q * s->centre + body_between(&seed, -0.9, 0.9) * clip_reach(s, p, q);
        double grown =
            clip_section(s, p, q, level + step).area - clip_section(s, p, q, level - step).area;
        assert_near(grown / (2 * step), 2 * clip_section(s, p, q, level).half, 2e-6);
    }
}

static void a_section_without_area_has_no_cut(void **state) {
    (void)state;
    struct section flat[] = {{SECTION_OVAL, 0, 0, 0.01, 0},
                             {SECTION_OVAL, 0.01, 0, 0, 0},
                             {SECTION_ROUNDED, 0, 0, 0.01, 0},
                             {SECTION_SQUARE, 0.01, 0, 0, 0}};
    for (int i = 0; i < 4; i++)
        for (int k = 0; k < 8; k++) {
            struct cut cut = clip_section(&flat[i], sin(k), cos(k), 0.0001);
            assert_near(cut.area, 0, 0);
            assert_near(cut.half, 0, 0);
        }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_cut_agrees_with_a_clipped_polygon),
        cmocka_unit_test(a_level_cut_agrees_with_a_clipped_polygon),
        cmocka_unit_test(a_cut_within_one_corner_is_exact),
        cmocka_unit_test(half_an_oval_has_its_closed_form),
        cmocka_unit_test(a_slanting_cut_goes_over_into_a_level_one),
        cmocka_unit_test(both_sides_of_a_line_make_the_whole),
        cmocka_unit_test(the_area_grows_by_the_chord),
        cmocka_unit_test(a_section_without_area_has_no_cut),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
