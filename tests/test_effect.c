#include "recipe_text.h"

#include "command/compare.h"
#include "emit/words/words.h"
#include "model/reference.h"

static struct compilation *compiled(struct bench *bench, struct recipe_parts parts) {
    struct compilation *c = NEW(&bench->arena, struct compilation, 1);
    *c = compile_text(&bench->arena, "test", recipe_text_of(&bench->arena, parts));
    for (int i = 0; i < c->diags.count; i++)
        if (c->diags.items[i].severity == SEVERITY_ERROR)
            print_error("%d: %s\n", c->diags.items[i].at.line, c->diags.items[i].message);
    assert_int_equal(c->diags.errors, 0);
    return c;
}

static struct difference difference_of(struct bench *bench, struct recipe_parts old,
                                       struct recipe_parts new) {
    return compare(&bench->arena, compiled(bench, old), compiled(bench, new));
}

static const struct effect *effect_on(const struct difference *d, const char *path) {
    for (int i = 0; i < d->effects.count; i++) {
        const struct effect *e = &d->effects.items[i];
        if (is_called(e->any->path, path)) return e;
    }
    return NULL;
}

static const struct effect *material_effect(const struct difference *d, const char *item) {
    for (int i = 0; i < d->effects.count; i++) {
        const struct effect *e = &d->effects.items[i];
        if (e->any->group == EFFECT_MATERIAL && is_called(e->any->label, item)) return e;
    }
    return NULL;
}

static const struct difference_part *part_named(const struct difference *d, const char *name) {
    for (int i = 0; i < d->part_count; i++)
        if (strcmp(d->parts[i].name, name) == 0) return &d->parts[i];
    print_error("no part %s\n", name);
    fail();
    return NULL;
}

/* --- differences of results ------------------------------------------------------------------ */

#define LOADED(grams) \
    "ballast: {bores: [{at: 50 mm, drill: 8 mm, depth: 10 mm, load: [{mass: " grams "}]}]}\n"
#define RINGED(grams)                                                  \
    "hardware:\n  wire: {diameter: 1 mm}\n  line tie: {place: nose}\n" \
    "  hangers: [{place: tail, ring: {mass: " grams "}}]\n"

static void a_heavier_load_lowers_the_reserve_by_its_own_mass_less_the_filler(void **state) {
    struct bench *bench = *state;
    struct difference d =
        difference_of(bench, PARTS(.ballast = LOADED("2 g")), PARTS(.ballast = LOADED("3 g")));
    const struct effect *e = effect_on(&d, "float.finished.reserve");
    assert_non_null(e);
    /* 1 g of lead more takes the place of 1/11.34 cm3 of filler. */
    double capacity = d.old.results->finished.rest.capacity;
    double mass = 1e-3 * (1 - bore_filler / lead);
    assert_close(e->after->value - e->before->value, -mass / capacity, 1e-9);
}

static void what_stays_within_its_tolerance_is_not_told(void **state) {
    struct bench *bench = *state;
    struct difference d =
        difference_of(bench, PARTS(.ballast = LOADED("2 g")), PARTS(.ballast = LOADED("2.02 g")));
    assert_int_equal(d.changes.count, 1);
    assert_null(effect_on(&d, "float.finished.mass"));
    assert_null(effect_on(&d, "ballast.bore 1.load"));
}

/* 2.01 is over 2 % of 100 and under 2 % of 102.01. */
static void what_differs_from_one_side_differs_from_the_other(void **state) {
    struct bench *b = *state;
    struct effect_value low = {.value = 100, .tolerance = 0.02 * 100};
    struct effect_value high = {.value = 102.01, .tolerance = 0.02 * 102.01};
    struct effect_value higher = {.value = 102.1, .tolerance = 0.02 * 102.1};
    const struct effect_values one = {&low, 1}, near = {&high, 1}, far = {&higher, 1};
    assert_int_equal(effect_between(&b->arena, &one, &near).count, 0);
    assert_int_equal(effect_between(&b->arena, &near, &one).count, 0);
    assert_int_equal(effect_between(&b->arena, &one, &far).count, 1);
    assert_int_equal(effect_between(&b->arena, &far, &one).count, 1);
}

/* Two are exactly what is allowed, and a count that must not differ at all is no difference either.
 */
static void what_differs_by_its_tolerance_and_no_more_is_not_told(void **state) {
    struct bench *b = *state;
    struct effect_value values[] = {{.value = 100, .tolerance = 2},
                                    {.value = 102, .tolerance = 2},
                                    {.value = 102.25, .tolerance = 2},
                                    {.value = 102, .tolerance = 0}};
    const struct effect_values one = {&values[0], 1}, two = {&values[1], 1},
                               three = {&values[2], 1}, exact = {&values[3], 1};
    assert_int_equal(effect_between(&b->arena, &one, &two).count, 0);
    assert_int_equal(effect_between(&b->arena, &one, &three).count, 1);
    assert_int_equal(effect_between(&b->arena, &exact, &exact).count, 0);
}

/* The metal of the loads stands with its bores; all else that lies over them is a material. */
static void the_metal_of_a_load_is_told_once(void **state) {
    struct bench *bench = *state;
    struct difference d =
        difference_of(bench, PARTS(.ballast = LOADED("2 g")), PARTS(.ballast = LOADED("4 g")));
    const struct effect *filler = material_effect(&d, "bore filler");
    assert_non_null(filler);
    assert_int_equal(filler->any->kind, SHOWN_VOLUME);
    assert_non_null(effect_on(&d, "ballast.bore 1.load"));
    for (int i = 0; i < d.effects.count; i++)
        if (d.effects.items[i].any->group == EFFECT_MATERIAL)
            assert_ptr_equal(&d.effects.items[i], filler);
}

/* Wood by its room, sealer as a liquid. */
static void materials_are_told_as_they_are_bought(void **state) {
    struct bench *bench = *state;
    struct difference d = difference_of(bench, PARTS(.finish = "finish: {seal: {coats: 1}}\n"),
                                        PARTS(.finish = "finish: {seal: {coats: 3}}\n",
                                              .shop = "shop: {allowance: {length: 30 mm}}\n"));
    assert_int_equal(material_effect(&d, "basswood blank")->any->kind, SHOWN_SOLID);
    assert_int_equal(material_effect(&d, "sealer: sanding sealer")->any->kind, SHOWN_VOLUME);
}

static void a_material_that_comes_or_goes_has_one_side(void **state) {
    struct bench *bench = *state;
    struct difference d = difference_of(bench, PARTS(.finish = "finish: {seal: {name: oil}}\n"),
                                        PARTS(.finish = "finish: {topcoat: {kind: epoxy}}\n"));
    assert_null(material_effect(&d, "sealer: oil")->after);
    assert_null(material_effect(&d, "topcoat resin")->before);
}

static void the_same_recipe_differs_in_nothing(void **state) {
    struct bench *bench = *state;
    struct difference d =
        difference_of(bench, PARTS(.ballast = LOADED("2 g")), PARTS(.ballast = LOADED("2 g")));
    assert_int_equal(d.changes.count + d.effects.count + d.rework.count + d.part_count, 0);
}

static void costs_in_two_currencies_are_not_compared(void **state) {
    struct bench *bench = *state;
    struct difference d = difference_of(
        bench,
        PARTS(.head = "recipe: 1\nname: Box\ncurrency: EUR\n", .prices = "prices: {wood: 9}\n"),
        PARTS(.head = "recipe: 1\nname: Box\ncurrency: USD\n", .prices = "prices: {wood: 12}\n"));
    assert_null(effect_on(&d, "cost"));
}

/* --- each change alone ----------------------------------------------------------------------- */

static void changes_alone_are_weighed_in_the_old_recipe(void **state) {
    struct bench *bench = *state;
    struct recipe_parts old = {.hardware = RINGED("1 g"), .ballast = LOADED("2 g")};
    struct recipe_parts new = {.hardware = RINGED("3 g"), .ballast = LOADED("4 g")};
    struct recipe_parts only_rings = {.hardware = RINGED("3 g"), .ballast = LOADED("2 g")};
    struct difference d = difference_of(bench, old, new);
    const struct compilation *due = compiled(bench, only_rings);
    assert_int_equal(d.part_count, 2);
    const struct single *rings = &part_named(&d, "hangers")->alone;
    assert_close(rings->reserve, due->results.finished.rest.reserve, 1e-12);
    assert_near(rings->attitude, due->results.finished.rest.attitude, 1e-12);
}

#define SOLVED(reserve) \
    "ballast: {aim: {reserve: " reserve "}, bores: [{at: 50 mm, drill: 12 mm, load: solve}]}\n"

static void with_its_old_load_a_solved_plug_shows_what_a_change_does(void **state) {
    struct bench *bench = *state;
    struct recipe_parts old = {.hardware = RINGED("1 g"), .ballast = SOLVED("40 %")};
    struct recipe_parts new = {.hardware = RINGED("3 g"), .ballast = SOLVED("40 %")};
    struct difference d = difference_of(bench, old, new);
    const struct single *rings = &part_named(&d, "hangers")->alone;
    const struct condition *was = &d.old.results->finished;
    /* 2 g of ring more displace 2/7.9 cm3 of water. */
    double mass = was->burden.mass + 2e-3;
    double capacity = was->rest.capacity + 2e-3 / 7900 * d.old.results->plug.water;
    assert_near(rings->reserve, 0.40, 1e-6);
    assert_true(rings->kept);
    assert_close(rings->with_before.reserve, 1 - mass / capacity, 1e-9);
    assert_true(rings->ballast < d.old.afloat.ballast);
}

static void a_bore_that_was_put_in_has_no_old_load(void **state) {
    struct bench *bench = *state;
    struct difference d = difference_of(
        bench, PARTS(.ballast = SOLVED("40 %")),
        PARTS(.ballast = "ballast: {aim: {reserve: 40 %, attitude: 2 deg}, bores: [{at: 30 mm, "
                         "drill: 12 mm, load: solve}, {at: 50 mm, drill: 12 mm, load: solve}]}\n"));
    assert_false(d.new.afloat.kept);
    assert_true(d.old.afloat.kept);
}

static void what_makes_no_plug_alone_is_told_with_its_section(void **state) {
    struct bench *bench = *state;
    /* The longer body alone would have its last station 10 mm before the tail. */
    struct difference d = difference_of(
        bench,
        PARTS(.body = "body:\n  length: 100 mm\n  section: {shape: square}\n  stations:\n"
                      "    - {at: 0 mm, back: 10 mm, belly: 10 mm, width: 20 mm}\n"
                      "    - {at: 100 mm, back: 10 mm, belly: 10 mm, width: 20 mm}\n"),
        PARTS(.body = "body:\n  length: 110 mm\n  section: {shape: square}\n  stations:\n"
                      "    - {at: 0 mm, back: 10 mm, belly: 10 mm, width: 20 mm}\n"
                      "    - {at: 50 mm, back: 10 mm, belly: 10 mm, width: 20 mm}\n"
                      "    - {at: 110 mm, back: 10 mm, belly: 10 mm, width: 20 mm}\n"));
    assert_int_equal(d.part_count, 1);
    const struct single *both = &part_named(&d, "body, stations")->alone;
    assert_null(both->failure);
    assert_close(both->reserve, d.new.afloat.reserve, 1e-12);
}

/* --- work ------------------------------------------------------------------------------------ */

static struct rework_list rework_of(struct bench *bench, struct operation *old, int old_count,
                                    struct operation *new, int new_count) {
    struct results a = {.run.route = {.operations = old, .count = old_count}};
    struct results b = {.run.route = {.operations = new, .count = new_count}};
    return rework_between(&bench->arena, &a, &b);
}

#define STEP(name, minutes) \
    { .key = OPERATION_OWN, .id = name, .each = 60.0 * (minutes) }

static void operations_come_go_move_and_take_longer(void **state) {
    struct bench *bench = *state;
    struct operation old[] = {STEP("a", 5), STEP("b", 5), STEP("c", 5), STEP("d", 5)};
    struct operation new[] = {STEP("b", 5), STEP("c", 9), STEP("e", 5), STEP("a", 5)};
    struct rework_list list = rework_of(bench, old, 4, new, 4);
    struct {
        const char *id;
        enum rework_kind kind;
    } due[] = {{"c", REWORK_RETIMED}, {"d", REWORK_GOES}, {"e", REWORK_COMES}, {"a", REWORK_MOVES}};
    assert_int_equal(list.count, 4);
    for (int i = 0; i < list.count; i++) {
        const struct rework *item = &list.items[i];
        const char *id = (item->now ? item->now : item->before)->id;
        int found = 0;
        for (int k = 0; k < 4; k++)
            found += strcmp(due[k].id, id) == 0 && due[k].kind == item->kind;
        if (!found) print_error("%s %d\n", id, (int)item->kind);
        assert_int_equal(found, 1);
    }
}

static void a_colour_put_in_is_one_new_operation(void **state) {
    struct bench *bench = *state;
#define COLOURS(more)                                                \
    "finish: {paint: {layers: [{colour: white, kind: opaque}, " more \
    "{colour: red, kind: transparent, where: head}]}}\n"
    struct difference d =
        difference_of(bench, PARTS(.finish = COLOURS("")),
                      PARTS(.finish = COLOURS("{colour: green, kind: opaque, where: back}, ")));
    assert_int_equal(d.rework.count, 1);
    assert_int_equal(d.rework.items[0].kind, REWORK_COMES);
    assert_non_null(
        strstr(words_title(&bench->arena, d.new.recipe, d.rework.items[0].now), "green"));
}

enum { HOUR = 3600, DAY = 24 * HOUR };

static struct sittings sittings_of(struct bench *bench, const char *shop, struct run run,
                                   int64_t origin, int64_t makespan) {
    const struct recipe *recipe = compiled(bench, PARTS(.shop = shop))->recipe;
    run.makespan = makespan, run.feasible = true;
    struct results r = {.plug.recipe = recipe, .run = run};
    if (recipe->shop->open) r.run.hours = *recipe->shop->open;
    r.run.hours.origin = origin;
    return rework_sittings(&bench->arena, &r);
}

static void opening_periods_with_work_are_sittings(void **state) {
    struct bench *bench = *state;
    /* From Monday 18:00: a step that runs on into Wednesday, a wait, a step on Saturday afternoon.
     */
    const char *shop = "shop: {open: {mon: \"18:00-21:00\", wed: \"18:00-21:00\", "
                       "sat: [\"09:00-12:00\", \"13:00-17:00\"]}}\n";
    int64_t monday = 18 * HOUR;
    struct run_step steps[] = {
        {.start = 0, .work_end = 2 * DAY + HOUR, .end = 3 * DAY, .hands_on = 4 * HOUR},
        {.start = 3 * DAY, .work_end = 3 * DAY, .end = 4 * DAY, .hands_on = 0},
        {.start = 4 * DAY + 20 * HOUR,
         .work_end = 4 * DAY + 21 * HOUR,
         .end = 5 * DAY,
         .hands_on = HOUR},
    };
    struct stint stints[] = {
        {.step = 0, .from = 0, .to = 3 * HOUR},
        {.step = 0, .from = 2 * DAY, .to = 2 * DAY + HOUR},
        {.step = 2, .from = 4 * DAY + 20 * HOUR, .to = 4 * DAY + 20 * HOUR + HOUR / 2},
        {.step = 2, .from = 4 * DAY + 20 * HOUR + HOUR / 2, .to = 4 * DAY + 21 * HOUR},
    };
    struct run run = {.steps = steps, .count = 3, .stints = stints, .stint_count = 4};
    struct sittings s = sittings_of(bench, shop, run, monday, 5 * DAY);
    assert_true(s.by_hours);
    assert_int_equal(s.all, 3);
    assert_int_equal(s.evenings, 2);
}

static void without_opening_hours_days_are_counted(void **state) {
    struct bench *bench = *state;
    struct run_step steps[] = {
        {.start = 0, .work_end = 2 * HOUR, .end = 2 * DAY, .hands_on = 2 * HOUR},
        {.start = 2 * DAY, .work_end = 2 * DAY + HOUR, .end = 3 * DAY, .hands_on = HOUR},
    };
    struct run run = {.steps = steps, .count = 2};
    struct sittings s = sittings_of(bench, NULL, run, 0, 3 * DAY);
    assert_false(s.by_hours);
    assert_int_equal(s.all, 2);
}

static void cautions_come_and_go(void **state) {
    struct bench *bench = *state;
    struct difference d = difference_of(
        bench,
        PARTS(.ballast = "ballast: {material: tin, bores: [{at: 50 mm, drill: 8 mm, load: "
                         "[{mass: 2 g}]}]}\n",
              .finish = "finish: {topcoat: {kind: urethane}}\n"),
        PARTS(.ballast = LOADED("2 g")));
    assert_true(d.cautions_come & 1u << CAUTION_LEAD);
    assert_true(d.cautions_go & 1u << CAUTION_ISOCYANATE);
    assert_false(d.cautions_go & 1u << CAUTION_DUST);
}

/* --- words ----------------------------------------------------------------------------------- */

static void one_sentence_says_it(void **state) {
    struct bench *bench = *state;
    struct recipe_parts old = {.ballast = LOADED("2 g")}, new = {.ballast = LOADED("3.2 g")};
    struct difference d = difference_of(bench, old, new);
    const char *words = difference_words(&bench->arena, &d);
    /* 1.2 g (1 - 1/11.34) = 1.094 g of about 40 g of water. */
    assert_int_equal(strncmp(words, "floats 2.7 % lower", strlen("floats 2.7 % lower")), 0);
    assert_non_null(strstr(words, "1.1 g heavier"));
}

static void a_plug_that_sinks_now_says_so(void **state) {
    struct bench *bench = *state;
    struct difference d = difference_of(
        bench, PARTS(.ballast = LOADED("2 g")),
        PARTS(.ballast = LOADED("2 g"), .wood = "wood: {species: teak, density: 1100 kg/m3}\n"));
    const char *words = difference_words(&bench->arena, &d);
    assert_int_equal(strncmp(words, "now sinks", strlen("now sinks")), 0);
}

/* --- under tow ------------------------------------------------------------------------------- */

#define TOW_LIP(length, angle)                 \
    "lip: {thickness: 1.5 mm, length: " length \
    ", width: 20 mm, shape: round, at: 10 mm, angle: " angle ", slot: 8 mm}\n"
#define TOW_PARTS(lip_text, line)                                                 \
    PARTS(SWIMMER, .lip = lip_text, .running = "running: {diameter: " line "}\n", \
          .ballast = "ballast: {bores: [{at: 40 mm, drill: 8 mm, load: [{mass: 8 g}]}]}\n")

static const char *in_short(struct bench *bench, const struct difference *d) {
    struct buf out = {.arena = &bench->arena};
    difference_terminal(&out, d);
    buf_char(&out, '\0');
    return strstr(out.data, "\nIn short: ");
}

static void how_much_deeper_is_told_first_and_with_its_doubt(void **state) {
    struct bench *bench = *state;
    struct difference d = difference_of(bench, TOW_PARTS(TOW_LIP("28 mm", "36 deg"), "0.30 mm"),
                                        TOW_PARTS(TOW_LIP("28 mm", "46 deg"), "0.30 mm"));
    const struct effect *e = effect_on(&d, "running.depth");
    assert_non_null(e);
    assert_true(e->change.given && e->change.high < 0);
    assert_true(e->change.low <= e->change.median && e->change.median <= e->change.high);
    /* the doubt of the difference is much less than that of either depth */
    const struct band *depth = &e->before->estimate->band;
    assert_true(e->change.high - e->change.low < 0.5 * (depth->high - depth->low));
    const char *words = difference_words(&bench->arena, &d);
    assert_int_equal(strncmp(words, "runs ", 5), 0);
    assert_non_null(strstr(words, " m shallower ("));
    assert_non_null(strstr(words, ") 30 m out at 1.5 m/s"));
    assert_non_null(strstr(in_short(bench, &d), "runs "));
}

static void where_not_even_the_direction_is_sure_it_is_unclear(void **state) {
    struct bench *bench = *state;
    struct difference d = difference_of(bench, TOW_PARTS(TOW_LIP("28 mm", "36 deg"), "0.30 mm"),
                                        TOW_PARTS(TOW_LIP("28 mm", "36 deg"), "0.30 mm"));
    assert_null(effect_on(&d, "running.depth"));
    struct recipe_parts raised = TOW_PARTS(TOW_LIP("28 mm", "36 deg"), "0.30 mm");
    raised.hardware =
        "hardware:\n  wire: {diameter: 1.2 mm}\n  line tie: {place: nose, eye: 9 mm}\n"
        "  hangers:\n"
        "    - {place: belly, at: 55 mm, depth: 12 mm, hook: {mass: 4.4 g}, ring: "
        "{mass: 0.4 g}}\n"
        "    - {place: tail, hook: {mass: 1.5 g}, ring: {mass: 0.2 g}}\n";
    d = difference_of(bench, TOW_PARTS(TOW_LIP("28 mm", "36 deg"), "0.30 mm"), raised);
    const struct effect *e = effect_on(&d, "running.tie_off");
    bool any = false;
    for (int i = 0; i < d.effects.count; i++)
        any |= d.effects.items[i].change.given && band_unclear(&d.effects.items[i].change);
    if (e) assert_true(e->change.given);
    assert_true(any);
    struct buf out = {.arena = &bench->arena};
    difference_terminal(&out, &d);
    buf_char(&out, '\0');
    assert_non_null(strstr(out.data, "unclear"));
}

static void each_change_alone_has_its_depth(void **state) {
    struct bench *bench = *state;
    struct difference d = difference_of(bench, TOW_PARTS(TOW_LIP("28 mm", "36 deg"), "0.30 mm"),
                                        TOW_PARTS(TOW_LIP("28 mm", "46 deg"), "0.20 mm"));
    const struct difference_part *lip = part_named(&d, "lip"), *line = part_named(&d, "running");
    struct band steeper = running_change(&d.old.afloat.depth, &lip->alone.depth);
    struct band thinner = running_change(&d.old.afloat.depth, &line->alone.depth);
    assert_true(steeper.given && steeper.high < 0);
    assert_true(thinner.given && thinner.low > 0);
    /* The single depth is that of the whole computation, to the strides of the line. */
    const struct running_result *r = &d.old.results->running;
    assert_near(d.old.afloat.depth.band.median,
                r->speeds[r->middle_speed].depth[r->middle_out].band.median, 1e-5);
}

static void no_text_of_a_recipe_reaches_terminal_or_page_unguarded(void **state) {
    struct bench *bench = *state;
    struct recipe_parts old = {.head = "recipe: 1\nname: Box\n"};
    struct recipe_parts new = {
        .head = "recipe: 1\nname: \"<b>![x](http://e) \\u202E|\"\nnote: \"\\u200Bnote <script>\"\n",
        .finish = "finish: {paint: {layers: [{colour: \"a|b](c) \\u2066\", kind: opaque}]}}\n"};
    struct difference d = difference_of(bench, old, new);
    struct figure_list none = {0};
    struct buf terminal = {.arena = &bench->arena}, page = {.arena = &bench->arena};
    difference_terminal(&terminal, &d);
    difference_markdown(&page, &d, &none);
    const char *never[] = {"\xe2\x80\xae", "\xe2\x80\x8b", "\xe2\x81\xa6"};
    for (size_t i = 0; i < sizeof never / sizeof *never; i++) {
        assert_null(strstr(terminal.data, never[i]));
        assert_null(strstr(page.data, never[i]));
    }
    assert_null(strstr(page.data, "<b>"));
    assert_null(strstr(page.data, "![x]"));
    assert_null(strstr(page.data, "<script>"));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(a_heavier_load_lowers_the_reserve_by_its_own_mass_less_the_filler),
        BENCH_TEST(what_stays_within_its_tolerance_is_not_told),
        BENCH_TEST(what_differs_from_one_side_differs_from_the_other),
        BENCH_TEST(what_differs_by_its_tolerance_and_no_more_is_not_told),
        BENCH_TEST(the_metal_of_a_load_is_told_once),
        BENCH_TEST(materials_are_told_as_they_are_bought),
        BENCH_TEST(a_material_that_comes_or_goes_has_one_side),
        BENCH_TEST(the_same_recipe_differs_in_nothing),
        BENCH_TEST(costs_in_two_currencies_are_not_compared),
        BENCH_TEST(changes_alone_are_weighed_in_the_old_recipe),
        BENCH_TEST(with_its_old_load_a_solved_plug_shows_what_a_change_does),
        BENCH_TEST(a_bore_that_was_put_in_has_no_old_load),
        BENCH_TEST(what_makes_no_plug_alone_is_told_with_its_section),
        BENCH_TEST(operations_come_go_move_and_take_longer),
        BENCH_TEST(a_colour_put_in_is_one_new_operation),
        BENCH_TEST(opening_periods_with_work_are_sittings),
        BENCH_TEST(without_opening_hours_days_are_counted),
        BENCH_TEST(cautions_come_and_go),
        BENCH_TEST(one_sentence_says_it),
        BENCH_TEST(a_plug_that_sinks_now_says_so),
        BENCH_TEST(how_much_deeper_is_told_first_and_with_its_doubt),
        BENCH_TEST(where_not_even_the_direction_is_sure_it_is_unclear),
        BENCH_TEST(each_change_alone_has_its_depth),
        BENCH_TEST(no_text_of_a_recipe_reaches_terminal_or_page_unguarded),
    };
    return cmocka_run_group_tests_name("effect", tests, NULL, NULL);
}
