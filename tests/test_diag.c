#include <stdlib.h>

#include "close.h"

#include "base/diag.h"
#include "read/text.h"

struct bench {
    struct arena arena;
    struct diags diags;
    struct text_file file;
};

static struct bench *bench_of(const char *name, const char *text) {
    struct bench *bench = calloc(1, sizeof *bench);
    assert_non_null(bench);
    bench->diags.arena = &bench->arena;
    bench->file.name = name;
    bench->file.text = str_of(text);
    text_index_lines(&bench->arena, &bench->file);
    return bench;
}

static void bench_free(struct bench *bench) {
    arena_free(&bench->arena);
    free(bench);
}

static struct span span(struct bench *bench, int line, int column, int length) {
    return (struct span){&bench->file, line, column, length};
}

/* What is printed, in the arena. */
static const char *printed(struct bench *bench, bool colour) {
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    assert_non_null(out);
    diags_print(&bench->diags, out, colour);
    diags_summary(&bench->diags, out);
    fclose(out);
    const char *copy = arena_copy(&bench->arena, text, size);
    free(text);
    return copy;
}

static void a_diagnostic_shows_its_line_and_a_caret(void **state) {
    (void)state;
    struct bench *bench = bench_of("minnow.yaml", "name: Minnow\nbody:\n  length: 900 mm\n");
    diag_add(&bench->diags, SEVERITY_ERROR, span(bench, 3, 11, 6), "range", "length: nose to tail",
             "length %d mm is outside 20 to 600 mm", 900);
    assert_string_equal(printed(bench, false),
                        "minnow.yaml:3:11: error: length 900 mm is outside 20 to 600 mm [range]\n"
                        "    3 |   length: 900 mm\n"
                        "      |           ^~~~~~\n"
                        "      = length: nose to tail\n"
                        "1 error\n");
    bench_free(bench);
}

static void without_a_place_or_a_line_there_is_no_snippet(void **state) {
    (void)state;
    struct bench *bench = bench_of("a.yaml", "a\n");
    struct span whole = {.file = &bench->file};
    diag_add(&bench->diags, SEVERITY_WARNING, (struct span){0}, "note", "a hint", "no place");
    diag_add(&bench->diags, SEVERITY_ERROR, whole, "source", NULL, "too large");
    assert_string_equal(printed(bench, false), "plugwright: warning: no place [note]\n"
                                               "      = a hint\n"
                                               "a.yaml: error: too large [source]\n"
                                               "1 error, 1 warning\n");
    bench_free(bench);
}

static void tabs_are_repeated_and_wide_signs_take_two_columns(void **state) {
    (void)state;
    struct bench *bench = bench_of("t", "\tname: \xE9\xB1\xBC\xE9\xB1\xBC x\n");
    diag_add(&bench->diags, SEVERITY_ERROR, span(bench, 1, 11, 1), "r", NULL, "m");
    diag_add(&bench->diags, SEVERITY_ERROR, span(bench, 1, 8, 2), "r", NULL, "m");
    assert_string_equal(printed(bench, false), "t:1:8: error: m [r]\n"
                                               "    1 | \tname: \xE9\xB1\xBC\xE9\xB1\xBC x\n"
                                               "      | \t      ^~~~\n"
                                               "t:1:11: error: m [r]\n"
                                               "    1 | \tname: \xE9\xB1\xBC\xE9\xB1\xBC x\n"
                                               "      | \t           ^\n"
                                               "2 errors\n");
    bench_free(bench);
}

static void a_combining_mark_takes_no_column(void **state) {
    (void)state;
    struct bench *bench = bench_of("t", "e\xCC\x81t\xC3\xA9: xy\n");
    diag_add(&bench->diags, SEVERITY_ERROR, span(bench, 1, 1, 4), "r", NULL, "m");
    diag_add(&bench->diags, SEVERITY_ERROR, span(bench, 1, 7, 2), "r", NULL, "m");
    assert_string_equal(printed(bench, false), "t:1:1: error: m [r]\n"
                                               "    1 | e\xCC\x81t\xC3\xA9: xy\n"
                                               "      | ^~~\n"
                                               "t:1:7: error: m [r]\n"
                                               "    1 | e\xCC\x81t\xC3\xA9: xy\n"
                                               "      |      ^~\n"
                                               "2 errors\n");
    bench_free(bench);
}

static void a_caret_may_stand_behind_the_line_but_not_run_on(void **state) {
    (void)state;
    struct bench *bench = bench_of("t", "body:\r\nx");
    diag_add(&bench->diags, SEVERITY_WARNING, span(bench, 1, 6, 1), "r", NULL, "m");
    diag_add(&bench->diags, SEVERITY_WARNING, span(bench, 2, 1, 99), "r", NULL, "m");
    assert_string_equal(printed(bench, false), "t:1:6: warning: m [r]\n"
                                               "    1 | body:\n"
                                               "      |      ^\n"
                                               "t:2:1: warning: m [r]\n"
                                               "    2 | x\n"
                                               "      | ^\n"
                                               "2 warnings\n");
    bench_free(bench);
}

static void a_long_line_is_cut_around_the_caret(void **state) {
    (void)state;
    char text[1001];
    for (int i = 0; i < 1000; i++) text[i] = (char)('0' + i % 10);
    text[1000] = '\0';
    struct bench *bench = bench_of("t", text);
    diag_add(&bench->diags, SEVERITY_ERROR, span(bench, 1, 501, 3), "r", NULL, "m");
    const char *out = printed(bench, false);
    const char *line = strchr(out, '\n') + 1, *caret = strchr(line, '\n') + 1;
    assert_memory_equal(line, "    1 | ...0123456789", 21);
    assert_int_equal(caret - line, 8 + 3 + 150 + 3 + 1);
    assert_memory_equal(caret - 4, "...", 3);
    assert_int_equal(strchr(caret, '^') - caret, 8 + 3 + 60);
    assert_memory_equal(strchr(caret, '^'), "^~~\n", 4);
    bench_free(bench);
}

static void nothing_printed_can_steer_a_terminal(void **state) {
    (void)state;
    struct bench *bench =
        bench_of("\033]0;x\a\xFF", "na\033[31m \xE2\x80\xAE \xC2\x9B \xEF\xBB\xBF \x7F \xC3");
    diag_add(&bench->diags, SEVERITY_ERROR, span(bench, 1, 3, 1), "r", "hint\r\xE2\x81\xA6",
             "key '%s'", "\033[2J\n\xE2\x80\xAAx");
    assert_string_equal(printed(bench, false), "?]0;x??:1:3: error: key '?[2J ?x' [r]\n"
                                               "    1 | na?[31m ? ? ? ? ?\n"
                                               "      |   ^\n"
                                               "      = hint??\n"
                                               "1 error\n");
    bench_free(bench);
}

static void messages_and_quoted_words_are_cut(void **state) {
    (void)state;
    struct bench *bench = bench_of("t", "x");
    char word[2001];
    memset(word, 'a', 2000);
    word[2000] = '\0';
    diag_add(&bench->diags, SEVERITY_ERROR, span(bench, 1, 1, 1), "r", NULL, "%s", word);
    assert_int_equal(strlen(bench->diags.items[0].message), 643);
    const char *quote = diag_quote(&bench->arena, str_of(word));
    assert_int_equal(strlen(quote), 45);
    assert_string_equal(quote + 40, "a...'");
    assert_string_equal(diag_quote(&bench->arena, str_of("b\xC3\xA9lly")), "'b\xC3\xA9lly'");
    bench_free(bench);
}

static void colour_is_used_only_when_asked_for(void **state) {
    (void)state;
    struct bench *bench = bench_of("t", "x");
    diag_add(&bench->diags, SEVERITY_ERROR, span(bench, 1, 1, 1), "r", NULL, "m");
    assert_null(strchr(printed(bench, false), '\033'));
    assert_string_equal(printed(bench, true), "\033[1mt:1:1:\033[0m \033[1;31merror:\033[0m m [r]\n"
                                              "    1 | x\n"
                                              "      | \033[1;32m^\033[0m\n"
                                              "1 error\n");
    bench_free(bench);
}

static void order_is_by_file_then_place_then_finding(void **state) {
    (void)state;
    struct bench *bench = bench_of("first", "a\nb\nc\n");
    struct text_file second = bench->file;
    second.name = "second";
    static const struct {
        bool second;
        int line, column;
        const char *message;
    } FOUND[] = {
        {false, 3, 1, "4"}, {true, 1, 1, "5"},  {false, 1, 2, "1"}, {false, 2, 1, "2"},
        {true, 2, 9, "7"},  {false, 2, 1, "3"}, {true, 2, 3, "6"},
    };
    for (size_t i = 0; i < sizeof FOUND / sizeof *FOUND; i++) {
        struct span at = span(bench, FOUND[i].line, FOUND[i].column, 1);
        if (FOUND[i].second) at.file = &second;
        diag_add(&bench->diags, SEVERITY_ERROR, at, "r", NULL, "%s", FOUND[i].message);
    }
    diags_sort(&bench->diags);
    for (int i = 0; i < bench->diags.count; i++)
        assert_int_equal(bench->diags.items[i].message[0], '1' + i);
    bench_free(bench);
}

static int lines_with(const char *text, const char *part) {
    int count = 0;
    for (const char *at = text; (at = strstr(at, part)); at++) count++;
    return count;
}

static void at_most_two_hundred_are_shown_and_errors_before_warnings(void **state) {
    (void)state;
    struct bench *bench = bench_of("t", "x\n");
    for (int i = 0; i < 300; i++)
        diag_add(&bench->diags, SEVERITY_WARNING, span(bench, 1, 1, 1), "r", NULL, "w");
    for (int i = 0; i < 50; i++)
        diag_add(&bench->diags, SEVERITY_ERROR, span(bench, 1, 1, 1), "r", NULL, "e");
    const char *out = printed(bench, false);
    assert_int_equal(lines_with(out, "warning: w"), 150);
    assert_int_equal(lines_with(out, "error: e"), 50);
    assert_non_null(strstr(out, "\n150 more are not shown\n50 errors, 300 warnings\n"));
    bench_free(bench);

    bench = bench_of("t", "x\n");
    for (int i = 0; i < DIAGS_SHOWN; i++)
        diag_add(&bench->diags, SEVERITY_ERROR, span(bench, 1, 1, 1), "r", NULL, "e");
    assert_null(strstr(printed(bench, false), "not shown"));
    bench_free(bench);
}

static void nothing_found_prints_nothing(void **state) {
    (void)state;
    struct bench *bench = bench_of("t", "x\n");
    assert_string_equal(printed(bench, true), "");
    bench_free(bench);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_diagnostic_shows_its_line_and_a_caret),
        cmocka_unit_test(without_a_place_or_a_line_there_is_no_snippet),
        cmocka_unit_test(tabs_are_repeated_and_wide_signs_take_two_columns),
        cmocka_unit_test(a_combining_mark_takes_no_column),
        cmocka_unit_test(a_caret_may_stand_behind_the_line_but_not_run_on),
        cmocka_unit_test(a_long_line_is_cut_around_the_caret),
        cmocka_unit_test(nothing_printed_can_steer_a_terminal),
        cmocka_unit_test(messages_and_quoted_words_are_cut),
        cmocka_unit_test(colour_is_used_only_when_asked_for),
        cmocka_unit_test(order_is_by_file_then_place_then_finding),
        cmocka_unit_test(at_most_two_hundred_are_shown_and_errors_before_warnings),
        cmocka_unit_test(nothing_found_prints_nothing),
    };
    return cmocka_run_group_tests_name("diag", tests, NULL, NULL);
}
