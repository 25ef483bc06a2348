#include "emit/calendar.h"

#include "emit/words/words.h"

#include <string.h>

#include "base/unicode.h"

/* RFC 5545, 3.1: a content line is folded at 75 octets, its CRLF left out; what goes on begins with
 * a blank.  A fold never falls inside a character. */
enum { FOLD_AT = 75 };

struct calendar {
    struct buf *out;
    const struct recipe *recipe;
    const struct results *r;
};

static void put_line(struct calendar *c, const char *text) {
    size_t size = strlen(text), room = FOLD_AT;
    while (size > room) {
        size_t cut = room;
        while (cut > 1 && unicode_continues(text[cut])) cut--;
        buf_bytes(c->out, text, cut);
        buf_text(c->out, "\r\n ");
        text += cut;
        size -= cut;
        room = FOLD_AT - 1; /* the blank counts */
    }
    buf_bytes(c->out, text, size);
    buf_text(c->out, "\r\n");
}

/* TEXT of RFC 5545, 3.3.11, cleaned: backslash, semicolon, comma and line break are escaped. */
static const char *escaped(struct arena *arena, struct str text) {
    struct buf out = {.arena = arena};
    buf_text(&out, "");
    while (text.size) {
        size_t line = 0;
        while (line < text.size && text.data[line] != '\n') line++;
        struct str clean = unicode_clean(arena, (struct str){text.data, line});
        for (size_t i = 0; i < clean.size; i++) {
            if (strchr("\\;,", clean.data[i])) buf_char(&out, '\\');
            buf_char(&out, clean.data[i]);
        }
        if (line < text.size) buf_text(&out, "\\n"), line++;
        text = (struct str){text.data + line, text.size - line};
    }
    return out.data;
}

static const char *clean(struct calendar *c, const char *text) {
    return escaped(c->out->arena, str_of(text));
}

/* Letters and digits of the name, for a UID that does not change with the recipe's other lines. */
static const char *slug(struct arena *arena, struct str name) {
    struct buf out = {.arena = arena};
    for (size_t i = 0; i < name.size; i++) {
        unsigned char ch = (unsigned char)name.data[i];
        bool word =
            (ch >= '0' && ch <= '9') || (ch >= 'a' && ch <= 'z') || (ch >= 'A' && ch <= 'Z');
        if (word || ch == '-')
            buf_char(&out, (char)ch);
        else
            buf_printf(&out, "%%%02X", ch);
    }
    return out.data;
}

static const char *stamp(struct calendar *c, int64_t seconds) {
    struct moment m = moment_after(c->recipe->shop->start, seconds);
    return arena_printf(c->out->arena, "%04d%02d%02dT%02d%02d%02d", m.year, m.month, m.day, m.hour,
                        m.minute, (int)(seconds % 60));
}

static void put(struct calendar *c, const char *name, const char *value) {
    put_line(c, arena_printf(c->out->arena, "%s%s", name, value));
}

static void open_event(struct calendar *c, const struct run_step *step, const char *kind,
                       int number, int64_t from, int64_t to) {
    struct arena *arena = c->out->arena;
    put_line(c, "BEGIN:VEVENT");
    put_line(c, arena_printf(
                    arena, "UID:%s.%s.%d.%s-%d@plugwright.invalid", slug(arena, c->recipe->name),
                    c->r->run.route.operations[step->operation].id, step->load, kind, number));
    /* Must be there, and must not depend on the day of compiling: the run's own beginning. */
    put_line(c, arena_printf(arena, "DTSTAMP:%sZ", stamp(c, 0)));
    put(c, "DTSTART:", stamp(c, from));
    if (to > from) put(c, "DTEND:", stamp(c, to));
}

static const char *plugs(struct calendar *c, const struct run_step *step,
                         const struct stint *stint) {
    struct arena *arena = c->out->arena;
    const char *load = step->load ? arena_printf(arena, " of load %d", step->load) : "";
    if (stint->first_plug == stint->last_plug)
        return arena_printf(arena, "plug %d%s", stint->first_plug, load);
    return arena_printf(arena, "plugs %d to %d%s", stint->first_plug, stint->last_plug, load);
}

static void put_stint(struct calendar *c, const struct stint *stint, int number) {
    struct arena *arena = c->out->arena;
    const struct run_step *step = &c->r->run.steps[stint->step];
    const struct operation *operation = &c->r->run.route.operations[step->operation];
    struct words words = words_of(arena, c->recipe, operation);
    const char *name = escaped(arena, c->recipe->name);
    open_event(c, step, "work", number, stint->from, stint->to);
    put_line(c, arena_printf(arena, "SUMMARY:%s: %s\\, %s", name, clean(c, words.title),
                             plugs(c, step, stint)));
    if (words.what) put(c, "DESCRIPTION:", clean(c, words.what));
    put_line(c, "END:VEVENT");
}

/* The end of a wait on the wheel: the moment at which it may be turned off. */
static void put_wheel(struct calendar *c, const struct run_step *step) {
    struct arena *arena = c->out->arena;
    const struct operation *operation = &c->r->run.route.operations[step->operation];
    const char *text =
        arena_printf(arena, "Turn off the wheel: %s", words_title(arena, c->recipe, operation));
    if (operation->station != AT_WHEEL || step->end <= step->work_end) return;
    open_event(c, step, "wheel", 1, step->end, step->end);
    put_line(
        c, arena_printf(arena, "SUMMARY:%s: %s", escaped(arena, c->recipe->name), clean(c, text)));
    put_line(c, "BEGIN:VALARM");
    put_line(c, "ACTION:DISPLAY");
    put_line(c, "TRIGGER:PT0S");
    put(c, "DESCRIPTION:", clean(c, text));
    put_line(c, "END:VALARM");
    put_line(c, "END:VEVENT");
}

void calendar_emit(struct buf *out, const struct recipe *recipe, const struct results *results) {
    struct calendar c = {out, recipe, results};
    const struct run *run = &results->run;
    if (!recipe->shop->start.given || !run->feasible) return;
    put_line(&c, "BEGIN:VCALENDAR");
    put_line(&c, "VERSION:2.0");
    put_line(&c, "PRODID:-//plugwright//run//EN");
    put_line(&c, "CALSCALE:GREGORIAN");
    int *seen = NEW(out->arena, int, run->count);
    for (int i = 0; i < run->stint_count; i++)
        put_stint(&c, &run->stints[i], ++seen[run->stints[i].step]);
    for (int i = 0; i < run->count; i++) put_wheel(&c, &run->steps[i]);
    put_line(&c, "END:VCALENDAR");
}
