/* Words and numbers that all forms of a difference share. */
#include "emit/difference/inner.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/unicode.h"
#include "emit/words/tow.h"
#include "emit/words/words.h"
#include "emit/write/measure.h"

enum {
    TEXT_SHOWN = 72,  /* columns of a text of the recipe */
    NOTE_SHOWN = 130, /* of one that was written anew */
    PART_SHOWN = 240, /* of what a part that came or went says */
};

struct telling telling_of(struct arena *arena, const struct difference *d) {
    struct str currency = d->new.recipe->currency;
    return (struct telling){.arena = arena,
                            .d = d,
                            .units = d->new.recipe->shop->units,
                            .currency = currency.size ? walk_plain(arena, currency) : ""};
}

/* --- numbers --------------------------------------------------------------------------------- */

/* How a value is shown, or of a step the larger one.  Cups of paint are small. */
static struct shown_form form_of(const struct telling *t, enum shown_as kind, double value) {
    const double cup = 10e-6; /* m3 */
    struct shown_form form = measure_form(kind, value, t->units);
    if (kind == SHOWN_MONEY) form.sign = t->currency;
    if (kind == SHOWN_VOLUME && fabs(value) < cup) form.decimals = 2;
    return form;
}

const char *telling_value(const struct telling *t, enum shown_as kind, double value) {
    if (kind == SHOWN_TIME) return measure_time(t->arena, value);
    return measure_in(t->arena, value, form_of(t, kind, value));
}

static const char *signed_text(const struct telling *t, double delta, const char *size) {
    return arena_printf(t->arena, "%s%s", delta < 0 ? "\xe2\x88\x92" : "+", size);
}

/* Of what is shown, so that a reader's own sum comes out. */
const char *telling_step(const struct telling *t, enum shown_as kind, double before, double after) {
    if (kind == SHOWN_TIME)
        return signed_text(t, after - before, measure_time(t->arena, fabs(after - before)));
    struct shown_form form = form_of(t, kind, fmax(fabs(before), fabs(after)));
    double step = form.unit->scale * pow(10, -form.decimals);
    double delta = (round(after / step) - round(before / step)) * step;
    return signed_text(t, delta, measure_in(t->arena, fabs(delta), form));
}

static const char *signed_number(const struct telling *t, struct shown_form form, double value) {
    const char *size = measure_number(t->arena, fabs(unit_number(form.unit, value)), form.decimals);
    return strtod(size, NULL) > 0 ? signed_text(t, value, size) : size;
}

/* One decimal more than the values have: a doubt is told by its size. */
const char *telling_range(const struct telling *t, enum shown_as kind, const struct band *band) {
    struct shown_form form = form_of(t, kind, band->median);
    form.decimals += kind != SHOWN_PULL;
    if (band_unclear(band)) return "unclear";
    return arena_printf(t->arena, "%s to %s%s%s", signed_number(t, form, band->low),
                        signed_number(t, form, band->high),
                        form.unit->dimension == DIM_ANGLE ? "" : " ", form.sign);
}

const char *telling_sizes(const struct telling *t, enum shown_as kind, const struct band *band) {
    struct shown_form form = form_of(t, kind, band->median);
    double a = fabs(unit_number(form.unit, band->low)),
           b = fabs(unit_number(form.unit, band->high));
    return arena_printf(t->arena, "%s to %s",
                        measure_number(t->arena, fmin(a, b), form.decimals + 1),
                        measure_number(t->arena, fmax(a, b), form.decimals + 1));
}

const char *telling_effect(const struct telling *t, const struct effect *e) {
    if (!e->before || !e->after) return "";
    if (e->change.given) return telling_range(t, e->any->kind, &e->change);
    return telling_step(t, e->any->kind, e->before->value, e->after->value);
}

const char *telling_delta(const struct telling *t, enum shown_as kind, double delta) {
    if (!isfinite(delta)) return "?"; /* from or to a plug that finds no rest */
    struct shown_form form = form_of(t, kind, delta);
    bool zero = fabs(delta / form.unit->scale) < 0.5 * pow(10, -form.decimals);
    return zero ? "\xe2\x80\x93" : signed_text(t, delta, telling_value(t, kind, fabs(delta)));
}

/* Where results under tow hold: "30 m out at 1.5 m/s". */
const char *telling_tow(const struct telling *t) {
    const struct difference_side *side = t->d->new.recipe->running ? &t->d->new : &t->d->old;
    const struct running_result *r = &side->results->running;
    const struct running *running = side->recipe->running;
    return arena_printf(t->arena, "%s out at %s",
                        tow_out(t->arena, running->out[r->middle_out], t->units),
                        tow_value(t->arena, SHOWN_TOW, running->speed[r->middle_speed], t->units));
}

const char *telling_label(const struct telling *t, const struct effect_value *value) {
    const char *label = walk_plain(t->arena, str_of(name_text(t->arena, value->label)));
    return value->result == RESULT_tow_depth ? arena_printf(t->arena, "depth, %s", telling_tow(t))
                                             : label;
}

const char *telling_path(const struct telling *t, const struct effect_value *value) {
    if (value->group != EFFECT_MATERIAL) return name_text(t->arena, value->path);
    return arena_printf(t->arena, "material.%s", name_text(t->arena, value->label));
}

/* --- changes --------------------------------------------------------------------------------- */

static const char *arrow = "\xe2\x86\x92";

static const char *cut(const struct telling *t, const char *text) {
    return unicode_cut(t->arena, text, TEXT_SHOWN);
}

/* Line ends of a note, which its canonical form writes as \n, are blanks here. */
static const char *unbroken(const struct telling *t, const char *text) {
    char *copy = arena_copy(t->arena, text, strlen(text)), *to = copy;
    for (const char *c = copy; *c; c++) {
        bool line_end = c[0] == '\\' && c[1] == 'n';
        *to++ = line_end ? ' ' : *c;
        c += line_end;
    }
    *to = '\0';
    return copy;
}

/* "depth 11 mm -> 12 mm". */
static const char *value_change(const struct telling *t, const struct change *c) {
    if (c->kind == CHANGE_SHIFTED) return arena_printf(t->arena, "moved to %s", cut(t, c->after));
    if (!c->before) return arena_printf(t->arena, "%s %s, newly given", c->key, cut(t, c->after));
    if (!c->after)
        return arena_printf(t->arena, "%s no longer given (%s)", c->key, cut(t, c->before));
    if (strlen(c->before) + strlen(c->after) > TEXT_SHOWN)
        return arena_printf(t->arena, "%s now \"%s\"", c->key,
                            unicode_cut(t->arena, unbroken(t, c->after), NOTE_SHOWN));
    return arena_printf(t->arena, "%s %s %s %s", c->key, c->before, arrow, c->after);
}

/* "put in after layer "white": kind pearl", "taken out (kind pearl)". */
static const char *whole_change(const struct telling *t, const struct change *c) {
    const char *what = c->key ? arena_printf(t->arena, "%s ", c->key) : "";
    const char *says =
        unicode_cut(t->arena, c->kind == CHANGE_ADDED ? c->after : c->before, PART_SHOWN);
    if (c->kind == CHANGE_REORDERED)
        return arena_printf(t->arena, "moved from place %s to place %s", c->before, c->after);
    if (c->kind == CHANGE_REMOVED)
        return *says ? arena_printf(t->arena, "%staken out (%s)", what, says)
                     : arena_printf(t->arena, "%staken out", what);
    const char *behind = c->behind ? arena_printf(t->arena, " after %s", c->behind) : "";
    return *says ? arena_printf(t->arena, "%sput in%s: %s", what, behind, says)
                 : arena_printf(t->arena, "%sput in%s", what, behind);
}

static bool is_value(const struct change *c) {
    return c->kind == CHANGE_VALUE || c->kind == CHANGE_SHIFTED;
}

const char *telling_change(const struct telling *t, const struct change_group *group, int first,
                           int *next) {
    const struct change *changes = t->d->changes.items;
    struct buf out = {.arena = t->arena};
    int end = group->first + group->count, i = first;
    bool sentence = !is_value(&changes[first]) || changes[first].kind == CHANGE_SHIFTED;
    if (changes[first].item)
        buf_printf(&out, "%s%s ", cut(t, changes[first].item),
                   sentence && !changes[first].key         ? ""
                   : changes[first].kind == CHANGE_SHIFTED ? ""
                                                           : ":");
    for (; i < end && changes[i].line == changes[first].line; i++)
        buf_printf(&out, "%s%s", i > first ? ", " : "",
                   is_value(&changes[i]) ? value_change(t, &changes[i])
                                         : whole_change(t, &changes[i]));
    *next = i;
    return out.data;
}

/* --- work and stuff -------------------------------------------------------------------------- */

const char *telling_material(const struct telling *t, const struct effect *e) {
    const struct effect_value *any = e->any;
    const char *item = cut(t, telling_label(t, any));
    const char *value = telling_value(t, any->kind, any->value);
    if (!e->after) return item;
    if (!e->before) return arena_printf(t->arena, "%s %s", item, value);
    return arena_printf(t->arena, "%s %s %s %s", item,
                        telling_value(t, e->before->kind, e->before->value), arrow, value);
}

static const char *times(const struct telling *t, double hands, double wait) {
    const char *work = measure_time(t->arena, hands);
    if (wait < 60) return arena_printf(t->arena, "%s a plug", work);
    return arena_printf(t->arena, "%s a plug, wait %s", work, measure_time(t->arena, wait));
}

const char *telling_title(const struct telling *t, const struct rework *r) {
    if (r->now) return words_title(t->arena, t->d->new.recipe, r->now);
    return words_title(t->arena, t->d->old.recipe, r->before);
}

const char *telling_behind(const struct telling *t, const struct rework *r) {
    return r->behind ? words_title(t->arena, t->d->new.recipe, r->behind) : NULL;
}

static const char *retimed(const struct telling *t, const struct rework *r) {
    struct buf out = {.arena = t->arena};
    buf_printf(&out, "%s:", walk_plain(t->arena, str_of(telling_title(t, r))));
    if (fabs(r->hands_now - r->hands_before) >= 60)
        buf_printf(&out, " %s %s %s a plug", measure_time(t->arena, r->hands_before), arrow,
                   measure_time(t->arena, r->hands_now));
    if (fabs(r->wait_now - r->wait_before) >= 60)
        buf_printf(&out, "%s wait %s %s %s", out.data[out.size - 1] == ':' ? "" : ",",
                   measure_time(t->arena, r->wait_before), arrow,
                   measure_time(t->arena, r->wait_now));
    return out.data;
}

const char *telling_rework(const struct telling *t, const struct rework *r) {
    const char *title = cut(t, walk_plain(t->arena, str_of(telling_title(t, r)))), *behind = "";
    if (r->behind)
        behind = arena_printf(t->arena, ", after '%s'",
                              cut(t, walk_plain(t->arena, str_of(telling_behind(t, r)))));
    switch (r->kind) {
    case REWORK_COMES:
        return arena_printf(t->arena, "new: %s%s (%s)", title, behind,
                            times(t, r->hands_now, r->wait_now));
    case REWORK_GOES:
        return arena_printf(t->arena, "no more: %s (%s)", title,
                            times(t, r->hands_before, r->wait_before));
    case REWORK_MOVES:
        return arena_printf(t->arena, "moves: %s, now%s", title, behind + (*behind != 0));
    case REWORK_RETIMED:
        return retimed(t, r);
    }
    return "";
}

/* --- which change did what ------------------------------------------------------------------- */

static bool shows(const struct telling *t, enum shown_as kind, double a, double b) {
    const char *text = telling_delta(t, kind, a - b);
    return strcmp(text, "\xe2\x80\x93") != 0;
}

bool telling_sounds(const struct telling *t) {
    return t->d->old.afloat.depth.band.given && t->d->new.afloat.depth.band.given;
}

const char *telling_depth(const struct telling *t, const struct single *alone) {
    struct band change = running_change(&t->d->old.afloat.depth, &alone->depth);
    if (!change.given) return "?";
    const char *delta = telling_delta(t, SHOWN_DEPTH, change.median);
    bool shows_none = strcmp(delta, "\xe2\x80\x93") == 0;
    return band_unclear(&change) && !shows_none ? "unclear" : delta;
}

bool telling_matters(const struct telling *t, const struct difference_part *part) {
    const struct single *was = &t->d->old.afloat, *is = &part->alone;
    if (is->failure) return true;
    return shows(t, SHOWN_SHARE, is->reserve, was->reserve) ||
           shows(t, SHOWN_ANGLE, is->attitude, was->attitude) ||
           shows(t, SHOWN_MASS, is->ballast, was->ballast) ||
           (telling_sounds(t) && strcmp(telling_depth(t, is), "\xe2\x80\x93") != 0) ||
           (is->kept && (shows(t, SHOWN_SHARE, is->with_before.reserve, was->reserve) ||
                         shows(t, SHOWN_ANGLE, is->with_before.attitude, was->attitude)));
}

bool telling_solved(const struct telling *t) {
    const struct difference_side *sides[] = {&t->d->old, &t->d->new};
    for (int s = 0; s < 2; s++)
        for (int i = 0; i < sides[s]->results->ballast.bore_count; i++)
            if (sides[s]->results->ballast.fills[i].solved) return true;
    return false;
}
