/* Every point of the spread is one plug on one line: its answers are computed by themselves and
 * sorted into bands at the end.  What a change does is the difference at each point, so that what
 * two plugs have in common does not blur it.
 */
#include "compute/running/running.h"

#include <math.h>

#include "compute/running/tweak.h"

/* --- bands ----------------------------------------------------------------------------------- */

static struct band band_at(const struct by_point *points) {
    double values[SPREAD_POINTS];
    int count = 0;
    for (int i = 0; i < SPREAD_POINTS; i++)
        if (!isnan(points->value[i])) values[count++] = points->value[i];
    return band_of(values, count);
}

static struct estimate estimate_of(const struct by_point *points) {
    struct band band = band_at(points);
    return (struct estimate){band, band.given ? points : NULL};
}

static struct band change_between(const struct by_point *before, const struct by_point *after) {
    struct by_point change;
    for (int i = 0; i < SPREAD_POINTS; i++) change.value[i] = after->value[i] - before->value[i];
    return band_at(&change);
}

struct band running_change(const struct estimate *before, const struct estimate *after) {
    if (!before->points || !after->points) return (struct band){0};
    return change_between(before->points, after->points);
}

/* --- answers --------------------------------------------------------------------------------- */

/* Everything at one speed, by point. */
struct course {
    struct by_point trim, pull, angle, tie_aside, depth[MAX_OUTS];
    int points, steady, under, upright; /* how many there are, have a trim, dive, do not roll out */
};

/* How a course is computed. */
struct tow_order {
    const struct rig *rig;
    const struct spread *spread;
    double speed;
    int steps;
    const double *out;
    int out_count;
};

static void leave_out(struct course *course, int point) {
    course->trim.value[point] = course->pull.value[point] = NAN;
    course->angle.value[point] = course->tie_aside.value[point] = NAN;
    for (int i = 0; i < MAX_OUTS; i++) course->depth[i].value[point] = NAN;
}

static void put_depths(const struct tow_order *order, const struct coefficients *k,
                       const struct pull *pull, struct course *course, int point) {
    double depth[MAX_OUTS];
    rig_depths(order->rig, k, pull, order->steps, order->out, order->out_count, depth);
    for (int i = 0; i < order->out_count; i++) course->depth[i].value[point] = depth[i];
    course->under += pull->line_down > 0;
}

static void put_hold(const struct stream *stream, const struct pull *pull, struct course *course,
                     int point) {
    struct hold hold = hold_at(stream, pull);
    course->trim.value[point] = pull->trim;
    course->tie_aside.value[point] = hold.tie_aside;
    course->upright += hold.stiffness > 0;
}

static struct course *tow(struct arena *arena, const struct tow_order *order) {
    struct course *course = NEW(arena, struct course, 1);
    bool by_lip = tow_kind_of(&order->rig->tow) == TOW_BY_LIP;
    for (int i = 0; i < SPREAD_POINTS; i++) {
        const struct coefficients *k = &order->spread->point[i];
        leave_out(course, i);
        if (order->spread->dropped[i]) continue;
        struct stream stream = stream_of(&order->rig->tow, k);
        struct pull pull = pull_at(&stream, order->speed);
        course->points++;
        if (!pull.steady) continue;
        course->steady++;
        course->pull.value[i] = pull.tension;
        course->angle.value[i] = pull.angle;
        put_depths(order, k, &pull, course, i);
        if (by_lip) put_hold(&stream, &pull, course, i);
    }
    return course;
}

/* --- speeds ---------------------------------------------------------------------------------- */

/* Counts are of 64 points; they hold as shares where a reading has dropped some. */
static enum tow_verdict verdict_of(int yes, int count, int surely, int surely_not) {
    if (yes * SPREAD_POINTS >= surely * count) return VERDICT_YES;
    return yes * SPREAD_POINTS <= surely_not * count ? VERDICT_NO : VERDICT_DOUBTFUL;
}

static bool steady_enough(const struct course *course) {
    enum { UNSTEADY_MOST = 6 };
    return (course->points - course->steady) * SPREAD_POINTS <= UNSTEADY_MOST * course->points;
}

static struct running_speed speed_of(const struct course *course, const struct tow_order *order) {
    enum { RUNS = 58, SURFACE = 6, HOLDS = 61, ROLLS = 3 };
    const struct tow_lip *lip = &order->rig->tow.lip;
    struct running_speed s = {.speed = order->speed, .steady = steady_enough(course)};
    if (lip->given) {
        s.beat = reference_fact[FACT_WAKE_BEAT].value * order->speed / lip->width;
        s.beat_doubt = reference_fact[FACT_WAKE_DOUBT].value * s.beat;
    }
    if (!s.steady) return s;
    s.runs = verdict_of(course->under, course->points, RUNS, SURFACE);
    s.holds = verdict_of(course->upright, course->points, HOLDS, ROLLS);
    s.trim = estimate_of(&course->trim);
    s.pull = estimate_of(&course->pull);
    s.angle = estimate_of(&course->angle);
    s.tie_aside = estimate_of(&course->tie_aside);
    for (int i = 0; i < order->out_count; i++) s.depth[i] = estimate_of(&course->depth[i]);
    return s;
}

/* Over all speeds that are looked at. */
static void bound_speeds(struct arena *arena, struct running_result *result,
                         const struct spread *spread) {
    struct by_point *dives = NEW(arena, struct by_point, 1),
                    *holds = NEW(arena, struct by_point, 1);
    for (int i = 0; i < SPREAD_POINTS; i++) {
        dives->value[i] = holds->value[i] = NAN;
        if (spread->dropped[i]) continue;
        struct stream stream = stream_of(&result->rig.tow, &spread->point[i]);
        dives->value[i] = pull_dives_from(&stream);
        if (result->kind == TOW_BY_LIP) holds->value[i] = hold_speed(&stream);
    }
    result->dives_from = estimate_of(dives);
    result->hold_speed = estimate_of(holds);
}

/* --- tweaks ---------------------------------------------------------------------------------- */

struct tweaking {
    struct arena *arena;
    const struct plug *plug;
    const struct ballast_result *ballast;
    struct tow_order order; /* of the plug as it is */
    const struct course *before;
};

static struct running_tweak tweaked(const struct tweaking *t, enum tweak tweak) {
    struct running_tweak result = {0};
    struct rig rig;
    if (!tweak_rig(t->arena, t->plug, t->ballast, t->order.rig, tweak, &rig)) return result;
    struct tow_order order = t->order;
    order.rig = &rig;
    const struct course *after = tow(t->arena, &order);
    result.possible = steady_enough(after);
    if (!result.possible) return result;
    result.depth = change_between(&t->before->depth[0], &after->depth[0]);
    result.trim = change_between(&t->before->trim, &after->trim);
    result.pull = change_between(&t->before->pull, &after->pull);
    result.tie_aside = change_between(&t->before->tie_aside, &after->tie_aside);
    return result;
}

/* At one speed, on one length of line, both in the same strides. */
static void tweak_all(struct arena *arena, struct running_result *result, const struct plug *plug,
                      const struct ballast_result *ballast, const struct spread *spread) {
    const struct running *running = plug->recipe->running;
    struct tow_order order = {&result->rig,
                              spread,
                              running->speed[result->middle_speed],
                              LINE_STRIDES,
                              &running->out[result->middle_out],
                              1};
    struct tweaking tweaking = {arena, plug, ballast, order, tow(arena, &order)};
    for (int i = 0; i < TWEAKS; i++) result->tweaks[i] = tweaked(&tweaking, (enum tweak)i);
}

/* --- all of it ------------------------------------------------------------------------------- */

bool running_lip_dry(const struct plug *plug, const struct rest *finished) {
    const struct plate *plate = &plug->plate;
    double area, moment;
    if (!plate->given || !finished->afloat) return false;
    plate_area(plate, 0, plate->extent, &area, &moment);
    double s = area > 0 ? moment / area : 0;
    double x = plate->mouth_x + s * plate->u_x, z = plate->mouth_z + s * plate->u_z;
    return x * sin(finished->attitude) + z * cos(finished->attitude) > finished->level;
}

static void run_speeds(struct arena *arena, struct running_result *result,
                       const struct running *running, const struct spread *spread) {
    for (int i = 0; i < running->speed_count; i++) {
        struct tow_order order = {&result->rig, spread,       running->speed[i],
                                  LINE_STEPS,   running->out, running->out_count};
        result->speeds[i] = speed_of(tow(arena, &order), &order);
    }
}

/* The one with as many below it as above, or one more. */
static int middle_of(const double *speed, int count) {
    int middle = 0;
    for (int i = 0; i < count; i++) {
        int below = 0;
        for (int k = 0; k < count; k++)
            below += speed[k] < speed[i] || (k < i && speed[k] == speed[i]);
        if (below == count / 2) middle = i;
    }
    return middle;
}

/* What everything else begins with. */
static struct running_result result_of(const struct plug *plug, const struct mass_list *masses,
                                       const struct rest *finished) {
    const struct running *running = plug->recipe->running;
    struct running_result result = {.given = running != NULL};
    if (!result.given) return result;
    result.rig = rig_of(plug, masses, finished);
    result.kind = tow_kind_of(&result.rig.tow);
    result.speed_count = running->speed_count;
    result.out_count = running->out_count;
    result.middle_speed = middle_of(running->speed, running->speed_count);
    result.middle_out = running->out_count / 2;
    return result;
}

/* By what was measured, where something was. */
static struct spread spread_for(const struct recipe *recipe, struct running_result *result) {
    struct spread spread = spread_all();
    if (recipe->measured && recipe->measured->running)
        result->sounding = sounding_apply(&result->rig, recipe->measured->running, &spread);
    return spread;
}

struct estimate running_depth(struct arena *arena, const struct plug *plug,
                              const struct mass_list *masses, const struct rest *finished) {
    const struct running *running = plug->recipe->running;
    struct running_result result = result_of(plug, masses, finished);
    if (!result.given || result.kind == TOW_ON_TOP) return (struct estimate){0};
    struct spread spread = spread_for(plug->recipe, &result);
    struct tow_order order = {&result.rig,
                              &spread,
                              running->speed[result.middle_speed],
                              LINE_STRIDES,
                              &running->out[result.middle_out],
                              1};
    const struct course *course = tow(arena, &order);
    return steady_enough(course) ? estimate_of(&course->depth[0]) : (struct estimate){0};
}

struct band running_aimed(struct arena *arena, const struct plug *plug,
                          const struct mass_list *masses, const struct rest *finished,
                          const struct tow_aim *aim) {
    struct running_result result = result_of(plug, masses, finished);
    if (!result.given || result.kind != TOW_BY_LIP) return (struct band){0};
    struct spread spread = spread_all();
    struct tow_order order = {&result.rig, &spread, aim->speed, LINE_STRIDES, &aim->out, 1};
    const struct running_speed speed = speed_of(tow(arena, &order), &order);
    return speed.steady && speed.runs == VERDICT_YES ? speed.depth[0].band : (struct band){0};
}

struct running_result running_of(struct arena *arena, const struct plug *plug,
                                 const struct ballast_result *ballast,
                                 const struct mass_list *masses, const struct rest *finished) {
    const struct running *running = plug->recipe->running;
    struct running_result result = result_of(plug, masses, finished);
    if (!result.given) return result;
    result.lip_dry = running_lip_dry(plug, finished);
    if (result.kind == TOW_ON_TOP) return result;
    struct spread spread = spread_for(plug->recipe, &result);
    run_speeds(arena, &result, running, &spread);
    bound_speeds(arena, &result, &spread);
    tweak_all(arena, &result, plug, ballast, &spread);
    struct coefficients middle = spread_middle();
    struct stream stream = stream_of(&result.rig.tow, &middle);
    result.middle = pull_at(&stream, running->speed[result.middle_speed]);
    pull_forces(&stream, &result.middle, result.force);
    return result;
}
