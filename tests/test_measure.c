/* Numbers as the bench reads them. */
#include "close.h"

#include "emit/write/measure.h"

static struct arena arena;

static int end_arena(void **state) {
    (void)state;
    arena_free(&arena);
    return 0;
}

struct sample {
    double value;
    const char *metric, *inch;
};

typedef const char *shown(struct arena *, double, enum unit_system);

static void check(shown *show, const struct sample *samples, size_t count) {
    for (size_t i = 0; i < count; i++) {
        assert_string_equal(show(&arena, samples[i].value, UNITS_METRIC), samples[i].metric);
        assert_string_equal(show(&arena, samples[i].value, UNITS_INCH), samples[i].inch);
    }
}

#define CHECK(show, ...)                                        \
    do {                                                        \
        const struct sample samples[] = {__VA_ARGS__};          \
        check(show, samples, sizeof samples / sizeof *samples); \
    } while (0)

/* 1 in = 25.4 mm, 1 ft = 304.8 mm exactly (NIST SP 811, appendix B.8). */
static void lengths_are_tenths_of_a_millimetre_or_thirty_seconds_of_an_inch(void **state) {
    (void)state;
    CHECK(measure_length, {0.0127, "12.7 mm", "1/2 in"}, {0.0254, "25.4 mm", "1 in"},
          {0.1651, "165.1 mm", "6 1/2 in"}, {0.00079375, "0.8 mm", "1/32 in"},
          {0, "0.0 mm", "0 in"}, {-0.00635, "−6.4 mm", "−1/4 in"}, {3.048, "3.05 m", "10.0 ft"});
}

static void
a_fraction_that_is_off_by_more_than_a_tenth_of_a_millimetre_shows_its_decimals(void **state) {
    (void)state;
    CHECK(measure_length, {0.010, "10.0 mm", "13/32 (0.394) in"},
          {0.0127 + 0.09e-3, "12.8 mm", "1/2 in"}, {0.0127 + 0.11e-3, "12.8 mm", "1/2 (0.504) in"});
    CHECK(measure_length_short, {0.010, "10.0", "13/32"}, {0.0254 * 1.999, "50.8", "2"});
    CHECK(measure_length_bare, {0.0381, "38.1", "1 1/2"}, {0.00033, "0.3", "0.013"});
}

static void small_sizes_keep_more_digits(void **state) {
    (void)state;
    CHECK(measure_fine, {0.00102362, "1.02 mm", "0.040 in"}, {0.25e-3, "0.25 mm", "0.010 in"});
    CHECK(measure_film, {12e-6, "12 µm", "0.5 thou"}, {25.4e-6, "25 µm", "1.0 thou"});
}

/* 1 oz = 28.349523125 g, 1 lb = 16 oz exactly (NIST SP 811, appendix B.8). */
static void masses_change_to_the_larger_unit_where_a_bench_scale_does(void **state) {
    (void)state;
    CHECK(measure_mass, {0.028349523125, "28.3 g", "1.000 oz"}, {0.0004, "0.4 g", "0.014 oz"},
          {0.999, "999.0 g", "2.20 lb"}, {1.25, "1.25 kg", "2.76 lb"});
}

static void other_kinds_carry_their_units(void **state) {
    (void)state;
    CHECK(measure_volume, {100e-6, "100.0 ml", "3.38 fl oz"}, {2e-3, "2.00 l", "67.63 fl oz"});
    CHECK(measure_solid, {16.387064e-6, "16.4 cm³", "1.00 in³"});
    CHECK(measure_area, {6.4516e-4, "6.5 cm²", "1.00 in²"});
    CHECK(measure_density, {1000, "1000 kg/m³", "62.4 lb/ft³"});
    CHECK(measure_speed, {0.0254, "25 mm/s", "1.0 in/s"});
    CHECK(measure_force, {100, "100 N", "22 lbf"});
    CHECK(measure_temperature, {20, "20 °C", "68 °F"}, {-40, "−40 °C", "−40 °F"});
}

/* What units.def says of a kind is what it is printed in, and every unit named there exists. */
static void every_kind_is_shown_in_units_that_exist(void **state) {
    (void)state;
    static const struct {
        enum shown_as what;
        const char *unit[3];
        int decimals[3];
    } ROWS[] = {
#define SHOWN(key, exact, exact_decimals, metric, metric_decimals, inch, inch_decimals) \
    {SHOWN_##key, {exact, metric, inch}, {exact_decimals, metric_decimals, inch_decimals}},
#include "units.def"
    };
    for (size_t i = 0; i < sizeof ROWS / sizeof *ROWS; i++) {
        const struct shown_form forms[] = {shown_exact(ROWS[i].what),
                                           shown_form(ROWS[i].what, UNITS_METRIC),
                                           shown_form(ROWS[i].what, UNITS_INCH)};
        for (int k = 0; k < 3; k++) {
            assert_string_equal(forms[k].unit->name, ROWS[i].unit[k]);
            assert_int_equal(forms[k].decimals, ROWS[i].decimals[k]);
            assert_int_equal(forms[k].unit->dimension, forms[0].unit->dimension);
            assert_close(
                unit_number(forms[k].unit, forms[k].unit->scale * 7 + forms[k].unit->offset), 7,
                1e-12);
        }
    }
}

static void signs_are_for_people(void **state) {
    (void)state;
    assert_string_equal(shown_exact(SHOWN_SOLID).sign, "cm³");
    assert_string_equal(shown_exact(SHOWN_SOLID).unit->name, "cm3");
    assert_string_equal(shown_form(SHOWN_MUCH, UNITS_INCH).sign, "fl oz");
    assert_string_equal(measure_in(&arena, 0.25, shown_exact(SHOWN_FACTOR)), "0.25");
    assert_string_equal(measure_in(&arena, acos(-1.0) / 8, shown_exact(SHOWN_ANGLE)), "22.5°");
}

static void little_is_measured_in_millilitres_everywhere(void **state) {
    (void)state;
    CHECK(measure_volume, {29.9e-6, "29.9 ml", "29.9 ml"}, {30.1e-6, "30.1 ml", "1.02 fl oz"},
          {12.34e-6, "12.3 ml", "12.3 ml"}, {0.074e-6, "0.07 ml", "0.07 ml"});
}

static void angles_go_to_half_a_degree(void **state) {
    (void)state;
    const double degree = acos(-1.0) / 180.0;
    assert_string_equal(measure_angle(&arena, 12.0 * degree), "12°");
    assert_string_equal(measure_angle(&arena, 12.3 * degree), "12.5°");
    assert_string_equal(measure_angle(&arena, -0.2 * degree), "0°");
    assert_string_equal(measure_angle(&arena, -7.4 * degree), "−7.5°");
}

/* One attitude has one word, whichever way it is asked for. */
static void a_plug_lies_nose_down_tail_down_or_level(void **state) {
    (void)state;
    const double degree = acos(-1.0) / 180.0;
    assert_string_equal(measure_attitude(&arena, 3.5 * degree), "3.5° nose down");
    assert_string_equal(measure_attitude(&arena, -12 * degree), "12° tail down");
    assert_string_equal(measure_attitude(&arena, 0.26 * degree), "0.5° nose down");
    assert_string_equal(measure_attitude(&arena, -0.24 * degree), "level");
    assert_string_equal(measure_attitude(&arena, NAN), "without rest");
}

static void zero_never_has_a_sign_and_nothing_reads_as_nan(void **state) {
    (void)state;
    assert_string_equal(measure_number(&arena, -0.04, 1), "0.0");
    assert_string_equal(measure_number(&arena, -0.0, 0), "0");
    assert_string_equal(measure_number(&arena, NAN, 2), "?");
    assert_string_equal(measure_number(&arena, -INFINITY, 2), "?");
    assert_string_equal(measure_length_bare(&arena, 1e300, UNITS_INCH), "?");
    assert_string_equal(measure_time(&arena, NAN), "?");
    assert_string_equal(measure_share(&arena, -0.0801), "−8.0 %");
}

static void times_never_show_sixty_minutes(void **state) {
    (void)state;
    const struct {
        double seconds;
        const char *text;
    } samples[] = {{0, "0 min"},           {20, "under 1 min"},      {1770, "30 min"},
                   {3599, "1 h"},          {5400, "1 h 30 min"},     {86399, "24 h"},
                   {47.995 * 3600, "2 d"}, {50.6 * 3600, "2 d 3 h"}, {71.8 * 3600, "3 d"}};
    for (size_t i = 0; i < sizeof samples / sizeof *samples; i++) {
        assert_string_equal(measure_time(&arena, samples[i].seconds), samples[i].text);
    }
}

static void hours_since_the_start_go_in_quarters(void **state) {
    (void)state;
    const struct {
        double seconds;
        const char *text;
    } samples[] = {{0, "0"},
                   {449, "0"},
                   {451, "1/4"},
                   {1800, "1/2"},
                   {3599, "1"},
                   {14.5 * 3600, "14 1/2"},
                   {9.74 * 3600, "9 3/4"},
                   {100 * 3600, "100"},
                   {-1, "?"}};
    for (size_t i = 0; i < sizeof samples / sizeof *samples; i++)
        assert_string_equal(measure_hour(&arena, samples[i].seconds), samples[i].text);
}

/* 2026-12-05 is a Saturday (ISO week 2026-W49-6). */
static void dates_name_their_weekday(void **state) {
    (void)state;
    struct moment moment = {2026, 12, 5, 9, 5, true};
    assert_string_equal(measure_date(&arena, moment), "Sat 5 Dec");
    assert_string_equal(measure_date_long(&arena, moment), "Saturday 5 December");
    assert_string_equal(measure_clock(&arena, moment), "09:05");
}

static void parts_say_when_they_are_by_mass(void **state) {
    (void)state;
    assert_string_equal(measure_parts(&arena, (struct parts){2, 1, false}), "2:1 by volume");
    assert_string_equal(measure_parts(&arena, (struct parts){100, 43.5, true}), "100:43.5 by mass");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lengths_are_tenths_of_a_millimetre_or_thirty_seconds_of_an_inch),
        cmocka_unit_test(
            a_fraction_that_is_off_by_more_than_a_tenth_of_a_millimetre_shows_its_decimals),
        cmocka_unit_test(small_sizes_keep_more_digits),
        cmocka_unit_test(masses_change_to_the_larger_unit_where_a_bench_scale_does),
        cmocka_unit_test(other_kinds_carry_their_units),
        cmocka_unit_test(every_kind_is_shown_in_units_that_exist),
        cmocka_unit_test(signs_are_for_people),
        cmocka_unit_test(little_is_measured_in_millilitres_everywhere),
        cmocka_unit_test(angles_go_to_half_a_degree),
        cmocka_unit_test(a_plug_lies_nose_down_tail_down_or_level),
        cmocka_unit_test(zero_never_has_a_sign_and_nothing_reads_as_nan),
        cmocka_unit_test(times_never_show_sixty_minutes),
        cmocka_unit_test(hours_since_the_start_go_in_quarters),
        cmocka_unit_test(dates_name_their_weekday),
        cmocka_unit_test(parts_say_when_they_are_by_mass),
    };
    return cmocka_run_group_tests_name("measure", tests, NULL, end_arena);
}
