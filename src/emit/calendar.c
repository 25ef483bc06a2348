#include "emit/calendar.h"

#include <string.h>

#include "base/unicode.h"
#include "compute/work/sitting.h"
#include "emit/words/words.h"
#include "emit/write/measure.h"

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

/* A calendar has minutes: what begins is rounded down, what ends up. */
static const char *stamp(struct calendar *c, int64_t seconds) {
    struct moment m = moment_after(c->recipe->shop->start, seconds);
    return arena_printf(c->out->arena, "%04d%02d%02dT%02d%02d00", m.year, m.month, m.day, m.hour,
                        m.minute);
}

static int64_t minute_up(int64_t seconds) {
    return (seconds + 59) / 60 * 60;
}

static const char *clock_of(struct calendar *c, int64_t seconds) {
    return measure_clock(c->out->arena, moment_after(c->recipe->shop->start, seconds));
}

static void put(struct calendar *c, const char *name, const char *value) {
    put_line(c, arena_printf(c->out->arena, "%s%s", name, value));
}

/* `id` tells the events of one recipe apart. */
static void open_event(struct calendar *c, const char *id, int64_t from, int64_t to) {
    struct arena *arena = c->out->arena;
    struct moment day = c->recipe->shop->start;
    put_line(c, "BEGIN:VEVENT");
    put_line(c,
             arena_printf(arena, "UID:%s.%s@plugwright.invalid", slug(arena, c->recipe->name), id));
    /* Must be there, in UTC, and must not depend on the moment of compiling: the run's first day.
     */
    put_line(c, arena_printf(arena, "DTSTAMP:%04d%02d%02dT000000Z", day.year, day.month, day.day));
    put(c, "DTSTART:", stamp(c, from));
    if (to > from) put(c, "DTEND:", stamp(c, to));
}

static void put_summary(struct calendar *c, const char *text) {
    put_line(c, arena_printf(c->out->arena, "SUMMARY:%s: %s",
                             escaped(c->out->arena, c->recipe->name), clean(c, text)));
}

static const char *title_of(struct calendar *c, int operation) {
    return words_title(c->out->arena, c->recipe, &c->r->run.route.operations[operation]);
}

/* --- sittings -------------------------------------------------------------------------------- */

static int step_number(struct calendar *c, int operation) {
    int number = 0;
    for (int i = 0; i <= operation; i++) number += !c->r->run.route.operations[i].skipped;
    return number;
}

/* ", plugs 7 to 9", where it is not all of them. */
static const char *plugs(struct calendar *c, const struct stint *stint) {
    struct plug_range range = sitting_plugs(&c->r->run, stint);
    if (range.first == 1 && range.last == c->recipe->make) return "";
    if (range.first == range.last) return arena_printf(c->out->arena, ", plug %d", range.first);
    return arena_printf(c->out->arena, ", plugs %d to %d", range.first, range.last);
}

/* "18:05 12. Seal the wood, coat 1 of 2, plugs 1 to 3, 20 min", a line of the description. */
static void add_stint(struct calendar *c, struct buf *lines, const struct stint *stint) {
    const struct run_step *step = &c->r->run.steps[stint->step];
    buf_printf(lines, "%s%s %d. %s%s, %s", lines->size ? "\n" : "", clock_of(c, stint->from),
               step_number(c, step->operation), title_of(c, step->operation), plugs(c, stint),
               measure_time(c->out->arena, (double)(stint->to - stint->from)));
}

static void put_sitting(struct calendar *c, const struct sitting *sitting, int number) {
    struct arena *arena = c->out->arena;
    const struct run *run = &c->r->run;
    struct buf lines = {.arena = arena};
    int more = sitting->end - sitting->first - 1;
    const char *first = title_of(c, run->steps[run->stints[sitting->first].step].operation);
    for (int i = sitting->first; i < sitting->end; i++) add_stint(c, &lines, &run->stints[i]);
    open_event(c, arena_printf(arena, "sitting-%d", number), sitting->from, minute_up(sitting->to));
    put_summary(c, more ? arena_printf(arena, "%s, and %d more", first, more) : first);
    put(c, "DESCRIPTION:", clean(c, lines.data));
    put_line(c, "END:VEVENT");
}

/* --- deadlines ------------------------------------------------------------------------------- */

/* An alarm `minutes` before it. */
struct deadline {
    const char *kind, *text;
    int64_t at;
    int minutes;
};

static void put_deadline(struct calendar *c, const struct run_step *step, struct deadline due) {
    struct arena *arena = c->out->arena;
    const char *text = arena_printf(arena, "%s: %s", due.text, title_of(c, step->operation));
    open_event(c,
               arena_printf(arena, "%s.%d.%s", c->r->run.route.operations[step->operation].id,
                            step->load, due.kind),
               due.at, due.at);
    put_summary(c, text);
    put_line(c, "BEGIN:VALARM");
    put_line(c, "ACTION:DISPLAY");
    put_line(c, arena_printf(arena, due.minutes ? "TRIGGER:-PT%dM" : "TRIGGER:PT0S", due.minutes));
    put(c, "DESCRIPTION:", clean(c, text));
    put_line(c, "END:VALARM");
    put_line(c, "END:VEVENT");
}

/* What must have begun by then, the first cup of a mix, and the end of a wait on the wheel. */
static void put_deadlines(struct calendar *c, const struct run_step *step) {
    const struct operation *operation = &c->r->run.route.operations[step->operation];
    bool coat = operation->key == OPERATION_topcoat;
    double pot_life = coat ? operation_pot_life(c->recipe) : 0;
    if (step->latest >= 0)
        put_deadline(c, step,
                     (struct deadline){"latest", "Begin now at the latest", step->latest, 60});
    if (pot_life > 0)
        put_deadline(c, step,
                     (struct deadline){"pot", "The cup that was mixed first is past its pot life",
                                       step->start + (int64_t)pot_life, 5});
    if (operation->station == AT_WHEEL && step->end > step->work_end)
        put_deadline(c, step,
                     (struct deadline){"wheel", "Turn off the wheel", minute_up(step->end), 0});
}

static void put_run(struct calendar *c) {
    const struct run *run = &c->r->run;
    for (int i = 0, number = 1; i < run->stint_count; number++) {
        struct sitting sitting = sitting_from(c->recipe, run, i);
        put_sitting(c, &sitting, number);
        i = sitting.end;
    }
    for (int i = 0; i < run->count; i++) put_deadlines(c, &run->steps[i]);
}

void calendar_emit_all(struct buf *out, const struct recipe *const *recipes,
                       const struct results *results, int count) {
    struct calendar c = {.out = out};
    if (!recipes[0]->shop->start.given || !results[0].run.feasible) return;
    put_line(&c, "BEGIN:VCALENDAR");
    put_line(&c, "VERSION:2.0");
    put_line(&c, "PRODID:-//plugwright//run//EN");
    put_line(&c, "CALSCALE:GREGORIAN");
    for (int i = 0; i < count; i++) {
        c.recipe = recipes[i];
        c.r = &results[i];
        put_run(&c);
    }
    put_line(&c, "END:VCALENDAR");
}

void calendar_emit(struct buf *out, const struct recipe *recipe, const struct results *results) {
    calendar_emit_all(out, &recipe, results, 1);
}
