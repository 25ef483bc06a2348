#include <stdlib.h>
#include <sys/wait.h>
#include <unistd.h>

#include "close.h"

#include "base/arena.h"
#include "base/buf.h"

static void memory_is_zeroed_and_aligned_for_any_type(void **state) {
    (void)state;
    struct arena arena = {0};
    for (size_t size = 0; size < 200; size += 7) {
        char *place = arena_alloc(&arena, size);
        assert_int_equal((uintptr_t)place % _Alignof(max_align_t), 0);
        for (size_t i = 0; i < size; i++) assert_int_equal(place[i], 0);
        memset(place, 0x5A, size);
    }
    arena_free(&arena);
}

static void a_request_larger_than_a_block_gets_its_own(void **state) {
    (void)state;
    struct arena arena = {0};
    char *small = arena_alloc(&arena, 10);
    char *large = arena_alloc(&arena, 1 << 20);
    memset(large, 'x', 1 << 20);
    memset(small, 'y', 10);
    assert_int_equal(large[0], 'x');
    assert_int_equal(large[(1 << 20) - 1], 'x');
    assert_int_equal(small[9], 'y');
    arena_free(&arena);
}

static void a_freed_arena_can_be_used_again(void **state) {
    (void)state;
    struct arena arena = {0};
    arena_alloc(&arena, 100);
    arena_free(&arena);
    assert_null(arena.head);
    assert_string_equal(arena_copy(&arena, "again", 5), "again");
    arena_free(&arena);
}

static void a_copy_ends_with_a_zero_byte(void **state) {
    (void)state;
    struct arena arena = {0};
    assert_string_equal(arena_copy(&arena, "slice of text", 5), "slice");
    assert_string_equal(arena_copy(&arena, NULL, 0), "");
    arena_free(&arena);
}

static void printf_into_the_arena_has_no_length_limit(void **state) {
    (void)state;
    struct arena arena = {0};
    assert_string_equal(arena_printf(&arena, "%s %d", "bore", 3), "bore 3");
    assert_int_equal(strlen(arena_printf(&arena, "%100000d", 1)), 100000);
    arena_free(&arena);
}

static void an_array_grows_and_keeps_what_it_holds(void **state) {
    (void)state;
    struct arena arena = {0};
    int *items = NULL, count = 0;
    size_t capacity = 0, moves = 0;
    for (; count < 10000; count++) {
        const int *before = items;
        GROW(&arena, items, count, capacity);
        moves += items != before;
        items[count] = count * 3;
    }
    for (int i = 0; i < count; i++) assert_int_equal(items[i], i * 3);
    assert_true(capacity >= 10000 && capacity < 20000);
    assert_true(moves < 12); /* it doubles */
    arena_free(&arena);
}

static void an_array_grows_by_as_much_as_is_asked(void **state) {
    (void)state;
    struct arena arena = {0};
    size_t capacity = 0;
    double *items = arena_grow(&arena, NULL, 0, 1000, &capacity, sizeof *items);
    assert_true(capacity >= 1000);
    items[999] = 1.5;
    double *larger = arena_grow(&arena, items, 1000, 5000, &capacity, sizeof *items);
    assert_true(capacity >= 6000 && larger != items);
    assert_close(larger[999], 1.5, 0);
    assert_ptr_equal(arena_grow(&arena, larger, 1000, 5000, &capacity, sizeof *items), larger);
    arena_free(&arena);
}

/* The exit status of a child that asks for more than there can be. */
static int status_of_child(void (*ask)(struct arena *arena)) {
    int status = 0;
    pid_t child = fork();
    if (child == 0) {
        struct arena arena = {0};
        if (!freopen("/dev/null", "w", stderr)) _exit(9);
        ask(&arena);
        _exit(0);
    }
    assert_true(child > 0);
    assert_int_equal(waitpid(child, &status, 0), child);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

static void ask_for_all(struct arena *arena) {
    arena_alloc(arena, SIZE_MAX);
}

static void ask_for_an_overflowing_product(struct arena *arena) {
    arena_array(arena, SIZE_MAX / 2, 3);
}

static void ask_for_endless_growth(struct arena *arena) {
    size_t capacity = 16;
    char items[16];
    arena_grow(arena, items, 16, SIZE_MAX - 8, &capacity, 1);
}

static void running_out_of_memory_ends_with_status_two(void **state) {
    (void)state;
    assert_int_equal(status_of_child(ask_for_all), 2);
    assert_int_equal(status_of_child(ask_for_an_overflowing_product), 2);
    assert_int_equal(status_of_child(ask_for_endless_growth), 2);
}

static void a_buffer_grows_and_stays_terminated(void **state) {
    (void)state;
    struct arena arena = {0};
    struct buf buf = {.arena = &arena};
    for (int i = 0; i < 1000; i++) {
        buf_text(&buf, "ab");
        buf_char(&buf, 'c');
        buf_str(&buf, (struct str){"defgh", 2});
        buf_printf(&buf, "%d", i % 10);
    }
    assert_int_equal(buf.size, 6000);
    assert_int_equal(strlen(buf.data), 6000);
    assert_memory_equal(buf.data + 5994, "abcde9", 6);
    buf_printf(&buf, "%50000s", "end");
    assert_int_equal(strlen(buf.data), 56000);
    arena_free(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(memory_is_zeroed_and_aligned_for_any_type),
        cmocka_unit_test(a_request_larger_than_a_block_gets_its_own),
        cmocka_unit_test(a_freed_arena_can_be_used_again),
        cmocka_unit_test(a_copy_ends_with_a_zero_byte),
        cmocka_unit_test(printf_into_the_arena_has_no_length_limit),
        cmocka_unit_test(an_array_grows_and_keeps_what_it_holds),
        cmocka_unit_test(an_array_grows_by_as_much_as_is_asked),
        cmocka_unit_test(running_out_of_memory_ends_with_status_two),
        cmocka_unit_test(a_buffer_grows_and_stays_terminated),
    };
    return cmocka_run_group_tests_name("arena", tests, NULL, NULL);
}
