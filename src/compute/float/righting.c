/* The righting arm GZ(f) = (G - B).e, e = (0, cos f, -sin f), with the attitude kept and the level
 * found anew for each heel f.  Its derivative is (B - G).(0, sin f, cos f) + cos t I / V with I the
 * waterplane's second moment across: GM cos t at f = 0.
 *
 * Where it vanishes is sought on GZ / sin f, which has no zeros at 0 and 180 degrees of its own;
 * its values there are the derivative's, and it is level there by symmetry.
 */
#include "compute/float/flotation.h"
#include "compute/float/hydro.h"
#include "compute/float/search.h"

#include <math.h>

static const double PI = 3.14159265358979323846;

struct heeling {
    const struct displacement *displacement;
    const struct burden *burden;
    double attitude, heel; /* the last heel */
    struct flotation last;
};

/* The arm at a heel, and GZ / sin f with its derivative. */
static double arm_at(struct heeling *heeling, double heel, struct probe *ratio) {
    const struct displacement *d = heeling->displacement;
    struct pose pose = pose_of(heeling->attitude, heel);
    struct flotation *f = &heeling->last;
    double turn = heel - heeling->heel;
    *f = flotation_in(d, &pose, f->area > 0 ? f : NULL, turn, HULL_COARSE);
    heeling->heel = heel;
    double p = pose.p, q = pose.q;
    double y = f->buoyancy.y, z = f->buoyancy.z - heeling->burden->z; /* B - G */
    double arm = -(y * q - z * p);
    double slope = y * p + z * q + pose.cosine * f->across / d->volume;
    double change = (slope * p - arm * q) / (p * p);
    *ratio = (struct probe){heel, arm / p, change};
    if (heel >= PI) *ratio = (struct probe){heel, -slope, 0};
    return arm;
}

static struct probe ratio_at(void *context, double heel) {
    struct probe ratio;
    arm_at(context, heel, &ratio);
    return ratio;
}

/* Below the surface, B and G stay where they are in the body. */
static struct righting righting_below(const struct burden *burden, const struct rest *rest) {
    struct righting righting = {.vanishes = rest->gm <= 0, .self_righting = rest->gm > 0};
    double over = rest->buoyancy_z - burden->z;
    for (int i = 1; i + 1 < RIGHTING_STEPS; i++)
        righting.arm[i] = over * sin(PI * i / (RIGHTING_STEPS - 1));
    return righting;
}

struct righting hydro_righting(const struct hull *hull, const struct burden *burden, double water,
                               const struct rest *rest) {
    struct displacement displacement;
    if (!rest->afloat || !displacement_of(hull, burden, burden->mass / water, &displacement))
        return righting_below(burden, rest);
    struct heeling heeling = {
        .displacement = &displacement, .burden = burden, .attitude = rest->attitude};
    struct search search = {ratio_at, &heeling, 1e-6, 1e-8 * hull->length, 100};
    struct righting righting = {.vanishes = rest->gm <= 0};
    struct probe left = {0, rest->gm * cos(rest->attitude), 0}, right, fall;
    for (int i = 1; i < RIGHTING_STEPS; i++) {
        double arm = arm_at(&heeling, PI * i / (RIGHTING_STEPS - 1), &right);
        if (i + 1 < RIGHTING_STEPS) righting.arm[i] = arm; /* at 180 degrees zero by symmetry */
        if (!righting.vanishes && search_fall(&search, left, right, &fall)) {
            righting.vanishes = true;
            righting.vanishing = fall.at;
        }
        left = right;
    }
    righting.self_righting = !righting.vanishes;
    return righting;
}
