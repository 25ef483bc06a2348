/* Every change is bytes taken out of the old text at a place and others put there; they are applied
 * from the first place to the last. */
#include "read/amend.h"

#include <stdlib.h>
#include <string.h>

#include "base/buf.h"
#include "base/unicode.h"

struct splice {
    size_t at, out;
    const char *in;
    int order; /* of those at one place, the order in which they were asked for */
};

struct amender {
    struct arena *arena;
    const struct text_file *file;
    const struct node *root;
    const char *line_end;
    struct splice *splices;
    int count;
    size_t capacity;
    const char *begun[8]; /* lists that are not there and stand at the end of the text by now */
    int begun_count;
};

/* --- places ---------------------------------------------------------------------------------- */

static size_t after_points(const struct text_file *file, size_t at, int points) {
    for (; at < file->text.size && points > 0; points--) {
        at++;
        while (at < file->text.size && unicode_continues(file->text.data[at])) at++;
    }
    return at;
}

static size_t start_of(const struct text_file *file, struct span span) {
    return after_points(file, file->line_start[span.line - 1], span.column - 1);
}

static size_t end_of(const struct text_file *file, struct span span) {
    return after_points(file, start_of(file, span), span.length);
}

/* Before the end of the line, a carriage return counting to that. */
static size_t line_end_after(const struct text_file *file, size_t at) {
    const char *data = file->text.data;
    while (at < file->text.size && data[at] != '\n') at++;
    return at > 0 && at < file->text.size && data[at - 1] == '\r' ? at - 1 : at;
}

static void splice(struct amender *a, size_t at, size_t out, const char *in) {
    GROW(a->arena, a->splices, a->count, a->capacity);
    a->splices[a->count] = (struct splice){at, out, in, a->count};
    a->count++;
}

static const char *blanks(struct amender *a, int count) {
    return arena_printf(a->arena, "%*s", count, "");
}

static bool is_at(const struct amender *a, const struct node *node, char sign) {
    size_t at = start_of(a->file, node->at);
    return at < a->file->text.size && a->file->text.data[at] == sign;
}

/* --- rows ------------------------------------------------------------------------------------ */

static bool says(const struct node *item, const char *key, const char *value) {
    const struct node *child = tree_find(item, key);
    return child && child->kind == NODE_SCALAR && str_is(child->text, value);
}

const struct node *amend_row(const struct node *root, const struct amendment *m) {
    const struct node *list = tree_find(root, m->list);
    if (!list || list->kind != NODE_SEQUENCE) return NULL;
    for (const struct node *item = list->first; item; item = item->next) {
        if (item->kind != NODE_MAPPING || !says(item, m->tells[0].key, m->tells[0].value)) continue;
        bool other = m->tells[1].key && tree_find(item, m->tells[1].key) &&
                     !says(item, m->tells[1].key, m->tells[1].value);
        if (!other) return item;
    }
    return NULL;
}

/* Figures behind one that is there: in brackets behind it, else on lines of their own. */
static void put_behind(struct amender *a, const struct node *item, const struct node *first,
                       const char *key, const char *value) {
    if (is_at(a, item, '{'))
        splice(a, end_of(a->file, first->at), 0, arena_printf(a->arena, ", %s: %s", key, value));
    else
        splice(a, line_end_after(a->file, end_of(a->file, first->at)), 0,
               arena_printf(a->arena, "%s%s%s: %s", a->line_end,
                            blanks(a, item->first->key_at.column - 1), key, value));
}

static void amend(struct amender *a, const struct node *item, const struct amendment *m) {
    const struct node *behind = tree_find(item, m->values[0].key);
    if (!behind) behind = tree_find(item, m->tells[0].key);
    for (int i = 0; i < AMEND_VALUES && m->values[i].key; i++) {
        const struct node *old = tree_find(item, m->values[i].key);
        if (!old)
            put_behind(a, item, behind, m->values[i].key, m->values[i].value);
        else if (old->kind == NODE_SCALAR)
            splice(a, start_of(a->file, old->at),
                   end_of(a->file, old->at) - start_of(a->file, old->at), m->values[i].value);
    }
}

/* --- rows that are not there ----------------------------------------------------------------- */

static const char *whole_row(struct amender *a, const struct amendment *m) {
    struct buf row = {.arena = a->arena};
    const char *lead = "{";
    for (int i = 0; i < 2 && m->tells[i].key; i++, lead = ", ")
        buf_printf(&row, "%s%s: \"%s\"", lead, m->tells[i].key, m->tells[i].value);
    for (int i = 0; i < AMEND_VALUES && m->values[i].key; i++)
        buf_printf(&row, ", %s: %s", m->values[i].key, m->values[i].value);
    buf_text(&row, "}");
    return row.data;
}

/* Columns before the dash of the list's first item. */
static int dash_column(const struct amender *a, const struct node *list) {
    if (!list->first) return 2;
    size_t line = a->file->line_start[list->first->at.line - 1];
    size_t at = line, end = start_of(a->file, list->first->at);
    while (at < end && a->file->text.data[at] == ' ') at++;
    return a->file->text.data[at] == '-' ? (int)(at - line) : 2;
}

/* A list that is there ends up at the end of the text once, however many rows it gets. */
static void begin_list(struct amender *a, const struct amendment *m, const char *row) {
    size_t end = a->file->text.size;
    bool begun = false;
    for (int i = 0; i < a->begun_count; i++) begun |= strcmp(a->begun[i], m->list) == 0;
    if (!begun) {
        bool open = end > 0 && a->file->text.data[end - 1] != '\n' && !a->begun_count;
        splice(a, end, 0,
               arena_printf(a->arena, "%s%s%s:%s", open ? a->line_end : "", a->line_end, m->list,
                            a->line_end));
        a->begun[a->begun_count++] = m->list;
    }
    splice(a, end, 0, arena_printf(a->arena, "  - %s%s", row, a->line_end));
}

static void add_row(struct amender *a, const struct amendment *m) {
    const struct node *list = tree_find(a->root, m->list);
    const char *row = whole_row(a, m);
    if (!list)
        begin_list(a, m, row);
    else if (list->kind == NODE_SEQUENCE && is_at(a, list, '['))
        splice(a, start_of(a->file, list->at) + 1, 0,
               arena_printf(a->arena, list->first ? "%s, " : "%s", row));
    else
        splice(
            a, line_end_after(a->file, end_of(a->file, list->key_at)), 0,
            arena_printf(a->arena, "%s%s- %s", a->line_end, blanks(a, dash_column(a, list)), row));
}

/* --- the text -------------------------------------------------------------------------------- */

static int by_place(const void *x, const void *y) {
    const struct splice *a = x, *b = y;
    if (a->at != b->at) return a->at < b->at ? -1 : 1;
    return a->order - b->order;
}

struct str amend_text(struct arena *arena, const struct source *source, const struct node *root,
                      const struct amendment *amendments, int count) {
    struct str old = source->file.text;
    const char *end = memchr(old.data, '\n', old.size);
    struct amender a = {.arena = arena, .file = &source->file, .root = root};
    struct buf text = {.arena = arena};
    size_t at = 0;
    a.line_end = end && end > old.data && end[-1] == '\r' ? "\r\n" : "\n";
    for (int i = 0; i < count; i++) {
        const struct node *row = amend_row(root, &amendments[i]);
        if (row)
            amend(&a, row, &amendments[i]);
        else if (!amendments[i].there_only)
            add_row(&a, &amendments[i]);
    }
    if (a.count) qsort(a.splices, (size_t)a.count, sizeof *a.splices, by_place);
    for (int i = 0; i < a.count; i++) {
        buf_bytes(&text, old.data + at, a.splices[i].at - at);
        buf_text(&text, a.splices[i].in);
        at = a.splices[i].at + a.splices[i].out;
    }
    buf_bytes(&text, old.data + at, old.size - at);
    return buf_whole(&text);
}
