#include "serve/document.h"

#include <string.h>

#include "base/unicode.h"
#include "emit/write/uri.h"
#include "read/text.h"

const char *document_path(struct arena *arena, struct str uri) {
    static const char scheme[] = "file://";
    static const char hex[] = "0123456789abcdef";
    struct buf path = {.arena = arena};
    if (!text_starts_with(uri, 0, scheme)) return NULL;
    size_t at = strlen(scheme);
    while (at < uri.size && uri.data[at] != '/') at++; /* a host: this one */
    for (; at < uri.size; at++) {
        char c = uri.data[at];
        if (c == '%' && at + 2 < uri.size) {
            const char *high = strchr(hex, uri.data[at + 1] | 0x20);
            const char *low = strchr(hex, uri.data[at + 2] | 0x20);
            if (!high || !low) return NULL;
            c = (char)((high - hex) * 16 + (low - hex));
            at += 2;
        }
        if (!c) return NULL;
        buf_char(&path, c);
    }
    return path.data;
}

const char *document_uri(struct arena *arena, const char *path) {
    return arena_printf(arena, "file://%s", uri_of(arena, path));
}

static void index_lines(struct document_open *d) {
    size_t capacity = 0;
    size_t *lines = NULL;
    d->line_count = 0;
    for (size_t at = 0;; at++) {
        bool first =
            at == 0 || d->text.data[at - 1] == '\n' ||
            (d->text.data[at - 1] == '\r' && (at == d->text.size || d->text.data[at] != '\n'));
        if (first) {
            GROW(&d->arena, lines, d->line_count, capacity);
            lines[d->line_count++] = at;
        }
        if (at == d->text.size) break;
    }
    d->lines = lines;
}

void document_open(struct document_open *d, struct str uri, int64_t version, struct str text) {
    *d = (struct document_open){.version = version};
    d->uri = arena_copy(&d->arena, uri.data, uri.size);
    d->path = document_path(&d->arena, uri);
    d->text = (struct str){arena_copy(&d->arena, text.data, text.size), text.size};
    index_lines(d);
}

void document_change(struct document_open *d, int64_t version, struct str text) {
    struct document_open old = *d;
    document_open(d, str_of(old.uri), version, text);
    arena_free(&old.arena);
}

struct compilation *document_compiled(struct document_open *d) {
    if (!d->compiled) d->compilation = compile_edited(&d->arena, d->path, d->text);
    d->compiled = true;
    return &d->compilation;
}

struct compilation *document_completed(struct document_open *d) {
    struct compilation *c = document_compiled(d);
    if (c->recipe && !compilation_failed(c)) compile_complete(&d->arena, c);
    return c;
}

bool document_settled(struct document_open *d) {
    return compilation_settled(document_compiled(d));
}

void document_settle(struct document_open *d) {
    compile_settle(&d->arena, document_compiled(d));
}

void document_outdate(struct document_open *d) {
    if (d->compiled) document_change(d, d->version, d->text);
}

void document_close(struct document_open *d) {
    arena_free(&d->arena);
    *d = (struct document_open){.uri = NULL};
}

static size_t line_end(const struct document_open *d, int line) {
    size_t end = line + 1 < d->line_count ? d->lines[line + 1] : d->text.size;
    while (end > d->lines[line] && strchr("\r\n", d->text.data[end - 1])) end--;
    return end;
}

/* Bytes of the character that begins here, and how much it counts; a broken byte counts one. */
static size_t step(const struct document_open *d, size_t byte, enum encoding unit, int *counts) {
    uint32_t point = 0;
    int size = unicode_decode(d->text.data + byte, d->text.size - byte, &point);
    if (size < 1) size = 1;
    *counts = unit == ENCODING_UTF8 ? size : point > 0xFFFF ? 2 : 1;
    return (size_t)size;
}

struct text_place document_place(const struct document_open *d, size_t byte, enum encoding unit) {
    int low = 0, high = d->line_count - 1, counts;
    while (low < high) {
        int middle = (low + high + 1) / 2;
        if (d->lines[middle] <= byte)
            low = middle;
        else
            high = middle - 1;
    }
    struct text_place place = {.line = low};
    size_t end = line_end(d, low);
    if (byte > end) byte = end;
    for (size_t at = d->lines[low]; at < byte; place.character += counts)
        at += step(d, at, unit, &counts);
    return place;
}

size_t document_byte(const struct document_open *d, struct text_place place, enum encoding unit) {
    if (place.line < 0) return 0;
    if (place.line >= d->line_count) return d->text.size;
    size_t at = d->lines[place.line], end = line_end(d, place.line);
    int counts;
    for (int left = place.character; left > 0 && at < end; left -= counts)
        at += step(d, at, unit, &counts);
    return at;
}

bool document_bytes(const struct document_open *d, struct span span, size_t *from, size_t *to) {
    const struct document *read = &d->compilation.document;
    const struct text_file *own = read->source_count ? &read->sources[0]->file : NULL;
    *from = *to = 0;
    if (!span.file || span.file != own) return false;
    if (span.line < 1 || span.line > own->line_count) return true; /* the file as a whole */
    size_t mark = d->text.size - own->text.size;                   /* of the order of bytes */
    if (!own->text.size) mark = 0;
    size_t at = own->line_start[span.line - 1];
    for (int i = 1; i < span.column && at < own->text.size; i++)
        at = text_next_point(own->text, at);
    *from = at + mark;
    for (int i = 0; i < span.length && at < own->text.size; i++)
        at = text_next_point(own->text, at);
    *to = at + mark;
    return true;
}
