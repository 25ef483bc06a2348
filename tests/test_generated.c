/* What holds of every recipe, tried on recipes at random (generate.h): fixed seeds, so that a
 * failure comes again. */
#include "recipe_text.h"

#include <jansson.h>

#include "command/compare.h"
#include "compute/implied.h"
#include "emit/facts.h"
#include "emit/report.h"
#include "generate.h"
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

static uint64_t seed_count(void) {
    const char *wanted = getenv("SEEDS");
    uint64_t count = wanted ? strtoull(wanted, NULL, 10) : 0;
    return count > SEEDS ? count : SEEDS;
}

static void for_all(property *holds) {
    struct arena shelf = {0};
    struct generate_stock stock = generate_stock_of(&shelf, "recipes");
    assert_true(stock.count > 0);
    for (uint64_t seed = 0, count = seed_count(); seed < count; seed++) {
        struct arena arena = {0};
        const char *text;
        struct compilation c = generate_valid(&arena, &stock, seed, &text);
        if (c.diags.errors) print_error("%s\n%s\n", c.diags.items[0].message, text);
        assert_false(compilation_failed(&c));
        holds(&arena, &c, seed);
        arena_free(&arena);
    }
    arena_free(&shelf);
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
        cmocka_unit_test(schedules_are_valid),
    };
    return cmocka_run_group_tests_name("generated", tests, NULL, NULL);
}
