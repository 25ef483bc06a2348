#include "close.h"

#include "compute/float/search.h"

/* Functions with known first zeros; `calls` counts the probes. */
struct curve_under_test {
    double (*value)(double at);
    double (*slope)(double at);
    int calls;
};

static struct probe probe_curve(void *context, double at) {
    struct curve_under_test *curve = context;
    curve->calls++;
    return (struct probe){at, curve->value(at), curve->slope(at)};
}

static bool fall_of(struct curve_under_test *curve, double left, double right, struct probe *fall) {
    struct search search = {probe_curve, curve, 1e-9, 0, 200};
    struct probe a = probe_curve(curve, left), b = probe_curve(curve, right);
    return search_fall(&search, a, b, fall);
}

static double cosine_slope(double at) {
    return -sin(at);
}

static void a_single_root_is_found_in_few_probes(void **state) {
    (void)state;
    struct curve_under_test curve = {cos, cosine_slope, 0};
    struct probe fall;
    assert_true(fall_of(&curve, 1, 2, &fall));
    assert_near(fall.at, 1.57079632679489662, 1e-8);
    assert_true(curve.calls < 10);
}

/* Twice through zero between two probes that are both above it: (x - 0.5)^2 - 0.01. */
static double bowl(double at) {
    return (at - 0.5) * (at - 0.5) - 0.01;
}

static double bowl_slope(double at) {
    return 2 * (at - 0.5);
}

static void the_first_of_a_pair_of_roots_is_found(void **state) {
    (void)state;
    struct curve_under_test curve = {bowl, bowl_slope, 0};
    struct probe fall;
    assert_true(fall_of(&curve, 0, 1, &fall));
    assert_near(fall.at, 0.4, 1e-8);
}

/* A dip far narrower than the interval, on the flank of a bell. */
static double notch(double at) {
    double u = (at - 0.31) / 0.12;
    return 1 - 1.5 * exp(-u * u);
}

static double notch_slope(double at) {
    double u = (at - 0.31) / 0.12;
    return 1.5 * exp(-u * u) * 2 * u / 0.12;
}

static void a_narrow_dip_is_not_stepped_over(void **state) {
    (void)state;
    struct curve_under_test curve = {notch, notch_slope, 0};
    struct probe fall;
    assert_true(fall_of(&curve, 0.1, 0.6, &fall));
    assert_near(fall.at, 0.31 - 0.12 * sqrt(log(1.5)), 1e-8);
}

/* Two flanks of different steepness and a kink between them just below zero: the cubic of the ends
 * does not get there. */
static double kink(double at) {
    return at < 0.45 ? 0.4 - at : 2 * (at - 0.45) - 0.05;
}

static double kink_slope(double at) {
    return at < 0.45 ? -1 : 2;
}

static void a_kink_just_below_zero_is_not_stepped_over(void **state) {
    (void)state;
    struct curve_under_test curve = {kink, kink_slope, 0};
    struct probe fall;
    assert_true(fall_of(&curve, 0.36, 0.6, &fall));
    assert_near(fall.at, 0.4, 1e-8);
}

/* Three roots between probes of opposite sign: the first is wanted. */
static double wave(double at) {
    return cos(9 * at) + 0.2 - 0.5 * at;
}

static double wave_slope(double at) {
    return -9 * sin(9 * at) - 0.5;
}

static void the_first_of_three_roots_is_found(void **state) {
    (void)state;
    struct curve_under_test curve = {wave, wave_slope, 0};
    struct probe fall;
    assert_true(fall_of(&curve, 0, 1.05, &fall));
    assert_near(fall.value, 0, 1e-6);
    for (int i = 1; i <= 200; i++) assert_true(wave(fall.at * (1 - i / 200.0)) > 0);
}

static double hill(double at) {
    return 1 + sin(3 * at);
}

static double hill_slope(double at) {
    return 3 * cos(3 * at);
}

static void a_function_that_stays_above_does_not_fall(void **state) {
    (void)state;
    struct curve_under_test curve = {hill, hill_slope, 0};
    struct probe fall;
    assert_false(fall_of(&curve, 0, 1.4, &fall));
    assert_true(curve.calls <= 4);
}

/* A jump, as where a lip that lies level dips in: found, within the tolerance. */
static double step(double at) {
    return at < 0.3 ? 1 : -1;
}

static double step_slope(double at) {
    (void)at;
    return 0;
}

static void a_jump_through_zero_is_found(void **state) {
    (void)state;
    struct curve_under_test curve = {step, step_slope, 0};
    struct probe fall;
    assert_true(fall_of(&curve, 0, 1, &fall));
    assert_near(fall.at, 0.3, 1e-8);
}

static double noise(double at) {
    return sin(1e9 * at) * sin(1e9 * at);
}

static void noise_does_not_cost_more_than_the_budget(void **state) {
    (void)state;
    struct curve_under_test curve = {noise, step_slope, 0};
    struct probe fall;
    (void)fall_of(&curve, 0.1, 1, &fall);
    assert_true(curve.calls <= 2 + 200 + 60);
}

static void a_start_at_or_below_zero_is_the_fall(void **state) {
    (void)state;
    struct curve_under_test curve = {cos, cosine_slope, 0};
    struct probe fall;
    assert_true(fall_of(&curve, 2, 3, &fall));
    assert_near(fall.at, 2, 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_single_root_is_found_in_few_probes),
        cmocka_unit_test(the_first_of_a_pair_of_roots_is_found),
        cmocka_unit_test(a_narrow_dip_is_not_stepped_over),
        cmocka_unit_test(a_kink_just_below_zero_is_not_stepped_over),
        cmocka_unit_test(the_first_of_three_roots_is_found),
        cmocka_unit_test(a_function_that_stays_above_does_not_fall),
        cmocka_unit_test(a_jump_through_zero_is_found),
        cmocka_unit_test(noise_does_not_cost_more_than_the_budget),
        cmocka_unit_test(a_start_at_or_below_zero_is_the_fall),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
