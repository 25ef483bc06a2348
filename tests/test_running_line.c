/* The line under tow: closed forms of its curve, its law of force, and where it leaves the water.
 */
#include "close.h"

#include "compute/float/water.h"
#include "compute/running/line.h"

static const double PI = 3.14159265358979323846, DEG = 3.14159265358979323846 / 180;

/* Laws of which the curve is known: R sin^2 across; along nothing, or R/50 at every angle. */
static struct line_force bluff(const struct line *line, double sine, double cosine) {
    (void)cosine;
    return (struct line_force){line->across * sine * sine, 0};
}

static struct line_force bluff_and_rough(const struct line *line, double sine, double cosine) {
    (void)cosine;
    return (struct line_force){line->across * sine * sine, 0.02 * line->across};
}

static struct line_place end_of(const struct line_hung *hung, double out) {
    struct line_place end;
    line_ends(hung, &out, 1, &end);
    return end;
}

/* cot a = cot a0 + R s / T; z = (T/R) ln(tan(a0/2) / tan(a/2)); x = (T/R) (1/sin a - 1/sin a0). */
static void a_line_without_weight_or_friction_bends_as_its_closed_form_says(void **state) {
    (void)state;
    struct line line = {.across = 0.08};
    struct line_hung hung = {&line, 0.9, 25 * DEG, 0, LINE_STEPS, bluff};
    struct line_place end = end_of(&hung, 30);
    assert_close(end.angle, 0.204931632, 1e-8);
    assert_close(end.height, 8.64296384, 1e-8);
    assert_close(end.behind, 28.6627268, 1e-8);
    double angle = atan(1 / (1 / tan(25 * DEG) + 0.08 * 30 / 0.9));
    assert_close(end.angle, angle, 1e-9);
    assert_close(end.height, 0.9 / 0.08 * log(tan(12.5 * DEG) / tan(angle / 2)), 1e-9);
    assert_close(end.tension, 0.9, 1e-14);
}

/* T = T0 + f s; cot a = cot a0 + (R/f) ln(1 + f s / T0). */
static void friction_adds_up_along_the_line(void **state) {
    (void)state;
    struct line line = {.across = 0.08};
    struct line_hung hung = {&line, 0.9, 25 * DEG, 0, LINE_STEPS, bluff_and_rough};
    struct line_place end = end_of(&hung, 30);
    assert_close(end.tension, 0.948, 1e-8);
    assert_close(end.angle, 0.207815272, 1e-8);
}

static void a_heavy_line_in_still_water_hangs_as_a_catenary(void **state) {
    (void)state;
    struct line line = {.weight = 0.02};
    struct line_hung hung = {&line, 0.5, 20 * DEG, 0, LINE_STEPS, bluff};
    struct line_place end = end_of(&hung, 20);
    assert_close(end.height, 11.9732355, 1e-8);
    assert_close(end.tension, 0.73946471, 1e-8);
    /* T - w z and T cos a do not change along a catenary */
    assert_close(end.tension - 0.02 * end.height, 0.5, 1e-9);
    assert_close(end.tension * cos(end.angle), 0.5 * cos(20 * DEG), 1e-9);
}

/* cos a = -w / 2R + sqrt(1 + (w / 2R)^2). */
static void a_long_heavy_line_comes_to_its_critical_angle(void **state) {
    (void)state;
    struct line line = {.across = 0.08, .weight = 0.02};
    for (int from = 10; from <= 80; from += 35) {
        struct line_hung hung = {&line, 0.9, from * DEG, 0, LINE_STEPS, bluff};
        assert_near(end_of(&hung, 600).angle, 0.48904433, 1e-5);
    }
}

/* Pode's integrals over the angle from 40 to 30 degrees, by quadrature in another program. */
static void weight_friction_and_drag_together_agree_with_podes_integrals(void **state) {
    (void)state;
    struct line line = {.across = 0.08, .weight = 0.02};
    struct line_hung hung = {&line, 0.9, 40 * DEG, 0, LINE_STEPS, bluff_and_rough};
    struct line_place end = end_of(&hung, 23.4329861);
    assert_close(end.angle, 30 * DEG, 1e-8);
    assert_close(end.tension, 1.19438603, 1e-8);
    assert_close(end.height, 12.8446624, 1e-8);
}

/* 1.5 m/s, 0.30 mm, fresh water of 14 degC. */
static struct line nylon(double *reynolds) {
    double water = water_density(14, 0), viscosity = water_viscosity(14, 0);
    *reynolds = line_reynolds(water, viscosity, 0.3e-3, 1.5);
    return line_of(0.3e-3, 1140, water, viscosity, 1.5);
}

/* By quadrature over the angle from 24 to 8 degrees in another program. */
static void its_own_law_of_force_agrees_with_quadrature(void **state) {
    (void)state;
    double reynolds;
    struct line line = nylon(&reynolds);
    assert_close(reynolds, 384.521049, 1e-8);
    line.weight = 0;
    struct line_hung hung = {&line, 0.9, 24 * DEG, 0, LINE_STEPS, NULL};
    struct line_place end = end_of(&hung, 10.6043462);
    assert_close(end.angle, 8 * DEG, 1e-8);
    assert_close(end.height, 2.39244169, 1e-8);
    hung.steps = LINE_STRIDES;
    assert_close(end_of(&hung, 10.6043462).height, 2.39244162, 3e-8);
}

static void twice_the_steps_leave_a_sixteenth_of_the_error(void **state) {
    (void)state;
    double reynolds, height[3];
    struct line line = nylon(&reynolds);
    for (int i = 0; i < 3; i++) {
        struct line_hung hung = {&line, 0.9, 24 * DEG, 0, 25 << i, NULL};
        height[i] = end_of(&hung, 40).height;
    }
    assert_near((height[1] - height[0]) / (height[2] - height[1]), 16, 3);
}

/* Shares of 1/2 rho V^2 d at R 384.5, and 1 + 4/sqrt(R): published drag of a cylinder across the
 * flow is about 2.0, 1.5 to 1.6, 1.33 to 1.46 and 1.16 to 1.2 there. */
static void the_law_of_force_is_taylors_across_and_heat_transfers_along(void **state) {
    (void)state;
    static const double at[][3] = {{5, .012845, .057278},  {10, .044914, .077938},
                                   {15, .093847, .092281}, {25, .234649, .109408},
                                   {45, .621291, .109397}, {90, 1.203986, 0}};
    static const double across[][2] = {{20, 1.894}, {40, 1.632}, {100, 1.4}, {400, 1.2}};
    double reynolds;
    struct line line = nylon(&reynolds);
    double unit = 0.5 * water_density(14, 0) * 1.5 * 1.5 * 0.3e-3;
    for (size_t i = 0; i < sizeof at / sizeof *at; i++) {
        struct line_force force = line_force_at(&line, sin(at[i][0] * DEG), cos(at[i][0] * DEG));
        assert_near(force.across / unit, at[i][1], 6e-7);
        assert_near(force.along / unit, at[i][2], 6e-7);
    }
    for (size_t i = 0; i < sizeof across / sizeof *across; i++) {
        double viscosity = 1000 * 1.0 * 1e-3 / across[i][0];
        struct line other = line_of(1e-3, 1000, 1000, viscosity, 1);
        assert_near(line_force_at(&other, 1, 0).across / 0.5, across[i][1], 5e-4);
    }
    double volume = PI / 4 * 0.3e-3 * 0.3e-3;
    assert_close(line.weight, (1140 - water_density(14, 0)) * 9.80665 * volume, 1e-12);
}

static void the_rest_of_the_line_runs_straight_to_the_rods_tip(void **state) {
    (void)state;
    struct line line = {.across = 0.08};
    struct line_hung hung = {&line, 0.9, 25 * DEG, 1, LINE_STEPS, bluff};
    struct line_place end = end_of(&hung, 30);
    assert_near(end.s + 1 / sin(end.angle), 30, 1e-6);
    double angle = atan(1 / (1 / tan(25 * DEG) + 0.08 * end.s / 0.9));
    assert_close(end.angle, angle, 1e-9);
}

/* Lengths are found on the way to the longest one: alone, each is the same to the steps' error. */
static void several_lengths_are_the_same_as_each_alone(void **state) {
    (void)state;
    static const double out[] = {2, 2.36, 3, 10, 20, 60};
    enum { LENGTHS = sizeof out / sizeof *out };
    double reynolds;
    struct line line = nylon(&reynolds);
    struct line_hung hung = {&line, 0.9, 25 * DEG, 1, LINE_STEPS, NULL};
    struct line_place ends[LENGTHS];
    line_ends(&hung, out, LENGTHS, ends);
    for (int i = 0; i < LENGTHS; i++) {
        assert_near(ends[i].height, end_of(&hung, out[i]).height, 1e-8);
        if (ends[i].s > 0) assert_near(ends[i].s + 1 / sin(ends[i].angle), out[i], 1e-10);
    }
    assert_true(1 / sin(25 * DEG) > 2.36 && ends[0].height == 0 && ends[1].height == 0);
    assert_true(ends[2].height > 0);
}

/* A line lighter than water may rise above the flow, and a slow one does: nothing breaks. */
static void a_line_that_floats_never_goes_deeper_than_one_that_sinks(void **state) {
    (void)state;
    double water = water_density(14, 0), viscosity = water_viscosity(14, 0), last = 100;
    for (int tip = 0; tip < 2; tip++, last = 100)
        for (double density = 1780; density > 900; density -= 162) {
            struct line line = line_of(1.5e-3, density, water, viscosity, 0.3);
            struct line_hung hung = {&line, 0.05, 20 * DEG, tip, LINE_STEPS, NULL};
            struct line_place end = end_of(&hung, 150);
            assert_true(isfinite(end.height) && end.height < last);
            if (density < water && tip == 0) assert_true(end.angle < 0);
            last = end.height;
        }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_line_without_weight_or_friction_bends_as_its_closed_form_says),
        cmocka_unit_test(friction_adds_up_along_the_line),
        cmocka_unit_test(a_heavy_line_in_still_water_hangs_as_a_catenary),
        cmocka_unit_test(a_long_heavy_line_comes_to_its_critical_angle),
        cmocka_unit_test(weight_friction_and_drag_together_agree_with_podes_integrals),
        cmocka_unit_test(its_own_law_of_force_agrees_with_quadrature),
        cmocka_unit_test(twice_the_steps_leave_a_sixteenth_of_the_error),
        cmocka_unit_test(the_law_of_force_is_taylors_across_and_heat_transfers_along),
        cmocka_unit_test(the_rest_of_the_line_runs_straight_to_the_rods_tip),
        cmocka_unit_test(several_lengths_are_the_same_as_each_alone),
        cmocka_unit_test(a_line_that_floats_never_goes_deeper_than_one_that_sinks),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
