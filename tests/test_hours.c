/* Opening hours against a walk from tick to tick that knows no more than which ticks are open. */
#include "close.h"

#include "base/hours.h"

enum { MOST_PERIODS = 4, FAR = 400 };

struct calendar {
    struct hours hours;
    struct period period[MOST_PERIODS];
};

static bool open_at(const struct hours *hours, int64_t tick) {
    int64_t inside = ((tick + hours->origin) % hours->cycle + hours->cycle) % hours->cycle;
    for (int k = 0; k < hours->count; k++)
        if (inside >= hours->period[k].from && inside < hours->period[k].to) return true;
    return hours->count == 0;
}

static bool open_for(const struct hours *hours, int64_t tick, int64_t length) {
    for (int64_t t = tick; t < tick + length; t++)
        if (!open_at(hours, t)) return false;
    return true;
}

static uint64_t chance = 1;

static int roll(int below) {
    chance = chance * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return (int)((chance >> 33) % (uint64_t)below);
}

/* One to four periods, touching now and then, also across the end of the cycle. */
static void make_calendar(struct calendar *c) {
    int64_t tick = roll(3);
    int count = 1 + roll(MOST_PERIODS);
    for (int k = 0; k < count; k++) {
        c->period[k] = (struct period){tick, tick + 1 + roll(5)};
        tick = c->period[k].to + roll(4);
    }
    c->hours = (struct hours){c->period, count, tick, roll((int)tick)};
}

static void check_rooms(const struct hours *hours, int64_t tick, int64_t length) {
    struct period room;
    int64_t first = tick, last = tick - length;
    while (first < tick + FAR && !open_for(hours, first, length)) first++;
    while (last > tick - FAR && !open_for(hours, last, length)) last--;
    assert_int_equal(hours_room_from(hours, tick, length, &room), first < tick + FAR);
    if (first < tick + FAR) {
        assert_int_equal(room.from, first);
        assert_true(open_for(hours, first, room.to < first + FAR ? room.to - first : FAR));
        if (room.to < first + FAR) assert_false(open_at(hours, room.to));
    }
    assert_int_equal(hours_room_until(hours, tick, length, &room), last > tick - FAR);
    if (last > tick - FAR) {
        assert_int_equal(room.to, last + length);
        if (room.from > last - FAR) assert_false(open_at(hours, room.from - 1));
    }
}

static void rooms_are_the_first_and_the_last_that_are_open_throughout(void **state) {
    (void)state;
    for (int n = 0; n < 2000; n++) {
        struct calendar c;
        make_calendar(&c);
        for (int k = 0; k < 10; k++) check_rooms(&c.hours, roll(100) - 50, 1 + roll(8));
    }
}

static void open_ticks_are_counted(void **state) {
    (void)state;
    for (int n = 0; n < 200; n++) {
        struct calendar c;
        make_calendar(&c);
        for (int64_t tick = -60; tick < 60; tick++) {
            int64_t one = hours_open_until(&c.hours, tick + 1) - hours_open_until(&c.hours, tick);
            assert_int_equal(one, open_at(&c.hours, tick));
        }
    }
}

/* As written: periods that touch stay apart. */
static void periods_follow_one_another(void **state) {
    (void)state;
    for (int n = 0; n < 200; n++) {
        struct calendar c;
        make_calendar(&c);
        struct period p = hours_period_after(&c.hours, -60);
        while (p.from < 60) {
            struct period next = hours_period_after(&c.hours, p.to);
            assert_true(p.from < p.to && next.from >= p.to);
            assert_true(open_for(&c.hours, p.from, p.to - p.from));
            for (int64_t t = p.to; t < next.from; t++) assert_false(open_at(&c.hours, t));
            for (int64_t t = p.to; t < next.to; t++)
                assert_int_equal(hours_period_after(&c.hours, t).from, next.from);
            p = next;
        }
    }
}

static void the_longest_opening_may_run_across_the_cycle(void **state) {
    (void)state;
    const struct period ends[] = {{0, 3}, {5, 6}, {8, 10}}, whole[] = {{0, 4}, {4, 10}};
    assert_int_equal(hours_longest(&(struct hours){ends, 3, 10, 0}), 5);
    assert_int_equal(hours_longest(&(struct hours){ends, 3, 11, 0}), 3);
    assert_int_equal(hours_longest(&(struct hours){whole, 2, 10, 7}), 10);
    assert_int_equal(hours_longest(&(struct hours){.cycle = 10}), 0);
}

static void without_periods_it_is_always_open(void **state) {
    (void)state;
    const struct hours always = {0};
    struct period room;
    assert_true(hours_room_from(&always, -7, 1000000, &room));
    assert_int_equal(room.from, -7);
    assert_true(room.to > INT64_C(1) << 60);
    assert_true(hours_room_until(&always, 7, 1000000, &room));
    assert_int_equal(room.to, 7);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rooms_are_the_first_and_the_last_that_are_open_throughout),
        cmocka_unit_test(open_ticks_are_counted),
        cmocka_unit_test(periods_follow_one_another),
        cmocka_unit_test(the_longest_opening_may_run_across_the_cycle),
        cmocka_unit_test(without_periods_it_is_always_open),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
