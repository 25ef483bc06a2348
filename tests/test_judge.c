/* What the results show to be wrong with a recipe, and the place that is blamed for it. */
#include "recipe_text.h"

/* Among all that was said, this stands at the first place of `words`, once. */
static void expect_said(struct bench *b, const char *words, const char *what) {
    const char *due = arena_printf(&b->arena, "%s %s\n", bench_place(b, words), what);
    const char *said = bench_said(b), *at = strstr(said, due);
    if (!at) print_error("not said: %s%s", due, said);
    assert_non_null(at);
    assert_null(strstr(at + strlen(due), what));
}

struct judgement {
    struct recipe_parts parts;
    const char *at, *said;
};

static void expect_each(struct bench *b, const struct judgement *cases, size_t count) {
    for (size_t i = 0; i < count; i++) {
        bench_compile(b, cases[i].parts);
        expect_said(b, cases[i].at, cases[i].said);
    }
}

#define EXPECT_EACH(cases) expect_each(*state, (cases), sizeof(cases) / sizeof *(cases))

static bool said_rule(struct bench *b, struct recipe_parts parts, const char *rule) {
    bench_compile(b, parts);
    return bench_count(b, rule) > 0;
}

#define TWO_STATIONS(nose, tail)                                       \
    "body:\n  length: 100 mm\n  section: {shape: oval}\n  stations:\n" \
    "    - {at: 0 mm, " nose "}\n    - {at: 100 mm, " tail "}\n"
#define HARDWARE(tie, hangers) \
    "hardware:\n  wire: {diameter: 1 mm}\n  line tie: " tie "\n  hangers: [" hangers "]\n"

/* --- outline --------------------------------------------------------------------------------- */

/* Both fall and rise steeply between stations whose sums are all above zero. */
static void curves_that_cross_between_stations_are_blamed_on_the_row_before(void **state) {
    static const struct judgement cases[] = {
        {{.body = "body:\n  length: 100 mm\n  section: {shape: oval}\n  stations:\n"
                  "    - {at: 0 mm, back: 10 mm, belly: -9 mm, width: 10 mm}\n"
                  "    - {at: 40 mm, back: 10.0 mm, belly: -9 mm, width: 10 mm}\n"
                  "    - {at: 50 mm, back: -20 mm, belly: 21 mm, width: 10 mm}\n"
                  "    - {at: 60 mm, back: -21 mm, belly: 40 mm, width: 10 mm}\n"
                  "    - {at: 100 mm, back: 5 mm, belly: 5 mm, width: 10 mm}\n",
          .hardware = HARDWARE("{place: back, at: 80 mm}", "")},
         "10.0 mm",
         "error outline: back and belly cross between this station and the next"}};
    EXPECT_EACH(cases);
}

/* --- wires ----------------------------------------------------------------------------------- */

static void a_mouth_outside_the_wood_is_an_error(void **state) {
    static const struct judgement cases[] = {
        {{.body = TWO_STATIONS("back: -1 mm, belly: 9 mm, width: 10 mm",
                               "back: 9 mm, belly: 9 mm, width: 10 mm")},
         "nose}",
         "error mouth: the outline crosses the datum: the line tie's bore would begin outside the "
         "wood"},
        {{.body = TWO_STATIONS("back: 9 mm, belly: 9 mm, width: 10 mm",
                               "back: 9 mm, belly: -1 mm, width: 10 mm"),
          .hardware = HARDWARE("{place: nose}", "{place: belly, at: 50 mm}, {place: tail}")},
         "tail}",
         "error mouth: the outline crosses the datum: hanger 2's bore would begin outside the "
         "wood"},
    };
    EXPECT_EACH(cases);
}

static void a_pilot_that_leaves_the_wood_is_an_error(void **state) {
    static const struct judgement cases[] = {
        {{.hardware = HARDWARE("{place: nose}", "{place: belly, at: 50 mm, depth: 21 mm}")},
         "21 mm",
         "error pilot: the bore for hanger 1 leaves the wood 20 mm deep"},
        {{.hardware = HARDWARE("{place: back, at: 50 mm, depth: 20.5 mm}", "")},
         "20.5 mm",
         "error pilot: the bore for the line tie leaves the wood 20.2 mm deep"},
        {{.hardware = HARDWARE("{place: nose, depth: 101 mm}", "")},
         "101 mm",
         "error pilot: the bore for the line tie leaves the wood 101 mm deep"},
        /* the belly rises to 1 mm below the datum line, half the drill, 33.3 mm aft; seen a 64th of
           60 mm later */
        {{.body = TWO_STATIONS("back: 20 mm, belly: 2 mm, width: 10 mm",
                               "back: 20 mm, belly: -1 mm, width: 10 mm"),
          .hardware = HARDWARE("{place: nose, depth: 60 mm}", "")},
         "60 mm",
         "error pilot: the bore for the line tie leaves the wood 34.7 mm deep"},
    };
    EXPECT_EACH(cases);
}

/* --- slot, eyes ------------------------------------------------------------------------------ */

static void a_slot_that_breaks_out_is_an_error(void **state) {
    static const struct judgement cases[] = {
        {{.lip = "lip: {thickness: 2 mm, length: 50 mm, width: 15 mm, shape: square, at: 50 mm, "
                 "angle: 90 deg, slot: 21 mm}\n"},
         "21 mm",
         "error wall: the lip's slot meets the surface"},
        {{.lip = "lip: {thickness: 2 mm, length: 50 mm, width: 15 mm, shape: square, at: 50 mm, "
                 "angle: 90 deg, slot: 18.5 mm}\n"},
         "18.5 mm",
         "warning wall: only 1.5 mm between the lip's slot and the surface"},
    };
    EXPECT_EACH(cases);
    assert_false(
        said_rule(*state,
                  PARTS(.lip = "lip: {thickness: 2 mm, length: 50 mm, width: 15 mm, shape: "
                               "square, at: 50 mm, angle: 90 deg, slot: 18 mm}\n"),
                  "wall"));
}

static void eyes_outside_the_body_are_an_error(void **state) {
    static const struct judgement cases[] = {
        {{.eyes = "eyes: {size: 6 mm, at: 15 mm, up: 11 mm}\n"},
         "11 mm",
         "error eyes: the eye's centre lies outside the body"},
        {{.eyes = "eyes: {size: 6 mm, at: 15 mm, up: -11 mm}\n"},
         "-11 mm",
         "error eyes: the eye's centre lies outside the body"},
    };
    EXPECT_EACH(cases);
}

/* --- bores ----------------------------------------------------------------------------------- */

/* 6 g of lead in 8 mm: 10.53 mm. */
static void a_load_that_does_not_fit_is_an_error_with_both_heights(void **state) {
    static const struct judgement cases[] = {
        {{.ballast =
              "ballast: {bores: [{at: 50 mm, drill: 8 mm, depth: 9 mm, load: [{mass: 6 g}]}]}\n"},
         "[{mass",
         "error load: the load stands 10.53 mm high in a bore that is 9 mm deep"},
        {{.ballast =
              "ballast: {material: steel, bores: [{at: 50 mm, drill: 8 mm, depth: 9 mm, load: "
              "[{ball: 5 mm, count: 2}]}]}\n"},
         "[{ball",
         "error load: the load stands 10 mm high in a bore that is 9 mm deep"},
    };
    EXPECT_EACH(cases);
}

#define BOX_HIGH(height)                                                 \
    "body:\n  length: 100 mm\n  section: {shape: square}\n  stations:\n" \
    "    - {at: 0 %, back: 10 mm, belly: " height ", width: 20 mm}\n"    \
    "    - {at: 100 %, back: 10 mm, belly: " height ", width: 20 mm}\n"
#define ONE_BORE(depth) "ballast: {bores: [{at: 50 mm, drill: 8 mm, depth: " depth ", load: []}]}\n"

/* The box is 20 mm wide and high: 3 mm of wood above leave 17 mm; with 2 mm of filler over it the
 * load wants 12.53 mm.  10.53 mm of 8 mm are 9.33 mm of 8.5 mm and 8.32 mm of 9 mm, in steps of a
 * set of drills. */
static void a_load_that_does_not_fit_is_told_what_it_needs_and_what_there_is(void **state) {
    struct bench *b = *state;
    bench_compile(b, PARTS(.ballast = "ballast: {bores: [{at: 50 mm, drill: 8 mm, depth: 9 mm, "
                                      "load: [{mass: 6 g}]}]}\n"));
    int load = 0;
    while (load < b->diags.count && strcmp(b->diags.items[load].rule, "load") != 0) load++;
    assert_int_equal(b->diags.errors, 1);
    assert_string_equal(b->diags.items[load].hint,
                        "the load needs 10.53 mm, and the wood has room for 17 mm: write depth: 13 "
                        "mm; or drill: 9 mm");
}

/* Nothing else is said of such a bore; 14 mm leave 3 mm on both sides. */
static void a_drill_as_wide_as_the_body_is_an_error(void **state) {
    struct bench *b = *state;
    bench_compile(b, PARTS(.ballast = "ballast: {bores: [{at: 50 mm, drill: 30 mm, load: [{mass: 6 "
                                      "g}]}]}\n"));
    bench_expect(b, "30 mm", "error drill: a drill of 30 mm in a body that is 20 mm wide there");
    assert_string_equal(b->diags.items[0].hint, "write drill: 14 mm");
    bench_compile(b, PARTS(.ballast = "ballast: {aim: {reserve: 2 %}, bores: [{at: 50 mm, drill: "
                                      "20 mm, load: solve}]}\n"));
    bench_expect(b, "20 mm, load",
                 "error drill: a drill of 20 mm in a body that is 20 mm wide there");
}

/* Common practice, no source: 3 mm of wood at least, 5 mm for peace of mind; 4 mm have to do in a
 * body that is less than 20 mm high. */
static void a_thin_wall_is_doubtful_and_a_thinner_one_an_error(void **state) {
    static const struct judgement cases[] = {
        {{.ballast = "ballast: {bores: [{at: 50 mm, drill: 8 mm, depth: 17.2 mm, load: []}]}\n"},
         "50 mm",
         "error wall: only 2.8 mm between bore 1 and the surface above"},
        {{.ballast = "ballast: {bores: [{at: 50 mm, drill: 8 mm, depth: 16.8 mm, load: []}]}\n"},
         "50 mm",
         "warning wall: only 3.2 mm between bore 1 and the surface above"},
        {{.ballast = "ballast: {bores: [{at: 50 mm, drill: 8 mm, depth: 15.2 mm, load: []}]}\n"},
         "50 mm",
         "warning wall: only 4.8 mm between bore 1 and the surface above"},
        {{.ballast = "ballast: {bores: [{at: 50 mm, drill: 8 mm, depth: 21 mm, load: []}]}\n"},
         "50 mm",
         "error wall: bore 1 meets the surface above"},
        {{.ballast = ONE_BORE("17 mm")},
         "50 mm",
         "warning wall: only 3 mm between bore 1 and the surface above"},
        {{.body = BOX_HIGH("9.9 mm"), .ballast = ONE_BORE("16 mm")},
         "50 mm",
         "warning wall: only 3.9 mm between bore 1 and the surface above"},
    };
    EXPECT_EACH(cases);
    assert_false(said_rule(*state, PARTS(.ballast = ONE_BORE("15 mm")), "wall"));
    assert_false(said_rule(
        *state, PARTS(.body = BOX_HIGH("9.9 mm"), .ballast = ONE_BORE("15.8 mm")), "wall"));
}

/* A groove half a millimetre wide that leaves 12 of 20 mm, 1 mm off the bore's side: level with the
 * bore's end, three quarters down, its flank 10 - 8 (3 t^2 - 2 t^3) is at t = 0.6736 of 0.25 mm. */
static void a_groove_beside_a_bore_thins_its_wall(void **state) {
    static const struct judgement cases[] = {
        {{.body = "body:\n  length: 100 mm\n  section: {shape: square}\n  stations:\n"
                  "    - {at: 0 mm, back: 10 mm, belly: 10 mm, width: 30 mm}\n"
                  "    - {at: 53.75 mm, back: 10 mm, belly: 10 mm, width: 30 mm}\n"
                  "    - {at: 54 mm, back: 2 mm, belly: 10 mm, width: 30 mm}\n"
                  "    - {at: 54.25 mm, back: 10 mm, belly: 10 mm, width: 30 mm}\n"
                  "    - {at: 100 mm, back: 10 mm, belly: 10 mm, width: 30 mm}\n",
          .ballast = "ballast: {bores: [{at: 50.0 mm, drill: 6 mm, depth: 14 mm, load: []}]}\n"},
         "50.0 mm",
         "error wall: only 0.918 mm between bore 1 and the surface above"}};
    EXPECT_EACH(cases);
}

static void a_bore_that_meets_something_is_an_error_and_a_near_miss_doubtful(void **state) {
#define BORES(second) \
    "ballast: {bores: [{at: 5 cm, drill: 8 mm, depth: 12 mm, load: []}" second "]}\n"
    static const struct judgement cases[] = {
        {{.ballast = BORES(", {at: 57 mm, drill: 6 mm, depth: 12 mm, load: []}")},
         "5 cm",
         "error collision: bore 1 meets bore 2"},
        {{.ballast = BORES(", {at: 58.5 mm, drill: 6 mm, depth: 12 mm, load: []}")},
         "5 cm",
         "warning collision: only 1.5 mm between bore 1 and bore 2"},
        {{.ballast = BORES(""), .hardware = HARDWARE("{place: nose, depth: 47 mm}", "")},
         "5 cm",
         "error collision: bore 1 meets the wire of the line tie"},
        {{.ballast = BORES(""), .hardware = HARDWARE("{place: nose, depth: 45 mm}", "")},
         "5 cm",
         "warning collision: only 1 mm between bore 1 and the wire of the line tie"},
        {{.ballast = BORES(""), .hardware = HARDWARE("{place: nose}", "{place: belly, at: 54 mm}")},
         "5 cm",
         "error collision: bore 1 meets the wire of hanger 1"},
        {{.ballast = BORES(""),
          .lip = "lip: {thickness: 2 mm, length: 50 mm, width: 15 mm, shape: square, at: 35 mm, "
                 "angle: 10 deg, slot: 20 mm}\n"},
         "5 cm",
         "error collision: bore 1 meets the lip's slot"},
        {{.ballast = BORES(""), .eyes = "eyes: {size: 6 mm, depth: 7 mm, at: 50 mm, up: -2 mm}\n"},
         "5 cm",
         "error collision: bore 1 meets an eye socket"},
        {{.ballast = BORES(""), .eyes = "eyes: {size: 6 mm, depth: 5 mm, at: 50 mm, up: -2 mm}\n"},
         "5 cm",
         "warning collision: only 1 mm between bore 1 and an eye socket"},
    };
    EXPECT_EACH(cases);
    assert_false(said_rule(*state,
                           PARTS(.ballast = BORES(", {at: 59.1 mm, drill: 6 mm, depth: 12 mm, "
                                                  "load: []}")),
                           "collision"));
#undef BORES
}

/* Two millimetres are due and one is there: a bore that is shallower by the other one is tried
 * first. */
static void what_a_near_miss_lacks_is_what_is_offered_first(void **state) {
    struct bench *b = *state;
    bench_compile(b, PARTS(.ballast = "ballast: {bores: [{at: 5 cm, drill: 8 mm, depth: 12 mm, "
                                      "load: []}]}\n",
                           .hardware = HARDWARE("{place: nose, depth: 45 mm}", "")));
    const struct diag *told = NULL;
    for (int i = 0; i < b->diags.count; i++)
        if (strcmp(b->diags.items[i].rule, "collision") == 0) told = &b->diags.items[i];
    assert_non_null(told);
    assert_true(told->offer_count > 0);
    assert_string_equal(told->offers[0].words, "depth: 11 mm");
}

/* Everything against everything: the slot, wires, sockets; each told once, with both names. */
static void openings_without_a_bore_meet_too(void **state) {
#define SLOT(at, deep)                                                                  \
    .lip = "lip: {thickness: 2 mm, length: 50 mm, width: 15 mm, shape: square, at: " at \
           ", angle: 90 deg, slot: " deep "}\n"
    static const struct judgement cases[] = {
        {{SLOT("15 mm", "12 mm"), .hardware = HARDWARE("{place: nose, depth: 17 mm}", "")},
         "17 mm",
         "error collision: the wire of the line tie meets the lip's slot"},
        {{SLOT("15 mm", "12 mm"), .hardware = HARDWARE("{place: nose, depth: 13 mm}", "")},
         "13 mm",
         "warning collision: only 1 mm between the wire of the line tie and the lip's slot"},
        {{SLOT("8.5 mm", "12 mm"), .hardware = HARDWARE("{place: nose}", "")},
         "nose",
         "error collision: the wire of the line tie meets the lip's slot"},
        {{.hardware =
              HARDWARE("{place: nose, depth: 40 mm}", "{place: belly, at: 30 mm, depth: 15 mm}")},
         "15 mm",
         "error collision: the wire of hanger 1 meets the wire of the line tie"},
        {{.hardware = HARDWARE("{place: back, at: 60 mm, depth: 9 mm}",
                               "{place: belly, at: 60.0 mm, depth: 10 mm}")},
         "10 mm}",
         "warning collision: only 1 mm between the wire of hanger 1 and the wire of the line tie"},
        {{SLOT("15 mm", "12 mm"), .eyes = "eyes: {size: 6 mm, at: 14.0 mm, up: 2 mm}\n",
          .hardware = HARDWARE("{place: nose, depth: 8 mm}", "")},
         "14.0 mm",
         "error collision: an eye socket meets the lip's slot"},
        {{.eyes = "eyes: {size: 6 mm, depth: 9.5 mm, at: 30 mm, up: 5 mm}\n"},
         "30 mm",
         "warning collision: only 1 mm between an eye socket and the other"},
        {{.eyes = "eyes: {size: 6 mm, depth: 10 mm, at: 30 mm, up: 5 mm}\n"},
         "30 mm",
         "error collision: an eye socket meets the other"},
        {{.eyes = "eyes: {size: 6 mm, at: 30 mm, up: 8 mm}\n"},
         "30 mm",
         "error wall: an eye socket meets the surface"},
        {{.hardware = HARDWARE("{place: nose}", "{place: belly, at: 50 mm, depth: 18.5 mm}")},
         "18.5 mm",
         "warning wall: only 1.5 mm between the wire of hanger 1 and the surface"},
    };
    EXPECT_EACH(cases);
#undef SLOT
}

/* Each hook swings 3 + 20 mm. */
static void hooks_that_reach_something_are_a_warning(void **state) {
#define HUNG(at) "{place: belly, at: " at ", hook: {mass: 1 g, length: 20 mm}}"
    static const struct judgement cases[] = {
        {{.hardware = HARDWARE("{place: nose}", HUNG("40 mm") ", " HUNG("85.9 mm"))},
         "hook: {mass: 1 g, length: 20 mm}}]",
         "warning hook: hooks 1 and 2 reach each other: 46 mm of eyes, rings and hooks over 45.9 "
         "mm "
         "between their hangers"},
        {{.hardware = HARDWARE("{place: nose}", HUNG("20 mm"))},
         "hook:",
         "warning hook: hook 1 reaches the line: it swings 23 mm, and that is 22.4 mm away"},
        {{.lip = "lip: {thickness: 2 mm, length: 20 mm, width: 15 mm, shape: square, at: 20 mm, "
                 "angle: 90 deg, slot: 5 mm}\n",
          .hardware = HARDWARE("{place: nose, depth: 8 mm}", HUNG("42 mm"))},
         "hook:",
         "warning hook: hook 1 reaches the lip: it swings 23 mm, and that is 22 mm away"},
    };
    EXPECT_EACH(cases);
    assert_false(said_rule(
        *state, PARTS(.hardware = HARDWARE("{place: nose}", HUNG("40 mm") ", " HUNG("86 mm"))),
        "hook"));
#undef HUNG
}

static void exactly_what_is_due_is_room_enough(void **state) {
    static const char lip[] = "lip: {thickness: 2 mm, length: 50 mm, width: 15 mm, shape: square, "
                              "at: 15 mm, angle: 90 deg, slot: 12 mm}\n";
    struct recipe_parts parts = {.lip = lip,
                                 .hardware = HARDWARE("{place: nose, depth: 12 mm}", "")};
    assert_false(said_rule(*state, parts, "collision"));
    parts.hardware = HARDWARE("{place: nose, depth: 12.01 mm}", "");
    assert_true(said_rule(*state, parts, "collision"));
}

/* --- the aim --------------------------------------------------------------------------------- */

static void an_aim_with_nothing_to_solve_is_a_warning_with_both_values(void **state) {
    struct bench *b = *state;
    bench_compile(b,
                  PARTS(SWIMMER, .ballast = "ballast:\n  aim: {reserve: 12 %, attitude: 5 deg}\n"));
    assert_int_equal(b->diags.errors, 0);
    assert_int_equal(bench_count(b, "aim"), 1);
    for (int i = 0; i < b->diags.count; i++)
        if (strcmp(b->diags.items[i].rule, "aim") == 0)
            assert_non_null(strstr(b->diags.items[i].message,
                                   "nothing is left to solve: aimed at reserve 12 % and attitude 5 "
                                   "deg, the plug has reserve "));
}

static void one_bore_for_both_aims_is_a_warning_with_the_attitude(void **state) {
    struct bench *b = *state;
    bench_compile(b,
                  PARTS(SWIMMER, .ballast = "ballast:\n  aim: {reserve: 12 %, attitude: 5 deg}\n  "
                                            "bores: [{at: 45 mm, drill: 10 mm, load: solve}]\n"));
    assert_int_equal(b->diags.errors, 0);
    assert_int_equal(bench_count(b, "aim"), 1);
    assert_non_null(strstr(bench_said(b),
                           "one bore meets the reserve alone: aimed at reserve 12 % and "
                           "attitude 5 deg, the plug has reserve 12 % and attitude "));
}

static void an_aim_that_is_met_is_not_worth_a_word(void **state) {
    struct bench *b = *state;
    bench_compile(b,
                  PARTS(SWIMMER, .ballast = "ballast:\n  aim: {reserve: 11 %, attitude: 4 deg}\n"
                                            "  bores: [{at: 45 mm, drill: 10 mm, load: solve},\n"
                                            "          {at: 85 mm, drill: 8 mm, load: solve}]\n"));
    assert_int_equal(bench_count(b, "aim"), 0);
    assert_int_equal(b->diags.errors, 0);
}

/* --- afloat ---------------------------------------------------------------------------------- */

static void a_steep_rest_is_a_warning_at_the_body(void **state) {
    struct bench *b = *state;
    bench_compile(b, PARTS(SWIMMER, .ballast = "ballast: {bores: [{at: 110 mm, drill: 9 mm, load: "
                                               "[{mass: 9 g}]}]}\n"));
    assert_int_equal(bench_count(b, "attitude"), 1);
    assert_non_null(strstr(bench_said(b), arena_printf(&b->arena,
                                                       "%s warning attitude: the finished "
                                                       "plug rests ",
                                                       bench_place(b, "body:"))));
    assert_non_null(strstr(bench_said(b), " deg tail down"));
}

/* A hook on the back near the tail of a bar of balsa: it goes on past the upright. */
static void a_plug_without_a_rest_is_a_warning_at_the_body(void **state) {
    struct bench *b = *state;
    bench_compile(b, PARTS(.wood = "wood: {species: balsa}\n",
                           .hardware = HARDWARE("{place: nose}",
                                                "{place: back, at: 95 mm, hook: {mass: 20 g}}")));
    expect_said(b, "body:",
                "warning attitude: the finished plug finds no rest between tail down and "
                "nose down");
}

/* A square bar of half the water's density with nothing below it does not float on a face: it
 * turns to an edge (Floating of a long square bar, Am. J. Phys. 31, 565, 1963). */
static void a_plug_that_does_not_stay_upright_is_a_warning_at_the_body(void **state) {
    struct bench *b = *state;
    bench_compile(b, PARTS(.wood = "wood: {species: basswood, density: 500 kg/m3}\n"));
    assert_int_equal(bench_count(b, "stability"), 1);
    assert_non_null(strstr(bench_said(b), arena_printf(&b->arena,
                                                       "%s warning stability: the finished "
                                                       "plug does not stay upright",
                                                       bench_place(b, "body:"))));
}

/* --- wood ------------------------------------------------------------------------------------ */

/* The box has 40 cm3. */
static void a_blank_of_no_wood_there_is_is_an_error(void **state) {
    static const struct judgement cases[] = {
        {{.wood = "wood: {species: basswood}\n", .measured = "measured: {blank: 1.9 g}\n"},
         "1.9 g",
         "error measured: a body of that mass would be wood of 47.6 kg/m3"},
        {{.wood = "wood: {species: basswood}\n", .measured = "measured: {blank: 61 g}\n"},
         "61 g",
         "error measured: a body of that mass would be wood of 1530 kg/m3"},
    };
    EXPECT_EACH(cases);
    assert_false(said_rule(*state, PARTS(.measured = "measured: {blank: 59 g}\n"), "measured"));
}

static void more_bore_than_wood_is_an_error(void **state) {
    struct bench *b = *state;
    bench_compile(b,
                  PARTS(.body = TWO_STATIONS("back: 5 mm, belly: 5 mm, width: 6 mm",
                                             "back: 5 mm, belly: 5 mm, width: 6 mm"),
                        .ballast = "ballast: {bores: [{at: 30 mm, drill: 30 mm, depth: 9 mm, load: "
                                   "[]}]}\n"));
    expect_said(b, "body:", "error wood: bores, slot and sockets remove more wood than there is");
}

/* --- strength -------------------------------------------------------------------------------- */

/* Two strands of 1 mm stainless wire (0.0394 in: 275 ksi at least, ASTM A313) break at
 * 2 pi/4 1 mm2 1896 MPa = 2978 N. */
static void a_line_stronger_than_half_the_wire_is_a_warning(void **state) {
    static const struct judgement cases[] = {
        {{.hardware =
              "hardware: {wire: {diameter: 1 mm}, line tie: {place: nose}, line: 1500 N}\n"},
         "1500 N",
         "warning strength: line tie: both strands of the wire break at 2.0 times the line's "
         "breaking load"},
        {{.hardware = "hardware: {wire: {diameter: 1 mm}, line tie: {place: nose}, line: 2 kN}\n"},
         "2 kN",
         "warning strength: line tie: both strands of the wire break at 1.5 times the line's "
         "breaking load"},
    };
    EXPECT_EACH(cases);
    assert_false(said_rule(*state,
                           PARTS(.hardware = "hardware: {wire: {diameter: 1 mm}, line tie: {place: "
                                             "nose}, line: 1480 N}\n"),
                           "strength"));
}

/* --- hours ----------------------------------------------------------------------------------- */

static void work_that_fits_no_opening_is_an_error_that_names_the_longest(void **state) {
    struct bench *b = *state;
    bench_compile(b,
                  PARTS(.head = "recipe: 1\nname: Box\nmake: 6\n", .finish = swimmer_finish,
                        .shop = "shop:\n  open: {mon: \"18:00-18:15\", sat: \"09:00-09:10\"}\n"));
    assert_int_equal(bench_count(b, "open"), 1);
    assert_int_equal(b->diags.errors, 1);
    const char *said = bench_said(b);
    assert_non_null(
        strstr(said, arena_printf(&b->arena, "%s error open: '", bench_place(b, "{mon: \"18:00"))));
    assert_non_null(strstr(said, "fits into no opening; the longest is 15 min"));
}

/* 0.1 g is a step of a kitchen scale; 0.4 g of lead in a bore of 8 mm is a slug of 0.70 mm. */
static void a_load_that_is_hardly_one_is_doubtful(void **state) {
    static const struct judgement cases[] = {
        {{.ballast = "ballast: {bores: [{at: 50 mm, drill: 8 mm, depth: 9 mm, load: [{mass: 0.09 "
                     "g}]}]}\n"},
         "[{mass",
         "warning load: the load of 0.09 g is less than a scale tells"},
        {{.ballast = "ballast: {bores: [{at: 50 mm, drill: 8 mm, depth: 9 mm, load: [{mass: 0.4 "
                     "g}]}]}\n"},
         "[{mass",
         "warning load: the load stands only 0.7 mm high"},
    };
    EXPECT_EACH(cases);
    static const char *const enough[] = {"{mass: 0.6 g}", "{ball: 3 mm}", ""};
    for (size_t i = 0; i < sizeof enough / sizeof *enough; i++) {
        struct bench *b = *state;
        const char *ballast = arena_printf(
            &b->arena, "ballast: {bores: [{at: 50 mm, drill: %s, depth: 9 mm, load: [%s]}]}\n",
            i == 1 ? "3 mm" : "8 mm", enough[i]);
        assert_false(said_rule(b, PARTS(.ballast = ballast), "load"));
    }
}

/* A bore that the aim leaves all but empty: with nothing in it the box keeps all of its reserve. */
static void a_solved_load_that_no_scale_tells_is_doubtful(void **state) {
    struct bench *b = *state;
    struct compilation empty = bench_compile(
        b,
        PARTS(.ballast = "ballast: {bores: [{at: 50 mm, drill: 8 mm, depth: 9 mm, load: []}]}\n"));
    double reserve = empty.results.finished.rest.reserve;
    bench_compile(b, PARTS(.ballast = arena_printf(
                               &b->arena,
                               "ballast: {aim: {reserve: %.6f %%}, bores: [{at: 50 mm, drill: 8 "
                               "mm, depth: 9 mm, load: solve}]}\n",
                               100 * reserve)));
    expect_said(b, "solve}", "warning load: the load of 0 g is less than a scale tells");
}

/* A square box of height h and width b that is wood of s parts of the water's density floats with
 * its centre of gravity h (1 - s)/2 above that of its buoyancy and has b^2 / (12 s h) of
 * metacentric radius (any text of naval architecture). */
static void a_plug_that_hardly_stays_upright_is_doubtful(void **state) {
    struct bench *b = *state;
    static const struct {
        double width; /* mm */
        const char *said;
    } cases[] = {{23.6, "does not stay upright"}, {24.3, "hardly stays upright"}, {26, NULL}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        double s = 0.4, h = 0.020, w = cases[i].width * 1e-3;
        double gm = w * w / (12 * s * h) - h * (1 - s) / 2;
        const char *body =
            arena_printf(&b->arena,
                         "body:\n  length: 100 mm\n  section: {shape: square}\n  stations:\n"
                         "    - {at: 0 %%, back: 10 mm, belly: 10 mm, width: %g mm}\n"
                         "    - {at: 100 %%, back: 10 mm, belly: 10 mm, width: %g mm}\n",
                         cases[i].width, cases[i].width);
        struct compilation c = bench_compile(b, PARTS(.body = body));
        assert_near(c.results.finished.rest.gm, gm, 0.05e-3); /* the wire, and water of 998 kg/m3 */
        const char *said = bench_said(b);
        if (cases[i].said) assert_non_null(strstr(said, cases[i].said));
        if (!cases[i].said) assert_int_equal(bench_count(b, "stability"), 0);
    }
}

/* y = M GM tan(2 degrees) / m: heavy ballast in the middle of a narrow plug must stand true. */
static void ballast_that_no_bench_can_keep_to_the_middle_is_doubtful(void **state) {
    struct bench *b = *state;
    const char *ballast = "ballast: {bores: [{at: 50 mm, drill: 12 mm, depth: 9 mm, load: "
                          "[{mass: 11 g}]}]}\n";
    for (int i = 0; i < 2; i++) {
        const char *body =
            arena_printf(&b->arena,
                         "body:\n  length: 100 mm\n  section: {shape: square}\n  stations:\n"
                         "    - {at: 0 %%, back: 10 mm, belly: 10 mm, width: %s}\n"
                         "    - {at: 100 %%, back: 10 mm, belly: 10 mm, width: %s}\n",
                         i ? "19 mm" : "18 mm", i ? "19 mm" : "18 mm");
        struct compilation c = bench_compile(b, PARTS(.body = body, .ballast = ballast));
        const struct condition *f = &c.results.finished;
        double tolerance = f->burden.mass * f->rest.gm * tan(2 * one_degree) / 0.011;
        assert_int_equal(tolerance < 1e-4, i == 0);
        const char *said = bench_said(b);
        assert_int_equal(strstr(said, "off the middle makes the finished plug lean 2 deg") != NULL,
                         i == 0);
    }
}

/* Heavy wood with its ballast high up: sunk, the plug turns over. */
static void a_plug_that_sinks_top_heavy_is_said_to_find_no_rest(void **state) {
    static const struct judgement cases[] = {
        {{.wood = "wood: {species: basswood, density: 900 kg/m3}\n",
          .ballast = "ballast: {aim: {reserve: -8 %, attitude: -50 deg}, bores: [\n"
                     "  {at: 30 mm, drill: 9 mm, depth: 16.5 mm, load: solve},\n"
                     "  {at: 70 mm, drill: 9 mm, depth: 16.5 mm, load: solve}]}\n"},
         "aim",
         "error aim: no load of zero or more reaches reserve -8 % and attitude -50 deg; the "
         "nearest is reserve -8 % and no rest between tail down and nose down"}};
    EXPECT_EACH(cases);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(curves_that_cross_between_stations_are_blamed_on_the_row_before),
        BENCH_TEST(a_mouth_outside_the_wood_is_an_error),
        BENCH_TEST(a_pilot_that_leaves_the_wood_is_an_error),
        BENCH_TEST(a_slot_that_breaks_out_is_an_error),
        BENCH_TEST(eyes_outside_the_body_are_an_error),
        BENCH_TEST(a_load_that_does_not_fit_is_an_error_with_both_heights),
        BENCH_TEST(a_load_that_does_not_fit_is_told_what_it_needs_and_what_there_is),
        BENCH_TEST(a_drill_as_wide_as_the_body_is_an_error),
        BENCH_TEST(a_thin_wall_is_doubtful_and_a_thinner_one_an_error),
        BENCH_TEST(a_load_that_is_hardly_one_is_doubtful),
        BENCH_TEST(a_solved_load_that_no_scale_tells_is_doubtful),
        BENCH_TEST(a_plug_that_hardly_stays_upright_is_doubtful),
        BENCH_TEST(ballast_that_no_bench_can_keep_to_the_middle_is_doubtful),
        BENCH_TEST(a_plug_that_sinks_top_heavy_is_said_to_find_no_rest),
        BENCH_TEST(a_groove_beside_a_bore_thins_its_wall),
        BENCH_TEST(what_a_near_miss_lacks_is_what_is_offered_first),
        BENCH_TEST(openings_without_a_bore_meet_too),
        BENCH_TEST(hooks_that_reach_something_are_a_warning),
        BENCH_TEST(exactly_what_is_due_is_room_enough),
        BENCH_TEST(a_bore_that_meets_something_is_an_error_and_a_near_miss_doubtful),
        BENCH_TEST(an_aim_with_nothing_to_solve_is_a_warning_with_both_values),
        BENCH_TEST(one_bore_for_both_aims_is_a_warning_with_the_attitude),
        BENCH_TEST(an_aim_that_is_met_is_not_worth_a_word),
        BENCH_TEST(a_steep_rest_is_a_warning_at_the_body),
        BENCH_TEST(a_plug_without_a_rest_is_a_warning_at_the_body),
        BENCH_TEST(a_plug_that_does_not_stay_upright_is_a_warning_at_the_body),
        BENCH_TEST(a_blank_of_no_wood_there_is_is_an_error),
        BENCH_TEST(more_bore_than_wood_is_an_error),
        BENCH_TEST(a_line_stronger_than_half_the_wire_is_a_warning),
        BENCH_TEST(work_that_fits_no_opening_is_an_error_that_names_the_longest),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
