#include "compute/plug/condition.h"

#include <math.h>

#include "model/reference.h"

bool rest_has_waterline(const struct rest *rest) {
    const double upright = 1e-4; /* rad: on end, the water meets the datum's plane nowhere near */
    return rest->afloat && rest->reserve >= reference_fact[FACT_WATERLINE_FROM].value &&
           cos(rest->attitude) > upright;
}

/* On the waterplane n.r = c with n = (sin t, 0, cos t). */
double rest_waterline(const struct rest *rest, double x) {
    return (rest->level - x * sin(rest->attitude)) / cos(rest->attitude);
}

const struct hull *condition_hull(const struct plug *plug, enum condition_kind kind) {
    return kind == CONDITION_TEST ? &plug->bare_hull : &plug->finished_hull;
}

double condition_finish(const struct plug *plug, enum condition_kind kind) {
    return kind == CONDITION_TEST ? 0 : plug->finish;
}

double condition_lean(const struct condition *condition, double mass, double offset) {
    return atan(mass * offset / (condition->burden.mass * condition->rest.gm));
}

static enum float_state state_of(double reserve) {
    double within = reference_fact[FACT_SUSPENDS_WITHIN].value;
    if (reserve > within) return STATE_FLOATS;
    return reserve < -within ? STATE_SINKS : STATE_SUSPENDS;
}

/* On the way down the drag carries what the water does not, at the centroid of the plan. */
static void fall(struct condition *c, const struct plug *plug) {
    const struct rest *rest = &c->rest;
    const struct burden *burden = &c->burden;
    double carried = burden->mass - rest->capacity;
    double x =
        burden->mass * burden->x - rest->capacity * rest->buoyancy_x - carried * plug->bare.plan_x;
    double z =
        burden->mass * burden->z - rest->capacity * rest->buoyancy_z - carried * plug->bare.plan_z;
    c->falling_given = carried > 0 && z < 0;
    c->falling = c->falling_given ? atan2(-x, -z) : 0;
}

struct condition condition_of(const struct plug *plug, const struct burden *burden,
                              enum condition_kind kind, double ballast_mass) {
    const struct hull *hull = condition_hull(plug, kind);
    struct condition c = {.burden = *burden, .ballast_mass = ballast_mass};
    c.rest = hydro_rest(hull, burden, plug->water);
    c.righting = hydro_righting(hull, burden, plug->water, &c.rest);
    c.state = state_of(c.rest.reserve);
    c.stable = c.rest.found && c.rest.gm > 0;
    c.lean_given = c.rest.gm > 0;
    c.speed = hydro_speed(&c.rest, burden->mass, plug->water, plug->bare.plan_area);
    fall(&c, plug);
    c.waterline_given = rest_has_waterline(&c.rest);
    if (c.waterline_given) {
        c.waterline_nose = rest_waterline(&c.rest, 0);
        c.waterline_tail = rest_waterline(&c.rest, plug->outline.length);
        c.marks = waterline_marks(plug, condition_finish(plug, kind),
                                  (struct water_level){c.waterline_nose, c.waterline_tail});
    }
    return c;
}
