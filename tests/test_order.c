/* The work order: its chapters, its numbers, and that a hostile recipe stays words. */
#include "close.h"

#include <regex.h>
#include <stdbool.h>
#include <stdlib.h>
#include <unistd.h>

#include "compute/bench.h"
#include "compute/work/sitting.h"
#include "emit/write/markdown.h"
#include "emit/write/measure.h"
#include "emit/order/order.h"
#include "emit/order/inner.h"
#include "model/bind.h"
#include "model/check.h"
#include "model/reference.h"
#include "read/tree.h"

static struct arena arena;

static int end_arena(void **state) {
    (void)state;
    arena_free(&arena);
    return 0;
}

/* A plug with everything; %s stands where a recipe has a name, %t where it has free text. */
static const char full[] =
    "recipe: 1\n"
    "name: %s\n"
    "make: 8\n"
    "note: %t\n"
    "currency: EUR\n"
    "wood: {species: basswood}\n"
    "body:\n"
    "  length: 140 mm\n"
    "  stations:\n"
    "    - {at: 0 %%, back: 3 mm, belly: 3 mm, width: 6 mm}\n"
    "    - {at: 35 %%, back: 15 mm, belly: 17 mm, width: 26 mm}\n"
    "    - {at: 100 %%, back: 4 mm, belly: 4 mm, width: 8 mm}\n"
    "  section: {shape: oval}\n"
    "lip: {thickness: 2 mm, length: 40 mm, width: 26 mm, shape: square, at: 14 mm, angle: 40 deg,\n"
    "      slot: 10 mm}\n"
    "hardware:\n"
    "  wire: {diameter: 1.2 mm}\n"
    "  line tie: {place: nose}\n"
    "  hangers:\n"
    "    - {place: tail, hook: {size: \"1\"}, ring: {mass: 0.4 g}}\n"
    "ballast:\n"
    "  bores:\n"
    "    - {at: 50 mm, drill: 9 mm, load: [{mass: 6 g}]}\n"
    "eyes: {size: 6 mm, at: 16 mm, up: 4 mm}\n"
    "finish:\n"
    "  seal: {name: %s}\n"
    "  paint:\n"
    "    layers:\n"
    "      - {colour: %s, hex: \"#F7F5EE\", kind: opaque, mask: %t}\n"
    "  topcoat: {kind: epoxy}\n"
    "shop: {start: 2026-12-05T09:00}\n"
    "measured: {sealed: 30 g, finished: 61 g, float: {nose: 2 mm, tail: 1 mm}}\n"
    "prices: {wood: 12}\n"
    "steps:\n"
    "  - {add: sign, title: %s, after: seal-2, hands-on: 5 min, say: %t}\n"
    "  - {skip: sand, because: %t}\n";

static const char least[] = "recipe: 1\n"
                            "name: Stick\n"
                            "wood: {species: balsa}\n"
                            "body:\n"
                            "  length: 100 mm\n"
                            "  stations:\n"
                            "    - {at: 0 %, back: 8 mm, belly: 8 mm, width: 16 mm}\n"
                            "    - {at: 100 %, back: 8 mm, belly: 8 mm, width: 16 mm}\n"
                            "  section: {shape: square}\n"
                            "hardware:\n"
                            "  wire: {diameter: 1 mm}\n"
                            "  line tie: {place: nose}\n";

struct made {
    const struct recipe *recipe;
    struct results results;
    struct str text;
};

static const char digest[] = "0123456789abcdef0123456789abcdef01234567";

static struct figure figures[] = {
    {.kind = FIGURE_GLANCE, .file = "glance.svg", .title = "The plug at rest"},
    {.kind = FIGURE_TEMPLATE, .file = "template-1.svg", .title = "Template"},
    {.kind = FIGURE_COLOUR, .file = "colour-1.svg", .title = "After layer 1", .layer = 0},
    {.kind = FIGURE_TIMELINE, .file = "timeline.svg", .title = "The run"},
};
static const struct figure_list figure_list = {figures, sizeof figures / sizeof *figures};

static struct made make(const char *yaml) {
    struct diags diags = {.arena = &arena};
    const struct source *source =
        source_of(&arena, "/somewhere/else/plug.yaml", str_of(yaml), &diags);
    const struct node *root = tree_read(&arena, source, &diags);
    struct made made = {.recipe = root ? bind_recipe(&arena, root, NULL, &diags) : NULL};
    if (!diags.errors) check_recipe(made.recipe, &diags);
    if (!diags.errors) made.results = results_compute(&arena, made.recipe, RESULTS_ALL, &diags);
    if (diags.errors) {
        diags_print(&diags, stderr, false);
        fail();
    }
    made.results.digest = digest;
    struct buf out = {.arena = &arena};
    order_emit(&out, made.recipe, &made.results, &figure_list, &(struct order_style){.copies = 1});
    made.text = (struct str){out.data, out.size};
    return made;
}

/* A YAML double-quoted scalar. */
static const char *quoted(const char *text) {
    struct buf out = {.arena = &arena};
    buf_char(&out, '"');
    for (const char *p = text; *p; p++) {
        if (*p == '\n')
            buf_text(&out, "\\n");
        else if (*p == '"' || *p == '\\')
            buf_printf(&out, "\\%c", *p);
        else
            buf_char(&out, *p);
    }
    buf_char(&out, '"');
    return out.data;
}

static struct made make_full(const char *name, const char *text) {
    struct buf yaml = {.arena = &arena};
    for (const char *p = full; *p; p++) {
        if (*p != '%')
            buf_char(&yaml, *p);
        else if (*++p == '%')
            buf_char(&yaml, '%');
        else
            buf_text(&yaml, quoted(*p == 's' ? name : text));
    }
    return make(yaml.data);
}

static bool says(const struct made *made, const char *text) {
    return strstr(made->text.data, text) != NULL;
}

/* The same, wherever the lines are broken. */
static bool says_folded(const struct made *made, const char *text) {
    struct buf flat = {.arena = &arena};
    for (size_t i = 0; i < made->text.size; i++) {
        char c = made->text.data[i];
        bool blank = c == '\n' || c == ' ';
        if (!blank || !flat.size || flat.data[flat.size - 1] != ' ')
            buf_char(&flat, blank ? ' ' : c);
    }
    return flat.size && strstr(flat.data, text) != NULL;
}

static int count_of(const char *text, const char *what) {
    int count = 0;
    for (; (text = strstr(text, what)); text += strlen(what)) count++;
    return count;
}

static void chapters_stand_in_the_order_of_the_bench(void **state) {
    (void)state;
    static const char *const chapters[] = {
        "# Work order: Heron",
        "\n## Cut list and materials\n",
        "\n## Card\n",
        "\n### Bore map\n",
        "\n### Mind\n",
        "\n### When\n",
        "\n#### Mix: ",
        "\n### Read and write down",
        "\n## Templates, full size\n",
        "\n## Wood around the bores\n",
        "\n## Ballast and float test\n",
        "\n## Measured and computed\n",
        "\n## Steps\n",
        "\n## Colour plan\n",
        "\n## Appendix\n",
        "\n### Cautions\n",
        "\n### Sources\n",
        "\n### Righting arms\n",
        "\n### Mass budget of one plug, with its centre so far\n"};
    struct made made = make_full("Heron", "Words.");
    const char *last = made.text.data;
    for (size_t i = 0; i < sizeof chapters / sizeof *chapters; i++) {
        const char *place = strstr(made.text.data, chapters[i]);
        if (!place || place < last) fail_msg("%s is not where it should be", chapters[i]);
        last = place;
    }
}

static void a_chapter_without_anything_to_say_is_left_out(void **state) {
    (void)state;
    struct made made = make(least);
    assert_false(says(&made, "## Colour plan"));
    assert_false(says(&made, "Mix: "));
    assert_false(says(&made, "## Strength"));
    assert_false(says(&made, "## Measured"));
    assert_false(says(&made, "Read and trim"));
}

static void the_sheet_names_its_recipe_and_digest_but_no_folder(void **state) {
    (void)state;
    struct made made = make_full("Heron", "Words.");
    assert_true(says(&made, "Run of 8 plugs · sheet `01234567`"));
    assert_true(says(&made, "`plug.yaml`"));
    assert_true(says(&made, "`0123456789abcdef0123456789abcdef01234567`"));
    assert_false(says(&made, "somewhere"));
}

static void the_same_recipe_gives_the_same_bytes(void **state) {
    (void)state;
    struct made a = make_full("Heron", "Words."), b = make_full("Heron", "Words.");
    assert_true(str_equal(a.text, b.text));
}

static void only_the_recipes_own_cautions_stand_there_and_steps_point_to_them(void **state) {
    (void)state;
    struct made lead = make_full("Heron", "Words."), bare = make(least);
    assert_true(says(&lead, "- **Lead.**"));
    assert_true(says(&lead, "**Caution:** Lead"));
    assert_true(says(&lead, "- **Epoxy.**"));
    assert_false(says(&lead, "- **Isocyanates"));
    assert_false(says(&bare, "- **Lead.**"));
    assert_false(says(&bare, "Lead"));
    for (int i = 0; i < CAUTION_COUNT; i++) {
        const char *title = reference_caution[i].title;
        bool stands = says(&lead, arena_printf(&arena, "- **%s.**", title));
        unsigned all = 0;
        for (int k = 0; k < lead.results.run.route.count; k++) {
            const struct operation *operation = &lead.results.run.route.operations[k];
            if (!operation->skipped) all |= operation->cautions;
        }
        assert_int_equal(stands, (all & 1u << i) != 0);
    }
}

static void the_mass_budget_adds_up_to_the_finished_plug(void **state) {
    (void)state;
    struct made made = make_full("Heron", "Words.");
    const char *budget = strstr(made.text.data, "## Mass budget of one plug");
    const char *end = made.text.data + made.text.size; /* it stands last */
    const char *mass = measure_mass(&arena, made.results.finished.burden.mass, UNITS_METRIC);
    const char *last = NULL;
    for (const char *p = budget; (p = strstr(p, mass)) && p < end; p++) last = p;
    assert_non_null(last);
    const char *row = strstr(last, "\n");
    assert_true(row + 1 == end); /* it is the last row's sum */
}

/* The cells of the row of a table that begins so, after its first. */
static const char *row_of(const struct made *made, const char *first) {
    const char *row = strstr(made->text.data, arena_printf(&arena, "\n| %s", first));
    assert_non_null(row);
    return arena_copy(&arena, row, strcspn(row + 1, "\n") + 1);
}

/* The card has the only blanks: what should be read over a row of empty cells for every plug. */
static void every_predicted_number_has_a_blank_for_every_plug(void **state) {
    (void)state;
    struct made made = make_full("Heron", "Words.");
    const struct results *r = &made.results;
    const char *due = row_of(&made, "should be");
    const double masses[] = {bench_mass(r, WEIGHED_SEALED), r->test.burden.mass,
                             r->finished.burden.mass};
    for (size_t i = 0; i < sizeof masses / sizeof *masses; i++) {
        const char *text =
            arena_printf(&arena, " **%s** |", measure_mass(&arena, masses[i], UNITS_METRIC));
        if (!strstr(due, text)) fail_msg("%s lacks%s", due, text);
    }
    int columns = count_of(due, "|");
    for (int plug = 1; plug <= made.recipe->make; plug++)
        assert_int_equal(count_of(row_of(&made, arena_printf(&arena, "%d  ", plug)), "|"), columns);
    const char *read = strstr(made.text.data, "### Read and write down");
    assert_null(strstr(strstr(read, "\n## "), "____"));
}

static void steps_are_read_out_in_ranges(void **state) {
    (void)state;
    struct results results = {.run.route.count = 12};
    struct order order = {.arena = &arena, .results = &results};
    static const struct {
        const char *wanted, *text; /* a cross at every number from 1 */
    } samples[] = {{"x", "step 1"},
                   {"x x", "steps 1 and 3"},
                   {"xx", "steps 1 and 2"},
                   {"xxx", "steps 1 to 3"},
                   {" xxxx x", "steps 2 to 5 and 7"},
                   {"x xxx x  xxx", "steps 1, 3 to 5, 7 and 10 to 12"}};
    for (size_t i = 0; i < sizeof samples / sizeof *samples; i++) {
        bool wanted[13] = {false};
        for (int k = 0; samples[i].wanted[k]; k++) wanted[k + 1] = samples[i].wanted[k] == 'x';
        assert_string_equal(order_steps_named(&order, wanted, "step", "steps"), samples[i].text);
    }
}

static void what_is_mixed_stands_in_one_row(void **state) {
    (void)state;
    struct made made = make_full("Heron", "Words.");
    assert_true(says(&made, "| paint: Heron + reducer "));
    assert_true(says(&made, "| topcoat resin + hardener "));
    assert_false(says(&made, "reducer for"));
}

/* Lines joined again, and columns drawn together: what a reader reads. */
static const char *read_on(const char *text) {
    struct buf out = {.arena = &arena};
    for (; *text; text++) {
        bool blank = *text == ' ' || *text == '\n';
        if (!blank || (out.size && out.data[out.size - 1] != ' '))
            buf_char(&out, blank ? ' ' : *text);
    }
    return out.data;
}

static const char two_coats[] =
    "recipe: 1\nname: Stick\nwood: {species: balsa}\n"
    "body:\n  length: 100 mm\n  section: {shape: square}\n  stations:\n"
    "    - {at: 0 %, back: 8 mm, belly: 8 mm, width: 16 mm}\n"
    "    - {at: 100 %, back: 8 mm, belly: 8 mm, width: 16 mm}\n"
    "hardware: {wire: {diameter: 1 mm}, line tie: {place: nose}}\n"
    "finish: {seal: {coats: 1}, paint: {layers: [{colour: white, kind: opaque},\n"
    "  {colour: black, kind: opaque, where: back, mask: tape}]},\n"
    "  topcoat: {kind: epoxy, coats: 2}}\n";

static int number_of(const struct made *made, const char *id) {
    const struct route *route = &made->results.run.route;
    int number = 0;
    for (int i = 0, of = route_find(route, str_of(id)); i <= of; i++)
        number += !route->operations[i].skipped;
    return number;
}

static void a_step_done_like_another_points_to_it(void **state) {
    (void)state;
    struct made made = make(two_coats);
    assert_true(
        says(&made, arena_printf(&arena, "**With, right when, what ruins it:** as in step %d.",
                                 number_of(&made, "topcoat-1"))));
    assert_int_equal(count_of(made.text.data, "- **With:** Soft brush, mixing cups"), 1);
}

static void colours_that_follow_each_other_are_one_block(void **state) {
    (void)state;
    struct made made = make(two_coats);
    int first = number_of(&made, "colour-1");
    assert_true(says(&made, arena_printf(&arena, "#### %d to %d. Colours\n", first, first + 1)));
    assert_non_null(strstr(row_of(&made, arena_printf(&arena, "\xe2\x98\x90 %d ", first)),
                           "| 1. white, opaque "));
    assert_true(says(&made, "**Masks:** colour 2, tape."));
    assert_int_equal(count_of(made.text.data, "- **With:** Airbrush, strainer"), 1);
}

/* A reason is told at the first step that it holds for, and not again. */
static void a_reason_is_given_once(void **state) {
    (void)state;
    struct made made = make_full("Heron", "Words.");
    const struct route *route = &made.results.run.route;
    for (int i = 0; i < route->link_count; i++) {
        const char *reason = route->links[i].reason;
        if (!reason || route->links[i].weight == OWN) continue;
        const char *told = arena_printf(&arena, ": %s", reason);
        assert_true(count_of(read_on(made.text.data), told) <= 1);
    }
}

static void assert_never(const char *text, const char *pattern) {
    regex_t regex;
    regmatch_t at;
    assert_int_equal(regcomp(&regex, pattern, REG_EXTENDED), 0);
    if (!regexec(&regex, text, 1, &at, 0))
        fail_msg("%.*s", (int)(at.rm_eo - at.rm_so) + 40, text + at.rm_so);
    regfree(&regex);
}

/* Sizes that no fraction hits, and a pot life of hours: a step says each as the tables do. */
static void an_inch_order_says_each_measure_in_one_way(void **state) {
    (void)state;
    static const char recipe[] =
        "recipe: 1\nname: Stick\nmake: 2\nwood: {species: balsa}\n"
        "body:\n  length: 100 mm\n  section: {shape: rounded, radius: 3 mm}\n  stations:\n"
        "    - {at: 0 %, back: 12 mm, belly: 12 mm, width: 20 mm}\n"
        "    - {at: 100 %, back: 12 mm, belly: 12 mm, width: 20 mm}\n"
        "lip: {thickness: 2 mm, length: 30 mm, width: 20 mm, shape: square, at: 12 mm,\n"
        "      angle: 37.5 deg, slot: 9 mm}\n"
        "hardware: {wire: {diameter: 1.2 mm}, line tie: {place: nose}}\n"
        "eyes: {size: 6 mm, depth: 2.5 mm, at: 30 mm, up: 4 mm}\n"
        "finish: {paint: {layers: [{colour: white, kind: opaque}]},\n"
        "  topcoat: {kind: epoxy, pot life: 2.5 h, mix: \"100:43.5 by mass\"}}\n"
        "shop: {units: inch, temperature: 19 degC}\n";
    /* As a step says it, and as a table or a chapter's own words do. */
    static const char *const pairs[][2] = {
        {"It is 11/32 (0.354) in deep in the finished plug", "| 11/32 (0.354) in |"},
        {"on the template, at 37.5° to", "belly, 37.5° to the datum |"},
        {"it stands at 37.5° to the datum line", "belly, 37.5° to the datum |"},
        {"and 0.079 in wide", "0.079 in saw |"},
        {"eye from 1.2 mm (0.047 in) wire", "of 1.2 mm (0.047 in) stainless"},
        {"every edge, 0.118 in away", "rounded over to 0.118 in."},
        {"each socket 0.236 in wide and 0.098 in deep,", "| 0.236 in | 0.138 in | 0.098 in |"},
        {"hardener 100:43.5 by mass, stir", "Mix: epoxy, 100:43.5 by mass, "},
        {"for about 2 h 52 min. Brush", "| 2 h 52 min |"},
    };
    struct made made = make(recipe);
    const char *text = read_on(made.text.data), *steps = strstr(text, "## Steps");
    for (size_t i = 0; i < sizeof pairs / sizeof *pairs; i++) {
        if (!strstr(steps, pairs[i][0])) fail_msg("no step says: %s", pairs[i][0]);
        const char *table = strstr(text, pairs[i][1]);
        if (!table) fail_msg("no table says: %s", pairs[i][1]);
    }
    assert_never(text, "[0-9] degrees?[^a-z]");
    assert_never(text, "[0-9]\\.[0-9]+ (h|min)[^a-z]");
    assert_never(text,
                 "[^0-9][0-9]*\\.([0-9]{1,2}|[0-9]{4,})\\)? in[ ,.;:|]"); /* thousandths alone */
    assert_never(text, "[0-9] \\([0-9.]+ in\\)"); /* the unit stands outside */
}

static int64_t minutes_in(const char *text) {
    int hours = 0, minutes = 0;
    if (sscanf(text, "%d h %d min", &hours, &minutes) == 2) return 60 * hours + minutes;
    if (sscanf(text, "%d h", &hours) == 1 && strstr(text, " h") == strchr(text, ' '))
        return 60 * hours;
    assert_int_equal(sscanf(text, "%d min", &minutes), 1);
    return minutes;
}

/* The rows of the plan, one after the other: the cell of that number, or NULL behind the last. */
static const char *plan_cell(const char **plan, int cell) {
    *plan = strstr(*plan, "\n|  \xe2\x98\x90  |");
    if (!*plan || strcspn(*plan + 1, "\n") < 20) return NULL;
    const char *at = ++*plan;
    for (int i = 0; i < cell; i++) at = strchr(at + 1, '|');
    return at + 1 + strspn(at + 1, " ");
}

static const char *plan_of(const struct made *made) {
    const char *plan = strstr(made->text.data, "### When\n"), *end = strstr(plan, "\n##");
    return arena_copy(&arena, plan, (size_t)(end - plan));
}

/* Saturday and Sunday mornings: three hours each. */
static void the_plan_goes_sitting_by_sitting(void **state) {
    (void)state;
    static const char hours[] =
        "shop: {start: 2026-12-05T09:00, open: {sat: \"09:00-12:00\", sun: \"09:00-12:00\"}}\n"
        "make: 6\n";
    struct made made = make(arena_printf(&arena, "%s%s", least, hours));
    const struct run *run = &made.results.run;
    const char *plan = plan_of(&made), *row = plan;
    assert_true(strstr(plan, "| Sat 5 Dec, 09:00 ") != NULL);
    int64_t sum = 0;
    int rows = 0;
    for (const char *cell; (cell = plan_cell(&row, 2)); rows++) {
        assert_true(minutes_in(cell) <= 180);
        sum += minutes_in(cell);
    }
    assert_near((double)sum, (double)run->hands_on / 60, 0.5 * rows);
    assert_int_equal(rows, sitting_count(made.recipe, run));
}

/* "14 1/2" as a number of quarters. */
static long quarters_in(const char *text) {
    char *end;
    long hours = strtol(text, &end, 10), part = 0, whole = 0;
    if (*end == '/') return hours * (4 / strtol(end + 1, NULL, 10));
    bool more = *end == ' ' && sscanf(end + 1, "%ld/%ld", &part, &whole) == 2;
    return 4 * hours + (more ? part * 4 / whole : 0);
}

/* Without dates, what is worked without a pause stands under its hours from the start, and no clock
 * is named. */
static void without_a_start_hours_count_from_the_beginning(void **state) {
    (void)state;
    struct made made = make(arena_printf(&arena, "%smake: 3\n", least));
    const struct run *run = &made.results.run;
    const char *row = plan_of(&made);
    int stint = 0;
    for (const char *cell; (cell = plan_cell(&row, 1));) {
        struct sitting sitting = sitting_from(made.recipe, run, stint);
        assert_int_equal(strncmp(cell, "hour ", 5), 0);
        assert_near((double)quarters_in(cell + 5), (double)sitting.from / 900, 0.5);
        assert_near((double)quarters_in(strstr(cell, " to ") + 4),
                    (double)run->stints[sitting.end - 1].to / 900 + 0.5, 0.5);
        stint = sitting.end;
    }
    assert_int_equal(stint, run->stint_count);
    assert_false(says(&made, "day 1"));
    assert_false(says(&made, "00:00"));
    assert_true(says_folded(&made, "hours count from the beginning of the run"));
}

/* As many prints of the templates as were asked for. */
static void templates_are_printed_as_often_as_asked(void **state) {
    (void)state;
    struct made made = make_full("Heron", "Words.");
    struct buf out = {.arena = &arena};
    order_emit(&out, made.recipe, &made.results, &figure_list, &(struct order_style){.copies = 3});
    assert_int_equal(count_of(made.text.data, "(template-1.svg)"), 1);
    assert_int_equal(count_of(out.data, "(template-1.svg)"), 3);
    assert_true(says_folded(&made, "**print their sheets 8 times**"));
    assert_non_null(
        strstr(read_on(out.data), "there are 3 prints here, and **8 plugs want one each**"));
}

/* A line for every step that is done, and no word of how. */
static void the_practised_get_a_line_a_step(void **state) {
    (void)state;
    struct made made = make_full("Heron", "Words.");
    struct buf out = {.arena = &arena};
    order_emit(&out, made.recipe, &made.results, &figure_list,
               &(struct order_style){.copies = 1, .brief = true});
    const struct route *route = &made.results.run.route;
    int done = 0;
    for (int i = 0; i < route->count; i++) done += !route->operations[i].skipped;
    for (int i = 1; i <= done; i++)
        assert_non_null(strstr(out.data, arena_printf(&arena, "\n| \xe2\x98\x90 %d ", i)));
    assert_null(strstr(out.data, arena_printf(&arena, "\n| \xe2\x98\x90 %d ", done + 1)));
    assert_null(strstr(out.data, "What ruins it"));
    assert_non_null(strstr(out.data, "## Card"));
}

static void the_card_alone_has_what_the_orders_card_has(void **state) {
    (void)state;
    struct made made = make_full("Heron", "Words.");
    struct buf out = {.arena = &arena};
    order_card_emit(&out, made.recipe, &made.results, &figure_list);
    const char *card = strstr(made.text.data, "\n## Card\n"), *end = strstr(card + 1, "\n## ");
    const char *alone = strstr(out.data, "\n## Card\n");
    assert_int_equal(strncmp(card, alone, (size_t)(end - card)), 0);
    assert_int_equal(strlen(alone), (size_t)(end - card));
    assert_int_equal(strncmp(out.data, "# Work order: Heron\n", 20), 0);
}

static void a_step_left_out_says_why_and_takes_no_number(void **state) {
    (void)state;
    struct made made = make_full("Heron", "Words.");
    const struct route *route = &made.results.run.route;
    int number = 0;
    assert_true(says(&made, "#### Left out: Sand for the finish\n\n- Because: Words.\n"));
    for (int i = 0; i < route->count; i++) {
        if (route->operations[i].skipped) continue;
        const char *head = arena_printf(&arena, "\n#### %d. ", ++number);
        if (!says(&made, head)) fail_msg("no step %d", number);
    }
    assert_false(says(&made, arena_printf(&arena, "\n#### %d. ", number + 1)));
    assert_false(says(&made, "0. Sand"));
}

static void measured_values_are_compared_with_the_prediction(void **state) {
    (void)state;
    struct made made = make_full("Heron", "Words.");
    struct bench_comparison c = bench_compare(made.recipe, &made.results);
    assert_true(c.sealed.given && c.finished.given && c.nose.given);
    /* Both ends read: the attitude is the slope of the line between them, by its definition. */
    assert_close(tan(c.attitude.read), (0.002 - 0.001) / 0.140, 1e-12);
    /* Reserve = (greatest displacement - mass) / greatest displacement: docs/physics.md, 5.3. */
    double capacity = made.results.finished.rest.capacity;
    assert_close(c.reserve, (capacity - 0.061) / capacity, 1e-12);
    assert_true(says(&made, "| Finished plug "));
}

/* The predictions read back tell nothing new; a degree and a gram more do. */
static void what_the_bench_cannot_tell_advises_on_nothing(void **state) {
    (void)state;
    static const char floats[] =
        "recipe: 1\nname: Teal\nwood: {species: basswood, density: 380 kg/m3}\nbody:\n"
        "  length: 140 mm\n  section: {shape: oval}\n  stations:\n"
        "    - {at: 0 %%, back: 4 mm, belly: 4 mm, width: 8 mm}\n"
        "    - {at: 40 %%, back: 13 mm, belly: 16 mm, width: 25 mm}\n"
        "    - {at: 100 %%, back: 4 mm, belly: 4 mm, width: 7 mm}\n"
        "hardware:\n  wire: {diameter: 1.2 mm}\n  line tie: {place: nose}\n"
        "ballast:\n  aim: {reserve: 14 %%, attitude: 3 deg}\n  bores:\n"
        "    - {at: 45 mm, drill: 9 mm, load: solve}\n    - {at: 85 mm, drill: 9 mm, load: solve}\n"
        "%s";
    struct made plain = make(arena_printf(&arena, floats, ""));
    const struct results *r = &plain.results;
    for (int i = 0; i < 2; i++) {
        const char *measured = arena_printf(
            &arena,
            "measured: {sealed: %.6f g, finished: %.6f g, float: {nose: %.6f mm, tail: "
            "%.6f mm}}\n",
            mass_tally(&r->masses, SEALED_STAGES).mass * 1e3 + i, r->finished.burden.mass * 1e3 + i,
            r->test.waterline_nose * 1e3 + 2 * i, r->test.waterline_tail * 1e3);
        struct made read = make(arena_printf(&arena, floats, measured));
        const char *const same[] = {
            "By its weight when sealed the body is as heavy as computed, give or take 0.1 g.",
            "keeps 14.0 % in reserve, as computed.", "nose down, as computed."};
        const char *const other[] = {"**1.0 g heavier** than computed", "in reserve; 14.0 %",
                                     "its mass lies further forward than computed."};
        for (int k = 0; k < 3; k++) {
            assert_true(says_folded(&read, i ? other[k] : same[k]));
            assert_false(says_folded(&read, i ? same[k] : other[k]));
        }
    }
}

/* A bore that has room for the load as computed, and for none that is a tenth of a millimetre
 * higher: lighter wood asks for more. */
static void loads_of_lighter_wood_that_do_not_fit_are_said_not_to(void **state) {
    (void)state;
    static const char floats[] =
        "recipe: 1\nname: Teal\nwood: {species: basswood}\nbody:\n"
        "  length: 140 mm\n  section: {shape: oval}\n  stations:\n"
        "    - {at: 0 %%, back: 4 mm, belly: 4 mm, width: 8 mm}\n"
        "    - {at: 40 %%, back: 13 mm, belly: 16 mm, width: 25 mm}\n"
        "    - {at: 100 %%, back: 4 mm, belly: 4 mm, width: 7 mm}\n"
        "hardware:\n  wire: {diameter: 1.2 mm}\n  line tie: {place: nose}\n"
        "ballast:\n  aim: {reserve: 20 %%}\n  bores:\n"
        "    - {at: 60 mm, drill: 14 mm, depth: %.4f mm, load: solve}\n";
    struct made wide = make(arena_printf(&arena, floats, 19.0));
    double slug = wide.results.ballast.fills[0].slug;
    struct made tight = make(arena_printf(&arena, floats, slug * 1e3 + 0.1));
    assert_true(wide.results.ballast.light.fits[0]);
    assert_false(tight.results.ballast.light.fits[0]);
    assert_true(tight.results.ballast.heavy.fits[0]);
    assert_false(says_folded(&wide, "does not fit"));
    assert_true(says_folded(&tight, "In the lighter the load of bore 1 does not fit."));
    assert_false(says_folded(&tight, "In the heavier the load"));
}

static void the_tolerance_leans_the_plug_by_the_angle_that_was_asked_for(void **state) {
    (void)state;
    struct made made = make_full("Heron", "Words.");
    const struct condition *finished = &made.results.finished;
    assert_true(finished->lean_given);
    double offset = bench_tolerance(finished, 0.035);
    assert_close(condition_lean(finished, finished->ballast_mass, offset), 0.035, 1e-9);
}

static int pipes(struct str line) {
    int count = 0;
    for (size_t i = 0; i < line.size; i++) {
        count += line.data[i] == '|' && (!i || line.data[i - 1] != '\\');
    }
    return count;
}

/* Every row of a table has as many cells as its head. */
static void assert_tables_are_whole(struct str text) {
    int head = 0;
    for (size_t from = 0; from < text.size;) {
        const char *end = memchr(text.data + from, '\n', text.size - from);
        struct str line = {text.data + from, (size_t)(end - text.data) - from};
        bool row = line.size && line.data[0] == '|';
        if (!row)
            head = 0;
        else if (!head)
            head = pipes(line);
        else if (pipes(line) != head)
            fail_msg("%.*s", (int)line.size, line.data);
        from += line.size + 1;
    }
}

static const char hostile[] =
    "**x** _y_ `z` | a | ~~b~~ <b>c</b> <script>alert(1)</script> ![i](file:///etc/passwd) "
    "[l](http://evil.example) <http://evil.example> http://evil.example www.evil.example "
    "joe@evil.example $m$ @cite [^1] ^[n] {=html} `r`{=html} &copy; \\(q\\)\n# h\n---\n- i\n1. n\n"
    "> q\n\n    code\n\n```\nfence\n```\n\nt\n===\n\n| p | q |\n| - | - |\n: d\n";

/* Names are short: several of them. */
static const char *const names[] = {
    "# **x** | ![i](/etc/passwd) <b>c</b>",
    "- @a $m$ [^1] www.evil.example",
    "1. `r`{=html} &copy; ***",
    "[l](http://evil.example)",
    "| - | - |",
    "---",
    "> q",
    "```",
    "\\",
};
enum { NAMES = sizeof names / sizeof *names };

static char *run(const char *command) {
    FILE *pipe = popen(command, "r");
    assert_non_null(pipe);
    size_t capacity = 8 << 20;
    char *text = arena_alloc(&arena, capacity + 1);
    text[fread(text, 1, capacity, pipe)] = '\0';
    assert_int_equal(pclose(pipe), 0);
    return text;
}

static void a_hostile_recipe_changes_words_and_nothing_else(void **state) {
    (void)state;
    static const char *const marks[] = {"\n#", "\n|", "\n- ", "\n!["};
    struct made tame = make_full("Heron", "Words.");
    assert_tables_are_whole(tame.text);
    for (int n = 0; n < NAMES; n++) {
        struct made wild = make_full(names[n], hostile);
        assert_tables_are_whole(wild.text);
        assert_false(says(&wild, "<"));
        for (size_t i = 0; i < sizeof marks / sizeof *marks; i++) {
            assert_int_equal(count_of(wild.text.data, marks[i]),
                             count_of(tame.text.data, marks[i]));
        }
    }
}

static const char *json_of(const char *reader, struct str text) {
    char path[] = "/tmp/test_order-XXXXXX";
    int file = mkstemp(path);
    assert_true(file >= 0);
    assert_int_equal(write(file, text.data, text.size), (ssize_t)text.size);
    close(file);
    char *json = run(arena_printf(&arena, "pandoc --quiet -f %s -t json %s", reader, path));
    unlink(path);
    return json;
}

/* The elements of two documents are the same but for plain words and for the lines of the note. */
static void assert_same_elements(const char *tame, const char *wild, const char *reader) {
    static const char *const elements[] = {
        "Header",    "Para",           "Plain",          "BulletList",  "OrderedList",
        "Table",     "BlockQuote",     "Image",          "Link",        "RawInline",
        "RawBlock",  "Math",           "Cite",           "Note",        "Span",
        "Div",       "CodeBlock",      "Strong",         "Emph",        "Strikeout",
        "LineBreak", "HorizontalRule", "DefinitionList", "Superscript", "Subscript"};
    for (size_t k = 0; k < sizeof elements / sizeof *elements; k++) {
        const char *mark = arena_printf(&arena, "{\"t\":\"%s\"", elements[k]);
        int want = count_of(tame, mark), got = count_of(wild, mark);
        bool lines = !strcmp(elements[k], "LineBreak") || !strcmp(elements[k], "Para");
        if (lines ? got < want : got != want) {
            fail_msg("%s: %d %s instead of %d", reader, got, elements[k], want);
        }
    }
    assert_non_null(strstr(wild, "\"meta\":{}"));
}

static void a_hostile_recipe_has_the_same_elements_for_pandoc(void **state) {
    (void)state;
    static const char *const readers[] = {
        "commonmark+pipe_tables+task_lists+gfm_auto_identifiers-raw_html", "gfm"};
    if (system("command -v pandoc >/dev/null 2>&1")) skip();
    struct made tame = make_full("Heron", "Words.");
    for (size_t r = 0; r < sizeof readers / sizeof *readers; r++) {
        const char *want = json_of(readers[r], tame.text);
        for (int n = 0; n < NAMES; n++) {
            struct made wild = make_full(names[n], hostile);
            assert_same_elements(want, json_of(readers[r], wild.text), readers[r]);
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(chapters_stand_in_the_order_of_the_bench),
        cmocka_unit_test(a_chapter_without_anything_to_say_is_left_out),
        cmocka_unit_test(the_sheet_names_its_recipe_and_digest_but_no_folder),
        cmocka_unit_test(the_same_recipe_gives_the_same_bytes),
        cmocka_unit_test(only_the_recipes_own_cautions_stand_there_and_steps_point_to_them),
        cmocka_unit_test(the_mass_budget_adds_up_to_the_finished_plug),
        cmocka_unit_test(every_predicted_number_has_a_blank_for_every_plug),
        cmocka_unit_test(steps_are_read_out_in_ranges),
        cmocka_unit_test(an_inch_order_says_each_measure_in_one_way),
        cmocka_unit_test(what_is_mixed_stands_in_one_row),
        cmocka_unit_test(a_step_done_like_another_points_to_it),
        cmocka_unit_test(colours_that_follow_each_other_are_one_block),
        cmocka_unit_test(a_reason_is_given_once),
        cmocka_unit_test(templates_are_printed_as_often_as_asked),
        cmocka_unit_test(the_practised_get_a_line_a_step),
        cmocka_unit_test(the_card_alone_has_what_the_orders_card_has),
        cmocka_unit_test(the_plan_goes_sitting_by_sitting),
        cmocka_unit_test(without_a_start_hours_count_from_the_beginning),
        cmocka_unit_test(a_step_left_out_says_why_and_takes_no_number),
        cmocka_unit_test(measured_values_are_compared_with_the_prediction),
        cmocka_unit_test(what_the_bench_cannot_tell_advises_on_nothing),
        cmocka_unit_test(loads_of_lighter_wood_that_do_not_fit_are_said_not_to),
        cmocka_unit_test(the_tolerance_leans_the_plug_by_the_angle_that_was_asked_for),
        cmocka_unit_test(a_hostile_recipe_changes_words_and_nothing_else),
        cmocka_unit_test(a_hostile_recipe_has_the_same_elements_for_pandoc),
    };
    return cmocka_run_group_tests_name("order", tests, NULL, end_arena);
}
