#include "read/text.h"

#include <string.h>

#include "base/unicode.h"

bool text_starts_with(struct str text, size_t byte, const char *prefix) {
    size_t size = strlen(prefix);
    return text.size - byte >= size && memcmp(text.data + byte, prefix, size) == 0;
}

size_t text_break_size(struct str text, size_t byte) {
    switch (text.data[byte]) {
    case '\n':
        return 1;
    case '\r':
        return text_starts_with(text, byte, "\r\n") ? 2 : 1;
    case '\xC2':
        return text_starts_with(text, byte, "\xC2\x85") ? 2 : 0;
    case '\xE2':
        if (text_starts_with(text, byte, "\xE2\x80\xA8")) return 3;
        return text_starts_with(text, byte, "\xE2\x80\xA9") ? 3 : 0;
    default:
        return 0;
    }
}

bool text_ends_line(struct str text, size_t byte) {
    return byte == text.size || text_break_size(text, byte) > 0;
}

size_t text_skip_blanks(struct str text, size_t byte) {
    while (byte < text.size && (text.data[byte] == ' ' || text.data[byte] == '\t')) byte++;
    return byte;
}

size_t text_next_point(struct str text, size_t byte) {
    if (byte < text.size) byte++;
    while (byte < text.size && unicode_continues(text.data[byte])) byte++;
    return byte;
}

struct str text_rest_of_line(struct str text, size_t byte) {
    size_t end = byte;
    while (!text_ends_line(text, end)) end++;
    return (struct str){text.data + byte, end - byte};
}

struct str text_rest_of_word(struct str text, size_t byte) {
    size_t end = byte;
    while (!text_ends_line(text, end) && !strchr(" \t,]}", text.data[end])) end++;
    return (struct str){text.data + byte, end - byte};
}

void text_index_lines(struct arena *arena, struct text_file *file) {
    struct str text = file->text;
    size_t count = 1, capacity = text.size / 32 + 16;
    size_t *starts = NEW(arena, size_t, capacity);
    for (size_t at = 0; at < text.size;) {
        at = unicode_skip_ascii(text, at);
        if (at == text.size) break;
        size_t size = text_break_size(text, at);
        at += size ? size : 1;
        if (size == 0) continue;
        GROW(arena, starts, count, capacity);
        starts[count++] = at;
    }
    file->line_start = starts;
    file->line_count = (int)count;
}

/* The line (from 0) on which a byte stands: the last that starts at or before it. */
static int line_at(const struct text_file *file, size_t byte) {
    int low = 0, high = file->line_count;
    while (high - low > 1) {
        int middle = low + (high - low) / 2;
        if (file->line_start[middle] <= byte)
            low = middle;
        else
            high = middle;
    }
    return low;
}

struct span text_span_at(const struct text_file *file, size_t byte) {
    int line = line_at(file, byte);
    size_t start = file->line_start[line];
    struct str before = {file->text.data + start, byte - start};
    return (struct span){file, line + 1, (int)unicode_points(before) + 1, 1};
}
