/* The trade tables: their look-ups, and that every row is complete and names its source. */
#include "close.h"

#include "model/recipe.h"
#include "model/reference.h"

static const double PI = 3.14159265358979323846;

static const struct wood_row *wood_of(const char *name) {
    for (int i = 0; i < reference_wood_count; i++)
        if (strcmp(reference_wood[i].name, name) == 0) return &reference_wood[i];
    fail_msg("no wood called %s", name);
    return NULL;
}

static const struct metal_row *metal_of(const char *name) {
    for (int i = 0; i < reference_metal_count; i++)
        if (strcmp(reference_metal[i].name, name) == 0) return &reference_metal[i];
    fail_msg("no metal called %s", name);
    return NULL;
}

/* Source: FPL-GTR-190 equations 4-11 and 4-12, evaluated by hand for a fibre saturation of 30 %. */
static void wood_of_a_basic_gravity_weighs_what_the_handbook_equations_say(void **state) {
    (void)state;
    static const struct {
        double basic, moisture, density;
    } cases[] = {
        {0.16, 0.06, 175.555}, {0.16, 0.08, 178.345}, {0.16, 0.12, 183.878}, {0.16, 0.20, 194.753},
        {0.32, 0.06, 363.886}, {0.32, 0.08, 368.517}, {0.32, 0.12, 377.613}, {0.32, 0.20, 395.170},
        {0.40, 0.06, 463.287}, {0.40, 0.08, 468.411}, {0.40, 0.12, 478.428}, {0.40, 0.20, 497.581},
        {0.56, 0.06, 673.566}, {0.56, 0.08, 678.656}, {0.56, 0.12, 688.504}, {0.56, 0.20, 706.972},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct wood_row wood = {.gravity = cases[i].basic, .basic = true};
        assert_near(reference_wood_density(&wood, cases[i].moisture), cases[i].density, 0.0005);
    }
}

/* Source: the same equations, anchored on the 12 % column (G12 0.37 of American basswood). */
static void basswood_weighs_what_its_twelve_percent_value_says_at_every_moisture(void **state) {
    (void)state;
    static const double at[][2] = {{0.06, 400.045}, {0.08, 404.893}, {0.10, 409.678},
                                   {0.12, 414.400}, {0.15, 421.368}, {0.20, 432.687}};
    for (size_t i = 0; i < sizeof at / sizeof *at; i++)
        assert_near(reference_wood_density(wood_of("basswood"), at[i][0]), at[i][1], 0.0005);
}

static void a_wood_at_twelve_percent_weighs_its_own_gravity_and_the_water(void **state) {
    (void)state;
    for (int i = 0; i < reference_wood_count; i++) {
        const struct wood_row *wood = &reference_wood[i];
        double gravity = reference_wood_gravity12(wood);
        if (!wood->basic) assert_close(gravity, wood->gravity, 1e-12);
        assert_close(reference_wood_density(wood, 0.12), 1000.0 * gravity * 1.12, 1e-12);
    }
}

/* At fibre saturation nothing has shrunk: the basic value itself, with 30 % of water. */
static void green_wood_keeps_its_basic_gravity(void **state) {
    (void)state;
    assert_close(reference_wood_density(wood_of("balsa"), 0.30), 0.158 * 1300.0, 1e-12);
    /* white ash, Gb 0.55: G12 0.6027 by equation 4-11 (the handbook's chart reads 0.605) */
    struct wood_row ash = {.gravity = 0.55, .basic = true};
    assert_near(reference_wood_gravity12(&ash), 0.6027, 0.00005);
}

/* Derived values at 12 %: G12 0.566 and 634 kg/m3 for mahogany, 0.452 and 507 for lime. */
static void imported_woods_stand_on_their_basic_value(void **state) {
    (void)state;
    assert_true(wood_of("mahogany")->basic);
    assert_near(reference_wood_gravity12(wood_of("mahogany")), 0.566, 0.001);
    assert_near(reference_wood_density(wood_of("mahogany"), 0.12), 634.0, 1.0);
    assert_near(reference_wood_gravity12(wood_of("small-leaved lime")), 0.452, 0.001);
    assert_near(reference_wood_density(wood_of("large-leaved lime"), 0.12), 507.0, 1.0);
}

static void every_wood_of_the_language_is_there_in_its_order(void **state) {
    (void)state;
    static const char *const names[] = {"basswood",
                                        "yellow poplar",
                                        "western redcedar",
                                        "northern white cedar",
                                        "atlantic white cedar",
                                        "eastern white pine",
                                        "sugar pine",
                                        "sugar maple",
                                        "red maple",
                                        "silver maple",
                                        "black cherry",
                                        "black walnut",
                                        "butternut",
                                        "white ash",
                                        "white oak",
                                        "red alder",
                                        "quaking aspen",
                                        "bigtooth aspen",
                                        "cottonwood",
                                        "paper birch",
                                        "yellow birch",
                                        "douglas fir",
                                        "baldcypress",
                                        "redwood",
                                        "balsa",
                                        "jelutong",
                                        "obeche",
                                        "mahogany",
                                        "spanish cedar",
                                        "teak",
                                        "paulownia",
                                        "small-leaved lime",
                                        "large-leaved lime",
                                        "silver birch"};
    int row = 0; /* others may stand between */
    for (size_t i = 0; i < sizeof names / sizeof *names; i++, row++) {
        while (row < reference_wood_count && strcmp(reference_wood_name(row), names[i]) != 0) row++;
        if (row == reference_wood_count)
            fail_msg("no %s behind %s", names[i], i ? names[i - 1] : "");
    }
    assert_null(reference_wood_name(reference_wood_count));
}

/* Source: m = (pi/6) d^3 rho with 11.34 g/cm3. */
static void lead_balls_weigh_what_their_diameter_says(void **state) {
    (void)state;
    static const double balls[][2] = {{0.310, 2.89866},  {0.350, 4.17174},  {0.375, 5.13105},
                                      {0.440, 8.28840},  {0.490, 11.44725}, {0.535, 14.89959},
                                      {0.610, 22.08525}, {0.735, 38.63446}};
    double density = metal_of("lead")->density;
    for (size_t i = 0; i < sizeof balls / sizeof *balls; i++) {
        double d = balls[i][0] * 0.0254;
        assert_near(PI / 6.0 * d * d * d * density * 1e3, balls[i][1], 5.1e-6);
    }
}

/* As printed in docs/physics.md, 4.2. */
static void densities_are_those_of_the_page(void **state) {
    (void)state;
    static const struct {
        const char *name;
        double density;
    } metals[] = {{"lead", 11340},     {"tungsten", 17750},    {"tin", 7310},
                  {"bismuth", 9747},   {"brass", 8500},        {"steel", 7850},
                  {"stainless", 7900}, {"spring steel", 7850}, {"pure tungsten", 19300}},
      sheets[] = {{"polycarbonate", 1200},
                  {"acrylic", 1190},
                  {"aluminium", 2700},
                  {"stainless", 7900},
                  {"circuit board", 1850}};
    assert_int_equal(reference_metal_count, 9);
    for (int i = 0; i < reference_metal_count; i++)
        assert_near(metal_of(metals[i].name)->density, metals[i].density, 1e-9);
    assert_int_equal(reference_sheet_count, 5);
    for (int i = 0; i < reference_sheet_count; i++) {
        assert_string_equal(reference_sheet_name(i), sheets[i].name);
        assert_near(reference_sheet[i].density, sheets[i].density, 1e-9);
    }
}

static void only_lead_and_tin_are_driven_home(void **state) {
    (void)state;
    for (int i = 0; i < reference_metal_count; i++) {
        const struct metal_row *metal = &reference_metal[i];
        bool soft = strcmp(metal->name, "lead") == 0 || strcmp(metal->name, "tin") == 0;
        assert_int_equal(metal->soft, soft);
    }
    assert_true(metal_of("lead")->cautions & 1u << CAUTION_LEAD);
    assert_false(metal_of("tin")->cautions & 1u << CAUTION_LEAD);
}

static int names_of(const char *(*name)(int), const char **names) {
    int count = 0;
    for (int i = 0; name(i); i++)
        if (*name(i)) names[count++] = name(i);
    return count;
}

static void ballast_and_wire_are_named_from_one_table(void **state) {
    (void)state;
    static const char *const ballast[] = {"lead",    "tungsten", "pure tungsten", "tin",
                                          "bismuth", "brass",    "steel"};
    static const char *const wire[] = {"brass", "stainless", "spring steel"};
    const char *names[16];
    assert_int_equal(names_of(reference_ballast_name, names), 7);
    for (int i = 0; i < 7; i++) assert_string_equal(names[i], ballast[i]);
    assert_int_equal(names_of(reference_wire_metal_name, names), 3);
    for (int i = 0; i < 3; i++) assert_string_equal(names[i], wire[i]);
    assert_null(reference_ballast_name(reference_metal_count));
    assert_null(reference_sheet_name(reference_sheet_count));
    assert_null(reference_hook_name(reference_hook_count));
}

/* By kind the rows run from the smallest to the largest; one point weighs less than three. */
static void bigger_hooks_weigh_more(void **state) {
    (void)state;
    for (int i = 0; i < reference_hook_count; i++) {
        const struct hook_row *row = &reference_hook[i];
        const struct hook_row *treble = reference_hook_of(HOOK_TREBLE, str_of(row->size));
        assert_ptr_equal(reference_hook_of(row->kind, str_of(row->size)), row);
        if (i && row[-1].kind == row->kind) assert_true(row->mass > 1.15 * row[-1].mass);
        assert_non_null(treble);
        if (row->kind == HOOK_SINGLE)
            assert_true(row->mass > treble->mass / 3 && row->mass < treble->mass / 2);
    }
    assert_null(reference_hook_of(HOOK_TREBLE, str_of("9/0")));
    assert_null(reference_hook_of(HOOK_SINGLE, str_of("14")));
    assert_null(reference_hook_of(HOOK_TREBLE, str_of("")));
}

/* docs/physics.md, 2.3. */
static void a_layer_covers_what_its_place_says(void **state) {
    (void)state;
    static const double covers[] = {
        [WHERE_WHOLE] = 1.00, [WHERE_BACK] = 0.30, [WHERE_FLANKS] = 0.40, [WHERE_BELLY] = 0.30,
        [WHERE_HEAD] = 0.15,  [WHERE_TAIL] = 0.10, [WHERE_BARS] = 0.15,   [WHERE_SPOTS] = 0.08};
    assert_int_equal(reference_cover_count, 8);
    for (int i = 0; i < reference_cover_count; i++)
        assert_near(reference_cover[i].cover, covers[i], 1e-12);
    assert_string_equal(reference_cover[WHERE_BARS].where, "bars");
    double round = 0;
    for (int i = 0; i < reference_cover_count; i++)
        if (reference_cover[i].round) round += reference_cover[i].cover;
    assert_near(round, 1.0, 1e-12); /* what goes round the plug is all of it */
}

static void colours_that_light_shines_through_need_a_ground(void **state) {
    (void)state;
    assert_int_equal(reference_layer_kind_count, 5);
    for (int i = 0; i < reference_layer_kind_count; i++) {
        const struct layer_kind_row *row = &reference_layer_kind[i];
        assert_int_equal(row->ground, i == LAYER_OPAQUE);
        assert_int_equal(row->needs_ground,
                         i == LAYER_TRANSPARENT || i == LAYER_FLUORESCENT || i == LAYER_PEARL);
    }
    assert_string_equal(reference_layer_kind[LAYER_PEARL].kind, "pearl");
}

/* The ten-degree rule: 21 degC as written, twice the time at 11, half of it at 31. */
static void a_cure_takes_twice_as_long_ten_degrees_colder(void **state) {
    (void)state;
    assert_close(reference_cure_factor(21.0, 21.0), 1.0, 1e-12);
    assert_close(reference_cure_factor(21.0, 11.0), 2.0, 1e-12);
    assert_close(reference_cure_factor(21.0, 31.0), 0.5, 1e-12);
    assert_close(reference_cure_factor(21.0, 16.0), 1.4142135623730951, 1e-12);
}

/* Mean of the range of n standard normal numbers: the integral of 1 - F^n - (1 - F)^n. */
static double range_of_normals(int n) {
    double sum = 0, step = 1e-3;
    for (double x = -8; x < 8; x += step) {
        double below = 0.5 * erfc(-(x + step / 2) / sqrt(2));
        sum += (1 - pow(below, n) - pow(1 - below, n)) * step;
    }
    return sum;
}

/* The spread of a wood is the handbook's, or what the range of its records says, which its source
 * prints.  Balsa is wider by common practice. */
static void the_spread_of_a_wood_follows_from_the_range_of_its_records(void **state) {
    (void)state;
    assert_close(range_of_normals(2), 2 / sqrt(PI), 1e-6); /* in closed form */
    double usual = reference_fact[FACT_SPREAD_TABLE].value;
    for (int i = 0; i < reference_wood_count; i++) {
        const struct wood_row *wood = &reference_wood[i];
        const char *records = strstr(wood->source, "n = ");
        int n = 0;
        double from = 0, to = 0, spread = usual;
        if (records && sscanf(records, "n = %d, %lf to %lf", &n, &from, &to) == 3)
            spread = fmax(usual, (to - from) / range_of_normals(n) / wood->gravity);
        if (strcmp(wood->name, "balsa") == 0) {
            assert_near(wood->spread, 0.25, 1e-12);
            assert_true(spread > 0.2 && spread < 0.25);
        } else {
            assert_near(wood->spread, spread, 0.005); /* rows are whole percents */
        }
    }
}

/* What is sold in several densities stands between its ends. */
static void metals_as_sold_lie_in_their_range(void **state) {
    (void)state;
    for (int i = 0; i < reference_metal_count; i++) {
        const struct metal_row *metal = &reference_metal[i];
        assert_near(metal->density, (metal->least + metal->most) / 2, 1e-9);
        if (strcmp(metal->name, "tungsten") == 0) {
            assert_near(metal->least, 17000, 0);
            assert_near(metal->most, 18500, 0);
        } else {
            assert_near(metal->least, metal->most, 0);
        }
    }
}

static void assert_said(const char *text) {
    assert_non_null(text);
    assert_true(strlen(text) > 3);
}

static void every_row_names_its_source(void **state) {
    (void)state;
    for (int i = 0; i < reference_wood_count; i++) {
        assert_said(reference_wood[i].source);
        assert_said(reference_wood[i].latin);
    }
    for (int i = 0; i < reference_metal_count; i++) assert_said(reference_metal[i].source);
    for (int i = 0; i < reference_sheet_count; i++) assert_said(reference_sheet[i].source);
    for (int i = 0; i < reference_hook_count; i++) assert_said(reference_hook[i].source);
    for (int i = 0; i < reference_cover_count; i++) assert_said(reference_cover[i].source);
    for (int i = 0; i < FACT_COUNT; i++) {
        assert_said(reference_fact[i].name);
        assert_said(reference_fact[i].source);
    }
    for (int i = 0; i < CAUTION_COUNT; i++) assert_said(reference_caution[i].source);
    for (int i = 0; i < reference_wire_strength_count; i++)
        assert_said(reference_wire_strengths[i].source);
    for (int i = 0; i < JOINT_COUNT; i++)
        if (reference_joint[i].p > 0) assert_said(reference_joint[i].source);
    for (int i = 0; i < reference_formula_count; i++) assert_said(reference_formula[i].source);
}

static void every_caution_says_what_to_do_and_whom_to_follow(void **state) {
    (void)state;
    for (int i = 0; i < CAUTION_COUNT; i++) {
        assert_said(reference_caution[i].id);
        assert_said(reference_caution[i].title);
        assert_true(strlen(reference_caution[i].text) > 100);
        assert_said(reference_caution[i].defer);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(wood_of_a_basic_gravity_weighs_what_the_handbook_equations_say),
        cmocka_unit_test(basswood_weighs_what_its_twelve_percent_value_says_at_every_moisture),
        cmocka_unit_test(a_wood_at_twelve_percent_weighs_its_own_gravity_and_the_water),
        cmocka_unit_test(green_wood_keeps_its_basic_gravity),
        cmocka_unit_test(imported_woods_stand_on_their_basic_value),
        cmocka_unit_test(every_wood_of_the_language_is_there_in_its_order),
        cmocka_unit_test(lead_balls_weigh_what_their_diameter_says),
        cmocka_unit_test(densities_are_those_of_the_page),
        cmocka_unit_test(only_lead_and_tin_are_driven_home),
        cmocka_unit_test(ballast_and_wire_are_named_from_one_table),
        cmocka_unit_test(bigger_hooks_weigh_more),
        cmocka_unit_test(the_spread_of_a_wood_follows_from_the_range_of_its_records),
        cmocka_unit_test(metals_as_sold_lie_in_their_range),
        cmocka_unit_test(a_layer_covers_what_its_place_says),
        cmocka_unit_test(colours_that_light_shines_through_need_a_ground),
        cmocka_unit_test(a_cure_takes_twice_as_long_ten_degrees_colder),
        cmocka_unit_test(every_row_names_its_source),
        cmocka_unit_test(every_caution_says_what_to_do_and_whom_to_follow),
    };
    return cmocka_run_group_tests_name("reference", tests, NULL, NULL);
}
