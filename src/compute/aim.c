/* The depth by the lip is smooth, with a hump: past it a longer or flatter lip drags the plug aft
 * more than down, and nobody wants such a lip.  So the range is walked in even steps from the end
 * that is wanted, and the first place narrowed where the depth rises through the aim; where nothing
 * does, the top of the hump is sought between the steps, for it may pass the aim there, and it is
 * the deepest that can be reached.
 */
#include "compute/aim.h"

#include <math.h>

#include "compute/results.h"
#include "compute/running/root.h"
#include "model/check.h"
#include "model/offer.h"
#include "model/reference.h"
#include "si.def"

enum { WALK_STEPS = 24, GOLDEN_STEPS = 18 };

struct seeking {
    struct arena *arena;
    const struct recipe *recipe;
    const struct tow_aim *aim;
    bool angle;
    double first, last;                                  /* the figure, from the wanted end */
    double figure[WALK_STEPS + 1], over[WALK_STEPS + 1]; /* the depth above the aim's, m, or NAN */
};

static double *figure_of(const struct seeking *s, struct lip *lip) {
    return s->angle ? &lip->angle : &lip->length;
}

/* How much deeper than the aim the plug runs with this figure; NAN where it cannot be such a lip,
 * or may not run at all. */
static double over_at(const struct seeking *s, double figure) {
    struct arena own = {0};
    struct diags silent = {.arena = &own, .trial = true};
    struct recipe trial = *s->recipe;
    struct lip lip = *s->recipe->lip;
    double over = NAN;
    *figure_of(s, &lip) = figure;
    trial.lip = &lip;
    if (check_recipe(&trial, &silent)) {
        struct results r = results_loaded(&own, &trial);
        struct band depth = running_aimed(&own, &r.plug, &r.masses, &r.finished.rest, s->aim);
        if (depth.given) over = depth.median - s->aim->depth;
    }
    arena_free(&own);
    return over;
}

static double over_for_root(const void *context, double figure) {
    double over = over_at(context, figure);
    return isnan(over) ? -INFINITY : over;
}

/* What can be printed and cut, if that is near enough. */
static double settled(const struct seeking *s, double figure) {
    double step = s->angle ? 0.01 * DEG : 0.01 * MM;
    double round_figure = nearbyint(figure / step) * step;
    return fabs(over_at(s, round_figure)) < reference_fact[FACT_AIM_DEPTH].value ? round_figure
                                                                                 : figure;
}

/* --- where it can be met --------------------------------------------------------------------- */

/* Between two figures, the first nearer the wanted end: where the depth rises through the aim. */
static bool narrow(const struct seeking *s, double a, double over_a, double b, double over_b,
                   double *answer) {
    if (isnan(over_a) || isnan(over_b) || over_a >= 0 || over_b < 0) return false;
    struct bracket bracket = {a, b, over_a, over_b};
    if (b < a) bracket = (struct bracket){b, a, over_b, over_a};
    *answer = settled(s, root_between(bracket, 1e-7, over_for_root, s));
    return fabs(over_at(s, *answer)) <= reference_fact[FACT_AIM_DEPTH].value;
}

static bool first_crossing(const struct seeking *s, double *answer) {
    for (int i = 0; i < WALK_STEPS; i++)
        if (narrow(s, s->figure[i], s->over[i], s->figure[i + 1], s->over[i + 1], answer))
            return true;
    return false;
}

struct extreme {
    bool given;
    double figure, over;
};

/* Of the steps up to `last` the one with the greatest `sign` times its depth. */
static struct extreme best_step(const struct seeking *s, int sign, int last, int *step) {
    struct extreme best = {0};
    for (int i = 0; i <= last; i++) {
        if (isnan(s->over[i]) || (best.given && sign * s->over[i] <= sign * best.over)) continue;
        best = (struct extreme){true, s->figure[i], s->over[i]};
        *step = i;
    }
    return best;
}

/* The top of the hump, by golden section (Kiefer 1953, Proc. Am. Math. Soc. 4, 502-506) about the
 * deepest step. */
static struct extreme deepest(const struct seeking *s, int *step) {
    const double golden = 0.618033988749895;
    struct extreme best = best_step(s, 1, WALK_STEPS, step);
    if (!best.given) return best;
    double a = s->figure[*step > 0 ? *step - 1 : 0];
    double b = s->figure[*step < WALK_STEPS ? *step + 1 : WALK_STEPS];
    for (int i = 0; i < GOLDEN_STEPS; i++) {
        double c = b - golden * (b - a), d = a + golden * (b - a);
        double at_c = over_at(s, c), at_d = over_at(s, d);
        bool left = isnan(at_d) || at_c > at_d;
        struct extreme tried = {true, left ? c : d, left ? at_c : at_d};
        if (!isnan(tried.over) && tried.over > best.over) best = tried;
        if (left)
            b = d;
        else
            a = c;
    }
    return best;
}

/* The hump may pass the aim between two steps. */
static bool crossing_below(const struct seeking *s, struct extreme top, int step, double *answer) {
    for (int i = step > 0 ? step - 1 : 0; top.given && i <= step; i++)
        if (narrow(s, s->figure[i], s->over[i], top.figure, top.over, answer)) return true;
    return false;
}

/* --- what is said ---------------------------------------------------------------------------- */

static const char *depth_text(const struct seeking *s, double depth) {
    struct shown_form form = shown_form(SHOWN_DEPTH, s->recipe->shop->units);
    return quantity_show(s->arena, depth, DIM_DISTANCE, form.unit, 3);
}

static const char *figure_text(const struct seeking *s, double figure) {
    struct shown_form form =
        shown_form(s->angle ? SHOWN_ANGLE : SHOWN_LENGTH, s->recipe->shop->units);
    return quantity_show(s->arena, figure, s->angle ? DIM_ANGLE : DIM_LENGTH, form.unit, 3);
}

static void offer_depth(const struct offering *o, double depth, enum offer_round towards) {
    double step = depth < 1 ? 0.05 : 0.1;
    double number = (towards == OFFER_AT_MOST ? floor(depth / step) : ceil(depth / step)) * step;
    offer(o, "depth: %s", offer_quantity(o->diags->arena, o->recipe, number, DIM_DISTANCE));
}

static void tell_reach(const struct seeking *s, struct extreme least, struct extreme most,
                       struct diags *diags) {
    struct span at = recipe_place(s->recipe, &s->aim->depth);
    const char *what = s->angle ? "angle" : "length";
    if (!least.given || !most.given) {
        diag_add(diags, SEVERITY_ERROR, at, "running",
                 "a wider lip, one further forward, or another speed",
                 "with no %s of the lip the plug surely runs under water at this speed", what);
        return;
    }
    double shallow = s->aim->depth + least.over, deep = s->aim->depth + most.over;
    diag_add(diags, SEVERITY_ERROR, at, "running", "another depth, line or speed, or another lip",
             "no %s of the lip meets this depth; what can be reached is %s (%s) to %s (%s)", what,
             depth_text(s, shallow), figure_text(s, least.figure), depth_text(s, deep),
             figure_text(s, most.figure));
    struct offering o = {.diags = diags, .recipe = s->recipe, .part = s->aim};
    if (most.over < 0)
        offer_depth(&o, deep, OFFER_AT_MOST);
    else if (least.over > 0)
        offer_depth(&o, shallow, OFFER_AT_LEAST);
}

/* --- all of it ------------------------------------------------------------------------------- */

/* The wanted end comes first: of two lips the shorter, of two angles the steeper, which stands out
 * less far ahead.  No lip is longer than its plug (common practice, no source). */
static struct seeking seeking_of(struct arena *arena, const struct recipe *recipe) {
    const struct lip *lip = recipe->lip;
    struct seeking s = {
        .arena = arena, .recipe = recipe, .aim = recipe->running->aim, .angle = lip->angle_solve};
    double least = lip->slot + 1 * MM, most = lip->slot + recipe->body->length;
    if (lip->shape == LIP_ROUND) least = lip->slot + lip->width / 2;
    s.first = s.angle ? 90 * DEG : fmax(least, 3 * MM);
    s.last = s.angle ? 0 : fmin(most, 200 * MM);
    for (int i = 0; i <= WALK_STEPS; i++) {
        s.figure[i] = s.first + (s.last - s.first) * i / WALK_STEPS;
        s.over[i] = over_at(&s, s.figure[i]);
    }
    return s;
}

bool aim_seeks(const struct recipe *recipe) {
    const struct lip *lip = recipe->lip;
    return lip && (lip->length_solve || lip->angle_solve);
}

bool aim_meet(struct arena *arena, const struct recipe *recipe, struct diags *diags) {
    struct lip *lip = recipe->lip;
    if (!aim_seeks(recipe)) return true;
    struct seeking s = seeking_of(arena, recipe);
    double answer;
    int step = 0, ignored;
    bool met = first_crossing(&s, &answer);
    if (!met) {
        struct extreme top = deepest(&s, &step);
        met = crossing_below(&s, top, step, &answer);
        if (!met) tell_reach(&s, best_step(&s, -1, step, &ignored), top, diags);
    }
    if (met) *figure_of(&s, lip) = answer;
    return met;
}

const struct recipe *aim_own_lip(struct arena *arena, const struct recipe *recipe) {
    if (!recipe->lip) return recipe;
    struct recipe *own = NEW(arena, struct recipe, 1);
    *own = *recipe;
    own->lip = NEW(arena, struct lip, 1);
    *own->lip = *recipe->lip;
    return own;
}
