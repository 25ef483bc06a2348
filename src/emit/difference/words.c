/* The one sentence at the end: first how it runs, then how it floats, then what it weighs, then
 * what it costs. */
#include "emit/difference/inner.h"

#include <math.h>
#include <string.h>

#include "emit/write/measure.h"

static const double day = 86400;

/* Old and new of a result that differs beyond its tolerance. */
static bool differs(const struct difference *d, enum effect_result result, double *before,
                    double *after) {
    for (int i = 0; i < d->effects.count; i++) {
        const struct effect *e = &d->effects.items[i];
        if (!e->before || !e->after || e->after->result != result) continue;
        *before = e->before->value;
        *after = e->after->value;
        return true;
    }
    return false;
}

static void add(struct buf *out, const char *join, const char *clause) {
    buf_printf(out, "%s%s", out->size ? join : "", clause);
}

/* "2.1", "3". */
static const char *figure(struct arena *arena, double value) {
    double tenths = round(fabs(value) * 10) / 10;
    return measure_number(arena, tenths, fmod(tenths, 1) != 0 ? 1 : 0);
}

static void say_height(const struct telling *t, struct buf *out) {
    const struct condition *old = &t->d->old.results->finished, *new = &t->d->new.results->finished;
    static const char *const now[] = {"now floats", "now hangs suspended", "now sinks"};
    double a, b;
    bool differ = differs(t->d, RESULT_reserve, &a, &b);
    if (old->state != new->state)
        add(out, " and ", now[new->state]);
    else if (!differ)
        return;
    else if (new->state == STATE_FLOATS)
        add(out, " and ",
            arena_printf(t->arena, "floats %s %% %s", figure(t->arena, 100 * (b - a)),
                         b < a ? "lower" : "higher"));
    else
        add(out, " and ",
            arena_printf(t->arena, "is %s %% %s in the water", figure(t->arena, 100 * (b - a)),
                         b < a ? "heavier" : "lighter"));
}

static void say_attitude(const struct telling *t, struct buf *out) {
    double a, b;
    if (!differs(t->d, RESULT_attitude, &a, &b)) return;
    double degrees = unit_number(shown_exact(SHOWN_ANGLE).unit, b - a);
    const char *much = figure(t->arena, round(2 * degrees) / 2); /* as an eye sees it */
    const char *verb = out->size ? "" : "rests ";
    add(out, " and ",
        arena_printf(t->arena, "%s%s %s more %s", verb, much,
                     strcmp(much, "1") == 0 ? "degree" : "degrees",
                     b > a ? "nose down" : "tail down"));
}

/* A tenth more or less is worth a word. */
static void say_stability(const struct telling *t, struct buf *out) {
    double a, b;
    if (!differs(t->d, RESULT_gm, &a, &b)) return;
    if (a > 0 && b <= 0)
        add(out, ", ", "no longer stays upright");
    else if (a <= 0 && b > 0)
        add(out, ", ", "now stays upright");
    else if (fabs(b - a) > 0.1 * fabs(a))
        add(out, ", ",
            arena_printf(t->arena, "%s upright by %s of GM", b > a ? "steadier" : "less steady",
                         telling_value(t, SHOWN_LENGTH, fabs(b - a))));
}

static void say_mass(const struct telling *t, struct buf *out) {
    double a, b, load = t->d->new.afloat.ballast - t->d->old.afloat.ballast;
    if (differs(t->d, RESULT_mass, &a, &b))
        add(out, ", ",
            arena_printf(t->arena, "%s %s", telling_value(t, SHOWN_MASS, fabs(b - a)),
                         b > a ? "heavier" : "lighter"));
    if (telling_solved(t) && fabs(load) > 0.05e-3)
        add(out, ", ",
            arena_printf(t->arena, "on %s %s ballast", telling_value(t, SHOWN_MASS, fabs(load)),
                         load > 0 ? "more" : "less"));
}

static const char *counted(struct arena *arena, int count, const char *what) {
    static const char *const small[] = {"no", "one", "two", "three", "four", "five", "six"};
    int size = count < 0 ? -count : count;
    const char *plural = size == 1 ? "" : "s";
    if (size <= 6) return arena_printf(arena, "%s %s%s", small[size], what, plural);
    return arena_printf(arena, "%d %s%s", size, what, plural);
}

/* "one evening longer"; where the sittings are as many, the minutes. */
static void say_work(const struct telling *t, struct buf *out) {
    const struct sittings *a = &t->d->old.sittings, *b = &t->d->new.sittings;
    double before, after;
    int more = b->all - a->all;
    bool evenings = a->all - a->evenings == b->all - b->evenings;
    if (more && a->by_hours == b->by_hours)
        add(out, ", ",
            arena_printf(t->arena, "%s %s",
                         counted(t->arena, more,
                                 !a->by_hours ? "day"
                                 : evenings   ? "evening"
                                              : "sitting"),
                         more > 0 ? "longer" : "shorter"));
    else if (differs(t->d, RESULT_hands_on, &before, &after))
        add(out, ", ",
            arena_printf(t->arena, "%s %s at the bench",
                         measure_time(t->arena, fabs(after - before)),
                         after > before ? "more" : "less"));
    if (differs(t->d, RESULT_makespan, &before, &after) && fabs(after - before) >= day)
        add(out, ", ",
            arena_printf(t->arena, "ready %s %s",
                         counted(t->arena, (int)round((after - before) / day), "day"),
                         after > before ? "later" : "sooner"));
}

static void say_cost(const struct telling *t, struct buf *out) {
    const struct difference *d = t->d;
    double a, b;
    if (!differs(d, RESULT_cost, &a, &b)) return;
    double one = b / d->new.recipe->make - a / d->old.recipe->make;
    if (fabs(one) < 0.005) return;
    add(out, ", ",
        arena_printf(t->arena, "%s a plug %s", telling_value(t, SHOWN_MONEY, fabs(one)),
                     one > 0 ? "dearer" : "cheaper"));
}

static const struct effect *effect_of(const struct difference *d, enum effect_result result) {
    for (int i = 0; i < d->effects.count; i++)
        if (d->effects.items[i].any->result == result) return &d->effects.items[i];
    return NULL;
}

/* "runs 0.1 to 0.4 m deeper, 30 m out at 1.5 m/s"; a doubt is told as one. */
static void say_depth(const struct telling *t, struct buf *out) {
    const struct effect *e = effect_of(t->d, RESULT_tow_depth);
    if (!e || !e->change.given) {
        if (telling_sounds(t)) add(out, ", ", "runs as deep as before");
        return;
    }
    const char *where = telling_tow(t);
    if (band_unclear(&e->change)) {
        add(out, ", ",
            arena_printf(t->arena, "whether it runs deeper or shallower %s is unclear", where));
        return;
    }
    add(out, ", ",
        arena_printf(t->arena, "runs %s %s (%s) %s",
                     telling_value(t, SHOWN_DEPTH, fabs(e->change.median)),
                     e->change.median > 0 ? "deeper" : "shallower",
                     telling_sizes(t, SHOWN_DEPTH, &e->change), where));
}

/* Of its hold only what is clear. */
static void say_hold(const struct telling *t, struct buf *out) {
    const struct effect *e = effect_of(t->d, RESULT_hold_speed);
    if (!e || !e->change.given || band_unclear(&e->change)) return;
    add(out, ", ",
        arena_printf(t->arena, "holds %s by %s", e->change.median > 0 ? "faster" : "less fast",
                     telling_value(t, SHOWN_TOW, fabs(e->change.median))));
}

const char *difference_words(struct arena *arena, const struct difference *d) {
    struct telling t = telling_of(arena, d);
    struct buf out = {.arena = arena}, floats = {.arena = arena};
    say_depth(&t, &out);
    say_hold(&t, &out);
    say_height(&t, &floats);
    say_attitude(&t, &floats);
    add(&out, ", ", floats.size ? floats.data : "floats as before");
    say_stability(&t, &out);
    say_mass(&t, &out);
    say_work(&t, &out);
    say_cost(&t, &out);
    return out.data;
}
