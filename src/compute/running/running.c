/* Every point of the spread is one plug on one line: its answers are computed by themselves and
 * sorted into bands at the end.  What a change does is the difference at each point, so that what
 * two plugs have in common does not blur it.
 */
#include "compute/running/running.h"

#include <math.h>

#include "compute/running/tweak.h"

const char *running_runs_name(enum tow_verdict runs) {
    static const char *const names[] = {"at the surface", "doubtful", "runs"};
    return names[runs];
}

const char *running_holds_name(enum tow_verdict holds) {
    static const char *const names[] = {"rolls out", "doubtful", "holds"};
    return names[holds];
}

/* --- points ---------------------------------------------------------------------------------- */

struct points {
    struct coefficients k[SPREAD_POINTS];
    int count;
};

static struct points points_all(void) {
    struct points points = {.count = SPREAD_POINTS};
    for (int i = 0; i < SPREAD_POINTS; i++) points.k[i] = spread_point(i + 1);
    return points;
}

/* Answers at one speed, by point. */
struct answers {
    bool steady[SPREAD_POINTS];
    struct pull pull[SPREAD_POINTS];
    struct hold hold[SPREAD_POINTS];
    double depth[SPREAD_POINTS][MAX_OUTS];
    int steady_count;
};

static void answer(const struct rig *rig, const struct points *points, double speed, int steps,
                   const double *out, int out_count, struct answers *answers) {
    bool by_lip = tow_kind_of(&rig->tow) == TOW_BY_LIP;
    answers->steady_count = 0;
    for (int i = 0; i < points->count; i++) {
        const struct coefficients *k = &points->k[i];
        struct stream stream = stream_of(&rig->tow, k);
        struct pull *pull = &answers->pull[i];
        *pull = pull_at(&stream, speed);
        answers->steady[i] = pull->steady;
        if (!pull->steady) continue;
        answers->steady_count++;
        if (by_lip) answers->hold[i] = hold_at(&stream, pull);
        rig_depths(rig, k, pull, steps, out, out_count, answers->depth[i]);
    }
}

/* --- bands ----------------------------------------------------------------------------------- */

enum part { PART_TRIM, PART_PULL, PART_ANGLE, PART_ASIDE, PART_DEPTH };

static double part_of(const struct answers *answers, int point, enum part part, int out) {
    switch (part) {
    case PART_TRIM:
        return answers->pull[point].trim;
    case PART_PULL:
        return answers->pull[point].tension;
    case PART_ANGLE:
        return answers->pull[point].angle;
    case PART_ASIDE:
        return answers->hold[point].tie_aside;
    case PART_DEPTH:
        break;
    }
    return answers->depth[point][out];
}

static struct band band_in(const struct answers *answers, int count, enum part part, int out) {
    double values[SPREAD_POINTS];
    int steady = 0;
    for (int i = 0; i < count; i++)
        if (answers->steady[i]) values[steady++] = part_of(answers, i, part, out);
    return band_of(values, steady);
}

/* Differences, where both are steady and not both without a limit. */
static struct band band_between(const struct answers *before, const struct answers *after,
                                int count, enum part part) {
    double values[SPREAD_POINTS];
    int both = 0;
    for (int i = 0; i < count; i++) {
        if (!before->steady[i] || !after->steady[i]) continue;
        double change = part_of(after, i, part, 0) - part_of(before, i, part, 0);
        if (!isnan(change)) values[both++] = change;
    }
    return band_of(values, both);
}

/* Shares of 64 points, so that they hold where a reading has dropped some. */
static enum tow_verdict verdict_of(int yes, int count, int surely, int surely_not) {
    if (yes * SPREAD_POINTS >= surely * count) return VERDICT_YES;
    return yes * SPREAD_POINTS <= surely_not * count ? VERDICT_NO : VERDICT_DOUBTFUL;
}

/* --- speeds ---------------------------------------------------------------------------------- */

static bool steady_enough(const struct answers *answers, int count) {
    enum { UNSTEADY_MOST = 6 };
    return (count - answers->steady_count) * SPREAD_POINTS <= UNSTEADY_MOST * count;
}

static struct running_speed speed_of(const struct answers *answers, int count, double speed,
                                     int out_count, bool by_lip) {
    enum { RUNS = 58, SURFACE = 6, HOLDS = 61, ROLLS = 3 };
    struct running_speed s = {.speed = speed, .steady = steady_enough(answers, count)};
    int runs = 0, holds = 0;
    if (!s.steady) return s;
    for (int i = 0; i < count; i++) {
        runs += answers->steady[i] && answers->pull[i].line_down > 0;
        holds += answers->steady[i] && answers->hold[i].stiffness > 0;
    }
    s.runs = verdict_of(runs, count, RUNS, SURFACE);
    s.pull = band_in(answers, count, PART_PULL, 0);
    s.angle = band_in(answers, count, PART_ANGLE, 0);
    for (int i = 0; i < out_count; i++) s.depth[i] = band_in(answers, count, PART_DEPTH, i);
    if (!by_lip) return s;
    s.holds = verdict_of(holds, count, HOLDS, ROLLS);
    s.trim = band_in(answers, count, PART_TRIM, 0);
    s.tie_aside = band_in(answers, count, PART_ASIDE, 0);
    return s;
}

/* Over all speeds that are looked at. */
static void bound_speeds(struct running_result *result, const struct points *points) {
    double dives[SPREAD_POINTS], holds[SPREAD_POINTS];
    for (int i = 0; i < points->count; i++) {
        struct stream stream = stream_of(&result->rig.tow, &points->k[i]);
        double from = pull_dives_from(&stream);
        dives[i] = isnan(from) ? INFINITY : from;
        if (result->kind == TOW_BY_LIP) holds[i] = hold_speed(&stream);
    }
    result->dives_from = band_of(dives, points->count);
    if (result->kind == TOW_BY_LIP) result->hold_speed = band_of(holds, points->count);
}

/* --- tweaks ---------------------------------------------------------------------------------- */

struct trying {
    struct arena *arena;
    const struct plug *plug;
    const struct ballast_result *ballast;
    const struct points *points;
    double speed, out;
};

static struct running_tweak try(const struct trying *t, const struct rig *unchanged,
                                const struct answers *before, enum tweak tweak) {
    struct running_tweak result = {0};
    struct rig rig;
    struct answers *after = NEW(t->arena, struct answers, 1);
    if (!tweak_rig(t->arena, t->plug, t->ballast, unchanged, tweak, &rig)) return result;
    answer(&rig, t->points, t->speed, LINE_STRIDES, &t->out, 1, after);
    int count = t->points->count;
    result.possible = steady_enough(after, count);
    if (!result.possible) return result;
    result.depth = band_between(before, after, count, PART_DEPTH);
    result.pull = band_between(before, after, count, PART_PULL);
    if (tow_kind_of(&rig.tow) != TOW_BY_LIP) return result;
    result.trim = band_between(before, after, count, PART_TRIM);
    result.tie_aside = band_between(before, after, count, PART_ASIDE);
    return result;
}

static void try_all(struct running_result *result, const struct trying *trying,
                    struct answers *before) {
    /* On the one length of line alone: depths of the same steps. */
    answer(&result->rig, trying->points, trying->speed, LINE_STRIDES, &trying->out, 1, before);
    for (int i = 0; i < TWEAKS; i++)
        result->tweaks[i] = try(trying, &result->rig, before, (enum tweak)i);
}

/* --- all of it ------------------------------------------------------------------------------- */

static bool lip_stands_dry(const struct rest *rest, const struct tow_lip *lip) {
    if (!lip->given || !rest->afloat) return false;
    double x = lip->mouth.x - lip->centroid * cos(lip->angle);
    double z = lip->mouth.z - lip->centroid * sin(lip->angle);
    return x * sin(rest->attitude) + z * cos(rest->attitude) > rest->level;
}

static void run_speeds(struct running_result *result, const struct running *running,
                       const struct points *points, struct answers *answers) {
    bool by_lip = result->kind == TOW_BY_LIP;
    for (int i = 0; i < running->speed_count; i++) {
        answer(&result->rig, points, running->speeds[i], LINE_STEPS, running->outs,
               running->out_count, answers);
        result->speeds[i] =
            speed_of(answers, points->count, running->speeds[i], running->out_count, by_lip);
    }
}

struct running_result running_of(struct arena *arena, const struct plug *plug,
                                 const struct ballast_result *ballast,
                                 const struct mass_list *masses, const struct rest *finished) {
    const struct recipe *recipe = plug->recipe;
    const struct running *running = recipe->running;
    struct running_result result = {.given = running != NULL};
    if (!result.given) return result;
    result.rig = rig_of(plug, masses, finished);
    result.kind = tow_kind_of(&result.rig.tow);
    result.speed_count = running->speed_count;
    result.out_count = running->out_count;
    result.middle_speed = running->speed_count / 2;
    result.middle_out = running->out_count / 2;
    result.lip_dry = lip_stands_dry(finished, &result.rig.tow.lip);
    if (result.kind == TOW_ON_TOP) return result;
    struct points points = points_all();
    struct answers *answers = NEW(arena, struct answers, 1);
    if (recipe->measured && recipe->measured->running)
        result.sounding =
            sounding_apply(&result.rig, recipe->measured->running, points.k, &points.count);
    run_speeds(&result, running, &points, answers);
    bound_speeds(&result, &points);
    struct trying trying = {arena,
                            plug,
                            ballast,
                            &points,
                            running->speeds[result.middle_speed],
                            running->outs[result.middle_out]};
    try_all(&result, &trying, answers);
    struct coefficients middle = spread_middle();
    struct stream stream = stream_of(&result.rig.tow, &middle);
    result.middle = pull_at(&stream, trying.speed);
    return result;
}
