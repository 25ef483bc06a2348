/* What holds of every recipe, tried on recipes at random (generate.h): fixed seeds, so that a
 * failure comes again. */
#include "recipe_text.h"

#include <ctype.h>
#include <jansson.h>
#include <stdlib.h>

#include "command/compare.h"
#include "compute/implied.h"
#include "emit/calendar.h"
#include "emit/drawing/drawing.h"
#include "emit/facts.h"
#include "emit/order/order.h"
#include "emit/report.h"

#include "emit/terminal.h"
#include "generate.h"
#include "validate_plan.h"
#include "validate_schedule.h"

enum { SEEDS = 24 }; /* as many as SEEDS says, in the environment, if that is more */

struct schedule __wrap_schedule_solve(struct arena *arena, const struct project *project,
                                      long node_limit);
struct schedule __real_schedule_solve(struct arena *arena, const struct project *project,
                                      long node_limit);

/* Every schedule of every recipe here is judged. */
static int judged;
struct schedule __wrap_schedule_solve(struct arena *arena, const struct project *project,
                                      long node_limit) {
    struct schedule schedule = __real_schedule_solve(arena, project, node_limit);
    if (schedule.feasible) {
        const char *wrong = validate_schedule(project, &schedule);
        if (wrong) print_error("%s\n", wrong);
        assert_null(wrong);
        judged++;
    }
    return schedule;
}

static const char *facts_of(struct arena *arena, const struct compilation *c) {
    struct buf out = {.arena = arena};
    struct walk walk = {.arena = arena, .recipe = c->recipe, .diags = &c->diags};
    walk.implied = implied_values(arena, &c->results);
    facts_emit(&out, &walk, NULL, 0, NULL, &c->diags);
    return out.data;
}

typedef void property(struct arena *arena, const struct compilation *c, uint64_t seed);

/* Recipes that are tried: SEEDS, or as many as the environment asks for, if that is more. */
static uint64_t seed_count(void) {
    const char *wanted = getenv("SEEDS");
    uint64_t count = wanted ? strtoull(wanted, NULL, 10) : 0;
    return count > SEEDS ? count : SEEDS;
}

/* Made once for all properties, which change nothing in them. */
static struct arena shelf;
static struct compilation *made;

static int make_all(void **state) {
    (void)state;
    struct generate_stock stock = generate_stock_of(&shelf, "recipes");
    if (!stock.count) return -1;
    made = NEW(&shelf, struct compilation, seed_count());
    for (uint64_t seed = 0, count = seed_count(); seed < count; seed++) {
        const char *text;
        made[seed] = generate_valid(&shelf, &stock, seed, &text);
        if (!compilation_failed(&made[seed])) continue;
        print_error("%s\n%s\n", made[seed].diags.items[0].message, text);
        return -1;
    }
    return 0;
}

static int drop_all(void **state) {
    (void)state;
    arena_free(&shelf);
    return 0;
}

static void for_all(property *holds) {
    for (uint64_t seed = 0, count = seed_count(); seed < count; seed++) {
        struct arena arena = {0};
        holds(&arena, &made[seed], seed);
        arena_free(&arena);
    }
}

/* --- the same design ------------------------------------------------------------------------- */

static void written_again(struct arena *arena, const struct compilation *c, uint64_t seed) {
    const struct generate_style style = {.keys = seed % 2, .units = seed / 2 % 2};
    const char *text = generate_written(arena, c->recipe, &style, seed);
    struct compilation again = compile_text(arena, "again", str_of(text));
    if (again.diags.errors) print_error("%s\n", text);
    assert_int_equal(again.diags.errors, 0);
    assert_string_equal(facts_of(arena, &again), facts_of(arena, c));
}

static void order_of_keys_and_units_do_not_matter(void **state) {
    (void)state;
    for_all(written_again);
}

/* --- differences ----------------------------------------------------------------------------- */

static void no_difference_from_itself(struct arena *arena, const struct compilation *c,
                                      uint64_t seed) {
    (void)seed;
    struct difference d = compare(arena, c, c);
    assert_int_equal(d.changes.count, 0);
    assert_int_equal(d.rework.count, 0);
    assert_int_equal(d.warnings_come_count + d.warnings_go_count, 0);
}

static void a_recipe_does_not_differ_from_itself(void **state) {
    (void)state;
    for_all(no_difference_from_itself);
}

/* The same recipe with some values changed and some left out: one that compiles, or itself. */
static struct compilation altered(struct arena *arena, const struct compilation *c, uint64_t seed) {
    const struct generate_style style = {.change = 0.06, .drop = 0.03};
    for (uint64_t attempt = 0; attempt < 6; attempt++) {
        const char *text = generate_written(arena, c->recipe, &style, seed * 6 + attempt);
        struct compilation other = compile_text(arena, "altered", str_of(text));
        if (!compilation_failed(&other)) return other;
    }
    return *c;
}

static int by_text(const void *a, const void *b) {
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

static const char *sorted(struct arena *arena, const char **lines, int count) {
    struct buf out = {.arena = arena};
    buf_text(&out, "");
    if (count) qsort(lines, (size_t)count, sizeof *lines, by_text);
    for (int i = 0; i < count; i++) buf_printf(&out, "%s\n", lines[i]);
    return out.data;
}

static const char *or_dash(const char *text) {
    return text ? text : "-";
}

/* What changed, sorted; `back`: as it reads from the other side.  What stands elsewhere in its list
 * is left out: of two items that changed places, either may be the one that moved. */
static const char *changes_told(struct arena *arena, const struct change_list *list, bool back) {
    static const enum change_kind other[] = {CHANGE_VALUE, CHANGE_SHIFTED, CHANGE_REMOVED,
                                             CHANGE_ADDED, CHANGE_REORDERED};
    const char **lines = NEW(arena, const char *, list->count + 1);
    int count = 0;
    for (int i = 0; i < list->count; i++) {
        const struct change *c = &list->items[i];
        if (c->kind == CHANGE_REORDERED) continue;
        lines[count++] = arena_printf(arena, "%d %s: %s > %s", back ? other[c->kind] : c->kind,
                                      c->path, or_dash(back ? c->after : c->before),
                                      or_dash(back ? c->before : c->after));
    }
    return sorted(arena, lines, count);
}

static const char *value_told(struct arena *arena, const struct effect_value *value) {
    return value ? arena_printf(arena, "%.15g", value->value) : "-";
}

static const char *effects_told(struct arena *arena, const struct effect_list *list, bool back) {
    const char **lines = NEW(arena, const char *, list->count + 1);
    for (int i = 0; i < list->count; i++) {
        const struct effect *e = &list->items[i];
        double low = back ? -e->change.high : e->change.low;
        double high = back ? -e->change.low : e->change.high;
        lines[i] =
            arena_printf(arena, "%s: %s > %s, %.9g to %.9g", name_text(arena, e->any->label),
                         value_told(arena, back ? e->after : e->before),
                         value_told(arena, back ? e->before : e->after), low + 0.0, high + 0.0);
    }
    return sorted(arena, lines, list->count);
}

/* Operations that come, go or take another time. */
static const char *work_told(struct arena *arena, const struct rework_list *list, bool back) {
    const char **lines = NEW(arena, const char *, list->count + 1);
    int count = 0;
    for (int i = 0; i < list->count; i++) {
        const struct rework *w = &list->items[i];
        if (w->kind == REWORK_MOVES) continue;
        const struct operation *before = back ? w->now : w->before;
        const struct operation *now = back ? w->before : w->now;
        lines[count++] = arena_printf(arena, "%s > %s: %.9g > %.9g s", before ? before->id : "-",
                                      now ? now->id : "-", back ? w->hands_now : w->hands_before,
                                      back ? w->hands_before : w->hands_now);
    }
    return sorted(arena, lines, count);
}

static int compared; /* pairs that differ */

static void there_and_back(struct arena *arena, const struct compilation *c, uint64_t seed) {
    struct compilation other = altered(arena, c, seed);
    struct difference there = compare(arena, c, &other), back = compare(arena, &other, c);
    assert_string_equal(changes_told(arena, &there.changes, false),
                        changes_told(arena, &back.changes, true));
    assert_string_equal(effects_told(arena, &there.effects, false),
                        effects_told(arena, &back.effects, true));
    assert_string_equal(work_told(arena, &there.rework, false),
                        work_told(arena, &back.rework, true));
    assert_int_equal(there.cautions_come, back.cautions_go);
    assert_int_equal(there.cautions_go, back.cautions_come);
    assert_int_equal(there.warnings_come_count, back.warnings_go_count);
    assert_int_equal(there.warnings_go_count, back.warnings_come_count);
    compared += there.changes.count > 0;
}

static void a_difference_reads_the_other_way_round_from_the_other_side(void **state) {
    (void)state;
    compared = 0;
    for_all(there_and_back);
    assert_true(compared > SEEDS / 2);
}

/* --- sums and numbers ------------------------------------------------------------------------ */

static void stages_add_up(struct arena *arena, const struct compilation *c, uint64_t seed) {
    (void)arena, (void)seed;
    const struct mass_list *list = &c->results.masses;
    double whole = 0, stages = 0;
    for (int i = 0; i < list->count; i++) whole += list->rows[i].mass;
    for (unsigned bit = 0; bit < 16; bit++) stages += mass_tally(list, 1u << bit).mass;
    assert_close(stages, whole, 1e-12);
    assert_close(c->results.finished.burden.mass, whole, 1e-12);
}

static void masses_of_the_stages_add_up(void **state) {
    (void)state;
    for_all(stages_add_up);
}

static void report_is_json(struct arena *arena, const struct compilation *c, uint64_t seed) {
    (void)seed;
    struct buf out = {.arena = arena};
    report_emit(&out, c->recipe, &c->results, &c->diags);
    json_t *root = json_loadb(out.data, out.size, 0, NULL); /* which knows no NaN */
    assert_non_null(root);
    json_decref(root);
}

static void reports_hold_no_nan(void **state) {
    (void)state;
    for_all(report_is_json);
}

static const char *order_of(struct arena *arena, const struct compilation *c,
                            struct figure_list *figures) {
    struct buf out = {.arena = arena};
    *figures = drawing_all(arena, c->recipe, &c->results);
    order_emit(&out, c->recipe, &c->results, figures, &(struct order_style){.copies = 1});
    buf_char(&out, '\0');
    return out.data;
}

/* The word that a number that is none would be printed as. */
static bool has_word(const char *text, const char *word) {
    for (const char *at = text; (at = strstr(at, word)); at++) {
        bool begins = at == text || !isalpha((unsigned char)at[-1]);
        if (begins && !isalpha((unsigned char)at[strlen(word)])) return true;
    }
    return false;
}

static void assert_numbers(const char *what, const char *text) {
    static const char *const words[] = {"nan",      "NaN",      "inf", "Inf",
                                        "infinity", "Infinity", "NAN", "INF"};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (has_word(text, words[i])) fail_msg("%s holds %s", what, words[i]);
}

static void outputs_are_numbers(struct arena *arena, const struct compilation *c, uint64_t seed) {
    struct figure_list figures;
    assert_numbers("order", order_of(arena, c, &figures));
    for (int i = 0; i < figures.count; i++) {
        struct buf *svg = &figures.figures[i].svg;
        assert_numbers(figures.figures[i].file, arena_copy(arena, svg->data, svg->size));
    }
    struct buf screen = {.arena = arena}, calendar = {.arena = arena}, page = {.arena = arena};
    terminal_emit(&screen, c->recipe, &c->results);
    calendar_emit(&calendar, c->recipe, &c->results);
    struct compilation other = altered(arena, c, seed);
    struct difference difference = compare(arena, c, &other);
    difference_terminal(&page, &difference);
    difference_json(&page, &difference);
    assert_numbers("terminal", arena_copy(arena, screen.data, screen.size));
    assert_numbers("calendar", arena_copy(arena, calendar.data, calendar.size));
    assert_numbers("difference", arena_copy(arena, page.data, page.size));
    assert_numbers("facts", facts_of(arena, c));
}

static void no_output_holds_a_number_that_is_none(void **state) {
    (void)state;
    for_all(outputs_are_numbers);
}

/* --- the order and the report ---------------------------------------------------------------- */

/* The n-th cell, from 0, of the row of a table that begins with this cell; or NULL. */
static const char *cell_of(struct arena *arena, const char *order, const char *head, int n) {
    const char *row = strstr(order, arena_printf(arena, "\n| %s ", head));
    if (!row) return NULL;
    row++;
    for (int i = 0; i < n && *row != '\n'; i++) row += 1 + strcspn(row + 1, "|\n");
    if (*row != '|') return NULL;
    row += 1 + strspn(row + 1, " *");
    return arena_copy(arena, row, strcspn(row, "|\n"));
}

/* A number as it was printed, "12.5" or "1 5/32" or "2 1/16 (2.071)", and what it may be off. */
static double read_number(const char *text, const char **rest, double *doubt) {
    char *end;
    double value = strtod(text, &end), part = 0;
    *doubt = 0.5;
    for (const char *c = strchr(text, '.'); c && c + 1 < end; c++) *doubt /= 10;
    if (*end == ' ' && isdigit((unsigned char)end[1]))
        part = strtod(end + 1, &end);
    else if (*end == '/')
        part = value, value = 0;
    if (*end == '/') value += part / strtod(end + 1, &end), *doubt = 1.0 / 64;
    if (strncmp(end, " (", 2) == 0)
        value = read_number(end + 2, rest, doubt), end = strchr(end, ')') + 1;
    *rest = end;
    return value;
}

/* What a cell says in the report's unit, and how far it may be off for its last digit. */
static double read_cell(const char *cell, double *doubt) {
    static const struct {
        const char *name;
        double scale;
    } scales[] = {{"mm", 1}, {"in", 25.4}, {"g", 1}, {"oz", 28.349523125}, {"%", 1}};
    bool minus = strncmp(cell, "\xE2\x88\x92", 3) == 0;
    if (minus) cell += 3;
    if (!isdigit((unsigned char)*cell)) return NAN;
    double value = read_number(cell, &cell, doubt);
    cell += strspn(cell, " \xC2\xA0");
    for (size_t i = 0; i < sizeof scales / sizeof *scales; i++) {
        size_t size = strlen(scales[i].name);
        if (strncmp(cell, scales[i].name, size) != 0 || isalpha((unsigned char)cell[size]))
            continue;
        *doubt *= scales[i].scale;
        return (minus ? -value : value) * scales[i].scale;
    }
    return NAN;
}

static int agreed; /* numbers that were compared */

static void assert_agrees(const char *what, const char *cell, const json_t *value) {
    if (!cell) fail_msg("the order has no %s", what);
    if (!json_is_number(value)) fail_msg("the report has no %s, the order %s", what, cell);
    double doubt = 0, read = read_cell(cell, &doubt), due = json_number_value(value);
    if (!(fabs(read - due) <= doubt + 1e-6))
        fail_msg("%s: the order says %s, the report %g", what, cell, due);
    agreed++;
}

static void floating_agrees(struct arena *arena, const char *order, const json_t *report) {
    static const char *const rows[][2] = {{"Displaces when pushed under", "displacement_g"},
                                          {"Reserve of buoyancy", "reserve_percent"},
                                          {"Metacentric height", "gm_mm"}};
    static const char *const conditions[] = {"test", "finished"};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        for (int k = 0; k < 2; k++) {
            const json_t *condition =
                json_object_get(json_object_get(report, "float"), conditions[k]);
            assert_agrees(rows[i][0], cell_of(arena, order, rows[i][0], k + 1),
                          json_object_get(condition, rows[i][1]));
        }
}

static void bores_agree(struct arena *arena, const char *order, const json_t *report) {
    const json_t *bores = json_object_get(json_object_get(report, "ballast"), "bores");
    for (size_t i = 0; i < json_array_size(bores); i++) {
        const json_t *bore = json_array_get(bores, i);
        const char *head = arena_printf(arena, "Bore %zu", i + 1);
        assert_agrees(head, cell_of(arena, order, head, 6), json_object_get(bore, "depth_mm"));
        if (json_number_value(json_object_get(bore, "load_g")) > 0)
            assert_agrees(head, cell_of(arena, order, head, 7), json_object_get(bore, "load_g"));
    }
}

static void order_as_report(struct arena *arena, const struct compilation *c, uint64_t seed) {
    (void)seed;
    struct figure_list figures;
    const char *order = order_of(arena, c, &figures);
    struct buf out = {.arena = arena};
    report_emit(&out, c->recipe, &c->results, &c->diags);
    json_t *report = json_loadb(out.data, out.size, 0, NULL);
    assert_non_null(report);
    assert_agrees("Body", cell_of(arena, order, "Body", 1),
                  json_object_get(json_object_get(report, "body"), "length_mm"));
    floating_agrees(arena, order, report);
    bores_agree(arena, order, report);
    json_decref(report);
}

static void order_and_report_agree(void **state) {
    (void)state;
    agreed = 0;
    for_all(order_as_report);
    assert_true(agreed > 7 * SEEDS);
}

/* --- wood ------------------------------------------------------------------------------------ */

/* The loads of the bores as they were worked out, and no finish, whose mass would grow with the
 * body. */
static void fix_loads(struct arena *arena, struct recipe *recipe, const struct results *results) {
    recipe->finish = NULL;
    for (int i = 0; recipe->ballast && i < recipe->ballast->bore_count; i++) {
        struct bore *bore = &recipe->ballast->bores[i];
        if (!bore->solve) continue;
        bore->solve = false;
        bore->load_count = results->ballast.fills[i].load > 0;
        bore->load = NEW(arena, struct piece, 1);
        bore->load->mass = (struct opt){.given = true, .value = results->ballast.fills[i].load};
    }
}

static double grams_of_reserve(const struct results *results) {
    return (results->finished.rest.capacity - results->finished.burden.mass) * 1e3;
}

static int widened;

static void wider_carries_no_less(struct arena *arena, const struct compilation *c, uint64_t seed) {
    const char *text = generate_written(arena, c->recipe, &(struct generate_style){0}, seed);
    struct compilation own = compile_text(arena, "own", str_of(text));
    struct recipe *recipe = (struct recipe *)(uintptr_t)own.recipe; /* nobody else's */
    fix_loads(arena, recipe, &own.results);
    struct results slim = results_afloat(arena, recipe);
    if (grams_of_reserve(&slim) <= 0 || slim.plug.wood_density >= slim.plug.water) return;
    for (int i = 0; i < recipe->body->station_count; i++)
        recipe->body->stations[i].width *= 1.01 + 0.01 * (double)(seed % 5);
    struct results wide = results_afloat(arena, recipe);
    if (grams_of_reserve(&wide) < grams_of_reserve(&slim))
        fail_msg("%g g, and wider only %g g", grams_of_reserve(&slim), grams_of_reserve(&wide));
    widened++;
}

static void wood_never_lowers_the_reserve_of_what_floats(void **state) {
    (void)state;
    widened = 0;
    for_all(wider_carries_no_less);
    assert_true(widened > SEEDS / 3);
}

/* --- plans ----------------------------------------------------------------------------------- */

static int worked_together;

/* A recipe and a colourway of it, on one bench. */
static void plan_keeps_all(struct arena *arena, const struct compilation *c, uint64_t seed) {
    (void)seed;
    if (!c->results.run.feasible || c->recipe->make > MAX_RUN / 8) return;
    struct recipe *other = NEW(arena, struct recipe, 1);
    *other = *c->recipe;
    other->name = str_of("another");
    double loads[MAX_BORES] = {0};
    struct plan_order orders[2];
    for (int k = 0; k < 2; k++)
        orders[k] = (struct plan_order){.recipe = k ? other : c->recipe,
                                        .alone = &c->results.run,
                                        .body = "the same",
                                        .floating = "alike",
                                        .loads = loads};
    struct plan plan = plan_of(arena, orders, 2);
    assert_true(plan.feasible);
    const char *wrong = validate_plan(&plan, orders, 2);
    if (wrong) print_error("%s\n", wrong);
    assert_null(wrong);
    assert_true(plan.all.lower_bound <= plan.all.makespan && plan.lateness >= plan.least_late);
    worked_together += plan.lots.count > 0;
}

static void plans_keep_every_order_and_window(void **state) {
    (void)state;
    worked_together = 0;
    for_all(plan_keeps_all);
    print_message("%d plans have lots\n", worked_together);
    assert_true(worked_together > SEEDS / 3);
}

static void schedules_are_valid(void **state) {
    (void)state;
    print_message("%d schedules are valid\n", judged);
    assert_true(judged >= SEEDS);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(order_of_keys_and_units_do_not_matter),
        cmocka_unit_test(a_recipe_does_not_differ_from_itself),
        cmocka_unit_test(masses_of_the_stages_add_up),
        cmocka_unit_test(reports_hold_no_nan),
        cmocka_unit_test(a_difference_reads_the_other_way_round_from_the_other_side),
        cmocka_unit_test(no_output_holds_a_number_that_is_none),
        cmocka_unit_test(order_and_report_agree),
        cmocka_unit_test(wood_never_lowers_the_reserve_of_what_floats),
        cmocka_unit_test(plans_keep_every_order_and_window),
        cmocka_unit_test(schedules_are_valid),
    };
    return cmocka_run_group_tests_name("generated", tests, make_all, drop_all);
}
