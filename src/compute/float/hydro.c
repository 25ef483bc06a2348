/* The potential energy is W (G - B).n; at constant displacement its derivative by the attitude t is
 * W times the lever (G - B).e, e = dn/dt = (cos t, 0, -sin t), and that of the lever the
 * longitudinal metacentric height I / V + (B - G).n.  Nose-heavy means a lever below zero: downhill
 * is nose down.
 *
 * The walk goes downhill from 0 in strides of eight degrees, or of a little more than Newton's step
 * where that is shorter, until the lever has changed its sign (search.c looks closer where a
 * minimum could hide between two strides).  Newton's method on a finer integration ends it.  Where
 * the lip lies level the lever can jump, as the lip may dip in all at once: the walk stops on both
 * sides.
 */
#include "compute/float/hydro.h"

#include <math.h>

#include "compute/float/flotation.h"
#include "compute/float/search.h"
#include "model/reference.h"

static const double GRAVITY = 9.80665, RIGHT_ANGLE = 1.57079632679489662;
static const double STRIDE = 0.14, SHY = 1e-6;

/* The hull at one attitude, afloat. */
struct balance {
    double attitude;
    struct flotation flotation;
    double lever, slope;
};

static struct balance balance_at(const struct displacement *d, const struct burden *burden,
                                 double attitude, const struct balance *near,
                                 enum fineness fineness) {
    struct pose pose = pose_of(attitude, 0);
    struct balance balance = {.attitude = attitude};
    balance.flotation = flotation_in(d, &pose, near ? &near->flotation : NULL,
                                     near ? attitude - near->attitude : 0, fineness);
    double x = burden->x - balance.flotation.buoyancy.x;
    double z = burden->z - balance.flotation.buoyancy.z;
    balance.lever = x * pose.cosine - z * pose.sine;
    balance.slope = balance.flotation.along / d->volume - (x * pose.sine + z * pose.cosine);
    return balance;
}

/* The way downhill from attitude 0: `down` is 1 or -1, and what falls to zero is the steepness. */
struct descent {
    const struct displacement *displacement;
    const struct burden *burden;
    double down;
    enum fineness fineness;
    struct balance last;
};

static struct probe steepness(void *context, double way) {
    struct descent *descent = context;
    descent->last = balance_at(descent->displacement, descent->burden, descent->down * way,
                               &descent->last, descent->fineness);
    return (struct probe){way, -descent->down * descent->last.lever, -descent->last.slope};
}

/* Length of the next stride. */
static double stride_from(struct probe at, int strides) {
    const int patience = 60;
    if (!(at.slope < 0) || strides > patience) return STRIDE;
    double newton = 1.1 * at.value / -at.slope;
    return fmax(fmin(newton, STRIDE), 1e-7);
}

/* Walks downhill from where the probe stands to the first minimum. */
static bool walk_down(struct descent *descent, struct probe left, struct probe *bottom) {
    struct search search = {steepness, descent, 1e-4, 1e-8 * descent->displacement->hull->length,
                            200};
    const struct plate *lip = &descent->displacement->hull->plate;
    double end = RIGHT_ANGLE - SHY;
    double lip_level = lip->given ? -descent->down * atan2(-lip->u_z, -lip->u_x) : -1;
    for (int strides = 0; left.at < end; strides++) {
        double target = fmin(left.at + stride_from(left, strides), end);
        for (int side = -1; side <= 1; side += 2) {
            double stop = lip_level + side * SHY;
            if (stop > left.at && stop < target) target = stop;
        }
        struct probe right = steepness(descent, target);
        if (search_fall(&search, left, right, bottom)) return true;
        left = right;
    }
    *bottom = left;
    /* Upright on end by symmetry: the lever is zero at the bound itself. */
    const double hair = 2e-5;
    return left.slope < 0 && left.at - left.value / left.slope < RIGHT_ANGLE + hair;
}

/* To the minimum itself, on the fine integration: by Newton's steps, and where they do not get
 * there (a lip that lies level at the surface makes the lever jump) by a search close by. */
static void settle(struct descent *descent, double way) {
    const double near = 0.01;
    descent->fineness = HULL_FINE;
    struct probe at = steepness(descent, way);
    double enough = 1e-9 * descent->displacement->hull->length, from = way;
    for (int i = 0; i < 6 && at.slope < 0; i++) {
        double step = -at.value / at.slope;
        if (!(fabs(at.at + step - from) < near)) break;
        if (fabs(step) < 1e-10 && fabs(at.value) < enough) return;
        at = steepness(descent, at.at + step);
    }
    struct search search = {steepness, descent, 1e-12, 0, 0};
    struct probe left = steepness(descent, from - near), right = steepness(descent, from + near);
    if (left.value > 0 && right.value <= 0)
        search_fall(&search, left, right, &at);
    else
        at.at = from;
    steepness(descent, at.at);
}

/* The first minimum afloat, which the descent's last balance then holds; false where there is none
 * before the bound, at which it then stands. */
static bool rest_down(struct descent *descent) {
    double length = descent->displacement->hull->length;
    struct balance level = balance_at(descent->displacement, descent->burden, 0, NULL, HULL_COARSE);
    if (fabs(level.lever) < 1e-4 * length)
        level = balance_at(descent->displacement, descent->burden, 0, &level, HULL_FINE);
    descent->last = level;
    descent->down = level.lever > 0 ? -1 : 1;
    struct probe left = {0, fabs(level.lever), -level.slope}, bottom = left;
    bool poised = fabs(level.lever) < 1e-9 * length, found = true;
    if (poised && level.slope < 0) { /* on a ridge: either way is downhill */
        poised = false;
        descent->down = 1;
        left = steepness(descent, 1e-4);
    }
    if (!poised) found = walk_down(descent, left, &bottom);
    if (found && bottom.at < RIGHT_ANGLE - 2 * SHY) {
        settle(descent, bottom.at);
        return true;
    }
    descent->fineness = HULL_FINE;
    steepness(descent, RIGHT_ANGLE);
    return found;
}

/* (B - G).n */
static double centre_over(const struct rest *rest, const struct burden *burden) {
    return (rest->buoyancy_x - burden->x) * sin(rest->attitude) +
           (rest->buoyancy_z - burden->z) * cos(rest->attitude);
}

static void rest_afloat(struct rest *rest, const struct displacement *d,
                        const struct burden *burden) {
    struct descent descent = {.displacement = d, .burden = burden, .fineness = HULL_COARSE};
    rest->found = rest_down(&descent);
    const struct flotation *flotation = &descent.last.flotation;
    rest->attitude = descent.last.attitude;
    rest->level = flotation->level;
    rest->buoyancy_x = flotation->buoyancy.x;
    rest->buoyancy_z = flotation->buoyancy.z;
    rest->gm = flotation->across / d->volume + centre_over(rest, burden);
}

/* Held up by what hangs below alone, or sunk: no waterplane that could turn the hull. */
static void rest_below(struct rest *rest, const struct burden *burden, double x, double z) {
    rest->buoyancy_x = x;
    rest->buoyancy_z = z;
    double dx = x - burden->x, dz = z - burden->z;
    if (dx != 0 || dz != 0) rest->attitude = atan(dx / dz);
    rest->gm = centre_over(rest, burden);
    rest->found = rest->gm > 0;
}

struct rest hydro_rest(const struct hull *hull, const struct burden *burden, double water) {
    double all, x, z;
    displacement_greatest(hull, burden, &all, &x, &z);
    struct rest rest = {.capacity = water * all, .reserve = -1};
    if (!(all > 0)) return rest;
    rest.reserve = (rest.capacity - burden->mass) / rest.capacity;
    rest.afloat = burden->mass < rest.capacity;
    struct displacement displacement;
    if (!rest.afloat)
        rest_below(&rest, burden, x / all, z / all);
    else if (displacement_of(hull, burden, burden->mass / water, &displacement))
        rest_afloat(&rest, &displacement, burden);
    else
        rest_below(&rest, burden, burden->hung_x, burden->hung_z);
    return rest;
}

bool hydro_at(const struct hull *hull, const struct burden *burden, double volume, double attitude,
              double *buoyancy_x, double *buoyancy_z, double *level) {
    struct displacement displacement;
    double all, moment_x, moment_z;
    displacement_greatest(hull, burden, &all, &moment_x, &moment_z);
    if (fabs(volume - all) <= 1e-12 * all) { /* wholly under water: nothing is cut */
        *buoyancy_x = moment_x / all;
        *buoyancy_z = moment_z / all;
        *level = INFINITY;
        return true;
    }
    if (!displacement_of(hull, burden, volume, &displacement)) return false;
    struct balance rough = balance_at(&displacement, burden, attitude, NULL, HULL_COARSE);
    struct balance balance = balance_at(&displacement, burden, attitude, &rough, HULL_FINE);
    *buoyancy_x = balance.flotation.buoyancy.x;
    *buoyancy_z = balance.flotation.buoyancy.z;
    *level = balance.flotation.level;
    return true;
}

double hydro_speed(const struct rest *rest, double mass, double water, double plan_area) {
    const double drag = reference_fact[FACT_DRAG].value;
    if (!(plan_area > 0)) return 0;
    double force = GRAVITY * fabs(rest->capacity - mass);
    return copysign(sqrt(2 * force / (water * drag * plan_area)), rest->capacity - mass);
}

double hydro_reserve(double speed, double capacity, double water, double plan_area) {
    const double drag = reference_fact[FACT_DRAG].value;
    if (!(capacity > 0)) return 0;
    double force = water * drag * plan_area * speed * speed / 2;
    return copysign(force / (GRAVITY * capacity), speed);
}
