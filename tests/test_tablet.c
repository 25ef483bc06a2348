/* What the tablet's page knows of a run: every stint and every mere wait once, in the order of the
 * plan, under names that stay. */
#include "recipe_text.h"

#include <jansson.h>

#include "compute/work/sitting.h"
#include "emit/order/tablet.h"

static const char shop[] = "shop: {start: 2026-12-05T09:00, open: {sat: \"09:00-12:00\", "
                           "sun: \"10:00-13:00\"}, wheel: 2}\n";

static struct recipe_parts four(void) {
    return PARTS(SWIMMER, .head = "recipe: 1\nname: Four\nmake: 4\n", .shop = shop);
}

static json_t *read_run(struct bench *b, struct recipe_parts parts, struct compilation *c) {
    *c = bench_compile(b, parts);
    if (c->diags.errors) print_error("%s", bench_said(b));
    assert_int_equal(c->diags.errors, 0);
    struct buf out = {.arena = &b->arena};
    json_error_t error;
    tablet_emit(&out, c->recipe, &c->results);
    json_t *run = json_loadb(out.data, out.size, 0, &error);
    if (!run) fail_msg("%s", error.text);
    return run;
}

static const char *text(json_t *object, const char *key) {
    return json_string_value(json_object_get(object, key));
}

static json_int_t whole(json_t *object, const char *key) {
    return json_integer_value(json_object_get(object, key));
}

/* The step whose title begins so. */
static json_t *step_called(json_t *run, const char *title) {
    json_t *steps = json_object_get(run, "steps");
    for (size_t i = 0; i < json_array_size(steps); i++) {
        json_t *step = json_array_get(steps, i);
        if (strncmp(text(step, "title"), title, strlen(title)) == 0) return step;
    }
    fail_msg("no step %s", title);
    return NULL;
}

static void every_plug_of_every_step_has_one_piece(void **state) {
    struct compilation c;
    json_t *run = read_run(*state, four(), &c);
    json_t *steps = json_object_get(run, "steps"), *pieces = json_object_get(run, "pieces");
    for (size_t i = 0; i < json_array_size(steps); i++) {
        json_int_t number = whole(json_array_get(steps, i), "number"), plugs = 0;
        assert_int_equal(number, i + 1);
        for (size_t j = 0; j < json_array_size(pieces); j++) {
            json_t *piece = json_array_get(pieces, j);
            if (whole(piece, "step") != number) continue;
            plugs += whole(piece, "last") - whole(piece, "first") + 1;
            for (size_t k = 0; k < j; k++)
                assert_string_not_equal(text(piece, "key"), text(json_array_get(pieces, k), "key"));
        }
        assert_int_equal(plugs, 4);
    }
    json_decref(run);
}

static void pieces_follow_the_plan(void **state) {
    struct compilation c;
    json_t *run = read_run(*state, four(), &c), *pieces = json_object_get(run, "pieces");
    json_int_t sitting = 0;
    for (size_t i = 0; i < json_array_size(pieces); i++) {
        json_t *own = json_object_get(json_array_get(pieces, i), "sitting");
        if (!own) continue;
        assert_in_range(json_integer_value(own), sitting, sitting + 1);
        sitting = json_integer_value(own);
    }
    assert_int_equal(sitting + 1, sitting_count(c.recipe, &c.results.run));
    assert_int_equal(json_array_size(json_object_get(run, "sittings")), sitting + 1);
    assert_string_equal(text(json_array_get(json_object_get(run, "sittings"), 0), "when"),
                        "Sat 5 Dec, 09:00");
    json_decref(run);
}

/* It has no stint, so its name is that of the operation alone. */
static void a_step_that_only_waits_is_a_piece(void **state) {
    struct compilation c;
    json_t *run = read_run(*state, four(), &c), *pieces = json_object_get(run, "pieces");
    json_t *dry = step_called(run, "Let the colour dry");
    int found = 0;
    assert_true(json_number_value(json_object_get(dry, "wait_s")) > 3600);
    for (size_t i = 0; i < json_array_size(pieces); i++) {
        json_t *piece = json_array_get(pieces, i);
        if (whole(piece, "step") != whole(dry, "number")) continue;
        assert_string_equal(text(piece, "key"), "dry-through");
        assert_null(json_object_get(piece, "sitting"));
        found++;
    }
    assert_int_equal(found, 1);
    json_decref(run);
}

static void a_step_knows_its_amounts_and_its_window(void **state) {
    struct compilation c;
    json_t *run = read_run(*state, four(), &c);
    json_t *first = step_called(run, "Topcoat, coat 1"),
           *second = step_called(run, "Topcoat, coat 2");
    json_t *after = json_object_get(second, "after");
    double within = 0;
    for (size_t i = 0; i < json_array_size(after); i++) {
        json_t *link = json_array_get(after, i);
        if (whole(link, "step") != whole(first, "number")) continue;
        within = json_number_value(json_object_get(link, "within_s"));
    }
    assert_true(within > json_number_value(json_object_get(first, "wait_s")));
    assert_non_null(strstr(text(first, "amount"), "load 2, cup 1: ")); /* the wheel turns two */
    assert_non_null(strstr(text(first, "amount"), " for 2 plugs"));
    assert_string_equal(text(first, "cautions"), "Epoxy");
    assert_non_null(strstr(text(step_called(run, "Colour 1"), "amount"), " of paint"));
    assert_non_null(strstr(text(step_called(run, "Weigh"), "amount"), "should weigh "));
    json_decref(run);
}

static void a_step_that_is_left_out_is_not_there(void **state) {
    struct compilation c;
    struct recipe_parts parts = four();
    parts.steps = "steps: [{skip: bore-eyes, because: they are painted}]\n";
    json_t *run = read_run(*state, parts, &c), *pieces = json_object_get(run, "pieces");
    size_t steps = json_array_size(json_object_get(run, "steps"));
    assert_int_equal(steps, c.results.run.route.count - 1);
    for (size_t i = 0; i < json_array_size(pieces); i++)
        assert_in_range(whole(json_array_get(pieces, i), "step"), 1, steps);
    json_decref(run);
}

static void no_text_can_end_the_element_that_holds_it(void **state) {
    struct bench *b = *state;
    struct recipe_parts parts = four();
    parts.steps = "steps: [{add: own, title: '</script><!-- &amp; <b>', after: sand}]\n";
    struct compilation c = bench_compile(b, parts);
    assert_int_equal(c.diags.errors, 0);
    struct buf out = {.arena = &b->arena};
    tablet_emit(&out, c.recipe, &c.results);
    assert_null(memchr(out.data, '<', out.size));
    assert_null(memchr(out.data, '>', out.size));
    assert_null(memchr(out.data, '&', out.size));
    json_t *run = json_loadb(out.data, out.size, 0, NULL);
    assert_string_equal(text(step_called(run, "</script>"), "title"), "</script><!-- &amp; <b>");
    json_decref(run);
}

/* Of a run that goes on: they are counted as done, and nothing waits for them by this clock. */
static void steps_that_are_done_have_no_pieces(void **state) {
    struct bench *b = *state;
    struct compilation c;
    json_decref(read_run(b, four(), &c));
    bool *done = NEW(&b->arena, bool, c.results.run.route.count);
    done[0] = done[1] = true;
    results_resume(&b->arena, c.recipe, &c.results, done);
    struct buf out = {.arena = &b->arena};
    tablet_emit(&out, c.recipe, &c.results);
    json_t *run = json_loadb(out.data, out.size, 0, NULL);
    json_t *steps = json_object_get(run, "steps"), *pieces = json_object_get(run, "pieces");
    for (size_t i = 0; i < json_array_size(steps); i++)
        assert_int_equal(json_is_true(json_object_get(json_array_get(steps, i), "done")), i < 2);
    assert_true(json_array_size(pieces) > 0);
    for (size_t i = 0; i < json_array_size(pieces); i++)
        assert_true(whole(json_array_get(pieces, i), "step") > 2);
    json_decref(run);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(every_plug_of_every_step_has_one_piece),
        BENCH_TEST(pieces_follow_the_plan),
        BENCH_TEST(a_step_that_only_waits_is_a_piece),
        BENCH_TEST(a_step_knows_its_amounts_and_its_window),
        BENCH_TEST(a_step_that_is_left_out_is_not_there),
        BENCH_TEST(steps_that_are_done_have_no_pieces),
        BENCH_TEST(no_text_can_end_the_element_that_holds_it),
    };
    return cmocka_run_group_tests_name("tablet", tests, NULL, NULL);
}
