/* Chambers: masses of a box of 100 x 20 x 20 mm by hand, and what must stay as it was: a chamber
 * that is filled with the body's own wood changes nothing.
 * Source of all formulas: docs/physics.md, 3.6 and 4.7. */
#include "answer.h"

#include "compute/plug/chamber.h"
#include "compute/plug/clearance.h"

static const char *chambers(struct bench *b, const char *keys) {
    return arena_printf(&b->arena, "chambers: [{%s}]\n", keys);
}

static const struct mass_row *row_of(const struct mass_list *list, const char *item) {
    for (int i = 0; i < list->count; i++)
        if (is_called(list->rows[i].item, item)) return &list->rows[i];
    fail();
    return NULL;
}

/* Room of 6 mm across and 8 mm deep behind a stopper of 4 mm. */
static const double room = 0.008, closed = 0.004;

static void content_and_stopper_act_in_the_middle_of_their_rooms(void **state) {
    static const struct {
        const char *from;
        double x, z, u_x, u_z;
        int count;
    } sides[] = {
        {"at: 40 mm", 0.040, -0.010, 0, 1, 1},
        {"from: back, at: 40 mm", 0.040, 0.010, 0, -1, 1},
        {"from: nose, up: 5 mm", 0, 0.005, 1, 0, 1},
        {"from: tail, up: -4 mm", 0.100, -0.004, -1, 0, 1},
    };
    struct bench *b = *state;
    for (size_t i = 0; i < sizeof sides / sizeof *sides; i++) {
        const char *text = arena_printf(
            &b->arena,
            "%s, drill: 6 mm, depth: 12 mm, stopper: 4 mm, holds: {name: balls, mass: 0.8 g}",
            sides[i].from);
        struct answer a = answer_to(b, PARTS(.ballast = chambers(b, text)));
        struct mass_list list = mass_rows(&b->arena, &a.plug, NULL);
        const struct mass_row *balls = row_of(&list, "balls in chamber 1");
        const struct mass_row *stopper = row_of(&list, "stopper of chamber 1");
        double deep = closed + room / 2;
        assert_close(balls->mass, 0.0008, 1e-12);
        assert_near(balls->x, sides[i].x + sides[i].u_x * deep, 1e-12);
        assert_near(balls->z, sides[i].z + sides[i].u_z * deep, 1e-12);
        assert_int_equal(balls->stage, STAGE_CHAMBERED);
        assert_close(stopper->mass, box_wood * disc(0.006) * closed, 1e-9);
        assert_near(stopper->x, sides[i].x + sides[i].u_x * closed / 2, 1e-12);
        assert_near(stopper->z, sides[i].z + sides[i].u_z * closed / 2, 1e-12);
        assert_near(balls->outside + stopper->outside, 0, 0);
    }
}

static void a_pair_holds_twice_as_much_at_its_height(void **state) {
    struct bench *b = *state;
    struct answer a = answer_to(
        b,
        PARTS(.ballast = chambers(b, "from: flank, at: 40 mm, up: -3 mm, drill: 6 mm, depth: 7 mm, "
                                     "closed with: filler, holds: {name: balls, mass: 0.8 g}")));
    struct mass_list list = mass_rows(&b->arena, &a.plug, NULL);
    const struct mass_row *balls = row_of(&list, "balls in chamber 1");
    const struct mass_row *stopper = row_of(&list, "stopper of chamber 1");
    assert_close(balls->mass, 0.0016, 1e-12);
    assert_near(balls->x, 0.040, 1e-12);
    assert_near(balls->z, -0.003, 1e-12);
    assert_close(stopper->mass, 2 * bore_filler * disc(0.006) * 0.003, 1e-9); /* 3 mm unsaid */
    double nose = disc(0.002) * 0.020,
           left = 0.100 * 0.020 * 0.020 - nose - 2 * disc(0.006) * 0.007;
    assert_close(row_of(&list, "wood")->mass, box_wood * left, 1e-9);
}

/* --- what stays as it was -------------------------------------------------------------------- */

static struct burden burden_of(struct bench *b, struct recipe_parts parts, struct rest *rest) {
    struct plug plug = plug_of(&b->arena, bench_good(b, parts));
    struct mass_list list = mass_rows(&b->arena, &plug, NULL);
    struct burden burden = mass_burden(&list, CONDITION_FINISHED);
    *rest = hydro_rest(&plug.finished_hull, &burden, plug.water);
    return burden;
}

static void a_chamber_filled_with_the_wood_of_the_body_changes_nothing(void **state) {
    static const char *const sides[] = {"at: 50 mm", "from: back, at: 30 mm",
                                        "from: nose, up: 5 mm", "from: tail, up: -5 mm",
                                        "from: flank, at: 70 mm, up: -4 mm"};
    struct bench *b = *state;
    struct rest as_it_was, filled;
    struct burden plain = burden_of(b, PARTS(.head = NULL), &as_it_was);
    for (size_t i = 0; i < sizeof sides / sizeof *sides; i++) {
        double wood = box_wood * disc(0.006) * 0.004; /* behind 3 mm of stopper */
        const char *text = arena_printf(
            &b->arena, "%s, drill: 6 mm, depth: 7 mm, holds: {name: wood, mass: %.12f g}", sides[i],
            wood * 1e3);
        struct burden same = burden_of(b, PARTS(.ballast = chambers(b, text)), &filled);
        assert_close(same.mass, plain.mass, 1e-9);
        assert_near(same.x, plain.x, 1e-10);
        assert_near(same.z, plain.z, 1e-10);
        assert_close(filled.capacity, as_it_was.capacity, 1e-12);
        assert_near(filled.reserve, as_it_was.reserve, 1e-9);
        assert_near(filled.attitude, as_it_was.attitude, 1e-7);
        assert_near(filled.gm, as_it_was.gm, 1e-9);
    }
}

/* An empty chamber is air: the plug is lighter by its wood and displaces as much. */
static void an_empty_chamber_displaces_as_much(void **state) {
    struct bench *b = *state;
    struct rest before, after;
    struct burden plain = burden_of(b, PARTS(.head = NULL), &before);
    struct burden light = burden_of(
        b,
        PARTS(.ballast = chambers(
                  b, "at: 50 mm, drill: 8 mm, depth: 12 mm, holds: {name: air, mass: 0 g}")),
        &after);
    assert_close(plain.mass - light.mass, box_wood * disc(0.008) * 0.009, 1e-9);
    assert_close(after.capacity, before.capacity, 1e-12);
}

static void only_chambers_from_the_ends_are_in_the_shaped_body(void **state) {
    struct bench *b = *state;
    const double body = 0.100 * 0.020 * 0.020 - disc(0.002) * 0.020;
    struct answer tail = answer_to(
        b, PARTS(.ballast = chambers(
                     b, "from: tail, drill: 6 mm, depth: 12 mm, holds: {name: balls, mass: 1 g}")));
    struct answer belly = answer_to(
        b, PARTS(.ballast = chambers(
                     b, "at: 50 mm, drill: 6 mm, depth: 12 mm, holds: {name: balls, mass: 1 g}")));
    assert_close(tail.plug.shaped, body - disc(0.006) * 0.012, 1e-9);
    assert_close(belly.plug.shaped, body, 1e-9);
}

/* --- room ------------------------------------------------------------------------------------ */

static double wall_of_chamber(const struct clearances *c) {
    for (int i = 0; i < c->count; i++)
        if (c->openings[i].kind == OPENING_CHAMBER) return c->wall[i];
    fail();
    return 0;
}

static void walls_and_room_are_those_of_a_bore(void **state) {
    struct bench *b = *state;
    static const struct {
        const char *keys;
        double wall; /* mm */
    } cases[] = {
        {"at: 50 mm, drill: 6 mm, depth: 16 mm", 4},
        {"from: back, at: 50 mm, drill: 6 mm, depth: 16 mm", 4},
        {"from: tail, up: 3 mm, drill: 6 mm, depth: 16 mm", 4},
        {"from: flank, at: 50 mm, up: -2 mm, drill: 6 mm, depth: 8 mm", 5},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct answer a = answer_to(
            b, PARTS(.ballast = chambers(b, arena_printf(&b->arena,
                                                         "%s, holds: {name: balls, mass: 0.1 g}",
                                                         cases[i].keys))));
        struct clearances c = clearances_of(&a.plug, a.result.fills);
        assert_near(wall_of_chamber(&c), cases[i].wall * 1e-3, 1e-7);
    }
}

/* The tie's wire runs to 20 mm, and 2 mm are due before a chamber whose side stands at 15 mm. */
static void a_wire_stays_clear_of_a_chamber(void **state) {
    struct bench *b = *state;
    struct answer a = answer_to(
        b,
        PARTS(.ballast = chambers(
                  b, "at: 18 mm, drill: 6 mm, depth: 12 mm, holds: {name: balls, mass: 0.1 g}")));
    assert_near(a.plug.fittings[FITTING_TIE].pilot.depth, 0.013, 1e-12);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(content_and_stopper_act_in_the_middle_of_their_rooms),
        BENCH_TEST(a_pair_holds_twice_as_much_at_its_height),
        BENCH_TEST(a_chamber_filled_with_the_wood_of_the_body_changes_nothing),
        BENCH_TEST(an_empty_chamber_displaces_as_much),
        BENCH_TEST(only_chambers_from_the_ends_are_in_the_shaped_body),
        BENCH_TEST(walls_and_room_are_those_of_a_bore),
        BENCH_TEST(a_wire_stays_clear_of_a_chamber),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
