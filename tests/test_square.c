/* Everything bored while the block is square: what the scale reads, by hand, and the order of work.
 * Source of all formulas: docs/physics.md, 3.2. */
#include "recipe_text.h"

#include "emit/words/words.h"

/* A box of 100 x 20 x 20 mm. */
#define BOX                                                                    \
    "body:\n  length: 100 mm\n  section: {shape: square}\n"                    \
    "  stations:\n    - {at: 0 mm, back: 10 mm, belly: 10 mm, width: 20 mm}\n" \
    "    - {at: 100 mm, back: 10 mm, belly: 10 mm, width: 20 mm}\n"
#define WIRES "hardware:\n  wire: {diameter: 1 mm}\n  line tie: {place: nose, depth: 10 mm}\n"
#define BORES                                                            \
    "ballast:\n  bores:\n"                                               \
    "    - {at: 30 mm, drill: 6 mm, depth: 9 mm, load: [{mass: 1 g}]}\n" \
    "    - {from: flank, at: 60 mm, drill: 4 mm, depth: 5 mm, load: [{mass: 0.2 g}]}\n"
#define EYES   "eyes: {size: 6 mm, depth: 2 mm, at: 15 mm, up: 3 mm}\n"
#define SQUARE "shop: {bore: square}\n"

static const struct results *computed(struct bench *b, struct recipe_parts parts) {
    struct compilation *c = NEW(&b->arena, struct compilation, 1);
    *c = bench_compile(b, parts);
    if (compilation_failed(c)) print_error("%s", bench_said(b));
    assert_false(compilation_failed(c));
    return &c->results;
}

static int place_of(const struct results *r, const char *id) {
    return route_find(&r->run.route, str_of(id));
}

/* One from the belly, a pair from the flanks, and a pair of sockets: pi/4 d^2 t each. */
static void the_weighed_body_has_all_bores(void **state) {
    struct bench *b = *state;
    struct recipe_parts parts =
        PARTS(.body = BOX, .hardware = WIRES, .ballast = BORES, .eyes = EYES);
    const struct results *later = computed(b, parts);
    parts.shop = SQUARE;
    const struct results *square = computed(b, parts);
    double bored = disc(6e-3) * 9e-3 + 2 * disc(4e-3) * 5e-3 + 2 * disc(6e-3) * 2e-3;
    assert_close(later->plug.shaped - square->plug.shaped, bored, 1e-9);
    assert_close(plug_body_mass(&later->plug) - plug_body_mass(&square->plug),
                 square->plug.wood_density * bored, 1e-9);
    assert_close(square->finished.burden.mass, later->finished.burden.mass, 1e-12);
}

/* What was weighed tells the same wood either way. */
static void a_weighed_body_tells_its_wood(void **state) {
    struct bench *b = *state;
    struct recipe_parts parts = PARTS(.body = BOX, .hardware = WIRES, .ballast = BORES,
                                      .shop = SQUARE, .measured = "measured: {blank: 15 g}\n");
    const struct results *r = computed(b, parts);
    assert_close(r->plug.wood_density, 15e-3 / r->plug.shaped, 1e-12);
}

static void all_is_bored_before_the_outline_is_sawn(void **state) {
    struct bench *b = *state;
    const struct results *r = computed(
        b, PARTS(.body = BOX, .hardware = WIRES, .ballast = BORES, .eyes = EYES, .shop = SQUARE));
    int bored = place_of(r, "bore-square");
    assert_true(bored > place_of(r, "layout"));
    assert_true(bored < place_of(r, "saw-side") && bored < place_of(r, "saw-top"));
    assert_true(bored < place_of(r, "weigh-bodies"));
    static const char *const gone[] = {"bore-ballast", "bore-sides", "bore-eyes"};
    for (size_t i = 0; i < sizeof gone / sizeof *gone; i++) assert_true(place_of(r, gone[i]) < 0);
}

static void without_anything_to_bore_nothing_is_bored(void **state) {
    struct bench *b = *state;
    const struct results *r = computed(b, PARTS(.body = BOX, .hardware = WIRES, .shop = SQUARE));
    assert_true(place_of(r, "bore-square") < 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(the_weighed_body_has_all_bores),
        BENCH_TEST(a_weighed_body_tells_its_wood),
        BENCH_TEST(all_is_bored_before_the_outline_is_sawn),
        BENCH_TEST(without_anything_to_bore_nothing_is_bored),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
