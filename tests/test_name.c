/* Names: rows of grammar/names.def with a number and a name of their own put in. */
#include "close.h"

#include "base/buf.h"
#include "model/name.h"

static struct arena arena;

static int free_arena(void **state) {
    (void)state;
    arena_free(&arena);
    return 0;
}

static void number_and_name_stand_where_the_row_has_them(void **state) {
    (void)state;
    struct name load = {NAME_METAL, 2, str_of("lead")};
    assert_string_equal(name_text(&arena, load), "lead for bore 2");
    assert_string_equal(name_text(&arena, (struct name){.key = NAME_SLOT}), "the lip's slot");
    assert_string_equal(name_text(&arena, (struct name){.key = NAME_HANGER, .number = 10}),
                        "hanger 10");
}

/* What a recipe brings is put in once and not looked at again. */
static void braces_of_the_recipe_stay_braces(void **state) {
    (void)state;
    struct name paint = {NAME_PAINT, 3, str_of("{number}{name}{")};
    assert_string_equal(name_text(&arena, paint), "paint: {number}{name}{");
}

static void nothing_is_called_nothing(void **state) {
    (void)state;
    assert_string_equal(name_text(&arena, (struct name){0}), "");
}

static void names_are_equal_where_key_number_and_name_are(void **state) {
    (void)state;
    struct name first = {NAME_METAL, 2, str_of("lead")}, same = first,
                others[] = {first, first, first};
    others[0].key = NAME_WIRE;
    others[1].number = 3;
    others[2].own = str_of("tin");
    same.own = str_of(arena_copy(&arena, "lead", 4));
    assert_true(name_equal(first, same));
    for (int i = 0; i < 3; i++) assert_false(name_equal(first, others[i]));
}

/* docs/physics.md, 5.2: no finish and no eyes in the float test, and no filler over the ballast. */
static void the_float_test_lacks_filler_finish_and_eyes(void **state) {
    (void)state;
    for (enum stage stage = STAGE_SHAPED; stage < STAGE_COUNT; stage++) {
        bool lacks = stage == STAGE_FILLED || stage == STAGE_PAINTED || stage == STAGE_EYED ||
                     stage == STAGE_TOPCOATED;
        assert_int_equal(name_stages[stage].in_test, !lacks);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_teardown(number_and_name_stand_where_the_row_has_them, free_arena),
        cmocka_unit_test_teardown(braces_of_the_recipe_stay_braces, free_arena),
        cmocka_unit_test_teardown(nothing_is_called_nothing, free_arena),
        cmocka_unit_test_teardown(names_are_equal_where_key_number_and_name_are, free_arena),
        cmocka_unit_test(the_float_test_lacks_filler_finish_and_eyes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
