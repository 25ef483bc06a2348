#include "base/arena.h"

#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Blocks are chained; a request larger than a usual block gets a block of its own.  Where a
 * sanitizer watches, every request does, and is as long as asked for: it sees what lies behind an
 * allocation, and nothing inside one. */
#ifdef ARENA_WATCHED
enum { BLOCK_BYTES = 0, ALIGNMENT = 1 };
#else
enum { BLOCK_BYTES = 64 * 1024, ALIGNMENT = _Alignof(max_align_t) };
#endif

/* An array that grows begins with so many items, or with so many bytes where that is more. */
enum { FIRST_ITEMS = 16, FIRST_BYTES = 128 };

struct arena_block {
    struct arena_block *next;
    size_t used, size;
    max_align_t data[];
};

_Noreturn void arena_out_of_memory(void) {
    fputs("plugwright: error: out of memory\n", stderr);
    exit(2);
}

static struct arena_block *block_new(struct arena *arena, size_t size) {
    size_t usual = BLOCK_BYTES;
    if (size < usual) size = usual;
    if (size > SIZE_MAX - sizeof(struct arena_block)) arena_out_of_memory();
    struct arena_block *block = calloc(1, sizeof *block + size);
    if (!block) arena_out_of_memory();
    block->size = size;
    block->next = arena->head;
    arena->head = block;
    return block;
}

void *arena_alloc(struct arena *arena, size_t size) {
    if (size > SIZE_MAX - ALIGNMENT) arena_out_of_memory();
    size = (size + ALIGNMENT - 1) / ALIGNMENT * ALIGNMENT;
    struct arena_block *block = arena->head;
    if (!block || !BLOCK_BYTES || size > block->size - block->used) block = block_new(arena, size);
    void *place = (char *)block->data + block->used;
    block->used += size;
    return place;
}

void *arena_array(struct arena *arena, size_t count, size_t size) {
    if (size && count > SIZE_MAX / size) arena_out_of_memory();
    return arena_alloc(arena, count * size);
}

void *arena_grow(struct arena *arena, void *items, size_t count, size_t more, size_t *capacity,
                 size_t size) {
    if (items && more <= *capacity - count) return items;
    if (more > SIZE_MAX - count) arena_out_of_memory();
    size_t needed = count + more, first = FIRST_BYTES / size;
    size_t larger = *capacity ? *capacity : first > FIRST_ITEMS ? first : FIRST_ITEMS;
    while (larger < needed) larger = larger > SIZE_MAX / 2 ? needed : larger * 2;
    void *copy = arena_array(arena, larger, size);
    if (items) memcpy(copy, items, count * size);
    *capacity = larger;
    return copy;
}

char *arena_copy(struct arena *arena, const char *data, size_t size) {
    char *copy = arena_alloc(arena, size + 1);
    if (size) memcpy(copy, data, size);
    return copy;
}

char *arena_printf(struct arena *arena, const char *format, ...) {
    va_list args, again;
    va_start(args, format);
    va_copy(again, args);
    char small[128]; /* nearly all that is written */
    int size = vsnprintf(small, sizeof small, format, args);
    va_end(args);
    if (size < 0) arena_out_of_memory();
    char *text = arena_alloc(arena, (size_t)size + 1);
    if ((size_t)size < sizeof small)
        memcpy(text, small, (size_t)size + 1);
    else
        vsnprintf(text, (size_t)size + 1, format, again);
    va_end(again);
    return text;
}

void arena_free(struct arena *arena) {
    while (arena->head) {
        struct arena_block *block = arena->head;
        arena->head = block->next;
        free(block);
    }
}
