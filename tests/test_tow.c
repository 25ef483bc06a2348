/* How running is told: its words and measures, and that what it is worth stands beside the numbers
 * wherever they are printed. */
#include "recipe_text.h"

#include "emit/drawing/drawing.h"
#include "emit/facts.h"
#include "emit/order/order.h"
#include "emit/report.h"
#include "emit/terminal.h"
#include "emit/words/tow.h"
#include "model/reference.h"

static const char bores[] =
    "ballast:\n  bores:\n    - {at: 40 mm, drill: 8 mm, load: [{mass: 8 g}]}\n"
    "    - {at: 80 mm, drill: 8 mm, load: [{mass: 3 g}]}\n";
static const char lip[] = "lip: {thickness: 1.5 mm, length: 28 mm, width: 20 mm, shape: round, "
                          "at: 10 mm, angle: 36 deg, slot: 8 mm}\n";

#define RUNNER SWIMMER, .ballast = bores, .lip = lip, .running = "running: {diameter: 0.30 mm}\n"

/* --- words ----------------------------------------------------------------------------------- */

static const char *band_text(struct bench *bench, enum shown_as what, double low, double median,
                             double high, enum unit_system units) {
    struct band band = {true, low, median, high};
    return tow_band(&bench->arena, what, &band, units);
}

static const char *change_text(struct bench *bench, enum shown_as what, double low, double median,
                               double high) {
    struct band band = {true, low, median, high};
    return tow_change(&bench->arena, what, &band, UNITS_METRIC);
}

static void a_band_has_its_median_and_its_ends(void **state) {
    struct bench *b = *state;
    assert_string_equal(band_text(b, SHOWN_DEPTH, 2.14, 2.57, 3.27, UNITS_METRIC),
                        "2.6 m (2.1\xe2\x80\x93"
                        "3.3)");
    assert_string_equal(band_text(b, SHOWN_DEPTH, 2.14, 2.57, 3.27, UNITS_INCH),
                        "8.4 ft (7.0\xe2\x80\x93"
                        "10.7)");
    assert_string_equal(band_text(b, SHOWN_PULL, 0.78, 0.92, 1.05, UNITS_METRIC),
                        "0.92 N (0.78\xe2\x80\x93"
                        "1.05)");
    assert_string_equal(band_text(b, SHOWN_PULL, 7, 8.34, 10.1, UNITS_METRIC),
                        "8.3 N (7.0\xe2\x80\x93"
                        "10.1)");
    assert_string_equal(band_text(b, SHOWN_TRIM, -3 * one_degree, 0, 5 * one_degree, UNITS_METRIC),
                        "0\xc2\xb0 (\xe2\x88\x92"
                        "3 to 5)");
    assert_string_equal(band_text(b, SHOWN_LENGTH, 1e-3, INFINITY, INFINITY, UNITS_METRIC),
                        "no limit (1.0\xe2\x80\x93no limit)");
    struct band none = {0};
    assert_string_equal(tow_band(&b->arena, SHOWN_DEPTH, &none, UNITS_METRIC), "-");
}

static void a_change_has_its_sign_or_says_that_it_is_unclear(void **state) {
    struct bench *b = *state;
    assert_string_equal(change_text(b, SHOWN_DEPTH, 0.04, 0.15, 0.22), "+0.15 m (+0.04 to +0.22)");
    assert_string_equal(change_text(b, SHOWN_DEPTH, -0.32, -0.21, -0.15), "\xe2\x88\x92"
                                                                          "0.21 m (\xe2\x88\x92"
                                                                          "0.32 to \xe2\x88\x92"
                                                                          "0.15)");
    assert_string_equal(change_text(b, SHOWN_DEPTH, -0.01, 0.01, 0.02), "unclear (\xe2\x88\x92"
                                                                        "0.01 to +0.02 m)");
    assert_string_equal(change_text(b, SHOWN_TRIM, 0.5 * one_degree, one_degree, 2 * one_degree),
                        "+1.0\xc2\xb0 (+0.5 to +2.0)");
    assert_string_equal(change_text(b, SHOWN_DEPTH, 0, 0, 0), "none");
}

static void lengths_of_line_have_no_decimals_that_nobody_wrote(void **state) {
    struct bench *b = *state;
    assert_string_equal(tow_out(&b->arena, 30, UNITS_METRIC), "30 m");
    assert_string_equal(tow_out(&b->arena, 12.5, UNITS_METRIC), "12.5 m");
    assert_string_equal(tow_out(&b->arena, 30.48, UNITS_INCH), "100 ft");
}

static void what_is_changed_has_its_amount_in_the_shops_units(void **state) {
    struct bench *b = *state;
    assert_string_equal(tow_tweak(&b->arena, TWEAK_LIP_STEEPER, UNITS_METRIC),
                        "lip 5\xc2\xb0 steeper");
    assert_string_equal(tow_tweak(&b->arena, TWEAK_LIP_LONGER, UNITS_METRIC), "lip 10 % longer");
    assert_string_equal(tow_tweak(&b->arena, TWEAK_TIE_UP, UNITS_METRIC), "line tie 1.0 mm up");
    assert_string_equal(tow_tweak(&b->arena, TWEAK_MORE_BALLAST, UNITS_INCH),
                        "0.035 oz more in the deepest bore");
}

static void speeds_that_lie_beyond_are_told_as_that(void **state) {
    struct bench *b = *state;
    struct running_result r = {.dives_from.band = {true, 0.46, 0.52, 0.58},
                               .hold_speed.band = {true, 0.4, 1.41, 1.92}};
    assert_string_equal(tow_dives(&b->arena, &r, UNITS_METRIC), "from 0.5 m/s (0.5\xe2\x80\x93"
                                                                "0.6)");
    assert_string_equal(tow_rolls(&b->arena, &r, UNITS_METRIC), "at 1.4 m/s (0.4\xe2\x80\x93"
                                                                "1.9)");
    r.dives_from.band = (struct band){true, 0.2, 0.2, 0.2};
    r.hold_speed.band = (struct band){true, 4, 4, 4};
    assert_string_equal(tow_dives(&b->arena, &r, UNITS_METRIC), "from 0.2 m/s or less");
    assert_string_equal(tow_rolls(&b->arena, &r, UNITS_METRIC), "at no speed up to 4.0 m/s");
    r.dives_from.band = (struct band){true, 3, INFINITY, INFINITY};
    assert_string_equal(tow_dives(&b->arena, &r, UNITS_METRIC), "at no speed up to 4.0 m/s");
}

/* --- where it is printed --------------------------------------------------------------------- */

static struct compilation compiled(struct bench *bench, struct recipe_parts parts) {
    struct compilation c = bench_compile(bench, parts);
    if (compilation_failed(&c)) print_error("%s", bench_said(bench));
    assert_false(compilation_failed(&c));
    return c;
}

/* Lines as one, so that a text that was broken is found. */
static const char *unbroken(struct bench *bench, const struct buf *out) {
    struct buf text = {.arena = &bench->arena};
    for (size_t i = 0; i < out->size; i++) {
        char c = out->data[i] == '\n' ? ' ' : out->data[i];
        if (c == ' ' && text.size && text.data[text.size - 1] == ' ') continue;
        buf_char(&text, c);
    }
    buf_char(&text, '\0');
    return text.data;
}

static const char *printed(struct bench *bench, const struct compilation *c, int form) {
    struct buf out = {.arena = &bench->arena};
    if (form == 0) terminal_emit(&out, c->recipe, &c->results);
    if (form == 1) report_emit(&out, c->recipe, &c->results, &c->diags);
    if (form == 2) {
        struct figure_list figures = drawing_all(&bench->arena, c->recipe, &c->results);
        order_emit(&out, c->recipe, &c->results, &figures, &(struct order_style){.copies = 1});
    }
    return unbroken(bench, &out);
}

static void every_note_stands_beside_the_numbers_in_every_form(void **state) {
    struct bench *b = *state;
    struct compilation c = compiled(b, PARTS(RUNNER));
    for (int form = 0; form < 3; form++) {
        const char *text = printed(b, &c, form);
        for (int i = 0; i < reference_tow_note_count; i++) {
            if (!strstr(text, reference_tow_note[i])) print_error("%s\n", reference_tow_note[i]);
            assert_non_null(strstr(text, reference_tow_note[i]));
        }
    }
}

static void without_the_section_nothing_is_said_of_running(void **state) {
    struct bench *b = *state;
    struct compilation c = compiled(b, PARTS(SWIMMER, .ballast = bores, .lip = lip));
    for (int form = 0; form < 3; form++) {
        const char *text = printed(b, &c, form);
        assert_null(strstr(text, "under tow"));
        assert_null(strstr(text, "\"running\""));
        assert_null(strstr(text, "How it runs"));
        assert_null(strstr(text, "ticks the bottom"));
    }
}

static void a_topwater_is_told_why_it_is_not_computed(void **state) {
    struct bench *b = *state;
    struct compilation c =
        compiled(b, PARTS(SWIMMER, .ballast = bores, .running = "running: {diameter: 0.3 mm}\n"));
    assert_non_null(strstr(printed(b, &c, 0), tow_not_computed()));
    assert_non_null(strstr(printed(b, &c, 1), "\"computed\": false"));
    assert_non_null(strstr(printed(b, &c, 2), tow_not_computed()));
}

static void one_that_turns_over_says_so_and_gives_nulls(void **state) {
    struct bench *b = *state;
    struct compilation c =
        compiled(b, PARTS(.body = swimmer_body, .ballast = bores, .lip = lip,
                          .running = "running: {diameter: 0.3 mm, speed: 2.5 m/s}\n",
                          .hardware = "hardware:\n  wire: {diameter: 1.2 mm}\n"
                                      "  line tie: {place: back, at: 130 mm, depth: 4 mm}\n"));
    const char *json = printed(b, &c, 1);
    assert_non_null(strstr(json, "\"state\": \"no steady attitude\""));
    assert_non_null(strstr(json, "\"trim_deg\": null"));
    assert_non_null(strstr(json, "\"depth_m\": null"));
    assert_non_null(strstr(printed(b, &c, 0), "no steady attitude"));
    assert_non_null(strstr(printed(b, &c, 2), "no steady attitude"));
}

static void the_order_asks_for_one_measured_depth(void **state) {
    struct bench *b = *state;
    struct compilation c = compiled(b, PARTS(RUNNER));
    const char *order = printed(b, &c, 2);
    assert_non_null(strstr(order, "until it just ticks the bottom"));
    assert_non_null(strstr(order, " deep: ticked at ________ with ________ out at ________"));
    assert_non_null(strstr(order, "`measured: {running: {speed: "));
    c = compiled(b, PARTS(RUNNER, .measured = "measured: {running: {speed: 1.5 m/s, out: 30 m, "
                                              "depth: 3 m}}\n"));
    assert_non_null(strstr(printed(b, &c, 2), "Corrected by a measured depth of **3.0 m**"));
    assert_non_null(strstr(printed(b, &c, 0), "corrected by a measured depth of 3.0 m"));
    assert_non_null(strstr(printed(b, &c, 1), "\"points_left\": "));
}

/* The last bits of a median are noise, and no fact may have them. */
static void facts_are_rounded_to_what_a_builder_can_tell(void **state) {
    struct bench *b = *state;
    struct compilation c = compiled(b, PARTS(RUNNER));
    struct walk walk = {.arena = &b->arena, .recipe = c.recipe, .diags = &c.diags};
    struct buf out = {.arena = &b->arena};
    facts_emit(&out, &walk, NULL, 0, &c.results, &c.diags);
    buf_char(&out, '\0');
    static const char *const paths[] = {"depth", "dives_from", "hold_speed", "pull", "tie_off"};
    for (size_t i = 0; i < sizeof paths / sizeof *paths; i++) {
        const char *path = arena_printf(&b->arena, "\nresult.running.%s = ", paths[i]);
        const char *at = strstr(out.data, path);
        assert_non_null(at);
        const char *number = at + strlen(path);
        assert_int_equal(strcspn(number, ".") + 2, strspn(number, "0123456789."));
    }
    assert_non_null(strstr(out.data, "\nresult.running[1.50 m/s].state = runs\n"));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(a_band_has_its_median_and_its_ends),
        BENCH_TEST(a_change_has_its_sign_or_says_that_it_is_unclear),
        BENCH_TEST(lengths_of_line_have_no_decimals_that_nobody_wrote),
        BENCH_TEST(what_is_changed_has_its_amount_in_the_shops_units),
        BENCH_TEST(speeds_that_lie_beyond_are_told_as_that),
        BENCH_TEST(every_note_stands_beside_the_numbers_in_every_form),
        BENCH_TEST(without_the_section_nothing_is_said_of_running),
        BENCH_TEST(a_topwater_is_told_why_it_is_not_computed),
        BENCH_TEST(one_that_turns_over_says_so_and_gives_nulls),
        BENCH_TEST(the_order_asks_for_one_measured_depth),
        BENCH_TEST(facts_are_rounded_to_what_a_builder_can_tell),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
