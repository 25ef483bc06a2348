/* What to buy and to cut, and how strong it holds: everything worked by hand on the box. */
#include "recipe_text.h"

#include "compute/plug/strength.h"
#include "model/reference.h"

static const double box_surface = 2 * 0.020 * 0.020 + 4 * 0.020 * 0.100;

static const struct supply_row *item_of(const struct compilation *c, const char *item) {
    for (int i = 0; i < c->results.supply.count; i++)
        if (is_called(c->results.supply.rows[i].item, item)) return &c->results.supply.rows[i];
    print_error("no item %s\n", item);
    fail();
    return NULL;
}

static void expect_item(const struct compilation *c, const char *item, enum supply_unit unit,
                        double one, double run) {
    const struct supply_row *row = item_of(c, item);
    assert_int_equal(row->unit, unit);
    assert_close(row->one, one, 1e-6);
    assert_close(row->run, run, 1e-6);
}

static struct compilation good(struct bench *b, struct recipe_parts parts) {
    struct compilation c = bench_compile(b, parts);
    if (c.diags.errors) print_error("%s", bench_said(b));
    assert_int_equal(c.diags.errors, 0);
    return c;
}

/* --- wood ------------------------------------------------------------------------------------ */

static void a_blank_is_the_body_with_its_allowances(void **state) {
    struct compilation c = good(*state, PARTS(.head = "recipe: 1\nname: Box\nmake: 3\n"));
    assert_close(c.results.supply.blank_length, 0.106, 1e-9);
    assert_close(c.results.supply.blank_height, 0.022, 1e-9);
    assert_close(c.results.supply.blank_width, 0.022, 1e-9);
    expect_item(&c, "basswood blank", SUPPLY_VOLUME, 0.106 * 0.022 * 0.022,
                3 * 0.106 * 0.022 * 0.022);
    c = good(*state,
             PARTS(.shop = "shop: {allowance: {length: 10 mm, height: 4 mm, width: 3 mm}}\n"));
    assert_close(c.results.supply.blank_length, 0.110, 1e-9);
    assert_close(c.results.supply.blank_height, 0.024, 1e-9);
    assert_close(c.results.supply.blank_width, 0.023, 1e-9);
}

/* Blanks are 106 x 22 x 22 mm. */
static void a_board_gives_as_many_blanks_as_fit_with_the_saws_cuts_between(void **state) {
    static const struct {
        const char *board;
        int pieces;
    } cases[] = {
        {"board: {length: 106 mm, width: 22 mm, thickness: 22 mm}", 1},
        {"board: {length: 214 mm, width: 22 mm, thickness: 22 mm}", 2}, /* 2 x 106 + one cut of 2 */
        {"board: {length: 213.9 mm, width: 22 mm, thickness: 22 mm}", 1},
        {"board: {length: 1 m, width: 100 mm, thickness: 22 mm}", 9 * 4},
        {"board: {length: 1 m, width: 100 mm, thickness: 46 mm}", 9 * 4 * 2},
        {"board: {length: 1 m, width: 100 mm, thickness: 21 mm}", 0},
        {"kerf: 0 mm, board: {length: 1.06 m, width: 110 mm, thickness: 22 mm}", 10 * 5},
    };
    struct bench *b = *state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct compilation c =
            good(b, PARTS(.shop = arena_printf(&b->arena, "shop: {%s}\n", cases[i].board)));
        assert_true(c.results.supply.board_given);
        assert_int_equal(c.results.supply.board_pieces, cases[i].pieces);
    }
    assert_false(good(b, PARTS(.head = NULL)).results.supply.board_given);
}

/* A flat body out of a thick board: turned on its side, or more fit. */
static void blanks_lie_in_the_board_as_more_of_them_come_out(void **state) {
    struct compilation c = good(
        *state, PARTS(.body = "body:\n  length: 100 mm\n  section: {shape: square}\n  stations:\n"
                              "    - {at: 0 %, back: 14 mm, belly: 14 mm, width: 10 mm}\n"
                              "    - {at: 100 %, back: 14 mm, belly: 14 mm, width: 10 mm}\n",
                      .shop = "shop: {board: {length: 106 mm, width: 62 mm, thickness: 26 mm}}\n"));
    /* blanks 30 high and 12 wide: only two layers of 12 fit into 26, two of 30 into 62 */
    assert_true(c.results.supply.board_turned);
    assert_int_equal(c.results.supply.board_pieces, 4);
    assert_int_equal(c.results.supply.board_layers, 2);
    assert_int_equal(c.results.supply.board_across, 2);
}

/* --- hardware -------------------------------------------------------------------------------- */

/* Up to the next millimetre. */
static double cut(double depth, double eye, double wire) {
    double twisted = 2 * sqrt(1 + (circle / 6) * (circle / 6)) * depth;
    return ceil((twisted + circle * (eye + wire) + 0.035) * 1000) / 1000;
}

static void wire_is_cut_longer_by_what_it_is_held_by(void **state) {
    struct compilation c =
        good(*state, PARTS(.head = "recipe: 1\nname: Box\nmake: 5\n",
                           .hardware = "hardware:\n  wire: {diameter: 1.2 mm}\n"
                                       "  line tie: {place: nose, depth: 25 mm}\n"
                                       "  hangers: [{place: belly, at: 50 mm, eye: 4 mm}]\n"));
    const struct supply *s = &c.results.supply;
    assert_close(s->cuts[0].cut, cut(0.025, 0.003, 0.0012), 1e-9);
    double spare = s->cuts[0].cut - s->cuts[0].installed;
    assert_true(spare >= 0.035 - 1e-12 && spare < 0.036);
    assert_close(s->cuts[1].cut, cut(0.040 / 3, 0.004, 0.0012), 1e-9);
    double all = s->cuts[0].cut + s->cuts[1].cut;
    expect_item(&c, "stainless wire", SUPPLY_LENGTH, all, 5 * all);
}

static void equal_hooks_are_counted_together(void **state) {
    struct compilation c = good(
        *state, PARTS(.head = "recipe: 1\nname: Box\nmake: 2\n",
                      .hardware = "hardware:\n  wire: {diameter: 1 mm}\n  line tie: {place: nose}\n"
                                  "  hangers:\n"
                                  "    - {place: belly, at: 40 mm, hook: {size: 4}, ring: {mass: "
                                  "0.3 g}}\n"
                                  "    - {place: belly, at: 70 mm, hook: {size: 6}}\n"
                                  "    - {place: tail, hook: {size: 4}, ring: {mass: 0.3 g}}\n"
                                  "    - {place: back, at: 25 mm, hook: {kind: single, size: 4}}\n",
                      .eyes = "eyes: {size: 6 mm, at: 15 mm}\n"));
    expect_item(&c, "treble hook 4", SUPPLY_PIECES, 2, 4);
    expect_item(&c, "treble hook 6", SUPPLY_PIECES, 1, 2);
    expect_item(&c, "single hook 4", SUPPLY_PIECES, 1, 2);
    expect_item(&c, "split ring", SUPPLY_PIECES, 2, 4);
    expect_item(&c, "eye", SUPPLY_PIECES, 2, 4);
}

static void a_lip_takes_the_rectangle_that_it_is_cut_from(void **state) {
    struct compilation c = good(
        *state, PARTS(.lip = "lip: {thickness: 2 mm, length: 30 mm, width: 15 mm, shape: taper, "
                             "tip: 18 mm, at: 10 mm, angle: 30 deg, slot: 8 mm}\n"));
    expect_item(&c, "polycarbonate sheet", SUPPLY_AREA, 0.030 * 0.018, 0.030 * 0.018);
}

static void ballast_is_listed_by_bore_and_its_filler_in_one(void **state) {
    struct compilation c = good(
        *state, PARTS(.head = "recipe: 1\nname: Box\nmake: 4\n",
                      .ballast = "ballast: {filler: 1.1 g/cm3, bores: [{at: 35 mm, drill: 8 mm, "
                                 "load: [{mass: 4 g}]}, {at: 60 mm, drill: 6 mm, load: [{mass: 2 "
                                 "g}]}]}\n"));
    expect_item(&c, "lead for bore 1", SUPPLY_MASS, 0.004, 0.016);
    expect_item(&c, "lead for bore 2", SUPPLY_MASS, 0.002, 0.008);
    double filler = (disc(0.008) + disc(0.006)) * 0.002;
    expect_item(&c, "bore filler", SUPPLY_VOLUME, filler, 4 * filler);
}

/* --- finishes -------------------------------------------------------------------------------- */

static const char every_finish[] =
    "finish:\n  seal: {name: house mix, coats: 3, uptake: 50 g/m2, solids: 0.25 g/cm3}\n"
    "  paint:\n    film: 14 um\n    solids: 40 %\n    transfer: 50 %\n    layers:\n"
    "      - {colour: white, kind: opaque, coats: 2}\n"
    "      - {colour: green, kind: transparent, where: back, thin: 2:3}\n"
    "  topcoat: {kind: epoxy, coats: 2, film: 0.3 mm, mix: 2:1, waste: 50 %}\n";

/* Chambers in both flanks are two, each closed by a disc of filler; one that is closed with wood
 * takes none. */
static void chambers_are_listed_with_what_they_hold_and_their_filler_in_one(void **state) {
    struct compilation c = good(
        *state,
        PARTS(.head = "recipe: 1\nname: Box\nmake: 3\n",
              .ballast = "chambers:\n"
                         "  - {from: flank, at: 30 mm, drill: 6 mm, depth: 7 mm, stopper: 2 mm, "
                         "closed with: filler, holds: {name: balls, mass: 0.4 g}}\n"
                         "  - {at: 50 mm, drill: 8 mm, depth: 12 mm, stopper: 4 mm, "
                         "closed with: filler, holds: {name: shot, mass: 0.8 g}}\n"
                         "  - {at: 70 mm, drill: 8 mm, depth: 12 mm, stopper: 4 mm, "
                         "holds: {name: beads, mass: 0.2 g}}\n"));
    double filler = 2 * disc(0.006) * 0.002 + disc(0.008) * 0.004;
    expect_item(&c, "filler for chambers", SUPPLY_VOLUME, filler, 3 * filler);
    expect_item(&c, "balls in chamber 1", SUPPLY_MASS, 2 * 0.4e-3, 6 * 0.4e-3);
    expect_item(&c, "shot in chamber 2", SUPPLY_MASS, 0.8e-3, 3 * 0.8e-3);
}

/* Film volume over solids over transfer, and as much reducer as the parts say.
 * Of each colour 1 ml of thinned paint is lost, once a run.  A litre of this sealer leaves 250 g in
 * the wood. */
static void paint_is_poured_by_film_solids_and_transfer(void **state) {
    struct compilation c =
        good(*state, PARTS(.head = "recipe: 1\nname: Box\nmake: 4\n", .finish = every_finish));
    double white = 2 * 14e-6 * box_surface / 0.40 / 0.50;
    double green = 14e-6 * 0.30 * box_surface / 0.40 / 0.50;
    expect_item(&c, "paint: white", SUPPLY_VOLUME, white, 4 * white + 0.5e-6);
    expect_item(&c, "reducer for white", SUPPLY_VOLUME, white, 4 * white + 0.5e-6);
    expect_item(&c, "paint: green", SUPPLY_VOLUME, green, 4 * green + 0.4e-6);
    expect_item(&c, "reducer for green", SUPPLY_VOLUME, green * 3 / 2, 6 * green + 0.6e-6);
    double sealer = 3 * 0.050 * box_surface / 250;
    expect_item(&c, "sealer: house mix", SUPPLY_VOLUME, sealer, 4 * sealer);
    double topcoat = 2 * 0.3e-3 * box_surface * 1.5;
    expect_item(&c, "topcoat resin", SUPPLY_VOLUME, topcoat * 2 / 3, topcoat * 8 / 3);
    expect_item(&c, "topcoat hardener", SUPPLY_VOLUME, topcoat / 3, topcoat * 4 / 3);
}

/* Each cup is used up within the pot life, which a cold shop lengthens: ten degrees double it. */
static void a_mix_is_split_into_cups_that_last_no_longer_than_the_pot_life(void **state) {
    static const struct {
        const char *topcoat, *temperature;
        int make, wheel, cups[4], plugs[4][3]; /* by load of the first coat */
    } cases[] = {
        /* 3 min a plug: 20 min at 21 degC are enough for 6 */
        {"pot life: 20 min", "21 degC", 6, 6, {1}, {{6}}},
        {"pot life: 10 min", "21 degC", 6, 6, {2}, {{3, 3}}},
        {"pot life: 10 min", "11 degC", 6, 6, {1}, {{6}}},
        {"pot life: 7 min", "21 degC", 10, 6, {3, 2}, {{2, 2, 2}, {2, 2}}},
        {"pot life: 10 min", "21 degC", 11, 4, {2, 2, 1}, {{2, 2}, {2, 2}, {3}}},
        {"pot life: 1 min", "21 degC", 2, 6, {2}, {{1, 1}}}, /* one plug at least */
    };
    struct bench *b = *state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct compilation c = good(
            b, PARTS(.head =
                         arena_printf(&b->arena, "recipe: 1\nname: Box\nmake: %d\n", cases[i].make),
                     .finish = arena_printf(&b->arena, "finish: {topcoat: {kind: epoxy, %s}}\n",
                                            cases[i].topcoat),
                     .shop = arena_printf(&b->arena, "shop: {temperature: %s, wheel: %d}\n",
                                          cases[i].temperature, cases[i].wheel)));
        const struct supply *s = &c.results.supply;
        int at = 0;
        for (int coat = 1; coat <= 2; coat++)
            for (int load = 0; load < 4 && cases[i].cups[load]; load++)
                for (int cup = 0; cup < cases[i].cups[load]; cup++) {
                    const struct mix *m = &s->mixes[at++];
                    double share = 0.25e-3 * box_surface * 1.25 * m->plugs;
                    assert_int_equal(m->coat, coat);
                    assert_int_equal(m->load, load + 1);
                    assert_int_equal(m->cup, cup + 1);
                    assert_int_equal(m->plugs, cases[i].plugs[load][cup]);
                    assert_close(m->resin + m->hardener, share, 1e-6);
                    assert_close(m->resin_mass, 1150 * m->resin, 1e-9);
                    assert_close(m->hardener_mass, 970 * m->hardener, 1e-9);
                    assert_close(m->resin, m->hardener, 1e-9);
                    if (m->plugs > 1) assert_true(m->hands_on <= m->pot_life + 1e-9);
                }
        assert_int_equal(s->mix_count, at);
    }
}

static struct mix first_mix(struct bench *b, const char *topcoat) {
    struct compilation c =
        good(b, PARTS(.finish = arena_printf(&b->arena, "finish: {topcoat: {%s}}\n", topcoat)));
    assert_true(c.results.supply.mix_count > 0);
    return c.results.supply.mixes[0];
}

/* What is laid on in no time is mixed once for all plugs, however short the pot life. */
static void a_coat_that_takes_no_time_is_mixed_in_one_cup(void **state) {
    struct compilation c = good(
        *state, PARTS(.head = "recipe: 1\nname: Box\nmake: 6\n",
                      .finish = "finish: {topcoat: {kind: epoxy, coats: 2, pot life: 7 min}}\n",
                      .shop = "shop: {temperature: 21 degC, wheel: 6}\n",
                      .steps = "steps: [{change: topcoat-1, hands-on: 0 min}]\n"));
    const struct supply *s = &c.results.supply;
    assert_int_equal(s->mix_count, 1 + 3);
    assert_int_equal(s->mixes[0].coat, 1);
    assert_int_equal(s->mixes[0].plugs, 6);
    for (int i = 1; i < 4; i++) assert_int_equal(s->mixes[i].plugs, 2);
}

/* Parts by mass, and the densities of the parts, against a second formula: masses in the ratio of
 * the parts, volumes that add up to the whole. */
static void parts_by_mass_are_masses(void **state) {
    struct mix m = first_mix(*state, "kind: epoxy, film: 0.2 mm, waste: 0 %, mix: 100:44 by mass, "
                                     "resin: 1.16 g/cm3, hardener: 0.96 g/cm3");
    assert_close(m.resin_mass / m.hardener_mass, 100.0 / 44, 1e-9);
    assert_close(m.resin_mass / 1160 + m.hardener_mass / 960, 0.2e-3 * box_surface, 1e-9);
    assert_close(m.resin + m.hardener, 0.2e-3 * box_surface, 1e-9);
    m = first_mix(*state, "kind: epoxy, film: 0.2 mm, waste: 0 %");
    assert_close(m.resin, m.hardener, 1e-9);                         /* one to one by volume, */
    assert_close(m.resin_mass / m.hardener_mass, 1.15 / 0.97, 1e-9); /* and not by mass */
}

/* What dries away is poured too. */
static void solids_make_a_wet_film_of_a_dry_one(void **state) {
    struct mix m = first_mix(*state, "kind: urethane, film: 0.06 mm, waste: 20 %");
    assert_close(m.resin + m.hardener, 0.06e-3 * box_surface / 0.50 * 1.20, 1e-9);
    m = first_mix(*state, "kind: urethane, film: 0.06 mm, waste: 20 %, solids: 40 %");
    assert_close(m.resin + m.hardener, 0.06e-3 * box_surface / 0.40 * 1.20, 1e-9);
}

static void what_comes_in_one_part_is_not_mixed(void **state) {
    struct bench *b = *state;
    struct compilation c =
        good(b, PARTS(.head = "recipe: 1\nname: Box\nmake: 3\n",
                      .finish = "finish: {topcoat: {kind: varnish, coats: 2, film: 0.04 mm}}\n"));
    const struct supply *s = &c.results.supply;
    double one = 2 * 0.04e-3 * box_surface / 0.45 * 1.25;
    expect_item(&c, "topcoat: varnish", SUPPLY_VOLUME, one, 3 * one);
    for (int i = 0; i < s->count; i++) {
        assert_false(is_called(s->rows[i].item, "topcoat resin"));
        assert_false(is_called(s->rows[i].item, "topcoat hardener"));
    }
    assert_int_equal(s->mix_count, 2); /* a line a coat: nothing goes off in the cup */
    for (int i = 0; i < 2; i++) {
        assert_false(s->mixes[i].two_parts);
        assert_int_equal(s->mixes[i].plugs, 3);
        assert_close(s->mixes[i].resin, 3 * one / 2, 1e-9);
        assert_true(s->mixes[i].hardener == 0);
    }
}

static double figure(struct bench *b, const char *text, enum dimension dimension) {
    return quantity_parse(&b->arena, str_of(text), dimension).value;
}

/* Every sealer by the figures of its row. */
static void sealers_are_poured_by_what_a_litre_of_them_leaves(void **state) {
    struct bench *b = *state;
    for (int i = 0; i < reference_seal_count; i++) {
        const struct seal_row *row = &reference_seal[i];
        struct compilation c = good(
            b, PARTS(.finish = arena_printf(&b->arena, "finish: {seal: {kind: %s}}\n", row->kind)));
        double kept = figure(b, row->coats, DIM_NUMBER) * figure(b, row->uptake, DIM_AREAL_MASS);
        double one = kept * box_surface / figure(b, row->solids, DIM_DENSITY);
        expect_item(&c, arena_printf(&b->arena, "sealer: %s", row->kind), SUPPLY_VOLUME, one, one);
    }
}

/* --- costs ----------------------------------------------------------------------------------- */

static const char *const prices =
    "prices: {wood: 12, lip: 8, wire: 1.5, hook: 0.80, ring: 0.05, eye: 0.2, ballast: 6, seal: 30, "
    "paint: 90, topcoat: 45}\n";

static void costs_are_worked_by_hand(void **state) {
    struct compilation c = good(
        *state,
        PARTS(.head = "recipe: 1\nname: Box\nmake: 4\ncurrency: EUR\n",
              .lip = "lip: {thickness: 2 mm, length: 30 mm, width: 15 mm, shape: square, "
                     "at: 10 mm, angle: 30 deg, slot: 8 mm}\n",
              .hardware = "hardware:\n  wire: {diameter: 1 mm}\n  line tie: {place: belly, "
                          "at: 30 mm, depth: 10 mm}\n"
                          "  hangers: [{place: tail, hook: {size: 4}, ring: {mass: 0.3 g}}]\n",
              .ballast = "ballast: {bores: [{at: 55 mm, drill: 8 mm, load: [{mass: 5 "
                         "g}]}]}\n",
              .eyes = "eyes: {size: 6 mm, at: 80 mm}\n", .finish = every_finish, .prices = prices));
    double topcoat = 2 * 0.3e-3 * box_surface * 1.5;
    const struct {
        const char *item;
        double cost; /* of four */
    } rows[] = {
        {"basswood blank", 4 * 12 * 106 * 22 * 22 * 1e-6},
        {"polycarbonate sheet", 4 * 8 * 0.30 * 0.15},
        {"stainless wire", 4 * 1.5 * (cut(0.010, 0.003, 0.001) + cut(0.020, 0.003, 0.001))},
        {"treble hook 4", 4 * 0.80},
        {"split ring", 4 * 0.05},
        {"eye", 4 * 2 * 0.2},
        {"lead for bore 1", 4 * 6 * 0.005},
        {"sealer: house mix", 4 * 30 * 3 * 0.050 * box_surface / 250 * 1e3},
        {"paint: white", 90 * (4 * 2 * 14e-6 * box_surface / 0.40 / 0.50 + 0.5e-6) * 1e3},
        {"paint: green", 90 * (4 * 14e-6 * 0.30 * box_surface / 0.40 / 0.50 + 0.4e-6) * 1e3},
        {"topcoat resin", 4 * 45 * topcoat * 2 / 3 * 1e3},
        {"topcoat hardener", 4 * 45 * topcoat / 3 * 1e3},
    };
    double sum = 0;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const struct supply_row *row = item_of(&c, rows[i].item);
        assert_true(row->priced);
        assert_close(row->cost, rows[i].cost, 1e-6);
        sum += rows[i].cost;
    }
    assert_true(c.results.supply.priced);
    assert_close(c.results.supply.cost, sum, 1e-6);
    assert_false(item_of(&c, "bore filler")->priced);
    assert_false(item_of(&c, "reducer for white")->priced);
}

static void what_has_no_price_has_no_cost(void **state) {
    struct compilation c = good(*state, PARTS(.head = "recipe: 1\nname: Box\ncurrency: EUR\n",
                                              .prices = "prices: {hook: 1}\n"));
    assert_false(c.results.supply.priced); /* it has no hooks */
    assert_near(c.results.supply.cost, 0, 0);
    c = good(*state, PARTS(.head = "recipe: 1\nname: Box\ncurrency: EUR\n",
                           .prices = "prices: {wire: 2}\n"));
    assert_true(c.results.supply.priced);
    assert_false(item_of(&c, "basswood blank")->priced);
    assert_true(item_of(&c, "stainless wire")->priced);
}

/* --- strength -------------------------------------------------------------------------------- */

static const struct strength_row *joint(const struct strength *s, int fitting, int which) {
    for (int i = 0; i < s->count; i++)
        if (s->rows[i].fitting == fitting && which-- == 0) return &s->rows[i];
    fail();
    return NULL;
}

static enum strength_kind kind_of(const struct strength_row *row) {
    return reference_joint[row->joint].kind;
}

static struct strength strength_with(struct bench *b, const char *wood, const char *wire,
                                     const char *fittings) {
    const struct recipe *recipe = bench_good(
        b,
        PARTS(.wood = arena_printf(&b->arena, "wood: {species: %s}\n", wood),
              .lip =
                  "lip: {thickness: 2 mm, length: 30 mm, width: 15 mm, shape: square, at: 10 mm, "
                  "angle: 30 deg, slot: 8 mm}\n",
              .hardware = arena_printf(&b->arena, "hardware:\n  wire: {%s}\n%s\n  line: 100 N\n",
                                       wire, fittings)));
    struct plug *plug = NEW(&b->arena, struct plug, 1);
    *plug = plug_of(&b->arena, recipe);
    return strength_of(&b->arena, plug);
}

/* ASTM A313, least tensile strength of spring-tempered 302/304 wire: 280 ksi over 0.034 to 0.037
 * in, 267 ksi over 0.045 to 0.050 in (grammar/tables/strength.def); 1 ksi is 6.894757 MPa. */
static void both_strands_of_a_wire_break_at_what_the_standard_gives(void **state) {
    static const struct {
        const char *wire;
        double diameter, ksi;
    } cases[] = {{"diameter: 0.036 in", 0.036, 280},
                 {"diameter: 1.2 mm", 1.2 / 25.4, 267},
                 {"diameter: 18 awg", 0.005 * 8.0605, 275}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct strength s =
            strength_with(*state, "basswood", cases[i].wire, "  line tie: {place: nose}");
        double area = circle / 4 * cases[i].diameter * cases[i].diameter * 25.4 * 25.4; /* mm2 */
        const struct strength_row *row = joint(&s, FITTING_TIE, 0);
        assert_int_equal(row->joint, JOINT_STRANDS);
        assert_close(row->load, 2 * area * cases[i].ksi * 6.894757, 2e-4);
        assert_close(row->factor, row->load / 100, 1e-12);
        assert_int_equal(kind_of(row), STRENGTH_CEILING);
        assert_non_null(strength_source(row));
    }
}

/* USDA Wood Handbook FPL-GTR-190, chapter 8, in N and mm, with both strands as D: a smooth nail
 * holds 54.12 G^(5/2) D L, a wood screw 108.25 G^2 D L; G at 12 %, 0.37 for basswood and 0.68 for
 * white oak (Table 5-3a).  A glued twist lies between: the nail is a floor, the screw is judged. */
static void across_the_grain_a_wire_holds_between_a_nail_and_a_screw(void **state) {
    static const struct {
        const char *wood;
        double gravity;
    } cases[] = {{"basswood", 0.37}, {"white oak", 0.68}};
    for (int i = 0; i < 2; i++) {
        struct strength s = strength_with(
            *state, cases[i].wood, "diameter: 1.2 mm",
            "  line tie: {place: nose}\n  hangers: [{place: belly, at: 50 mm, depth: 12 mm}]");
        const struct strength_row *nail = joint(&s, 1, 1);
        const struct strength_row *screw = joint(&s, 1, 2);
        assert_int_equal(kind_of(nail), STRENGTH_FLOOR);
        assert_close(nail->load, 54.12 * pow(cases[i].gravity, 2.5) * 2.4 * 12, 1e-9);
        assert_int_equal(kind_of(screw), STRENGTH_KNOWN);
        assert_close(screw->load, 108.25 * pow(cases[i].gravity, 2) * 2.4 * 12, 1e-9);
    }
}

/* What bears at least twice the line is enough; a nail's hold is never judged. */
static void only_a_ceiling_or_the_nearest_formula_is_judged(void **state) {
    struct strength s = strength_with(
        *state, "balsa", "diameter: 0.5 mm",
        "  line tie: {place: nose}\n  hangers: [{place: belly, at: 50 mm, depth: 5 mm}]");
    int little = 0;
    for (int i = 0; i < s.count; i++) {
        const struct strength_row *row = &s.rows[i];
        bool judged = row->joint == JOINT_STRANDS || row->joint == JOINT_AS_SCREW;
        assert_int_equal(strength_little(row), judged && row->load < 2 * 100);
        little += strength_little(row);
    }
    assert_int_equal(little, 1); /* the screw: 108.25 * 0.2^2 * 1 * 5 is a few newtons */
}

static void no_formula_covers_an_eye_that_opens(void **state) {
    struct strength s = strength_with(
        *state, "basswood", "diameter: 1.2 mm",
        "  line tie: {place: nose}\n  hangers: [{place: belly, at: 50 mm, depth: 12 mm}]");
    int eyes = 0;
    for (int i = 0; i < s.count; i++) {
        if (s.rows[i].joint != JOINT_OPENS) continue;
        eyes++;
        assert_int_equal(kind_of(&s.rows[i]), STRENGTH_UNKNOWN);
        assert_true(s.rows[i].load == 0);
    }
    assert_int_equal(eyes, 2);
}

/* The most rows that there can be: four for each of five wires across the grain. */
static void every_wire_of_the_fullest_plug_is_judged(void **state) {
    struct strength s =
        strength_with(*state, "teak", "diameter: 1.2 mm",
                      "  line tie: {place: back, at: 15 mm}\n  hangers: [{place: belly, "
                      "at: 30 mm}, {place: back, at: 45 mm}, {place: belly, at: 60 mm}, "
                      "{place: back, at: 80 mm}]");
    assert_int_equal(s.count, 20);
    assert_int_equal(joint(&s, 4, 2)->joint, JOINT_AS_SCREW);
}

static void no_number_is_printed_for_a_joint_without_a_formula(void **state) {
    struct strength s =
        strength_with(*state, "basswood", "diameter: 1.2 mm, material: brass",
                      "  line tie: {place: lip, at: 4 mm}\n  hangers: [{place: tail}]");
    assert_int_equal(s.count, 6);
    for (int i = 0; i < s.count; i++) {
        assert_int_equal(kind_of(&s.rows[i]), STRENGTH_UNKNOWN); /* brass, a lip, with the grain */
        assert_non_null(strstr(reference_joint[s.rows[i].joint].formula, "no published"));
        assert_null(strength_source(&s.rows[i]));
    }
}

static void without_a_line_nothing_is_said_of_strength(void **state) {
    struct bench *b = *state;
    struct plug plug = plug_of(&b->arena, bench_good(b, PARTS(.head = NULL)));
    struct strength s = strength_of(&b->arena, &plug);
    assert_false(s.given);
    assert_int_equal(s.count, 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(a_blank_is_the_body_with_its_allowances),
        BENCH_TEST(a_board_gives_as_many_blanks_as_fit_with_the_saws_cuts_between),
        BENCH_TEST(blanks_lie_in_the_board_as_more_of_them_come_out),
        BENCH_TEST(wire_is_cut_longer_by_what_it_is_held_by),
        BENCH_TEST(equal_hooks_are_counted_together),
        BENCH_TEST(a_lip_takes_the_rectangle_that_it_is_cut_from),
        BENCH_TEST(ballast_is_listed_by_bore_and_its_filler_in_one),
        BENCH_TEST(chambers_are_listed_with_what_they_hold_and_their_filler_in_one),
        BENCH_TEST(paint_is_poured_by_film_solids_and_transfer),
        BENCH_TEST(a_mix_is_split_into_cups_that_last_no_longer_than_the_pot_life),
        BENCH_TEST(a_coat_that_takes_no_time_is_mixed_in_one_cup),
        BENCH_TEST(parts_by_mass_are_masses),
        BENCH_TEST(solids_make_a_wet_film_of_a_dry_one),
        BENCH_TEST(what_comes_in_one_part_is_not_mixed),
        BENCH_TEST(sealers_are_poured_by_what_a_litre_of_them_leaves),
        BENCH_TEST(costs_are_worked_by_hand),
        BENCH_TEST(what_has_no_price_has_no_cost),
        BENCH_TEST(both_strands_of_a_wire_break_at_what_the_standard_gives),
        BENCH_TEST(across_the_grain_a_wire_holds_between_a_nail_and_a_screw),
        BENCH_TEST(only_a_ceiling_or_the_nearest_formula_is_judged),
        BENCH_TEST(no_formula_covers_an_eye_that_opens),
        BENCH_TEST(every_wire_of_the_fullest_plug_is_judged),
        BENCH_TEST(no_number_is_printed_for_a_joint_without_a_formula),
        BENCH_TEST(without_a_line_nothing_is_said_of_strength),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
