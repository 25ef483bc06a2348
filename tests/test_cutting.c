/* Blanks out of boards: against every cutting that there is, enumerated, and by a checker that
 * shares nothing with the saw.  Both reckon in whole millimetres. */
#include "close.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "compute/cutting/inner.h"
#include "compute/stock.h"

enum { MOST = 256, KERF = 2 };

/* mm */
struct timber {
    int length, width, thickness, set, count; /* set: of blanks alone */
};

struct instance {
    struct timber boards[MOST], wants[MOST];
    int board_count, want_count, kerf;
};

static double metres(int millimetres) {
    return millimetres / 1000.0;
}

static struct cutting_task task_of(struct arena *arena, const struct instance *in, int visits) {
    struct cutting_board *boards = NEW(arena, struct cutting_board, in->board_count);
    struct cutting_want *wants = NEW(arena, struct cutting_want, in->want_count);
    for (int i = 0; i < in->board_count; i++) {
        const struct timber *t = &in->boards[i];
        boards[i] = (struct cutting_board){metres(t->length), metres(t->width),
                                           metres(t->thickness), t->count};
    }
    for (int i = 0; i < in->want_count; i++) {
        const struct timber *t = &in->wants[i];
        wants[i] = (struct cutting_want){metres(t->length), metres(t->width), metres(t->thickness),
                                         t->set, t->count};
    }
    return (struct cutting_task){boards,         in->board_count,  wants,
                                 in->want_count, metres(in->kerf), visits};
}

static struct cutting solve(struct arena *arena, const struct instance *in, int visits) {
    struct cutting_task task = task_of(arena, in, visits);
    return cutting_of(arena, &task);
}

static int64_t volume(const struct timber *t) {
    return (int64_t)t->length * t->width * t->thickness;
}

static int64_t cubic_mm(double m3) {
    return llround(m3 * 1e9);
}

static int times(int whole, int part, int kerf) {
    int n = 0;
    while ((n + 1) * part + n * kerf <= whole) n++;
    return n;
}

static int strips(const struct timber *board, const struct timber *want, int kerf) {
    int flat =
        times(board->width, want->width, kerf) * times(board->thickness, want->thickness, kerf);
    int turned =
        times(board->width, want->thickness, kerf) * times(board->thickness, want->width, kerf);
    return flat > turned ? flat : turned;
}

/* --- the checker ----------------------------------------------------------------------------- */

static bool near_mm(double m, int mm) {
    return fabs(m - metres(mm)) < 1e-6;
}

/* Parts of a strip, added to `parts` of every want; the length they take, mm. */
static int check_strip(const struct instance *in, const struct cutting_stretch *stretch,
                       const struct cutting_strip *strip, int times_cut, int *parts) {
    int length = -in->kerf;
    for (int i = 0; i < strip->count; i++) {
        const struct timber *want = &in->wants[strip->pieces[i].want];
        assert_true(strip->pieces[i].count > 0);
        bool flat =
            near_mm(stretch->width, want->width) && near_mm(stretch->thickness, want->thickness);
        bool turned =
            near_mm(stretch->width, want->thickness) && near_mm(stretch->thickness, want->width);
        assert_true(flat || turned);
        length += strip->pieces[i].count * (want->length + in->kerf);
        parts[strip->pieces[i].want] += strip->pieces[i].count * times_cut;
    }
    return length;
}

/* The length that a board's stretches take, mm. */
static int check_board(const struct instance *in, const struct cutting_begun *b, int *parts) {
    const struct timber *board = &in->boards[b->board];
    int taken = -in->kerf;
    for (int i = 0; i < b->count; i++) {
        const struct cutting_stretch *stretch = &b->stretches[i];
        int used = 0, longest = 0;
        for (int k = 0; k < stretch->count; k++) {
            const struct cutting_strip *strip = &stretch->strips[k];
            int length = check_strip(in, stretch, strip, strip->alike * b->alike, parts);
            if (length > longest) longest = length;
            used += strip->alike;
        }
        assert_true(near_mm(stretch->length, longest));
        const struct timber *any = &in->wants[stretch->strips[0].pieces[0].want];
        assert_true(used <= strips(board, any, in->kerf));
        taken += longest + in->kerf;
    }
    assert_true(taken <= board->length);
    int left = board->length - taken - in->kerf;
    assert_true(near_mm(b->left, left > 0 ? left : 0));
    return taken;
}

/* No worse than run by run. */
static void check_runs(const struct cutting *c) {
    const struct cutting_wood *own = &c->wood, *runs = &c->run_by_run;
    assert_true(cubic_mm(own->missing) <= cubic_mm(runs->missing));
    if (cubic_mm(own->missing) < cubic_mm(runs->missing)) return;
    assert_true(cubic_mm(own->begun) <= cubic_mm(runs->begun));
    if (cubic_mm(own->begun) < cubic_mm(runs->begun)) return;
    assert_true(own->taken <= runs->taken + 1e-12);
}

/* Every part once, no board too full, none begun that is not there, and the sums are right. */
static void check(const struct instance *in, const struct cutting *c) {
    int parts[MOST] = {0}, begun[MOST] = {0};
    int64_t wood = 0, missing = 0, blanks = 0;
    for (int i = 0; i < c->count; i++) {
        check_board(in, &c->begun[i], parts);
        begun[c->begun[i].board] += c->begun[i].alike;
        wood += c->begun[i].alike * volume(&in->boards[c->begun[i].board]);
    }
    for (int i = 0; i < in->board_count; i++) assert_true(begun[i] <= in->boards[i].count);
    for (int w = 0; w < in->want_count; w++) {
        const struct timber *want = &in->wants[w];
        assert_true(c->got[w] <= want->count);
        assert_int_equal(parts[w], c->got[w] * want->set);
        blanks += (int64_t)parts[w] * volume(want);
        missing += (int64_t)(want->count - c->got[w]) * want->set * volume(want);
    }
    assert_int_equal(cubic_mm(c->wood.begun), wood);
    assert_int_equal(cubic_mm(c->wood.missing), missing);
    assert_int_equal(cubic_mm(c->blanks), blanks);
    assert_true(c->bound <= c->wood.begun + 1e-12);
    if (c->least) assert_int_equal(cubic_mm(c->bound), wood);
    check_runs(c);
}

/* --- every cutting that there is ------------------------------------------------------------- */

enum { BOARDS = 4, STRIPS = 4, PARTS = 8 };

struct trial {
    const struct instance *in;
    int kind[BOARDS], boards; /* every single board */
    int want[PARTS], of_set[PARTS], parts;
    int place[PARTS];               /* board, or -1 */
    int load[BOARDS][MOST][STRIPS]; /* mm with a kerf each, by the first want of that section */
    int64_t missing, least_missing, least_wood;
    double least_taken; /* mm3 of those boards */
};

static int section_of(const struct instance *in, int want) {
    for (int w = 0; w < want; w++) {
        const struct timber *a = &in->wants[w], *b = &in->wants[want];
        if ((a->width == b->width && a->thickness == b->thickness) ||
            (a->width == b->thickness && a->thickness == b->width))
            return w;
    }
    return want;
}

/* mm of a board with one more kerf. */
static int taken_of(const struct trial *t, int board) {
    int sum = 0;
    for (int w = 0; w < t->in->want_count; w++) {
        int longest = 0;
        for (int i = 0; i < STRIPS; i++)
            if (t->load[board][w][i] > longest) longest = t->load[board][w][i];
        sum += longest;
    }
    return sum;
}

static int whole_of(const struct trial *t, int board) {
    return t->in->boards[t->kind[board]].length + t->in->kerf;
}

static void weigh(struct trial *t) {
    int64_t wood = 0;
    double taken = 0;
    for (int b = 0; b < t->boards; b++) {
        int64_t own = volume(&t->in->boards[t->kind[b]]);
        if (taken_of(t, b) == 0) continue;
        wood += own;
        taken += (double)own * taken_of(t, b) / whole_of(t, b);
    }
    if (t->missing != t->least_missing ? t->missing > t->least_missing
        : wood != t->least_wood        ? wood > t->least_wood
                                       : taken >= t->least_taken)
        return;
    t->least_missing = t->missing;
    t->least_wood = wood;
    t->least_taken = taken;
}

static void try_all(struct trial *t, int i) {
    if (i == t->parts) {
        weigh(t);
        return;
    }
    const struct timber *want = &t->in->wants[t->want[i]];
    bool out = t->of_set[i] > 0 && t->place[i - 1] < 0;
    for (int b = 0; b < t->boards && !out; b++) {
        int count = strips(&t->in->boards[t->kind[b]], want, t->in->kerf);
        assert_true(count <= STRIPS);
        for (int k = 0; k < count; k++) {
            int *load = &t->load[b][section_of(t->in, t->want[i])][k];
            *load += want->length + t->in->kerf;
            t->place[i] = b;
            if (taken_of(t, b) <= whole_of(t, b)) try_all(t, i + 1);
            *load -= want->length + t->in->kerf;
        }
    }
    if (t->of_set[i] > 0 && !out) return;
    t->place[i] = -1;
    t->missing += volume(want);
    try_all(t, i + 1);
    t->missing -= volume(want);
}

static struct trial enumerate(const struct instance *in) {
    struct trial t = {.in = in, .least_missing = INT64_MAX};
    for (int k = 0; k < in->board_count; k++)
        for (int i = 0; i < in->boards[k].count; i++) t.kind[t.boards++] = k;
    for (int w = 0; w < in->want_count; w++)
        for (int i = 0; i < in->wants[w].count * in->wants[w].set; i++) {
            t.of_set[t.parts] = i % in->wants[w].set;
            t.want[t.parts++] = w;
        }
    try_all(&t, 0);
    return t;
}

/* --- instances at random --------------------------------------------------------------------- */

static uint64_t state_of_chance;

static int draw(int from, int to) {
    state_of_chance = state_of_chance * 6364136223846793005u + 1442695040888963407u;
    return from + (int)((state_of_chance >> 33) % (uint64_t)(to - from + 1));
}

static struct instance draw_small(void) {
    static const int sections[][2] = {{20, 20}, {20, 16}, {16, 20}, {30, 20}};
    static const int boards[][2] = {{20, 20}, {42, 20}, {30, 20}, {36, 22}, {42, 42}};
    struct instance in = {.kerf = draw(0, 3)};
    int parts = draw(1, 6), count = draw(1, 3);
    while (parts > 0) {
        int section = draw(0, draw(0, 3)), set = parts > 1 ? draw(1, 2) : 1;
        int blanks = draw(1, parts / set < 3 ? parts / set : 3);
        in.wants[in.want_count++] = (struct timber){draw(3, 10) * 10, sections[section][0],
                                                    sections[section][1], set, blanks};
        parts -= set * blanks;
    }
    while (count > 0) {
        int section = draw(0, draw(0, 4)), alike = draw(1, count < 2 ? count : 2);
        in.boards[in.board_count++] =
            (struct timber){draw(6, 24) * 10, boards[section][0], boards[section][1], 1, alike};
        count -= alike;
    }
    return in;
}

static struct instance draw_large(void) {
    struct instance in = {.kerf = KERF, .want_count = draw(1, 12), .board_count = draw(1, 6)};
    for (int i = 0; i < in.want_count; i++)
        in.wants[i] =
            (struct timber){draw(60, 250), draw(18, 40), draw(18, 30), draw(1, 2), draw(1, 20)};
    for (int i = 0; i < in.board_count; i++)
        in.boards[i] =
            (struct timber){draw(200, 2500), draw(20, 160), draw(20, 60), 1, draw(1, 12)};
    return in;
}

/* --- tests ----------------------------------------------------------------------------------- */

static void nothing_is_better_than_the_best_of_all_cuttings(void **state) {
    (void)state;
    int mixed = 0, shorter = 0, missing = 0;
    state_of_chance = 1;
    for (int i = 0; i < 2000; i++) {
        struct arena arena = {0};
        struct instance in = draw_small();
        struct cutting c = solve(&arena, &in, CUTTING_VISITS);
        struct trial t = enumerate(&in);
        if (cubic_mm(c.wood.missing) != t.least_missing || cubic_mm(c.wood.begun) != t.least_wood)
            print_error("instance %d: %lld missing and %lld begun, not %lld and %lld\n", i,
                        (long long)cubic_mm(c.wood.missing), (long long)cubic_mm(c.wood.begun),
                        (long long)t.least_missing, (long long)t.least_wood);
        assert_int_equal(cubic_mm(c.wood.missing), t.least_missing);
        assert_int_equal(cubic_mm(c.wood.begun), t.least_wood);
        assert_near(c.wood.taken * 1e9, t.least_taken, 1e-3);
        assert_true(c.least && c.most);
        check(&in, &c);
        mixed += c.wood.begun < c.run_by_run.begun - 1e-12;
        shorter += c.wood.taken < c.run_by_run.taken - 1e-12;
        missing += t.least_missing > 0;
        arena_free(&arena);
    }
    assert_true(mixed > 50 && shorter > 100 && missing > 200);
}

/* Whole 1e-13 m3 of the saw. */
static int64_t cubic_mm_of(int64_t wood) {
    return (wood + 5000) / 10000;
}

/* From nothing cut at all, without the help of any first cutting. */
static void the_search_alone_finds_the_best(void **state) {
    (void)state;
    int more = 0;
    state_of_chance = 7;
    for (int i = 0; i < 2000; i++) {
        struct arena arena = {0};
        struct instance in = draw_small();
        struct cutting_task task = task_of(&arena, &in, 0);
        struct saw s = saw_of(&arena, &task);
        struct trial t = enumerate(&in);
        for (int k = 0; k < s.part_count; k++) saw_leave_out(&s, k);
        saw_keep(&s);
        saw_clear(&s);
        assert_true(saw_search(&s, CUTTING_VISITS));
        assert_int_equal(cubic_mm_of(s.best.missing), t.least_missing);
        assert_int_equal(cubic_mm_of(s.best.wood), t.least_wood);
        assert_near(s.best.taken / 10000, t.least_taken, 1e-2);
        assert_true(cubic_mm_of(saw_bound(&s, &s.best)) <= t.least_wood);
        assert_true(cubic_mm_of(saw_missing_bound(&s)) <= t.least_missing);
        more += s.best.board_count > 1;
        arena_free(&arena);
    }
    assert_true(more > 500);
}

/* Without a search what is told is bound and first fit; neither may pass the best of all. */
static void the_bound_never_passes_the_best(void **state) {
    (void)state;
    int tight = 0, whole = 0, most = 0, short_of = 0;
    state_of_chance = 2;
    for (int i = 0; i < 2000; i++) {
        struct arena arena = {0};
        struct instance in = draw_small();
        struct cutting c = solve(&arena, &in, 0);
        struct trial t = enumerate(&in);
        check(&in, &c);
        assert_true(cubic_mm(c.wood.missing) >= t.least_missing);
        if (c.most) assert_int_equal(cubic_mm(c.wood.missing), t.least_missing);
        short_of += t.least_missing > 0, most += t.least_missing > 0 && c.most;
        if (cubic_mm(c.wood.missing) == t.least_missing) {
            if (t.least_missing == 0) assert_true(cubic_mm(c.bound) <= t.least_wood);
            assert_true(cubic_mm(c.wood.begun) >= t.least_wood);
            if (c.least) assert_int_equal(cubic_mm(c.wood.begun), t.least_wood);
            whole++, tight += c.least;
        }
        arena_free(&arena);
    }
    assert_true(tight * 2 > whole && most * 2 > short_of);
}

static void large_cuttings_are_sound(void **state) {
    (void)state;
    int least = 0;
    state_of_chance = 3;
    for (int i = 0; i < 60; i++) {
        struct arena arena = {0};
        struct instance in = draw_large();
        struct cutting c = solve(&arena, &in, 20000);
        check(&in, &c);
        least += c.least;
        arena_free(&arena);
    }
    assert_true(least > 0);
}

/* As many recipes and plugs as a plan takes, and all rows of a stock. */
static void the_largest_plan_is_cut(void **state) {
    (void)state;
    struct arena arena = {0};
    static struct instance in;
    state_of_chance = 5;
    in = (struct instance){.kerf = KERF, .want_count = 256, .board_count = 64};
    for (int i = 0; i < in.want_count; i++)
        in.wants[i] =
            (struct timber){draw(60, 250), draw(18, 40), draw(18, 30), draw(1, 2), i < 208 ? 8 : 7};
    for (int i = 0; i < in.board_count; i++)
        in.boards[i] =
            (struct timber){draw(200, 2500), draw(20, 160), draw(20, 60), 1, draw(1, 10)};
    struct cutting c = solve(&arena, &in, CUTTING_VISITS);
    check(&in, &c);
    assert_true(c.wood.missing == 0 && c.wood.begun < c.run_by_run.begun);
    arena_free(&arena);
}

static struct stock stock_of(struct arena *arena, const struct instance *in) {
    struct stock stock = {.boards = NEW(arena, struct stock_board, in->board_count),
                          .stock_board_count = in->board_count};
    for (int k = 0; k < in->board_count; k++) {
        const struct timber *t = &in->boards[k];
        stock.boards[k] = (struct stock_board){.species = str_of("pine"),
                                               .length = metres(t->length),
                                               .width = metres(t->width),
                                               .thickness = metres(t->thickness),
                                               .count = t->count};
    }
    return stock;
}

/* What the orders find on hand, one after the other, is no more; whether it is as much. */
static bool check_against_orders(struct arena *arena, const struct instance *in,
                                 const struct cutting *c) {
    struct stock left = stock_of(arena, in);
    int64_t missing = 0, begun = 0;
    for (int w = 0; w < in->want_count; w++) {
        const struct timber *t = &in->wants[w];
        const struct stock_part part = {metres(t->length), metres(t->width), metres(t->thickness)};
        int wanted = t->set * t->count;
        missing += volume(t) * (wanted - stock_boards(arena, &left, str_of("pine"), &part,
                                                      metres(in->kerf), t->set, wanted));
    }
    for (int k = 0; k < in->board_count; k++)
        begun += (in->boards[k].count - left.boards[k].count) * volume(&in->boards[k]);
    const struct cutting_wood *runs = &c->run_by_run;
    assert_true(cubic_mm(runs->missing) <= missing);
    if (cubic_mm(runs->missing) == missing) assert_true(cubic_mm(runs->begun) <= begun);
    return cubic_mm(runs->missing) == missing && cubic_mm(runs->begun) == begun;
}

static void run_by_run_is_no_less_than_the_orders_find(void **state) {
    (void)state;
    int as_much = 0;
    state_of_chance = 6;
    for (int i = 0; i < 500; i++) {
        struct arena arena = {0};
        struct instance in = i % 4 ? draw_small() : draw_large();
        struct cutting c = solve(&arena, &in, 0);
        as_much += check_against_orders(&arena, &in, &c);
        arena_free(&arena);
    }
    assert_true(as_much > 250 && as_much < 500);
}

/* Lengths of 70, 60, 50, 3 × 33, 11, 7 and 3 out of 100 add up to three boards; but 60 and 70 are
 * alone with what is shorter than 41 and 31, and of 50 and three times 33 one too many is left. */
static void the_bound_sees_more_than_the_sum(void **state) {
    (void)state;
    static const int lengths[] = {70, 60, 50, 33, 33, 33, 11, 7, 3};
    struct arena arena = {0};
    struct instance in = {.boards = {{100, 20, 20, 1, 9}}, .board_count = 1, .want_count = 9};
    for (int i = 0; i < 9; i++) in.wants[i] = (struct timber){lengths[i], 20, 20, 1, 1};
    struct cutting c = solve(&arena, &in, 0);
    assert_int_equal(cubic_mm(c.bound), 4 * 100 * 20 * 20);
    assert_int_equal(cubic_mm(c.wood.begun), 4 * 100 * 20 * 20);
    assert_true(c.least);
    check(&in, &c);
    arena_free(&arena);
}

/* Boards of 308 mm take 206 and 100, or three of 100 and two cuts: one run after the other begins
 * two boards with the longer and two more with the shorter. */
static void runs_share_boards(void **state) {
    (void)state;
    struct arena arena = {0};
    struct instance in = {.boards = {{308, 22, 22, 1, 9}},
                          .board_count = 1,
                          .wants = {{100, 22, 22, 1, 2}, {206, 22, 22, 1, 2}},
                          .want_count = 2,
                          .kerf = 2};
    struct cutting c = solve(&arena, &in, CUTTING_VISITS);
    assert_int_equal(cubic_mm(c.run_by_run.begun), 3 * volume(&in.boards[0]));
    assert_int_equal(cubic_mm(c.wood.begun), 2 * volume(&in.boards[0]));
    assert_true(c.least && c.most);
    assert_int_equal(c.count, 1);
    assert_int_equal(c.begun[0].alike, 2);
    assert_true(c.begun[0].left < 1e-9);
    arena_free(&arena);
}

static void what_does_not_come_out_is_missing(void **state) {
    (void)state;
    struct arena arena = {0};
    struct instance in = {.boards = {{215, 22, 22, 1, 1}, {90, 200, 40, 1, 5}},
                          .board_count = 2,
                          .wants = {{106, 22, 11, 2, 2}, {106, 22, 22, 1, 2}},
                          .want_count = 2,
                          .kerf = 2};
    struct cutting c = solve(&arena, &in, CUTTING_VISITS);
    check(&in, &c);
    assert_int_equal(c.got[0] + c.got[1], 2);
    assert_true(c.least && c.most);
    in.boards[0].width = in.boards[0].thickness = 21;
    c = solve(&arena, &in, CUTTING_VISITS);
    check(&in, &c);
    assert_int_equal(c.count, 0);
    in.board_count = 0;
    c = solve(&arena, &in, CUTTING_VISITS);
    assert_int_equal(c.count + c.got[0] + c.got[1], 0);
    arena_free(&arena);
}

static void the_same_task_is_cut_the_same(void **state) {
    (void)state;
    struct arena arena = {0};
    state_of_chance = 4;
    for (int i = 0; i < 10; i++) {
        struct instance in = draw_large();
        struct cutting a = solve(&arena, &in, 20000), b = solve(&arena, &in, 20000);
        assert_int_equal(a.count, b.count);
        assert_true(a.wood.begun == b.wood.begun && a.bound == b.bound);
        for (int k = 0; k < a.count; k++) {
            assert_int_equal(a.begun[k].board, b.begun[k].board);
            assert_true(a.begun[k].left == b.begun[k].left);
        }
    }
    arena_free(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nothing_is_better_than_the_best_of_all_cuttings),
        cmocka_unit_test(the_search_alone_finds_the_best),
        cmocka_unit_test(the_bound_never_passes_the_best),
        cmocka_unit_test(large_cuttings_are_sound),
        cmocka_unit_test(the_largest_plan_is_cut),
        cmocka_unit_test(run_by_run_is_no_less_than_the_orders_find),
        cmocka_unit_test(the_bound_sees_more_than_the_sum),
        cmocka_unit_test(runs_share_boards),
        cmocka_unit_test(what_does_not_come_out_is_missing),
        cmocka_unit_test(the_same_task_is_cut_the_same),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
