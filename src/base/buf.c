#include "base/buf.h"

#include <stdint.h>
#include <stdio.h>
#include <string.h>

/* Room for `more` bytes and the zero byte behind them. */
static void reserve(struct buf *buf, size_t more) {
    if (more == SIZE_MAX) arena_out_of_memory();
    buf->data = arena_grow(buf->arena, buf->data, buf->size, more + 1, &buf->capacity, 1);
}

void buf_bytes(struct buf *buf, const char *data, size_t size) {
    reserve(buf, size);
    if (size) memcpy(buf->data + buf->size, data, size);
    buf->size += size;
    buf->data[buf->size] = '\0';
}

void buf_text(struct buf *buf, const char *text) {
    buf_bytes(buf, text, strlen(text));
}

void buf_str(struct buf *buf, struct str text) {
    buf_bytes(buf, text.data, text.size);
}

void buf_char(struct buf *buf, char c) {
    buf_bytes(buf, &c, 1);
}

void buf_vprintf(struct buf *buf, const char *format, va_list args) {
    va_list again;
    va_copy(again, args);
    reserve(buf, 1);
    size_t room = buf->capacity - buf->size;
    int size = vsnprintf(buf->data + buf->size, room, format, args);
    if (size > 0 && (size_t)size >= room) {
        reserve(buf, (size_t)size);
        vsnprintf(buf->data + buf->size, (size_t)size + 1, format, again);
    }
    va_end(again);
    if (size > 0) buf->size += (size_t)size;
}

void buf_printf(struct buf *buf, const char *format, ...) {
    va_list args;
    va_start(args, format);
    buf_vprintf(buf, format, args);
    va_end(args);
}

struct str buf_whole(const struct buf *buf) {
    return (struct str){buf->data ? buf->data : "", buf->size};
}
