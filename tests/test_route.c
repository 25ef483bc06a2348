/* The route: which operations a recipe gets, in which order, why, and what its own steps do to it.
 */
#include "close.h"

#include <stdlib.h>

#include "base/arena.h"
#include "compute/work/operation.h"
#include "compute/work/route.h"
#include "emit/words/words.h"
#include "model/places.h"
#include "model/reference.h"

static const double MINUTE = 60.0, HOUR = 3600.0;
static const double MM = 1e-3;

/* One recipe with every part; a test takes away or changes what it is about. */
struct kit {
    struct arena arena;
    struct diags diags;
    struct recipe recipe;
    struct body body;
    struct section_choice section;
    struct lip lip;
    struct hardware hardware;
    struct wire wire;
    struct fitting line_tie, hangers[2];
    struct hook hook;
    struct ballast ballast;
    struct bore bores[2];
    struct eyes eyes;
    struct finish finish;
    struct seal seal;
    struct paint paint;
    struct layer layers[3];
    struct topcoat topcoat;
    struct recoat recoat;
    struct shop shop;
    struct allowance allowance;
    struct wood wood;
    double surface; /* that the rows are for, unless a test says otherwise */
    struct station stations[2];
    struct step steps[MAX_STEPS];
    struct text_file file;
};

static int row_named(const char *(*name)(int), const char *wanted) {
    for (int i = 0; name(i); i++)
        if (strcmp(name(i), wanted) == 0) return i;
    fail_msg("no row called %s", wanted);
    return -1;
}

static void fill_finish(struct kit *kit) {
    kit->seal = (struct seal){.coats = 2, .dry = HOUR, .sand = true};
    const struct parts thin = {1, 1, false};
    kit->layers[0] =
        (struct layer){.colour = str_of("white"), .coats = 2, .dry = 20 * MINUTE, .thin = thin};
    kit->layers[1] = (struct layer){.colour = str_of("chartreuse"),
                                    .kind = LAYER_FLUORESCENT,
                                    .where = WHERE_FLANKS,
                                    .coats = 1,
                                    .dry = 20 * MINUTE,
                                    .thin = thin};
    kit->layers[2] = (struct layer){.colour = str_of("black"),
                                    .where = WHERE_BARS,
                                    .coats = 1,
                                    .dry = 20 * MINUTE,
                                    .thin = thin,
                                    .mask = str_of("comb")};
    kit->paint = (struct paint){.thin = thin, .layers = kit->layers, .layer_count = 3};
    kit->recoat = (struct recoat){4 * HOUR, {24 * HOUR, true}};
    kit->topcoat = (struct topcoat){.kind = TOPCOAT_EPOXY,
                                    .coats = 2,
                                    .mix = {1, 1, false},
                                    .pot_life = {20 * MINUTE, true},
                                    .recoat = &kit->recoat,
                                    .turn = 6 * HOUR,
                                    .cure = 24 * HOUR,
                                    .fish = 120 * HOUR,
                                    .at = 21};
    kit->finish = (struct finish){&kit->seal, &kit->paint, &kit->topcoat};
}

static void fill_parts(struct kit *kit) {
    kit->section = (struct section_choice){.shape = SECTION_OVAL};
    kit->stations[0] = (struct station){.back = 15 * MM, .belly = 17 * MM, .width = 26 * MM};
    kit->stations[1] = (struct station){.back = 4 * MM, .belly = 4 * MM, .width = 8 * MM};
    kit->body = (struct body){.length = 140 * MM,
                              .section = &kit->section,
                              .stations = kit->stations,
                              .station_count = 2};
    kit->lip = (struct lip){.thickness = 1.5 * MM, .angle = 0.785398163397448, .slot = 8 * MM};
    kit->wire = (struct wire){.diameter = 1.2 * MM,
                              .material = row_named(reference_wire_metal_name, "stainless")};
    kit->line_tie = (struct fitting){.place = PLACE_NOSE};
    kit->hook = (struct hook){.size = str_of("1/0")};
    kit->hangers[0] = (struct fitting){.place = PLACE_BELLY, .hook = &kit->hook};
    kit->hangers[1] = (struct fitting){.place = PLACE_TAIL, .hook = &kit->hook};
    kit->hardware = (struct hardware){
        .wire = &kit->wire, .line_tie = &kit->line_tie, .hangers = kit->hangers, .hanger_count = 2};
    kit->ballast = (struct ballast){.material = row_named(reference_ballast_name, "lead"),
                                    .bores = kit->bores,
                                    .bore_count = 2};
    kit->eyes = (struct eyes){.size = 8 * MM, .depth = 2 * MM};
    kit->wood = (struct wood){.density = {420, true}}; /* its effort is 1 */
    kit->surface = reference_fact[FACT_WORK_SURFACE].value;
    kit->allowance = (struct allowance){6 * MM, 2 * MM, 2 * MM};
    kit->shop = (struct shop){.temperature = 21, .wheel = 6, .allowance = &kit->allowance};
}

static int set_up(void **state) {
    struct kit *kit = calloc(1, sizeof *kit);
    if (!kit) return -1;
    kit->diags.arena = &kit->arena;
    fill_parts(kit);
    fill_finish(kit);
    struct places *places = places_new(&kit->arena);
    kit->file.name = "test.yaml";
    places_part(places, &kit->recipe, sizeof kit->recipe, (struct span){&kit->file, 1, 1, 1});
    kit->recipe = (struct recipe){.make = 1,
                                  .wood = &kit->wood,
                                  .body = &kit->body,
                                  .lip = &kit->lip,
                                  .hardware = &kit->hardware,
                                  .ballast = &kit->ballast,
                                  .eyes = &kit->eyes,
                                  .finish = &kit->finish,
                                  .shop = &kit->shop,
                                  .steps = kit->steps,
                                  .places = places};
    *state = kit;
    return 0;
}

static int tear_down(void **state) {
    struct kit *kit = *state;
    arena_free(&kit->arena);
    free(kit);
    return 0;
}

static struct route route_in(struct kit *kit) {
    return route_of(&kit->arena, &kit->recipe, kit->surface, &kit->diags);
}

static int index_in(const struct route *route, const char *id) {
    return route_find(route, str_of(id));
}

static const struct operation *get(const struct route *route, const char *id) {
    int at = index_in(route, id);
    if (at < 0) fail_msg("no operation %s", id);
    return &route->operations[at < 0 ? 0 : at];
}

static struct words words_for(struct kit *kit, const struct operation *operation) {
    return words_of(&kit->arena, &kit->recipe, operation);
}

static const char *what_in(struct kit *kit, const struct route *route, const char *id) {
    return words_for(kit, get(route, id)).what;
}

static const struct precedence *link_of(const struct route *route, const char *before,
                                        const char *after) {
    for (int i = 0; i < route->link_count; i++)
        if (route->links[i].before == index_in(route, before) &&
            route->links[i].after == index_in(route, after))
            return &route->links[i];
    return NULL;
}

static void assert_before(const struct route *route, const char *before, const char *after) {
    assert_true(index_in(route, before) >= 0);
    assert_true(index_in(route, before) < index_in(route, after));
}

/* All of these, in this order; others may stand between. */
static void assert_ids(const struct route *route, const char *const *ids, size_t count) {
    for (size_t i = 1; i < count; i++) assert_before(route, ids[i - 1], ids[i]);
}

static void assert_absent(const struct route *route, const char *const *ids, size_t count) {
    for (size_t i = 0; i < count; i++) assert_int_equal(index_in(route, ids[i]), -1);
}

static struct step *add_step(struct kit *kit, enum step_change change, const char *id) {
    struct step *step = &kit->steps[kit->recipe.step_count++];
    step->change = change;
    step->id = str_of(id);
    return step;
}

static void add_order(struct kit *kit, const char *first, const char *second) {
    struct step *step = add_step(kit, STEP_ORDER, "");
    step->order = NEW(&kit->arena, struct str, 2);
    step->order[0] = str_of(first);
    step->order[1] = str_of(second);
    step->order_count = 2;
}

static void assert_one_error(const struct kit *kit, const char *rule, const char *part) {
    assert_int_equal(kit->diags.errors, 1);
    assert_string_equal(kit->diags.items[0].rule, rule);
    if (!strstr(kit->diags.items[0].message, part))
        fail_msg("\"%s\" does not speak of \"%s\"", kit->diags.items[0].message, part);
}

static void assert_no_diagnostics(const struct kit *kit) {
    if (kit->diags.count) fail_msg("%s", kit->diags.items[0].message);
}

/* --- Which operations --- */

static void a_full_recipe_gets_every_operation_in_the_order_of_a_plan(void **state) {
    struct kit *kit = *state;
    static const char *const ids[] = {
        "layout",      "slot",     "bore-wires", "saw-side", "saw-top",      "true",
        "carry",       "round",    "sand",       "smooth",   "weigh-bodies", "bore-ballast",
        "bore-eyes",   "hang",     "seal-1",     "seal-2",   "lip-cut",      "float-test",
        "set-ballast", "flush",    "reseal",     "lip-glue", "mask",         "colour-1",
        "colour-2",    "colour-3", "eyes",       "unmask",   "dry-through",  "topcoat-1",
        "topcoat-2",   "clear",    "harden",     "rig",      "prove"};
    struct route route = route_in(kit);
    assert_no_diagnostics(kit);
    assert_ids(&route, ids, sizeof ids / sizeof *ids);
    assert_int_equal(index_in(&route, "scuff-2"), -1); /* only where the run asks for it */
}

static void a_bare_square_stick_needs_only_what_shapes_and_tests_it(void **state) {
    struct kit *kit = *state;
    static const char *const ids[] = {"layout",       "bore-wires", "saw-side",   "saw-top",
                                      "true",         "carry",      "sand",       "smooth",
                                      "weigh-bodies", "hang",       "float-test", "prove"};
    kit->section.shape = SECTION_SQUARE;
    kit->recipe.lip = NULL;
    kit->recipe.ballast = NULL;
    kit->recipe.eyes = NULL;
    kit->recipe.finish = NULL;
    kit->hardware.hanger_count = 0;
    static const char *const absent[] = {
        "slot",        "round",  "bore-ballast", "bore-eyes", "seal-1", "lip-cut",
        "set-ballast", "flush",  "reseal",       "lip-glue",  "mask",   "colour-1",
        "eyes",        "unmask", "topcoat-1",    "clear",     "rig"};
    struct route route = route_in(kit);
    assert_no_diagnostics(kit);
    assert_ids(&route, ids, sizeof ids / sizeof *ids);
    assert_absent(&route, absent, sizeof absent / sizeof *absent);
}

static void a_line_tie_on_the_lip_needs_no_wire_in_the_body(void **state) {
    struct kit *kit = *state;
    kit->line_tie.place = PLACE_LIP;
    kit->hardware.hanger_count = 0;
    struct route route = route_in(kit);
    assert_int_equal(index_in(&route, "bore-wires"), -1);
    assert_int_equal(index_in(&route, "hang"), -1);
    assert_int_equal(index_in(&route, "rig"), -1);
    assert_non_null(strstr(what_in(kit, &route, "lip-cut"), "line tie"));
}

static void ballast_without_bores_and_paint_without_layers_are_no_work(void **state) {
    struct kit *kit = *state;
    kit->ballast.bore_count = 0;
    kit->paint.layer_count = 0;
    struct route route = route_in(kit);
    static const char *const absent[] = {"bore-ballast", "set-ballast", "reseal",
                                         "mask",         "unmask",      "colour-1"};
    assert_absent(&route, absent, sizeof absent / sizeof *absent);
    assert_true(index_in(&route, "topcoat-2") > 0);
}

/* --- Every combination of parts --- */

enum { PARTS = 9 };

static void choose_parts(struct kit *kit, unsigned bits) {
    kit->recipe.lip = bits & 1 ? &kit->lip : NULL;
    kit->recipe.ballast = bits & 2 ? &kit->ballast : NULL;
    kit->recipe.eyes = bits & 4 ? &kit->eyes : NULL;
    kit->finish.seal = bits & 8 ? &kit->seal : NULL;
    kit->finish.paint = bits & 16 ? &kit->paint : NULL;
    kit->finish.topcoat = bits & 32 ? &kit->topcoat : NULL;
    kit->hardware.hanger_count = bits & 64 ? 2 : 0;
    kit->section.shape = bits & 128 ? SECTION_OVAL : SECTION_SQUARE;
    kit->line_tie.place = bits & 256 && bits & 1 ? PLACE_LIP : PLACE_NOSE;
}

/* The last operation with this key, or the first one. */
static int key_in(const struct route *route, enum operation_key key, bool last) {
    int found = -1;
    for (int i = 0; i < route->count && (last || found < 0); i++)
        if (route->operations[i].key == key) found = i;
    return found;
}

static void assert_rules_hold(const struct route *route) {
    for (int i = 0; i < operation_rule_count; i++) {
        const struct operation_rule *rule = &operation_rules[i];
        int before = key_in(route, rule->before, true);
        int after = key_in(route, rule->after, false);
        if (before >= 0 && after >= 0) assert_true(before < after);
    }
}

static void assert_connected(const struct route *route) {
    bool *follows = calloc((size_t)route->count, sizeof *follows);
    bool *leads = calloc((size_t)route->count, sizeof *leads);
    assert_non_null(follows);
    assert_non_null(leads);
    for (int i = 0; i < route->link_count; i++) {
        const struct precedence *link = &route->links[i];
        assert_true(link->before < link->after);
        assert_true(link->reason && strlen(link->reason) > 10);
        follows[link->after] = leads[link->before] = true;
    }
    for (int i = 0; i < route->count; i++) {
        assert_int_equal(follows[i], i > 0);
        assert_int_equal(leads[i], i < route->count - 1);
    }
    free(follows);
    free(leads);
}

static void assert_spoken(const char *text) {
    assert_true(text && strlen(text) > 3);
    assert_null(strchr(text, '{'));
    assert_null(strstr(text, "  "));
    assert_null(strstr(text, " ."));
}

static void assert_texts(struct kit *kit, const struct route *route) {
    for (int i = 0; i < route->count; i++) {
        const struct operation *operation = &route->operations[i];
        struct words words = words_for(kit, operation);
        assert_spoken(words.title);
        assert_spoken(words.what);
        assert_spoken(words.with);
        assert_spoken(words.check);
        assert_spoken(words.ruins);
        assert_spoken(words.risk);
        bool waits_only = operation->fixed == 0 && operation->each == 0 && operation->wait > 0;
        assert_true(waits_only || (operation->fixed > 0 && operation->each > 0));
        assert_true(operation->wait >= 0);
        assert_true(operation->station != AT_NONE);
    }
}

static void every_combination_of_parts_gives_a_whole_and_orderly_route(void **state) {
    struct kit *kit = *state;
    for (unsigned bits = 0; bits < 1u << PARTS; bits++) {
        choose_parts(kit, bits);
        struct route route = route_in(kit);
        assert_no_diagnostics(kit);
        assert_rules_hold(&route);
        assert_connected(&route);
        assert_texts(kit, &route);
    }
}

static void every_rule_has_its_reason(void **state) {
    (void)state;
    assert_true(operation_rule_count > 40);
    for (int i = 0; i < operation_rule_count; i++) assert_spoken(operation_rules[i].reason);
    for (int i = 0; i < operation_chain_count; i++)
        assert_true(strlen(operation_chains[i].reason) > 10);
    assert_true(strlen(operation_ground_reason) > 10);
}

/* --- Times --- */

static void waits_follow_the_recipe(void **state) {
    struct kit *kit = *state;
    struct route route = route_in(kit);
    assert_near(get(&route, "seal-1")->wait, HOUR, 1e-6);
    assert_near(get(&route, "seal-2")->wait, HOUR, 1e-6);
    assert_near(get(&route, "reseal")->wait, HOUR, 1e-6);
    assert_near(get(&route, "colour-1")->wait, 40 * MINUTE, 1e-6); /* two coats */
    assert_near(get(&route, "colour-2")->wait, 20 * MINUTE, 1e-6);
    assert_near(get(&route, "topcoat-1")->wait, 4 * HOUR, 1e-6);
    assert_near(get(&route, "topcoat-2")->wait, 24 * HOUR, 1e-6);
    assert_near(get(&route, "topcoat-2")->held, 4 * HOUR, 1e-6);
    assert_near(get(&route, "dry-through")->wait, 12 * HOUR, 1e-6);
    assert_near(get(&route, "harden")->wait, 96 * HOUR, 1e-6); /* 120 h less the 24 h of the cure */
    assert_near(link_of(&route, "topcoat-1", "topcoat-2")->within, 24 * HOUR, 1e-6);
    assert_near(get(&route, "slot")->wait, 0, 0);
}

static void a_cold_shop_slows_every_cure_and_no_drying(void **state) {
    struct kit *kit = *state;
    struct route warm = route_in(kit);
    assert_non_null(strstr(what_in(kit, &warm, "topcoat-1"), "about 20 min"));
    kit->shop.temperature = 11; /* ten degrees below the temperature at which the times hold */
    struct route cold = route_in(kit);
    assert_no_diagnostics(kit);
    static const char *const cures[] = {"hang",      "lip-glue",  "set-ballast",
                                        "topcoat-1", "topcoat-2", "harden"};
    static const char *const dries[] = {"sand",     "seal-1", "float-test", "reseal",
                                        "colour-1", "eyes",   "dry-through"};
    for (size_t i = 0; i < sizeof cures / sizeof *cures; i++) {
        assert_true(get(&warm, cures[i])->wait > 0);
        assert_close(get(&cold, cures[i])->wait, 2 * get(&warm, cures[i])->wait, 1e-12);
    }
    for (size_t i = 0; i < sizeof dries / sizeof *dries; i++) {
        assert_true(get(&warm, dries[i])->wait > 0);
        assert_close(get(&cold, dries[i])->wait, get(&warm, dries[i])->wait, 1e-12);
    }
    assert_close(link_of(&cold, "topcoat-1", "topcoat-2")->within, 48 * HOUR, 1e-12);
    assert_non_null(strstr(what_in(kit, &cold, "topcoat-1"), "about 40 min"));
}

static void epoxy_below_ten_degrees_is_an_error(void **state) {
    struct kit *kit = *state;
    kit->shop.temperature = 10;
    route_in(kit);
    assert_no_diagnostics(kit);
    kit->shop.temperature = 9.9;
    route_in(kit);
    assert_one_error(kit, "cold-epoxy", "'hang'");
}

static void a_glued_step_with_a_wait_of_its_own_may_cure_elsewhere(void **state) {
    struct kit *kit = *state;
    kit->shop.temperature = 5;
    static const char *const glued[] = {"hang", "lip-glue", "set-ballast"};
    for (size_t i = 0; i < sizeof glued / sizeof *glued; i++)
        add_step(kit, STEP_CHANGE, glued[i])->wait = (struct opt){16 * HOUR, true};
    kit->topcoat.kind = TOPCOAT_VARNISH;
    route_in(kit);
    assert_no_diagnostics(kit);
    kit->topcoat.kind = TOPCOAT_EPOXY;
    route_in(kit);
    assert_one_error(kit, "cold-epoxy", "'topcoat-1'");
}

static void more_bores_wires_and_coats_are_more_work(void **state) {
    struct kit *kit = *state;
    struct route two = route_in(kit);
    kit->ballast.bore_count = 1;
    kit->hardware.hanger_count = 1;
    kit->seal.coats = 1;
    kit->layers[0].coats = 1;
    struct route one = route_in(kit);
    assert_close(get(&two, "bore-ballast")->each, 2 * get(&one, "bore-ballast")->each, 1e-12);
    assert_close(get(&two, "hang")->each, 1.5 * get(&one, "hang")->each, 1e-12);
    assert_near(get(&two, "seal-2")->each - get(&one, "seal-1")->each, 2 * MINUTE, 1e-9);
    assert_close(get(&two, "colour-1")->each, 2 * get(&one, "colour-1")->each, 1e-12);
    assert_close(get(&two, "rig")->each, 2 * get(&one, "rig")->each, 1e-12);
}

/* Effort by hand, from docs/physics.md, 11.2, and the rows: 0.4 + 0.6 S/100 cm2, 0.7 for balsa and
 * 2.0 for hard maple, 3.0 for stainless sheet.  A sand's 9 min a plug, a saw's 7, a cut lip's 12.
 */
static void work_grows_with_the_surface_the_wood_and_the_sheet(void **state) {
    struct kit *kit = *state;
    struct route plain = route_in(kit);
    assert_close(get(&plain, "sand")->each, 9 * MINUTE, 1e-12);
    kit->surface = 250e-4;
    kit->wood.density = (struct opt){150, true};
    kit->lip.material = row_named(reference_sheet_name, "stainless");
    struct route soft = route_in(kit);
    assert_close(get(&soft, "sand")->each, 9 * MINUTE * (0.4 + 0.6 * 2.5) * 0.7, 1e-12);
    assert_close(get(&soft, "saw-side")->each, 7 * MINUTE * 1.9 * 0.7, 1e-12);
    assert_close(get(&soft, "bore-wires")->each, get(&plain, "bore-wires")->each * 0.7, 1e-12);
    assert_close(get(&soft, "topcoat-1")->each, get(&plain, "topcoat-1")->each * 1.9, 1e-12);
    assert_close(get(&soft, "lip-cut")->each, 12 * MINUTE * 3, 1e-12);
    assert_close(get(&soft, "hang")->each, get(&plain, "hang")->each, 1e-12);
    for (int i = 0; i < soft.count; i++)
        assert_close(soft.operations[i].fixed, plain.operations[i].fixed, 1e-12);
    kit->wood.density = (struct opt){720, true};
    struct route hard = route_in(kit);
    assert_close(get(&hard, "sand")->each / get(&soft, "sand")->each, 2.0 / 0.7, 1e-12);
}

/* A row is for all wood up to its density, and the last for all that is heavier. */
static void the_effort_of_wood_goes_from_soft_to_hard(void **state) {
    (void)state;
    for (int i = 0; i < reference_effort_count; i++) {
        const struct effort_row *row = &reference_effort[i];
        bool last = i + 1 == reference_effort_count;
        assert_int_equal(isinf(row->up_to) != 0, last);
        assert_true(!i || (row->factor > row[-1].factor && row->up_to > row[-1].up_to));
        if (!last) assert_close(reference_effort_of(row->up_to), row->factor, 0);
        if (i) assert_close(reference_effort_of(row[-1].up_to + 1e-6), row->factor, 0);
    }
    assert_close(reference_effort_of(1400), 2.0, 1e-12);
}

static void a_scuffing_takes_as_long_as_the_surface_asks(void **state) {
    struct kit *kit = *state;
    struct route small = route_in(kit);
    small = route_scuff(&kit->arena, &small, &kit->recipe, 2);
    kit->surface *= 3;
    struct route large = route_in(kit);
    large = route_scuff(&kit->arena, &large, &kit->recipe, 2);
    assert_close(get(&large, "scuff-2")->each / get(&small, "scuff-2")->each, 0.4 + 0.6 * 3, 1e-12);
}

static void coats_are_laid_in_one_go_and_the_wheel_takes_only_topcoats(void **state) {
    struct kit *kit = *state;
    struct route route = route_in(kit);
    for (int i = 0; i < route.count; i++) {
        const struct operation *operation = &route.operations[i];
        bool topcoat = strncmp(operation->id, "topcoat", 7) == 0;
        bool colour = strncmp(operation->id, "colour", 6) == 0;
        bool seal = strncmp(operation->id, "seal-", 5) == 0;
        bool reseal = strcmp(operation->id, "reseal") == 0;
        assert_int_equal(operation->coat, topcoat || colour || seal || reseal);
        assert_int_equal(operation->by_wheel, topcoat);
        assert_int_equal(operation->station, topcoat ? AT_WHEEL : colour ? AT_SPRAY : AT_BENCH);
        assert_int_equal(operation->number > 0, topcoat || colour || seal);
    }
    assert_int_equal(get(&route, "colour-3")->key, OPERATION_colour);
    assert_int_equal(get(&route, "colour-3")->number, 3);
    assert_int_equal(get(&route, "topcoat-2")->number, 2);
}

/* --- Words --- */

static void steps_speak_of_this_recipe(void **state) {
    struct kit *kit = *state;
    struct route route = route_in(kit);
    const char *slot = what_in(kit, &route, "slot");
    assert_non_null(strstr(slot, "at 45\xc2\xb0 to"));
    assert_non_null(strstr(slot, "8.0 mm deep"));
    assert_non_null(strstr(slot, "1.50 mm wide"));
    assert_string_equal(words_for(kit, get(&route, "colour-2")).title, "Colour 2: chartreuse");
    assert_non_null(strstr(what_in(kit, &route, "colour-1"), "2 coats on the whole plug"));
    assert_non_null(strstr(what_in(kit, &route, "colour-2"), "1 coat on the flanks"));
    assert_non_null(strstr(what_in(kit, &route, "colour-3"), "Mask: comb."));
    assert_null(strstr(what_in(kit, &route, "colour-2"), "Mask:"));
    assert_string_equal(words_for(kit, get(&route, "topcoat-2")).title, "Topcoat, coat 2 of 2");
    assert_non_null(strstr(what_in(kit, &route, "topcoat-1"), "1:1 by volume"));
    assert_null(strstr(what_in(kit, &route, "topcoat-1"), "recoat window"));
    assert_non_null(strstr(what_in(kit, &route, "topcoat-2"), "recoat window"));
    assert_non_null(strstr(what_in(kit, &route, "set-ballast"), "Drive the lead home"));
}

static void only_what_has_a_lip_is_to_run_straight(void **state) {
    struct kit *kit = *state;
    struct route route = route_in(kit);
    assert_non_null(strstr(words_for(kit, get(&route, "prove")).check, "runs straight"));
    kit->recipe.lip = NULL;
    route = route_in(kit);
    assert_null(strstr(words_for(kit, get(&route, "prove")).check, "straight"));
    assert_non_null(strstr(words_for(kit, get(&route, "prove")).check, "to the left as readily"));
    assert_null(strstr(what_in(kit, &route, "prove"), "if it runs to one side"));
}

/* Film, melting and crazing are plastic's; what a sheet is, its row says. */
static void a_lip_is_worked_as_its_sheet_asks(void **state) {
    static const struct {
        const char *sheet;
        bool film;
        const char *ruins;
    } sheets[] = {{"polycarbonate", true, "melts"},
                  {"acrylic", true, "melts"},
                  {"circuit board", false, "frays"},
                  {"stainless", false, "Burrs"},
                  {"aluminium", false, "Burrs"}};
    struct kit *kit = *state;
    for (size_t i = 0; i < sizeof sheets / sizeof *sheets; i++) {
        kit->lip.material = row_named(reference_sheet_name, sheets[i].sheet);
        struct route route = route_in(kit);
        const char *cut = what_in(kit, &route, "lip-cut"), *glue = what_in(kit, &route, "lip-glue");
        struct words words = words_for(kit, get(&route, "lip-cut"));
        assert_non_null(strstr(cut, sheets[i].sheet));
        assert_int_equal(strstr(cut, "film") != NULL, sheets[i].film);
        assert_int_equal(strstr(glue, "film") != NULL, sheets[i].film);
        assert_int_equal(strstr(words.ruins, "melts") != NULL, sheets[i].film);
        assert_int_equal(strstr(words_for(kit, get(&route, "lip-glue")).ruins, "clouds") != NULL,
                         sheets[i].film);
        assert_non_null(strstr(words.ruins, sheets[i].ruins));
    }
}

static void a_tie_on_the_lip_has_its_drill_and_its_place(void **state) {
    struct kit *kit = *state;
    kit->line_tie.place = PLACE_LIP;
    kit->line_tie.at = (struct position){7 * MM, false, true};
    kit->wire.diameter = 1.25 * MM;
    struct route route = route_in(kit);
    const char *cut = what_in(kit, &route, "lip-cut");
    assert_non_null(strstr(cut, "2.50 mm wide")); /* twice the wire */
    assert_non_null(strstr(cut, "7.0 mm from the outer end"));
    kit->line_tie.pilot = (struct opt){1.6 * MM, true};
    assert_non_null(strstr(what_in(kit, &route, "lip-cut"), "1.60 mm wide"));
}

static void a_template_is_glued_on_every_block(void **state) {
    struct kit *kit = *state;
    kit->recipe.make = 4;
    struct route route = route_in(kit);
    for (int i = 0; i < route.count; i++)
        assert_null(strstr(words_for(kit, &route.operations[i]).what, "race the"));
    assert_non_null(strstr(what_in(kit, &route, "layout"), "one of the 4 prints"));
    assert_non_null(strstr(what_in(kit, &route, "lip-cut"), "one of the 4 prints"));
}

static void an_inch_shop_reads_inches(void **state) {
    struct kit *kit = *state;
    kit->shop.units = UNITS_INCH;
    struct route route = route_in(kit);
    assert_non_null(strstr(what_in(kit, &route, "slot"), "5/16 in deep"));
    for (int i = 0; i < route.count; i++) {
        struct words words = words_for(kit, &route.operations[i]);
        assert_null(strstr(words.what, " mm "));
        const char *bar = strstr(words.check, " mm ");
        assert_true(!bar || strncmp(bar, " mm bar", 7) == 0); /* the templates' own 100 mm bar */
    }
}

/* A place that nothing fills would be dropped without a word. */
static void assert_places_known(const char *text) {
    static const char *const known[] = {
#define PHRASE(key, traits, lacks, text) #key,
#include "route.def"
#define VALUE(key, text, doc) #key,
#include "route.def"
#define QUOTE(key, text, doc) #key,
#include "route.def"
    };
    for (const char *open = text; open && (open = strchr(open, '{')); open++) {
        size_t size = strcspn(open + 1, "}");
        bool found = false;
        for (size_t i = 0; i < sizeof known / sizeof *known; i++)
            found |= strlen(known[i]) == size && !strncmp(known[i], open + 1, size);
        if (!found) fail_msg("nothing fills %.*s", (int)size + 2, open);
    }
}

static void every_place_of_a_text_is_filled_by_a_row(void **state) {
    (void)state;
    static const char *const phrases[] = {
#define PHRASE(key, traits, lacks, text) text,
#include "route.def"
    };
    for (size_t i = 0; i < sizeof phrases / sizeof *phrases; i++) assert_places_known(phrases[i]);
    for (int i = 0; i < reference_seal_count; i++) {
        assert_places_known(reference_seal[i].how);
        assert_places_known(reference_seal[i].with);
    }
    for (int i = 0; i < reference_topcoat_count; i++) {
        const struct topcoat_row *row = &reference_topcoat[i];
        const char *texts[] = {row->how, row->with, row->check, row->ruins};
        for (size_t k = 0; k < sizeof texts / sizeof *texts; k++) assert_places_known(texts[k]);
    }
    for (int key = 0; key < OPERATION_KEYS; key++) {
        const struct operation_row *row = &operation_rows[key];
        const char *texts[] = {row->title, row->what, row->with, row->check, row->ruins, row->risk};
        for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) assert_places_known(texts[i]);
    }
}

static void braces_in_a_recipe_are_left_alone(void **state) {
    struct kit *kit = *state;
    kit->layers[0].colour = str_of("{mask} {edges}");
    struct route route = route_in(kit);
    assert_string_equal(words_for(kit, get(&route, "colour-1")).title, "Colour 1: {mask} {edges}");
}

static unsigned all_cautions(const struct route *route) {
    unsigned cautions = 0;
    for (int i = 0; i < route->count; i++) cautions |= route->operations[i].cautions;
    return cautions;
}

static void only_dangers_of_this_recipe_are_warned_of(void **state) {
    struct kit *kit = *state;
    struct route route = route_in(kit);
    unsigned lead = 1u << CAUTION_LEAD, isocyanate = 1u << CAUTION_ISOCYANATE;
    assert_true(all_cautions(&route) & lead);
    assert_false(all_cautions(&route) & isocyanate);
    kit->ballast.material = row_named(reference_ballast_name, "tungsten");
    kit->topcoat.kind = TOPCOAT_URETHANE;
    route = route_in(kit);
    assert_false(all_cautions(&route) & lead);
    assert_true(get(&route, "topcoat-1")->cautions & isocyanate);
    assert_false(get(&route, "topcoat-1")->cautions & 1u << CAUTION_EPOXY);
    assert_non_null(strstr(what_in(kit, &route, "set-ballast"), "Bed the tungsten"));
}

/* --- Grounds --- */

static void a_fluorescent_colour_on_bare_wood_is_an_error(void **state) {
    struct kit *kit = *state;
    kit->layers[0].kind = LAYER_METALLIC;
    route_in(kit);
    assert_one_error(kit, "opaque-ground", "'chartreuse'");
}

static void a_ground_on_another_part_of_the_plug_does_not_count(void **state) {
    struct kit *kit = *state;
    kit->layers[0].where = WHERE_BELLY;
    route_in(kit);
    assert_one_error(kit, "opaque-ground", "fluorescent");
}

static void a_ground_laid_after_the_colour_does_not_count(void **state) {
    struct kit *kit = *state;
    struct layer white = kit->layers[0];
    kit->layers[0] = kit->layers[1];
    kit->layers[1] = white;
    route_in(kit);
    assert_one_error(kit, "opaque-ground", "'chartreuse'");
}

static void a_ground_on_the_same_part_is_enough(void **state) {
    struct kit *kit = *state;
    kit->layers[0].where = WHERE_FLANKS;
    route_in(kit);
    assert_no_diagnostics(kit);
}

static void back_flanks_and_belly_together_are_a_whole_ground(void **state) {
    struct kit *kit = *state;
    static const enum layer_where round[] = {WHERE_BACK, WHERE_BELLY, WHERE_FLANKS};
    struct layer layers[4];
    for (int i = 0; i < 4; i++) layers[i] = kit->layers[0];
    for (int i = 0; i < 3; i++) layers[i].where = round[i];
    layers[3].kind = LAYER_PEARL;
    kit->paint.layers = layers;
    kit->paint.layer_count = 4;
    route_in(kit);
    assert_no_diagnostics(kit);
    layers[1].kind = LAYER_TRANSPARENT; /* its own ground is missing, and the pearl's belly */
    route_in(kit);
    assert_int_equal(kit->diags.errors, 2);
}

static void the_ground_is_the_reason_why_it_comes_first(void **state) {
    struct kit *kit = *state;
    struct route route = route_in(kit);
    assert_string_equal(link_of(&route, "colour-1", "colour-2")->reason, operation_ground_reason);
    assert_string_not_equal(link_of(&route, "colour-2", "colour-3")->reason,
                            operation_ground_reason);
}

/* --- Orders --- */

/* Every order of docs/physics.md, 11.3, the wrong way round. */
static void an_order_that_spoils_the_work_is_an_error_that_says_why(void **state) {
    static const struct {
        const char *first, *second, *why;
    } wrong[] = {
        {"saw-side", "slot", "flat side"},
        {"saw-top", "slot", "flat side"},
        {"saw-side", "layout", "laid out"},
        {"slot", "layout", "laid out"},
        {"seal-1", "bore-wires", "bare wood"},
        {"bore-ballast", "weigh-bodies", "lighter wood"},
        {"bore-eyes", "weigh-bodies", "lighter wood"},
        {"bore-ballast", "round", "lighter wood"}, /* a chain through the weighing */
        {"weigh-bodies", "slot", "slot and pilots"},
        {"weigh-bodies", "bore-wires", "slot and pilots"},
        {"weigh-bodies", "smooth", "hundredths"},
        {"weigh-bodies", "sand", "fibres rise"},
        {"flush", "set-ballast", "hard filler"},
        {"hang", "weigh-bodies", "wood alone"},
        {"lip-glue", "weigh-bodies", "wood alone"},
        {"seal-1", "bore-ballast", "bare wood"},
        {"seal-1", "bore-eyes", "bare wood"},
        {"seal-1", "hang", "round each wire"},
        {"float-test", "seal-2", "drinks"},
        {"set-ballast", "float-test", "trimmed"},
        {"topcoat-1", "lip-glue", "glue line"},
        {"mask", "lip-glue", "glue line"},
        {"colour-1", "mask", "bare lip"},
        {"topcoat-1", "unmask", "for good"},
        {"unmask", "colour-3", "lands on the lip"},
        {"colour-2", "colour-1", "opaque ground"},
        {"colour-3", "colour-2", "lists them"},
        {"eyes", "colour-3", "blinds"},
        {"topcoat-1", "colour-3", "wears off"},
        {"topcoat-2", "topcoat-1", "recoat window"},
        {"clear", "topcoat-2", "last cure"},
        {"rig", "clear", "clogged"},
        {"rig", "topcoat-2", "hooks"},
        {"prove", "layout", ""}, /* a long chain */
        /* and of the craft itself */
        {"float-test", "lip-cut", "dry-fitted"},
        {"lip-glue", "lip-cut", "no lip to glue"},
        {"lip-glue", "smooth", "saw and plane"},
        {"topcoat-1", "eyes", "rim of the eyes"},
        {"sand", "round", "last edge tool"},
        {"seal-1", "smooth", "locks in"},
        {"hang", "true", "stands out"},
        {"colour-1", "reseal", "flush"},
        {"colour-1", "float-test", "float test"},
        {"colour-1", "seal-2", "sinks in"},
        {"reseal", "flush", "closed bore"},
    };
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        void *fresh = NULL;
        set_up(&fresh);
        struct kit *kit = fresh;
        add_order(kit, wrong[i].first, wrong[i].second);
        struct route route = route_in(kit);
        assert_one_error(kit, "step-order", wrong[i].why);
        assert_non_null(strstr(kit->diags.items[0].message, wrong[i].first));
        assert_rules_hold(&route);
        tear_down(&fresh);
    }
    (void)state;
}

static void an_error_in_an_order_stands_at_the_id_that_comes_too_late(void **state) {
    struct kit *kit = *state;
    add_order(kit, "saw-side", "slot");
    struct places *places = places_new(&kit->arena);
    places_value(places, &kit->steps[0].order[1], (struct span){&kit->file, 12, 24, 4});
    kit->recipe.places = places;
    route_in(kit);
    assert_int_equal(kit->diags.items[0].at.line, 12);
    assert_int_equal(kit->diags.items[0].at.column, 24);
}

static void what_is_usual_is_the_order_that_a_recipe_gets_unasked(void **state) {
    struct kit *kit = *state;
    struct route route = route_in(kit);
    assert_non_null(link_of(&route, "bore-wires", "saw-side"));
    assert_non_null(link_of(&route, "saw-side", "saw-top"));
    assert_non_null(link_of(&route, "bore-ballast", "hang"));
    assert_non_null(link_of(&route, "float-test", "lip-glue"));
}

static void a_habit_of_the_trade_yields_to_the_builder(void **state) {
    struct kit *kit = *state;
    add_order(kit, "saw-top", "saw-side");
    add_order(kit, "saw-side", "bore-wires");
    add_order(kit, "lip-glue", "float-test");
    struct route route = route_in(kit);
    assert_no_diagnostics(kit);
    assert_before(&route, "saw-top", "saw-side");
    assert_before(&route, "saw-side", "bore-wires");
    assert_before(&route, "lip-glue", "float-test");
    assert_before(&route, "bore-wires", "hang");
}

/* Nothing is done to a plug on the scale: who leaves it out may bore in the square block. */
static void a_weighing_that_is_left_out_orders_nothing(void **state) {
    struct kit *kit = *state;
    add_step(kit, STEP_SKIP, "weigh-bodies");
    add_order(kit, "bore-ballast", "saw-top");
    add_order(kit, "bore-eyes", "sand");
    struct route route = route_in(kit);
    assert_no_diagnostics(kit);
    assert_before(&route, "bore-ballast", "saw-top");
    assert_before(&route, "bore-eyes", "sand");
}

static void independent_work_may_be_put_in_any_order(void **state) {
    struct kit *kit = *state;
    add_order(kit, "bore-eyes", "bore-ballast");
    add_order(kit, "lip-cut", "saw-side");
    struct route route = route_in(kit);
    assert_no_diagnostics(kit);
    assert_before(&route, "bore-eyes", "bore-ballast");
    assert_before(&route, "lip-cut", "saw-side");
    assert_before(&route, "layout", "lip-cut");
}

static void two_orders_that_contradict_each_other_are_a_loop(void **state) {
    struct kit *kit = *state;
    add_order(kit, "lip-cut", "round");
    add_order(kit, "round", "lip-cut");
    route_in(kit);
    assert_one_error(kit, "step-order", "loop");
}

static void an_operation_cannot_come_before_itself(void **state) {
    struct kit *kit = *state;
    add_order(kit, "round", "round");
    route_in(kit);
    assert_one_error(kit, "step-order", "itself");
}

static void an_unknown_id_is_answered_with_the_nearest(void **state) {
    struct kit *kit = *state;
    add_order(kit, "saw-sid", "round");
    route_in(kit);
    assert_one_error(kit, "step-id", "'saw-sid'");
    assert_non_null(strstr(kit->diags.items[0].hint, "'saw-side'"));
}

static void an_id_that_this_recipe_does_not_need_is_told_apart(void **state) {
    struct kit *kit = *state;
    kit->recipe.lip = NULL;
    add_step(kit, STEP_SKIP, "lip-glue");
    add_step(kit, STEP_CHANGE, "colour-9");
    route_in(kit);
    assert_int_equal(kit->diags.errors, 2);
    for (int i = 0; i < 2; i++) assert_non_null(strstr(kit->diags.items[i].hint, "does not need"));
}

/* --- Skipped, changed, added --- */

static void a_skipped_step_takes_no_time_and_keeps_the_order_around_it(void **state) {
    struct kit *kit = *state;
    add_step(kit, STEP_SKIP, "mask")->because = str_of("the lip is aluminium");
    add_step(kit, STEP_SKIP, "unmask");
    struct route route = route_in(kit);
    assert_no_diagnostics(kit);
    const struct operation *mask = get(&route, "mask");
    assert_string_equal(words_for(kit, mask).skipped, "the lip is aluminium");
    assert_true(strlen(words_for(kit, mask).risk) > 10);
    assert_near(mask->fixed + mask->each + mask->wait, 0, 0);
    assert_int_equal(mask->station, AT_NONE);
    assert_int_equal(mask->cautions, 0);
    assert_non_null(link_of(&route, "lip-glue", "colour-1"));
    assert_string_equal(words_for(kit, get(&route, "unmask")).skipped,
                        "the recipe gives no reason");
    assert_before(&route, "colour-3", "topcoat-1");
    assert_null(get(&route, "colour-1")->skipped);
}

static void the_topcoat_that_is_left_waits_for_the_cure(void **state) {
    struct kit *kit = *state;
    add_step(kit, STEP_SKIP, "topcoat-2");
    struct route route = route_in(kit);
    assert_near(get(&route, "topcoat-1")->wait, 24 * HOUR, 1e-6);
    for (int i = 0; i < route.link_count; i++) assert_near(route.links[i].within, 0, 0);
}

static void a_recoat_window_reaches_over_a_coat_that_is_left_out(void **state) {
    struct kit *kit = *state;
    kit->topcoat.coats = 3;
    add_step(kit, STEP_SKIP, "topcoat-2");
    struct route route = route_in(kit);
    assert_near(link_of(&route, "topcoat-1", "topcoat-3")->within, 24 * HOUR, 1e-6);
    assert_near(get(&route, "topcoat-3")->wait, 24 * HOUR, 1e-6);
}

static void skipping_twice_is_an_error(void **state) {
    struct kit *kit = *state;
    add_step(kit, STEP_SKIP, "round");
    add_step(kit, STEP_SKIP, "round");
    route_in(kit);
    assert_one_error(kit, "step-id", "skipped twice");
}

static void a_changed_step_takes_the_builders_times_and_words(void **state) {
    struct kit *kit = *state;
    struct step *step = add_step(kit, STEP_CHANGE, "lip-glue");
    step->hands_on = (struct opt){15 * MINUTE, true};
    step->wait = (struct opt){30 * MINUTE, true};
    step->say = str_of("Use the five-minute glue.");
    kit->shop.temperature = 11; /* the builder's wait holds as written */
    struct route route = route_in(kit);
    assert_no_diagnostics(kit);
    const struct operation *glue = get(&route, "lip-glue");
    assert_near(glue->fixed, 0, 0);
    assert_near(glue->each, 15 * MINUTE, 1e-9);
    assert_near(glue->wait, 30 * MINUTE, 1e-9);
    assert_string_equal(words_for(kit, glue).what, "Use the five-minute glue.");
    assert_non_null(words_for(kit, glue).check);
}

static void a_change_leaves_alone_what_it_does_not_name(void **state) {
    struct kit *kit = *state;
    struct route before = route_in(kit);
    add_step(kit, STEP_CHANGE, "sand")->wait = (struct opt){0, true};
    struct route after = route_in(kit);
    assert_near(get(&after, "sand")->wait, 0, 0);
    assert_close(get(&after, "sand")->each, get(&before, "sand")->each, 1e-12);
    assert_string_equal(what_in(kit, &after, "sand"), what_in(kit, &before, "sand"));
}

static void changing_twice_is_an_error(void **state) {
    struct kit *kit = *state;
    add_step(kit, STEP_CHANGE, "round");
    add_step(kit, STEP_CHANGE, "round");
    route_in(kit);
    assert_one_error(kit, "step-id", "changed twice");
}

static struct step *add_added(struct kit *kit, const char *id, const char *after,
                              const char *before) {
    struct step *step = add_step(kit, STEP_ADD, id);
    if (after) step->after = str_of(after);
    if (before) step->before = str_of(before);
    step->hands_on = (struct opt){10 * MINUTE, true};
    return step;
}

static void an_added_step_stands_between_its_neighbours(void **state) {
    struct kit *kit = *state;
    struct step *step = add_added(kit, "burn-logo", "sand", "seal-1");
    step->title = str_of("Burn in the logo");
    step->say = str_of("Hot iron, two seconds.");
    step->needs = str_of("branding iron");
    step->wait = (struct opt){5 * MINUTE, true};
    struct route route = route_in(kit);
    assert_no_diagnostics(kit);
    const struct operation *logo = get(&route, "burn-logo");
    struct words words = words_for(kit, logo);
    assert_non_null(logo->added);
    assert_string_equal(words.title, "Burn in the logo");
    assert_string_equal(words.what, "Hot iron, two seconds.");
    assert_string_equal(words.with, "branding iron");
    assert_null(words.check);
    assert_int_equal(logo->station, AT_BENCH);
    assert_near(logo->fixed + logo->each, 10 * MINUTE, 1e-9);
    assert_near(logo->wait, 5 * MINUTE, 1e-9);
    assert_int_equal(index_in(&route, "burn-logo"), index_in(&route, "sand") + 1);
    assert_non_null(link_of(&route, "sand", "burn-logo"));
    assert_non_null(link_of(&route, "burn-logo", "seal-1"));
}

static void a_step_added_after_another_comes_before_what_follows_it(void **state) {
    struct kit *kit = *state;
    add_added(kit, "second", "first", NULL); /* written before the step that it names */
    add_added(kit, "first", "seal-2", NULL);
    struct route route = route_in(kit);
    assert_no_diagnostics(kit);
    int seal = index_in(&route, "seal-2");
    assert_string_equal(route.operations[seal + 1].id, "first");
    assert_string_equal(route.operations[seal + 2].id, "second");
    assert_non_null(link_of(&route, "second", "float-test"));
    assert_connected(&route);
}

static void a_step_added_before_another_comes_after_what_precedes_it(void **state) {
    struct kit *kit = *state;
    add_added(kit, "warm-resin", NULL, "topcoat-1");
    struct route route = route_in(kit);
    assert_no_diagnostics(kit);
    assert_int_equal(index_in(&route, "warm-resin"), index_in(&route, "topcoat-1") - 1);
    assert_non_null(link_of(&route, "unmask", "warm-resin"));
    assert_non_null(link_of(&route, "warm-resin", "topcoat-1"));
}

static void needs_may_name_a_place(void **state) {
    struct kit *kit = *state;
    add_added(kit, "glitter", "colour-3", "topcoat-1")->needs = str_of("spray place");
    add_added(kit, "flood", "colour-3", "topcoat-1")->needs = str_of("wheel");
    struct route route = route_in(kit);
    assert_int_equal(get(&route, "glitter")->station, AT_SPRAY);
    assert_true(get(&route, "glitter")->coat);
    assert_null(words_for(kit, get(&route, "glitter")).with);
    assert_string_equal(words_for(kit, get(&route, "glitter")).title, "glitter");
    assert_int_equal(get(&route, "flood")->station, AT_WHEEL);
    assert_true(get(&route, "flood")->by_wheel);
}

static void an_added_step_warns_of_what_it_says_and_of_its_tools(void **state) {
    const unsigned dust = 1u << CAUTION_DUST, power = 1u << CAUTION_POWER_TOOLS,
                   epoxy = 1u << CAUTION_EPOXY, lead = 1u << CAUTION_LEAD;
    static const struct {
        const char *id, *needs;
    } steps[] = {{"turn", "Lathe, skew chisel"}, {"turn-two", "two lathes"},
                 {"sand-on", "belt sander"},     {"score", "sand, cloth and a blathe"},
                 {"draw", "lead pencil"},        {"weight", "split lead"},
                 {"wipe", "epoxied rag"},        {"glue", "slow epoxy mixed thick"}};
    const unsigned wanted[] = {dust | power, dust | power, dust | power, 0, 0, lead, 0, epoxy};
    struct kit *kit = *state;
    for (size_t i = 0; i < sizeof steps / sizeof *steps; i++)
        add_added(kit, steps[i].id, "true", NULL)->needs = str_of(steps[i].needs);
    add_added(kit, "fuss", "true", NULL)->caution = epoxy | lead;
    struct step *both = add_added(kit, "both", "true", NULL);
    both->needs = str_of("drill press");
    both->caution = lead;
    struct route route = route_in(kit);
    assert_no_diagnostics(kit);
    for (size_t i = 0; i < sizeof steps / sizeof *steps; i++)
        assert_int_equal(get(&route, steps[i].id)->cautions, wanted[i]);
    assert_int_equal(get(&route, "fuss")->cautions, epoxy | lead);
    assert_int_equal(get(&route, "both")->cautions, dust | power | lead);
}

static void a_changed_step_warns_of_its_own_too(void **state) {
    struct kit *kit = *state;
    struct route plain = route_in(kit);
    unsigned before = get(&plain, "seal-1")->cautions, epoxy = 1u << CAUTION_EPOXY;
    assert_false(before & epoxy);
    struct step *change = &kit->steps[kit->recipe.step_count++];
    *change = (struct step){.change = STEP_CHANGE, .id = str_of("seal-1"), .caution = epoxy};
    struct route route = route_in(kit);
    assert_int_equal(get(&route, "seal-1")->cautions, before | epoxy);
}

static void an_added_step_that_goes_against_a_rule_is_an_error(void **state) {
    struct kit *kit = *state;
    add_added(kit, "odd", "topcoat-1", "seal-2");
    route_in(kit);
    assert_one_error(kit, "step-order", "the order is seal-2, ");
    assert_non_null(strstr(kit->diags.items[0].message, "topcoat-1, odd, and "));
}

static void an_unknown_id_inside_an_order_hides_no_other_error(void **state) {
    struct kit *kit = *state;
    struct step *step = add_step(kit, STEP_ORDER, "");
    step->order = NEW(&kit->arena, struct str, 3);
    step->order[0] = str_of("topcoat-1");
    step->order[1] = str_of("lip-glu");
    step->order[2] = str_of("mask");
    step->order_count = 3;
    route_in(kit);
    assert_int_equal(kit->diags.errors, 2);
    assert_string_equal(kit->diags.items[0].rule, "step-id");
    assert_string_equal(kit->diags.items[1].rule, "step-order");
}

static void added_steps_that_wait_for_each_other_are_a_loop(void **state) {
    struct kit *kit = *state;
    int plain = route_in(kit).count;
    add_added(kit, "egg", "hen", NULL);
    add_added(kit, "hen", "egg", NULL);
    struct route route = route_in(kit);
    assert_one_error(kit, "step-order", "loop");
    assert_int_equal(route.count, plain + 2);
}

static void an_added_step_needs_a_new_and_proper_id_and_a_place(void **state) {
    struct kit *kit = *state;
    add_added(kit, "seal-1", "sand", NULL);
    add_added(kit, "twice", "sand", NULL);
    add_added(kit, "twice", "sand", NULL);
    add_added(kit, "Not an id\n", "sand", NULL);
    add_added(kit, "nowhere", NULL, NULL);
    add_added(kit, "lost", "snad", NULL);
    struct route route = route_in(kit);
    static const char *const rules[] = {"step-id", "step-id", "step-id", "step-place", "step-id"};
    assert_int_equal(kit->diags.errors, 5);
    for (int i = 0; i < 5; i++) {
        assert_string_equal(kit->diags.items[i].rule, rules[i]);
        assert_null(strchr(kit->diags.items[i].message, '\n'));
    }
    assert_true(index_in(&route, "twice") > 0);
}

/* --- Scuffing --- */

static void scuffing_takes_the_place_of_a_recoat_window(void **state) {
    struct kit *kit = *state;
    struct route route = route_in(kit);
    struct route scuffed = route_scuff(&kit->arena, &route, &kit->recipe, 2);
    assert_int_equal(scuffed.count, route.count + 1);
    assert_int_equal(index_in(&scuffed, "scuff-2"), index_in(&scuffed, "topcoat-1") + 1);
    assert_int_equal(index_in(&scuffed, "scuff-2"), index_in(&scuffed, "topcoat-2") - 1);
    assert_near(link_of(&scuffed, "topcoat-1", "topcoat-2")->within, 0, 0);
    assert_non_null(link_of(&scuffed, "topcoat-1", "scuff-2"));
    assert_non_null(link_of(&scuffed, "scuff-2", "topcoat-2"));
    assert_near(get(&scuffed, "topcoat-1")->wait, 24 * HOUR, 1e-6); /* hard before it is sanded */
    assert_true(get(&scuffed, "scuff-2")->by_wheel);
    assert_connected(&scuffed);
    assert_texts(kit, &scuffed);
    assert_near(link_of(&route, "topcoat-1", "topcoat-2")->within, 24 * HOUR, 1e-6);
}

static void without_a_window_there_is_nothing_to_scuff(void **state) {
    struct kit *kit = *state;
    struct route route = route_in(kit);
    assert_int_equal(route_scuff(&kit->arena, &route, &kit->recipe, 1).count, route.count);
    assert_int_equal(route_scuff(&kit->arena, &route, &kit->recipe, 3).count, route.count);
    struct route once = route_scuff(&kit->arena, &route, &kit->recipe, 2);
    struct route twice = route_scuff(&kit->arena, &once, &kit->recipe, 2);
    assert_int_equal(twice.count, once.count);
}

static void a_scuffing_step_of_the_recipes_own_lifts_the_window(void **state) {
    struct kit *kit = *state;
    add_added(kit, "scuff-2", "topcoat-1", "topcoat-2");
    struct route route = route_in(kit);
    assert_no_diagnostics(kit);
    assert_near(link_of(&route, "topcoat-1", "topcoat-2")->within, 0, 0);
    assert_null(strstr(what_in(kit, &route, "topcoat-2"), "recoat window"));
    assert_non_null(strstr(what_in(kit, &route, "topcoat-2"), "dulled all over"));
}

/* --- Hostile --- */

static void two_hundred_tangled_steps_are_answered_at_once(void **state) {
    struct kit *kit = *state;
    enum { ADDED = 150, LONG = 190 };
    int plain = route_in(kit).count;
    for (int i = 0; i < ADDED; i++)
        add_added(kit, arena_printf(&kit->arena, "own-%d", i),
                  arena_printf(&kit->arena, "own-%d", (i * 7 + 3) % ADDED), NULL);
    for (int i = ADDED; i < MAX_STEPS; i++) {
        struct step *step = add_step(kit, STEP_ORDER, "");
        step->order = NEW(&kit->arena, struct str, LONG);
        step->order_count = LONG;
        for (int k = 0; k < LONG; k++)
            step->order[k] = str_of(arena_printf(&kit->arena, "own-%d", (k * (i + 1)) % 160));
    }
    struct route route = route_in(kit);
    assert_true(kit->diags.errors > 100);
    assert_int_equal(route.count, plain + ADDED);
    for (int i = 0; i < route.link_count; i++)
        assert_true(route.links[i].before < route.links[i].after);
    assert_rules_hold(&route);
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, set_up, tear_down)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(a_full_recipe_gets_every_operation_in_the_order_of_a_plan),
        TEST(a_bare_square_stick_needs_only_what_shapes_and_tests_it),
        TEST(a_line_tie_on_the_lip_needs_no_wire_in_the_body),
        TEST(ballast_without_bores_and_paint_without_layers_are_no_work),
        TEST(every_combination_of_parts_gives_a_whole_and_orderly_route),
        TEST(every_rule_has_its_reason),
        TEST(waits_follow_the_recipe),
        TEST(a_cold_shop_slows_every_cure_and_no_drying),
        TEST(epoxy_below_ten_degrees_is_an_error),
        TEST(a_glued_step_with_a_wait_of_its_own_may_cure_elsewhere),
        TEST(more_bores_wires_and_coats_are_more_work),
        TEST(work_grows_with_the_surface_the_wood_and_the_sheet),
        TEST(the_effort_of_wood_goes_from_soft_to_hard),
        TEST(a_scuffing_takes_as_long_as_the_surface_asks),
        TEST(coats_are_laid_in_one_go_and_the_wheel_takes_only_topcoats),
        TEST(steps_speak_of_this_recipe),
        TEST(only_what_has_a_lip_is_to_run_straight),
        TEST(a_lip_is_worked_as_its_sheet_asks),
        TEST(a_tie_on_the_lip_has_its_drill_and_its_place),
        TEST(a_template_is_glued_on_every_block),
        TEST(an_inch_shop_reads_inches),
        TEST(every_place_of_a_text_is_filled_by_a_row),
        TEST(braces_in_a_recipe_are_left_alone),
        TEST(only_dangers_of_this_recipe_are_warned_of),
        TEST(a_fluorescent_colour_on_bare_wood_is_an_error),
        TEST(a_ground_on_another_part_of_the_plug_does_not_count),
        TEST(a_ground_laid_after_the_colour_does_not_count),
        TEST(a_ground_on_the_same_part_is_enough),
        TEST(back_flanks_and_belly_together_are_a_whole_ground),
        TEST(the_ground_is_the_reason_why_it_comes_first),
        TEST(an_order_that_spoils_the_work_is_an_error_that_says_why),
        TEST(an_error_in_an_order_stands_at_the_id_that_comes_too_late),
        TEST(what_is_usual_is_the_order_that_a_recipe_gets_unasked),
        TEST(a_habit_of_the_trade_yields_to_the_builder),
        TEST(a_weighing_that_is_left_out_orders_nothing),
        TEST(independent_work_may_be_put_in_any_order),
        TEST(two_orders_that_contradict_each_other_are_a_loop),
        TEST(an_operation_cannot_come_before_itself),
        TEST(an_unknown_id_is_answered_with_the_nearest),
        TEST(an_unknown_id_inside_an_order_hides_no_other_error),
        TEST(an_id_that_this_recipe_does_not_need_is_told_apart),
        TEST(a_skipped_step_takes_no_time_and_keeps_the_order_around_it),
        TEST(the_topcoat_that_is_left_waits_for_the_cure),
        TEST(a_recoat_window_reaches_over_a_coat_that_is_left_out),
        TEST(skipping_twice_is_an_error),
        TEST(a_changed_step_takes_the_builders_times_and_words),
        TEST(a_change_leaves_alone_what_it_does_not_name),
        TEST(changing_twice_is_an_error),
        TEST(an_added_step_stands_between_its_neighbours),
        TEST(a_step_added_after_another_comes_before_what_follows_it),
        TEST(a_step_added_before_another_comes_after_what_precedes_it),
        TEST(needs_may_name_a_place),
        TEST(an_added_step_warns_of_what_it_says_and_of_its_tools),
        TEST(a_changed_step_warns_of_its_own_too),
        TEST(an_added_step_that_goes_against_a_rule_is_an_error),
        TEST(added_steps_that_wait_for_each_other_are_a_loop),
        TEST(an_added_step_needs_a_new_and_proper_id_and_a_place),
        TEST(scuffing_takes_the_place_of_a_recoat_window),
        TEST(without_a_window_there_is_nothing_to_scuff),
        TEST(a_scuffing_step_of_the_recipes_own_lifts_the_window),
        TEST(two_hundred_tangled_steps_are_answered_at_once),
    };
    return cmocka_run_group_tests_name("route", tests, NULL, NULL);
}
