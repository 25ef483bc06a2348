/* What of a hull lies below a plane, against the sum of very many slices of it. */
#include "bodies.h"
#include "close.h"

#include "compute/shape/clip.h"
#include "compute/shape/panel.h"

static struct plane plane_of(double attitude, double heel, double level) {
    return (struct plane){sin(attitude), cos(attitude), sin(heel), cos(heel), level};
}

/* One slice between two planes across x: its section clipped where it stands. */
static void add_slice(struct hull_part *part, const struct plane *plane,
                      const struct section *section, double x, double wide) {
    double level = (plane->level - plane->sine * x) / plane->cosine;
    struct cut cut = clip_section(section, plane->p, plane->q, level);
    double area = 2 * cut.half * wide / plane->cosine;
    double s = x * plane->cosine - level * plane->sine;
    part->volume += wide * cut.area;
    part->moment_x += wide * cut.area * x;
    part->moment_y += wide * cut.moment_y;
    part->moment_z += wide * cut.moment_z;
    part->area += area;
    part->area_s += area * s;
    part->area_m += area * cut.middle;
    part->area_ss += area * s * s;
    part->area_mm += area * (cut.middle * cut.middle + cut.half * cut.half / 3);
}

/* Slices grow narrow towards both ends of a panel, where sections may rise from nothing. */
static struct hull_part sliced(const struct outline *outline, double finish,
                               const struct plane *plane) {
    enum { SLICES = 1500 };
    struct hull_part part = {0};
    struct panel panels[PANELS_MOST];
    for (int row = 0; row + 1 < outline->back.count; row++) {
        int count = panels_between(outline, row, finish, panels);
        for (int k = 0; k < count; k++) {
            double wide = panels[k].end - panels[k].start;
            for (int i = 0; i < SLICES && !panels[k].empty; i++) {
                double t = (i + 0.5) / SLICES, x = panels[k].start + wide * t * t * (3 - 2 * t);
                struct section section = panel_section(&panels[k], x);
                add_slice(&part, plane, &section, x, wide * 6 * t * (1 - t) / SLICES);
            }
        }
    }
    return part;
}

/* How far a hull reaches along a plane's upward normal, to 1 upwards, to -1 downwards. */
static double reach_of(const struct outline *outline, double finish, const struct plane *plane,
                       double sign) {
    enum { SLICES = 1000 };
    double reach = -INFINITY;
    struct panel panels[PANELS_MOST];
    for (int row = 0; row + 1 < outline->back.count; row++) {
        int count = panels_between(outline, row, finish, panels);
        for (int k = 0; k < count; k++)
            for (int i = 0; i <= SLICES && !panels[k].empty; i++) {
                double x = panels[k].start + (panels[k].end - panels[k].start) * i / SLICES;
                struct section section = panel_section(&panels[k], x);
                double middle = plane->sine * x + plane->cosine * plane->q * section.centre;
                double up = plane->cosine * clip_reach(&section, plane->p, plane->q);
                reach = fmax(reach, sign * middle + up);
            }
    }
    return reach;
}

static void check_part(const struct hull_part *got, const struct hull_part *due, double volume,
                       double length, double allowed) {
    double across = length / 4, plan = 5 * volume / length, area = 100 * allowed;
    assert_near(got->volume, due->volume, allowed * volume);
    assert_near(got->moment_x, due->moment_x, allowed * volume * length);
    assert_near(got->moment_y, due->moment_y, allowed * volume * across);
    assert_near(got->moment_z, due->moment_z, allowed * volume * across);
    assert_near(got->area, due->area, area * plan);
    assert_near(got->area_s, due->area_s, area * plan * length);
    assert_near(got->area_m, due->area_m, area * plan * length);
    assert_near(got->area_ss, due->area_ss, area * plan * length * length);
    assert_near(got->area_mm, due->area_mm, area * plan * length * length);
}

/* What is allowed is a little more than the worst of a few hundred such bodies; most are off by far
 * less. */
static void any_part_of_any_hull_is_the_sum_of_its_slices(void **state) {
    (void)state;
    struct arena arena = {0};
    unsigned long long seed = 20261127;
    for (int i = 0; i < 300; i++) {
        struct body_table table = body_any(&seed);
        enum section_shape shape = (enum section_shape)(i % 3);
        double finish = i % 2 ? 0.0004 : 0;
        struct outline outline = body_outline(&arena, &table, shape, table.length * 0.02);
        struct plate none = {0};
        struct hull hull = hull_of(&arena, &outline, finish, &none);
        /* Drawn one after another: the order of arguments is each compiler's own. */
        double heel = body_between(&seed, -3, 3), attitude = body_between(&seed, -1.2, 1.2);
        struct plane plane = plane_of(attitude, heel, 0);
        double x = body_between(&seed, 0, table.length), z = body_between(&seed, -0.03, 0.03);
        plane.level = plane.sine * x + plane.cosine * z * table.length;
        struct hull_part due = sliced(&outline, finish, &plane);
        struct hull_part coarse = hull_below(&hull, &plane, HULL_COARSE);
        struct hull_part fine = hull_below(&hull, &plane, HULL_FINE);
        check_part(&coarse, &due, hull.volume, table.length, 3e-4);
        check_part(&fine, &due, hull.volume, table.length, 1e-4);
    }
    arena_free(&arena);
}

/* Where the surface only just meets what reaches out farthest, perhaps between two stations. */
static void no_sliver_is_passed_over(void **state) {
    (void)state;
    struct arena arena = {0};
    unsigned long long seed = 20261127;
    for (int i = 0; i < 400; i++) {
        struct body_table table = body_any(&seed);
        enum section_shape shape = (enum section_shape)(i % 3);
        struct outline outline = body_outline(&arena, &table, shape, table.length * 0.02);
        struct plate none = {0};
        struct hull hull = hull_of(&arena, &outline, 0, &none);
        double heel = i % 4 < 2 ? 0 : body_between(&seed, -3, 3), sign = i % 2 ? 1 : -1;
        struct plane plane = plane_of(body_between(&seed, -0.6, 0.6), heel, 0);
        plane.level = sign * (reach_of(&outline, 0, &plane, sign) - 0.002 * table.length);
        struct hull_part due = sliced(&outline, 0, &plane);
        struct hull_part got = hull_below(&hull, &plane, HULL_FINE);
        assert_close(got.area, due.area, 0.1);
        assert_near(got.volume, due.volume, 1e-4 * hull.volume);
    }
    arena_free(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(any_part_of_any_hull_is_the_sum_of_its_slices),
        cmocka_unit_test(no_sliver_is_passed_over),
    };
    return cmocka_run_group_tests_name("hull", tests, NULL, NULL);
}
