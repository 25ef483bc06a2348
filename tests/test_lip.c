/* The lip's plate: areas and centroids of school geometry, and what a plane leaves of them. */
#include "close.h"

#include "compute/shape/lip.h"

static const double PI = 3.14159265358979323846;

static struct plate plate_with(enum lip_shape shape) {
    return (struct plate){.given = true,
                          .u_x = -1,
                          .extent = 0.030,
                          .thickness = 0.001,
                          .width = 0.020,
                          .tip = 0.012,
                          .shape = shape};
}

static void check_area(const struct plate *plate, double area, double moment) {
    double got_area, got_moment;
    plate_area(plate, 0, plate->extent, &got_area, &got_moment);
    assert_close(got_area, area, 1e-14);
    assert_close(got_moment, moment, 1e-14);
}

static void a_square_lip_is_a_rectangle(void **state) {
    (void)state;
    struct plate plate = plate_with(LIP_SQUARE);
    check_area(&plate, 0.020 * 0.030, 0.020 * 0.030 * 0.015);
}

/* Trapezoid with sides a, b and height e: area e (a + b)/2, centroid e (a + 2 b)/(3 (a + b)). */
static void a_tapered_lip_is_a_trapezoid(void **state) {
    (void)state;
    struct plate plate = plate_with(LIP_TAPER);
    double area = 0.030 * (0.020 + 0.012) / 2;
    check_area(&plate, area, area * 0.030 * (0.020 + 2 * 0.012) / (3 * (0.020 + 0.012)));
}

/* Half a disc of radius r: area pi r^2/2, centroid 4 r/(3 pi) from its diameter. */
static void a_round_lip_is_a_rectangle_and_half_a_disc(void **state) {
    (void)state;
    struct plate plate = plate_with(LIP_ROUND);
    double r = 0.010, disc = PI * r * r / 2;
    check_area(&plate, 0.020 * 0.020 + disc,
               0.020 * 0.020 * 0.010 + disc * (0.020 + 4 * r / (3 * PI)));
}

static void parts_of_a_lip_agree_with_a_sum_of_strips(void **state) {
    (void)state;
    for (int shape = LIP_SQUARE; shape <= LIP_TAPER; shape++) {
        struct plate plate = plate_with((enum lip_shape)shape);
        for (int from = 0; from <= 30; from += 7) {
            double area = 0, moment = 0, s0 = 0.001 * from, s1 = 0.0285;
            const int strips = 20000;
            for (int i = 0; i < strips; i++) {
                double s = s0 + (s1 - s0) * (i + 0.5) / strips;
                area += plate_width(&plate, s) * (s1 - s0) / strips;
                moment += s * plate_width(&plate, s) * (s1 - s0) / strips;
            }
            double got_area, got_moment;
            plate_area(&plate, s0, s1, &got_area, &got_moment);
            assert_near(got_area, area, 1e-11);
            assert_near(got_moment, moment, 1e-12);
        }
    }
}

static void beyond_its_ends_a_lip_has_no_area(void **state) {
    (void)state;
    struct plate plate = plate_with(LIP_ROUND), none = {0};
    double all, area, moment, all_moment;
    plate_area(&plate, 0, plate.extent, &all, &all_moment);
    plate_area(&plate, -1, 1, &area, &moment);
    assert_near(area, all, 0);
    assert_near(moment, all_moment, 0);
    plate_area(&plate, 0.04, 0.05, &area, &moment);
    assert_near(area, 0, 0);
    plate_area(&none, 0, 1, &area, &moment);
    assert_near(area, 0, 0);
    assert_near(plate_width(&plate, -0.001), 0, 0);
    assert_near(plate_width(&plate, 0.031), 0, 0);
}

static void a_level_cuts_a_lip_at_right_angles_to_its_slope(void **state) {
    (void)state;
    struct plate plate = plate_with(LIP_SQUARE);
    plate.u_x = -0.8; /* down at 3 in 5 from a mouth at (20, -10) mm */
    plate.u_z = -0.6;
    plate.mouth_x = 0.020;
    plate.mouth_z = -0.010;
    struct plate_part part = plate_below(&plate, 0, 1, -0.016); /* 10 mm down the lip */
    assert_close(part.volume, 0.001 * 0.020 * 0.020, 1e-12);
    assert_close(part.moment_x, part.volume * (0.020 - 0.8 * 0.020), 1e-12);
    assert_close(part.moment_z, part.volume * (-0.010 - 0.6 * 0.020), 1e-12);
    assert_close(part.rate, 0.001 * 0.020 / 0.6, 1e-12);
    assert_close(part.trace_x, 0.012, 1e-12);
    assert_close(part.trace_z, -0.016, 1e-12);
    struct plate_part above = plate_below(&plate, 0, -1, 0.016);
    assert_close(part.volume + above.volume, 0.001 * 0.020 * 0.030, 1e-12);
}

static void a_level_lip_dips_in_all_at_once_but_finitely(void **state) {
    (void)state;
    struct plate plate = plate_with(LIP_SQUARE);
    double all = 0.001 * 0.020 * 0.030;
    assert_close(plate_below(&plate, 0, 1, 1e-8).volume, all, 1e-12);
    assert_near(plate_below(&plate, 0, 1, -1e-8).volume, 0, 1e-20);
    assert_true(isfinite(plate_below(&plate, 0, 1, 0).rate));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_square_lip_is_a_rectangle),
        cmocka_unit_test(a_tapered_lip_is_a_trapezoid),
        cmocka_unit_test(a_round_lip_is_a_rectangle_and_half_a_disc),
        cmocka_unit_test(parts_of_a_lip_agree_with_a_sum_of_strips),
        cmocka_unit_test(beyond_its_ends_a_lip_has_no_area),
        cmocka_unit_test(a_level_cuts_a_lip_at_right_angles_to_its_slope),
        cmocka_unit_test(a_level_lip_dips_in_all_at_once_but_finitely),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
