/* Single values: every unit in a recipe, ranges, colours, dates and opening hours. */
#include "recipe_text.h"

#include "model/grammar.h"
#include "model/reference.h"
#include "model/value.h"

/* --- units ----------------------------------------------------------------------------------- */

/* Writes `value` where %s stands in a recipe of its own, and gives the member that it went to. */
static double read_as(struct bench *b, const char *field, const char *value) {
    const char *text = arena_printf(&b->arena, "'%s'", value);
#define WRITTEN(section, ...) .section = arena_printf(&b->arena, __VA_ARGS__, text)
    if (strcmp(field, "length") == 0)
        return bench_good(b, PARTS(WRITTEN(eyes, "eyes: {size: %s, at: 15 mm}\n")))->eyes->size;
    if (strcmp(field, "wire") == 0)
        return bench_good(b, PARTS(WRITTEN(hardware, "hardware: {wire: {diameter: %s}, "
                                                     "line tie: {place: nose}}\n")))
            ->hardware->wire->diameter;
    if (strcmp(field, "drill") == 0)
        return bench_good(b, PARTS(WRITTEN(ballast, "ballast: {bores: [{at: 50 %%, drill: %s, "
                                                    "load: []}]}\n")))
            ->ballast->bores[0]
            .drill;
    if (strcmp(field, "mass") == 0)
        return bench_good(b, PARTS(WRITTEN(measured, "measured: {blank: %s}\n")))
            ->measured->blank[0];
    if (strcmp(field, "areal mass") == 0)
        return bench_good(b, PARTS(WRITTEN(finish, "finish: {seal: {uptake: %s}}\n")))
            ->finish->seal->uptake;
    if (strcmp(field, "density") == 0)
        return bench_good(b, PARTS(WRITTEN(wood, "wood: {species: balsa, density: %s}\n")))
            ->wood->density.value;
    if (strcmp(field, "time") == 0)
        return bench_good(b, PARTS(WRITTEN(finish, "finish: {seal: {dry: %s}}\n")))
            ->finish->seal->dry;
    if (strcmp(field, "temperature") == 0)
        return bench_good(b, PARTS(WRITTEN(shop, "shop: {temperature: %s}\n")))->shop->temperature;
    if (strcmp(field, "angle") == 0)
        return bench_good(b, PARTS(WRITTEN(ballast, "ballast: {aim: {attitude: %s}}\n")))
            ->ballast->aim->attitude.value;
    if (strcmp(field, "share") == 0)
        return bench_good(b, PARTS(WRITTEN(ballast, "ballast: {aim: {reserve: %s}}\n")))
            ->ballast->aim->reserve.value;
    if (strcmp(field, "salinity") == 0)
        return bench_good(b, PARTS(WRITTEN(water, "water: {salinity: %s}\n")))->water->salinity;
    if (strcmp(field, "force") == 0)
        return bench_good(b, PARTS(WRITTEN(hardware, "hardware: {wire: {diameter: 1 mm}, "
                                                     "line tie: {place: nose}, line: %s}\n")))
            ->hardware->line.value;
#undef WRITTEN
    fail_msg("no such field: %s", field);
    return 0;
}

/* Sources: SI Brochure; the international yard and pound (1959); 7000 grains to a pound; the US
 * fluid ounce has no field of its own in a recipe.  Wire: ASTM B258 by its formula, and the two
 * tables (18 is 0.0475 in and 0.048 in).  Drills: ASME B94.11M, no 30 is 0.1285 in and F 0.257 in.
 */
static void every_unit_of_the_language_works_in_a_recipe(void **state) {
    const struct {
        const char *field, *written;
        double si;
    } cases[] = {
        {"length", "6000 um", 0.006},
        {"length", "6000 µm", 0.006},
        {"length", "6 mm", 0.006},
        {"length", "6mm", 0.006},
        {"length", "0.6 cm", 0.006},
        {"length", ".006 m", 0.006},
        {"length", "250 thou", 0.00635},
        {"length", "1/4 in", 0.00635},
        {"length", "1/4\"", 0.00635},
        {"length", "1/4″", 0.00635},
        {"length", "1 1/2 in", 0.0381},
        {"length", "0.05 ft", 0.01524},
        {"wire", "1.2 mm", 0.0012},
        {"wire", "18 awg", 0.127e-3 * pow(92, 18.0 / 39)},
        {"wire", "18 wm", 0.0012065},
        {"wire", "18 swg", 0.0012192},
        {"drill", "8 mm", 0.008},
        {"drill", "5/16 in", 0.0079375},
        {"drill", "no 30", 0.0032639},
        {"drill", "letter F", 0.0065278},
        {"mass", "20000 mg", 0.020},
        {"mass", "20 g", 0.020},
        {"mass", "0.02 kg", 0.020},
        {"mass", "350 gr", 0.0226796185},
        {"mass", "3/4 oz", 0.02126214234375},
        {"mass", "0.05 lb", 0.0226796185},
        {"mass", "1 lb 4 oz", 0.5669904625},
        {"areal mass", "55 g/m2", 0.055},
        {"areal mass", "55 g/m²", 0.055},
        {"density", "0.41 g/cm3", 410},
        {"density", "0.41 g/cm³", 410},
        {"density", "410 kg/m3", 410},
        {"density", "25 lb/ft3", 400.46158},
        {"time", "90 s", 90},
        {"time", "45 min", 2700},
        {"time", "1.5 h", 5400},
        {"time", "1/2 d", 43200},
        {"time", "1 h 30 min", 5400},
        {"temperature", "-5 degC", -5},
        {"temperature", "23 degC", 23},
        {"temperature", "23 °C", 23},
        {"temperature", "68 degF", 20},
        {"temperature", "68 °F", 20},
        {"angle", "5 deg", 0.0872664626},
        {"angle", "5°", 0.0872664626},
        {"angle", "-5 deg", -0.0872664626},
        {"share", "12 %", 0.12},
        {"share", "12.5%", 0.125},
        {"share", "-12 %", -0.12},
        {"salinity", "35 g/kg", 35},
        {"force", "90 N", 90},
        {"force", "9 kgf", 88.25985},
        {"force", "20 lbf", 88.9644323},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_close(read_as(*state, cases[i].field, cases[i].written), cases[i].si, 1e-6);
}

static void positions_are_lengths_or_shares_of_the_body(void **state) {
    const struct recipe *r =
        bench_good(*state, PARTS(.ballast = "ballast: {bores: [{at: 40 %, drill: 6 mm, load: []}, "
                                            "{at: 65 mm, drill: 6 mm, load: []}]}\n"));
    assert_near(position_in(r->ballast->bores[0].at, r->body->length), 0.040, 1e-15);
    assert_near(position_in(r->ballast->bores[1].at, r->body->length), 0.065, 1e-15);
}

static void parts_are_by_volume_unless_they_say_by_mass(void **state) {
    static const char *const written[] = {"2:1", "2:1 by volume", "2:1 by mass"};
    for (int i = 0; i < 3; i++) {
        struct bench *b = *state;
        const char *finish =
            arena_printf(&b->arena, "finish: {topcoat: {kind: epoxy, mix: %s}}\n", written[i]);
        struct parts mix = bench_good(b, PARTS(.finish = finish))->finish->topcoat->mix;
        assert_near(mix.first, 2, 0);
        assert_near(mix.second, 1, 0);
        assert_int_equal(mix.by_mass, i == 2);
    }
}

static void back_belly_reserve_attitude_and_up_may_be_negative(void **state) {
    const struct recipe *r = bench_good(
        *state, PARTS(.body = "body:\n  length: 100 mm\n  section: {shape: oval}\n  stations:\n"
                              "    - {at: 0 mm, back: -2 mm, belly: 6 mm, width: 4 mm}\n"
                              "    - {at: 100 mm, back: 6 mm, belly: -2 mm, width: 4 mm}\n",
                      .ballast = "ballast: {aim: {reserve: -8 %, attitude: -3 deg}}\n",
                      .eyes = "eyes: {size: 4 mm, at: 5 mm, up: -1.5 mm}\n"));
    assert_near(r->body->stations[0].back, -0.002, 1e-15);
    assert_near(r->body->stations[1].belly, -0.002, 1e-15);
    assert_near(r->ballast->aim->reserve.value, -0.08, 1e-15);
    assert_near(r->ballast->aim->attitude.value, -3 * one_degree, 1e-15);
    assert_near(r->eyes->up, -0.0015, 1e-15);
}

/* Common practice, no source: 18 gauge stainless wire for twisted eyes.  Which gauge has to be
 * said. */
static void eighteen_gauge_wire_needs_the_name_of_its_system(void **state) {
    struct bench *b = *state;
    bench_recipe(b, PARTS(.hardware = "hardware:\n  wire: {diameter: 18 gauge}\n"
                                      "  line tie: {place: nose}\n"));
    bench_expect(b, "18 gauge", "error value: '18 gauge' does not say which gauge it is");
    assert_string_equal(b->diags.items[0].hint,
                        "18 awg is 1.02 mm, 18 wm is 1.21 mm, 18 swg is 1.22 mm");
    const struct recipe *r =
        bench_good(b, PARTS(.hardware = "hardware:\n  wire: {diameter: 18 swg}\n"
                                        "  line tie: {place: nose}\n"));
    assert_string_equal(reference_metal[r->hardware->wire->material].name, "stainless");
    assert_near(r->hardware->wire->diameter, 0.048 * 0.0254, 1e-12);
}

/* --- the field decides the type -------------------------------------------------------------- */

static void what_yaml_would_take_for_something_else_is_what_its_field_says(void **state) {
    const struct recipe *r = bench_good(
        *state, PARTS(.head = "recipe: '1'\nname: no\nnote: 010\nmake: \"4\"\n",
                      .hardware = "hardware:\n  wire: {diameter: 1 mm}\n  line tie: {place: nose}\n"
                                  "  hangers: [{place: tail, hook: {size: 1/0}}]\n",
                      .finish = "finish:\n  seal: {sand: no}\n  paint: {thin: 1:1, layers: "
                                "[{colour: 1e3, kind: opaque}]}\n"));
    assert_true(str_is(r->name, "no"));
    assert_true(str_is(r->note, "010"));
    assert_int_equal(r->make, 4);
    assert_true(str_is(r->hardware->hangers[0].hook->size, "1/0"));
    assert_false(r->finish->seal->sand);
    assert_near(r->finish->paint->thin.first, 1, 0);
    assert_true(str_is(r->finish->paint->layers[0].colour, "1e3"));
}

static void flags_are_true_or_false_yes_or_no(void **state) {
    static const char *const words[] = {"true", "yes", "false", "no"};
    struct bench *b = *state;
    for (int i = 0; i < 4; i++) {
        const char *finish = arena_printf(&b->arena, "finish: {seal: {sand: %s}}\n", words[i]);
        assert_int_equal(bench_good(b, PARTS(.finish = finish))->finish->seal->sand, i < 2);
    }
    bench_recipe(b, PARTS(.finish = "finish: {seal: {sand: 1}}\n"));
    bench_expect(b, "1}}", "error value: '1' is neither true nor false");
}

static void colours_are_six_hexadecimal_digits(void **state) {
    struct bench *b = *state;
    const struct recipe *r =
        bench_good(b, PARTS(.finish = "finish: {paint: {layers: [{colour: sun, kind: opaque, "
                                      "hex: \"#FfD21e\"}]}}\n"));
    assert_int_equal(r->finish->paint->layers[0].hex, 0xFFD21E);
    assert_true(r->finish->paint->layers[0].hex_given);
    bench_recipe(b, PARTS(.finish = "finish: {paint: {layers: [{colour: sun, kind: opaque, "
                                    "hex: \"#FFD21\"}]}}\n"));
    bench_expect(b, "\"#FFD21\"", "error value: hex '#FFD21' is not a colour");
    bench_recipe(b, PARTS(.finish = "finish: {paint: {layers: [{colour: sun, kind: opaque, "
                                    "hex: \"#FFD21G\"}]}}\n"));
    bench_expect(b, "\"#FFD21G\"", "error value: hex '#FFD21G' is not a colour");
}

/* --- ranges ---------------------------------------------------------------------------------- */

static bool has_range(const struct field *field) {
    return field->kind == FIELD_QUANTITY || field->kind == FIELD_OPT ||
           field->kind == FIELD_INTEGER;
}

/* Whether the field takes a value, written in its dimension's first unit. */
static bool takes(struct bench *b, const struct part *part, const struct field *field,
                  double value) {
    struct value_problem problem = {.rule = NULL};
    void *object = arena_alloc(&b->arena, part->size);
    const char *text = quantity_show(&b->arena, value, field->dimension, NULL, 15);
    if (value_read(&b->arena, str_of(text), field, object, &problem)) return true;
    if (strcmp(problem.rule, "range") != 0)
        print_error("%s of %s: %s: %s\n", field->key, part->name, text, problem.error);
    assert_string_equal(problem.rule, "range");
    return false;
}

static void every_field_takes_its_bounds_and_nothing_beyond(void **state) {
    struct bench *b = *state;
    int fields = 0;
    for (int p = 0; p < PART_COUNT; p++)
        for (int i = 0; i < grammar_parts[p].field_count; i++) {
            const struct part *part = &grammar_parts[p];
            const struct field *field = &part->fields[i];
            if (!has_range(field)) continue;
            double step = field->kind == FIELD_INTEGER ? 1 : 1e-6 * (field->max - field->min);
            if (step == 0) step = 1;
            assert_true(takes(b, part, field, field->min));
            assert_true(takes(b, part, field, field->max));
            assert_false(takes(b, part, field, field->min - step));
            assert_false(takes(b, part, field, field->max + step));
            fields++;
        }
    assert_true(fields > 80);
}

/* 11.811 in is 299.9994 mm, 23.622 in is 599.9988 mm. */
static void a_bound_that_rounding_of_a_unit_just_misses_is_taken(void **state) {
    struct bench *b = *state;
    bench_good(b, PARTS(.wood = "wood: {species: basswood, moisture: 30 %}\n"));
    bench_recipe(b, PARTS(.wood = "wood: {species: basswood, moisture: 30.001 %}\n"));
    bench_expect(b, "30.001 %", "error range: moisture 30.001 % is outside 0 % to 30 %");
}

static void a_range_is_shown_in_the_unit_that_the_builder_wrote(void **state) {
    struct bench *b = *state;
    bench_recipe(b, PARTS(.eyes = "eyes: {size: 2 in, at: 15 mm}\n"));
    bench_expect(b, "2 in", "error range: size 2 in is outside 0.0393701 in to 1.5748 in");
    assert_string_equal(b->diags.items[0].hint, "size: diameter of eye and socket");
}

static void whole_numbers_have_no_fraction(void **state) {
    struct bench *b = *state;
    bench_recipe(b, PARTS(.head = "recipe: 1\nname: Box\nmake: 2.5\n"));
    bench_expect(b, "2.5", "error value: make is a whole number, '2.5' is none");
    bench_recipe(b, PARTS(.head = "recipe: 1\nname: Box\nmake: 501\n"));
    bench_expect(b, "501", "error range: make 501 is outside 1 to 500");
    bench_recipe(b, PARTS(.head = "recipe: 2\nname: Box\n"));
    bench_expect(b, "2\n", "error range: recipe 2 is outside 1 to 1");
}

static void texts_are_as_long_as_the_language_says(void **state) {
    struct bench *b = *state;
    char name[2 * 81 + 1] = "";
    for (int i = 0; i < 80; i++) strcat(name, "ø"); /* code points count, not bytes */
    bench_good(b, PARTS(.head = arena_printf(&b->arena, "recipe: 1\nname: %s\n", name)));
    strcat(name, "x");
    bench_recipe(b, PARTS(.head = arena_printf(&b->arena, "recipe: 1\nname: %s\n", name)));
    bench_expect(b, "øø", "error range: name has 81 characters; 80 are allowed");
}

static void lists_are_as_long_as_the_language_says(void **state) {
    struct bench *b = *state;
    struct buf ballast = {.arena = &b->arena};
    buf_text(&ballast, "ballast:\n  bores:\n");
    for (int i = 0; i < 9; i++) {
        if (i == 8) bench_good(b, PARTS(.ballast = ballast.data));
        buf_printf(&ballast, "    - {at: %d mm, drill: 2 mm, load: []}\n", 10 * i + 5);
    }
    bench_recipe(b, PARTS(.ballast = ballast.data));
    bench_expect(b, "bores", "error range: 'bores' has 9 items; 0 to 8 are allowed");
}

/* --- times ----------------------------------------------------------------------------------- */

static struct moment start_of(struct bench *b, const char *written) {
    const char *shop = arena_printf(&b->arena, "shop: {start: %s}\n", written);
    return bench_good(b, PARTS(.shop = shop))->shop->start;
}

static void the_start_is_a_local_time_of_iso_8601(void **state) {
    struct bench *b = *state;
    struct moment m = start_of(b, "2026-12-05T09:00");
    assert_true(m.given);
    assert_int_equal(m.year, 2026);
    assert_int_equal(m.month, 12);
    assert_int_equal(m.day, 5);
    assert_int_equal(m.hour, 9);
    assert_int_equal(m.minute, 0);
    assert_int_equal(start_of(b, "2028-02-29T23:59:00").day, 29); /* a leap year */
    assert_int_equal(start_of(b, "2000-02-29T00:00").day, 29);    /* every fourth century is one */
}

/* The months of the Gregorian calendar, ISO 8601. */
static void every_month_ends_with_its_last_day(void **state) {
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    struct bench *b = *state;
    for (int month = 1; month <= 12; month++) {
        int last = days[month - 1];
        const char *text = arena_printf(&b->arena, "2026-%02d-%02dT09:00", month, last);
        assert_int_equal(start_of(b, text).day, last);
        text = arena_printf(&b->arena, "2026-%02d-%02dT09:00", month, last + 1);
        bench_recipe(b, PARTS(.shop = arena_printf(&b->arena, "shop: {start: %s}\n", text)));
        bench_expect(b, text,
                     arena_printf(&b->arena,
                                  "error value: start '%s' is no date and time that exists", text));
    }
}

static void dates_that_do_not_exist_are_refused(void **state) {
    static const char *const none[] = {"2026-02-29T09:00", "2100-02-29T09:00", "2026-13-01T09:00",
                                       "2026-00-10T09:00", "2026-04-31T09:00", "2026-04-00T09:00",
                                       "2026-04-10T24:00", "2026-04-10T09:60", "1899-12-31T09:00"};
    static const char *const shapeless[] = {
        "2026-12-05",        "2026-12-05 09:00",    "09:00",          "tomorrow",
        "2026-12-05T09:00Z", "2026-12-05T09:00:30", "2026-12-5T09:00"};
    struct bench *b = *state;
    for (size_t i = 0; i < sizeof none / sizeof *none; i++) {
        bench_recipe(b, PARTS(.shop = arena_printf(&b->arena, "shop: {start: %s}\n", none[i])));
        bench_expect(b, none[i],
                     arena_printf(&b->arena,
                                  "error value: start '%s' is no date and time that exists",
                                  none[i]));
    }
    for (size_t i = 0; i < sizeof shapeless / sizeof *shapeless; i++) {
        bench_recipe(b,
                     PARTS(.shop = arena_printf(&b->arena, "shop: {start: %s}\n", shapeless[i])));
        bench_expect(b, shapeless[i],
                     arena_printf(&b->arena,
                                  "error value: start '%s' is not an ISO 8601 local time",
                                  shapeless[i]));
    }
}

static void the_shop_opens_by_weekday(void **state) {
    const struct recipe *r =
        bench_good(*state, PARTS(.shop = "shop: {open: {sat: [\"09:00-12:00\", \"13:00-17:00\"], "
                                         "mon: \"18:00-24:00\", sun: []}}\n"));
    static const int hour = 3600, saturday = 5 * 24 * 3600;
    const struct period due[] = {{18 * hour, 24 * hour},
                                 {saturday + 9 * hour, saturday + 12 * hour},
                                 {saturday + 13 * hour, saturday + 17 * hour}};
    const struct hours *open = r->shop->open;
    assert_non_null(open);
    assert_int_equal(open->cycle, 7 * 24 * hour);
    assert_int_equal(open->count, 3);
    for (int i = 0; i < open->count; i++) {
        assert_int_equal(open->period[i].from, due[i].from);
        assert_int_equal(open->period[i].to, due[i].to);
    }
}

static void hours_that_no_clock_shows_are_refused(void **state) {
    static const struct {
        const char *open, *at, *said;
    } cases[] = {
        {"{mon: 18-21}", "18-21", "error value: this is not a time of opening"},
        {"{mon: \"18:00-25:00\"}", "\"18:00-25:00\"",
         "error value: an opening begins before it ends, between 00:00 and 24:00"},
        {"{mon: \"18:60-21:00\"}", "\"18:60-21:00\"",
         "error value: an opening begins before it ends, between 00:00 and 24:00"},
        {"{mon: \"21:00-18:00\"}", "\"21:00-18:00\"",
         "error value: an opening begins before it ends, between 00:00 and 24:00"},
        {"{mon: \"18:00-18:00\"}", "\"18:00-18:00\"",
         "error value: an opening begins before it ends, between 00:00 and 24:00"},
        {"{mon: [\"09:00-12:00\", \"11:00-13:00\"]}", "\"11:00",
         "error value: openings of a day follow one another without overlap"},
        {"{mon: {from: 9}}", "{from", "error value: this is not a time of opening"},
        {"{monday: \"18:00-21:00\"}", "monday", "error value: 'monday' is no weekday"},
    };
    struct bench *b = *state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        bench_recipe(b,
                     PARTS(.shop = arena_printf(&b->arena, "shop: {open: %s}\n", cases[i].open)));
        bench_expect(b, cases[i].at, cases[i].said);
    }
}

static void a_day_has_eight_openings_at_most(void **state) {
    struct bench *b = *state;
    struct buf shop = {.arena = &b->arena};
    buf_text(&shop, "shop:\n  open:\n    mon:\n");
    for (int i = 0; i < 9; i++) {
        if (i == 8) bench_good(b, PARTS(.shop = shop.data));
        buf_printf(&shop, "      - \"%02d:00-%02d:30\"\n", i, i);
    }
    bench_recipe(b, PARTS(.shop = shop.data));
    bench_expect(b, "\"08:00", "error value: a day has at most 8 openings");
}

static void a_due_date_is_a_day_of_the_calendar(void **state) {
    static const char *const none[] = {"2027-02-29", "2027-13-01", "2027-00-10",
                                       "1899-12-31", "2027-04-31", "2027-04-00"};
    static const char *const shapeless[] = {"2027-3-1", "tomorrow", "2027-03-01T09:00", "20270301"};
    struct bench *b = *state;
    for (size_t i = 0; i < sizeof none / sizeof *none + sizeof shapeless / sizeof *shapeless; i++) {
        bool real = i >= sizeof none / sizeof *none;
        const char *due = real ? shapeless[i - sizeof none / sizeof *none] : none[i];
        bench_recipe(
            b, PARTS(.head = arena_printf(&b->arena, "recipe: 1\nname: Box\ndue: %s\n", due)));
        bench_expect(b, due,
                     arena_printf(&b->arena, "error value: due '%s' is %s", due,
                                  real ? "not an ISO 8601 date" : "no date that exists"));
    }
    const struct recipe *leap =
        bench_good(b, PARTS(.head = "recipe: 1\nname: Box\ndue: 2028-02-29\n",
                            .shop = "shop: {start: 2028-02-01T09:00}\n"));
    assert_true(leap->due.given);
    assert_int_equal(leap->due.month * 100 + leap->due.day, 229);
}

static void one_key_takes_so_many_quantities_and_no_more(void **state) {
    struct bench *b = *state;
    bench_good(b, PARTS(.running = "running: {diameter: 0.3 mm, out: [10 m, 20 m]}\n"));
    bench_recipe(b, PARTS(.running = "running: {diameter: 0.3 mm, out: []}\n"));
    bench_expect(b, "[]", "error range: 'out' has 0 items; 1 to 12 are allowed");
    bench_recipe(b, PARTS(.running = "running: {diameter: 0.3 mm, out: [5 m, 6 m, 7 m, 8 m, 9 m, "
                                     "10 m, 11 m, 12 m, 13 m, 14 m, 15 m, 16 m, 17 m]}\n"));
    bench_expect(b, "[5 m", "error range: 'out' has 13 items; 1 to 12 are allowed");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(every_unit_of_the_language_works_in_a_recipe),
        BENCH_TEST(positions_are_lengths_or_shares_of_the_body),
        BENCH_TEST(parts_are_by_volume_unless_they_say_by_mass),
        BENCH_TEST(back_belly_reserve_attitude_and_up_may_be_negative),
        BENCH_TEST(eighteen_gauge_wire_needs_the_name_of_its_system),
        BENCH_TEST(what_yaml_would_take_for_something_else_is_what_its_field_says),
        BENCH_TEST(flags_are_true_or_false_yes_or_no),
        BENCH_TEST(colours_are_six_hexadecimal_digits),
        BENCH_TEST(every_field_takes_its_bounds_and_nothing_beyond),
        BENCH_TEST(a_bound_that_rounding_of_a_unit_just_misses_is_taken),
        BENCH_TEST(a_range_is_shown_in_the_unit_that_the_builder_wrote),
        BENCH_TEST(whole_numbers_have_no_fraction),
        BENCH_TEST(texts_are_as_long_as_the_language_says),
        BENCH_TEST(lists_are_as_long_as_the_language_says),
        BENCH_TEST(the_start_is_a_local_time_of_iso_8601),
        BENCH_TEST(every_month_ends_with_its_last_day),
        BENCH_TEST(dates_that_do_not_exist_are_refused),
        BENCH_TEST(the_shop_opens_by_weekday),
        BENCH_TEST(hours_that_no_clock_shows_are_refused),
        BENCH_TEST(a_day_has_eight_openings_at_most),
        BENCH_TEST(a_due_date_is_a_day_of_the_calendar),
        BENCH_TEST(one_key_takes_so_many_quantities_and_no_more),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
