#include "close.h"

#include "base/str.h"

static void slices_compare_byte_for_byte(void **state) {
    (void)state;
    assert_true(str_is(str_of("belly"), "belly"));
    assert_false(str_is(str_of("belly"), "bell"));
    assert_false(str_is(str_of("bell"), "belly"));
    assert_true(str_equal((struct str){"belly", 4}, str_of("bell")));
    assert_true(str_equal((struct str){NULL, 0}, str_of("")));
    assert_true(str_is_any_case(str_of("AWG"), "awg"));
    assert_false(str_is_any_case(str_of("AWG"), "aw"));
}

static void order_is_that_of_a_dictionary_of_bytes(void **state) {
    (void)state;
    assert_true(str_compare(str_of("at"), str_of("belly")) < 0);
    assert_true(str_compare(str_of("belly"), str_of("bell")) > 0);
    assert_true(str_compare(str_of(""), str_of("a")) < 0);
    assert_int_equal(str_compare(str_of("at"), str_of("at")), 0);
}

static void trimming_takes_blanks_and_tabs_off_both_ends(void **state) {
    (void)state;
    assert_true(str_is(str_trim(str_of(" \t 12 mm\t ")), "12 mm"));
    assert_true(str_is(str_trim(str_of(" \t ")), ""));
    assert_true(str_is(str_trim(str_of("x")), "x"));
}

static void distance_counts_inserts_deletes_changes_and_swaps(void **state) {
    (void)state;
    static const struct {
        const char *a, *b;
        int distance;
    } CASES[] = {
        {"", "", 0},           {"length", "length", 0},  {"lenght", "length", 1},
        {"widht", "width", 1}, {"bely", "belly", 1},     {"bellly", "belly", 1},
        {"bally", "belly", 1}, {"kitten", "sitting", 3}, {"", "abc", 3},
        {"ca", "abc", 3}, /* the restricted recurrence: no edit inside a swap */
    };
    for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
        struct str a = str_of(CASES[i].a), b = str_of(CASES[i].b);
        assert_int_equal(str_distance(a, b, 9), CASES[i].distance);
        assert_int_equal(str_distance(b, a, 9), CASES[i].distance);
    }
}

static void distance_is_given_up_above_the_most(void **state) {
    (void)state;
    assert_int_equal(str_distance(str_of("kitten"), str_of("sitting"), 2), 3);
    assert_int_equal(str_distance(str_of("a"), str_of("abcdefgh"), 2), 3);
    char word[300];
    memset(word, 'a', sizeof word);
    struct str longer = {word, sizeof word};
    assert_int_equal(str_distance(longer, str_of("a"), 5), 6);
    assert_int_equal(str_distance(longer, longer, 5), 0);
}

static void the_nearest_word_is_the_one_that_was_meant(void **state) {
    (void)state;
    static const char *const NAMES[] = {"length", "width", "at", "line tie", "topcoat"};
    enum { COUNT = sizeof NAMES / sizeof *NAMES };
    assert_string_equal(str_nearest(str_of("lenght"), NAMES, COUNT), "length");
    assert_string_equal(str_nearest(str_of("LENGTH"), NAMES, COUNT), "length");
    assert_string_equal(str_nearest(str_of("line_tie"), NAMES, COUNT), "line tie");
    assert_string_equal(str_nearest(str_of("top coat"), NAMES, COUNT), "topcoat");
    assert_null(str_nearest(str_of("colour"), NAMES, COUNT));
    assert_null(str_nearest(str_of("xy"), NAMES, COUNT)); /* two edits would change all of "at" */
    assert_null(str_nearest(str_of(""), NAMES, COUNT));
    assert_null(str_nearest(str_of("length"), NAMES, 0));
}

static void the_first_of_equally_near_words_wins(void **state) {
    (void)state;
    static const char *const NAMES[] = {"bark", "barn", "bar"};
    assert_string_equal(str_nearest(str_of("bars"), NAMES, 3), "bark");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(slices_compare_byte_for_byte),
        cmocka_unit_test(order_is_that_of_a_dictionary_of_bytes),
        cmocka_unit_test(trimming_takes_blanks_and_tabs_off_both_ends),
        cmocka_unit_test(distance_counts_inserts_deletes_changes_and_swaps),
        cmocka_unit_test(distance_is_given_up_above_the_most),
        cmocka_unit_test(the_nearest_word_is_the_one_that_was_meant),
        cmocka_unit_test(the_first_of_equally_near_words_wins),
    };
    return cmocka_run_group_tests_name("str", tests, NULL, NULL);
}
