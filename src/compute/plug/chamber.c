#include "compute/plug/chamber.h"

#include "model/reference.h"

static double disc(double diameter) {
    const double pi = 3.14159265358979323846;
    return pi / 4 * diameter * diameter;
}

/* A stopper of wood is cut from the body's own wood. */
static double stopper_density(const struct plug *plug, const struct chamber *chamber) {
    if (chamber->closing == STOPPER_WOOD) return plug->wood_density;
    return chamber->filler.given ? chamber->filler.value
                                 : reference_fact[FACT_CHAMBER_FILLER].value;
}

struct hollow hollow_of(const struct plug *plug, int chamber) {
    const struct chamber *c = &plug->recipe->chambers[chamber];
    double stopper = c->from == SIDE_INSIDE ? 0 : c->stopper; /* the other half closes it */
    double closed = disc(c->drill) * stopper;
    return (struct hollow){
        .axis = axis_of(plug, c->from, c->at, c->up.given ? c->up.value : 0),
        .drill = c->drill,
        .depth = c->depth,
        .stopper = stopper,
        .content = c->holds->mass,
        .middle = (stopper + c->depth) / 2,
        .closed = closed,
        .stopper_mass = stopper_density(plug, c) * closed,
    };
}

double hollow_packing(const struct hollow *hollow) {
    return hollow->content / (disc(hollow->drill) * (hollow->depth - hollow->stopper));
}
