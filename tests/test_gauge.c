/* Values in inches, as printed by two tables each: wire gauges by Rowlett, "American and British
 * Wire Gauges", and a workshop's comparative chart; AWG by ASTM B258's formula; drills by the
 * definitions file of GNU units 2.22 and a chart of ANSI B94.11M.
 */
#include "close.h"

#include "base/gauge.h"
#include "base/quantity.h"

static const double INCH = 0.0254;

static void awg_follows_the_formula_of_astm_b258(void **state) {
    (void)state;
    static const struct {
        int number;
        double inches;
    } CASES[] = {{10, 0.101897}, {14, 0.064084}, {18, 0.040303}, {24, 0.020101},
                 {36, 0.0050},   {0, 0.324861},  {1, 0.289297},  {40, 0.003145}};
    for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++)
        assert_near(gauge_wire("awg", CASES[i].number) / INCH, CASES[i].inches, 5e-7);
    /* 39 equal ratios from 36 to 0000, which is 0.4600 in */
    double ratio = gauge_wire("awg", 35) / gauge_wire("awg", 36);
    assert_close(gauge_wire("awg", 0) * pow(ratio, 3) / INCH, 0.46, 1e-9);
}

static void wire_tables_agree_with_print(void **state) {
    (void)state;
    static const double WM[] = {0.1350, 0.1205, 0.1055, 0.0915, 0.0800, 0.0720, 0.0625, 0.0540,
                                0.0475, 0.0410, 0.0348, 0.0317, 0.0286, 0.0258, 0.0230};
    static const double SWG[] = {0.128, 0.116, 0.104, 0.092, 0.080, 0.072, 0.064, 0.056,
                                 0.048, 0.040, 0.036, 0.032, 0.028, 0.024, 0.022};
    for (int n = 10; n <= 24; n++) {
        assert_close(gauge_wire("wm", n) / INCH, WM[n - 10], 1e-12);
        assert_close(gauge_wire("swg", n) / INCH, SWG[n - 10], 1e-12);
    }
}

static void a_larger_number_is_a_thinner_wire_or_drill(void **state) {
    (void)state;
    const char *system;
    for (size_t i = 0; (system = gauge_system(i)); i++)
        for (int n = 1; n <= 40; n++)
            assert_true(gauge_wire(system, n) > 0 &&
                        gauge_wire(system, n) < gauge_wire(system, n - 1));
    for (int n = 2; n <= 80; n++)
        assert_true(gauge_drill_number(n) > 0 && gauge_drill_number(n) < gauge_drill_number(n - 1));
    for (char c = 'B'; c <= 'Z'; c++)
        assert_true(gauge_drill_letter(c) > gauge_drill_letter((char)(c - 1)));
}

static void drills_agree_with_print(void **state) {
    (void)state;
    assert_close(gauge_drill_number(1) / INCH, 0.2280, 1e-12);
    assert_close(gauge_drill_number(18) / INCH, 0.1695, 1e-12);
    assert_close(gauge_drill_number(30) / INCH, 0.1285, 1e-12);
    assert_close(gauge_drill_number(60) / INCH, 0.0400, 1e-12);
    assert_close(gauge_drill_number(80) / INCH, 0.0135, 1e-12);
    assert_close(gauge_drill_letter('A') / INCH, 0.234, 1e-12);
    assert_close(gauge_drill_letter('F') / INCH, 0.257, 1e-12);
    assert_close(gauge_drill_letter('Z') / INCH, 0.413, 1e-12);
}

/* The language reads each size of a set as the diameter that it stands for. */
static void drills_of_a_set_are_written_as_they_are_read(void **state) {
    (void)state;
    struct arena arena = {0};
    const char *size;
    for (int units = UNITS_METRIC; units <= UNITS_INCH; units++) {
        double diameter = 0, last = 0;
        int count = 0;
        for (; (size = gauge_set_drill(&arena, (enum unit_system)units, count, &diameter));
             count++) {
            struct reading read = quantity_parse(&arena, str_of(size), DIM_DRILL);
            assert_null(read.error);
            assert_near(read.value, diameter, 1e-12);
            assert_true(diameter > last);
            last = diameter;
        }
        assert_true(count > 30);
    }
    double f;
    assert_string_equal(gauge_set_drill(&arena, UNITS_METRIC, 15, &f), "8.5 mm");
    assert_string_equal(gauge_set_drill(&arena, UNITS_INCH, 23, &f), "27/64 in");
    assert_string_equal(gauge_set_drill(&arena, UNITS_INCH, 29 + 9, &f), "1 1/8 in");
    arena_free(&arena);
}

static void what_is_in_no_table_is_zero(void **state) {
    (void)state;
    assert_true(gauge_wire("awg", -1) == 0 && gauge_wire("awg", 41) == 0);
    assert_true(gauge_wire("wm", 41) == 0 && gauge_wire("music", 10) == 0);
    assert_true(gauge_drill_number(0) == 0 && gauge_drill_number(81) == 0);
    assert_true(gauge_drill_letter('a') == 0 && gauge_drill_letter('[') == 0);
    assert_null(gauge_system(3));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(awg_follows_the_formula_of_astm_b258),
        cmocka_unit_test(wire_tables_agree_with_print),
        cmocka_unit_test(a_larger_number_is_a_thinner_wire_or_drill),
        cmocka_unit_test(drills_agree_with_print),
        cmocka_unit_test(drills_of_a_set_are_written_as_they_are_read),
        cmocka_unit_test(what_is_in_no_table_is_zero),
    };
    return cmocka_run_group_tests_name("gauge", tests, NULL, NULL);
}
