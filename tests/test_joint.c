/* Joints: the box's V cuts by hand, what they do to wood and water, and that a gap of nothing does
 * nothing. */
#include "recipe_text.h"

#include "compute/plug/plug.h"

#define JOINT(text) .lip = "joints: [{" text ", hinge: {name: pin, mass: 1 g}}]\n"

static const double steel = 7900;

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

static const struct mass_row *row_called(const struct results *r, const char *name) {
    for (int i = 0; i < r->masses.count; i++)
        if (is_called(r->masses.rows[i].item, name)) return &r->masses.rows[i];
    return NULL;
}

/* Section 20 x 20 mm, mean half-breadth 10 mm: 400 mm2 (gap + 2 tan 30 10 mm). */
static void a_box_loses_its_section_times_the_mean_gap(void **state) {
    struct bench *b = *state;
    const struct results *r = computed(b, PARTS(JOINT("at: 60 mm, gap: 3 mm, angle: 30 deg")));
    double length = 3e-3 + 2 * tan(30 * one_degree) * 10e-3;
    assert_close(r->plug.joints[0].volume, 400e-6 * length, 1e-9);
    assert_close(r->plug.joints[0].at_x, 60e-3, 1e-12);
    assert_close(plug_joint_reach(&r->plug, 0), 1.5e-3 + tan(30 * one_degree) * 10e-3, 1e-12);
}

static void wood_and_water_are_less_and_the_weighed_body_is_whole(void **state) {
    struct bench *b = *state;
    const struct results *plain = computed(b, PARTS(.head = NULL));
    double wood = plain->masses.rows[0].mass, body = plug_body_mass(&plain->plug);
    double capacity = plain->finished.rest.capacity, water = plain->plug.water;
    const struct results *r = computed(b, PARTS(JOINT("at: 60 mm, gap: 3 mm, angle: 30 deg")));
    double volume = r->plug.joints[0].volume;
    assert_close(r->masses.rows[0].mass, wood - box_wood * volume, 1e-9);
    assert_close(plug_body_mass(&r->plug), body, 1e-12); /* it is cut after the weighing */
    assert_close(r->finished.rest.capacity, capacity - water * (volume - 1e-3 / steel), 1e-8);
    const struct mass_row *hinge = row_called(r, "hinge 1");
    assert_close(hinge->mass, 1e-3, 1e-12);
    assert_close(hinge->x, 60e-3, 1e-12);
    assert_int_equal(hinge->stage, STAGE_RIGGED);
}

/* An oval section a high and b broad has the mean half-breadth pi b / 8. */
static void of_an_oval_the_mean_counts(void **state) {
    struct bench *b = *state;
    const struct results *r =
        computed(b, PARTS(.body = "body:\n  length: 100 mm\n  section: {shape: oval}\n  stations:\n"
                                  "    - {at: 0 mm, back: 10 mm, belly: 10 mm, width: 16 mm}\n"
                                  "    - {at: 100 mm, back: 10 mm, belly: 10 mm, width: 16 mm}\n",
                          JOINT("at: 50 mm, gap: 1 mm, angle: 45 deg")));
    double area = circle * 10e-3 * 8e-3;
    assert_close(r->plug.joints[0].volume, area * (1e-3 + 2 * circle * 8e-3 / 4), 1e-9);
}

static void the_hull_lacks_the_slab_that_the_plane_cuts(void **state) {
    struct bench *b = *state;
    const struct results *r = computed(b, PARTS(JOINT("at: 50 mm, gap: 4 mm, angle: 0 deg")));
    for (double z = -9e-3; z < 10e-3; z += 3e-3) {
        struct plane level = {0, 1, 0, 1, z};
        struct hull_part part = hull_below(&r->plug.bare_hull, &level, HULL_FINE);
        assert_close(part.volume, (box_length - 4e-3) * box_width * (z + 10e-3), 1e-9);
        assert_close(part.area, (box_length - 4e-3) * box_width, 1e-9);
    }
}

static void what_stands_in_its_way_is_told(void **state) {
    struct bench *b = *state;
    compiled(
        b, PARTS(JOINT("at: 50 mm, gap: 2 mm, angle: 20 deg"),
                 .ballast = "ballast: {bores: [{at: 52 mm, drill: 6 mm, load: [{mass: 1 g}]}]}\n"));
    assert_int_equal(bench_count(b, "joint"), 1);
    assert_non_null(strstr(bench_said(b), "error joint: bore 1 meets joint 1"));
    compiled(b, PARTS(JOINT("at: 2 mm, gap: 2 mm, angle: 20 deg")));
    assert_non_null(strstr(bench_said(b), "joint 1 leaves no part beyond it"));
}

static void its_steps_stand_where_they_must(void **state) {
    struct bench *b = *state;
    const struct results *r =
        computed(b, PARTS(JOINT("at: 60 mm, gap: 3 mm, angle: 30 deg"),
                          .finish = "finish: {seal: {}, topcoat: {kind: epoxy, coats: 1}}\n"));
    static const char *const due[] = {"weigh-bodies", "cut-joints", "seal-1", "float-test",
                                      "topcoat-1",    "join",       "prove"};
    int next = 0, count = sizeof due / sizeof *due;
    for (int i = 0; i < r->run.route.count && next < count; i++)
        next += strcmp(r->run.route.operations[i].id, due[next]) == 0;
    assert_int_equal(next, count);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(a_box_loses_its_section_times_the_mean_gap),
        BENCH_TEST(wood_and_water_are_less_and_the_weighed_body_is_whole),
        BENCH_TEST(of_an_oval_the_mean_counts),
        BENCH_TEST(the_hull_lacks_the_slab_that_the_plane_cuts),
        BENCH_TEST(what_stands_in_its_way_is_told),
        BENCH_TEST(its_steps_stand_where_they_must),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
