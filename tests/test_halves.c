/* Halves: the groove between them by hand, chambers that make one room, what conservation asks of
 * a room that is filled with the body's own wood, and the order of work.
 * Source of all formulas: docs/physics.md, 3.6, 4.7 and 4.8. */
#include "recipe_text.h"

#include "compute/plug/chamber.h"
#include "compute/plug/clearance.h"
#include "compute/plug/through.h"

/* A box of 100 x 20 x 20 mm in two halves. */
#define HALVES                                                                 \
    "body:\n  length: 100 mm\n  halves: true\n  section: {shape: square}\n"    \
    "  stations:\n    - {at: 0 mm, back: 10 mm, belly: 10 mm, width: 20 mm}\n" \
    "    - {at: 100 mm, back: 10 mm, belly: 10 mm, width: 20 mm}\n"
#define WIRED                                                                    \
    "hardware:\n  wire: {diameter: 1 mm}\n  through: {kerf: 1.4 mm, up: 3 mm}\n" \
    "  line tie: {place: nose, eye: 4 mm}\n  hangers: []\n  line: 100 N\n"
#define INSIDE(more) "chambers: [{from: inside, at: 60 mm, up: -4 mm, drill: 6 mm, " more "}]\n"

static const struct results *computed(struct bench *b, struct recipe_parts parts) {
    struct compilation *c = NEW(&b->arena, struct compilation, 1);
    *c = bench_compile(b, parts);
    if (compilation_failed(c)) print_error("%s", bench_said(b));
    assert_false(compilation_failed(c));
    return &c->results;
}

static const struct mass_row *row_called(const struct results *r, const char *name) {
    for (int i = 0; i < r->masses.count; i++)
        if (is_called(r->masses.rows[i].item, name)) return &r->masses.rows[i];
    return NULL;
}

/* As wide as high, from end to end, about the wire. */
static void the_groove_is_a_bar_round_the_wire(void **state) {
    struct bench *b = *state;
    const struct results *r = computed(b, PARTS(.body = HALVES, .hardware = WIRED));
    const struct through_fit *fit = &r->plug.through;
    const double bar = 1.4e-3 * 1.4e-3 * 0.1;
    assert_close(fit->kerf, bar, 1e-12);
    assert_close(fit->kerf_x, 0.05, 1e-12);
    assert_close(fit->kerf_z, 3e-3, 1e-12);
    assert_close(fit->closed, bar - disc(1e-3) * 0.1, 1e-12);
    assert_false(fit->strip);
    const struct mass_row *glue = row_called(r, "glue in the groove");
    assert_close(glue->mass, 1200 * fit->closed, 1e-12);
    assert_close(r->plug.shaped, 0.1 * 0.02 * 0.02 - bar, 1e-9);
}

/* Two of 4 mm depth, one a side of the middle plane, acting at their height in that plane. */
static void a_pair_makes_one_room_without_a_stopper(void **state) {
    struct bench *b = *state;
    const struct results *r =
        computed(b, PARTS(.body = HALVES, .ballast = INSIDE("depth: 4 mm, holds: {name: balls, "
                                                            "mass: 0.3 g}")));
    const struct mass_row *balls = row_called(r, "balls in chamber 1");
    assert_close(balls->mass, 0.6e-3, 1e-12);
    assert_close(balls->x, 0.06, 1e-12);
    assert_close(balls->z, -4e-3, 1e-12);
    assert_null(row_called(r, "stopper of chamber 1"));
    struct hollow hollow = hollow_of(&r->plug, 0);
    assert_close(hollow_packing(&hollow), 0.3e-3 / (disc(6e-3) * 4e-3), 1e-12);
    assert_close(hollow.axis.room, 10e-3, 1e-12);
}

static void a_room_filled_with_the_wood_of_the_body_changes_nothing(void **state) {
    struct bench *b = *state;
    const struct results *plain = computed(b, PARTS(.head = NULL));
    const char *filled =
        arena_printf(&b->arena, INSIDE("depth: 4 mm, holds: {name: wood, mass: %.12f g}"),
                     box_wood * disc(6e-3) * 4e-3 * 1e3);
    const struct results *same = computed(b, PARTS(.body = HALVES, .ballast = filled));
    assert_close(same->finished.burden.mass, plain->finished.burden.mass, 1e-9);
    assert_near(same->finished.burden.x, plain->finished.burden.x, 1e-10);
    assert_near(same->finished.burden.z, plain->finished.burden.z, 1e-10);
    assert_near(same->finished.rest.attitude, plain->finished.rest.attitude, 1e-7);
}

static const struct opening *opening_of_kind(const struct clearances *c, enum opening_kind kind) {
    for (int i = 0; i < c->count; i++)
        if (c->openings[i].kind == kind) return &c->openings[i];
    fail();
    return NULL;
}

/* Ahead of a floor 4 mm off the middle stand 6 mm of wood; a socket 2 mm deep in front of it leaves
 * 4 of them; the groove's underside is at 3 - 0.7 mm, the chamber's upper edge at -1 mm. */
static void walls_are_those_to_flank_socket_and_groove(void **state) {
    struct bench *b = *state;
    const struct results *r =
        computed(b, PARTS(.body = HALVES, .hardware = WIRED,
                          .ballast = INSIDE("depth: 4 mm, holds: {name: balls, mass: 0.3 g}"),
                          .eyes = "eyes: {size: 5 mm, depth: 2 mm, at: 60 mm, up: -4 mm}\n"));
    const struct clearances *c = &r->clearances;
    const struct opening *chamber = opening_of_kind(c, OPENING_CHAMBER);
    assert_near(c->wall[chamber - c->openings], 3e-3, 1e-7); /* to the belly, which is nearer */
    assert_near(opening_distance(chamber, opening_of_kind(c, OPENING_SOCKETS)), 4e-3, 1e-12);
    assert_near(opening_distance(opening_of_kind(c, OPENING_SOCKETS), chamber), 4e-3, 1e-12);
    assert_near(through_distance(&r->plug, chamber), 3.3e-3, 1e-12);
    for (int i = 0; i < c->pair_count; i++)
        assert_true(c->pairs[i].one != c->pairs[i].other ||
                    &c->openings[c->pairs[i].one] != chamber);
}

static void it_is_shaped_whole_opened_filled_and_closed(void **state) {
    static const char *const due[] = {"pair-boards", "layout",       "smooth",      "open-halves",
                                      "groove",      "weigh-bodies", "bore-inside", "close-halves",
                                      "pare-joint",  "seal-1"};
    struct bench *b = *state;
    const struct results *r =
        computed(b, PARTS(.body = HALVES, .hardware = WIRED,
                          .ballast = INSIDE("depth: 4 mm, holds: {name: balls, mass: 0.3 g}"),
                          .finish = "finish: {seal: {}}\n"));
    int next = 0, count = sizeof due / sizeof *due;
    for (int i = 0; i < r->run.route.count; i++) {
        const char *id = r->run.route.operations[i].id;
        assert_string_not_equal(id, "saw-kerf");
        assert_string_not_equal(id, "close-chambers");
        if (next < count && strcmp(id, due[next]) == 0) next++;
    }
    assert_int_equal(next, count);
}

/* Of 20 mm of width, with 2 over: boards of 11 mm, two for a blank. */
static void a_blank_is_two_boards(void **state) {
    struct bench *b = *state;
    const struct results *r = computed(
        b, PARTS(.body = HALVES, .hardware = WIRED,
                 .shop = "shop:\n  board: {length: 0.4 m, width: 50 mm, thickness: 12 mm}\n"));
    assert_int_equal(r->supply.blank_boards, 2);
    assert_close(r->supply.blank_width, 22e-3, 1e-9);
    assert_int_equal(r->supply.board_pieces, 3 * 2 / 2);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(the_groove_is_a_bar_round_the_wire),
        BENCH_TEST(a_pair_makes_one_room_without_a_stopper),
        BENCH_TEST(a_room_filled_with_the_wood_of_the_body_changes_nothing),
        BENCH_TEST(walls_are_those_to_flank_socket_and_groove),
        BENCH_TEST(it_is_shaped_whole_opened_filled_and_closed),
        BENCH_TEST(a_blank_is_two_boards),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
