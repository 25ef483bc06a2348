/* Unknown ratios by readings, against closed forms and a simulated bench. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "compute/learn/estimate.h"

static void near(double got, double want, double within) {
    if (!(fabs(got - want) <= within)) fail_msg("%.17g is not %.17g", got, want);
}

static void without_readings_the_prior_stands(void **state) {
    struct arena arena = {0};
    const double prior[] = {0.1, 0.5};
    struct learn_task task = {prior, 2, NULL, 0};
    struct learn_estimate e = learn_estimate_of(&arena, &task);
    (void)state;
    for (int i = 0; i < 2; i++) {
        near(e.mean[i], 0, 0);
        near(e.deviation[i], prior[i], 1e-15);
        near(e.prior_share[i], 1, 1e-15);
        assert_int_equal(e.readings[i], 0);
    }
    near(e.covariance[1], 0, 0);
    near(e.scatter, 1, 0);
    arena_free(&arena);
}

/* Normal prior, n normal readings: precisions add up, and the mean is weighted by them. */
static void one_unknown_has_the_conjugate_posterior(void **state) {
    const double prior = 0.1, doubt = 0.2, amount = 20, values[] = {20.9, 21.4, 20.6, 21.1, 21.7};
    enum { N = sizeof values / sizeof *values };
    struct arena arena = {0};
    struct learn_part part = {amount, {{0, 0}}, 1};
    struct learn_reading readings[N];
    struct learn_task task = {&prior, 1, readings, N};
    double mean = 0, precision = 0;
    (void)state;
    for (int i = 0; i < N; i++) readings[i] = (struct learn_reading){i, values[i], doubt, &part, 1};
    struct learn_estimate e = learn_estimate_of(&arena, &task);
    /* until it rests, and once more for the covariance there */
    for (int more = 2; more;) {
        double slope = amount * exp(mean), sum = 0, before = mean;
        double variance = doubt * doubt;
        precision = 1 / (prior * prior) + N * slope * slope / variance;
        for (int i = 0; i < N; i++) sum += slope * (values[i] - slope + slope * mean) / variance;
        mean = sum / precision;
        more -= fabs(mean - before) <= LEARN_AT_REST;
    }
    near(e.mean[0], mean, 1e-12);
    near(e.deviation[0], sqrt(1 / precision), 1e-12);
    near(e.prior_share[0], 1 / (precision * prior * prior), 1e-12);
    assert_int_equal(e.readings[0], N);
    arena_free(&arena);
}

/* What took thrice as long, or a thirtieth, is learned as that, and not as what a straight line
 * makes of it. */
static void a_reading_far_off_is_not_overshot(void **state) {
    const double prior = 1.5, times[] = {3, 30, 1.0 / 3, 1.0 / 30};
    (void)state;
    for (int i = 0; i < 4; i++) {
        struct arena arena = {0};
        struct learn_part part = {100, {{0, 0}}, 1};
        struct learn_reading reading = {0, 100 * times[i], 100 * times[i] * 1e-3, &part, 1};
        struct learn_task task = {&prior, 1, &reading, 1};
        struct learn_estimate e = learn_estimate_of(&arena, &task);
        near(e.mean[0], log(times[i]), 1e-4);
        arena_free(&arena);
    }
}

/* What a plug would be foretold is what the others alone say: the same estimate, made of them. */
static void a_plug_left_out_takes_no_part(void **state) {
    const double prior = 0.1, values[] = {20.9, 21.4};
    struct arena arena = {0};
    struct learn_part part = {20, {{0, 0.02}}, 1};
    struct learn_reading readings[2];
    struct learn_task task = {&prior, 1, readings, 2};
    double means[2];
    (void)state;
    for (int i = 0; i < 2; i++) readings[i] = (struct learn_reading){i, values[i], 0.2, &part, 1};
    struct learn_estimate e = learn_estimate_of(&arena, &task);
    learn_leave_out(&arena, &task, &e, means);
    for (int i = 0; i < 2; i++) {
        double slope = 20 * exp(e.mean[0]), variance = 0.04 + pow(slope * 0.02, 2);
        double precision = 1 / (prior * prior) + slope * slope / variance;
        double sum = slope * (values[1 - i] - slope + slope * e.mean[0]) / variance;
        near(means[i], sum / precision, 1e-12);
    }
    arena_free(&arena);
}

/* What a plug of one reading says is that reading, with its doubt and its plug's scatter. */
static void a_plug_by_itself_says_what_was_read(void **state) {
    enum { N = 4 };
    const double prior = 0.1, values[N] = {20.9, 21.4, 19.8, 20.1};
    struct arena arena = {0};
    struct learn_part part = {20, {{0, 0.02}}, 1};
    struct learn_reading readings[N];
    struct learn_task task = {&prior, 1, readings, N};
    int count;
    (void)state;
    for (int i = 0; i < N; i++) readings[i] = (struct learn_reading){i, values[i], 0.2, &part, 1};
    struct learn_estimate e = learn_estimate_of(&arena, &task);
    const struct learn_claim *claims = learn_claims(&arena, &task, &e, &count);
    assert_int_equal(count, N);
    for (int i = 0; i < N; i++) {
        double slope = 20 * exp(e.mean[0]);
        assert_int_equal(claims[i].plug, i);
        near(claims[i].mean, e.mean[0] + values[i] / slope - 1, 1e-12);
        near(claims[i].deviation, sqrt(pow(0.2 / slope, 2) + pow(e.scatter * 0.02, 2)), 1e-12);
    }
    arena_free(&arena);
}

/* Two unknowns by hand: plug 0 was read twice, plug 1 once with both in it.  What plug 1 says of
 * the second is what its reading leaves over the first, as plug 0 and the prior have that. */
static void a_plug_says_what_the_others_leave_to_explain(void **state) {
    const double prior[2] = {0.1, 0.3}, values[3] = {20.4, 26.1, 26.9}, doubt = 0.04;
    const struct learn_part parts[2] = {{20, {{0, 0.02}}, 1}, {5, {{1, 0.05}}, 1}};
    struct arena arena = {0};
    struct learn_reading readings[3];
    struct learn_task task = {prior, 2, readings, 3};
    double without[4];
    int count;
    (void)state;
    for (int i = 0; i < 3; i++)
        readings[i] = (struct learn_reading){i / 2, values[i], 0.2, parts, i ? 2 : 1};
    struct learn_estimate e = learn_estimate_of(&arena, &task);
    const struct learn_claim *claims = learn_claims(&arena, &task, &e, &count);
    learn_leave_out(&arena, &task, &e, without);
    assert_int_equal(count, 4);
    const struct learn_claim *c = &claims[3];
    assert_int_equal(c->plug, 1);
    assert_int_equal(c->unknown, 1);
    double a = 20 * exp(e.mean[0]), b = 5 * exp(e.mean[1]); /* slopes */
    double own_a = pow(a * 0.02, 2), own_b = pow(b * 0.05, 2);
    /* what the two readings of plug 0 may be off, and that inverted */
    double r00 = doubt + own_a, r01 = own_a, r11 = doubt + own_a + own_b;
    double det = r00 * r11 - r01 * r01, i00 = r11 / det, i01 = -r01 / det, i11 = r00 / det;
    /* precision of both unknowns by the prior and plug 0 */
    double p00 = 1 / (prior[0] * prior[0]) + a * a * (i00 + 2 * i01 + i11);
    double p01 = a * b * (i01 + i11), p11 = 1 / (prior[1] * prior[1]) + b * b * i11;
    double first = p11 / (p00 * p11 - p01 * p01);
    const double *m = without + 2; /* the means without plug 1 */
    double foretold = a + b + a * (m[0] - e.mean[0]) + b * (m[1] - e.mean[1]);
    near(c->mean, m[1] + (values[2] - foretold) / b, 1e-9);
    near(c->deviation, sqrt(doubt + own_a + own_b + a * a * first) / b, 1e-9);
    arena_free(&arena);
}

static uint64_t seed = 20270301;

static double uniform(void) {
    seed = seed * 6364136223846793005U + 1442695040888963407U;
    return ((double)(seed >> 11) + 0.5) / 9007199254740992.0;
}

static double normal(void) {
    double radius = sqrt(-2 * log(uniform()));
    return radius * cos(2 * 3.14159265358979323846 * uniform());
}

enum { PLUGS = 6, UNKNOWNS = 3 };

/* A bench whose ratios are drawn from the priors, its plugs differing `scatter` times as much as is
 * expected: body, then with sealer, then with topcoat, of some plugs. */
static struct learn_estimate simulated(struct arena *arena, double scatter, double *truth) {
    static const double prior[UNKNOWNS] = {0.1, 0.25, 0.2}, doubt = 0.1;
    static const struct learn_part parts[] = {
        {20, {{0, 0.02}}, 1}, {4, {{1, 0.05}}, 1}, {6, {{2, 0.05}}, 1}};
    static struct learn_reading readings[UNKNOWNS * PLUGS];
    for (int j = 0; j < UNKNOWNS; j++) truth[j] = prior[j] * normal();
    for (int i = 0; i < PLUGS; i++) {
        double own[UNKNOWNS];
        for (int j = 0; j < UNKNOWNS; j++)
            own[j] = truth[j] + scatter * parts[j].of[0].scatter * normal();
        for (int k = 0; k < UNKNOWNS; k++) {
            struct learn_reading *r = &readings[UNKNOWNS * i + k];
            *r = (struct learn_reading){i, 0, doubt, parts, k + 1};
            r->value = learn_predict(r, own) + doubt * normal();
        }
    }
    struct learn_task task = {prior, UNKNOWNS, readings, UNKNOWNS * PLUGS};
    return learn_estimate_of(arena, &task);
}

static void intervals_of_a_simulated_builder_cover(void **state) {
    enum { DRAWS = 1000 };
    const double ninety = 1.6448536269514722;
    int covered[UNKNOWNS] = {0};
    (void)state;
    for (int draw = 0; draw < DRAWS; draw++) {
        struct arena arena = {0};
        double truth[UNKNOWNS];
        struct learn_estimate e = simulated(&arena, 1, truth);
        for (int j = 0; j < UNKNOWNS; j++)
            covered[j] += fabs(e.mean[j] - truth[j]) <= ninety * e.deviation[j];
        arena_free(&arena);
    }
    for (int j = 0; j < UNKNOWNS; j++) assert_in_range(covered[j], 870, 930);
}

/* Plugs that differ much are seen to, and those that hardly do. */
static void how_far_plugs_differ_is_seen(void **state) {
    enum { DRAWS = 100 };
    (void)state;
    for (int wide = 0; wide < 2; wide++) {
        double logarithms = 0;
        for (int draw = 0; draw < DRAWS; draw++) {
            struct arena arena = {0};
            double truth[UNKNOWNS];
            logarithms += log(simulated(&arena, wide ? 3 : 0.5, truth).scatter);
            arena_free(&arena);
        }
        double middle = exp(logarithms / DRAWS);
        if (wide)
            assert_true(middle > 2.3 && middle < 3.5);
        else
            assert_true(middle > 0.3 && middle < 0.8);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(without_readings_the_prior_stands),
        cmocka_unit_test(one_unknown_has_the_conjugate_posterior),
        cmocka_unit_test(a_reading_far_off_is_not_overshot),
        cmocka_unit_test(a_plug_left_out_takes_no_part),
        cmocka_unit_test(a_plug_by_itself_says_what_was_read),
        cmocka_unit_test(a_plug_says_what_the_others_leave_to_explain),
        cmocka_unit_test(intervals_of_a_simulated_builder_cover),
        cmocka_unit_test(how_far_plugs_differ_is_seen),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
