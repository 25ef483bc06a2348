/* Critical path method against two networks with published answers: the solutions to chapter 8 of a
 * textbook, believed to be B. W. Taylor, Introduction to Management Science (the attribution is
 * from memory; the solutions were read).  Free floats are computed from the definition, by hand. */
#include "close.h"

#include "compute/schedule/critical.h"

/* An activity of a network whose events are numbered: it leads from one event to another, and
 * follows every activity that ends where it begins. */
struct arrow {
    int from, to;
    double duration, early_start, early_end, late_start, late_end, total, free;
};

enum { MOST = 64 };

static int link_arrows(const struct arrow *arrows, int count, struct critical_link *links) {
    int links_made = 0;
    for (int a = 0; a < count; a++)
        for (int b = 0; b < count; b++)
            if (arrows[a].to == arrows[b].from) links[links_made++] = (struct critical_link){a, b};
    return links_made;
}

static void check_network(const struct arrow *arrows, int count, double length) {
    struct arena arena = {0};
    struct critical_link links[MOST] = {{0}};
    double durations[MOST] = {0};
    struct critical_times times[MOST];
    for (int i = 0; i < count; i++) durations[i] = arrows[i].duration;
    int links_made = link_arrows(arrows, count, links);
    assert_near(critical_path(&arena, durations, count, links, links_made, times), length, 0);
    for (int i = 0; i < count; i++) {
        assert_near(times[i].early_start, arrows[i].early_start, 0);
        assert_near(times[i].early_start + durations[i], arrows[i].early_end, 0);
        assert_near(times[i].late_start, arrows[i].late_start, 0);
        assert_near(times[i].late_start + durations[i], arrows[i].late_end, 0);
        assert_near(times[i].total_float, arrows[i].total, 0);
        assert_near(times[i].free_float, arrows[i].free, 0);
        assert_int_equal(times[i].critical, arrows[i].total == 0);
    }
    arena_free(&arena);
}

static void network_of_seven_has_its_published_times(void **state) {
    (void)state;
    static const struct arrow arrows[] = {
        {1, 2, 7, 0, 7, 2, 9, 2, 0},     {1, 3, 10, 0, 10, 0, 10, 0, 0},
        {2, 4, 6, 7, 13, 9, 15, 2, 2},   {3, 4, 5, 10, 15, 10, 15, 0, 0},
        {3, 5, 4, 10, 14, 14, 18, 4, 4}, {4, 5, 3, 15, 18, 15, 18, 0, 0},
        {5, 6, 2, 18, 20, 18, 20, 0, 0},
    };
    check_network(arrows, sizeof arrows / sizeof *arrows, 20);
}

static void network_of_thirteen_with_a_dummy_has_its_published_times(void **state) {
    (void)state;
    static const struct arrow arrows[] = {
        {1, 2, 8, 0, 8, 1, 9, 1, 0},      {1, 3, 10, 0, 10, 0, 10, 0, 0},
        {1, 4, 9, 0, 9, 6, 15, 6, 0},     {2, 5, 6, 8, 14, 9, 15, 1, 1},
        {2, 6, 4, 8, 12, 16, 20, 8, 0},   {3, 5, 5, 10, 15, 10, 15, 0, 0},
        {4, 5, 0, 9, 9, 15, 15, 6, 6},    {4, 7, 7, 9, 16, 20, 27, 11, 11},
        {5, 7, 12, 15, 27, 15, 27, 0, 0}, {5, 8, 15, 15, 30, 16, 31, 1, 1},
        {6, 9, 18, 12, 30, 20, 38, 8, 8}, {7, 8, 4, 27, 31, 27, 31, 0, 0},
        {8, 9, 7, 31, 38, 31, 38, 0, 0},
    };
    check_network(arrows, sizeof arrows / sizeof *arrows, 38);
}

static void a_loop_has_no_length_and_no_order(void **state) {
    (void)state;
    struct arena arena = {0};
    const double durations[] = {1, 2, 3};
    const struct critical_link links[] = {{0, 1}, {1, 2}, {2, 1}};
    struct critical_times times[3];
    assert_true(critical_path(&arena, durations, 3, links, 3, times) < 0);
    assert_null(critical_order(&arena, 3, links, 3));
    assert_true(critical_path(&arena, durations, 3, links, 2, times) > 0);
    arena_free(&arena);
}

static void order_puts_each_behind_all_that_it_follows(void **state) {
    (void)state;
    struct arena arena = {0};
    const struct critical_link links[] = {{3, 0}, {2, 3}, {2, 1}, {1, 0}, {4, 2}};
    const int *order = critical_order(&arena, 5, links, 5);
    int place[5];
    for (int n = 0; n < 5; n++) place[order[n]] = n;
    for (int k = 0; k < 5; k++) assert_true(place[links[k].before] < place[links[k].after]);
    arena_free(&arena);
}

static void nothing_takes_no_time(void **state) {
    (void)state;
    struct arena arena = {0};
    assert_near(critical_path(&arena, NULL, 0, NULL, 0, NULL), 0, 0);
    arena_free(&arena);
}

/* Ten times 0.1 is a little less than 1 in binary: no float is made of that. */
static void rounding_is_not_float(void **state) {
    (void)state;
    struct arena arena = {0};
    double durations[11] = {0};
    struct critical_link links[9] = {{0}};
    struct critical_times times[11];
    for (int i = 0; i < 10; i++) durations[i] = 0.1;
    durations[10] = 1;
    for (int i = 0; i < 9; i++) links[i] = (struct critical_link){i, i + 1};
    critical_path(&arena, durations, 11, links, 9, times);
    for (int i = 0; i < 11; i++) assert_true(times[i].critical);
    arena_free(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(network_of_seven_has_its_published_times),
        cmocka_unit_test(network_of_thirteen_with_a_dummy_has_its_published_times),
        cmocka_unit_test(a_loop_has_no_length_and_no_order),
        cmocka_unit_test(order_puts_each_behind_all_that_it_follows),
        cmocka_unit_test(nothing_takes_no_time),
        cmocka_unit_test(rounding_is_not_float),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
