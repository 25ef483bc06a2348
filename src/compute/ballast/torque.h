/* Torques over a fan of attitudes, for many loads at little cost (docs/physics.md, 6.4).
 *
 * The centre of buoyancy at a fixed attitude is a function of the displaced volume alone, smooth
 * but where the plug goes under: it is computed at a few volumes and interpolated between them. The
 * weights only enter linearly.  A rest lies between two attitudes where the torque of the first is
 * below zero (nose down is downhill) and that of the second above.  SI units.
 */
#ifndef PLUGWRIGHT_BALLAST_TORQUE_H
#define PLUGWRIGHT_BALLAST_TORQUE_H

#include "compute/ballast/solve.h"

enum { TORQUE_NODES = 4, TORQUE_EDGES = 93, TORQUE_BANDS = 20 };

/* From the least to the most of something: masses, torques. */
struct range {
    double least, most;
};

/* Masses over which one interpolation holds, afloat or sunk. */
struct torque_band {
    struct range mass;
    int nodes;
    double node[TORQUE_NODES];                 /* masses at which levers are computed */
    double newton[TORQUE_EDGES][TORQUE_NODES]; /* the polynomial through the buoyancy's levers, m */
    double doubt;                              /* m: of a lever between masses and between edges */
};

struct torque_fan {
    int edges, bands;
    double attitude[TORQUE_EDGES], sine[TORQUE_EDGES], cosine[TORQUE_EDGES];
    struct torque_band band[TORQUE_BANDS]; /* one behind the other */
};

/* Attitudes at most two degrees apart, `half` to either side of `middle`, which is one of them, and
 * within a right angle; for plugs of these masses.  False where so much cannot be displaced. */
bool torque_fan_open(struct torque_fan *fan, const struct weighing *weighing, double middle,
                     double half, struct range mass);

/* Moment of a weight, kg m; the torque is this less that of the buoyancy. */
static inline double torque_weight(const struct torque_fan *fan, int edge,
                                   const struct tally *tally) {
    return tally->x * fan->cosine[edge] - tally->z * fan->sine[edge];
}

/* Moments of the buoyancy that carries plugs of these masses, kg m. */
struct range torque_buoyancy(const struct torque_fan *fan, int edge, struct range mass);

/* How far a torque of such plugs may be off, at an edge or on the straight line between two, kg m;
 * INFINITY for masses that the fan was not opened for. */
double torque_doubt(const struct torque_fan *fan, struct range mass);

#endif
