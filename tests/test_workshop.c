/* A recipe that takes from its workshop, both on a shelf in memory. */
#include <math.h>
#include <stdlib.h>

#include "close.h"
#include "recipe_text.h"

#include "compute/shopping.h"
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

/* --- the stock ------------------------------------------------------------------------------- */

static const struct supply_row *order_row(const struct compilation *c, const char *item) {
    for (int i = 0; i < c->results.supply.count; i++)
        if (is_called(c->results.supply.rows[i].item, item)) return &c->results.supply.rows[i];
    print_error("no item %s\n", item);
    fail();
    return NULL;
}

static const struct shopping_row *list_row(const struct shopping *list, const char *item) {
    for (int i = 0; i < list->count; i++)
        if (is_called(list->rows[i].item, item)) return &list->rows[i];
    print_error("no item %s\n", item);
    fail();
    return NULL;
}

#define STOCKED(make) "recipe: 1\nname: Box\nmake: " make "\nworkshop: shop.yaml\n"

static const char stocked_hardware[] =
    "hardware:\n  wire: {diameter: 1.2 mm}\n  line tie: {place: nose}\n"
    "  hangers:\n    - {place: belly, at: 55 mm, hook: {size: \"#odd\"}, ring: {size: 3}}\n"
    "    - {place: tail, hook: {size: odd}}\n";

static const char stocked_finish[] =
    "finish:\n  seal: {name: lacquer}\n  paint: {layers: [{colour: white, kind: opaque}]}\n"
    "  topcoat: {name: slow}\n";

/* A run of the box with everything that a stock can hold. */
static struct compilation stocked(struct bench *b, const char *head, const char *stock) {
    return good_with(
        b,
        PARTS(.head = head, .body = swimmer_body, .eyes = "eyes: {size: 6 mm, at: 10 mm}\n",
              .lip = "lip: {shape: round, thickness: 2 mm, length: 30 mm, width: 20 mm, at: 8 mm, "
                     "angle: 40 deg, "
                     "slot: 8 mm}\n",
              .ballast = "ballast: {bores: [{at: 40 mm, drill: 8 mm, load: [{mass: 3.5 g}]}]}\n",
              .hardware = stocked_hardware, .finish = stocked_finish, .running = ""),
        arena_printf(&b->arena,
                     "workshop: 1\ncurrency: EUR\nprices: {hook: 2, paint: 85}\n"
                     "hooks: [{size: odd, mass: 1.5 g}]\nrings: [{size: 3, mass: 0.5 g}]\n"
                     "sealers: [{name: lacquer, kind: shellac}]\n"
                     "topcoats: [{name: slow, kind: epoxy}]\n%s",
                     stock));
}

static double sum_of(const struct compilation *runs, int count, const char *item, bool have) {
    double sum = 0;
    for (int k = 0; k < count; k++) {
        const struct supply_row *row = order_row(&runs[k], item);
        sum += have ? row->have : row->run;
    }
    return sum;
}

static struct shopping listed(struct bench *b, const struct compilation *runs, int count) {
    const struct results **results = NEW(&b->arena, const struct results *, count);
    for (int k = 0; k < count; k++) results[k] = &runs[k].results;
    return shopping_of(&b->arena, results, count);
}

/* Of three runs of 2, 3 and 1 plugs: 6 with two hooks, one ring and two eyes each, the sealer,
 * paint and topcoat that they need, 3.5 g of lead each. */
static void the_plans_list_is_the_sum_of_the_orders_less_the_stock_taken_once(void **state) {
    static const struct {
        const char *item;
        double stock; /* SI */
    } lines[] = {
        {"treble hook odd", 7},    {"split ring 3", 100}, {"eye", 3},
        {"sealer: lacquer", 2e-6}, {"paint: white", 1},   {"stainless wire", 0},
    };
    struct bench *b = *state;
    static const char stock[] =
        "stock:\n  hooks: [{size: odd, count: 4}, {size: \"#odd\", count: 3}, {kind: single, size: "
        "odd, count: 50}]\n  rings: [{size: 3, count: 100}]\n  eyes: [{size: 6 mm, count: 3}, "
        "{size: 5 mm, count: 90}]\n  sealers: [{name: lacquer, volume: 2 ml}]\n"
        "  paints: [{name: white, volume: 1 l}, {name: red, volume: 1 l}]\n"
        "  topcoats: [{name: slow, volume: 4 ml}]\n"
        "  wire: [{diameter: 1 mm, length: 90 m}]\n"
        "  pieces: [{mass: 2 g, count: 5}, {mass: 1 g, count: 4}, {mass: 4 g, count: 9}]\n";
    struct compilation runs[] = {stocked(b, STOCKED("2"), stock), stocked(b, STOCKED("3"), stock),
                                 stocked(b, STOCKED("1"), stock)};
    struct shopping list = listed(b, runs, 3);
    assert_true(list.stocked);
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++) {
        const struct shopping_row *row = list_row(&list, lines[i].item);
        double needed = sum_of(runs, 3, lines[i].item, false);
        assert_close(row->amount, needed, 1e-12);
        assert_close(row->have, fmin(needed, lines[i].stock), 1e-12);
    }
    for (int i = 0; i < list.count; i++) assert_true(list.rows[i].have <= list.rows[i].amount);
    /* each order by itself finds the whole stock: 4 + 6 + 2 hooks */
    assert_close(sum_of(runs, 3, "treble hook odd", true), 4 + 6 + 2, 1e-12);
    assert_close(list_row(&list, "treble hook odd")->to_pay, 2 * (12 - 7), 1e-12);
    double topcoat =
        list_row(&list, "topcoat resin")->have + list_row(&list, "topcoat hardener")->have;
    assert_close(topcoat, 4e-6, 1e-9);
    /* of six loads of 3.5 g: four times 2 + 1, 2, nothing; those of 4 g go into none */
    assert_close(list_row(&list, "lead")->amount, 6 * 0.0035, 1e-12);
    assert_close(list_row(&list, "lead")->have, 4 * 0.003 + 0.002, 1e-12);
}

/* Blanks of the box are 106 x 22 x 22 mm, and of 214 mm come two with a cut of 2 between; in a
 * board twice as wide a run takes the place beside another one's. */
static void boards_are_cut_once(void **state) {
    static const struct {
        const char *boards;
        double blanks[3]; /* of three runs of one, two, three in turn */
    } boards[] = {
        {"{species: basswood, length: 214 mm, width: 22 mm, thickness: 22 mm}", {1, 1, 0}},
        {"{species: basswood, length: 214 mm, width: 46 mm, thickness: 22 mm}", {1, 2, 1}},
        {"{species: basswood, length: 106 mm, width: 22 mm, thickness: 22 mm, count: 4}",
         {1, 2, 1}},
        {"{species: basswood, length: 213 mm, width: 22 mm, thickness: 22 mm, count: 9}",
         {1, 2, 3}},
        {"{species: balsa, length: 2 m, width: 200 mm, thickness: 30 mm}", {0, 0, 0}},
        {"{species: basswood, length: 2 m, width: 200 mm, thickness: 21 mm}", {0, 0, 0}},
    };
    static const char *const heads[] = {STOCKED("1"), STOCKED("2"), STOCKED("3")};
    struct bench *b = *state;
    for (size_t i = 0; i < sizeof boards / sizeof *boards; i++) {
        const char *shop =
            arena_printf(&b->arena, "workshop: 1\nstock: {boards: [%s]}\n", boards[i].boards);
        struct compilation runs[3];
        double blank = 0.106 * 0.022 * 0.022, before = 0;
        for (int count = 1; count <= 3; count++) {
            runs[count - 1] = good_with(b, PARTS(.head = heads[count - 1]), shop);
            struct shopping list = listed(b, runs, count);
            double have = list_row(&list, "basswood blank")->have / blank;
            if (fabs(have - before - boards[i].blanks[count - 1]) > 1e-9)
                print_error("%s, run %d: %g\n", boards[i].boards, count, have - before);
            assert_close(have - before, boards[i].blanks[count - 1], 1e-9);
            before = have;
        }
    }
}

/* A board of 214 mm gives two blanks of the box, of 106 mm, and a cut. */
static void boards_are_shared_in_a_workshop_and_not_between_two(void **state) {
    static const char stock[] = "workshop: 1\nstock: {boards: [{species: basswood, length: 214 mm, "
                                "width: 22 mm, thickness: 22 mm}]}\n";
    struct bench *b = *state;
    const struct recipe_parts parts = PARTS(.head = STOCKED("1"));
    const char *other = arena_printf(&b->arena, "%snote: another one\n", stock);
    struct compilation runs[] = {good_with(b, parts, stock), good_with(b, parts, stock),
                                 good_with(b, parts, other)};
    struct sawing sawing = listed(b, runs, 3).sawing;
    assert_int_equal(sawing.count, 2);
    assert_true(sawing.woods[0].on_hand && sawing.woods[1].on_hand);
    assert_int_equal(sawing.woods[0].task.want_count, 2);
    assert_int_equal(sawing.woods[0].cutting.begun[0].stretches[0].strips[0].pieces[1].want, 1);
    assert_true(sawing.woods[0].cutting.begun[0].left < 1e-9);
    assert_int_equal(sawing.woods[1].runs[0], 2);
    assert_close(sawing.woods[1].cutting.begun[0].left, 0.214 - 0.106 - 0.002, 1e-9);
    for (int k = 0; k < 3; k++) assert_int_equal(sawing.blanks[k], 1);
}

/* Of boards like the shop's it takes two for three blanks, and none of them lies on hand. */
static void without_a_stock_boards_are_like_the_shops(void **state) {
    struct bench *b = *state;
    struct recipe_parts parts =
        PARTS(.head = STOCKED("3"),
              .shop = "shop: {board: {length: 214 mm, width: 30 mm, thickness: 22 mm}}\n");
    struct compilation run = good_with(b, parts, "workshop: 1\n");
    struct shopping list = listed(b, &run, 1);
    assert_int_equal(list.sawing.count, 1);
    assert_false(list.sawing.woods[0].on_hand);
    assert_int_equal(list.sawing.woods[0].cutting.got[0], 3);
    assert_close(list.sawing.woods[0].cutting.wood.begun, 2 * 0.214 * 0.030 * 0.022, 1e-9);
    assert_int_equal(list.sawing.blanks[0], 0);
    assert_true(list_row(&list, "basswood blank")->have == 0);
    parts.shop = NULL;
    run = good_with(b, parts, "workshop: 1\n");
    assert_int_equal(listed(b, &run, 1).sawing.count, 0);
}

/* Lips of 30 x 20 mm, with a kerf of 2 mm; wire in whole pieces. */
static void sheets_and_wire_give_whole_parts(void **state) {
    static const struct {
        const char *stock, *item;
        double of_run; /* of the run's four lips, or of all wire */
    } lines[] = {
        {"{sheets: [{thickness: 2 mm, length: 62 mm, width: 42 mm}]}", "polycarbonate sheet", 1},
        {"{sheets: [{thickness: 2 mm, length: 42 mm, width: 62 mm}]}", "polycarbonate sheet", 1},
        {"{sheets: [{thickness: 2 mm, length: 61 mm, width: 42 mm}]}", "polycarbonate sheet", 0.5},
        {"{sheets: [{thickness: 1.5 mm, length: 1 m, width: 1 m}]}", "polycarbonate sheet", 0},
        {"{wire: [{diameter: 1.2 mm, length: 40 m}]}", "stainless wire", 1},
        {"{wire: [{diameter: 1.2 mm, length: 30 mm}]}", "stainless wire", 0},
    };
    struct bench *b = *state;
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++) {
        struct compilation c =
            stocked(b, STOCKED("4"), arena_printf(&b->arena, "stock: %s\n", lines[i].stock));
        const struct supply_row *row = order_row(&c, lines[i].item);
        if (fabs(row->have - lines[i].of_run * row->run) > 1e-9)
            print_error("%s: %g of %g\n", lines[i].stock, row->have, row->run);
        assert_close(row->have, lines[i].of_run * row->run, 1e-9);
    }
}

static void without_a_stock_all_is_to_buy(void **state) {
    struct compilation c = stocked(*state, STOCKED("4"), "");
    const struct supply *supply = &c.results.supply;
    assert_false(supply->stocked);
    assert_close(supply->to_pay, supply->cost, 1e-12);
    for (int i = 0; i < supply->count; i++) assert_true(supply->rows[i].have == 0);
}

static const struct {
    const char *workshop, *at, *said, *head;
} cases[] = {
    {"currency: EUR\nprices: {wood: 9}\n", "4:11",
     "warning workshop: this is not the workshop's currency, and some prices are the workshop's",
     HEAD "currency: USD\nprices: {hook: 1}\n"},
    {"woods: [{name: pond oak}]\n", "pond oak",
     "error workshop: nothing tells what this wood weighs", NULL},
    {"woods: [{name: w, like: balsa}, {like: balsa, name: w}]\n", "w}]",
     "error workshop: a wood of this name stands above already", NULL},
    {"hooks: [{size: 6, mass: 1 g}, {mass: 1 g, size: \"#6\"}]\n", "\"#6\"",
     "error workshop: a hook of this kind and size stands above already", NULL},
    {"rings: [{size: 6, mass: 1 g}, {mass: 1 g, size: 6}]\n", "6}]",
     "error workshop: a ring of this size stands above already", NULL},
    {"sealers: [{kind: shellac}]\n", "shellac",
     "error workshop: a sealer of the workshop needs its name", NULL},
    {"sealers: [{name: s, kind: shellac}, {kind: shellac, name: s}]\n", "s}]",
     "error workshop: a sealer of this name stands above already", NULL},
    {"paints: [{name: s, kind: opaque}, {kind: opaque, name: s}]\n", "s}]",
     "error workshop: a paint of this name stands above already", NULL},
    {"topcoats: [{kind: epoxy}]\n", "epoxy",
     "error workshop: a topcoat of the workshop needs its name", NULL},
    {"topcoats: [{name: s, kind: epoxy}, {kind: epoxy, name: s}]\n", "s}]",
     "error workshop: a topcoat of this name stands above already", NULL},
    {"stock: {pieces: [{count: 4, material: lead}]}\n", "lead",
     "error workshop: a piece has a ball's diameter or a mass, one of the two", NULL},
};

enum { CASES = sizeof cases / sizeof *cases };

static void every_rule_of_a_workshop_blames_what_breaks_it(void **state) {
    struct bench *b = *state;
    for (int i = 0; i < CASES; i++) {
        const char *shop = arena_printf(&b->arena, "workshop: 1\n%s", cases[i].workshop);
        compile_with(b, PARTS(.head = cases[i].head), shop);
        if (cases[i].head) { /* among what else a box has, and in the recipe */
            const char *said = arena_printf(&b->arena, "%s %s", cases[i].at, cases[i].said);
            assert_non_null(strstr(bench_said(b), said));
            continue;
        }
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

static void currencies_that_do_not_meet_are_no_matter(void **state) {
    struct bench *b = *state;
    static const char *const heads[] = {HEAD "currency: USD\nprices: {wood: 8}\n",
                                        HEAD "currency: EUR\n", HEAD};
    for (size_t i = 0; i < sizeof heads / sizeof *heads; i++) {
        good_with(b, PARTS(.head = heads[i]), "workshop: 1\ncurrency: EUR\nprices: {wood: 9}\n");
        assert_null(strstr(bench_said(b), "currency"));
    }
}

static void a_wood_that_is_not_known_is_looked_for_in_the_workshop_too(void **state) {
    struct bench *b = *state;
    static const char shop[] = "workshop: 1\nwoods: [{name: pond lime, density: 480 kg/m3}]\n";
    struct compilation c = compile_with(b, PARTS(.wood = "wood: {species: pond lyme}\n"), shop);
    assert_int_equal(c.diags.errors, 1);
    assert_string_equal(c.diags.items[0].hint, "did you mean 'pond lime'?");
    c = compile_with(b, PARTS(.wood = "wood: {species: xxxxxxxxx}\n"), shop);
    assert_true(strncmp(c.diags.items[0].hint, "one of: pond lime, ", 19) == 0);
    assert_non_null(strstr(c.diags.items[0].hint, "basswood"));
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
        BENCH_TEST(currencies_that_do_not_meet_are_no_matter),
        BENCH_TEST(a_wood_that_is_not_known_is_looked_for_in_the_workshop_too),
        BENCH_TEST(the_plans_list_is_the_sum_of_the_orders_less_the_stock_taken_once),
        BENCH_TEST(boards_are_cut_once),
        BENCH_TEST(boards_are_shared_in_a_workshop_and_not_between_two),
        BENCH_TEST(without_a_stock_boards_are_like_the_shops),
        BENCH_TEST(sheets_and_wire_give_whole_parts),
        BENCH_TEST(without_a_stock_all_is_to_buy),
    };
    return cmocka_run_group_tests_name("workshop", tests, NULL, NULL);
}
