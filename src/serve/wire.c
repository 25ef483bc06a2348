#include "serve/wire.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

enum { MOST_HEADER = 4096 };

static bool fill(struct wire *wire) {
    ssize_t size;
    do size = read(wire->in, wire->chunk, sizeof wire->chunk);
    while (size < 0 && errno == EINTR);
    wire->at = 0;
    wire->size = size > 0 ? (size_t)size : 0;
    return size > 0;
}

/* The lines up to the empty one, without it. */
static enum wire_state take_header(struct wire *wire, struct buf *header, const char **wrong) {
    buf_text(header, "");
    while (header->size < MOST_HEADER) {
        if (wire->at == wire->size && !fill(wire)) {
            *wrong = "the input ends within a header";
            return header->size ? WIRE_WRONG : WIRE_END;
        }
        buf_char(header, wire->chunk[wire->at++]);
        if (header->size >= 4 && memcmp(header->data + header->size - 4, "\r\n\r\n", 4) == 0)
            return WIRE_MESSAGE;
    }
    *wrong = "a header has more than 4096 bytes, or no empty line behind it";
    return WIRE_WRONG;
}

/* Decimal digits alone, up to the end of the line; -1 where it is no such number. */
static long number_of(const char *text) {
    long value = 0;
    text += strspn(text, " \t");
    size_t digits = strspn(text, "0123456789");
    if (!digits || text[digits + strspn(text + digits, " \t")] != '\r') return -1;
    for (size_t i = 0; i < digits && value <= WIRE_MOST; i++) value = value * 10 + (text[i] - '0');
    return value;
}

static long length_of(struct str header, const char **wrong) {
    static const char name[] = "content-length:";
    size_t size = sizeof name - 1;
    *wrong = "a message has no Content-Length";
    if (memchr(header.data, 0, header.size)) return -1;
    for (const char *line = header.data; line; line = strstr(line, "\r\n")) {
        line += strspn(line, "\r\n");
        if (!str_is_any_case((struct str){line, strnlen(line, size)}, name)) continue;
        long length = number_of(line + size);
        *wrong = length < 0 ? "Content-Length is no whole number"
                            : "a message has more than 8 MiB, which is more than is read";
        return length > WIRE_MOST ? -1 : length;
    }
    return -1;
}

enum wire_state wire_take(struct wire *wire, struct arena *arena, struct str *body,
                          const char **wrong) {
    struct buf header = {.arena = arena};
    enum wire_state state = take_header(wire, &header, wrong);
    if (state != WIRE_MESSAGE) return state;
    long length = length_of(buf_whole(&header), wrong);
    if (length < 0) return WIRE_WRONG;
    struct buf bytes = {.arena = arena};
    buf_text(&bytes, "");
    while (bytes.size < (size_t)length) {
        *wrong = "the input ends within a message";
        if (wire->at == wire->size && !fill(wire)) return WIRE_WRONG;
        size_t due = (size_t)length - bytes.size, there = wire->size - wire->at;
        size_t size = due < there ? due : there;
        buf_bytes(&bytes, wire->chunk + wire->at, size);
        wire->at += size;
    }
    *body = buf_whole(&bytes);
    return WIRE_MESSAGE;
}

static bool put_bytes(int out, const char *data, size_t size) {
    while (size) {
        ssize_t put = write(out, data, size);
        if (put < 0 && errno == EINTR) continue;
        if (put <= 0) return false;
        data += put;
        size -= (size_t)put;
    }
    return true;
}

bool wire_put(struct wire *wire, struct str body) {
    char header[64];
    int size = snprintf(header, sizeof header, "Content-Length: %zu\r\n\r\n", body.size);
    return put_bytes(wire->out, header, (size_t)size) && put_bytes(wire->out, body.data, body.size);
}
