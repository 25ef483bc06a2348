/* A recipe that takes from its workshop, both on a shelf in memory. */
#include <math.h>
#include <stdlib.h>

#include "close.h"
#include "recipe_text.h"

#include "model/reference.h"
#include "model/workshop.h"

/* What lies on the shelf; `shelf` stands first, so that its place is this one's. */
struct texts {
    struct shelf shelf;
    const char *recipe, *workshop;
};

static bool fetch(const struct shelf *shelf, struct arena *arena, const char *path,
                  struct str *bytes, const char **reason) {
    const struct texts *texts = (const struct texts *)shelf;
    (void)arena;
    *reason = "it is not on the shelf";
    *bytes = str_of(strcmp(path, "shop.yaml") == 0 ? texts->workshop : texts->recipe);
    return true;
}

#define HEAD "recipe: 1\nname: Box\nworkshop: shop.yaml\n"

static struct compilation compile_with(struct bench *b, struct recipe_parts parts,
                                       const char *workshop) {
    if (!parts.head) parts.head = HEAD;
    struct texts texts = {{fetch}, recipe_text_of(&b->arena, parts).data, workshop};
    struct compilation c = compile_shelved(&b->arena, &texts.shelf, "box.yaml");
    b->diags = c.diags;
    b->text = str_of(workshop);
    if (c.failure) print_error("%s\n", c.failure);
    assert_null(c.failure);
    return c;
}

static struct compilation good_with(struct bench *b, struct recipe_parts parts,
                                    const char *workshop) {
    struct compilation c = compile_with(b, parts, workshop);
    if (b->diags.errors) print_error("%s", bench_said(b));
    assert_int_equal(b->diags.errors, 0);
    return c;
}

/* FPL-GTR-190, equations 4-11 and 4-12, the one way and the other. */
static void an_own_wood_weighs_at_its_moisture_what_the_scale_said(void **state) {
    (void)state;
    static const double densities[] = {60, 160, 420, 900, 1400}, moistures[] = {0, 0.08, 0.12, 0.3};
    for (size_t d = 0; d < 5; d++)
        for (size_t m = 0; m < 4; m++) {
            struct wood_row row = {.basic = true,
                                   .gravity = reference_wood_basic(densities[d], moistures[m])};
            assert_close(reference_wood_density(&row, moistures[m]), densities[d], 1e-12);
        }
}

/* 480 kg/m3 at 12 %: G = 0.42857, G_b = G / (1 + 0.159 G) = 0.401231; at 8 %, where a = 22/30,
 * G_8 = G_b / (1 - 0.194333 G_b) = 0.435162, so 1000 G_8 1.08 = 469.975 kg/m3. */
static void an_own_wood_is_carried_to_the_moisture_of_the_recipe(void **state) {
    struct bench *b = *state;
    struct compilation c =
        good_with(b, PARTS(.wood = "wood: {species: pond lime, moisture: 8 %}\n"),
                  "workshop: 1\nwoods: [{name: pond lime, like: basswood, density: 480 kg/m3, "
                  "moisture: 12 %,\n"
                  "  weighed: 5}]\n");
    assert_close(c.results.plug.wood_density, 469.975, 1e-5);
    assert_string_equal(c.recipe->wood->row->source, "own workshop, weighed 5 times");
}

static void an_own_wood_wins_over_the_table_and_the_recipe_over_both(void **state) {
    struct bench *b = *state;
    static const char shop[] =
        "workshop: 1\nwoods: [{name: balsa, density: 222 kg/m3, moisture: 8 %}]\n";
    struct compilation c =
        good_with(b, PARTS(.wood = "wood: {species: balsa, moisture: 8 %}\n"), shop);
    assert_close(c.results.plug.wood_density, 222, 1e-12);
    c = good_with(b, PARTS(.wood = "wood: {species: balsa, density: 133 kg/m3}\n"), shop);
    assert_close(c.results.plug.wood_density, 133, 1e-12);
    c = good_with(b, PARTS(.wood = "wood: {species: balsa}\n"), "workshop: 1\n");
    assert_true(c.results.plug.wood_density < 222);
}

static void prices_and_shop_come_key_by_key(void **state) {
    struct bench *b = *state;
    struct compilation c = good_with(b, PARTS(.shop = "shop: {wheel: 3}\nprices: {hook: 2}\n"),
                                     "workshop: 1\ncurrency: EUR\nprices: {hook: 9, ring: 4}\n"
                                     "shop: {wheel: 7, temperature: 15 degC}\n");
    assert_int_equal(c.recipe->shop->wheel, 3);
    assert_close(c.recipe->shop->temperature, 15, 1e-12);
    assert_close(c.recipe->shop->kerf, 0.002, 1e-12);
    assert_close(c.recipe->prices->hook.value, 2, 1e-12);
    assert_close(c.recipe->prices->ring.value, 4, 1e-12);
    assert_true(str_is(c.recipe->currency, "EUR"));
}

static const char products[] =
    "workshop: 1\n"
    "hooks: [{size: odd, mass: 1.5 g, weighed: 3}, {kind: single, size: odd, mass: 2.5 g}]\n"
    "rings: [{size: \"3\", mass: 0.5 g}]\n"
    "sealers: [{name: lacquer, kind: shellac, uptake: 33 g/m2, weighed: 4}]\n"
    "paints: [{name: white, kind: opaque, film: 30 um, density: 2 g/cm3, coats: 3}]\n"
    "topcoats: [{name: slow, kind: urethane, coats: 4, weighed: 2}]\n";

static void a_named_product_gives_what_the_recipe_leaves_out(void **state) {
    struct bench *b = *state;
    struct compilation c = good_with(
        b,
        PARTS(.body = swimmer_body, .eyes = swimmer_eyes,
              .hardware =
                  "hardware:\n  wire: {diameter: 1.2 mm}\n  line tie: {place: nose}\n"
                  "  hangers:\n"
                  "    - {place: belly, at: 55 mm, hook: {size: \"#odd\"}, ring: {size: 3}}\n"
                  "    - {place: tail, hook: {size: odd, kind: single}}\n",
              .finish =
                  "finish:\n  seal: {name: lacquer, uptake: 11 g/m2}\n"
                  "  paint: {layers: [{colour: white, coats: 1}, {colour: red, kind: opaque}]}\n"
                  "  topcoat: {name: slow}\n"),
        products);
    const struct hardware *hardware = c.recipe->hardware;
    const struct finish *finish = c.recipe->finish;
    assert_close(hardware->hangers[0].hook->mass.value, 0.0015, 1e-12);
    assert_close(hardware->hangers[0].hook->weighed.value, 3, 1e-12);
    assert_close(hardware->hangers[0].ring->mass.value, 0.0005, 1e-12);
    assert_close(hardware->hangers[1].hook->mass.value, 0.0025, 1e-12);
    assert_int_equal(finish->seal->kind, SEAL_SHELLAC);
    assert_close(finish->seal->uptake, 0.011, 1e-12);
    assert_false(finish->seal->weighed.given); /* the recipe's own uptake was not */
    assert_int_equal(finish->topcoat->kind, TOPCOAT_URETHANE);
    assert_int_equal(finish->topcoat->coats, 4);
    struct colour white = layer_colour(c.recipe, &finish->paint->layers[0]);
    struct colour red = layer_colour(c.recipe, &finish->paint->layers[1]);
    assert_close(white.film, 30e-6, 1e-12);
    assert_close(white.density, 2000, 1e-12);
    assert_close(red.film, 12e-6, 1e-12);
    assert_int_equal(finish->paint->layers[0].coats, 1);
}

static void a_workshop_that_is_dropped_gives_nothing(void **state) {
    struct bench *b = *state;
    struct compilation c =
        good_with(b, PARTS(.head = "recipe: 1\nname: Box\nworkshop: none\n"), "shop: [\n");
    assert_null(c.workshop);
    assert_int_equal(c.document.source_count, 1);
}

static const struct {
    const char *workshop, *at, *said;
} cases[] = {
    {"woods: [{name: pond oak}]\n", "pond oak",
     "error workshop: nothing tells what this wood weighs"},
    {"woods: [{name: w, like: balsa}, {like: balsa, name: w}]\n", "w}]",
     "error workshop: a wood of this name stands above already"},
    {"hooks: [{size: 6, mass: 1 g}, {mass: 1 g, size: \"#6\"}]\n", "\"#6\"",
     "error workshop: a hook of this kind and size stands above already"},
    {"rings: [{size: 6, mass: 1 g}, {mass: 1 g, size: 6}]\n", "6}]",
     "error workshop: a ring of this size stands above already"},
    {"sealers: [{kind: shellac}]\n", "shellac",
     "error workshop: a sealer of the workshop needs its name"},
    {"sealers: [{name: s, kind: shellac}, {kind: shellac, name: s}]\n", "s}]",
     "error workshop: a sealer of this name stands above already"},
    {"paints: [{name: s, kind: opaque}, {kind: opaque, name: s}]\n", "s}]",
     "error workshop: a paint of this name stands above already"},
    {"topcoats: [{kind: epoxy}]\n", "epoxy",
     "error workshop: a topcoat of the workshop needs its name"},
    {"topcoats: [{name: s, kind: epoxy}, {kind: epoxy, name: s}]\n", "s}]",
     "error workshop: a topcoat of this name stands above already"},
    {"stock: {pieces: [{count: 4, material: lead}]}\n", "lead",
     "error workshop: a piece has a ball's diameter or a mass, one of the two"},
};

enum { CASES = sizeof cases / sizeof *cases };

static void every_rule_of_a_workshop_blames_what_breaks_it(void **state) {
    struct bench *b = *state;
    for (int i = 0; i < CASES; i++) {
        compile_with(b, PARTS(.wood = NULL),
                     arena_printf(&b->arena, "workshop: 1\n%s", cases[i].workshop));
        bench_expect(b, cases[i].at, cases[i].said);
    }
}

static void no_rule_of_a_workshop_is_without_a_case(void **state) {
    (void)state;
    static const char *const rows[] = {
#define RULE(subject, predicate, member, level, rule, message, hint) rule ": " message,
#include "rules.def"
    };
    for (size_t r = 0; r < sizeof rows / sizeof *rows; r++) {
        bool covered = strncmp(rows[r], "workshop: ", strlen("workshop: ")) != 0;
        for (int i = 0; i < CASES; i++) covered |= strstr(cases[i].said, rows[r]) != NULL;
        if (!covered) print_error("%s\n", rows[r]);
        assert_true(covered);
    }
}

/* MAX_OWN rows of a kind are taken, and no more. */
static void rows_of_a_kind_are_bounded(void **state) {
    struct bench *b = *state;
    for (int count = MAX_OWN; count <= MAX_OWN + 1; count++) {
        struct buf text = {.arena = &b->arena};
        buf_text(&text, "workshop: 1\nrings:\n");
        for (int i = 0; i < count; i++) buf_printf(&text, "  - {size: r%d, mass: 1 g}\n", i);
        compile_with(b, PARTS(.wood = NULL), text.data);
        assert_int_equal(b->diags.errors, count > MAX_OWN);
    }
    bench_expect(b, "rings", "error range: 'rings' has 65 items; 0 to 64 are allowed");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(an_own_wood_weighs_at_its_moisture_what_the_scale_said),
        BENCH_TEST(an_own_wood_is_carried_to_the_moisture_of_the_recipe),
        BENCH_TEST(an_own_wood_wins_over_the_table_and_the_recipe_over_both),
        BENCH_TEST(prices_and_shop_come_key_by_key),
        BENCH_TEST(a_named_product_gives_what_the_recipe_leaves_out),
        BENCH_TEST(a_workshop_that_is_dropped_gives_nothing),
        BENCH_TEST(every_rule_of_a_workshop_blames_what_breaks_it),
        BENCH_TEST(no_rule_of_a_workshop_is_without_a_case),
        BENCH_TEST(rows_of_a_kind_are_bounded),
    };
    return cmocka_run_group_tests_name("workshop", tests, NULL, NULL);
}
