/* A hook swings about the mouth of its hanger as far as eye, ring and hook are long; what bends in
 * the way is left aside.  Hanger, lip and line lie in the plane y = 0. */
#include "compute/plug/reach.h"

#include <math.h>

#include "compute/plug/mass.h"
#include "model/reference.h"

/* Of what is as long as this for 1 g. */
static double by_mass(enum fact length, double mass) {
    return reference_fact[length].value * cbrt(mass * 1e3);
}

double hook_length(const struct hook *hook) {
    const struct hook_row *row = reference_hook_of((int)hook->kind, hook->size);
    if (hook->length.given) return hook->length.value;
    return row ? row->length : by_mass(FACT_HOOK_LENGTH, hook_mass(hook));
}

double ring_length(const struct ring *ring) {
    return by_mass(FACT_RING_LENGTH, ring_mass(ring));
}

double reach_swing(const struct fitting *hanger) {
    if (!hanger->hook) return 0;
    double ring = hanger->ring ? ring_length(hanger->ring) : 0;
    double link = hanger->link ? hanger->link->length : 0;
    return hanger->eye + link + ring + hook_length(hanger->hook);
}

/* From a mouth to the stretch of the lip outside the body. */
static double lip_distance(const struct plate *plate, const struct pilot *from) {
    double dx = from->mouth_x - plate->mouth_x, dz = from->mouth_z - plate->mouth_z;
    double s = fmin(fmax(dx * plate->u_x + dz * plate->u_z, 0), plate->extent);
    return hypot(dx - s * plate->u_x, dz - s * plate->u_z);
}

/* To the line, which runs ahead from its tie. */
static double line_distance(const struct fitted *tie, const struct pilot *from) {
    return hypot(fmax(from->mouth_x - tie->eye_x, 0), from->mouth_z - tie->eye_z);
}

struct reaches reaches_of(const struct plug *plug) {
    struct reaches all = {.count = 0};
    for (int i = FITTING_HANGERS; i < plug->fitting_count; i++) {
        const struct pilot *from = &plug->fittings[i].pilot;
        double swing = reach_swing(plug->fittings[i].fitting);
        if (!plug->fittings[i].fitting->hook) continue;
        for (int k = i + 1; k < plug->fitting_count; k++) {
            const struct pilot *to = &plug->fittings[k].pilot;
            if (!plug->fittings[k].fitting->hook) continue;
            all.list[all.count++] =
                (struct reach){REACH_HOOK, i, k, swing + reach_swing(plug->fittings[k].fitting),
                               hypot(to->mouth_x - from->mouth_x, to->mouth_z - from->mouth_z)};
        }
        if (plug->plate.given)
            all.list[all.count++] =
                (struct reach){REACH_LIP, i, 0, swing, lip_distance(&plug->plate, from)};
        all.list[all.count++] = (struct reach){REACH_LINE, i, 0, swing,
                                               line_distance(&plug->fittings[FITTING_TIE], from)};
    }
    return all;
}
