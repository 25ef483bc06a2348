/* Roots in a bracket: polynomials of the textbooks, and how often they are asked. */
#include "close.h"

#include <stdbool.h>

#include "compute/running/root.h"

struct curve {
    double (*at)(double x);
    int asked;
    double least, most; /* of the places that were asked */
};

static double asked(const void *context, double x) {
    struct curve *curve = *(struct curve *const *)context;
    curve->asked++;
    curve->least = fmin(curve->least, x), curve->most = fmax(curve->most, x);
    return curve->at(x);
}

/* Wallis's cubic, 1685, on which Newton's method was first shown: 2.09455148154232659. */
static double wallis(double x) {
    return x * x * x - 2 * x - 5;
}

/* Kepler's equation of a mean anomaly of 1 and an eccentricity of 0.1: 1.08859775239789. */
static double kepler(double x) {
    return x - 0.1 * sin(x) - 1;
}

static double falling(double x) {
    return 0.3 - x;
}

/* All but flat up to a wall: what false position alone takes hundreds of steps for. */
static double steep(double x) {
    return pow(x, 21) - 1e-3;
}

static double step_up(double x) {
    return x < 0.7 ? -INFINITY : 1;
}

static double found(struct curve *curve, double low, double high, double width) {
    curve->least = INFINITY, curve->most = -INFINITY;
    struct bracket bracket = {low, high, curve->at(low), curve->at(high)};
    return root_between(bracket, width, asked, &curve);
}

static void a_root_is_found_to_the_width_in_few_steps(void **state) {
    (void)state;
    static const struct {
        double (*at)(double x);
        double low, high, root;
        int most;
    } cases[] = {
        {wallis, 2, 3, 2.09455148154232659, 9}, {wallis, -3, 50, 2.09455148154232659, 36},
        {kepler, 0, 3, 1.08859775239789, 9},    {falling, -1, 2, 0.3, 3},
        {steep, 0, 2, 0.71968567300115, 28},    {step_up, 0, 1, 0.7, 42},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct curve curve = {.at = cases[i].at};
        double root = found(&curve, cases[i].low, cases[i].high, 1e-12);
        assert_near(root, cases[i].root, 2e-12);
        assert_in_range(curve.asked, 1, cases[i].most);
        assert_true(curve.least >= cases[i].low && curve.most <= cases[i].high);
        curve.asked = 0;
        assert_near(found(&curve, cases[i].high, cases[i].low, 1e-12), cases[i].root, 2e-12);
        assert_in_range(curve.asked, 1, cases[i].most);
        assert_near(found(&curve, cases[i].low, cases[i].high, 1e-3), cases[i].root, 1e-3);
    }
}

static double three_roots(double x) {
    return (x - 0.1) * (x - 0.5) * (x - 0.9);
}

static void halvings_decide_which_root_it_is_and_ends_stand_for_what_lies_beyond(void **state) {
    (void)state;
    struct curve wallis_curve = {.at = wallis}, *curve = &wallis_curve;
    assert_near(root_rising(2, 3, 1e-12, asked, &curve), 2.09455148154232659, 2e-12);
    assert_in_range(curve->asked, 1, 20);
    assert_true(root_rising(2.5, 3, 1e-12, asked, &curve) == 2.5); /* above zero from the first */
    assert_true(root_rising(0, 2, 1e-12, asked, &curve) == 2);     /* and never */
    curve->at = three_roots; /* the middle is zero, and so not above it: the upper half */
    assert_near(root_rising(0, 1, 1e-12, asked, &curve), 0.9, 2e-12);
    assert_near(root_rising(0, 0.9, 1e-12, asked, &curve), 0.1, 2e-12);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_root_is_found_to_the_width_in_few_steps),
        cmocka_unit_test(halvings_decide_which_root_it_is_and_ends_stand_for_what_lies_beyond),
    };
    return cmocka_run_group_tests_name("root", tests, NULL, NULL);
}
