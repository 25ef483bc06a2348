#include "emit/write/lines.h"

#include <string.h>

#include "base/unicode.h"

struct lines {
    struct str *line; /* without their ends */
    int count;
    size_t capacity;
};

static struct lines lines_of(struct arena *arena, struct str text) {
    struct lines lines = {.line = NEW(arena, struct str, 1), .capacity = 1};
    while (text.size) {
        const char *end = memchr(text.data, '\n', text.size);
        size_t size = end ? (size_t)(end - text.data) : text.size;
        GROW(arena, lines.line, lines.count, lines.capacity);
        lines.line[lines.count++] = (struct str){text.data, size};
        size += end != NULL;
        text.data += size, text.size -= size;
    }
    return lines;
}

/* The nearest place from which both go on alike: so many lines out, so many in. */
static void next_alike(const struct lines *old, int i, const struct lines *new, int j, int *out,
                       int *in) {
    for (int apart = 1; apart <= LINES_APART; apart++)
        for (*out = 0; *out <= apart; ++*out) {
            *in = apart - *out;
            if (i + *out > old->count || j + *in > new->count) continue;
            bool ends = i + *out == old->count && j + *in == new->count;
            bool alike = i + *out < old->count &&
                         j + *in < new->count &&str_equal(old->line[i + *out], new->line[j + *in]);
            if (ends || alike) return;
        }
    *out = old->count - i;
    *in = new->count - j;
}

static void put(struct buf *out, char sign, const struct lines *lines, int from, int count) {
    for (int i = from; i < from + count; i++)
        buf_printf(out, "%c%s\n", sign, unicode_clean(out->arena, lines->line[i]).data);
}

/* A hunk without lines on one side names the line before it. */
static void hunk(struct buf *out, const struct lines *old, int i, int gone, const struct lines *new,
                 int j, int come) {
    buf_printf(out, "@@ -%d,%d +%d,%d @@\n", i + (gone > 0), gone, j + (come > 0), come);
    put(out, '-', old, i, gone);
    put(out, '+', new, j, come);
}

void lines_difference(struct buf *out, const char *name, struct str old_text, struct str new_text) {
    struct lines old = lines_of(out->arena, old_text), new = lines_of(out->arena, new_text);
    bool begun = false;
    for (int i = 0, j = 0; i < old.count || j < new.count;) {
        int gone = 0, come = 0;
        if (i < old.count && j < new.count &&str_equal(old.line[i], new.line[j])) {
            i++, j++;
            continue;
        }
        next_alike(&old, i, &new, j, &gone, &come);
        if (!begun) buf_printf(out, "--- %s\n+++ %s\n", name, name);
        begun = true;
        hunk(out, &old, i, gone, &new, j, come);
        i += gone, j += come;
    }
}
