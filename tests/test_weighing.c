/* Which plugs of a recipe's older version are those of newer ones. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "compute/weighing.h"

static struct arena arena;

static struct weighing_repeats repeats(const struct measured *older, const struct measured *newer) {
    return weighing_repeats_of(&arena, older, &newer, 1);
}

static int forget(void **state) {
    (void)state;
    arena_free(&arena);
    arena = (struct arena){0};
    return 0;
}

static void a_plug_that_was_weighed_on_is_the_same(void **state) {
    double blank[] = {5.7e-3, 5.9e-3}, sealed[] = {6.9e-3, 7.2e-3};
    const struct measured older = {.blank = blank, .blank_count = 2};
    const struct measured newer = {
        .blank = blank, .blank_count = 2, .sealed = sealed, .sealed_count = 2};
    (void)state;
    struct weighing_repeats r = repeats(&older, &newer);
    assert_int_equal(r.plug_count, 2);
    assert_true(r.plugs[0] && r.plugs[1]);
    assert_int_equal(r.fresh, 0);
}

/* At its place: the same mass at another one is another plug. */
static void the_next_run_has_other_plugs(void **state) {
    double blank[] = {5.7e-3, 5.9e-3, 5.6e-3}, next[] = {5.9e-3, 5.7e-3};
    const struct measured older = {.blank = blank, .blank_count = 3};
    const struct measured newer = {.blank = next, .blank_count = 2};
    (void)state;
    struct weighing_repeats r = repeats(&older, &newer);
    assert_int_equal(r.fresh, 3);
    assert_false(r.plugs[0] || r.plugs[1] || r.plugs[2]);
}

/* One reading of two may be put right; where two of three are others, the plug is another. */
static void half_of_the_readings_tell_a_plug(void **state) {
    double blank[] = {5.7e-3}, sealed[] = {6.9e-3}, finished[] = {11.6e-3};
    double righted[] = {6.8e-3}, heavier[] = {12.1e-3};
    const struct measured older = {.blank = blank,
                                   .blank_count = 1,
                                   .sealed = sealed,
                                   .sealed_count = 1,
                                   .finished = finished,
                                   .finished_count = 1};
    struct measured newer = {
        .blank = blank, .blank_count = 1, .sealed = righted, .sealed_count = 1};
    (void)state;
    assert_int_equal(repeats(&older, &newer).fresh, 0);
    newer.finished = heavier;
    newer.finished_count = 1;
    assert_int_equal(repeats(&older, &newer).fresh, 1);
    newer.finished = finished;
    assert_int_equal(repeats(&older, &newer).fresh, 0);
}

static void plugs_without_a_stage_in_common_are_two(void **state) {
    double blank[] = {5.7e-3}, sealed[] = {6.9e-3};
    const struct measured older = {.blank = blank, .blank_count = 1};
    const struct measured newer = {.sealed = sealed, .sealed_count = 1};
    (void)state;
    assert_int_equal(repeats(&older, &newer).fresh, 1);
}

/* It need not be the next version: one that was weighed anew after another run is known still. */
static void any_newer_version_counts(void **state) {
    double blank[] = {5.7e-3}, other[] = {6.3e-3};
    const struct measured older = {.blank = blank, .blank_count = 1};
    const struct measured between = {.blank = other, .blank_count = 1};
    const struct measured *newer[] = {&older, &between};
    (void)state;
    assert_int_equal(weighing_repeats_of(&arena, &older, newer, 2).fresh, 0);
    assert_int_equal(weighing_repeats_of(&arena, &older, newer + 1, 1).fresh, 1);
    assert_int_equal(weighing_repeats_of(&arena, &older, newer, 0).fresh, 1);
}

static void a_waterline_is_a_reading_of_the_first_plug(void **state) {
    double back[] = {0.02}, nearer[] = {0.019};
    struct waterline line = {
        .nose = {.given = true, .value = 0.003}, .back = back, .back_count = 1};
    struct waterline other = line;
    const struct measured older = {.waterline = &line}, newer = {.waterline = &other};
    (void)state;
    struct weighing_repeats r = repeats(&older, &newer);
    assert_int_equal(r.plug_count, 1);
    assert_int_equal(r.fresh, 0);
    other.back = nearer;
    assert_int_equal(repeats(&older, &newer).fresh, 1);
    other.back_count = 0;
    assert_int_equal(repeats(&older, &newer).fresh, 1);
    other = line;
    other.nose.given = false;
    assert_int_equal(repeats(&older, &newer).fresh, 1);
}

static void minutes_are_told_by_step_and_time(void **state) {
    struct timing past[] = {{str_of("round"), 6000}, {str_of("sand"), 900}};
    struct timing now[] = {{str_of("sand"), 900}, {str_of("round"), 5400}};
    const struct measured older = {.minutes = past, .timing_count = 2};
    const struct measured newer = {.minutes = now, .timing_count = 2};
    (void)state;
    struct weighing_repeats r = repeats(&older, &newer);
    assert_int_equal(r.fresh, 1);
    assert_true(!r.minutes[0] && r.minutes[1]);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_teardown(a_plug_that_was_weighed_on_is_the_same, forget),
        cmocka_unit_test_teardown(the_next_run_has_other_plugs, forget),
        cmocka_unit_test_teardown(half_of_the_readings_tell_a_plug, forget),
        cmocka_unit_test_teardown(plugs_without_a_stage_in_common_are_two, forget),
        cmocka_unit_test_teardown(any_newer_version_counts, forget),
        cmocka_unit_test_teardown(a_waterline_is_a_reading_of_the_first_plug, forget),
        cmocka_unit_test_teardown(minutes_are_told_by_step_and_time, forget),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
