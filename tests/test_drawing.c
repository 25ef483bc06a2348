/* The drawings: which there are, that they are true to size, well-formed, legible and harmless. */
#include "recipe_text.h"
#include "xml.h"

#include "emit/drawing/drawing.h"
#include "emit/drawing/inner.h"

static const struct recipe_parts full = {
    .head = "recipe: 1\nname: Heron 140\nmake: 4\n",
    .wood = "wood: {species: western redcedar}\n",
    .body = "body:\n"
            "  length: 140 mm\n"
            "  stations:\n"
            "    - {at: 0 %, back: 3 mm, belly: 3 mm, width: 6 mm}\n"
            "    - {at: 25 %, back: 13 mm, belly: 15 mm, width: 22 mm}\n"
            "    - {at: 45 %, back: 14.5 mm, belly: 18.5 mm, width: 25 mm}\n"
            "    - {at: 100 %, back: 3.5 mm, belly: 2.5 mm, width: 5 mm}\n"
            "  section: {shape: rounded, radius: 6 mm}\n",
    .hardware =
        "hardware:\n"
        "  wire: {diameter: 1.3 mm}\n"
        "  line tie: {place: nose, depth: 10 mm}\n"
        "  hangers:\n"
        "    - {place: belly, at: 58 mm, depth: 10 mm, hook: {size: 1/0}, ring: {mass: 0.4 g}}\n"
        "    - {place: tail, depth: 18 mm, hook: {size: 1}}\n",
    .lip = "face: {cup: {width: 4 mm, depth: 1 mm}}\n"
           "lip: {thickness: 1.5 mm, length: 45 mm, width: 26 mm, shape: round, at: 12 mm,\n"
           "  angle: 35 deg, slot: 8 mm}\n",
    .ballast = "ballast:\n"
               "  bores: [{at: 42 mm, drill: 10 mm, load: [{mass: 8 g}]},\n"
               "    {at: 80 mm, drill: 8 mm, load: [{mass: 2 g}]}]\n",
    .eyes = "eyes: {size: 8 mm, at: 19 mm, up: 3 mm}\n",
    .finish = "finish:\n"
              "  seal: {name: shellac}\n"
              "  paint:\n"
              "    layers:\n"
              "      - {colour: bone white, hex: \"#F0E0D0\", kind: opaque}\n"
              "      - {colour: green glass, hex: \"#40C060\", kind: transparent, where: back}\n"
              "      - {colour: soot, kind: opaque, where: bars}\n"
              "  topcoat: {kind: epoxy, recoat: {after: 4 h, before: 24 h}}\n",
    .shop =
        "shop: {start: \"2026-12-05T09:00\", open: {sat: \"09:00-17:00\", sun: \"09:00-17:00\"}}\n",
    .running = "running: {diameter: 0.3 mm}\n",
};

/* --- looking into drawings ------------------------------------------------------------------- */

static struct figure_list drawn(struct bench *bench, struct recipe_parts parts) {
    struct compilation c = bench_compile(bench, parts);
    if (c.diags.errors) print_error("%s", bench_said(bench));
    assert_int_equal(c.diags.errors, 0);
    struct results *results = NEW(&bench->arena, struct results, 1);
    *results = c.results;
    return drawing_all(&bench->arena, c.recipe, results);
}

static const struct figure *first_of(const struct figure_list *list, enum figure_kind kind) {
    for (int i = 0; i < list->count; i++) {
        if (list->figures[i].kind == kind) return &list->figures[i];
    }
    return NULL;
}

static int count_of(const struct figure_list *list, enum figure_kind kind) {
    int count = 0;
    for (int i = 0; i < list->count; i++) count += list->figures[i].kind == kind;
    return count;
}

static bool shows(const struct figure *figure, const char *words) {
    return strstr(figure->svg.data, words) != NULL;
}

/* Calls for every number behind `name="`. */
static double least_attribute(const struct figure *figure, const char *name) {
    double least = INFINITY;
    for (const char *at = figure->svg.data; (at = strstr(at, name)); at++) {
        least = fmin(least, strtod(at + strlen(name), NULL));
    }
    return least;
}

/* Greatest width of a closed path of cubics: outlines are the only such paths. */
static double widest_outline(const struct figure *figure) {
    double widest = 0.0;
    for (const char *at = figure->svg.data; (at = strstr(at, "<path d=\"")); at++) {
        const char *end = strchr(at + 9, '"'), *letter = at + 9;
        if (end[-1] != 'Z' || !memchr(at, 'C', (size_t)(end - at))) continue;
        double low = INFINITY, high = -INFINITY;
        while (letter < end) {
            char *next = NULL;
            double x = strtod(letter + (isalpha((unsigned char)*letter) != 0), &next);
            if (*letter == 'Z') break;
            strtod(next, &next);
            low = fmin(low, x);
            high = fmax(high, x);
            letter = next;
        }
        widest = fmax(widest, high - low);
    }
    return widest;
}

/* --- what there is --------------------------------------------------------------------------- */

static void a_full_recipe_gets_every_drawing(void **state) {
    struct figure_list list = drawn(*state, full);
    for (int kind = 0; kind < FIGURE_KINDS; kind++)
        assert_true(count_of(&list, (enum figure_kind)kind) > 0 || kind == FIGURE_TOP);
    assert_int_equal(count_of(&list, FIGURE_COLOUR), 3);
}

/* What the side view does not tell. */
static void a_bore_from_the_flank_calls_for_the_top_view(void **state) {
    struct recipe_parts parts = full;
    parts.ballast = "ballast:\n  bores: [{from: flank, at: 63 mm, drill: 4 mm, depth: 6 mm, "
                    "load: [{mass: 0.2 g}]}]\n";
    struct figure_list list = drawn(*state, full), along = drawn(*state, parts);
    assert_null(first_of(&list, FIGURE_TOP));
    assert_true(shows(first_of(&along, FIGURE_TOP), "Top view"));
}

static void what_the_recipe_has_not_is_not_drawn(void **state) {
    struct figure_list list = drawn(*state, PARTS(0));
    assert_non_null(first_of(&list, FIGURE_GLANCE));
    assert_non_null(first_of(&list, FIGURE_TEMPLATE));
    assert_null(first_of(&list, FIGURE_LIP));
    assert_null(first_of(&list, FIGURE_BORES));
    assert_null(first_of(&list, FIGURE_COLOUR));
}

static void files_have_plain_names_of_their_own(void **state) {
    struct figure_list list = drawn(*state, full);
    for (int i = 0; i < list.count; i++) {
        const char *file = list.figures[i].file;
        size_t plain = strspn(file, "abcdefghijklmnopqrstuvwxyz0123456789-");
        assert_string_equal(file + plain, ".svg");
        for (int k = 0; k < i; k++) assert_string_not_equal(file, list.figures[k].file);
    }
}

/* --- under tow ------------------------------------------------------------------------------- */

static void a_plug_under_tow_is_drawn_with_its_depths_and_its_forces(void **state) {
    struct figure_list list = drawn(*state, full);
    const struct figure *depths = first_of(&list, FIGURE_DEPTHS),
                        *tow = first_of(&list, FIGURE_TOW);
    assert_true(shows(depths, ">0.8 m/s<") && shows(depths, ">2.5 m/s<"));
    assert_true(shows(depths, "an estimate") && shows(depths, ">depth, m<"));
    assert_true(shows(tow, ">line<") && shows(tow, ">lip<") && shows(tow, ">body and hooks<"));
    assert_true(shows(tow, ">weight<") && shows(tow, ">buoyancy<"));
}

static void a_depth_that_was_measured_is_marked(void **state) {
    struct recipe_parts parts = full;
    struct figure_list before = drawn(*state, parts);
    parts.measured = "measured: {running: {speed: 1.5 m/s, out: 30 m, depth: 3.5 m}}\n";
    struct figure_list after = drawn(*state, parts);
    assert_false(shows(first_of(&before, FIGURE_DEPTHS), ">measured<"));
    assert_true(shows(first_of(&after, FIGURE_DEPTHS), ">measured<"));
}

static void one_speed_on_one_length_is_drawn_too(void **state) {
    struct recipe_parts parts = full;
    parts.running = "running: {diameter: 0.3 mm, speed: 1 m/s, out: 30 m}\n";
    struct figure_list list = drawn(*state, parts);
    assert_true(shows(first_of(&list, FIGURE_DEPTHS), ">1.0 m/s<"));
    parts.shop = "shop: {units: inch}\n";
    list = drawn(*state, parts);
    assert_true(shows(first_of(&list, FIGURE_DEPTHS), ">depth, ft<"));
    assert_true(shows(first_of(&list, FIGURE_TOW), " lbf<"));
}

static void a_topwater_is_not_drawn_under_tow(void **state) {
    struct recipe_parts parts = full;
    parts.lip = NULL;
    struct figure_list list = drawn(*state, parts);
    assert_null(first_of(&list, FIGURE_DEPTHS));
    assert_null(first_of(&list, FIGURE_TOW));
}

/* --- paper ----------------------------------------------------------------------------------- */

static void check_paper(const struct figure_list *list) {
    for (int i = 0; i < list->count; i++) {
        const struct figure *figure = &list->figures[i];
        const char *fault = xml_fault(figure->svg.data);
        if (fault) print_error("%s: %s\n", figure->file, fault);
        assert_null(fault);
        assert_true(figure->width <= 187.9 && figure->height <= 262.0);
        assert_null(strstr(figure->svg.data, "nan"));
        assert_null(strstr(figure->svg.data, "inf"));
        if (shows(figure, "<text")) assert_true(least_attribute(figure, "font-size=\"") >= 2.6);
        const char *box = strstr(figure->svg.data, "viewBox=\"0 0 ") + 13;
        assert_near(strtod(box, (char **)&box), figure->width, 1e-3);
        assert_near(strtod(box, NULL), figure->height, 1e-3);
    }
}

static void every_drawing_is_well_formed_legible_and_fits_the_page(void **state) {
    struct figure_list list = drawn(*state, full);
    check_paper(&list);
}

static void so_it_is_in_inches_on_letter_paper(void **state) {
    struct recipe_parts parts = full;
    parts.shop = "shop: {units: inch, paper: Letter}\n";
    struct figure_list list = drawn(*state, parts);
    check_paper(&list);
    assert_true(shows(first_of(&list, FIGURE_SIDE), "5 1/2"));
}

static void so_it_is_for_the_smallest_plug(void **state) {
    struct recipe_parts parts = {
        .body = "body:\n  length: 20 mm\n  section: {shape: oval}\n  stations:\n"
                "    - {at: 0 %, back: 0 mm, belly: 0 mm, width: 0 mm}\n"
                "    - {at: 50 %, back: 4 mm, belly: 4 mm, width: 8 mm}\n"
                "    - {at: 100 %, back: 0 mm, belly: 0 mm, width: 0 mm}\n",
        .hardware = "hardware: {wire: {diameter: 0.5 mm}, line tie: {place: belly, at: 10 mm, "
                    "depth: 3 mm, eye: 1 mm}}\n"};
    struct figure_list list = drawn(*state, parts);
    check_paper(&list);
}

static const char *const long_body =
    "body:\n  length: 600 mm\n  section: {shape: square}\n  stations:\n"
    "    - {at: 0 %, back: 60 mm, belly: 60 mm, width: 90 mm}\n"
    "    - {at: 100 %, back: 60 mm, belly: 60 mm, width: 90 mm}\n";

static void so_it_is_for_the_longest_plug(void **state) {
    struct figure_list list = drawn(*state, PARTS(.body = long_body));
    check_paper(&list);
}

static void the_same_recipe_gives_the_same_bytes(void **state) {
    struct figure_list one = drawn(*state, full), two = drawn(*state, full);
    assert_int_equal(one.count, two.count);
    for (int i = 0; i < one.count; i++) {
        assert_int_equal(one.figures[i].svg.size, two.figures[i].svg.size);
        assert_memory_equal(one.figures[i].svg.data, two.figures[i].svg.data,
                            one.figures[i].svg.size);
    }
}

static void text_of_a_recipe_stays_text(void **state) {
    struct recipe_parts parts = full;
    parts.head = "recipe: 1\nname: \"</text><script>x</script>&amp;\"\n";
    parts.finish = "finish: {paint: {layers: [{colour: \"</title><image href='/etc/x'/>\", "
                   "kind: opaque, mask: \"<style>\"}]}}\n";
    struct figure_list list = drawn(*state, parts);
    check_paper(&list);
    for (int i = 0; i < list.count; i++) {
        assert_false(shows(&list.figures[i], "<script"));
        assert_false(shows(&list.figures[i], "<image"));
        assert_false(shows(&list.figures[i], "<style"));
        assert_false(shows(&list.figures[i], "href=\""));
    }
}

/* --- templates ------------------------------------------------------------------------------- */

static void a_template_is_as_long_as_the_plug(void **state) {
    struct figure_list list = drawn(*state, full);
    assert_near(widest_outline(first_of(&list, FIGURE_TEMPLATE)), 140.0, 2e-3);
    assert_near(widest_outline(first_of(&list, FIGURE_SIDE)), 280.0 / 3, 2e-3); /* at scale 2:3 */
}

static void every_sheet_has_a_bar_of_100_mm_and_one_of_4_in(void **state) {
    struct figure_list list = drawn(*state, PARTS(.body = long_body));
    assert_true(count_of(&list, FIGURE_TEMPLATE) > 1);
    for (int i = 0; i < list.count; i++) {
        if (list.figures[i].kind != FIGURE_TEMPLATE) continue;
        assert_true(shows(&list.figures[i], "width=\"100\" height=\"2.4\""));
        assert_true(shows(&list.figures[i], "width=\"101.6\" height=\"2.4\""));
        assert_true(shows(&list.figures[i], "100 mm"));
    }
}

/* Moves of the canvas from sheet to sheet, in the order of the sheets. */
static double shift_of(const struct figure *figure) {
    const char *clip = strstr(figure->svg.data, "<g clip-path");
    const char *move = strstr(clip, "translate(");
    return strtod(move + 10, NULL);
}

static void joined_sheets_overlap_and_share_their_targets(void **state) {
    struct figure_list list = drawn(*state, PARTS(.body = long_body));
    const struct figure *sheet = first_of(&list, FIGURE_TEMPLATE);
    double wide = fmax(sheet[0].width, sheet[0].height);
    double step = shift_of(&sheet[0]) - shift_of(&sheet[1]);
    assert_near(shift_of(&sheet[0]), 0.0, 0.0);
    assert_true(step > 0.5 * wide && step <= wide - 10.0);
    assert_true(shows(&sheet[0], ">A</text>") && shows(&sheet[1], ">A</text>"));
    assert_true(shows(&sheet[1], "row 1, column 2"));
}

static void a_plug_too_long_for_the_width_is_turned_before_it_is_cut(void **state) {
    struct figure_list list = drawn(
        *state, PARTS(.body = "body:\n  length: 200 mm\n  section: {shape: square}\n  stations:\n"
                              "    - {at: 0 %, back: 9 mm, belly: 9 mm, width: 20 mm}\n"
                              "    - {at: 100 %, back: 9 mm, belly: 9 mm, width: 20 mm}\n"));
    assert_int_equal(count_of(&list, FIGURE_TEMPLATE), 1);
    assert_true(shows(first_of(&list, FIGURE_TEMPLATE), "rotate(-90)"));
}

/* --- gauges ---------------------------------------------------------------------------------- */

static int count_words(const struct figure *figure, const char *words) {
    int count = 0;
    for (const char *at = figure->svg.data; (at = strstr(at, words)); at += strlen(words)) count++;
    return count;
}

/* Widest station of `full`: 25 mm, so its outline spans that much at 1:1. */
static void sections_are_in_true_size_with_gauges_and_a_bar(void **state) {
    struct figure_list list = drawn(*state, full);
    const struct figure *sections = first_of(&list, FIGURE_SECTIONS);
    assert_near(widest_outline(sections), 25.0, 2e-3);
    assert_true(shows(sections, "scale 1:1; right half: gauge to cut out"));
    assert_true(shows(sections, "50 mm: measure before you cut"));
}

/* Seven stations, two of them under 6 mm wide: five gauges of at most six. */
static void only_what_is_rounded_by_a_gauge_gets_one(void **state) {
    struct recipe_parts parts = full;
    parts.body = "body:\n  length: 90 mm\n  section: {shape: oval}\n  stations:\n"
                 "    - {at: 0 %, back: 3 mm, belly: 3 mm, width: 5 mm}\n"
                 "    - {at: 15 %, back: 7 mm, belly: 8 mm, width: 12 mm}\n"
                 "    - {at: 30 %, back: 9 mm, belly: 9 mm, width: 15 mm}\n"
                 "    - {at: 45 %, back: 9 mm, belly: 9 mm, width: 15 mm}\n"
                 "    - {at: 60 %, back: 7 mm, belly: 7 mm, width: 12 mm}\n"
                 "    - {at: 80 %, back: 5 mm, belly: 5 mm, width: 8 mm}\n"
                 "    - {at: 100 %, back: 3 mm, belly: 3 mm, width: 5 mm}\n";
    parts.lip = NULL;
    parts.hardware = "hardware: {wire: {diameter: 1 mm}, line tie: {place: nose}}\n";
    parts.ballast = NULL;
    parts.eyes = NULL;
    struct figure_list list = drawn(*state, parts);
    /* A gauge has its station's number in its corner, ended by the card's edge. */
    assert_int_equal(
        count_words(first_of(&list, FIGURE_SECTIONS), "text-anchor=\"end\" fill=\"#333\""), 5);
}

static void a_body_too_large_for_the_paper_has_smaller_sections_and_no_gauges(void **state) {
    struct figure_list list = drawn(
        *state, PARTS(.body = "body:\n  length: 600 mm\n  section: {shape: oval}\n  stations:\n"
                              "    - {at: 0 %, back: 60 mm, belly: 60 mm, width: 100 mm}\n"
                              "    - {at: 50 %, back: 60 mm, belly: 60 mm, width: 100 mm}\n"
                              "    - {at: 100 %, back: 60 mm, belly: 60 mm, width: 100 mm}\n"));
    check_paper(&list);
    assert_false(shows(first_of(&list, FIGURE_SECTIONS), "gauge"));
}

/* --- water ----------------------------------------------------------------------------------- */

static void a_sinking_plug_is_drawn_with_its_speed(void **state) {
    struct recipe_parts parts = full;
    parts.wood = "wood: {species: white oak, density: 950 kg/m3}\n";
    struct figure_list list = drawn(*state, parts);
    assert_true(shows(first_of(&list, FIGURE_GLANCE), "sinks about"));
}

static void the_glance_shows_the_waterline_and_both_centres(void **state) {
    struct recipe_parts parts = full;
    parts.ballast = "ballast:\n  aim: {reserve: 20 %}\n"
                    "  bores: [{at: 48 mm, drill: 12 mm, load: solve}]\n";
    struct bench *bench = *state;
    struct compilation c = bench_compile(bench, parts);
    struct figure_list list = drawing_all(&bench->arena, c.recipe, &c.results);
    const struct figure *glance = first_of(&list, FIGURE_GLANCE);
    const struct condition *finished = &c.results.finished;
    assert_true(finished->waterline_given);
    assert_true(
        shows(glance, measure_length(&bench->arena, finished->waterline_nose, UNITS_METRIC)));
    assert_true(
        shows(glance, measure_length(&bench->arena, finished->waterline_tail, UNITS_METRIC)));
    assert_true(shows(glance, ">G<") && shows(glance, ">B<"));
    assert_true(strstr(glance->title, "with a reserve of 20.0 %"));
}

/* The last picture of the colour plan and the emblem agree. */
static void the_emblem_shows_the_plug_in_its_last_colours(void **state) {
    struct figure_list list = drawn(*state, full);
    const struct figure *emblem = first_of(&list, FIGURE_PLUG);
    assert_true(shows(emblem, "fill=\"#84bf82\"")); /* the glaze over the ground, see below */
    assert_true(shows(emblem, "fill=\"#9e9e9e\"")); /* bars */
    assert_true(emblem->width <= 60.0 && emblem->height <= 38.0);
}

/* --- colours --------------------------------------------------------------------------------- */

/* By the formulas at the head of drawing_colour.c: #40C060 as one coat of glaze (k = 0.6) over
 * #F0E0D0 is 240 (0.4 + 0.6 64/255), 224 (0.4 + 0.6 192/255), 208 (0.4 + 0.6 96/255). */
static void layers_are_laid_over_each_other(void **state) {
    struct figure_list list = drawn(*state, full);
    const struct figure *colour = first_of(&list, FIGURE_COLOUR);
    assert_true(shows(&colour[0], "fill=\"#f0e0d0\""));
    assert_true(shows(&colour[1], "fill=\"#84bf82\""));
    assert_true(shows(&colour[1], "fill=\"#f0e0d0\""));
}

static void a_layer_without_a_hex_is_grey(void **state) {
    struct figure_list list = drawn(*state, full);
    const struct figure *colour = first_of(&list, FIGURE_COLOUR);
    assert_true(shows(&colour[2], "soot"));
    assert_true(shows(&colour[2], "fill=\"#9e9e9e\""));
    assert_int_equal(colour[2].layer, 2);
}

static void every_layer_seen_is_called_out_by_its_number(void **state) {
    struct figure_list list = drawn(*state, full);
    const struct figure *colour = first_of(&list, FIGURE_COLOUR);
    assert_true(shows(&colour[2], ">1</text>"));
    assert_true(shows(&colour[2], ">2</text>"));
    assert_true(shows(&colour[2], ">3</text>"));
    assert_false(shows(&colour[1], ">3</text>"));
}

/* --- time ------------------------------------------------------------------------------------ */

static void the_run_of_forty_plugs_fits_one_page(void **state) {
    struct recipe_parts parts = full;
    parts.head = "recipe: 1\nname: Heron\nmake: 40\n";
    struct figure_list list = drawn(*state, parts);
    assert_int_equal(count_of(&list, FIGURE_TIMELINE), 1);
    assert_true(shows(first_of(&list, FIGURE_TIMELINE), "40 plugs: "));
    check_paper(&list);
}

static void a_dated_run_shows_its_days(void **state) {
    struct recipe_parts parts = full;
    struct figure_list dated = drawn(*state, full);
    parts.shop = "shop: {temperature: 20 degC}\n";
    struct figure_list undated = drawn(*state, parts);
    assert_true(shows(first_of(&dated, FIGURE_TIMELINE), ">Sat 5 Dec, 09:00<"));
    assert_true(shows(first_of(&dated, FIGURE_TIMELINE), " Dec<"));
    assert_false(shows(first_of(&undated, FIGURE_TIMELINE), " Dec<"));
    assert_true(shows(first_of(&undated, FIGURE_TIMELINE), ">hour 0<"));
}

/* --- labels ---------------------------------------------------------------------------------- */

static void labels_that_have_room_stay_where_they_are(void **state) {
    (void)state;
    double places[] = {10.0, 20.0, 30.0};
    part_spread(places, 3, 5.0, 0.0, 100.0);
    assert_near(places[0], 10.0, 1e-12);
    assert_near(places[1], 20.0, 1e-12);
    assert_near(places[2], 30.0, 1e-12);
}

/* Least squares about the middle: three places at 50 with a gap of 4 go to 46, 50, 54. */
static void labels_at_one_place_part_evenly(void **state) {
    (void)state;
    double places[] = {50.0, 50.0, 50.0};
    part_spread(places, 3, 4.0, 0.0, 100.0);
    assert_near(places[0], 46.0, 1e-12);
    assert_near(places[1], 50.0, 1e-12);
    assert_near(places[2], 54.0, 1e-12);
}

static void labels_keep_order_gap_and_bounds(void **state) {
    (void)state;
    double places[] = {-3.0, 0.0, 1.0, 1.5, 40.0, 41.0, 99.0, 120.0};
    part_spread(places, 8, 6.0, 2.0, 98.0);
    assert_true(places[0] >= 2.0 - 1e-9 && places[7] <= 98.0 + 1e-9);
    for (int i = 1; i < 8; i++) assert_true(places[i] - places[i - 1] >= 6.0 - 1e-9);
}

static void too_many_labels_share_the_room_evenly(void **state) {
    (void)state;
    double places[5] = {7.0, 7.0, 7.0, 7.0, 7.0};
    part_spread(places, 5, 100.0, 0.0, 8.0);
    for (int i = 0; i < 5; i++) assert_near(places[i], 2.0 * i, 1e-9);
}

static void scales_are_the_usual_ones(void **state) {
    (void)state;
    assert_string_equal(part_scale_name(part_scale(1000.0)), "1:1");
    assert_string_equal(part_scale_name(part_scale(999.0)), "2:3");
    assert_string_equal(part_scale_name(part_scale(1e9)), "5:1");
    assert_true(part_scale(260.0) <= 260.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(a_full_recipe_gets_every_drawing),
        BENCH_TEST(a_bore_from_the_flank_calls_for_the_top_view),
        BENCH_TEST(what_the_recipe_has_not_is_not_drawn),
        BENCH_TEST(files_have_plain_names_of_their_own),
        BENCH_TEST(a_plug_under_tow_is_drawn_with_its_depths_and_its_forces),
        BENCH_TEST(a_depth_that_was_measured_is_marked),
        BENCH_TEST(one_speed_on_one_length_is_drawn_too),
        BENCH_TEST(a_topwater_is_not_drawn_under_tow),
        BENCH_TEST(every_drawing_is_well_formed_legible_and_fits_the_page),
        BENCH_TEST(so_it_is_in_inches_on_letter_paper),
        BENCH_TEST(so_it_is_for_the_smallest_plug),
        BENCH_TEST(so_it_is_for_the_longest_plug),
        BENCH_TEST(the_same_recipe_gives_the_same_bytes),
        BENCH_TEST(text_of_a_recipe_stays_text),
        BENCH_TEST(a_template_is_as_long_as_the_plug),
        BENCH_TEST(every_sheet_has_a_bar_of_100_mm_and_one_of_4_in),
        BENCH_TEST(joined_sheets_overlap_and_share_their_targets),
        BENCH_TEST(a_plug_too_long_for_the_width_is_turned_before_it_is_cut),
        BENCH_TEST(sections_are_in_true_size_with_gauges_and_a_bar),
        BENCH_TEST(only_what_is_rounded_by_a_gauge_gets_one),
        BENCH_TEST(a_body_too_large_for_the_paper_has_smaller_sections_and_no_gauges),
        BENCH_TEST(a_sinking_plug_is_drawn_with_its_speed),
        BENCH_TEST(the_glance_shows_the_waterline_and_both_centres),
        BENCH_TEST(the_emblem_shows_the_plug_in_its_last_colours),
        BENCH_TEST(layers_are_laid_over_each_other),
        BENCH_TEST(a_layer_without_a_hex_is_grey),
        BENCH_TEST(every_layer_seen_is_called_out_by_its_number),
        BENCH_TEST(the_run_of_forty_plugs_fits_one_page),
        BENCH_TEST(a_dated_run_shows_its_days),
        cmocka_unit_test(labels_that_have_room_stay_where_they_are),
        cmocka_unit_test(labels_at_one_place_part_evenly),
        cmocka_unit_test(labels_keep_order_gap_and_bounds),
        cmocka_unit_test(too_many_labels_share_the_room_evenly),
        cmocka_unit_test(scales_are_the_usual_ones),
    };
    return cmocka_run_group_tests_name("drawing", tests, NULL, NULL);
}
