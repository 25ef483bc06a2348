#include "close.h"

#include "compute/float/water.h"

/* UNESCO Technical Papers in Marine Science 44 (1983), check values (its table), to the five
 * decimals printed there. */
static void density_has_the_published_check_values(void **state) {
    (void)state;
    assert_near(water_density(5, 0), 999.96675, 6e-6);
    assert_near(water_density(5, 35), 1027.67547, 6e-6);
    assert_near(water_density(25, 0), 997.04796, 6e-6);
    assert_near(water_density(25, 35), 1023.34306, 6e-6);
}

/* The same equation (docs/physics.md, 5.1), evaluated in another language. */
static void density_agrees_with_another_evaluation(void **state) {
    (void)state;
    assert_near(water_density(0, 35), 1028.10633, 6e-6);
    assert_near(water_density(15, 35), 1025.97275, 6e-6);
    assert_near(water_density(15, 20), 1014.44336, 6e-6);
    assert_near(water_density(15, 10), 1006.78392, 6e-6);
}

/* TEOS-10 at reference salinity, python3-gsw 3.6.16: another equation of state, and
 * temperatures on another scale, so only close: 5 parts per million. */
static void density_stays_close_to_teos_10(void **state) {
    (void)state;
    static const struct {
        double salinity, temperature, density;
    } row[] = {{0, 5, 999.96667},    {35, 5, 1027.67574}, {0, 25, 997.04919},
               {35, 25, 1023.34546}, {35, 0, 1028.10718}, {35, 15, 1025.97682},
               {20, 15, 1014.44588}, {10, 15, 1006.78498}};
    for (size_t i = 0; i < sizeof row / sizeof *row; i++)
        assert_close(water_density(row[i].temperature, row[i].salinity), row[i].density, 5e-6);
}

/* Tanaka et al. 2001, Metrologia 38, 301-309, on ITS-90: at 30 degC the two scales lie
 * 0.007 degC apart, which is 2.2 parts per million of density. */
static void fresh_water_stays_close_to_tanaka(void **state) {
    (void)state;
    static const struct {
        double temperature, density;
    } row[] = {{0, 999.84283},  {4, 999.97495},  {5, 999.96678},  {10, 999.70270},
               {15, 999.10257}, {20, 998.20675}, {25, 997.04702}, {30, 995.64880}};
    for (size_t i = 0; i < sizeof row / sizeof *row; i++)
        assert_close(water_density(row[i].temperature, 0), row[i].density, 2.5e-6);
}

static void salt_makes_water_heavier(void **state) {
    (void)state;
    for (int t = 0; t <= 40; t += 5)
        for (int s = 0; s < 42; s++) assert_true(water_density(t, s + 1) > water_density(t, s));
}

/* IAPWS 2008 formulation, python3-iapws 1.5.3, in mPa s. */
static void viscosity_stays_within_a_third_of_a_percent_of_iapws(void **state) {
    (void)state;
    static const double at[][2] = {{0, 1.7918},  {4, 1.5673},  {5, 1.5182},  {10, 1.3059},
                                   {15, 1.1376}, {20, 1.0016}, {25, 0.8900}, {30, 0.7972}};
    for (size_t i = 0; i < sizeof at / sizeof *at; i++)
        assert_close(water_viscosity(at[i][0], 0) * 1e3, at[i][1], 0.003);
    assert_close(water_viscosity(20 - 1e-9, 0), water_viscosity(20, 0), 1e-4);
    assert_close(water_viscosity(12, 35) / water_viscosity(12, 0), 1.0735, 1e-12);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(density_has_the_published_check_values),
        cmocka_unit_test(density_agrees_with_another_evaluation),
        cmocka_unit_test(density_stays_close_to_teos_10),
        cmocka_unit_test(fresh_water_stays_close_to_tanaka),
        cmocka_unit_test(salt_makes_water_heavier),
        cmocka_unit_test(viscosity_stays_within_a_third_of_a_percent_of_iapws),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
