/* Sizes as their author wrote them, with the measure in brackets, and what a bench can read. */
#include "recipe_text.h"

#include "emit/words/size.h"
#include "emit/write/measure.h"

static const char *drill_of(struct bench *b, const char *drill, const char *units) {
    bench_good(
        b, PARTS(.ballast = arena_printf(
                     &b->arena, "ballast: {bores: [{at: 50 mm, drill: %s, load: [{mass: 1 g}]}]}\n",
                     drill),
                 .shop = arena_printf(&b->arena, "shop: {units: %s}\n", units)));
    const struct bore *bore = &b->recipe->ballast->bores[0];
    return size_of_drill(&b->arena, b->recipe, &bore->drill, bore->drill);
}

static void a_drill_is_called_as_it_was_written(void **state) {
    static const struct {
        const char *written, *units, *printed;
    } cases[] = {
        {"6 mm", "metric", "6.00 mm"},          {"6 mm", "inch", "6 mm (0.236 in)"},
        {"1/4 in", "inch", "1/4 in"},           {"1/4 in", "metric", "1/4 in (6.35 mm)"},
        {"0.25 in", "inch", "0.250 in"},        {"letter N", "inch", "letter N (0.302 in)"},
        {"no 42", "metric", "no 42 (2.37 mm)"},
    };
    struct bench *b = *state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_string_equal(drill_of(b, cases[i].written, cases[i].units), cases[i].printed);
}

/* What is meant wins where it is not what was written. */
static void another_measure_stands_alone(void **state) {
    struct bench *b = *state;
    drill_of(b, "letter N", "metric");
    const struct bore *bore = &b->recipe->ballast->bores[0];
    assert_string_equal(size_of_drill(&b->arena, b->recipe, &bore->drill, 5e-3), "5.00 mm");
}

static const char *wire_of(struct bench *b, const char *wire) {
    bench_good(b,
               PARTS(.hardware = arena_printf(
                         &b->arena,
                         "hardware:\n  wire: {diameter: %s}\n  line tie: {place: nose}\n", wire)));
    const double *diameter = &b->recipe->hardware->wire->diameter;
    return size_of_wire(&b->arena, b->recipe, diameter, *diameter);
}

static void a_wire_keeps_its_gauge(void **state) {
    struct bench *b = *state;
    assert_string_equal(wire_of(b, "18 wm"), "18 wm (1.21 mm)");
    assert_string_equal(wire_of(b, "1.2 mm"), "1.20 mm");
}

static void a_piece_is_what_its_box_says(void **state) {
    struct bench *b = *state;
    bench_good(b, PARTS(.ballast = "ballast: {pieces: [{ball: 0.31 in}, {mass: 1/16 oz}, "
                                   "{mass: 2 g}]}\n"));
    const struct piece *pieces = b->recipe->ballast->pieces;
    assert_string_equal(size_of_piece(&b->arena, b->recipe, &pieces[0]), "0.31 in ball");
    assert_string_equal(size_of_piece(&b->arena, b->recipe, &pieces[1]), "1/16 oz (1.8 g)");
    assert_string_equal(size_of_piece(&b->arena, b->recipe, &pieces[2]), "2.0 g");
}

/* Below 1/4 in the nearest fraction would be the name of another drill. */
static void no_fraction_names_another_drill(void **state) {
    struct bench *b = *state;
    const double inch = 25.4e-3;
    assert_string_equal(measure_length(&b->arena, 0.070 * inch, UNITS_INCH), "0.070 in");
    assert_string_equal(measure_length(&b->arena, 0.0625 * inch, UNITS_INCH), "1/16 in");
    assert_string_equal(measure_length(&b->arena, 2.475 * inch, UNITS_INCH), "2 15/32 (2.475) in");
}

static void a_bench_reads_two_figures_of_a_speed(void **state) {
    struct bench *b = *state;
    assert_string_equal(measure_speed(&b->arena, 0.3374, UNITS_METRIC), "340 mm/s");
    assert_string_equal(measure_speed(&b->arena, 0.0474, UNITS_METRIC), "47 mm/s");
    assert_string_equal(measure_share(&b->arena, 1.0), "100 %");
    assert_string_equal(measure_share(&b->arena, 0.4), "40.0 %");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(a_drill_is_called_as_it_was_written),
        BENCH_TEST(another_measure_stands_alone),
        BENCH_TEST(a_wire_keeps_its_gauge),
        BENCH_TEST(a_piece_is_what_its_box_says),
        BENCH_TEST(no_fraction_names_another_drill),
        BENCH_TEST(a_bench_reads_two_figures_of_a_speed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
