/* The points that the coefficients are taken at, and the bands that the answers lie in. */
#include "close.h"

#include "compute/running/spread.h"

static const double DEG = 3.14159265358979323846 / 180;

static void the_first_point_is_the_published_one(void **state) {
    (void)state;
    struct coefficients k = spread_point(1);
    const double got[] = {k.lip,
                          k.lip_centre,
                          k.crossflow,
                          k.couple,
                          k.along,
                          k.hooks,
                          k.down,
                          k.back,
                          k.line_across,
                          k.line_along,
                          k.line_diameter,
                          k.couple_keel,
                          k.lip_centre_yawed,
                          k.lip_angle / DEG,
                          k.lip_aspect};
    static const double want[] = {.965685,  .023205, .868034,  .752026,  .179156,
                                  1.105551, .868466, 1.107670, 1.218333, .954066,
                                  1.013553, .082763, .903124,  .229754,  .342262};
    assert_int_equal(sizeof got, sizeof want);
    assert_int_equal(sizeof got / sizeof *got, COEFFICIENTS);
    for (int i = 0; i < COEFFICIENTS; i++) assert_near(got[i], want[i], 5.1e-7);
}

static double member(const struct coefficients *k, int row) {
    double value;
    memcpy(&value, (const char *)k + reference_spread[row].offset, sizeof value);
    return value / reference_spread[row].one;
}

/* A quarter of the points lies in every quarter of every range, more or less, and so does their
 * mean in its middle. */
static void points_fill_every_range_evenly(void **state) {
    (void)state;
    struct coefficients middle = spread_middle();
    for (int i = 0; i < COEFFICIENTS; i++) {
        const struct spread_row *row = &reference_spread[i];
        int quarter[4] = {0};
        double sum = 0, wide = row->high - row->low;
        for (int n = 1; n <= SPREAD_POINTS; n++) {
            struct coefficients k = spread_point(n);
            double value = member(&k, i);
            assert_true(value >= row->low && value <= row->high);
            quarter[(int)fmin(4 * (value - row->low) / wide, 3)]++;
            sum += value;
        }
        for (int i4 = 0; i4 < 4; i4++) assert_in_range(quarter[i4], 13, 19);
        assert_near(sum / SPREAD_POINTS, member(&middle, i), 0.03 * wide);
        assert_close(member(&middle, i) - row->low, row->high - member(&middle, i), 1e-9);
        assert_true(strlen(row->name) > 0 && strlen(row->source) > 0);
    }
}

static void a_band_is_read_between_sorted_values(void **state) {
    (void)state;
    double values[SPREAD_POINTS];
    for (int i = 0; i < SPREAD_POINTS; i++)
        values[i] = (i * 37) % SPREAD_POINTS; /* 0 to 63, mixed */
    struct band band = band_of(values, SPREAD_POINTS);
    assert_true(band.given);
    assert_close(band.low, 0.05 * 63, 1e-12);
    assert_close(band.median, 31.5, 1e-12);
    assert_close(band.high, 0.95 * 63, 1e-12);
    assert_false(band_of(values, 0).given);
    double one[] = {7};
    band = band_of(one, 1);
    assert_true(band.low == 7 && band.median == 7 && band.high == 7);
}

static void without_a_limit_a_band_has_none_either(void **state) {
    (void)state;
    double values[] = {INFINITY, 1, INFINITY, 2};
    struct band band = band_of(values, 4);
    assert_close(band.low, 1.15, 1e-12);
    assert_true(isinf(band.median) && isinf(band.high));
}

static void a_band_across_zero_is_unclear(void **state) {
    (void)state;
    assert_true(band_unclear(&(struct band){true, -1, 2, 3}));
    assert_true(band_unclear(&(struct band){true, 0, 0, 0}));
    assert_false(band_unclear(&(struct band){true, 1e-9, 2, 3}));
    assert_false(band_unclear(&(struct band){true, -3, -2, -1e-9}));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_first_point_is_the_published_one),
        cmocka_unit_test(points_fill_every_range_evenly),
        cmocka_unit_test(a_band_is_read_between_sorted_values),
        cmocka_unit_test(without_a_limit_a_band_has_none_either),
        cmocka_unit_test(a_band_across_zero_is_unclear),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
