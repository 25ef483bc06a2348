/* The curves against another implementation of the same scheme. */
#include "close.h"

#include "compute/shape/outline.h"

static struct arena arena;

static int arena_gone(void **state) {
    (void)state;
    arena_free(&arena);
    return 0;
}

/* One table from another program: values between the points and slopes at them. */
struct reference {
    int count, checks;
    double x[6], y[6], slope[6], at[8], value[8];
};

/* scipy 1.10.1, p = scipy.interpolate.PchipInterpolator(x, y); p.derivative()(x), p(at). */
static const struct reference references[] = {
    {.count = 6,
     .x = {0, 0.25, 0.5, 1.25, 2, 4},
     .y = {0, 1, 1.5, 1.2, 2.5, 2.5},
     .slope = {5, 2.6666666666666665, 0, 0, 0, 0},
     .checks = 8,
     .at = {0.1, 0.3, 0.49, 0.9, 1.5, 1.9, 2.5, 3.9},
     .value = {0.468, 1.1373333333333333, 1.498688, 1.335022222222222, 1.537037037037037,
               2.436829629629629, 2.5, 2.5}},
    {.count = 4,
     .x = {0, 1, 3, 4},
     .y = {2, 0, 5, 1},
     .slope = {-3.5, 0, 0, -6.166666666666667},
     .checks = 6,
     .at = {0.5, 0.75, 1.5, 2.9, 3.25, 3.9},
     .value = {0.5625, 0.1484375, 0.78125, 4.96375, 4.6640625, 1.6115}},
    {.count = 3, /* the parabola's slope at the first end would run backwards: 0 */
     .x = {0, 1, 2},
     .y = {0, 0.1, 5},
     .slope = {0, 0.196, 7.3},
     .checks = 3,
     .at = {0.5, 0.75, 1.5},
     .value = {0.0255, 0.0568125, 1.662}},
    {.count = 3, /* and here it is cut to three times the first line's */
     .x = {0, 1, 2},
     .y = {0, 1, -9},
     .slope = {3, 0, -15.5},
     .checks = 3,
     .at = {0.5, 0.75, 1.5},
     .value = {0.875, 0.984375, -2.0625}},
    {.count = 5, /* the back of a plug, m */
     .x = {0, 0.025, 0.07, 0.1, 0.14},
     .y = {0.003, 0.013, 0.012, 0.008, 0.002},
     .slope = {0.5507936507936506, 0, -0.03999999999999997, -0.14078212290502792,
               -0.15952380952380948},
     .checks = 4,
     .at = {0.01, 0.05, 0.09, 0.12},
     .value = {0.00850285714285714, 0.0126639231824417, 0.0095738464721705, 0.00509370843309391}},
};

static void curves_agree_with_scipy(void **state) {
    (void)state;
    for (size_t k = 0; k < sizeof references / sizeof *references; k++) {
        const struct reference *r = &references[k];
        struct curve curve = curve_through(&arena, r->x, r->y, r->count);
        for (int i = 0; i < r->count; i++) {
            assert_near(curve.slope[i], r->slope[i], 1e-13);
            assert_near(curve_slope_at(&curve, r->x[i]), r->slope[i], 1e-12);
        }
        for (int i = 0; i < r->checks; i++)
            assert_near(curve_at(&curve, r->at[i]), r->value[i], 1e-14);
    }
}

static void two_points_make_a_straight_line(void **state) {
    (void)state;
    static const double x[] = {0, 0.1}, y[] = {0.002, 0.012};
    struct curve curve = curve_through(&arena, x, y, 2);
    for (int i = 0; i <= 10; i++) {
        assert_near(curve_at(&curve, 0.01 * i), 0.002 + 0.001 * i, 1e-16);
        assert_near(curve_slope_at(&curve, 0.01 * i), 0.1, 1e-15);
    }
}

static void a_curve_passes_its_points_and_keeps_its_end_values(void **state) {
    (void)state;
    const struct reference *r = &references[4];
    struct curve curve = curve_through(&arena, r->x, r->y, r->count);
    for (int i = 0; i < r->count; i++) assert_near(curve_at(&curve, r->x[i]), r->y[i], 1e-17);
    assert_near(curve_at(&curve, -1), r->y[0], 0);
    assert_near(curve_at(&curve, 1), r->y[4], 0);
}

static void a_curve_never_leaves_the_range_of_its_neighbours(void **state) {
    (void)state;
    for (size_t k = 0; k < sizeof references / sizeof *references; k++) {
        const struct reference *r = &references[k];
        struct curve curve = curve_through(&arena, r->x, r->y, r->count);
        for (int i = 0; i + 1 < r->count; i++) {
            double low = fmin(r->y[i], r->y[i + 1]), high = fmax(r->y[i], r->y[i + 1]);
            for (int j = 0; j <= 50; j++) {
                double y = curve_at(&curve, r->x[i] + (r->x[i + 1] - r->x[i]) * j / 50);
                assert_true(y >= low - 1e-15 && y <= high + 1e-15);
            }
        }
    }
}

static void a_cubic_gives_up_all_of_its_roots(void **state) {
    (void)state;
    /* (t - 1)(t - 2)(t - 4) = t^3 - 7 t^2 + 14 t - 8 */
    struct cubic cubic = {{-8, 14, -7, 1}};
    double roots[3];
    assert_int_equal(cubic_roots(&cubic, 5, roots), 3);
    assert_near(roots[0], 1, 1e-14);
    assert_near(roots[1], 2, 1e-14);
    assert_near(roots[2], 4, 1e-14);
    assert_int_equal(cubic_roots(&cubic, 1.5, roots), 1);
    struct cubic line = {{-1, 2, 0, 0}}, none = {{1, 0, 1, 0}}, zero = {{0}};
    assert_int_equal(cubic_roots(&line, 5, roots), 1);
    assert_near(roots[0], 0.5, 1e-15);
    assert_int_equal(cubic_roots(&none, 5, roots), 0);
    assert_int_equal(cubic_roots(&zero, 5, roots), 0);
}

/* Against a search in 20 000 steps, whose own error is below the tolerance. */
static void the_least_sum_is_where_a_search_finds_it(void **state) {
    (void)state;
    static const double x[] = {0, 0.02, 0.05, 0.08, 0.1};
    static const double back[] = {0.004, 0.013, 0.002, 0.001, 0.009};
    static const double belly[] = {0.006, -0.009, 0.001, 0.004, -0.003};
    struct curve a = curve_through(&arena, x, back, 5), b = curve_through(&arena, x, belly, 5);
    int below_ends = 0;
    for (int row = 0; row < 4; row++) {
        double least = INFINITY;
        for (int i = 0; i <= 20000; i++) {
            double at = x[row] + (x[row + 1] - x[row]) * i / 20000;
            least = fmin(least, curve_at(&a, at) + curve_at(&b, at));
        }
        assert_near(curve_least_sum(&a, &b, row), least, 1e-10);
        double ends = fmin(back[row] + belly[row], back[row + 1] + belly[row + 1]);
        if (least < ends - 1e-5) below_ends++;
    }
    assert_true(below_ends > 0); /* the case that looking at stations alone would miss */
}

static void a_sum_that_touches_zero_is_not_below_it(void **state) {
    (void)state;
    static const double x[] = {0, 0.03, 0.06, 0.1}, belly[] = {0.002, 0.006, -0.004, -0.004};
    static const double back[] = {0.003, 0.006, 0.004, 0.004};
    struct curve a = curve_through(&arena, x, back, 4), b = curve_through(&arena, x, belly, 4);
    for (int row = 0; row < 3; row++) assert_true(curve_least_sum(&a, &b, row) >= 0);
    assert_near(curve_least_sum(&a, &b, 2), 0, 0);
}

static void stations_may_stand_at_lengths_or_shares(void **state) {
    (void)state;
    struct station stations[] = {
        {.at = {0, true, true}, .back = 0.003, .belly = 0.004, .width = 0.006},
        {.at = {0.05, false, true}, .back = 0.012, .belly = 0.015, .width = 0.022},
        {.at = {0.1400004, false, true}, .back = 0.002, .belly = 0.001, .width = 0.004},
    };
    struct section_choice section = {SECTION_ROUNDED, {0.006, true}};
    struct body body = {0.14, stations, 3, &section, false};
    struct outline outline = outline_of(&arena, &body);
    assert_near(outline.length, 0.14, 0);
    assert_near(outline.radius, 0.006, 0);
    assert_int_equal(outline.shape, SECTION_ROUNDED);
    assert_near(curve_at(&outline.back, 0), 0.003, 1e-18);
    assert_near(curve_at(&outline.belly, 0.05), 0.015, 1e-18);
    assert_near(outline.width.x[2], 0.14, 0); /* a station within 1 um of the length is the tail */
    assert_near(curve_at(&outline.width, 0.14), 0.004, 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(curves_agree_with_scipy),
        cmocka_unit_test(two_points_make_a_straight_line),
        cmocka_unit_test(a_curve_passes_its_points_and_keeps_its_end_values),
        cmocka_unit_test(a_curve_never_leaves_the_range_of_its_neighbours),
        cmocka_unit_test(a_cubic_gives_up_all_of_its_roots),
        cmocka_unit_test(the_least_sum_is_where_a_search_finds_it),
        cmocka_unit_test(a_sum_that_touches_zero_is_not_below_it),
        cmocka_unit_test(stations_may_stand_at_lengths_or_shares),
    };
    return cmocka_run_group_tests(tests, NULL, arena_gone);
}
