/* Memory of one compilation: zeroed blocks that live until the arena is freed as a whole.
 *
 * Nothing is freed piecemeal, so no function needs a clean-up path.  Running out of memory ends the
 * program with exit status 2 and one line on standard error, in one place (arena.c).
 */
#ifndef PLUGWRIGHT_ARENA_H
#define PLUGWRIGHT_ARENA_H

#include <stddef.h>

struct arena_block;

struct arena {
    struct arena_block *head; /* the newest block; an all-zero arena is empty and ready for use */
};

/* `size` zeroed bytes, aligned for any type. */
__attribute__((returns_nonnull)) void *arena_alloc(struct arena *arena, size_t size);

/* `count * size` zeroed bytes; an overflow of the product counts as out of memory. */
__attribute__((returns_nonnull)) void *arena_array(struct arena *arena, size_t count, size_t size);

/* A copy of `size` bytes at `data`, with a zero byte behind it. */
__attribute__((returns_nonnull)) char *arena_copy(struct arena *arena, const char *data,
                                                  size_t size);

/* printf into the arena. */
__attribute__((returns_nonnull, format(printf, 2, 3))) char *arena_printf(struct arena *arena,
                                                                          const char *format, ...);

/* `items` with room for `more` items of `size` bytes behind the first `count`: the same array while
 * there is room, otherwise a larger copy, and `*capacity` says how many fit.  An array begins as
 * NULL with a capacity of 0, or with room that its owner thinks likely.  Capacity doubles; the old
 * copies stay in the arena, so an array costs at most twice what it ends up holding, again. */
__attribute__((returns_nonnull)) void *arena_grow(struct arena *arena, void *items, size_t count,
                                                  size_t more, size_t *capacity, size_t size);

/* What all of these do when memory runs out. */
_Noreturn void arena_out_of_memory(void);

/* Frees everything that the arena holds; it is empty and ready for use again. */
void arena_free(struct arena *arena);

#define NEW(arena, type, count) ((type *)arena_array((arena), (size_t)(count), sizeof(type)))

/* Room for one more item behind `count`; `capacity` is a size_t beside them. */
#define GROW(arena, items, count, capacity) \
    ((items) = arena_grow((arena), (items), (size_t)(count), 1, &(capacity), sizeof *(items)))

#endif
