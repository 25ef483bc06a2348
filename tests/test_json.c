#include <math.h>

#include "close.h"

#include "emit/write/json.h"

static struct arena arena;

/* What is written between the brackets of the root. */
static const char *written(struct json *json) {
    struct buf out = {.arena = &arena};
    json_end(json, &out);
    return out.data;
}

static const char *text_of(struct str text) {
    struct json json = json_begin(&arena);
    json_put_str(&json, "t", text);
    const char *all = written(&json), *start = strchr(all, ':') + 3, *end = strrchr(all, '"');
    return arena_copy(&arena, start, (size_t)(end - start));
}

static const char *number_of(double value) {
    struct json json = json_begin(&arena);
    json_put_number(&json, "n", value);
    const char *all = written(&json), *start = strchr(all, ':') + 2;
    return arena_copy(&arena, start, strcspn(start, "\n"));
}

static void values_stand_in_the_order_in_which_they_are_put(void **state) {
    (void)state;
    struct json json = json_begin(&arena);
    json_put_whole(&json, "z", -3);
    json_open_object(&json, "a");
    json_open_list(&json, "list");
    json_put_flag(&json, NULL, true);
    json_open_object(&json, NULL);
    json_put_text(&json, "k", "v");
    json_close(&json);
    json_put_null(&json, NULL);
    json_close(&json);
    json_put_text(&json, "none", NULL);
    json_close(&json);
    json_put_number_if(&json, "m", false, 1);
    json_put_number_if(&json, "n", true, 1.5);
    assert_string_equal(written(&json),
                        "{\n  \"z\": -3,\n  \"a\": {\n    \"list\": [\n      true,\n      {\n"
                        "        \"k\": \"v\"\n      },\n      null\n    ],\n    \"none\": null\n"
                        "  },\n  \"m\": null,\n  \"n\": 1.5\n}\n");
}

static void numbers_are_what_json_has(void **state) {
    (void)state;
    assert_string_equal(number_of(0.1), "0.1");
    assert_string_equal(number_of(-0.0), "0.0");
    assert_string_equal(number_of(1.0 / 3), "0.333333333333");
    assert_string_equal(number_of(NAN), "null");
    assert_string_equal(number_of(INFINITY), "null");
    assert_string_equal(number_of(-INFINITY), "null");
}

static void text_is_escaped_as_json_asks(void **state) {
    (void)state;
    assert_string_equal(text_of(str_of("a\"b\\c\n\t\x07")), "a\\\"b\\\\c\\n\\t\\u0007");
    assert_string_equal(text_of(str_of("12\xC2\xB0 \xE9\xB1\xBC")), "12\xC2\xB0 \xE9\xB1\xBC");
    assert_string_equal(text_of((struct str){"slice", 3}), "sli");
    assert_string_equal(text_of((struct str){NULL, 0}), "");
}

static void what_cannot_be_seen_is_an_escape(void **state) {
    (void)state;
    assert_string_equal(text_of(str_of("a\xE2\x80\xAE\xE2\x80\x8B"
                                       "b\xEF\xBB\xBF\x7F\xE2\x80\xA8")),
                        "a\\u202e\\u200bb\\ufeff\\u007f\\u2028");
    assert_string_equal(text_of(str_of("\xF3\xA0\x81\x81\xF4\x8F\xBF\xBF")),
                        "\\udb40\\udc41\\udbff\\udfff");
}

static void bytes_that_are_not_utf8_lose_nothing_else(void **state) {
    (void)state;
    assert_string_equal(text_of(str_of("a\xFF"
                                       "b\xED\xA0\x80")),
                        "a\xEF\xBF\xBD"
                        "b\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD");
}

static void depth_has_no_limit(void **state) {
    (void)state;
    struct json json = json_begin(&arena);
    for (int i = 0; i < 300; i++) json_open_object(&json, "o");
    for (int i = 0; i < 300; i++) json_close(&json);
    json_put_flag(&json, "end", false);
    assert_non_null(strstr(written(&json), "\n  \"end\": false\n}\n"));
}

static int free_arena(void **state) {
    (void)state;
    arena_free(&arena);
    return 0;
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(values_stand_in_the_order_in_which_they_are_put),
        cmocka_unit_test(numbers_are_what_json_has),
        cmocka_unit_test(text_is_escaped_as_json_asks),
        cmocka_unit_test(what_cannot_be_seen_is_an_escape),
        cmocka_unit_test(bytes_that_are_not_utf8_lose_nothing_else),
        cmocka_unit_test(depth_has_no_limit),
    };
    return cmocka_run_group_tests_name("json", tests, NULL, free_arena);
}
