/* What the entries of the fuzzer share: what holds of every output, and a mutator of numbers.
 *
 * Nothing may crash or hang; every diagnostic stands inside the text; reports are JSON, and nothing
 * that is put out holds a character that a reader could not see.
 */
#ifndef PLUGWRIGHT_FUZZ_H
#define PLUGWRIGHT_FUZZ_H

#include <jansson.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/unicode.h"
#include "compile.h"
#include "compute/implied.h"
#include "emit/calendar.h"
#include "emit/drawing/drawing.h"
#include "emit/facts.h"
#include "emit/order/order.h"
#include "emit/report.h"
#include "emit/terminal.h"
#include "model/walk.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);
size_t LLVMFuzzerMutate(uint8_t *data, size_t size, size_t most);
size_t LLVMFuzzerCustomMutator(uint8_t *data, size_t size, size_t most, unsigned seed);

#define DEMAND(condition, ...)        \
    do {                              \
        if (condition) break;         \
        fprintf(stderr, __VA_ARGS__); \
        fputc('\n', stderr);          \
        abort();                      \
    } while (0)

/* Text for people: UTF-8 that shows all it holds but its line ends. */
static inline void demand_text(const char *what, struct str text) {
    for (struct str rest = text; rest.size;) {
        size_t at = (size_t)(rest.data - text.data);
        struct character c = unicode_take(&rest);
        bool line_end = c.point == '\n' || c.point == '\t' || c.point == '\r';
        DEMAND(c.kind != CHARACTER_BROKEN, "%s: byte %zu is not UTF-8", what, at);
        DEMAND(c.kind == CHARACTER_SHOWN || line_end, "%s: U+%04X at byte %zu", what,
               (unsigned)c.point, at);
    }
}

static inline void demand_json(const char *what, const struct buf *out) {
    json_error_t error;
    json_t *root = json_loadb(out->data, out->size, 0, &error);
    DEMAND(root, "%s: %d:%d: %s", what, error.line, error.column, error.text);
    demand_text(what, (struct str){out->data, out->size});
    json_decref(root);
}

/* Code points of a line, its end not counted. */
static inline int line_points(const struct text_file *file, int line) {
    size_t from = file->line_start[line - 1];
    size_t to = line < file->line_count ? file->line_start[line] : file->text.size;
    return (int)unicode_points((struct str){file->text.data + from, to - from});
}

static inline void demand_places(const struct diags *diags, bool readable) {
    for (int i = 0; i < diags->count; i++) {
        const struct diag *d = &diags->items[i];
        demand_text("message", str_of(d->message));
        if (d->hint) demand_text("hint", str_of(d->hint));
        if (!d->at.file || d->at.line == 0 || !readable) continue;
        DEMAND(d->at.line <= d->at.file->line_count, "%s: line %d of %d", d->message, d->at.line,
               d->at.file->line_count);
        DEMAND(d->at.column >= 1 && d->at.column <= line_points(d->at.file, d->at.line) + 1,
               "%s: column %d", d->message, d->at.column);
    }
}

static inline struct str bytes_of(const struct buf *buf) {
    return (struct str){buf->data, buf->size};
}

static inline void put_facts(struct arena *arena, const struct compilation *c) {
    struct buf out = {.arena = arena};
    struct walk walk = {.arena = arena, .recipe = c->recipe, .diags = &c->diags};
    walk.implied = implied_values(arena, &c->results);
    facts_emit(&out, &walk, NULL, 0, NULL, &c->diags);
    demand_text("facts", bytes_of(&out));
}

/* Everything that is made of a recipe without errors. */
static inline void put_out(struct arena *arena, const struct compilation *c) {
    struct buf report = {.arena = arena}, screen = {.arena = arena}, order = {.arena = arena},
               calendar = {.arena = arena};
    report_emit(&report, c->recipe, &c->results, &c->diags);
    demand_json("report", &report);
    terminal_emit(&screen, c->recipe, &c->results);
    demand_text("terminal", bytes_of(&screen));
    struct figure_list figures = drawing_all(arena, c->recipe, &c->results);
    for (int i = 0; i < figures.count; i++)
        demand_text(figures.figures[i].file, bytes_of(&figures.figures[i].svg));
    order_emit(&order, c->recipe, &c->results, &figures, &(struct order_style){.copies = 1});
    demand_text("order", bytes_of(&order));
    calendar_emit(&calendar, c->recipe, &c->results);
    demand_text("calendar", bytes_of(&calendar));
    put_facts(arena, c);
}

/* What holds of any compilation, and of its outputs. */
static inline void demand_all(struct arena *arena, struct compilation *c) {
    static FILE *nowhere;
    if (!nowhere) nowhere = fopen("/dev/null", "w");
    demand_places(&c->diags, c->document.root != NULL);
    if (nowhere) diags_print(&c->diags, nowhere, true);
    if (compilation_failed(c)) {
        struct buf report = {.arena = arena};
        report_diagnostics(&report, &c->diags);
        demand_json("diagnostics", &report);
    } else {
        put_out(arena, c);
    }
}

/* The text up to the next zero byte, which is stepped over: one of several files. */
static inline struct str next_file(struct str *rest) {
    const char *zero = rest->size ? memchr(rest->data, 0, rest->size) : NULL;
    struct str file = {rest->data, zero ? (size_t)(zero - rest->data) : rest->size};
    size_t taken = file.size + (zero != NULL);
    rest->data += taken;
    rest->size -= taken;
    return file;
}

static inline bool is_digit(uint8_t c) {
    return c >= '0' && c <= '9';
}

/* The `which`th number that stands in the data, counted around: where it begins and ends. */
static inline bool find_number(const uint8_t *data, size_t size, unsigned which, size_t *from,
                               size_t *to) {
    unsigned count = 0;
    for (int round = 0; round < 2; round++, which %= count ? count : 1, count = 0)
        for (size_t at = 0; at < size; at++) {
            if (!is_digit(data[at]) || (at && is_digit(data[at - 1]))) continue;
            for (*from = at, *to = at; *to < size && (is_digit(data[*to]) || data[*to] == '.');)
                ++*to;
            if (round && count == which) return true;
            count++;
        }
    return false;
}

/* Half of the time another number in place of one that stands there, so that more recipes stay
 * recipes; else what the fuzzer does of itself. */
size_t LLVMFuzzerCustomMutator(uint8_t *data, size_t size, size_t most, unsigned seed) {
    static const char *const numbers[] = {"0",   "1",   "2",   "3",    "0.001", "0.1", "0.5", "7",
                                          "13",  "20",  "45",  "50",   "89",    "90",  "99",  "100",
                                          "150", "300", "500", "1000", "9999",  "-1",  "-50"};
    const char *number = numbers[seed / 8 % (sizeof numbers / sizeof *numbers)];
    size_t from, to, length = strlen(number);
    if (seed % 2 || !find_number(data, size, seed / 256, &from, &to) ||
        size - (to - from) + length > most)
        return LLVMFuzzerMutate(data, size, most);
    memmove(data + from + length, data + to, size - to);
    memcpy(data + from, number, length);
    return size - (to - from) + length;
}

#endif
