/* The SVG writer: numbers, escaping, text widths, hatching. */
#include "close.h"
#include "xml.h"

#include <stdlib.h>

#include "emit/write/svg.h"

static struct arena arena;

static int end_arena(void **state) {
    (void)state;
    arena_free(&arena);
    return 0;
}

static const struct svg_font three = {.size = 3.0};

static struct svg drawing(void) {
    struct svg svg;
    svg_begin(&svg, &arena, "test", "a test", 50.0, 40.0);
    return svg;
}

/* What a text of ours becomes between its tags. */
static const char *written(const char *text) {
    struct svg svg = {.out.arena = &arena, .id = "x"};
    svg_text(&svg, 0.0, 0.0, &three, text);
    const char *start = strchr(svg.out.data, '>') + 1;
    return arena_copy(&arena, start, (size_t)(strstr(start, "</text>") - start));
}

static const char *line(double x1, double y1, double x2, double y2) {
    struct svg svg = {.out.arena = &arena, .id = "x"};
    svg_line(&svg, x1, y1, x2, y2);
    return svg.out.data;
}

static void coordinates_are_micrometres_without_trailing_zeros_or_minus_zero(void **state) {
    (void)state;
    assert_string_equal(line(12.5, -0.0004, 0.1 + 0.2, -7.0), "<path d=\"M12.5 0L0.3 -7\"/>\n");
    assert_string_equal(line(1.0005, -1.25, 0.0006, 123.4564),
                        "<path d=\"M1.001 -1.25L0.001 123.456\"/>\n");
}

static void what_is_no_number_is_drawn_at_zero_and_what_is_far_away_at_the_edge(void **state) {
    (void)state;
    assert_string_equal(line(NAN, INFINITY, 1e300, -1e9), "<path d=\"M0 0L100000 -100000\"/>\n");
}

static void markup_in_a_text_is_escaped(void **state) {
    (void)state;
    assert_string_equal(written("<b>&\"'</text>"), "&lt;b&gt;&amp;&quot;'&lt;/text&gt;");
    assert_string_equal(written("&amp;"), "&amp;amp;");
    assert_string_equal(written("]]>"), "]]&gt;");
}

static void controls_and_direction_marks_are_dropped(void **state) {
    (void)state;
    assert_string_equal(written("a\x01\x1f\x7f"
                                "b"),
                        "ab");
    assert_string_equal(written("a\tb\nc\rd"), "a b c d");
    assert_string_equal(written("a\xe2\x80\xae"
                                "b\xe2\x81\xa7"
                                "c\xef\xbb\xbf"
                                "d"),
                        "abcd");
    assert_string_equal(written("a\xc2\x9b"
                                "b\xef\xbf\xbf"
                                "c"),
                        "abc");
}

static void bytes_that_are_not_utf8_become_replacement_characters(void **state) {
    (void)state;
    assert_string_equal(written("\xff"
                                "a\xc3"),
                        "\xef\xbf\xbd"
                        "a\xef\xbf\xbd");
    assert_string_equal(written("\xe0\x80\xbc"), "\xef\xbf\xbd\xef\xbf\xbd\xef\xbf\xbd");
    assert_string_equal(written("\xc3\xa9\xe9\xa6\x99"), "\xc3\xa9\xe9\xa6\x99");
}

static void every_byte_leaves_the_document_well_formed(void **state) {
    (void)state;
    for (int first = 1; first < 256; first++) {
        struct svg svg = drawing();
        char text[] = {(char)first, '<', (char)(255 - first), '&', (char)first, 0};
        svg_text(&svg, 1.0, 1.0, &three, text);
        svg_end(&svg);
        assert_null(xml_fault(svg.out.data));
    }
}

/* Advance widths of Liberation Sans 1.07.4, table hmtx, 2048 units an em: '0' 1139, 'i' 455, 'M'
 * 1706. */
static void widths_are_those_of_the_font(void **state) {
    (void)state;
    assert_close(svg_text_width("0", &three), 3.0 * 1139 / 2048, 1e-12);
    assert_close(svg_text_width("iM", &three), 3.0 * (455 + 1706) / 2048, 1e-12);
    assert_near(svg_text_width("", &three), 0.0, 0.0);
}

static void a_long_text_is_cut_with_an_ellipsis_to_what_fits(void **state) {
    (void)state;
    const char *text = "a long name of a plug";
    assert_ptr_equal(svg_text_fit(&arena, text, &three, 100.0), text);
    for (double width = 4.0; width < 24.0; width += 0.7) {
        const char *cut = svg_text_fit(&arena, text, &three, width);
        assert_true(svg_text_width(cut, &three) <= width);
        assert_string_equal(cut + strlen(cut) - 3, "\xe2\x80\xa6");
    }
    const char *marks = svg_text_fit(&arena, "\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9", &three, 6.5);
    assert_string_equal(marks, "\xc3\xa9\xe2\x80\xa6");
}

/* Total length of the lines of a hatching, and how many there are. */
static double hatched(const struct svg_point *points, int count, double turn, double gap,
                      int *lines) {
    struct svg svg = {.out.arena = &arena, .id = "x"};
    buf_text(&svg.out, "");
    svg_hatch(&svg, points, count, turn, gap);
    double length = 0.0;
    *lines = 0;
    for (const char *at = svg.out.data; (at = strchr(at, 'M')); at++, ++*lines) {
        char *end;
        double x1 = strtod(at + 1, &end), y1 = strtod(end, &end);
        double x2 = strtod(end + 1, &end), y2 = strtod(end, &end);
        length += hypot(x2 - x1, y2 - y1);
    }
    return length;
}

/* Lines a gap apart have the length of the area over the gap, but for the ends. */
static void hatching_covers_its_area(void **state) {
    (void)state;
    static const struct svg_point square[4] = {{3, 2}, {23, 2}, {23, 22}, {3, 22}};
    int lines;
    for (double turn = -90.0; turn <= 90.0; turn += 15.0) {
        assert_close(hatched(square, 4, turn, 0.25, &lines), 400.0 / 0.25, 0.02);
    }
    assert_close(hatched(square, 4, 0.0, 1.0, &lines), 19.0 * 20.0, 1e-6);
    assert_int_equal(lines, 19);
}

static void hatching_leaves_a_notch_free(void **state) {
    (void)state;
    static const struct svg_point u[8] = {{0.1, 0.1}, {10.1, 0.1}, {10.1, 10.1}, {7.1, 10.1},
                                          {7.1, 4.1}, {3.1, 4.1},  {3.1, 10.1},  {0.1, 10.1}};
    int lines;
    assert_close(hatched(u, 8, 0.0, 1.0, &lines), 4 * 10.0 + 6 * (3.0 + 3.0), 1e-6);
    assert_int_equal(lines, 4 + 6 * 2);
}

static void hatching_without_end_is_not_begun(void **state) {
    (void)state;
    static const struct svg_point wide[3] = {{0, 0}, {1e9, 0}, {0, 1e9}};
    int lines;
    assert_near(hatched(wide, 3, 45.0, 0.001, &lines), 0.0, 0.0);
    assert_near(hatched(wide, 3, 45.0, 0.0, &lines), 0.0, 0.0);
    assert_near(hatched(wide, 2, 45.0, 1.0, &lines), 0.0, 0.0);
}

static void ids_carry_the_name_of_their_drawing(void **state) {
    (void)state;
    struct svg svg = drawing();
    for (int i = 0; i < 2; i++) {
        svg_group_clipped(&svg, 0, 0, 10, 10);
        svg_group_end(&svg);
    }
    svg_end(&svg);
    assert_non_null(strstr(svg.out.data, "id=\"test-clip-1\""));
    assert_non_null(strstr(svg.out.data, "url(#test-clip-2)"));
    assert_null(xml_fault(svg.out.data));
}

static void a_drawing_says_its_size_in_millimetres(void **state) {
    (void)state;
    struct svg svg = drawing();
    svg_group(&svg,
              &(struct svg_style){.stroke = "#000", .width = 0.2, .dash = "2 1", .fade = 0.5});
    svg_rect(&svg, 1, 2, 3, -4, 0.5);
    svg_circle(&svg, 1, 2, -1);
    svg_group_moved(&svg, 1, 2, -90.0);
    svg_group_end(&svg);
    svg_group_end(&svg);
    svg_end(&svg);
    assert_non_null(strstr(svg.out.data, "width=\"50mm\" height=\"40mm\" viewBox=\"0 0 50 40\""));
    assert_non_null(strstr(svg.out.data, "<title>a test</title>"));
    assert_null(strstr(svg.out.data, "height=\"-"));
    assert_null(strstr(svg.out.data, "r=\"-"));
    assert_null(xml_fault(svg.out.data));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(coordinates_are_micrometres_without_trailing_zeros_or_minus_zero),
        cmocka_unit_test(what_is_no_number_is_drawn_at_zero_and_what_is_far_away_at_the_edge),
        cmocka_unit_test(markup_in_a_text_is_escaped),
        cmocka_unit_test(controls_and_direction_marks_are_dropped),
        cmocka_unit_test(bytes_that_are_not_utf8_become_replacement_characters),
        cmocka_unit_test(every_byte_leaves_the_document_well_formed),
        cmocka_unit_test(widths_are_those_of_the_font),
        cmocka_unit_test(a_long_text_is_cut_with_an_ellipsis_to_what_fits),
        cmocka_unit_test(hatching_covers_its_area),
        cmocka_unit_test(hatching_leaves_a_notch_free),
        cmocka_unit_test(hatching_without_end_is_not_begun),
        cmocka_unit_test(ids_carry_the_name_of_their_drawing),
        cmocka_unit_test(a_drawing_says_its_size_in_millimetres),
    };
    return cmocka_run_group_tests_name("svg", tests, NULL, end_arena);
}
