/* The rest of a run of which some is done: worked by hand, and by what always holds. */
#include "recipe_text.h"

#include "base/clock.h"
#include "compute/work/resume.h"
#include "compute/work/sooner.h"

static const int64_t hour = 3600, day = 24 * 3600;

/* Open on Tuesdays and Thursdays, 18 to 21 h; the rest begins on Thursday, 21 January 2027. */
static const char *const evenings =
    "shop: {start: 2027-01-21T18:00, open: {tue: \"18:00-21:00\", thu: \"18:00-21:00\"}}\n";

/* Glue: 1 h, then 48 h to cure.  Sand: 1 h.  Carve: 1 h, after the glue. */
enum { GLUE, SAND, CARVE, OPERATIONS };

static struct route glue_sand_carve(struct bench *b, bool sand_after_glue) {
    struct operation *o = NEW(&b->arena, struct operation, OPERATIONS);
    struct precedence *links = NEW(&b->arena, struct precedence, 2);
    static const char *const ids[] = {"glue", "sand", "carve"};
    for (int i = 0; i < OPERATIONS; i++)
        o[i] = (struct operation){
            .key = OPERATION_OWN, .id = ids[i], .each = 3600, .station = AT_BENCH};
    o[GLUE].wait = o[GLUE].held = 48 * 3600;
    links[0] = (struct precedence){GLUE, CARVE, NEED, NULL, 0};
    links[1] = (struct precedence){GLUE, SAND, NEED, NULL, 0};
    return (struct route){.operations = o,
                          .count = OPERATIONS,
                          .links = links,
                          .link_count = sand_after_glue ? 2 : 1};
}

static const struct recipe *box(struct bench *b) {
    return bench_good(b, PARTS(.head = "recipe: 1\nname: Box\nmake: 1\n", .shop = evenings));
}

static int64_t start_of(const struct run *run, int operation) {
    for (int i = 0; i < run->count; i++)
        if (run->steps[i].operation == operation) return run->steps[i].start;
    return -1;
}

/* The shop was open last until Tuesday 21 h: so long the glue may have been wet, and it has cured
 * on Thursday at 21 h, when the shop closes.  Carving is for the next Tuesday, 5 days on. */
static void a_wait_counts_from_the_last_closing(void **state) {
    struct bench *b = *state;
    struct route route = glue_sand_carve(b, false);
    route.operations[GLUE].done = true;
    struct run run = run_of(&b->arena, box(b), &route);
    assert_true(run.feasible);
    assert_int_equal(start_of(&run, GLUE), -1);
    assert_int_equal(start_of(&run, SAND), 0);
    assert_int_equal(start_of(&run, CARVE), 5 * day);
    assert_int_equal(run.hands_on, 2 * hour);
    assert_int_equal(run.makespan, 5 * day + hour);
}

/* Sanding, for which the glue had to be hard, is done: so the glue is, and carving goes first. */
static void a_wait_that_done_work_needed_is_over(void **state) {
    struct bench *b = *state;
    struct route route = glue_sand_carve(b, true);
    route.operations[GLUE].done = route.operations[SAND].done = true;
    struct run run = run_of(&b->arena, box(b), &route);
    assert_int_equal(start_of(&run, CARVE), 0);
    assert_int_equal(run.makespan, hour);
}

/* Left out by the recipe, between the two: the wait is passed on, and is not thought over. */
static void what_is_skipped_passes_a_wait_on(void **state) {
    struct bench *b = *state;
    struct route route = glue_sand_carve(b, true);
    struct step skip = {.change = STEP_SKIP};
    int link;
    route.links[0].before = SAND;
    route.operations[SAND].skipped = &skip;
    route.operations[SAND].each = 0;
    route.operations[SAND].station = AT_NONE;
    bool done[OPERATIONS] = {[GLUE] = true};
    assert_int_equal(resume_check(&route, done, &link), -1);
    assert_true(done[SAND] && !done[CARVE]);
    for (int i = 0; i < OPERATIONS; i++) route.operations[i].done = done[i];
    struct run run = run_of(&b->arena, box(b), &route);
    assert_int_equal(start_of(&run, CARVE), 5 * day);
    bool wrong[OPERATIONS] = {[CARVE] = true};
    assert_int_equal(resume_check(&route, wrong, &link), CARVE);
}

/* The glue is hard on Thursday at 21 h, so Friday from 18 h is the first that helps: carving ends
 * on Friday at 19 h, not on Tuesday, 4 days earlier. */
static void the_opening_that_helps_most_is_found(void **state) {
    struct bench *b = *state;
    struct route route = glue_sand_carve(b, false);
    route.operations[GLUE].done = true;
    struct run run = run_of(&b->arena, box(b), &route);
    struct resumed resumed = resumed_of(box(b), &run);
    assert_int_equal(resumed.closed, -(day + 21 * hour));
    assert_int_equal(resumed.extra.gain, 4 * day);
    assert_int_equal(resumed.extra.opening.from, day);
    assert_int_equal(resumed.extra.opening.to, day + 3 * hour);
}

/* All that is left is done in the first hour. */
static void that_none_helps_is_proven(void **state) {
    struct bench *b = *state;
    struct route route = glue_sand_carve(b, true);
    route.operations[GLUE].done = route.operations[SAND].done = true;
    struct run run = run_of(&b->arena, box(b), &route);
    struct resumed resumed = resumed_of(box(b), &run);
    assert_true(resumed.extra.tried && resumed.extra.proven && resumed.extra.gain == 0);
}

/* --- what always holds ----------------------------------------------------------------------- */

static const struct recipe *painted(struct bench *b) {
    return bench_good(
        b, PARTS(.head = "recipe: 1\nname: Box\nmake: 5\n",
                 .finish = "finish: {seal: {}, paint: {layers: [{colour: white, kind: opaque}]}, "
                           "topcoat: {kind: epoxy, coats: 2}}\n",
                 .shop = "shop: {wheel: 3, start: 2027-01-16T09:00, open: {tue: \"18:00-21:00\", "
                         "sat: \"09:00-17:00\", sun: \"09:00-12:00\"}}\n"));
}

/* Has this, which is done, been needed by something that is done? */
static bool needed(const struct route *route, int operation) {
    for (int k = 0; k < route->link_count; k++)
        if (route->links[k].before == operation && route->operations[route->links[k].after].done)
            return true;
    return false;
}

/* However much is done: nothing of it is planned, all else is, and no wait of it that may still
 * last is thought over. */
static void the_rest_waits_for_what_is_done(void **state) {
    struct bench *b = *state;
    const struct recipe *recipe = painted(b);
    struct route planned = route_of(&b->arena, recipe, 0.01, &b->diags);
    int waited = 0;
    for (int done = 1; done <= planned.count; done++) {
        for (int i = 0; i < planned.count; i++) planned.operations[i].done = i < done;
        struct run run = run_of(&b->arena, recipe, &planned);
        assert_true(run.feasible);
        const struct route *route = &run.route;
        struct resumed resumed = resumed_of(recipe, &run);
        for (int i = 0; i < route->count; i++)
            assert_int_equal(route->operations[i].done, start_of(&run, i) < 0);
        for (int k = 0; k < route->link_count; k++) {
            int before = route->links[k].before, after = route->links[k].after;
            const struct operation *o = &route->operations[before];
            if (!o->done || route->operations[after].done || needed(route, before)) continue;
            assert_true((double)start_of(&run, after) >= (double)resumed.closed + o->wait);
            waited += o->wait > 0;
        }
    }
    assert_true(waited > 0);
}

/* A coat of unknown age is scuffed before the next. */
static void the_coat_after_one_that_is_done_is_scuffed(void **state) {
    struct bench *b = *state;
    const struct recipe *recipe = painted(b);
    struct route planned = route_of(&b->arena, recipe, 0.01, &b->diags);
    int coat = route_find(&planned, str_of("topcoat-1"));
    for (int i = 0; i <= coat; i++) planned.operations[i].done = true;
    struct run run = run_of(&b->arena, recipe, &planned);
    assert_true(route_find(&run.route, str_of("scuff-2")) > coat);
}

/* With nothing done it is the usual run with that start. */
static void nothing_done_is_the_usual_run(void **state) {
    struct bench *b = *state;
    const struct recipe *recipe = painted(b);
    struct results usual = results_compute(&b->arena, recipe, RESULTS_FOR_DIAGNOSTICS, &b->diags);
    for (int64_t on = 0; on < 14 * day; on += day) {
        recipe->shop->start = moment_after((struct moment){2027, 1, 16, 9, 0, true}, on);
        struct results due = results_compute(&b->arena, recipe, RESULTS_FOR_DIAGNOSTICS, &b->diags);
        struct results again = usual;
        results_resume(&b->arena, recipe, &again, NULL);
        assert_true(due.run.feasible && again.run.count == due.run.count);
        assert_int_equal(again.run.makespan, due.run.makespan);
        assert_int_equal(again.supply.mix_count, due.supply.mix_count);
        for (int i = 0; i < due.run.count; i++) {
            assert_int_equal(again.run.steps[i].operation, due.run.steps[i].operation);
            assert_int_equal(again.run.steps[i].start, due.run.steps[i].start);
            assert_int_equal(again.run.steps[i].end, due.run.steps[i].end);
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(a_wait_counts_from_the_last_closing),
        BENCH_TEST(a_wait_that_done_work_needed_is_over),
        BENCH_TEST(what_is_skipped_passes_a_wait_on),
        BENCH_TEST(the_opening_that_helps_most_is_found),
        BENCH_TEST(that_none_helps_is_proven),
        BENCH_TEST(the_rest_waits_for_what_is_done),
        BENCH_TEST(the_coat_after_one_that_is_done_is_scuffed),
        BENCH_TEST(nothing_done_is_the_usual_run),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
