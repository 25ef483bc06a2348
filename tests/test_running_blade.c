/* The lip as a plate askew in the flow. */
#include "close.h"

#include "compute/running/blade.h"
#include "model/reference.h"

static const double PI = 3.14159265358979323846, DEG = 3.14159265358979323846 / 180;

static const double at_degrees[] = {10, 20, 30, 32, 36, 40, 50, 60, 75, 90, 105};
enum { ANGLES = sizeof at_degrees / sizeof *at_degrees };

/* Across the flow handbooks have 1.17 for a square plate and 1.98 for a long one (Aeronautical
 * Engineer's Data Book, 2002, figure 5.13). */
static void across_the_flow_it_is_a_handbooks_plate(void **state) {
    (void)state;
    struct blade square = blade_of(1);
    assert_near(blade_force(&square, 90 * DEG), 1.16820, 5e-6);
    assert_near(blade_force(&square, 90 * DEG), 1.17, 0.003);
    assert_near(blade_stalled(1e9, 90 * DEG), 1.98, 1e-6);
}

/* Lowry and Polhamus' slope of a square wing. */
static void at_small_angles_it_is_a_wing(void **state) {
    (void)state;
    struct blade square = blade_of(1);
    assert_near(square.lift, 1.48326, 5e-6);
    assert_near(blade_force(&square, 1e-7) / 1e-7, 1.48326, 5e-6);
}

static void forces_at_all_angles_are_those_of_the_published_formulas(void **state) {
    (void)state;
    static const struct {
        double aspect, force[ANGLES];
    } plates[] = {
        {1,
         {.34838, .84421, 1.42767, 1.54878, 1.26851, .98825, 1.06895, 1.11910, 1.15750, 1.16820,
          1.15750}},
        {0.5,
         {.22701, .61609, 1.12033, 1.22981, 1.45321, 1.51449, 1.25669, 1.11910, 1.15750, 1.16820,
          1.15750}},
    };
    for (size_t p = 0; p < sizeof plates / sizeof *plates; p++) {
        struct blade blade = blade_of(plates[p].aspect);
        for (int i = 0; i < ANGLES; i++)
            assert_near(blade_force(&blade, at_degrees[i] * DEG), plates[p].force[i], 6e-6);
    }
}

static void the_force_acts_further_out_the_flatter_it_stands(void **state) {
    (void)state;
    static const double at[][2] = {{0, .175}, {30, .11667}, {60, .05833}, {90, 0}, {105, -.02917}};
    for (size_t i = 0; i < sizeof at / sizeof *at; i++) {
        assert_near(blade_centre(at[i][0] * DEG), at[i][1], 5e-6);
        assert_near(blade_centre(-at[i][0] * DEG), at[i][1], 5e-6);
    }
}

/* From the other side the same, the other way; behind the upright the same as before it. */
static void it_is_the_same_from_either_side(void **state) {
    (void)state;
    for (double aspect = 0.1; aspect < 8; aspect *= 1.3) {
        struct blade blade = blade_of(aspect);
        for (int i = 0; i < ANGLES; i++) {
            double angle = at_degrees[i] * DEG;
            assert_near(blade_force(&blade, -angle), -blade_force(&blade, angle), 1e-15);
            assert_near(blade_force(&blade, PI - angle), blade_force(&blade, angle), 1e-12);
        }
    }
}

static void force_and_angles_change_without_a_jump(void **state) {
    (void)state;
    const double hair = 1e-9;
    for (double aspect = 0.1; aspect < 8; aspect *= 1.3) {
        struct blade blade = blade_of(aspect), next = blade_of(aspect * (1 + hair));
        for (double angle = -180 * DEG; angle < 180 * DEG; angle += 0.25 * DEG) {
            assert_near(blade_force(&blade, angle + hair), blade_force(&blade, angle), 1e-7);
            assert_near(blade_force(&next, angle), blade_force(&blade, angle), 1e-6);
        }
        assert_near(blade_force(&blade, blade.attached + hair),
                    blade_force(&blade, blade.attached - hair), 1e-7);
        assert_near(blade_force(&blade, blade.stalled + hair),
                    blade_force(&blade, blade.stalled - hair), 1e-7);
    }
}

/* At the rows' own aspect ratios, half-way between two, and beyond the ends. */
static void the_laws_meet_at_the_angles_of_the_table(void **state) {
    (void)state;
    for (int i = 0; i < reference_stall_count; i++) {
        const struct stall_row *row = &reference_stall[i];
        struct blade blade = blade_of(row->aspect);
        assert_close(blade.attached, row->attached, 1e-12);
        assert_close(blade.stalled, row->stalled, 1e-12);
        assert_true(row->attached < row->stalled);
        if (i == 0) continue;
        assert_true(row->aspect > row[-1].aspect);
        blade = blade_of(0.5 * (row[-1].aspect + row->aspect));
        assert_close(blade.attached, 0.5 * (row[-1].attached + row->attached), 1e-12);
        assert_close(blade.stalled, 0.5 * (row[-1].stalled + row->stalled), 1e-12);
    }
    assert_close(blade_of(0.01).aspect, 1.0 / 6, 1e-12);
    assert_close(blade_of(100).aspect, 6, 1e-12);
    assert_close(blade_of(100).stalled, 20 * DEG, 1e-12);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(across_the_flow_it_is_a_handbooks_plate),
        cmocka_unit_test(at_small_angles_it_is_a_wing),
        cmocka_unit_test(forces_at_all_angles_are_those_of_the_published_formulas),
        cmocka_unit_test(the_force_acts_further_out_the_flatter_it_stands),
        cmocka_unit_test(it_is_the_same_from_either_side),
        cmocka_unit_test(force_and_angles_change_without_a_jump),
        cmocka_unit_test(the_laws_meet_at_the_angles_of_the_table),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
