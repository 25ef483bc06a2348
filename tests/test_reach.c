/* What hooks can reach, against hand calculations from the rows and against dense sampling. */
#include "recipe_text.h"

#include "bodies.h"
#include "compute/plug/mass.h"
#include "compute/plug/reach.h"
#include "model/reference.h"

static struct plug hung(struct bench *b, const char *tie, const char *hangers, const char *lip) {
    const char *hardware = arena_printf(
        &b->arena, "hardware:\n  wire: {diameter: 1 mm}\n  line tie: %s\n  hangers: [%s]\n", tie,
        hangers);
    return plug_of(&b->arena, bench_good(b, PARTS(.hardware = hardware, .lip = lip)));
}

static const struct reach *reach_to(const struct reaches *all, enum reach_kind kind, int hanger) {
    for (int i = 0; i < all->count; i++)
        if (all->list[i].kind == kind && all->list[i].hanger == hanger) return &all->list[i];
    fail();
    return NULL;
}

static void a_length_is_that_written_or_of_the_size_or_by_the_mass(void **state) {
    struct bench *b = *state;
    struct plug plug = hung(b, "{place: nose}",
                            "{place: belly, at: 30 mm, hook: {size: \"4\", length: 31 mm}}, "
                            "{place: belly, at: 50 mm, hook: {size: \"4\", mass: 9 g}}, "
                            "{place: belly, at: 70 mm, hook: {mass: 8 g}}",
                            NULL);
    assert_near(hook_length(plug.fittings[1].fitting->hook), 0.031, 1e-12);
    assert_near(hook_length(plug.fittings[2].fitting->hook),
                reference_hook_of(HOOK_TREBLE, str_of("4"))->length, 1e-12);
    assert_near(hook_length(plug.fittings[3].fitting->hook),
                2 * reference_fact[FACT_HOOK_LENGTH].value, 1e-12);
}

/* Longer with every size; and the cube root of the mass comes within a fifth of every treble. */
static void lengths_of_the_table_go_with_their_masses(void **state) {
    (void)state;
    for (int i = 0; i < reference_hook_count; i++) {
        const struct hook_row *row = &reference_hook[i];
        double guess = reference_fact[FACT_HOOK_LENGTH].value * cbrt(row->mass * 1e3);
        if (row->kind == HOOK_TREBLE) assert_near(guess / row->length, 1, 0.2);
        if (i + 1 < reference_hook_count && row[1].kind == row->kind)
            assert_true(row[1].length > row->length);
    }
}

/* Mouths at (30, -10) and (100, 0); eyes of 3 and 5 mm, one ring of 1 g. */
static void two_hooks_reach_as_far_as_eyes_rings_and_hooks_are_long(void **state) {
    struct plug plug =
        hung(*state, "{place: nose}",
             "{place: belly, at: 30 mm, hook: {mass: 1 g, length: 20 mm}, ring: {mass: 1 g}}, "
             "{place: tail, eye: 5 mm, hook: {mass: 1 g, length: 24 mm}}, {place: back, at: 50 mm}",
             NULL);
    struct reaches all = reaches_of(&plug);
    double ring = reference_fact[FACT_RING_LENGTH].value;
    const struct reach *hooks = reach_to(&all, REACH_HOOK, 1),
                       *line = reach_to(&all, REACH_LINE, 1);
    assert_int_equal(hooks->other, 2);
    assert_near(hooks->swing, 0.003 + ring + 0.020 + 0.005 + 0.024, 1e-12);
    assert_near(hooks->distance, hypot(0.070, 0.010), 1e-12);
    assert_near(line->swing, 0.003 + ring + 0.020, 1e-12);
    assert_near(line->distance, hypot(0.030, 0.010), 1e-12);
    assert_int_equal(all.count, 3); /* nothing hangs on the third, and there is no lip */
}

/* Points of the lip and of the line, one by one. */
static void nothing_of_lip_and_line_is_nearer_than_said(void **state) {
    enum { POINTS = 4000 };
    struct bench *b = *state;
    unsigned long long seed = 11;
    for (int i = 0; i < 200; i++) {
        const char *lip = arena_printf(
            &b->arena,
            "lip: {thickness: 1 mm, length: %.2f mm, width: 15 mm, shape: square, at: %.2f mm, "
            "angle: %.1f deg, slot: 5 mm}\n",
            body_between(&seed, 8, 60), body_between(&seed, 2, 40), body_between(&seed, 0, 90));
        const char *tie =
            arena_printf(&b->arena, "{place: back, at: %.2f mm}", body_between(&seed, 5, 60));
        const char *hanger = arena_printf(&b->arena, "{place: %s, at: %.2f mm, hook: {mass: 1 g}}",
                                          i % 2 ? "belly" : "back", body_between(&seed, 5, 95));
        struct plug plug = hung(b, tie, hanger, lip);
        struct reaches all = reaches_of(&plug);
        const struct pilot *from = &plug.fittings[FITTING_HANGERS].pilot;
        double to_lip = INFINITY, to_line = INFINITY;
        for (int k = 0; k <= POINTS; k++) {
            double s = plug.plate.extent * k / POINTS;
            to_lip = fmin(to_lip, hypot(plug.plate.mouth_x + s * plug.plate.u_x - from->mouth_x,
                                        plug.plate.mouth_z + s * plug.plate.u_z - from->mouth_z));
            double x = plug.fittings[FITTING_TIE].eye_x - 0.2 * k / POINTS;
            to_line = fmin(to_line, hypot(x - from->mouth_x,
                                          plug.fittings[FITTING_TIE].eye_z - from->mouth_z));
        }
        assert_near(reach_to(&all, REACH_LIP, 1)->distance, to_lip, 5e-5);
        assert_near(reach_to(&all, REACH_LINE, 1)->distance, to_line, 5e-5);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(a_length_is_that_written_or_of_the_size_or_by_the_mass),
        BENCH_TEST(lengths_of_the_table_go_with_their_masses),
        BENCH_TEST(two_hooks_reach_as_far_as_eyes_rings_and_hooks_are_long),
        BENCH_TEST(nothing_of_lip_and_line_is_nearer_than_said),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
