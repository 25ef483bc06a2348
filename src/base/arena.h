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

/* Frees everything that the arena holds; it is empty and ready for use again. */
void arena_free(struct arena *arena);

#define NEW(arena, type, count) ((type *)arena_array((arena), (size_t)(count), sizeof(type)))

#endif
