/* A screenful of 78 columns: what was changed, what it does, which change did what, and one
 * sentence. */
#include "emit/difference/inner.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/unicode.h"
#include "emit/words/tow.h"
#include "model/reference.h"

enum { WIDTH = 78, NAME = 11, LINES = 200 };

struct screen {
    struct telling t;
    struct buf *out;
};

/* `text` in a column of `width`, with a blank behind or before it; negative: flush right. */
static void column(const struct screen *s, const char *text, int width) {
    bool full = unicode_width(str_of(text)) >= abs(width);
    if (full && width < 0) buf_char(s->out, ' ');
    unicode_pad(s->out, text, width);
    if (full && width > 0) buf_char(s->out, ' ');
}

static void heading(const struct screen *s, const char *text) {
    buf_printf(s->out, "\n%s\n", text);
}

static bool begins_with(const char *text, const char *with) {
    return strncmp(text, with, strlen(with)) == 0;
}

/* The end of a piece of text that stays on one line: a word, or words on both sides of an arrow, or
 * a number with its unit. */
static const char *piece_end(const char *text) {
    static const char arrow[] = "\xe2\x86\x92 ";
    while (true) {
        const char *end = text + strcspn(text, " "), *next = end + strspn(end, " ");
        bool number = *text >= '0' && *text <= '9' && !strchr(",;:)", end[-1]);
        if (!*next || !(begins_with(next, arrow) || begins_with(text, arrow) || number)) return end;
        text = next;
    }
}

/* Text from column `at` on, further lines `hang` columns in. */
static void wrapped(const struct screen *s, const char *text, int at, int hang) {
    for (bool first = true; *text; first = false) {
        const char *end = piece_end(text);
        int size = unicode_width((struct str){text, (size_t)(end - text)});
        if (!first && at + 1 + size > WIDTH) {
            buf_char(s->out, '\n');
            for (at = 0; at < hang; at++) buf_char(s->out, ' ');
        } else if (!first) {
            buf_char(s->out, ' ');
            at++;
        }
        buf_bytes(s->out, text, (size_t)(end - text));
        at += size;
        text = end + strspn(end, " ");
    }
    buf_char(s->out, '\n');
}

/* --- what was changed ------------------------------------------------------------------------ */

static void changes(const struct screen *s) {
    const struct change_list *list = &s->t.d->changes;
    int shown = 0;
    heading(s, "What was changed");
    for (int g = 0; g < list->group_count; g++) {
        const struct change_group *group = &list->groups[g];
        const char *name = group->name;
        for (int i = group->first, next; i < group->first + group->count; i = next) {
            const char *text = telling_change(&s->t, group, i, &next);
            if (shown++ == LINES) {
                buf_printf(s->out, "  and %d more\n", list->count - i);
                return;
            }
            buf_text(s->out, "  ");
            column(s, name, NAME);
            wrapped(s, text, NAME + 3, NAME + 5);
            name = "";
        }
    }
}

/* --- what it does ---------------------------------------------------------------------------- */

static void row(const struct screen *s, const char *label, const char *old, const char *new,
                const char *difference) {
    buf_text(s->out, "  ");
    column(s, label, 32);
    column(s, old, -13);
    column(s, new, -13);
    if (*difference) column(s, difference, -13);
    buf_char(s->out, '\n');
}

static void effect(const struct screen *s, const struct effect *e) {
    const struct effect_value *a = e->before, *b = e->after;
    row(s, telling_label(&s->t, e->any), a ? telling_value(&s->t, a->kind, a->value) : "-",
        b ? telling_value(&s->t, b->kind, b->value) : "-", telling_effect(&s->t, e));
}

static const struct running_speed *middle_speed(const struct difference_side *side) {
    const struct running_result *r = &side->results->running;
    return r->given && r->kind != TOW_ON_TOP ? &r->speeds[r->middle_speed] : NULL;
}

/* A word of the old and of the new, where they differ. */
static void word(const struct screen *s, const char *label, const char *old, const char *new) {
    if (strcmp(old, new) != 0) row(s, label, old, new, "");
}

static void state(const struct screen *s) {
    const struct difference *d = s->t.d;
    const struct running_speed *a = middle_speed(&d->old), *b = middle_speed(&d->new);
    word(s, "finished, it", name_float_states[d->old.results->finished.state],
         name_float_states[d->new.results->finished.state]);
    if (!a || !b) return;
    word(s, "under tow, it", tow_runs(a), tow_runs(b));
    word(s, "and it", tow_holds(a), tow_holds(b));
}

static void sittings(const struct screen *s) {
    const struct sittings *a = &s->t.d->old.sittings, *b = &s->t.d->new.sittings;
    if (a->all == b->all || a->by_hours != b->by_hours) return;
    row(s, a->by_hours ? "sittings at the bench" : "days at the bench",
        arena_printf(s->t.arena, "%d", a->all), arena_printf(s->t.arena, "%d", b->all),
        telling_step(&s->t, SHOWN_PIECES, a->all, b->all));
}

static void effects(const struct screen *s) {
    const struct effect_list *list = &s->t.d->effects;
    heading(s, "What it does");
    int begin = (int)s->out->size;
    row(s, "", "old", "new", "difference");
    int empty = (int)s->out->size;
    state(s);
    for (int i = 0; i < list->count; i++) {
        const struct effect *e = &list->items[i];
        if (e->any->group != EFFECT_MATERIAL) effect(s, e);
    }
    sittings(s);
    if ((int)s->out->size > empty) return;
    s->out->size = (size_t)begin;
    buf_text(s->out, "  nothing that differs by more than the bench can tell\n");
}

enum coming { STAYS, COMES, GOES };

static enum coming coming_of(const struct effect *e) {
    return !e->before ? COMES : !e->after ? GOES : STAYS;
}

static void materials(const struct screen *s) {
    static const char *const lead[] = {
        [STAYS] = "changed: ", [COMES] = "new: ", [GOES] = "no more: "};
    const struct effect_list *list = &s->t.d->effects;
    bool any = false;
    for (enum coming coming = STAYS; coming <= GOES; coming++) {
        struct buf text = {.arena = s->t.arena};
        for (int i = 0; i < list->count; i++) {
            const struct effect *e = &list->items[i];
            if (e->any->group == EFFECT_MATERIAL && coming_of(e) == coming)
                buf_printf(&text, "%s%s", text.size ? "; " : lead[coming],
                           telling_material(&s->t, e));
        }
        if (!text.size) continue;
        if (!any) heading(s, "Materials for one plug");
        any = true;
        buf_text(s->out, "  ");
        wrapped(s, text.data, 2, 4);
    }
}

/* --- which change did what ------------------------------------------------------------------- */

static void alone(const struct screen *s, const char *name, const struct single *is, bool solved) {
    const struct telling *t = &s->t;
    const struct single *was = &t->d->old.afloat;
    buf_text(s->out, "  ");
    column(s, unicode_cut(t->arena, name, 18), 19);
    if (is->failure) {
        wrapped(s, arena_printf(t->arena, "makes no plug alone: %s", is->failure), 22, 24);
        return;
    }
    if (solved) {
        const struct outcome *kept = &is->with_before;
        column(s, is->kept ? telling_delta(t, SHOWN_SHARE, kept->reserve - was->reserve) : "?",
               -10);
        column(s, is->kept ? telling_delta(t, SHOWN_ANGLE, kept->attitude - was->attitude) : "?",
               -10);
        buf_text(s->out, "   ");
    }
    column(s, telling_delta(t, SHOWN_SHARE, is->reserve - was->reserve), -10);
    column(s, telling_delta(t, SHOWN_ANGLE, is->attitude - was->attitude), -10);
    if (solved) column(s, telling_delta(t, SHOWN_MASS, is->ballast - was->ballast), -10);
    if (telling_sounds(t)) column(s, telling_depth(t, is), -9);
    buf_char(s->out, '\n');
}

static void alone_heading(const struct screen *s, bool solved) {
    heading(s, "Each change alone, and how much it moves");
    if (solved) {
        buf_text(s->out, "  ");
        column(s, "", 19);
        column(s, "with the old loads", -20);
        column(s, "loads solved anew", -23);
        buf_char(s->out, '\n');
    }
    buf_text(s->out, "  ");
    column(s, "", 19);
    column(s, "reserve", -10);
    column(s, "attitude", -10);
    if (solved) {
        buf_text(s->out, "   ");
        column(s, "reserve", -10);
        column(s, "attitude", -10);
        column(s, "ballast", -10);
    }
    if (telling_sounds(&s->t)) column(s, "depth", -9);
    buf_char(s->out, '\n');
}

static void parts(const struct screen *s) {
    const struct difference *d = s->t.d;
    struct buf idle = {.arena = s->t.arena};
    bool solved = telling_solved(&s->t);
    int shown = 0;
    for (int i = 0; i < d->part_count; i++) {
        if (!telling_matters(&s->t, &d->parts[i])) {
            buf_printf(&idle, "%s%s", idle.size ? ", " : "", d->parts[i].name);
            continue;
        }
        if (!shown++) alone_heading(s, solved);
        alone(s, d->parts[i].name, &d->parts[i].alone, solved);
    }
    if (shown > 1) alone(s, "all together", &d->new.afloat, solved);
    if (!shown || !idle.size) return;
    buf_text(s->out, "  ");
    wrapped(s, arena_printf(s->t.arena, "nothing by itself: %s", idle.data), 2, 4);
}

/* --- work ------------------------------------------------------------------------------------ */

static void item(const struct screen *s, const char *text) {
    buf_text(s->out, "  ");
    wrapped(s, text, 2, 4);
}

static void work(const struct screen *s) {
    const struct rework_list *list = &s->t.d->rework;
    if (list->count) heading(s, "The work");
    for (int i = 0; i < list->count && i < LINES; i++)
        item(s, telling_rework(&s->t, &list->items[i]));
}

static void cautions(const struct screen *s) {
    const struct difference *d = s->t.d;
    if (!(d->cautions_come | d->cautions_go) && !d->warnings_come_count && !d->warnings_go_count)
        return;
    heading(s, "To mind");
    for (int i = 0; i < CAUTION_COUNT; i++) {
        const char *title = reference_caution[i].title;
        if (d->cautions_come & 1u << i) item(s, arena_printf(s->t.arena, "new caution: %s", title));
        if (d->cautions_go & 1u << i)
            item(s, arena_printf(s->t.arena, "no more caution: %s", title));
    }
    for (int i = 0; i < d->warnings_come_count && i < LINES; i++)
        item(s, arena_printf(s->t.arena, "new warning, line %d: %s", d->warnings_come[i]->at.line,
                             d->warnings_come[i]->message));
    for (int i = 0; i < d->warnings_go_count && i < LINES; i++)
        item(s, arena_printf(s->t.arena, "settled: %s", d->warnings_go[i]->message));
}

/* "Grebe 95 (grebe.yaml) -> Grebe 95 (grebe-2.yaml)". */
static void title(const struct screen *s) {
    const struct difference *d = s->t.d;
    struct arena *a = s->t.arena;
    const char *old = diag_clean(a, d->old.file), *new = diag_clean(a, d->new.file);
    if (str_equal(d->old.recipe->name, d->new.recipe->name))
        buf_printf(s->out, "%s: %s \xe2\x86\x92 %s\n", walk_plain(a, d->new.recipe->name), old,
                   new);
    else
        buf_printf(s->out, "%s (%s) \xe2\x86\x92 %s (%s)\n", walk_plain(a, d->old.recipe->name),
                   old, walk_plain(a, d->new.recipe->name), new);
}

void difference_terminal(struct buf *out, const struct difference *d) {
    struct screen s = {telling_of(out->arena, d), out};
    if (!d->changes.count) {
        buf_text(out, "The same design: nothing differs but the writing.\n");
        return;
    }
    title(&s);
    changes(&s);
    effects(&s);
    parts(&s);
    materials(&s);
    work(&s);
    cautions(&s);
    buf_text(out, "\nIn short: ");
    wrapped(&s, difference_words(out->arena, d), 10, 10);
}
