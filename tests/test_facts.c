#include "recipe_text.h"

#include "compute/implied.h"
#include "emit/facts.h"

/* --- facts of a text ------------------------------------------------------------------------- */

static const char *facts_of(struct bench *bench, const char *text) {
    struct buf out = {.arena = &bench->arena};
    struct compilation c = compile_text(&bench->arena, "test", str_of(text));
    struct walk walk = {.arena = &bench->arena, .recipe = c.recipe, .diags = &c.diags};
    bench->diags = c.diags;
    bench->recipe = c.recipe;
    if (!c.diags.errors) walk.implied = implied_values(&bench->arena, &c.results);
    facts_emit(&out, &walk, NULL, 0, c.diags.errors ? NULL : &c.results, &c.diags);
    return out.data;
}

static const char *good_facts(struct bench *bench, const char *text) {
    const char *facts = facts_of(bench, text);
    if (bench->diags.errors) print_error("%s\n", facts);
    assert_int_equal(bench->diags.errors, 0);
    return facts;
}

/* The value of a path, or NULL. */
static const char *value_of(struct bench *bench, const char *facts, const char *path) {
    const char *head = arena_printf(&bench->arena, "%s = ", path);
    for (const char *line = facts; line && *line; line = strchr(line, '\n')) {
        line += *line == '\n';
        if (strncmp(line, head, strlen(head)) == 0)
            return arena_copy(&bench->arena, line + strlen(head),
                              strcspn(line + strlen(head), "\n"));
    }
    return NULL;
}

static void expect(struct bench *bench, const char *facts, const char *path, const char *value) {
    const char *got = value_of(bench, facts, path);
    if (!got) print_error("there is no %s in\n%s", path, facts);
    assert_non_null(got);
    assert_string_equal(got, value);
}

/* The same plug twice: in millimetres with nothing said that goes without saying; and in inches,
 * gauges and shares, in another order, with every default written out. */
static const char metric[] =
    "recipe: 1\n"
    "name: Twin\n"
    "wood: {species: basswood}\n"
    "body:\n"
    "  length: 101.6 mm\n"
    "  section: {shape: oval}\n"
    "  stations:\n"
    "    - {at: 0 mm, back: 8 mm, belly: 8 mm, width: 15.875 mm}\n"
    "    - {at: 50.8 mm, back: 10 mm, belly: 12.7 mm, width: 24 mm}\n"
    "    - {at: 101.6 mm, back: 7.9375 mm, belly: 8 mm, width: 15 mm}\n"
    "hardware:\n"
    "  wire: {diameter: 1.2192 mm}\n"
    "  line tie: {place: nose}\n"
    "  hangers: [{place: tail, hook: {size: \"4\"}}]\n"
    "ballast:\n"
    "  aim: {reserve: 35 %}\n"
    "  bores: [{at: 40.64 mm, drill: 9.525 mm, load: solve}]\n"
    "finish:\n"
    "  paint: {layers: [{colour: white, hex: \"#ffffff\", kind: opaque}]}\n";

static const char imperial[] =
    "finish:\n"
    "  paint:\n"
    "    thin: \"2:2\"\n"
    "    film: 0.012 mm\n"
    "    density: 1200 kg/m3\n"
    "    solids: 20 %\n"
    "    transfer: 40 %\n"
    "    layers:\n"
    "      - {kind: opaque, colour: white, hex: \"#FFFFFF\", where: whole, cover: 100 %, coats: "
    "1,\n"
    "         dry: 1200 s, thin: \"1:1\"}\n"
    "ballast:\n"
    "  material: lead\n"
    "  density: 11.34 g/cm3\n"
    "  filler: 1200 kg/m3\n"
    "  cover: 2 mm\n"
    "  bores: [{at: 40 %, drill: 3/8 in, load: solve}]\n"
    "  aim: {reserve: 35 %}\n"
    "hardware:\n"
    "  hangers:\n"
    "    - {place: tail, depth: 20 mm, eye: 3 mm, pilot: 2.4384 mm,\n"
    "       hook: {size: \"4\"}}\n"
    "  line tie: {place: nose, depth: 20 mm, eye: 3000 um, pilot: 96 thou}\n"
    "  wire: {diameter: 18 swg, material: stainless}\n"
    "body:\n"
    "  section: {shape: oval}\n"
    "  length: 4 in\n"
    "  stations:\n"
    "    - {at: 0 %, back: 8 mm, belly: 8 mm, width: 5/8 in}\n"
    "    - {at: 2 in, back: 1 cm, belly: 1/2 in, width: 2.4 cm}\n"
    "    - {at: 100 %, back: 5/16 in, belly: 8 mm, width: 15 mm}\n"
    "wood: {moisture: 8 %, species: basswood, spread: 10 %}\n"
    "water: {temperature: 59 degF, salinity: 0 g/kg}\n"
    "shop: {temperature: 68 degF, wheel: 6, kerf: 2 mm, paper: A4, units: metric,\n"
    "       allowance: {length: 6 mm, height: 2 mm, width: 2 mm}}\n"
    "make: 1\n"
    "name: Twin\n"
    "recipe: 1\n";

static void the_same_design_gives_the_same_lines_however_it_is_written(void **state) {
    struct bench *bench = *state;
    assert_string_equal(good_facts(bench, metric), good_facts(bench, imperial));
}

static void another_design_gives_other_lines(void **state) {
    struct bench *bench = *state;
    const char *other = arena_copy(&bench->arena, metric, sizeof metric - 1);
    char *width = strstr(other, "15.875");
    memcpy(width, "15.874", 6);
    const char *a = good_facts(bench, metric), *b = good_facts(bench, other);
    expect(bench, a, "body.stations[000 mm].width", "15.875 mm");
    expect(bench, b, "body.stations[000 mm].width", "15.874 mm");
}

/* --- the lines ------------------------------------------------------------------------------- */

static void lines_are_sorted_byte_by_byte_and_every_path_stands_once(void **state) {
    struct bench *bench = *state;
    const char *facts = good_facts(bench, metric), *before = "";
    int results = 0;
    for (const char *line = facts; *line; line = strchr(line, '\n') + 1) {
        const char *sign = strstr(line, " = ");
        assert_non_null(sign);
        const char *path = arena_copy(&bench->arena, line, (size_t)(sign - line));
        bool first_result = strncmp(path, "result.", 7) == 0 && results++ == 0;
        if (!first_result) assert_true(strcmp(before, path) < 0);
        before = path;
    }
    assert_true(results > 10);
}

static void results_stand_at_the_end_rounded_to_the_bench(void **state) {
    struct bench *bench = *state;
    const char *facts = good_facts(bench, metric);
    assert_true(strstr(facts, "\nwood.") < strstr(facts, "\nresult."));
    expect(bench, facts, "result.float.finished.reserve", "35.0 %");
    expect(bench, facts, "result.float.finished.state", "floats");
}

static void lists_tell_their_order_and_name_their_items(void **state) {
    struct bench *bench = *state;
    const char *facts = good_facts(bench, metric);
    expect(bench, facts, "body.stations", "0 mm, 50.8 mm, 101.6 mm");
    expect(bench, facts, "body.stations[050.8 mm].belly", "12.7 mm");
    expect(bench, facts, "hardware.hangers", "tail");
    expect(bench, facts, "hardware.hangers[tail].hook.size", "4");
    expect(bench, facts, "ballast.bores[040.64 mm].load", "solve");
}

static void items_of_one_name_are_numbered(void **state) {
    struct bench *bench = *state;
    const char *facts = good_facts(
        bench, recipe_text_of(&bench->arena, PARTS(.hardware = "hardware:\n"
                                                               "  wire: {diameter: 1 mm}\n"
                                                               "  line tie: {place: nose}\n"
                                                               "  hangers:\n"
                                                               "    - {place: belly, at: 30 mm}\n"
                                                               "    - {place: belly, at: 60 mm}\n"))
                   .data);
    expect(bench, facts, "hardware.hangers", "belly, belly #2");
    expect(bench, facts, "hardware.hangers[belly].at", "30 mm");
    expect(bench, facts, "hardware.hangers[belly #2].at", "60 mm");
}

/* Written out, the usual side says nothing new; one without a place is called by its side. */
static void the_usual_side_of_a_bore_is_not_told(void **state) {
    struct bench *bench = *state;
    const char *facts = good_facts(
        bench,
        recipe_text_of(
            &bench->arena,
            PARTS(.ballast =
                      "ballast:\n  bores:\n"
                      "    - {at: 30 mm, drill: 6 mm, load: [{mass: 2 g}]}\n"
                      "    - {from: belly, at: 50 mm, drill: 6 mm, load: [{mass: 2 g}]}\n"
                      "    - {from: back, at: 70 mm, drill: 4 mm, load: [{mass: 1 g}]}\n"
                      "    - {from: tail, drill: 4 mm, depth: 15 mm, load: [{mass: 1 g}]}\n"))
            .data);
    expect(bench, facts, "ballast.bores", "30 mm, 50 mm, 70 mm, from tail");
    assert_null(value_of(bench, facts, "ballast.bores[030 mm].from"));
    assert_null(value_of(bench, facts, "ballast.bores[050 mm].from"));
    expect(bench, facts, "ballast.bores[070 mm].from", "back");
    expect(bench, facts, "ballast.bores[from tail].up", "0 mm");
}

static void the_base_is_a_way_of_writing(void **state) {
    struct bench *bench = *state;
    const char *facts = facts_of(
        bench,
        recipe_text_of(&bench->arena, PARTS(.head = "recipe: 1\nname: Box\nbase: none\n")).data);
    assert_null(value_of(bench, facts, "base"));
}

/* A default of the grammar that no fact tells would make two designs look alike. */
static void every_default_of_the_grammar_is_a_fact(void **state) {
    struct bench *bench = *state;
    good_facts(
        bench,
        recipe_text_of(&bench->arena,
                       PARTS(.lip = "face: {cup: {width: 9 mm, depth: 2 mm}}\n"
                                    "lip: {thickness: 1.5 mm, length: 25 mm, width: 18 mm, shape: "
                                    "square, at: 6 mm, angle: 40 deg, slot: 6 mm}\n",
                             .hardware = "hardware:\n"
                                         "  wire: {diameter: 1 mm}\n"
                                         "  through: {from: back, up: 3 mm}\n"
                                         "  line tie: {place: nose}\n"
                                         "  hangers: [{place: tail, hook: {size: 4}}, {place: "
                                         "belly, at: 60 mm, screw: {mass: 1 g, shank: 9 mm, "
                                         "diameter: 2 mm}}]\n"
                                         "fittings: [{name: skirt, at: tail, mass: 1 g}]\n",
                             .ballast = "ballast: {bores: [{at: 50 mm, drill: 6 mm, load: [{mass: "
                                        "2 g}]}]}\n"
                                        "chambers: [{at: 75 mm, drill: 5 mm, depth: 9 mm, holds: "
                                        "{name: balls, mass: 1 g}}]\n",
                             .eyes = "eyes: {size: 6 mm, at: 15 mm}\n",
                             .finish = "finish:\n"
                                       "  seal: {name: oil}\n"
                                       "  paint: {layers: [{colour: white, kind: opaque}]}\n"
                                       "  topcoat: {kind: epoxy}\n",
                             .running = "running: {diameter: 0.3 mm}\n"))
            .data);
    struct walk walk = {.arena = &bench->arena, .recipe = bench->recipe};
    struct walk_facts list = walk_recipe(&walk);
    for (int part = 0; part < PART_workshop; part++)
        for (int i = 0; i < grammar_parts[part].field_count; i++) {
            const struct field *field = &grammar_parts[part].fields[i];
            int found = 0;
            if (!field->fallback && !field->by_kind) continue;
            for (int k = 0; k < list.count; k++) found += list.items[k].field == field;
            if (!found)
                print_error("no fact of '%s' in %s\n", field->key, grammar_parts[part].name);
            assert_true(found > 0);
        }
}

/* --- texts ----------------------------------------------------------------------------------- */

static const char *facts_of_note(struct bench *bench, const char *note) {
    const char *head = arena_printf(&bench->arena, "recipe: 1\nname: Box\nnote: \"%s\"\n", note);
    struct recipe_parts parts = {.head = head};
    return good_facts(bench, recipe_text_of(&bench->arena, parts).data);
}

static void no_text_can_make_a_line_of_its_own(void **state) {
    struct bench *bench = *state;
    const char *facts = facts_of_note(bench, "fine\\nresult.cost = 0");
    expect(bench, facts, "note", "fine\\nresult.cost = 0");
    assert_null(value_of(bench, facts, "result.cost"));
}

static void what_cannot_be_seen_is_written_out(void **state) {
    struct bench *bench = *state;
    /* U+202E turns the direction of writing, U+200B has no width. */
    expect(bench, facts_of_note(bench, "a\\u202Eb"), "note", "a\\u{202e}b");
    expect(bench, facts_of_note(bench, "a\\u200Bb"), "note", "a\\u{200b}b");
    expect(bench, facts_of_note(bench, "a\\\\u{1b}"), "note", "a\\u{5c}u{1b}");
}

/* --- errors ---------------------------------------------------------------------------------- */

static void a_recipe_with_errors_tells_what_could_be_read_and_what_is_wrong(void **state) {
    struct bench *bench = *state;
    const char *facts = facts_of(bench, "recipe: 1\n"
                                        "name: Broken\n"
                                        "wood: {species: basswud}\n"
                                        "body: {length: 900 mm}\n"
                                        "water: {temperature: 4 degC, salt: 3}\n");
    expect(bench, facts, "name", "Broken");
    expect(bench, facts, "water.temperature", "4 degC");
    assert_null(value_of(bench, facts, "wood.species"));
    assert_null(value_of(bench, facts, "body.length"));
    assert_null(strstr(facts, "result."));
    assert_non_null(strstr(facts, "error[range] = line 4: length 900 mm is outside"));
    expect(bench, facts, "make", "1");
    assert_non_null(strstr(facts, "error[unknown-key] = line 5: unknown key 'salt'"));
}

static void a_value_that_is_only_not_liked_is_told(void **state) {
    struct bench *bench = *state;
    const char *facts = facts_of(
        bench, recipe_text_of(&bench->arena,
                              PARTS(.ballast = "ballast: {bores: [{at: 50 mm, drill: 18 mm, "
                                               "depth: 19 mm, load: [{mass: 2 g}]}]}\n"))
                   .data);
    assert_non_null(strstr(facts, "error[wall] = line "));
    expect(bench, facts, "ballast.bores", "50 mm");
}

static void an_open_merge_conflict_is_one_error(void **state) {
    struct bench *bench = *state;
    const char *facts = facts_of(bench, "recipe: 1\n"
                                        "<<<<<<< HEAD\n"
                                        "name: A\n"
                                        "=======\n"
                                        "name: B\n"
                                        ">>>>>>> other\n");
    assert_string_equal(facts, "error[conflict] = line 2: a merge conflict stands open here\n");
}

static void a_warning_belongs_to_the_design_and_names_no_line(void **state) {
    struct bench *bench = *state;
    const char *facts = good_facts(
        bench, recipe_text_of(
                   &bench->arena,
                   PARTS(.ballast = "ballast: {aim: {reserve: 10 %}, bores: [{at: 50 mm, drill: "
                                    "6 mm, load: [{mass: 2 g}]}]}\n"))
                   .data);
    const char *warning = value_of(bench, facts, "result.warning[aim]");
    assert_non_null(warning);
    assert_null(strstr(warning, "line"));
}

/* Git shows recipes with errors too: a share of what is not there stays a share. */
static void a_tie_on_a_lip_that_is_not_there_keeps_its_share(void **state) {
    struct bench *b = *state;
    const char *text =
        recipe_text_of(&b->arena, PARTS(.hardware = "hardware:\n  wire: {diameter: 1 mm}\n"
                                                    "  line tie: {place: lip, at: 40 %}\n"))
            .data;
    const char *facts = facts_of(b, text);
    assert_true(b->diags.errors > 0);
    expect(b, facts, "hardware.line tie.at", "40 %");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(the_same_design_gives_the_same_lines_however_it_is_written),
        BENCH_TEST(another_design_gives_other_lines),
        BENCH_TEST(lines_are_sorted_byte_by_byte_and_every_path_stands_once),
        BENCH_TEST(results_stand_at_the_end_rounded_to_the_bench),
        BENCH_TEST(lists_tell_their_order_and_name_their_items),
        BENCH_TEST(items_of_one_name_are_numbered),
        BENCH_TEST(the_usual_side_of_a_bore_is_not_told),
        BENCH_TEST(the_base_is_a_way_of_writing),
        BENCH_TEST(every_default_of_the_grammar_is_a_fact),
        BENCH_TEST(no_text_can_make_a_line_of_its_own),
        BENCH_TEST(what_cannot_be_seen_is_written_out),
        BENCH_TEST(a_recipe_with_errors_tells_what_could_be_read_and_what_is_wrong),
        BENCH_TEST(a_value_that_is_only_not_liked_is_told),
        BENCH_TEST(an_open_merge_conflict_is_one_error),
        BENCH_TEST(a_warning_belongs_to_the_design_and_names_no_line),
        BENCH_TEST(a_tie_on_a_lip_that_is_not_there_keeps_its_share),
    };
    return cmocka_run_group_tests_name("facts", tests, NULL, NULL);
}
