/* Text to model: defaults, what is not given, and what is said of keys and nodes. */
#include "recipe_text.h"

#include "model/reference.h"

/* --- defaults -------------------------------------------------------------------------------- */

/* Every optional section is there, with nothing in it but what must be. */
static const struct recipe *with_every_section(struct bench *b) {
    return bench_good(
        b, PARTS(.wood = "wood: {species: basswood}\n",
                 .lip = "lip: {thickness: 2 mm, length: 30 mm, width: 20 mm, shape: square, "
                        "at: 10 mm, angle: 30 deg, slot: 8 mm}\n",
                 .hardware = "hardware:\n  wire: {diameter: 1 mm}\n  line tie: {place: nose}\n"
                             "  hangers: [{place: tail}]\n",
                 .ballast = "ballast: {bores: [{at: 50 mm, drill: 8 mm, load: []}]}\n",
                 .eyes = "eyes: {size: 6 mm, at: 15 mm}\n",
                 .finish = "finish:\n  seal: {}\n  paint: {layers: [{colour: red, kind: opaque}]}\n"
                           "  topcoat: {kind: epoxy}\n",
                 .shop = "shop: {board: {length: 1 m, width: 100 mm, thickness: 30 mm}}\n"));
}

/* Defaults as printed in docs/fields.md.  Those marked † there are common practice, no source:
 * among them paint thinned one to one, and two-part epoxy mixed in equal parts that cures for a
 * day. */
static void every_default_of_the_language_takes_effect(void **state) {
    const struct recipe *r = with_every_section(*state);
    const struct finish *f = r->finish;
    const struct layer *layer = &f->paint->layers[0];
    const struct {
        const char *key;
        double got, want;
    } defaults[] = {
        {"make", r->make, 1},
        {"water.temperature", r->water->temperature, 15},
        {"water.salinity", r->water->salinity, 0},
        {"wood.moisture", r->wood->moisture, 0.08},
        {"line tie.eye", r->hardware->line_tie->eye, 0.003},
        {"hanger.eye", r->hardware->hangers[0].eye, 0.003},
        {"ballast.closed with", r->ballast->closing, FILLER_THICKENED},
        {"ballast.filler", r->ballast->filler, 1200},
        {"ballast.cover", r->ballast->cover, 0.002},
        {"eyes.depth", r->eyes->depth, 0.002},
        {"eyes.up", r->eyes->up, 0},
        {"seal.coats", f->seal->coats, 2},
        {"seal.kind", f->seal->kind, SEAL_SANDING_SEALER},
        {"seal.solids", f->seal->solids, 300},
        {"seal.uptake", f->seal->uptake, 0.040},
        {"seal.dry", f->seal->dry, 3600},
        {"seal.sand", f->seal->sand, true},
        {"paint.thin, paint", f->paint->thin.first, 1},
        {"paint.thin, reducer", f->paint->thin.second, 1},
        {"paint.film", f->paint->film, 12e-6},
        {"paint.density", f->paint->density, 1200},
        {"paint.solids", f->paint->solids, 0.20},
        {"paint.transfer", f->paint->transfer, 0.40},
        {"layer.where", layer->where, WHERE_WHOLE},
        {"layer.coats", layer->coats, 1},
        {"layer.dry", layer->dry, 20 * 60},
        {"layer.thin, paint", layer->thin.first, 1},
        {"layer.thin, reducer", layer->thin.second, 1},
        {"topcoat.coats", f->topcoat->coats, 2},
        {"topcoat.film", f->topcoat->film, 0.25e-3},
        {"topcoat.density", f->topcoat->density, 1150},
        {"topcoat.mix, resin", f->topcoat->mix.first, 1},
        {"topcoat.mix, hardener", f->topcoat->mix.second, 1},
        {"topcoat.mix, by mass", f->topcoat->mix.by_mass, false},
        {"topcoat.solids", f->topcoat->solids, 1},
        {"topcoat.resin", f->topcoat->resin.value, 1150},
        {"topcoat.hardener", f->topcoat->hardener.value, 970},
        {"topcoat.turn", f->topcoat->turn, 4 * 3600},
        {"topcoat.fish", f->topcoat->fish, 5 * 86400},
        {"topcoat.waste", f->topcoat->waste, 0.25},
        {"topcoat.pot life", f->topcoat->pot_life.value, 20 * 60},
        {"topcoat.recoat.after", f->topcoat->recoat->after, 4 * 3600},
        {"topcoat.recoat.before", f->topcoat->recoat->before.value, 24 * 3600},
        {"topcoat.cure", f->topcoat->cure, 24 * 3600},
        {"topcoat.at", f->topcoat->at, 21},
        {"shop.temperature", r->shop->temperature, 20},
        {"shop.wheel", r->shop->wheel, 6},
        {"shop.kerf", r->shop->kerf, 0.002},
        {"shop.allowance.length", r->shop->allowance->length, 0.006},
        {"shop.allowance.height", r->shop->allowance->height, 0.002},
        {"shop.allowance.width", r->shop->allowance->width, 0.002},
        {"shop.paper", r->shop->paper, PAPER_A4},
        {"shop.units", r->shop->units, UNITS_METRIC},
    };
    for (size_t i = 0; i < sizeof defaults / sizeof *defaults; i++) {
        if (fabs(defaults[i].got - defaults[i].want) > 1e-12)
            print_error("%s is %.15g, not %.15g\n", defaults[i].key, defaults[i].got,
                        defaults[i].want);
        assert_near(defaults[i].got, defaults[i].want, 1e-12);
    }
    assert_string_equal(reference_sheet[r->lip->material].name, "polycarbonate");
    assert_string_equal(reference_metal[r->hardware->wire->material].name, "stainless");
    assert_string_equal(reference_metal[r->ballast->material].name, "lead");
}

static void what_has_no_default_counts_as_not_given(void **state) {
    const struct recipe *r = with_every_section(*state);
    assert_false(r->wood->density.given);
    assert_false(r->wood->spread.given);
    assert_false(r->lip->tip.given);
    assert_false(r->hardware->line.given);
    assert_false(r->hardware->line_tie->depth.given);
    assert_false(r->hardware->line_tie->pilot.given);
    assert_false(r->hardware->hangers[0].at.given);
    assert_null(r->hardware->hangers[0].hook);
    assert_null(r->hardware->hangers[0].ring);
    assert_null(r->ballast->aim);
    assert_false(r->ballast->density.given);
    assert_false(r->ballast->bores[0].depth.given);
    assert_int_equal(r->ballast->piece_count, 0);
    assert_false(r->eyes->mass.given);
    assert_false(r->finish->paint->layers[0].hex_given);
    assert_false(r->finish->paint->layers[0].cover.given);
    assert_false(r->finish->paint->layers[0].thin_given);
    assert_false(r->shop->start.given);
    assert_null(r->shop->open);
    assert_null(r->measured);
    assert_null(r->prices);
    assert_int_equal(r->currency.size, 0);
}

static void the_smallest_recipe_has_no_more_than_it_says(void **state) {
    const struct recipe *r = bench_good(*state, PARTS(.head = NULL));
    assert_null(r->lip);
    assert_null(r->ballast);
    assert_null(r->eyes);
    assert_null(r->finish);
    assert_null(r->shop->board);
    assert_int_equal(r->hardware->hanger_count, 0);
    assert_int_equal(r->step_count, 0);
    assert_non_null(r->water);
    assert_non_null(r->shop->allowance);
}

static void a_layer_takes_the_thinning_of_the_paint_unless_it_has_its_own(void **state) {
    const struct recipe *r =
        bench_good(*state, PARTS(.finish = "finish:\n  paint:\n    thin: 2:3\n    layers:\n"
                                           "      - {colour: red, kind: opaque}\n"
                                           "      - {colour: blue, kind: opaque, thin: 4:1}\n"));
    const struct layer *layers = r->finish->paint->layers;
    assert_near(layers[0].thin.first, 2, 0);
    assert_near(layers[0].thin.second, 3, 0);
    assert_false(layers[0].thin_given);
    assert_near(layers[1].thin.first, 4, 0);
    assert_near(layers[1].thin.second, 1, 0);
    assert_true(layers[1].thin_given);
}

/* --- nothing, and none ----------------------------------------------------------------------- */

static void an_empty_value_counts_as_not_given_with_a_warning(void **state) {
    static const char *const empty[] = {"", " ~", " null"};
    struct bench *b = *state;
    for (int i = 0; i < 3; i++) {
        const char *head = arena_printf(&b->arena, "recipe: 1\nname: Box\nmake:%s\n", empty[i]);
        const struct recipe *r = bench_good(b, PARTS(.head = head));
        bench_expect(b, "make", "warning empty: 'make' has no value and counts as not given");
        assert_int_equal(r->make, 1);
    }
    const struct recipe *r = bench_good(b, PARTS(.lip = "lip:\n"));
    assert_null(r->lip);
}

static void an_empty_value_of_a_key_that_must_be_given_is_missing(void **state) {
    struct bench *b = *state;
    bench_recipe(b, PARTS(.wood = "wood:\n  species:\n"));
    assert_string_equal(bench_said(b),
                        "3:1 error missing-key: the wood lacks its key 'species'\n"
                        "4:3 warning empty: 'species' has no value and counts as not given\n");
}

static void quoted_words_are_never_empty(void **state) {
    struct bench *b = *state;
    const struct recipe *r = bench_good(b, PARTS(.head = "recipe: 1\nname: 'null'\nnote: '~'\n"));
    assert_true(str_is(r->name, "null"));
    assert_true(str_is(r->note, "~"));
    bench_recipe(b, PARTS(.head = "recipe: 1\nname: ''\n"));
    bench_expect(b, "''", "error value: name is empty");
}

static void an_unquoted_colour_is_a_comment_and_the_hint_shows_the_quotes(void **state) {
    struct bench *b = *state;
    bench_recipe(b, PARTS(.finish = "finish:\n  paint:\n    layers:\n      - colour: sun\n"
                                    "        kind: opaque\n        hex: #FFD21E\n"));
    bench_expect(b, "#FFD21E",
                 "error empty: an unquoted # begins a comment, so 'hex' has no value");
    assert_string_equal(b->diags.items[0].hint, "put the colour in quotes: hex: \"#FFD21E\"");
}

static void a_colour_left_empty_is_only_a_warning(void **state) {
    struct bench *b = *state;
    const struct recipe *r =
        bench_recipe(b, PARTS(.finish = "finish:\n  paint:\n    layers:\n      - colour: sun\n"
                                        "        kind: opaque\n        hex:  # not mixed yet\n"));
    bench_expect(b, "hex", "warning empty: 'hex' has no value and counts as not given");
    assert_false(r->finish->paint->layers[0].hex_given);
}

static void none_stands_for_an_optional_section_that_is_not_there(void **state) {
    struct bench *b = *state;
    const struct recipe *r =
        bench_good(b, PARTS(.lip = "lip: none\n", .ballast = "ballast: {pieces: none}\n",
                            .eyes = "eyes: none\n", .finish = "finish: {paint: none}\n",
                            .steps = "steps: none\n", .prices = "prices: none\n"));
    assert_int_equal(b->diags.count, 0);
    assert_null(r->lip);
    assert_int_equal(r->ballast->piece_count, 0);
    assert_null(r->eyes);
    assert_null(r->finish->paint);
    assert_int_equal(r->step_count, 0);
    assert_null(r->prices);
}

/* A part in which something is wrong is not judged further; one without a section is. */
static void none_leaves_the_rules_of_its_part_in_force(void **state) {
    struct bench *b = *state;
    bench_recipe(b, PARTS(.head = "recipe: 1\nname: Box\ndue: 2027-03-01\n", .lip = "lip: none\n"));
    bench_expect(b, "2027", "error due: the run is due on a date, but nothing says when it begins");
    assert_int_equal(b->diags.count, 1);
}

static void none_is_no_way_out_of_what_must_be_given(void **state) {
    struct bench *b = *state;
    bench_recipe(b, PARTS(.wood = "wood: none\n"));
    bench_expect(b, "none", "error node-kind: 'wood' has keys of its own, each with its value");
    bench_good(b, PARTS(.lip = "lip: 'none'\n")); /* the field decides, quoted or not */
}

/* --- what is wrong with keys and nodes ------------------------------------------------------- */

static void an_unknown_key_is_met_with_the_nearest_known_one(void **state) {
    struct bench *b = *state;
    bench_recipe(b, PARTS(.water = "water: {temprature: 15 degC}\n"));
    bench_expect(b, "temprature", "error unknown-key: unknown key 'temprature' in the water");
    assert_string_equal(b->diags.items[0].hint, "did you mean 'temperature'?");
    bench_recipe(b, PARTS(.water = "water: {colour: brown}\n"));
    bench_expect(b, "colour", "error unknown-key: unknown key 'colour' in the water");
    assert_null(b->diags.items[0].hint);
}

static void keys_are_known_by_their_exact_letters(void **state) {
    struct bench *b = *state;
    bench_recipe(b, PARTS(.water = "Water: {temperature: 15 degC}\n"));
    bench_expect(b, "Water", "error unknown-key: unknown key 'Water' in a recipe");
    assert_string_equal(b->diags.items[0].hint, "did you mean 'water'?");
}

static void every_missing_key_is_named_at_the_part_that_lacks_it(void **state) {
    struct bench *b = *state;
    bench_text(b, "recipe: 1\nbody:\n  stations: []\n");
    assert_string_equal(bench_said(b), "1:1 error missing-key: a recipe lacks its key 'name'\n"
                                       "1:1 error missing-key: a recipe lacks its key 'wood'\n"
                                       "1:1 error missing-key: a recipe lacks its key 'hardware'\n"
                                       "2:1 error missing-key: the body lacks its key 'length'\n"
                                       "2:1 error missing-key: the body lacks its key 'section'\n"
                                       "3:3 error range: 'stations' has 0 items; 2 to 200 are "
                                       "allowed\n");
}

static void items_of_a_list_lack_their_keys_where_they_stand(void **state) {
    struct bench *b = *state;
    bench_recipe(b, PARTS(.ballast = "ballast:\n  bores:\n    - depth: 9 mm\n      load: []\n"));
    bench_expect(b, "depth", "error missing-key: a bore lacks its key 'drill'");
}

static void the_wrong_kind_of_node_is_named_with_the_one_that_is_due(void **state) {
    static const struct {
        struct recipe_parts parts;
        const char *at, *said;
    } cases[] = {
        {{.water = "water: 15 degC\n"},
         "15 degC",
         "error node-kind: 'water' has keys of its own, each with its value"},
        {{.head = "recipe: 1\nname: [Box]\n"},
         "[Box]",
         "error node-kind: 'name' is due as a single value"},
        {{.ballast = "ballast: {bores: none at all}\n"},
         "none at",
         "error node-kind: 'bores' is a list"},
        {{.ballast = "ballast: {bores: [6 mm]}\n"},
         "6 mm",
         "error node-kind: each entry of 'bores' has keys of its own"},
        {{.ballast = "ballast: {bores: [{at: 5 mm, drill: 2 mm, load: lead}]}\n"},
         "lead}",
         "error node-kind: 'load' is due as a list of pieces, or the word solve"},
        {{.steps = "steps: [{order: seal}]\n"},
         "seal",
         "error node-kind: 'order' is due as a list of words"},
        {{.steps = "steps: [{order: [seal, [hang]]}]\n"},
         "[hang]",
         "error node-kind: 'order' is due as a list of words"},
        {{.steps = "steps: [{add: rub, after: seal, caution: dust}]\n"},
         "dust",
         "error node-kind: 'caution' is due as a list of words"},
        {{.steps = "steps: [{add: rub, after: seal, caution: [epoxy, wood dusk]}]\n"},
         "wood dusk",
         "error value: 'wood dusk' is no caution that is known here"},
        {{.shop = "shop: {open: always}\n"},
         "always",
         "error value: 'open' has weekdays as its keys"},
        {{.shop = "shop: {wheel: {plugs: 6}}\n"},
         "{plugs",
         "error node-kind: 'wheel' is due as a single value"},
    };
    struct bench *b = *state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        bench_recipe(b, cases[i].parts);
        bench_expect(b, cases[i].at, cases[i].said);
    }
}

static void words_that_are_not_to_be_had_are_met_with_those_that_are(void **state) {
    static const struct {
        struct recipe_parts parts;
        const char *at, *said, *hint;
    } cases[] = {
        {{.wood = "wood: {species: baswood}\n"},
         "baswood",
         "error value: 'baswood' is no species that is known here",
         "did you mean 'basswood'?"},
        {{.lip = "lip: none\n", .ballast = "ballast: {material: stainless}\n"},
         "stainless",
         "error value: 'stainless' is no material that is known here",
         "one of: lead, tungsten, pure tungsten, tin, bismuth, brass, steel"},
        {{.hardware =
              "hardware: {wire: {diameter: 1 mm, material: lead}, line tie: {place: nose}}\n"},
         "lead",
         "error value: 'lead' is no material that is known here",
         "one of: brass, stainless, spring steel"},
        {{.hardware = "hardware: {wire: {diameter: 1 mm}, line tie: {place: tail}}\n"},
         "tail",
         "error value: 'tail' is no place that is known here",
         "one of: nose, belly, back, lip"},
        {{.hardware = "hardware: {wire: {diameter: 1 mm}, line tie: {place: nose}, "
                      "hangers: [{place: lip}]}\n"},
         "lip",
         "error value: 'lip' is no place that is known here",
         "one of: tail, belly, back"},
        {{.shop = "shop: {paper: a4}\n"},
         "a4",
         "error value: 'a4' is no paper that is known here",
         "did you mean 'A4'?"},
    };
    struct bench *b = *state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        bench_recipe(b, cases[i].parts);
        bench_expect(b, cases[i].at, cases[i].said);
        assert_string_equal(b->diags.items[0].hint, cases[i].hint);
    }
}

static void one_run_names_every_slip_in_the_order_of_the_file(void **state) {
    struct bench *b = *state;
    bench_recipe(
        b, PARTS(.head = "recipe: 1\nname: Box\nmake: 0\n", .wood = "wood: {specie: basswood}\n",
                 .hardware = "hardware:\n  wire: {diameter: 1}\n  line tie: {place: bow}\n",
                 .eyes = "eyes: {size: 6 g, at: 15}\n"));
    assert_string_equal(bench_said(b),
                        "3:7 error range: make 0 is outside 1 to 500\n"
                        "4:1 error missing-key: the wood lacks its key 'species'\n"
                        "4:8 error unknown-key: unknown key 'specie' in the wood\n"
                        "12:20 error value: a wire diameter is due, '1' has no unit\n"
                        "13:21 error value: 'bow' is no place that is known here\n"
                        "14:14 error value: a length is due, 'g' is a mass\n"
                        "14:23 error value: a length is due, '15' has no unit\n");
}

/* Long words, and words of more than one byte a letter, are cut between code points. */
static void long_words_of_the_recipe_are_cut_in_messages(void **state) {
    struct bench *b = *state;
    bench_recipe(b, PARTS(.wood = "wood: {species: "
                                  "xøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøø}\n"));
    assert_null(strchr(b->diags.items[0].message, '?'));
    bench_recipe(b, PARTS(.water = "water: {xøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøøø: 1}\n"));
    assert_null(strchr(b->diags.items[0].message, '?'));
}

/* --- defaults by kind ------------------------------------------------------------------------ */

/* Every figure of every row, read a second time: written out in a recipe of another kind, it binds
 * to the same as when the kind alone is named. */
static const char *written_out(struct bench *b, const struct topcoat_row *row, const char *kind) {
    struct buf out = {.arena = &b->arena};
    buf_printf(&out,
               "finish: {topcoat: {recoat: {after: %s, before: %s}, coats: %s, film: %s, density: "
               "%s, solids: %s, waste: %s, turn: %s, cure: %s, fish: %s",
               row->after, row->before ? row->before : "60 d", row->coats, row->film, row->density,
               row->solids, row->waste, row->turn, row->cure, row->fish);
    if (row->mix)
        buf_printf(&out, ", mix: '%s', resin: %s, hardener: %s, pot life: %s", row->mix, row->resin,
                   row->hardener, row->pot_life);
    buf_printf(&out, ", kind: %s}}\n", kind);
    return out.data;
}

static void a_kind_stands_for_the_figures_of_its_row(void **state) {
    struct bench *b = *state;
    for (int i = 0; i < reference_topcoat_count; i++) {
        const struct topcoat_row *row = &reference_topcoat[i];
        const char *other = row->mix ? (i == TOPCOAT_EPOXY ? "urethane" : "epoxy")
                                     : (i == TOPCOAT_VARNISH ? "lacquer" : "varnish");
        const char *named = arena_printf(&b->arena, "finish: {topcoat: {kind: %s}}\n", row->kind);
        struct topcoat t = *bench_good(b, PARTS(.finish = named))->finish->topcoat;
        struct topcoat u =
            *bench_good(b, PARTS(.finish = written_out(b, row, other)))->finish->topcoat;
        const double pairs[][2] = {{t.coats, u.coats},
                                   {t.film, u.film},
                                   {t.density, u.density},
                                   {t.solids, u.solids},
                                   {t.waste, u.waste},
                                   {t.turn, u.turn},
                                   {t.cure, u.cure},
                                   {t.fish, u.fish},
                                   {t.mix.first, u.mix.first},
                                   {t.mix.second, u.mix.second},
                                   {t.resin.value, u.resin.value},
                                   {t.hardener.value, u.hardener.value},
                                   {t.pot_life.value, u.pot_life.value},
                                   {t.recoat->after, u.recoat->after}};
        for (size_t k = 0; k < sizeof pairs / sizeof *pairs; k++)
            assert_near(pairs[k][0], pairs[k][1], 0);
        assert_int_equal(t.recoat->before.given, row->before != NULL);
        assert_int_equal(t.mix.second > 0, row->mix != NULL);
        assert_string_equal(reference_topcoat[t.kind].kind, row->kind);
    }
}

/* The kind counts wherever it stands in its part. */
static void a_kind_that_is_written_last_counts_for_all(void **state) {
    struct bench *b = *state;
    const struct recipe *r = bench_good(
        b, PARTS(.finish = "finish: {topcoat: {recoat: {after: 2 h}, kind: lacquer}}\n"));
    assert_false(r->finish->topcoat->recoat->before.given);
    r = bench_good(b, PARTS(.finish = "finish: {topcoat: {recoat: {after: 2 h}, kind: epoxy}}\n"));
    assert_near(r->finish->topcoat->recoat->before.value, 24 * 3600, 0);
    assert_true(str_is(recipe_default(r, &r->finish->topcoat->film), "0.25 mm"));
    assert_int_equal(recipe_default(r, &r->finish->topcoat->recoat->after).size, 0);
}

/* --- where things were written --------------------------------------------------------------- */

static void a_member_knows_where_and_how_it_was_written(void **state) {
    struct bench *b = *state;
    const struct recipe *r =
        bench_good(b, PARTS(.water = "water: {salinity: \"35 g/kg\"}\n",
                            .ballast = "ballast:\n  pieces: [{ball: 0.440 in}, {mass: 6 g}]\n"));
    assert_true(recipe_wrote(r, &r->water->salinity));
    assert_false(recipe_wrote(r, &r->water->temperature));
    assert_true(str_is(recipe_text(r, &r->water->salinity), "35 g/kg"));
    assert_true(str_is(recipe_text(r, &r->ballast->pieces[0].ball), "0.440 in"));
    assert_true(str_is(recipe_text(r, &r->ballast->pieces[1].mass), "6 g"));
    assert_int_equal(recipe_text(r, &r->water->temperature).size, 0);
}

static void what_took_its_default_stands_where_its_part_stands(void **state) {
    struct bench *b = *state;
    const struct recipe *r = bench_good(b, PARTS(.water = "water: {salinity: 35 g/kg}\n"));
    struct span at = recipe_place(r, &r->water->temperature);
    assert_string_equal(arena_printf(&b->arena, "%d:%d", at.line, at.column),
                        bench_place(b, "water"));
    at = recipe_place(r, &r->shop->wheel); /* no part of it was written: the recipe itself */
    assert_int_equal(at.line, 1);
    assert_int_equal(at.column, 1);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(every_default_of_the_language_takes_effect),
        BENCH_TEST(what_has_no_default_counts_as_not_given),
        BENCH_TEST(the_smallest_recipe_has_no_more_than_it_says),
        BENCH_TEST(a_layer_takes_the_thinning_of_the_paint_unless_it_has_its_own),
        BENCH_TEST(an_empty_value_counts_as_not_given_with_a_warning),
        BENCH_TEST(an_empty_value_of_a_key_that_must_be_given_is_missing),
        BENCH_TEST(quoted_words_are_never_empty),
        BENCH_TEST(an_unquoted_colour_is_a_comment_and_the_hint_shows_the_quotes),
        BENCH_TEST(a_colour_left_empty_is_only_a_warning),
        BENCH_TEST(none_stands_for_an_optional_section_that_is_not_there),
        BENCH_TEST(none_leaves_the_rules_of_its_part_in_force),
        BENCH_TEST(none_is_no_way_out_of_what_must_be_given),
        BENCH_TEST(an_unknown_key_is_met_with_the_nearest_known_one),
        BENCH_TEST(keys_are_known_by_their_exact_letters),
        BENCH_TEST(every_missing_key_is_named_at_the_part_that_lacks_it),
        BENCH_TEST(items_of_a_list_lack_their_keys_where_they_stand),
        BENCH_TEST(the_wrong_kind_of_node_is_named_with_the_one_that_is_due),
        BENCH_TEST(words_that_are_not_to_be_had_are_met_with_those_that_are),
        BENCH_TEST(one_run_names_every_slip_in_the_order_of_the_file),
        BENCH_TEST(long_words_of_the_recipe_are_cut_in_messages),
        BENCH_TEST(a_kind_stands_for_the_figures_of_its_row),
        BENCH_TEST(a_kind_that_is_written_last_counts_for_all),
        BENCH_TEST(a_member_knows_where_and_how_it_was_written),
        BENCH_TEST(what_took_its_default_stands_where_its_part_stands),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
