/* The cup: the spherical cap's closed forms (Gieck, Engineering Formulae; any table of solids),
 * what is left of the hull below a plane, and conservation: water that a cup holds is not
 * displaced. */
#include "recipe_text.h"

#include "compute/plug/plug.h"

#define CUP(text) .lip = "face: {cup: {" text "}}\n"

static const struct compilation *compiled(struct bench *b, struct recipe_parts parts) {
    struct compilation *c = NEW(&b->arena, struct compilation, 1);
    *c = bench_compile(b, parts);
    return c;
}

static const struct results *computed(struct bench *b, struct recipe_parts parts) {
    const struct compilation *c = compiled(b, parts);
    if (compilation_failed(c)) print_error("%s", bench_said(b));
    assert_false(compilation_failed(c));
    return &c->results;
}

/* V = pi h (3 a^2 + h^2) / 6. */
static double cap(double width, double depth) {
    return circle * depth * (3 * width * width / 4 + depth * depth) / 6;
}

static void a_cap_has_its_closed_forms(void **state) {
    (void)state;
    struct notch cup = notch_cup(16e-3, 4e-3, 1e-3, 0);
    assert_close(cup.radius, 10e-3, 1e-12);
    assert_close(cup.volume, cap(16e-3, 4e-3), 1e-12);
    assert_close(cup.end, 4e-3, 1e-12);
    double volume = 0, moment = 0; /* Simpson's rule over the discs, exact for their cubic moment */
    for (int i = 0; i <= 2; i++) {
        double x = 2e-3 * i, weight = (i == 1 ? 4 : 1) * 4e-3 / 6;
        struct section s = notch_section(&cup, x);
        assert_close(s.centre, 1e-3, 1e-12);
        volume += weight * section_area(&s);
        moment += weight * section_area(&s) * x;
    }
    assert_close(volume, cup.volume, 1e-12);
    assert_close(moment / volume, cup.at_x, 1e-12);
    struct notch half = notch_cup(20e-3, 10e-3, 0, 0); /* a hemisphere: 3/8 R from its middle */
    assert_close(half.volume, 2 * circle / 3 * 1e-6, 1e-12);
    assert_close(half.at_x, 3.75e-3, 1e-12);
}

static void a_finish_lines_it(void **state) {
    (void)state;
    struct notch lined = notch_cup(20e-3, 10e-3, 0, 1e-3);
    assert_close(lined.volume, 2 * circle / 3 * 9e-3 * 9e-3 * 9e-3, 1e-12);
    assert_true(notch_cup(20e-3, 1e-3, 0, 1.5e-3).volume == 0);
}

static void wood_and_displacement_are_less_by_the_cap(void **state) {
    struct bench *b = *state;
    const struct results *plain = computed(b, PARTS(.head = NULL));
    double wood = plain->masses.rows[0].mass, capacity = plain->finished.rest.capacity;
    double shaped = plug_body_mass(&plain->plug), water = plain->plug.water;
    const struct results *r = computed(b, PARTS(CUP("width: 16 mm, depth: 4 mm")));
    double bore = box_wood * (pilot_volume(&r->plug.fittings[0].pilot) -
                              pilot_volume(&plain->plug.fittings[0].pilot));
    assert_close(r->masses.rows[0].mass, wood - box_wood * cap(16e-3, 4e-3) - bore, 1e-9);
    assert_close(plug_body_mass(&r->plug), shaped - box_wood * cap(16e-3, 4e-3) - bore, 1e-9);
    assert_close(r->finished.rest.capacity, capacity - water * cap(16e-3, 4e-3), 1e-9);
    assert_close(r->plug.fittings[0].pilot.mouth_x, 4e-3, 1e-12); /* the tie stands on its floor */
}

static void a_cup_off_the_datum_has_its_tie_higher_up_its_wall(void **state) {
    struct bench *b = *state;
    const struct results *r = computed(b, PARTS(CUP("width: 14 mm, depth: 3.5 mm, up: -2 mm")));
    double radius = (49.0 + 12.25) / 7e3, centre = 3.5e-3 - radius;
    assert_close(r->plug.fittings[0].pilot.mouth_x, centre + sqrt(radius * radius - 4e-6), 1e-9);
}

/* Level water at height z in a hemisphere about the origin: a slice of a ball. */
static void what_lies_below_a_level_is_exact(void **state) {
    struct bench *b = *state;
    const struct results *r = computed(b, PARTS(CUP("width: 18 mm, depth: 9 mm")));
    struct hull plain = r->plug.bare_hull;
    plain.notch_count = 0;
    for (double z = -8e-3; z < 9e-3; z += 4e-3) {
        struct plane plane = {0, 1, 0, 1, z};
        struct hull_part with = hull_below(&r->plug.bare_hull, &plane, HULL_FINE);
        struct hull_part without = hull_below(&plain, &plane, HULL_FINE);
        double h = z + 9e-3, radius = 9e-3; /* half of a cap of height h */
        double due = circle * h * h * (3 * radius - h) / 3 / 2;
        assert_true(fabs(without.volume - with.volume - due) <
                    1e-6 * 2 * circle / 3 * radius * radius * radius);
        double chord = sqrt(radius * radius - z * z);
        assert_close(without.area - with.area, circle / 2 * chord * chord, 1e-5);
    }
}

static void turned_over_and_back_the_parts_make_the_whole(void **state) {
    struct bench *b = *state;
    const struct results *r = computed(b, PARTS(CUP("width: 16 mm, depth: 5 mm, up: 1 mm")));
    const struct hull *hull = &r->plug.finished_hull;
    for (double turn = -1.2; turn < 1.3; turn += 0.3)
        for (double level = -0.02; level < 0.03; level += 0.01) {
            struct plane down = {sin(turn), cos(turn), 0.6, 0.8, level};
            struct plane up = {-sin(turn), cos(turn), -0.6, -0.8, -level};
            double sum =
                hull_below(hull, &down, HULL_FINE).volume + hull_below(hull, &up, HULL_FINE).volume;
            assert_close(sum, hull->volume, 1e-6);
        }
}

static void a_cup_keeps_clear_of_what_else_is_cut(void **state) {
    struct bench *b = *state;
    compiled(b, PARTS(CUP("width: 16 mm, depth: 8 mm"),
                      .eyes = "eyes: {size: 5 mm, depth: 3 mm, at: 6 mm}\n"));
    assert_int_equal(bench_count(b, "cup"), 1);
    compiled(b, PARTS(CUP("width: 16 mm, depth: 4 mm"),
                      .eyes = "eyes: {size: 5 mm, depth: 2 mm, at: 20 mm}\n"));
    assert_int_equal(bench_count(b, "cup"), 0);
}

static void its_step_comes_between_the_outline_and_the_sandpaper(void **state) {
    struct bench *b = *state;
    const struct results *r = computed(b, PARTS(CUP("width: 16 mm, depth: 4 mm")));
    static const char *const due[] = {"saw-side", "cup", "sand", "weigh-bodies"};
    int next = 0, count = sizeof due / sizeof *due;
    for (int i = 0; i < r->run.route.count && next < count; i++)
        next += strcmp(r->run.route.operations[i].id, due[next]) == 0;
    assert_int_equal(next, count);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(a_cap_has_its_closed_forms),
        BENCH_TEST(a_finish_lines_it),
        BENCH_TEST(wood_and_displacement_are_less_by_the_cap),
        BENCH_TEST(a_cup_off_the_datum_has_its_tie_higher_up_its_wall),
        BENCH_TEST(what_lies_below_a_level_is_exact),
        BENCH_TEST(turned_over_and_back_the_parts_make_the_whole),
        BENCH_TEST(a_cup_keeps_clear_of_what_else_is_cut),
        BENCH_TEST(its_step_comes_between_the_outline_and_the_sandpaper),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
