#include "recipe_text.h"

#include "compute/implied.h"
#include "model/align.h"
#include "model/change.h"
#include "model/graft.h"

/* --- two recipes ----------------------------------------------------------------------------- */

struct two {
    struct compilation old, new;
};

static struct compilation compiled(struct bench *bench, const char *text) {
    struct compilation c = compile_text(&bench->arena, "test", str_of(text));
    for (int i = 0; i < c.diags.count; i++)
        if (c.diags.items[i].severity == SEVERITY_ERROR)
            print_error("%d: %s\n", c.diags.items[i].at.line, c.diags.items[i].message);
    assert_int_equal(c.diags.errors, 0);
    return c;
}

static struct two two_of(struct bench *bench, struct recipe_parts old, struct recipe_parts new) {
    return (struct two){compiled(bench, recipe_text_of(&bench->arena, old).data),
                        compiled(bench, recipe_text_of(&bench->arena, new).data)};
}

static struct walk walk_over(struct bench *bench, const struct compilation *c) {
    return (struct walk){.arena = &bench->arena,
                         .recipe = c->recipe,
                         .implied = implied_values(&bench->arena, &c->results)};
}

static struct change_list changes_in(struct bench *bench, const struct two *two) {
    return change_between(walk_over(bench, &two->old), walk_over(bench, &two->new));
}

static const char *or_dash(const char *text) {
    return text ? text : "-";
}

/* Every change on a line of its own: "kind path (item): old > new". */
static const char *told(struct bench *bench, const struct change_list *list) {
    static const char *const kinds[] = {"value", "shifted", "added", "removed", "reordered"};
    struct buf out = {.arena = &bench->arena};
    buf_text(&out, "");
    for (int i = 0; i < list->count; i++) {
        const struct change *c = &list->items[i];
        buf_printf(&out, "%s %s (%s): %s > %s\n", kinds[c->kind], c->path, or_dash(c->item),
                   or_dash(c->before), or_dash(c->after));
    }
    return out.data;
}

static void expect(struct bench *bench, struct recipe_parts old, struct recipe_parts new,
                   const char *due) {
    struct two two = two_of(bench, old, new);
    struct change_list list = changes_in(bench, &two);
    assert_string_equal(told(bench, &list), due);
}

/* --- what is no change ----------------------------------------------------------------------- */

#define HARDWARE(wire, more) \
    "hardware:\n  wire: {diameter: " wire "}\n  line tie: {place: nose}\n" more

static void the_same_length_in_another_unit_is_no_change(void **state) {
    expect(*state, PARTS(.hardware = HARDWARE("1/32 in", "")),
           PARTS(.hardware = HARDWARE("0.79375 mm", "")), "");
}

static void a_gauge_and_its_diameter_are_no_change(void **state) {
    /* The British Standard Wire Gauge, which is a table: 18 SWG is 0.048 in. */
    expect(*state, PARTS(.hardware = HARDWARE("18 swg", "")),
           PARTS(.hardware = HARDWARE("0.048 in", "")), "");
}

static void a_default_written_out_is_no_change(void **state) {
    expect(*state, PARTS(.water = NULL),
           PARTS(.water =
                     "water: {temperature: 59 degF, salinity: 0 g/kg}\n"
                     "shop: {temperature: 20 degC, allowance: {width: 2 mm}, units: metric}\n"),
           "");
}

static void what_the_compiler_would_put_in_is_no_change(void **state) {
    expect(*state,
           PARTS(.hardware = HARDWARE("1 mm", "  hangers: [{place: tail, hook: {size: \"4\"}}]\n"),
                 .eyes = "eyes: {size: 6 mm, at: 15 mm}\n"),
           PARTS(.hardware = "hardware:\n"
                             "  wire: {diameter: 1 mm}\n"
                             "  line tie: {place: nose, depth: 20 mm, pilot: 2 mm}\n"
                             "  hangers: [{place: tail, pilot: 2 mm, hook: {size: \"4\"}}]\n",
                 .eyes = "eyes: {size: 6 mm, at: 15 %}\n"),
           "");
}

#define LAYERS(thin, items) "finish: {paint: {thin: " thin ", layers: [" items "]}}\n"
#define WHITE               "{colour: white, hex: \"#FFFFFF\", kind: opaque}"
#define GREEN               "{colour: green, hex: \"#00FF00\", kind: opaque, where: back}"
#define RED                 "{colour: red, hex: \"#FF0000\", kind: transparent, where: head, coats: 2}"
#define THINNED             "{colour: white, hex: \"#FFFFFF\", kind: opaque, thin: \"2:1\", cover: 100 %}"

static void a_layer_that_writes_out_the_thinning_of_the_paint_is_no_change(void **state) {
    expect(*state, PARTS(.finish = LAYERS("\"4:2\"", WHITE)),
           PARTS(.finish = LAYERS("\"2:1\"", THINNED)), "");
}

static void the_order_of_keys_is_no_change(void **state) {
    expect(*state, PARTS(.wood = "wood: {species: basswood, density: 400 kg/m3, moisture: 9 %}\n"),
           PARTS(.wood = "wood: {moisture: 9 %, density: 0.4 g/cm3, species: basswood}\n"), "");
}

/* --- values ---------------------------------------------------------------------------------- */

static void values_are_told_as_they_were_written(void **state) {
    expect(*state, PARTS(.hardware = HARDWARE("18 awg", "")),
           PARTS(.hardware = HARDWARE("1.2 mm", "")),
           "value hardware.wire.diameter (-): 18 awg > 1.2 mm\n");
}

static void a_load_is_told_piece_by_piece(void **state) {
#define LOAD(pieces) \
    "ballast: {bores: [{at: 50 mm, drill: 8 mm, depth: 12 mm, load: [" pieces "]}]}\n"
    expect(*state, PARTS(.ballast = LOAD("{ball: 0.310 in}")),
           PARTS(.ballast = LOAD("{ball: 0.310 in, count: 1}, {mass: 10 gr}")),
           "value ballast.bores.load (bore at 50 mm): ball 0.310 in > ball 0.310 in, count 1; mass "
           "10 gr\n");
}

static void a_default_is_told_as_the_grammar_writes_it(void **state) {
    expect(*state, PARTS(.finish = "finish: {topcoat: {kind: epoxy}}\n"),
           PARTS(.finish = "finish: {topcoat: {kind: epoxy, cure: 36 h}}\n"),
           "value finish.topcoat.cure (-): 24 h > 36 h\n");
}

static void what_follows_from_a_change_is_not_told_as_a_change(void **state) {
    /* The pilot is twice the wire, the hook's mass follows its size. */
    expect(
        *state,
        PARTS(.hardware = HARDWARE("1 mm", "  hangers: [{place: tail, hook: {size: \"4\"}}]\n")),
        PARTS(.hardware = HARDWARE("1.2 mm", "  hangers: [{place: tail, hook: {size: \"2\"}}]\n")),
        "value hardware.wire.diameter (-): 1 mm > 1.2 mm\n"
        "value hardware.hangers.hook.size (tail hanger): 4 > 2\n");
}

static void a_part_that_comes_says_what_it_is(void **state) {
    expect(*state, PARTS(.eyes = NULL), PARTS(.eyes = "eyes: {size: 6 mm, at: 15 mm}\n"),
           "added eyes (-): - > size 6 mm, at 15 mm\n");
}

static void a_part_that_goes_says_what_it_was(void **state) {
    expect(*state,
           PARTS(.hardware = HARDWARE("1 mm", "  hangers: [{place: tail, ring: {mass: 1 g}}]\n")),
           PARTS(.hardware = HARDWARE("1 mm", "  hangers: [{place: tail}]\n")),
           "removed hardware.hangers.ring (tail hanger): mass 1 g > -\n");
}

/* --- lists ----------------------------------------------------------------------------------- */

#define BODY(length, stations) \
    "body:\n  length: " length "\n  section: {shape: square}\n  stations:\n" stations
#define STATION(at, belly) "    - {at: " at ", back: 10 mm, belly: " belly ", width: 20 mm}\n"

static void a_station_put_in_leaves_its_neighbours_alone(void **state) {
    expect(*state,
           PARTS(.body = BODY("100 mm", STATION("0 mm", "8 mm") STATION("40 mm", "11 mm")
                                            STATION("100 mm", "7 mm"))),
           PARTS(.body = BODY("100 mm", STATION("0 mm", "8 mm") STATION("20 mm", "10 mm")
                                            STATION("40 mm", "11 mm") STATION("100 mm", "7 mm"))),
           "added body.stations (station at 20 mm): - > back 10 mm, belly 10 mm, width 20 mm\n");
}

static void a_station_taken_out_leaves_its_neighbours_alone(void **state) {
    expect(*state,
           PARTS(.body = BODY("100 mm", STATION("0 mm", "8 mm") STATION("20 mm", "10 mm")
                                            STATION("40 mm", "11 mm") STATION("100 mm", "7 mm"))),
           PARTS(.body = BODY("100 mm", STATION("0 mm", "8 mm") STATION("20 mm", "10 mm")
                                            STATION("100 mm", "7 mm"))),
           "removed body.stations (station at 40 mm): back 10 mm, belly 11 mm, width 20 mm > -\n");
}

static void a_station_that_stands_elsewhere_has_moved(void **state) {
    expect(*state,
           PARTS(.body = BODY("100 mm", STATION("0 mm", "8 mm") STATION("40 mm", "11 mm")
                                            STATION("100 mm", "7 mm"))),
           PARTS(.body = BODY("100 mm", STATION("0 mm", "8 mm") STATION("44 mm", "11 mm")
                                            STATION("100 mm", "7 mm"))),
           "shifted body.stations.at (station at 40 mm): 40 mm > 44 mm\n");
}

static void stations_by_shares_follow_the_length(void **state) {
    expect(*state,
           PARTS(.body = BODY("100 mm", STATION("0 %", "8 mm") STATION("40 %", "11 mm")
                                            STATION("100 %", "7 mm"))),
           PARTS(.body = BODY("110 mm", STATION("0 %", "8 mm") STATION("40 %", "11 mm")
                                            STATION("100 %", "7 mm"))),
           "value body.length (-): 100 mm > 110 mm\n");
}

static void a_share_and_the_same_length_are_no_change(void **state) {
    expect(*state, PARTS(.body = BODY("100 mm", STATION("0 %", "8 mm") STATION("100 %", "7 mm"))),
           PARTS(.body = BODY("100 mm", STATION("0 mm", "8 mm") STATION("100 mm", "7 mm"))), "");
}

static void a_part_that_comes_names_what_it_lists(void **state) {
    expect(*state, PARTS(.finish = "finish: {seal: {coats: 2}}\n"),
           PARTS(.finish = "finish: {seal: {coats: 2}, paint: {layers: [" WHITE ", " GREEN "]}}\n"),
           "added finish.paint (-): - > layers white, green\n");
}

static void a_layer_put_in_between_leaves_the_later_ones_alone(void **state) {
    expect(
        *state, PARTS(.finish = LAYERS("\"1:1\"", WHITE ", " RED)),
        PARTS(.finish = LAYERS("\"1:1\"", WHITE ", " GREEN ", " RED)),
        "added finish.paint.layers (layer \"green\"): - > hex #00FF00, kind opaque, where back\n");
}

static void an_added_layer_names_the_one_that_it_follows(void **state) {
    struct bench *bench = *state;
    struct two two = two_of(bench, PARTS(.finish = LAYERS("\"1:1\"", WHITE ", " RED)),
                            PARTS(.finish = LAYERS("\"1:1\"", WHITE ", " GREEN ", " RED)));
    struct change_list list = changes_in(bench, &two);
    assert_int_equal(list.count, 1);
    assert_string_equal(list.items[0].behind, "layer \"white\"");
}

static void layers_in_another_order_have_moved(void **state) {
    expect(*state, PARTS(.finish = LAYERS("\"1:1\"", WHITE ", " GREEN ", " RED)),
           PARTS(.finish = LAYERS("\"1:1\"", WHITE ", " RED ", " GREEN)),
           "reordered finish.paint.layers (layer \"green\"): 2 > 3\n");
}

/* One of two that are alike is gone; the other has not moved for that. */
static void the_second_of_two_like_layers_is_taken_out(void **state) {
    expect(*state, PARTS(.finish = LAYERS("\"1:1\"", WHITE ", " RED ", " WHITE)),
           PARTS(.finish = LAYERS("\"1:1\"", WHITE ", " RED)),
           "removed finish.paint.layers (layer \"white\" (no 2)): hex #FFFFFF, kind opaque > -\n");
}

static void two_like_layers_move_each_to_a_place_of_its_own(void **state) {
    expect(*state,
           PARTS(.finish =
                     LAYERS("\"1:1\"", WHITE ", " GREEN ", " GREEN ", " RED ", " WHITE ", " RED)),
           PARTS(.finish =
                     LAYERS("\"1:1\"", WHITE ", " RED ", " WHITE ", " RED ", " GREEN ", " GREEN)),
           "reordered finish.paint.layers (layer \"green\"): 2 > 5\n"
           "reordered finish.paint.layers (layer \"green\" (no 2)): 3 > 6\n");
}

static void two_hangers_on_the_belly_are_told_apart(void **state) {
#define BELLY(first, second)                                                           \
    HARDWARE("1 mm", "  hangers:\n    - {place: belly, at: 30 mm, depth: " first "}\n" \
                     "    - {place: belly, at: 60 mm, depth: " second "}\n")
    expect(*state, PARTS(.hardware = BELLY("9 mm", "9 mm")),
           PARTS(.hardware = BELLY("9 mm", "11 mm")),
           "value hardware.hangers.depth (belly hanger (no 2)): 9 mm > 11 mm\n");
}

static void a_bore_remembers_which_one_it_was(void **state) {
    struct bench *bench = *state;
#define BORES(items) "ballast: {bores: [" items "]}\n"
#define BORE(at)     "{at: " at ", drill: 6 mm, load: [{mass: 2 g}]}"
    struct two two =
        two_of(bench, PARTS(.ballast = BORES(BORE("30 mm") ", " BORE("70 mm"))),
               PARTS(.ballast = BORES(BORE("15 mm") ", " BORE("30 mm") ", " BORE("72 mm"))));
    struct change_list list = changes_in(bench, &two);
    assert_int_equal(list.bore_before[0], -1);
    assert_int_equal(list.bore_before[1], 0);
    assert_int_equal(list.bore_before[2], 1);
}

/* --- alignment ------------------------------------------------------------------------------- */

static double letters(const void *context, int old, int new) {
    const char *const *words = context;
    return words[0][old] == words[1][new] ? 0 : 1;
}

/* Distances of Levenshtein: kitten and sitting 3, the textbook's pair; intention and execution 5
 * (Jurafsky and Martin, Speech and Language Processing, chapter 2). */
static void alignment_costs_what_the_textbooks_say(void **state) {
    struct bench *bench = *state;
    static const struct {
        const char *words[2];
        int distance;
    } pairs[] = {{{"kitten", "sitting"}, 3},
                 {{"intention", "execution"}, 5},
                 {{"", "abc"}, 3},
                 {{"abc", "abc"}, 0},
                 {{"abc", ""}, 3}};
    for (size_t i = 0; i < sizeof pairs / sizeof *pairs; i++) {
        const char *const *w = pairs[i].words;
        int count, cost = 0;
        const struct align_pair *p =
            align(&bench->arena, (int)strlen(w[0]), (int)strlen(w[1]), letters, w, &count);
        for (int k = 0; k < count; k++)
            cost += p[k].old < 0 || p[k].new < 0 || w[0][p[k].old] != w[1][p[k].new];
        assert_int_equal(cost, pairs[i].distance);
    }
}

static void alignment_keeps_both_orders_and_leaves_nothing_out(void **state) {
    struct bench *bench = *state;
    const char *w[] = {"the quick brown fox", "a brown quick dog"};
    int count, old = 0, new = 0;
    const struct align_pair *p =
        align(&bench->arena, (int)strlen(w[0]), (int)strlen(w[1]), letters, w, &count);
    for (int k = 0; k < count; k++) {
        if (p[k].old >= 0) assert_int_equal(p[k].old, old++);
        if (p[k].new >= 0) assert_int_equal(p[k].new, new ++);
    }
    assert_int_equal(old, strlen(w[0]));
    assert_int_equal(new, strlen(w[1]));
}

/* --- grafting -------------------------------------------------------------------------------- */

static const struct recipe_parts stock = {
    .finish = LAYERS("\"1:1\"", WHITE ", " RED),
    .ballast = BORES(BORE("30 mm")),
    .lip = "lip: {thickness: 1.5 mm, length: 25 mm, width: 18 mm, shape: square, at: 6 mm, "
           "angle: 40 deg, slot: 6 mm}\n",
};
static const struct recipe_parts scion = {
    .head = "recipe: 1\nname: Other\nmake: 7\nnote: longer\n",
    .wood = "wood: {species: balsa, moisture: 11 %, density: 210 kg/m3}\n",
    .body =
        BODY("120 mm", STATION("0 mm", "8 mm") STATION("50 mm", "11 mm") STATION("120 mm", "7 mm")),
    .hardware = HARDWARE("1.3 mm", "  hangers: [{place: tail, hook: {size: \"2\"}}]\n"),
    .finish = "finish: {seal: {coats: 3}, paint: {film: 20 um, layers: [" WHITE ", " GREEN "]}, "
              "topcoat: {kind: epoxy, coats: 2}}\n",
    .ballast = "ballast: {material: tin, bores: [" BORE("34 mm") ", " BORE("70 mm") "]}\n",
    .eyes = "eyes: {size: 6 mm, at: 15 mm}\n",
    .water = "water: {temperature: 4 degC, salinity: 30 g/kg}\n",
};

static void check_finished(const struct results *got, const struct results *want) {
    assert_close(got->finished.burden.mass, want->finished.burden.mass, 1e-12);
    assert_close(got->finished.rest.reserve, want->finished.rest.reserve, 1e-12);
    assert_close(got->finished.rest.attitude, want->finished.rest.attitude, 1e-12);
    assert_close(got->supply.blank_length, want->supply.blank_length, 1e-12);
    assert_int_equal(got->run.route.count, want->run.route.count);
}

static void a_recipe_with_all_parts_of_another_is_that_other(void **state) {
    struct bench *bench = *state;
    struct two two = two_of(bench, stock, scion);
    struct change_list list = changes_in(bench, &two);
    const struct recipe *recipe = two.old.recipe;
    assert_true(list.group_count >= 10);
    for (int i = 0; i < list.group_count; i++)
        recipe = graft(&bench->arena, recipe, two.new.recipe, &list.groups[i]);
    struct diags diags = {.arena = &bench->arena};
    struct results results = results_compute(&bench->arena, recipe, RESULTS_ALL, &diags);
    assert_int_equal(diags.errors, 0);
    check_finished(&results, &two.new.results);
}

static void grafting_leaves_the_stock_as_it_was(void **state) {
    struct bench *bench = *state;
    struct two two = two_of(bench, stock, scion);
    struct change_list list = changes_in(bench, &two);
    for (int i = 0; i < list.group_count; i++)
        graft(&bench->arena, two.old.recipe, two.new.recipe, &list.groups[i]);
    struct diags diags = {.arena = &bench->arena};
    struct results again = results_compute(&bench->arena, two.old.recipe, RESULTS_ALL, &diags);
    check_finished(&again, &two.old.results);
}

static void every_change_belongs_to_one_group(void **state) {
    struct bench *bench = *state;
    struct two two = two_of(bench, stock, scion);
    struct change_list list = changes_in(bench, &two);
    int next = 0;
    for (int i = 0; i < list.group_count; i++) {
        assert_int_equal(list.groups[i].first, next);
        assert_true(list.groups[i].count > 0);
        next += list.groups[i].count;
    }
    assert_int_equal(next, list.count);
}

/* --- what is no single number or word ------------------------------------------------------- */

#define START "shop: {start: 2027-02-01T18:00}\n"

static void a_day_that_the_run_is_due_is_told_as_a_date(void **state) {
    expect(*state, PARTS(.head = "recipe: 1\nname: Box\ndue: 2027-03-01\n", .shop = START),
           PARTS(.head = "recipe: 1\nname: Box\ndue: 2027-03-08\n", .shop = START),
           "value due (-): 2027-03-01 > 2027-03-08\n");
}

#define ADDED(cautions)                                                                   \
    "steps:\n  - {add: rub, title: Rub down, after: smooth, say: Rub it down., caution: " \
    "[" cautions "]}\n"

static void cautions_of_an_added_step_are_told_by_their_names(void **state) {
    expect(*state, PARTS(.steps = ADDED("lead")), PARTS(.steps = ADDED("lead, wood dust")),
           "value steps.caution (step \"rub\"): lead > lead, wood dust\n");
}

static void an_order_is_called_by_its_ids(void **state) {
    expect(*state,
           PARTS(.finish = "finish: {seal: {coats: 2}}\n",
                 .steps = "steps: [{order: [layout, saw-side]}]\n"),
           PARTS(.finish = "finish: {seal: {coats: 2}}\n",
                 .steps = "steps: [{order: [layout, saw-side, saw-top]}]\n"),
           "removed steps (step with order layout, saw-side):  > -\n"
           "added steps (step with order layout, saw-side, saw-top): - > \n");
}

#define CHAMBER(more)                                                              \
    "chambers: [{at: 50 mm, drill: 8 mm, depth: 12 mm, closed with: filler, " more \
    "holds: {name: balls, mass: 0.8 g}}]\n"

/* Of every chamber, and only where it bores into an end is its height the datum's. */
static void the_height_of_a_chamber_in_an_end_is_the_datum(void **state) {
#define BOTH(nose, tail)                                        \
    "chambers:\n  - {from: nose, " nose                         \
    "drill: 6 mm, depth: 12 mm, holds: {name: a, mass: 1 g}}\n" \
    "  - {from: tail, " tail "drill: 6 mm, depth: 12 mm, holds: {name: b, mass: 1 g}}\n"
#define TIE "hardware:\n  wire: {diameter: 1 mm}\n  line tie: {place: belly, at: 50 mm}\n"
    expect(*state, PARTS(.hardware = TIE, .ballast = BOTH("", "")),
           PARTS(.hardware = TIE, .ballast = BOTH("up: 0 mm, ", "up: 0 mm, ")), "");
}

static void the_filler_of_a_chamber_that_is_usual_is_no_change(void **state) {
    expect(*state, PARTS(.ballast = CHAMBER("")), PARTS(.ballast = CHAMBER("filler: 1200 kg/m3, ")),
           "");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(the_same_length_in_another_unit_is_no_change),
        BENCH_TEST(a_gauge_and_its_diameter_are_no_change),
        BENCH_TEST(a_default_written_out_is_no_change),
        BENCH_TEST(what_the_compiler_would_put_in_is_no_change),
        BENCH_TEST(a_layer_that_writes_out_the_thinning_of_the_paint_is_no_change),
        BENCH_TEST(the_order_of_keys_is_no_change),
        BENCH_TEST(values_are_told_as_they_were_written),
        BENCH_TEST(a_load_is_told_piece_by_piece),
        BENCH_TEST(a_default_is_told_as_the_grammar_writes_it),
        BENCH_TEST(what_follows_from_a_change_is_not_told_as_a_change),
        BENCH_TEST(a_part_that_comes_says_what_it_is),
        BENCH_TEST(a_part_that_goes_says_what_it_was),
        BENCH_TEST(a_station_put_in_leaves_its_neighbours_alone),
        BENCH_TEST(a_station_taken_out_leaves_its_neighbours_alone),
        BENCH_TEST(a_station_that_stands_elsewhere_has_moved),
        BENCH_TEST(stations_by_shares_follow_the_length),
        BENCH_TEST(a_share_and_the_same_length_are_no_change),
        BENCH_TEST(a_part_that_comes_names_what_it_lists),
        BENCH_TEST(a_layer_put_in_between_leaves_the_later_ones_alone),
        BENCH_TEST(an_added_layer_names_the_one_that_it_follows),
        BENCH_TEST(layers_in_another_order_have_moved),
        BENCH_TEST(the_second_of_two_like_layers_is_taken_out),
        BENCH_TEST(two_like_layers_move_each_to_a_place_of_its_own),
        BENCH_TEST(two_hangers_on_the_belly_are_told_apart),
        BENCH_TEST(a_bore_remembers_which_one_it_was),
        BENCH_TEST(alignment_costs_what_the_textbooks_say),
        BENCH_TEST(alignment_keeps_both_orders_and_leaves_nothing_out),
        BENCH_TEST(a_recipe_with_all_parts_of_another_is_that_other),
        BENCH_TEST(grafting_leaves_the_stock_as_it_was),
        BENCH_TEST(every_change_belongs_to_one_group),
        BENCH_TEST(a_day_that_the_run_is_due_is_told_as_a_date),
        BENCH_TEST(cautions_of_an_added_step_are_told_by_their_names),
        BENCH_TEST(an_order_is_called_by_its_ids),
        BENCH_TEST(the_height_of_a_chamber_in_an_end_is_the_datum),
        BENCH_TEST(the_filler_of_a_chamber_that_is_usual_is_no_change),
    };
    return cmocka_run_group_tests_name("change", tests, NULL, NULL);
}
