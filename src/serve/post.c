#include "serve/post.h"

#include <errno.h>
#include <poll.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

enum { MOST_HEADER = 4096 };

static bool fill(struct post *post) {
    ssize_t size;
    do size = read(post->in, post->chunk, sizeof post->chunk);
    while (size < 0 && errno == EINTR);
    post->at = 0;
    post->size = size > 0 ? (size_t)size : 0;
    return size > 0;
}

/* The lines up to the empty one, without it. */
static enum post_state take_header(struct post *post, struct buf *header, const char **wrong) {
    buf_text(header, "");
    while (header->size < MOST_HEADER) {
        if (post->at == post->size && !fill(post)) {
            *wrong = "the input ends within a header";
            return header->size ? POST_WRONG : POST_END;
        }
        buf_char(header, post->chunk[post->at++]);
        if (header->size >= 4 && memcmp(header->data + header->size - 4, "\r\n\r\n", 4) == 0)
            return POST_MESSAGE;
    }
    *wrong = "a header has more than 4096 bytes, or no empty line behind it";
    return POST_WRONG;
}

/* Decimal digits alone, up to the end of the line; -1 where it is no such number. */
static long number_of(const char *text) {
    long value = 0;
    text += strspn(text, " \t");
    size_t digits = strspn(text, "0123456789");
    if (!digits || text[digits + strspn(text + digits, " \t")] != '\r') return -1;
    for (size_t i = 0; i < digits && value <= POST_MOST; i++) value = value * 10 + (text[i] - '0');
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
        return length > POST_MOST ? -1 : length;
    }
    return -1;
}

enum post_state post_take(struct post *post, struct arena *arena, struct str *body,
                          const char **wrong) {
    struct buf header = {.arena = arena};
    enum post_state state = take_header(post, &header, wrong);
    if (state != POST_MESSAGE) return state;
    long length = length_of(buf_whole(&header), wrong);
    if (length < 0) return POST_WRONG;
    struct buf bytes = {.arena = arena};
    buf_text(&bytes, "");
    while (bytes.size < (size_t)length) {
        *wrong = "the input ends within a message";
        if (post->at == post->size && !fill(post)) return POST_WRONG;
        size_t due = (size_t)length - bytes.size, there = post->size - post->at;
        size_t size = due < there ? due : there;
        buf_bytes(&bytes, post->chunk + post->at, size);
        post->at += size;
    }
    *body = buf_whole(&bytes);
    return POST_MESSAGE;
}

bool post_waits(const struct post *post, int milliseconds) {
    struct pollfd in = {.fd = post->in, .events = POLLIN};
    return post->at < post->size || poll(&in, 1, milliseconds) > 0;
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

bool post_put(struct post *post, struct str body) {
    char header[64];
    int size = snprintf(header, sizeof header, "Content-Length: %zu\r\n\r\n", body.size);
    return put_bytes(post->out, header, (size_t)size) && put_bytes(post->out, body.data, body.size);
}
