#include "close.h"

#include "base/unicode.h"

static void code_points_are_counted_not_bytes(void **state) {
    (void)state;
    assert_int_equal(unicode_points(str_of("12 \xC2\xB5m")), 5);
    assert_int_equal(unicode_points(str_of("\xF0\x9F\x90\x9F\xE2\x80\xB3")), 2);
    assert_int_equal(unicode_points(str_of("")), 0);
}

/* Boundaries of the table in RFC 3629, section 4. */
static void decoding_follows_rfc_3629(void **state) {
    (void)state;
    static const struct {
        const char *bytes;
        int size;
        uint32_t point;
    } CASES[] = {
        {"A", 1, 'A'},
        {"\xC2\x80", 2, 0x80},
        {"\xDF\xBF", 2, 0x7FF},
        {"\xE0\xA0\x80", 3, 0x800},
        {"\xED\x9F\xBF", 3, 0xD7FF},
        {"\xEE\x80\x80", 3, 0xE000},
        {"\xEF\xBF\xBF", 3, 0xFFFF},
        {"\xF0\x90\x80\x80", 4, 0x10000},
        {"\xF4\x8F\xBF\xBF", 4, 0x10FFFF},
        {"\x80", 0, 0},             /* a continuation alone */
        {"\xC1\xBF", 0, 0},         /* overlong */
        {"\xE0\x9F\xBF", 0, 0},     /* overlong */
        {"\xF0\x8F\xBF\xBF", 0, 0}, /* overlong */
        {"\xED\xA0\x80", 0, 0},     /* the first surrogate */
        {"\xED\xBF\xBF", 0, 0},     /* the last */
        {"\xF4\x90\x80\x80", 0, 0}, /* above U+10FFFF */
        {"\xF8\x88\x80\x80", 0, 0}, /* five bytes */
        {"\xFF", 0, 0},
        {"\xE2\x80", 0, 0}, /* cut short */
        {"\xC3(", 0, 0},
    };
    for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
        uint32_t point = 0;
        int size = unicode_decode(CASES[i].bytes, strlen(CASES[i].bytes), &point);
        assert_int_equal(size, CASES[i].size);
        assert_int_equal(point, CASES[i].point);
    }
    uint32_t point;
    assert_int_equal(unicode_decode("", 0, &point), 0);
}

static struct character first_of(const char *bytes) {
    struct str rest = str_of(bytes);
    return unicode_take(&rest);
}

/* General categories and Default_Ignorable_Code_Point of the Unicode Character Database 14. */
static void what_shows_nothing_is_hidden(void **state) {
    (void)state;
    static const struct {
        const char *bytes, *what;
    } CASES[] = {
        {"\x01", "Cc U+0001"},
        {"\x1B", "Cc U+001B, escape"},
        {"\x7F", "Cc U+007F, delete"},
        {"\xC2\x9B", "Cc U+009B, begins a terminal's sequence"},
        {"\xC2\xAD", "Cf U+00AD, soft hyphen"},
        {"\xD8\x9C", "Cf U+061C, Arabic letter mark"},
        {"\xE1\xA0\x8E", "Cf U+180E"},
        {"\xE2\x80\x8B", "Cf U+200B, zero width space"},
        {"\xE2\x80\x8D", "Cf U+200D, joiner"},
        {"\xE2\x80\x8E", "Cf U+200E, left to right"},
        {"\xE2\x80\x8F", "Cf U+200F, right to left"},
        {"\xE2\x80\xAA", "Cf U+202A, embedding"},
        {"\xE2\x80\xAE", "Cf U+202E, override"},
        {"\xE2\x81\xA0", "Cf U+2060, word joiner"},
        {"\xE2\x81\xA6", "Cf U+2066, isolate"},
        {"\xEF\xBB\xBF", "Cf U+FEFF, byte order mark"},
        {"\xEF\xBF\xB9", "Cf U+FFF9, annotation"},
        {"\xF3\xA0\x81\x81", "Cf U+E0041, tag"},
        {"\xEE\x80\x80", "Co U+E000"},
        {"\xF4\x80\x80\x80", "Co U+100000"},
        {"\xEF\xB7\x90", "Cn U+FDD0, no character"},
        {"\xEF\xBF\xBE", "Cn U+FFFE, no character"},
        {"\xE3\x85\xA4", "ignorable U+3164, filler"},
        {"\xCD\x8F", "ignorable U+034F"},
        {"\xEF\xB8\x8F", "ignorable U+FE0F, variation selector"},
    };
    for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
        struct character c = first_of(CASES[i].bytes);
        if (c.kind != CHARACTER_HIDDEN) fail_msg("shown: %s", CASES[i].what);
        assert_int_equal(c.width, 0);
        assert_int_equal(c.bytes.size, strlen(CASES[i].bytes));
    }
}

static void what_ends_a_line_is_a_break(void **state) {
    (void)state;
    static const char *const BREAKS[] = {"\t", "\n",       "\v",           "\f",
                                         "\r", "\xC2\x85", "\xE2\x80\xA8", "\xE2\x80\xA9"};
    for (size_t i = 0; i < sizeof BREAKS / sizeof *BREAKS; i++)
        assert_int_equal(first_of(BREAKS[i]).kind, CHARACTER_BREAK);
}

static void bytes_that_are_not_utf8_are_taken_one_by_one(void **state) {
    (void)state;
    struct str rest = {"\xE2\x80", 2};
    for (int left = 1; left >= 0; left--) {
        assert_int_equal(unicode_take(&rest).kind, CHARACTER_BROKEN);
        assert_int_equal(rest.size, left);
    }
}

static void every_code_point_is_taken_whole(void **state) {
    (void)state;
    int shown = 0;
    for (uint32_t point = 0x80; point <= 0x10FFFF; point++) {
        char bytes[5] = {0};
        int size = point < 0x800 ? 2 : point < 0x10000 ? 3 : 4;
        if (point >= 0xD800 && point < 0xE000) continue;
        for (int i = size - 1, rest = (int)point; i >= 0; i--, rest >>= 6)
            bytes[i] = (char)(i ? 0x80 | (rest & 0x3F) : (0xF00 >> size & 0xFF) | rest);
        struct character c = first_of(bytes);
        assert_int_equal(c.point, point);
        assert_int_equal(c.bytes.size, size);
        assert_true(c.kind != CHARACTER_BROKEN && c.width >= 0 && c.width <= 2);
        shown += c.kind == CHARACTER_SHOWN;
    }
    assert_true(shown > 130000); /* Unicode 10 has 136,690 characters and few of them hidden */
}

static void width_is_counted_in_columns(void **state) {
    (void)state;
    static const struct {
        const char *text;
        int width;
    } CASES[] = {
        {"", 0},
        {"belly 12 mm", 11},
        {"12 \xC2\xB5m", 5},
        {"e\xCC\x81t\xC3\xA9", 3},       /* a combining acute takes no column */
        {"\xE9\xB1\xBC\xE3\x81\xAF", 4}, /* han and kana take two */
        {"\xED\x95\x9C", 2},             /* so does a Hangul syllable, */
        {"\xEF\xBC\xA1", 2},             /* a full-width letter */
        {"\xF0\x9F\x90\x9F", 2},         /* and a fish */
        {"a\xE2\x80\xAE\xE2\x80\x8B"
         "b",
         2}, /* what is hidden takes none */
        {"\xFF", 1},
        {"a\tb", 3},
    };
    for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++)
        assert_int_equal(unicode_width(str_of(CASES[i].text)), CASES[i].width);
}

static void a_cleaned_text_is_one_line_without_hidden_characters(void **state) {
    (void)state;
    static const char *const CASES[][2] = {
        {"", ""},
        {"Grebe 95", "Grebe 95"},
        {"Gre\xE2\x80\xAE"
         "be",
         "Grebe"},
        {"\xEF\xBB\xBF\xE2\x81\xA6"
         "a\x1B[31m\x7F",
         "a[31m"},
        {"a\tb\nc\xC2\x85"
         "d\xE2\x80\xA8"
         "e",
         "a b c d e"},
        {"e\xCC\x81 \xE9\xB1\xBC", "e\xCC\x81 \xE9\xB1\xBC"},
        {"a\xFF\xED\xA0\x80",
         "a" UNICODE_REPLACEMENT UNICODE_REPLACEMENT UNICODE_REPLACEMENT UNICODE_REPLACEMENT},
    };
    struct arena arena = {0};
    for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
        struct str clean = unicode_clean(&arena, str_of(CASES[i][0]));
        assert_string_equal(clean.data, CASES[i][1]);
        assert_int_equal(clean.size, strlen(CASES[i][1]));
    }
    assert_string_equal(unicode_clean(&arena, (struct str){"slice of text", 5}).data, "slice");
    arena_free(&arena);
}

static void a_long_text_is_cut_between_characters(void **state) {
    (void)state;
    struct arena arena = {0};
    const char *text = "belly";
    assert_ptr_equal(unicode_cut(&arena, text, 5), text);
    assert_string_equal(unicode_cut(&arena, text, 4), "bell\xE2\x80\xA6");
    assert_string_equal(unicode_cut(&arena, "\xE9\xB1\xBC\xE9\xB1\xBC", 3),
                        "\xE9\xB1\xBC\xE2\x80\xA6");
    assert_string_equal(unicode_cut(&arena, "e\xCC\x81t\xC3\xA9", 1), "e\xCC\x81\xE2\x80\xA6");
    arena_free(&arena);
}

static void padding_counts_columns(void **state) {
    (void)state;
    struct arena arena = {0};
    struct buf out = {.arena = &arena};
    unicode_pad(&out, "\xE9\xB1\xBC", 4);
    unicode_pad(&out, "e\xCC\x81", -3);
    unicode_pad(&out, "wide", -2);
    unicode_pad(&out, "wide", 2);
    assert_string_equal(out.data, "\xE9\xB1\xBC    e\xCC\x81widewide");
    arena_free(&arena);
}

static void printable_ascii_is_passed_over(void **state) {
    (void)state;
    for (int c = 0; c < 256; c++) {
        char text[40];
        memset(text, 'x', sizeof text);
        for (size_t at = 0; at < sizeof text; at++) {
            text[at] = (char)c;
            size_t due = c >= ' ' && c < 0x7F ? sizeof text : at;
            assert_int_equal(unicode_skip_ascii((struct str){text, sizeof text}, 0), due);
            text[at] = 'x';
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(code_points_are_counted_not_bytes),
        cmocka_unit_test(decoding_follows_rfc_3629),
        cmocka_unit_test(what_shows_nothing_is_hidden),
        cmocka_unit_test(what_ends_a_line_is_a_break),
        cmocka_unit_test(bytes_that_are_not_utf8_are_taken_one_by_one),
        cmocka_unit_test(every_code_point_is_taken_whole),
        cmocka_unit_test(width_is_counted_in_columns),
        cmocka_unit_test(a_cleaned_text_is_one_line_without_hidden_characters),
        cmocka_unit_test(a_long_text_is_cut_between_characters),
        cmocka_unit_test(padding_counts_columns),
        cmocka_unit_test(printable_ascii_is_passed_over),
    };
    return cmocka_run_group_tests_name("unicode", tests, NULL, NULL);
}
