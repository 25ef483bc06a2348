/* Collecting and printing diagnostics.
 *
 * A snippet is the source line under a gutter with its number, then a line that repeats the line's
 * tabs and otherwise steps by display width, so that the caret stands under its code point:
 *
 *     4 |   length: 900 mm
 *       |           ^~~~~~
 *       = hint
 */
#include "base/diag.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "base/unicode.h"

enum {
    TEXT_SHOWN = 640,  /* code points of a message, hint or name */
    QUOTE_SHOWN = 40,  /* code points of a quoted word */
    LINE_SHOWN = 160,  /* code points of a source line that are shown without a cut */
    LINE_BEFORE = 60,  /* of a longer line: code points before the caret, */
    LINE_WINDOW = 150, /* and in all */
};

/* Collecting */

/* Most diagnostics are about the file that the last one was about, so look from the end. */
static int file_order(struct diags *diags, const struct text_file *file) {
    for (int i = diags->file_count - 1; i >= 0; i--)
        if (diags->files[i] == file) return i;
    GROW(diags->arena, diags->files, diags->file_count, diags->file_capacity);
    diags->files[diags->file_count] = file;
    return diags->file_count++;
}

void diag_add(struct diags *diags, enum severity severity, struct span at, const char *rule,
              const char *hint, const char *format, ...) {
    struct buf message = {.arena = diags->arena};
    va_list args;
    va_start(args, format);
    buf_vprintf(&message, format, args);
    va_end(args);
    GROW(diags->arena, diags->items, diags->count, diags->capacity);
    diags->items[diags->count] = (struct diag){
        .severity = severity,
        .at = at,
        .rule = rule,
        .message = diag_clean(diags->arena, message.data),
        .hint = hint ? diag_clean(diags->arena, hint) : NULL,
        .file_order = file_order(diags, at.file),
        .order = diags->count,
    };
    diags->count++;
    if (severity == SEVERITY_ERROR)
        diags->errors++;
    else
        diags->warnings++;
}

void diag_offer(struct diags *diags, int choice, bool otherwise, const char *words) {
    if (diags->trial) return;
    struct diag *diag = &diags->items[diags->count - 1];
    GROW(diags->arena, diag->offers, diag->offer_count, diag->offer_capacity);
    diag->offers[diag->offer_count++] =
        (struct diag_offer){.choice = choice, .otherwise = otherwise, .words = words};
}

void diag_edit(struct diags *diags, struct span part, const char *text) {
    if (diags->trial) return;
    const struct diag *diag = &diags->items[diags->count - 1];
    struct diag_offer *offer = &diag->offers[diag->offer_count - 1];
    GROW(diags->arena, offer->edits, offer->edit_count, offer->edit_capacity);
    offer->edits[offer->edit_count++] = (struct diag_edit){part, text};
}

void diag_lead(struct diags *diags, const char *lead) {
    diags->items[diags->count - 1].lead = lead;
}

static int by_place(const void *left, const void *right) {
    const struct diag *a = left, *b = right;
    if (a->file_order != b->file_order) return a->file_order < b->file_order ? -1 : 1;
    if (a->at.line != b->at.line) return a->at.line < b->at.line ? -1 : 1;
    if (a->at.column != b->at.column) return a->at.column < b->at.column ? -1 : 1;
    return (a->order > b->order) - (a->order < b->order);
}

void diags_sort(struct diags *diags) {
    if (diags->count > 1) qsort(diags->items, (size_t)diags->count, sizeof *diags->items, by_place);
}

static bool same(const struct diag *a, const struct diag *b) {
    return a->severity == b->severity && strcmp(a->rule, b->rule) == 0 &&
           strcmp(a->message, b->message) == 0;
}

static bool is_here(const struct diag *a, const struct diag *b) {
    return a->file_order == b->file_order && a->at.line == b->at.line &&
           a->at.column == b->at.column;
}

/* What stands at one place is one run. */
static bool said_before(const struct diags *diags, int kept, const struct diag *diag) {
    for (int i = kept - 1; i >= 0 && is_here(&diags->items[i], diag); i--)
        if (same(&diags->items[i], diag)) return true;
    return false;
}

void diags_once(struct diags *diags) {
    int kept = 0;
    for (int i = 0; i < diags->count; i++) {
        const struct diag *diag = &diags->items[i];
        bool again = diag->at.file && said_before(diags, kept, diag);
        if (!again) diags->items[kept++] = *diag;
        if (again) --*(diag->severity == SEVERITY_ERROR ? &diags->errors : &diags->warnings);
    }
    diags->count = kept;
}

/* Showing code points */

/* One character made fit to be shown: its bytes (or "?") and its width. */
struct shown {
    struct str bytes;
    int width;
};

/* Takes one character off the front of `rest`. */
static struct shown take_shown(struct str *rest) {
    struct character c = unicode_take(rest);
    if (c.kind == CHARACTER_SHOWN) return (struct shown){c.bytes, c.width};
    return (struct shown){str_of("?"), 1};
}

static void clean_into(struct buf *buf, struct str text, int most) {
    for (int points = 0; text.size; points++) {
        if (points == most) {
            buf_text(buf, "...");
            return;
        }
        if (text.data[0] == '\t' || text.data[0] == '\n') {
            buf_char(buf, ' ');
            text.data++, text.size--;
            continue;
        }
        buf_str(buf, take_shown(&text).bytes);
    }
}

const char *diag_clean(struct arena *arena, const char *text) {
    struct buf buf = {.arena = arena};
    buf_text(&buf, "");
    clean_into(&buf, str_of(text), TEXT_SHOWN);
    return buf.data;
}

const char *diag_quote(struct arena *arena, struct str text) {
    struct buf buf = {.arena = arena};
    buf_char(&buf, '\'');
    clean_into(&buf, text, QUOTE_SHOWN);
    buf_char(&buf, '\'');
    return buf.data;
}

/* Printing */

struct style {
    const char *place, *error, *warning, *caret, *plain; /* SGR sequences, or "" */
};

static const struct style PLAIN = {"", "", "", "", ""};
static const struct style COLOURED = {"\033[1m", "\033[1;31m", "\033[1;35m", "\033[1;32m",
                                      "\033[0m"};

static void put(FILE *out, struct str text) {
    fwrite(text.data, 1, text.size, out);
}

static void put_repeated(FILE *out, char c, int times) {
    while (times-- > 0) putc(c, out);
}

static struct str source_line(const struct text_file *file, int line) {
    size_t from = file->line_start[line - 1];
    size_t to = line < file->line_count ? file->line_start[line] : file->text.size;
    while (to > from && (file->text.data[to - 1] == '\n' || file->text.data[to - 1] == '\r')) to--;
    return (struct str){file->text.data + from, to - from};
}

/* The part of a line that is shown: its first byte's code point (from 0), and its bytes. */
struct window {
    struct str text;
    int first;
    bool cut_before, cut_after;
};

static struct str skip_points(struct str text, int points) {
    while (points-- > 0 && text.size) take_shown(&text);
    return text;
}

static struct window window_of(struct str line, int column) {
    struct window window = {.text = line};
    if (skip_points(line, LINE_SHOWN).size == 0) return window;
    window.first = column - 1 > LINE_BEFORE ? column - 1 - LINE_BEFORE : 0;
    window.text = skip_points(line, window.first);
    struct str rest = skip_points(window.text, LINE_WINDOW);
    window.text.size -= rest.size;
    window.cut_before = window.first > 0;
    window.cut_after = rest.size > 0;
    return window;
}

static void print_source(FILE *out, const struct window *window) {
    if (window->cut_before) fputs("...", out);
    for (struct str rest = window->text; rest.size;) {
        if (rest.data[0] == '\t') {
            putc('\t', out);
            rest.data++, rest.size--;
        } else
            put(out, take_shown(&rest).bytes);
    }
    if (window->cut_after) fputs("...", out);
    putc('\n', out);
}

static void print_caret(FILE *out, const struct window *window, struct span at) {
    struct str rest = window->text;
    if (window->cut_before) fputs("   ", out);
    int before = at.column - 1 - window->first;
    for (; before > 0 && rest.size; before--) {
        bool tab = rest.data[0] == '\t';
        int width = take_shown(&rest).width;
        put_repeated(out, tab ? '\t' : ' ', tab ? 1 : width);
    }
    int run = 0;
    for (int i = 0; i < at.length && rest.size; i++) run += take_shown(&rest).width;
    putc('^', out);
    put_repeated(out, '~', run - 1);
}

static int digits_of(int number) {
    int digits = 1;
    while (number >= 10) number /= 10, digits++;
    return digits;
}

static void print_snippet(FILE *out, struct span at, const char *hint, const struct style *style) {
    int gutter = 5;
    if (at.file && at.line >= 1 && at.line <= at.file->line_count) {
        if (digits_of(at.line) > gutter) gutter = digits_of(at.line);
        struct window window = window_of(source_line(at.file, at.line), at.column);
        fprintf(out, "%*d | ", gutter, at.line);
        print_source(out, &window);
        fprintf(out, "%*s | %s", gutter, "", style->caret);
        print_caret(out, &window, at);
        fprintf(out, "%s\n", style->plain);
    }
    if (hint) fprintf(out, "%*s = %s\n", gutter, "", hint);
}

static const char *place_words(struct arena *arena, struct span at) {
    const char *name = at.file ? diag_clean(arena, at.file->name) : "plugwright";
    if (!at.file || at.line == 0) return name;
    return arena_printf(arena, "%s:%d:%d", name, at.line, at.column);
}

static void print_one(struct arena *arena, FILE *out, const struct diag *diag,
                      const struct style *style) {
    bool error = diag->severity == SEVERITY_ERROR;
    fputs(style->place, out);
    fprintf(out, "%s:", place_words(arena, diag->at));
    fprintf(out, "%s %s%s:%s %s [%s]\n", style->plain, error ? style->error : style->warning,
            error ? "error" : "warning", style->plain, diag->message, diag->rule);
    print_snippet(out, diag->at, diag->hint, style);
}

/* Up to so many characters off the front of `rest`, as they are shown. */
static const char *take_clean(struct arena *arena, struct str *rest, int points) {
    struct buf out = {.arena = arena};
    buf_text(&out, "");
    for (; points > 0 && rest->size; points--) {
        bool tab = rest->data[0] == '\t';
        struct str bytes = take_shown(rest).bytes;
        buf_str(&out, tab ? str_of(" ") : bytes);
    }
    return out.data;
}

struct diag_place diag_place(struct arena *arena, struct span at) {
    struct diag_place place = {.words = place_words(arena, at)};
    if (!at.file || at.line < 1 || at.line > at.file->line_count) return place;
    struct window window = window_of(source_line(at.file, at.line), at.column);
    struct str rest = window.text;
    const char *before = take_clean(arena, &rest, at.column - 1 - window.first);
    place.before = arena_printf(arena, "%s%s", window.cut_before ? "..." : "", before);
    place.at = take_clean(arena, &rest, at.length > 0 ? at.length : 1);
    const char *after = take_clean(arena, &rest, (int)rest.size);
    place.after = arena_printf(arena, "%s%s", after, window.cut_after ? "..." : "");
    return place;
}

const struct diag **diags_chosen(const struct diags *diags, int *count) {
    const struct diag **list = NEW(diags->arena, const struct diag *, diags->count);
    int errors = diags->errors < DIAGS_SHOWN ? diags->errors : DIAGS_SHOWN;
    int room[] = {[SEVERITY_WARNING] = DIAGS_SHOWN - errors, [SEVERITY_ERROR] = errors};
    *count = 0;
    for (int i = 0; i < diags->count; i++)
        if (room[diags->items[i].severity]-- > 0) list[(*count)++] = &diags->items[i];
    return list;
}

const struct diag **diags_shown(struct diags *diags, int *count) {
    diags_sort(diags);
    return diags_chosen(diags, count);
}

void diags_print(struct diags *diags, FILE *out, bool colour) {
    int count;
    const struct diag **list = diags_shown(diags, &count);
    for (int i = 0; i < count; i++)
        print_one(diags->arena, out, list[i], colour ? &COLOURED : &PLAIN);
    if (diags->count > DIAGS_SHOWN)
        fprintf(out, "%d more are not shown\n", diags->count - DIAGS_SHOWN);
}

void diags_summary(const struct diags *diags, FILE *out) {
    if (diags->count == 0) return;
    if (diags->errors) fprintf(out, "%d error%s", diags->errors, diags->errors == 1 ? "" : "s");
    if (diags->errors && diags->warnings) fputs(", ", out);
    if (diags->warnings)
        fprintf(out, "%d warning%s", diags->warnings, diags->warnings == 1 ? "" : "s");
    putc('\n', out);
}
