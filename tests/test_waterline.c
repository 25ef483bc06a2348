/* Where the water meets a plug: against a walk along the body in small steps, and read back. */
#include "recipe_text.h"

static const struct results *computed(struct bench *b, struct recipe_parts parts) {
    struct results *r = NEW(&b->arena, struct results, 1);
    *r = results_afloat(&b->arena, bench_good(b, parts));
    return r;
}

static const char floating[] =
    "ballast: {aim: {reserve: 14 %, attitude: 3 deg}, bores: [{at: 45 mm, drill: 10 mm, load: "
    "solve}, {at: 85 mm, drill: 8 mm, load: solve}]}\n";

/* Whether the water of this level covers the place of the side view: over the back is covered by
 * water, under the belly is water; between them is the plug. */
static int side_of(const struct plug *plug, double finish, struct water_level level, double x) {
    double z = level.nose + (level.tail - level.nose) * x / plug->outline.length;
    if (z > plug_top(plug, x) + finish) return 1;
    return z < plug_bottom(plug, x) - finish ? -1 : 0;
}

/* Foremost and aftmost x at which the line lies within the plug, by brute force. */
static bool brute(const struct plug *plug, double finish, struct water_level level, double *fore,
                  double *aft) {
    enum { STEPS = 20000 };
    bool any = false;
    for (int i = 0; i <= STEPS; i++) {
        double x = plug->outline.length * i / STEPS;
        if (side_of(plug, finish, level, x)) continue;
        if (!any) *fore = x;
        *aft = x, any = true;
    }
    return any;
}

static void assert_mark(const struct plug *plug, double finish, struct water_level level,
                        const struct water_mark *mark, double x, bool nose) {
    double end = nose ? 0 : plug->outline.length, step = plug->outline.length / 20000;
    if (x == end) {
        assert_int_equal(mark->on, nose ? MARK_NOSE : MARK_TAIL);
        assert_close(mark->at, nose ? level.nose : level.tail, 1e-12);
        return;
    }
    assert_near(mark->at, x, step);
    int covered = side_of(plug, finish, level, nose ? x - step : x + step);
    assert_int_equal(mark->on, covered > 0 ? MARK_BACK : MARK_BELLY);
}

/* Levels of all kinds over an oval plug and a step of stations, bare and with a finish. */
static void marks_are_where_a_walk_along_the_body_finds_them(void **state) {
    struct bench *b = *state;
    const struct results *r = computed(b, PARTS(SWIMMER, .ballast = floating));
    int faces = 0, backs = 0, bellies = 0, none = 0;
    for (int nose = -40; nose <= 40; nose += 4)
        for (int tail = -41; tail <= 41; tail += 4)
            for (int fat = 0; fat < 2; fat++) {
                struct water_level level = {nose * 1e-3 * 0.73, tail * 1e-3 * 0.61};
                double finish = fat * 5e-4, fore = 0, aft = 0;
                struct water_marks marks = waterline_marks(&r->plug, finish, level);
                if (!brute(&r->plug, finish, level, &fore, &aft)) {
                    assert_int_equal(marks.fore.on, MARK_NONE);
                    assert_int_equal(marks.aft.on, MARK_NONE);
                    none++;
                    continue;
                }
                assert_mark(&r->plug, finish, level, &marks.fore, fore, true);
                assert_mark(&r->plug, finish, level, &marks.aft, aft, false);
                faces += marks.fore.on == MARK_NOSE;
                backs += marks.fore.on == MARK_BACK;
                bellies += marks.fore.on == MARK_BELLY;
            }
    assert_true(faces > 5 && backs > 5 && bellies > 5 && none > 5);
}

/* By hand: a box 20 mm high and 100 mm long, the water falling from 15 mm over the datum at the
 * nose to 15 mm under it: out of the back at 1/6 of the length, through the belly at 5/6, the
 * middle. */
static void a_box_by_hand(void **state) {
    const struct results *r = computed(*state, PARTS(.head = NULL));
    struct water_marks marks = waterline_marks(&r->plug, 0, (struct water_level){0.015, -0.015});
    assert_int_equal(marks.fore.on, MARK_BACK);
    assert_near(marks.fore.at, 0.1 / 6, 1e-9);
    assert_int_equal(marks.aft.on, MARK_BELLY);
    assert_near(marks.aft.at, 0.5 / 6, 1e-9);
    assert_true(marks.flank_given);
    assert_near(marks.flank, 0.05, 1e-9);
    marks = waterline_marks(&r->plug, 0, (struct water_level){0.002, 0.001});
    assert_int_equal(marks.fore.on, MARK_NOSE);
    assert_near(marks.fore.at, 0.002, 1e-12);
    assert_int_equal(marks.aft.on, MARK_TAIL);
    assert_near(marks.aft.at, 0.001, 1e-12);
    assert_false(marks.flank_given);
}

static const char *mark_written(struct bench *b, const struct water_mark *mark) {
    static const char *const keys[MARK_COUNT] = {
        [MARK_NOSE] = "nose", [MARK_BACK] = "back", [MARK_BELLY] = "belly", [MARK_TAIL] = "tail"};
    return arena_printf(&b->arena, "%s: %.9f mm", keys[mark->on], mark->at * 1e3);
}

/* What the card says, printed back as read: no excess, and the heights that were predicted. */
static void the_predicted_marks_read_back_change_nothing(void **state) {
    static const char *const aims[] = {
        "reserve: 14 %, attitude: 3 deg", "reserve: 14 %, attitude: -6 deg",
        "reserve: 18 %, attitude: -2 deg", "reserve: 4 %, attitude: 1 deg"};
    struct bench *b = *state;
    for (size_t i = 0; i < sizeof aims / sizeof *aims; i++) {
        const char *ballast = arena_printf(&b->arena,
                                           "ballast: {aim: {%s}, bores: [{at: 45 mm, drill: 10 mm, "
                                           "load: solve}, {at: 85 mm, drill: 8 mm, load: "
                                           "solve}]}\n",
                                           aims[i]);
        const struct results *r = computed(b, PARTS(SWIMMER, .ballast = ballast));
        const struct water_marks *marks = &r->test.marks;
        assert_true(r->test.waterline_given && marks->fore.on && marks->aft.on);
        const char *fore = mark_written(b, &marks->fore), *aft = mark_written(b, &marks->aft);
        const char *read =
            marks->fore.on == marks->aft.on
                ? arena_printf(&b->arena, "%s: [%.9f mm, %.9f mm]", name_marks[marks->fore.on],
                               marks->fore.at * 1e3, marks->aft.at * 1e3)
                : arena_printf(&b->arena, "%s, %s", fore, aft);
        struct compilation c = bench_compile(
            b, PARTS(SWIMMER, .ballast = ballast,
                     .measured = arena_printf(&b->arena, "measured: {float: {%s}}\n", read)));
        if (c.diags.errors) print_error("%s", bench_said(b));
        assert_int_equal(c.diags.errors, 0);
        struct water_level level = waterline_read(&c.results.plug, c.recipe->measured->waterline);
        assert_near(level.nose, r->test.waterline_nose, 1e-8);
        assert_near(level.tail, r->test.waterline_tail, 1e-8);
        assert_near(c.results.correction.excess, 0, 5 * 1e-6);
    }
}

/* The same box and the same line, read at any two of its four marks. */
static void any_two_marks_of_a_line_give_the_line(void **state) {
    static double twelfth[] = {0.1 / 6}, sixths[] = {0.5 / 6};
    const struct opt nose = {.given = true, .value = 0.015},
                     tail = {.given = true, .value = -0.015};
    const struct waterline reads[] = {
        {.nose = nose, .tail = tail},
        {.nose = nose, .back = twelfth, .back_count = 1},
        {.nose = nose, .belly = sixths, .belly_count = 1},
        {.back = twelfth, .back_count = 1, .belly = sixths, .belly_count = 1},
        {.back = twelfth, .back_count = 1, .tail = tail},
        {.belly = sixths, .belly_count = 1, .tail = tail},
    };
    const struct results *r = computed(*state, PARTS(.head = NULL));
    for (size_t i = 0; i < sizeof reads / sizeof *reads; i++) {
        struct water_level level = waterline_read(&r->plug, &reads[i]);
        assert_near(level.nose, 0.015, 1e-12);
        assert_near(level.tail, -0.015, 1e-12);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(marks_are_where_a_walk_along_the_body_finds_them),
        BENCH_TEST(a_box_by_hand),
        BENCH_TEST(the_predicted_marks_read_back_change_nothing),
        BENCH_TEST(any_two_marks_of_a_line_give_the_line),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
