/* The body across the flow: prisms and spheroids by hand, Lamb's integrals by quadrature. */
#include "close.h"

#include "bodies.h"
#include "compute/running/across.h"
#include "compute/shape/section.h"
#include "model/reference.h"

static const double PI = 3.14159265358979323846;

static struct arena arena;

static int arena_gone(void **state) {
    (void)state;
    arena_free(&arena);
    return 0;
}

/* Lamb, Hydrodynamics, art. 114, whose table has 0.209 and 0.702 at 2, 0.122 and 0.803 at 2.99,
 * 0.059 and 0.895 at 4.99, 0.021 and 0.960 at 9.97. */
static void a_spheroid_drags_along_as_much_water_as_lamb_says(void **state) {
    (void)state;
    static const double at[][3] = {{2, .21002, .70421},
                                   {2.99, .12253, .80317},
                                   {4.99, .05929, .89398},
                                   {9.97, .02080, .96006}};
    static const double table[][2] = {{.209, .702}, {.122, .803}, {.059, .895}, {.021, .960}};
    for (size_t i = 0; i < sizeof at / sizeof *at; i++) {
        double along, athwart;
        across_spheroid(at[i][0], &along, &athwart);
        assert_near(along, at[i][1], 5.1e-6);
        assert_near(athwart, at[i][2], 5.1e-6);
        assert_near(along, table[i][0], 0.0023);
        assert_near(athwart, table[i][1], 0.0023);
    }
}

/* The integrals behind the formula: a^2 b ... over (a^2 + l)^(3/2) (1 + l) for half axes l : 1 : 1,
 * with l = t / (1 - t), by the midpoint rule. */
static void the_closed_form_is_lambs_integral(void **state) {
    (void)state;
    enum { PARTS = 400000 };
    for (double slender = 1.05; slender < 30; slender *= 2) {
        double along, athwart, alpha = 0, beta = 0, square = slender * slender;
        across_spheroid(slender, &along, &athwart);
        for (int i = 0; i < PARTS; i++) {
            double t = (i + 0.5) / PARTS, l = t / (1 - t), wide = 1 / ((1 - t) * (1 - t)) / PARTS;
            alpha += slender * wide / ((square + l) * sqrt(square + l) * (1 + l));
            beta += slender * wide / (sqrt(square + l) * (1 + l) * (1 + l));
        }
        assert_close(along, alpha / (2 - alpha), 2e-4);
        assert_close(athwart, beta / (2 - beta), 2e-4);
    }
}

static void a_cylinders_drag_is_read_off_the_table_and_held_at_its_ends(void **state) {
    (void)state;
    static const double at[][2] = {{0.5, .63}, {1, .63},  {1.5, .655}, {2, .68},  {3.5, .71},
                                   {5, .74},   {10, .82}, {25, .90},   {40, .98}, {90, .98}};
    for (size_t i = 0; i < sizeof at / sizeof *at; i++)
        assert_close(across_cylinder(at[i][0]), at[i][1], 1e-12);
}

/* Jorgensen's factors for the fineness ratios 2, 10 and 40, times his 1.2, within 2 %. */
static void the_table_agrees_with_jorgensens_figure(void **state) {
    (void)state;
    assert_close(across_cylinder(2), 1.2 * 0.577, 0.02);
    assert_close(across_cylinder(10), 1.2 * 0.685, 0.02);
    assert_close(across_cylinder(40), 1.2 * 0.815, 0.02);
}

static void a_flat_or_sharp_section_changes_the_drag_within_bounds(void **state) {
    (void)state;
    assert_close(across_section(SECTION_OVAL, 8, 10, 0), 0.8, 1e-12);
    assert_close(across_section(SECTION_OVAL, 10, 8, 0), 1.25, 1e-12);
    assert_close(across_section(SECTION_OVAL, 1, 10, 0), 0.6, 1e-12);
    assert_close(across_section(SECTION_OVAL, 10, 1, 0), 1.67, 1e-12);
    assert_close(across_section(SECTION_ROUNDED, 10, 10, 10), 1, 1e-12);
    assert_close(across_section(SECTION_ROUNDED, 10, 10, 5), 1.335, 1e-12);
    assert_close(across_section(SECTION_SQUARE, 8, 10, 0), 1.67 * 0.8, 1e-12);
}

/* A rounded prism of 100 x 24 x 20 mm with corners of 4 mm, the datum 2 mm above its middle. */
static void a_prisms_integrals_can_be_done_by_hand(void **state) {
    (void)state;
    struct body_table table = {0};
    body_row(&table, 0, 0.010, 0.014, 0.020);
    body_row(&table, 0.1, 0.010, 0.014, 0.020);
    struct outline outline = body_outline(&arena, &table, SECTION_ROUNDED, 0.004);
    struct across a = across_of(&outline, 0);
    double girth = 0.024 * 0.020 - (4 - PI) * 0.004 * 0.004;
    double slender = 0.1 / (2 * sqrt(girth / PI)), edge = 1 + 0.67 * (1 - 0.4);
    double drag = 0.68 + (slender - 2) / 3 * 0.06;
    assert_close(a.girth, girth, 1e-12);
    assert_close(a.slenderness, slender, 1e-12);
    assert_close(a.plan, drag * edge * 10 / 12 * 0.020 * 0.1, 1e-12);
    assert_close(a.plan_x, a.plan * 0.05, 1e-12);
    assert_close(a.side, drag * fmin(edge * 12 / 10, 1.67) * 0.024 * 0.1, 1e-12);
    assert_close(a.side_x, a.side * 0.05, 1e-12);
    assert_close(a.side_z, -0.002 * a.side, 1e-12);
    assert_close(a.z, -0.002, 1e-12);
    double along, athwart;
    across_spheroid(slender, &along, &athwart);
    assert_close(a.heave, (athwart - along) * PI * 1e-4 * 0.1, 1e-12);
    assert_close(a.sway, (athwart - along) * PI * 1.44e-4 * 0.1, 1e-12);
}

static void a_finish_grows_the_section_and_its_corners(void **state) {
    (void)state;
    struct outline bare = body_prism(&arena, 0.1, 0.022, 0.018, SECTION_ROUNDED, 0.003);
    struct outline grown = body_prism(&arena, 0.1, 0.024, 0.020, SECTION_ROUNDED, 0.004);
    struct across a = across_of(&bare, 0.001), b = across_of(&grown, 0);
    assert_close(a.plan, b.plan, 1e-12);
    assert_close(a.side, b.side, 1e-12);
    assert_close(a.heave, b.heave, 1e-12);
    assert_close(a.girth, b.girth, 1e-12);
}

static void a_body_as_long_as_thick_has_no_couple(void **state) {
    (void)state;
    struct outline stub = body_prism(&arena, 0.02, 0.02, 0.02, SECTION_OVAL, 0);
    struct across a = across_of(&stub, 0);
    assert_close(a.slenderness, 1, 1e-12);
    assert_true(a.heave == 0 && a.sway == 0);
}

/* Sections that pass the bounds of the change have kinks there: a sum over many thin slices. */
static void kinks_cost_less_than_two_in_ten_thousand(void **state) {
    (void)state;
    enum { SLICES = 40000, BODIES = 60 };
    unsigned long long seed = 42;
    for (int body = 0; body < BODIES; body++) {
        struct body_table table = body_any(&seed);
        enum section_shape shape = body % 2 ? SECTION_ROUNDED : SECTION_OVAL;
        struct outline outline = body_outline(&arena, &table, shape, 0.003);
        struct across a = across_of(&outline, 0.0004);
        double plan = 0, side = 0, step = table.length / SLICES;
        for (int i = 0; i < SLICES; i++) {
            struct section s = section_at(&outline, (i + 0.5) * step, 0.0004);
            if (section_empty(s.half_width, s.half_height)) continue;
            double b = s.half_width, h = s.half_height;
            plan += step * 2 * b * across_section(shape, b, h, s.radius);
            side += step * 2 * h * across_section(shape, h, b, s.radius);
        }
        double drag = across_cylinder(a.slenderness);
        assert_close(a.plan, drag * plan, 2e-4);
        assert_close(a.side, drag * side, 2e-4);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_spheroid_drags_along_as_much_water_as_lamb_says),
        cmocka_unit_test(the_closed_form_is_lambs_integral),
        cmocka_unit_test(a_cylinders_drag_is_read_off_the_table_and_held_at_its_ends),
        cmocka_unit_test(the_table_agrees_with_jorgensens_figure),
        cmocka_unit_test(a_flat_or_sharp_section_changes_the_drag_within_bounds),
        cmocka_unit_test(a_prisms_integrals_can_be_done_by_hand),
        cmocka_unit_test(a_finish_grows_the_section_and_its_corners),
        cmocka_unit_test(a_body_as_long_as_thick_has_no_couple),
        cmocka_unit_test(kinks_cost_less_than_two_in_ten_thousand),
    };
    return cmocka_run_group_tests(tests, NULL, arena_gone);
}
