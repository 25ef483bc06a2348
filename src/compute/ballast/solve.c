/* Loads to an aim.
 *
 * At the attitude aimed at, the condition of rest is linear in the first moments:
 *     torque = (Gx - Bx) cos t - (Gz - Bz) sin t = 0,
 * and the mass of a bore with its load is linear in the load.  So no search over attitudes is
 * needed, which could run away: the reserve fixes the total mass by a line, and the torque is a
 * smooth function of one load, whose roots are bracketed on a grid and refined.  What is found is
 * weighed anew from attitude 0, since a plug may settle elsewhere first; then it does not count. */
#include "compute/ballast/solve.h"

#include <math.h>

#include "compute/plug/condition.h"
#include "model/reference.h"

/* 0.001 g is asked for; a thousandth of that is computed. */
static const double load_tolerance = 1e-9;
static const double right_angle = 1.57079632679489661923;
/* How near the rest must come to the attitude solved for, to be the same rest: 0.05 degrees. */
static const double same_attitude = 0.05 * 0.017453292519943295;

/* --- weighing -------------------------------------------------------------------------------- */

static int bore_count(const struct plug *plug) {
    return plug->recipe->ballast ? plug->recipe->ballast->bore_count : 0;
}

/* Where a time of sinking is aimed at, the reserve that gives it. */
static const struct aim *aim_of(struct arena *arena, const struct weighing *w) {
    const struct plug *plug = w->plug;
    const struct ballast *ballast = plug->recipe->ballast;
    if (!ballast || !ballast->aim || !ballast->aim->sink.given)
        return ballast ? ballast->aim : NULL;
    struct aim *aim = NEW(arena, struct aim, 1);
    double capacity = weighing_capacity(w, CONDITION_FINISHED);
    *aim = *ballast->aim;
    aim->reserve.given = true;
    aim->reserve.value =
        hydro_reserve(-1 / aim->sink.value, capacity, plug->water, plug->bare.plan_area);
    return aim;
}

struct weighing weighing_of(struct arena *arena, const struct plug *plug, long *evaluations) {
    struct weighing w = {.plug = plug, .evaluations = evaluations};
    struct bore_fill none[MAX_BORES] = {0};
    struct mass_list rows = mass_rows(arena, plug, none);
    for (int kind = CONDITION_TEST; kind <= CONDITION_FINISHED; kind++) {
        struct burden burden = mass_burden(&rows, (enum condition_kind)kind);
        tally_add(&w.base[kind], burden.mass, burden.x, burden.z);
        w.hung = burden;
    }
    w.aim = aim_of(arena, &w);
    return w;
}

static struct tally weigh(const struct weighing *w, const struct bore_fill *fills,
                          enum condition_kind kind) {
    struct tally sum = w->base[kind];
    for (int i = 0; i < bore_count(w->plug); i++) bore_tally(w->plug, &fills[i], kind, &sum);
    return sum;
}

struct burden weighing_burden(const struct weighing *w, const struct bore_fill *fills,
                              enum condition_kind kind) {
    struct tally sum = weigh(w, fills, kind);
    struct burden burden = w->hung;
    burden.mass = sum.mass;
    burden.x = sum.mass != 0 ? sum.x / sum.mass : 0;
    burden.z = sum.mass != 0 ? sum.z / sum.mass : 0;
    return burden;
}

double weighing_capacity(const struct weighing *w, enum condition_kind kind) {
    double area = 0, moment;
    const struct plate *plate = &w->plug->plate;
    if (plate->given) plate_area(plate, 0, plate->extent, &area, &moment);
    double volume =
        condition_hull(w->plug, kind)->volume + area * plate->thickness + w->hung.hung_volume;
    return w->plug->water * volume;
}

struct outcome weighing_outcome(const struct weighing *w, const struct bore_fill *fills,
                                enum condition_kind kind) {
    struct burden burden = weighing_burden(w, fills, kind);
    struct rest rest = hydro_rest(condition_hull(w->plug, kind), &burden, w->plug->water);
    struct outcome outcome = {
        .reserve = rest.reserve,
        .attitude = rest.found ? rest.attitude : NAN,
        .speed = hydro_speed(&rest, burden.mass, w->plug->water, w->plug->bare.plan_area),
        .found = rest.found,
        .afloat = rest.afloat};
    ++*w->evaluations;
    outcome.waterline_given = rest_has_waterline(&rest);
    if (outcome.waterline_given) {
        outcome.waterline_nose = rest_waterline(&rest, 0);
        outcome.waterline_tail = rest_waterline(&rest, w->plug->outline.length);
    }
    return outcome;
}

double solve_miss(const struct aim *aim, const struct outcome *outcome) {
    double miss = 0;
    if (aim->reserve.given)
        miss +=
            fabs(outcome->reserve - aim->reserve.value) / reference_fact[FACT_RESERVE_STEP].value;
    if (aim->attitude.given) {
        double off = outcome->found ? fabs(outcome->attitude - aim->attitude.value) : right_angle;
        miss += off / reference_fact[FACT_ATTITUDE_STEP].value;
    }
    return miss;
}

/* --- solving --------------------------------------------------------------------------------- */

struct solver {
    const struct weighing *w;
    struct bore_fill *fills;
    const struct aim *aim;
    int bores[2], count; /* those to be solved */
    double capacity;
    double wanted_mass;    /* of the finished plug, where the reserve is aimed at */
    double slope[2];       /* mass gained per mass of load */
    double free;           /* mass to be gained by loads: wanted less the plug with empty bores */
    double volume, bx, bz; /* the last volume displaced at the aim's attitude, and its centre */
};

static void put(const struct solver *s, int which, double load) {
    int bore = s->bores[which];
    s->fills[bore] =
        bore_refilled(s->w->plug, bore, &s->fills[bore], load, bore_slug(s->w->plug, bore, load));
}

static double mass_now(const struct solver *s) {
    return weigh(s->w, s->fills, CONDITION_FINISHED).mass;
}

/* Centre of buoyancy at the attitude aimed at; along a line of one reserve it stays where it is. */
static bool buoyancy_of(struct solver *s, const struct burden *burden, double volume) {
    double level;
    if (fabs(volume - s->volume) <= 1e-12 * volume) return true;
    ++*s->w->evaluations;
    s->volume = volume;
    if (hydro_at(&s->w->plug->finished_hull, burden, volume, s->aim->attitude.value, &s->bx, &s->bz,
                 &level))
        return true;
    s->volume = -1;
    return false;
}

/* Torque at the attitude aimed at, kg m; NAN where so much cannot be displaced. */
static double torque_now(struct solver *s) {
    struct tally sum = weigh(s->w, s->fills, CONDITION_FINISHED);
    struct burden burden = weighing_burden(s->w, s->fills, CONDITION_FINISHED);
    double angle = s->aim->attitude.value;
    if (!buoyancy_of(s, &burden, fmin(sum.mass, s->capacity) / s->w->plug->water)) return NAN;
    return (sum.x - sum.mass * s->bx) * cos(angle) - (sum.z - sum.mass * s->bz) * sin(angle);
}

static void start(struct solver *s) {
    const double probe = 1e-6; /* a milligram fits into every bore */
    for (int i = 0; i < s->count; i++) put(s, i, 0);
    double empty = mass_now(s);
    for (int i = 0; i < s->count; i++) {
        put(s, i, probe);
        s->slope[i] = (mass_now(s) - empty) / probe;
        put(s, i, 0);
    }
    s->capacity = weighing_capacity(s->w, CONDITION_FINISHED);
    s->wanted_mass = s->capacity * (1 - s->aim->reserve.value);
    s->free = s->wanted_mass - empty;
}

/* Whether loads weigh more than the wood or filler whose place they take: else none makes the plug
 * heavier, and no reserve can be aimed at with them. */
static bool loads_weigh(const struct solver *s) {
    for (int i = 0; i < s->count; i++)
        if (!(s->slope[i] > 1e-6)) return false;
    return true;
}

/* Sets the loads from one number: the only load, or the first of two that meet the reserve. */
static void put_along(const struct solver *s, double first) {
    put(s, 0, first);
    if (s->count == 2) put(s, 1, fmax((s->free - s->slope[0] * first) / s->slope[1], 0));
}

static double torque_along(struct solver *s, double first) {
    put_along(s, first);
    return torque_now(s);
}

static double total_load(const struct solver *s) {
    double total = 0;
    for (int i = 0; i < s->count; i++) total += fill_load(&s->fills[s->bores[i]]);
    return total;
}

/* Bisection and secant in turn, kept inside the bracket (Illinois' false position). */
static double refine(struct solver *s, double a, double fa, double b, double fb) {
    for (int i = 0; i < 100 && fabs(b - a) > load_tolerance; i++) {
        double x = i % 3 == 2 ? (a + b) / 2 : b - fb * (b - a) / (fb - fa);
        double fx = torque_along(s, x);
        if (fx == 0) return x;
        if ((fx < 0) == (fb < 0)) {
            fa /= 2;
        } else {
            a = b;
            fa = fb;
        }
        b = x;
        fb = fx;
    }
    return b;
}

/* Tries the loads that stand in `fills`: kept when they meet the attitude and are lighter. */
static void offer(const struct solver *s, struct solution *best, double *least) {
    struct outcome outcome = weighing_outcome(s->w, s->fills, CONDITION_FINISHED);
    if (!outcome.found || fabs(outcome.attitude - s->aim->attitude.value) > same_attitude) return;
    if (best->status == SOLVE_FOUND && total_load(s) >= *least) return;
    *least = total_load(s);
    best->status = SOLVE_FOUND;
    best->outcome = outcome;
    for (int i = 0; i < bore_count(s->w->plug); i++) best->load[i] = s->fills[i].load;
}

/* The range of the first load: along the line of the reserve, or as high as there is body ahead. */
static double range_along(const struct solver *s) {
    if (s->count == 2) return s->free / s->slope[0];
    double slug = bore_slug(s->w->plug, s->bores[0], 1);
    return s->fills[s->bores[0]].axis.room / fmax(slug, 1e-12);
}

enum { GRID = 24 };

/* All roots of the torque over the range of the first load; the lightest that holds wins. */
static void solve_attitude(struct solver *s, struct solution *best) {
    if (s->count == 2 && !loads_weigh(s)) return;
    double range = range_along(s), least = INFINITY;
    if (!(range >= 0)) return;
    double last = torque_along(s, 0);
    if (last == 0) offer(s, best, &least);
    for (int i = 1; i <= GRID; i++) {
        double x = range * i / GRID, torque = torque_along(s, x);
        if (torque == 0 || (last < 0) != (torque < 0)) {
            double root = torque == 0 ? x : refine(s, range * (i - 1) / GRID, last, x, torque);
            put_along(s, root);
            offer(s, best, &least);
        }
        last = torque;
        if (best->status == SOLVE_FOUND && s->count == 1) return; /* loads only rise from here */
    }
}

/* Reserve alone: the mass is a line in the load. */
static void solve_reserve(const struct solver *s, struct solution *best) {
    if (!loads_weigh(s) || s->free < 0) return;
    double load = s->free / s->slope[0];
    put(s, 0, load);
    best->status = SOLVE_FOUND;
    best->outcome = weighing_outcome(s->w, s->fills, CONDITION_FINISHED);
    best->load[s->bores[0]] = load;
}

/* Whether nothing on the bench tells an outcome from the aim: neither a balance, nor a rule that
 * reads the waterline at both ends. */
static bool as_good(const struct solver *s, const struct outcome *outcome) {
    double off = fabs(outcome->reserve - s->aim->reserve.value) * s->capacity;
    if (s->aim->reserve.given && off > reference_fact[FACT_BALANCE_DOUBT].value) return false;
    if (!s->aim->attitude.given || (s->aim->reserve.given && s->count == 1)) return true;
    return outcome->found &&
           fabs(outcome->attitude - s->aim->attitude.value) <= waterline_doubt(s->w->plug);
}

/* An aim that lies beyond a bore without load by less than can be told is met by that. */
static void solve_at_ends(const struct solver *s, struct solution *best) {
    double range = s->count == 2 ? range_along(s) : 0, least = INFINITY;
    for (int end = 0; end < (range > 0 ? 2 : 1); end++) {
        put_along(s, end ? range : 0);
        struct outcome outcome = weighing_outcome(s->w, s->fills, CONDITION_FINISHED);
        if (!as_good(s, &outcome) || total_load(s) >= least) continue;
        least = total_load(s);
        best->status = SOLVE_FOUND;
        best->outcome = outcome;
        for (int i = 0; i < bore_count(s->w->plug); i++) best->load[i] = s->fills[i].load;
    }
}

/* The nearest that can be reached: the ends of the range and a walk between them. */
static void nearest(const struct solver *s, struct solution *best) {
    bool along = s->aim->attitude.given && !(s->aim->reserve.given && s->count == 1);
    bool empty = s->count == 2 && (s->free < 0 || !loads_weigh(s));
    double range = along && !empty ? fmax(range_along(s), 0) : 0, least = INFINITY;
    for (int i = 0; i <= (range > 0 ? GRID : 0); i++) {
        if (empty)
            put(s, 0, 0), put(s, 1, 0);
        else
            put_along(s, range * i / GRID);
        struct outcome outcome = weighing_outcome(s->w, s->fills, CONDITION_FINISHED);
        double miss = solve_miss(s->aim, &outcome);
        if (miss >= least) continue;
        least = miss;
        best->outcome = outcome;
        for (int k = 0; k < bore_count(s->w->plug); k++) best->load[k] = s->fills[k].load;
    }
}

static struct solver solver_of(const struct weighing *w, struct bore_fill *fills) {
    struct solver s = {.w = w, .fills = fills, .volume = -1};
    const struct ballast *ballast = w->plug->recipe->ballast;
    s.aim = w->aim;
    for (int i = 0; i < bore_count(w->plug) && s.count < 2; i++)
        if (ballast->bores[i].solve) s.bores[s.count++] = i;
    return s;
}

struct solution solve_loads(const struct weighing *w, struct bore_fill *fills) {
    struct solver s = solver_of(w, fills);
    struct solution best = {.solved_count = s.count};
    for (int i = 0; i < bore_count(w->plug); i++) best.load[i] = fills[i].load;
    if (s.count == 0 || !s.aim) {
        best.outcome = weighing_outcome(w, fills, CONDITION_FINISHED);
        return best;
    }
    start(&s);
    bool reserve_alone = s.count == 1 && s.aim->reserve.given;
    best.attitude_noted = reserve_alone && s.aim->attitude.given;
    best.status = SOLVE_UNREACHABLE;
    if (reserve_alone)
        solve_reserve(&s, &best);
    else
        solve_attitude(&s, &best);
    if (best.status == SOLVE_UNREACHABLE) solve_at_ends(&s, &best);
    for (int i = 0; i < s.count; i++) put(&s, i, best.load[s.bores[i]]);
    return best;
}

void solve_nearest(const struct weighing *w, struct bore_fill *fills, struct solution *solution) {
    struct solver s = solver_of(w, fills);
    if (!s.aim) return;
    start(&s);
    nearest(&s, solution);
    if (as_good(&s, &solution->outcome)) solution->status = SOLVE_FOUND;
    for (int i = 0; i < s.count; i++) put(&s, i, solution->load[s.bores[i]]);
}
