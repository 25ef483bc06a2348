/* Torques at the two edges of a window of attitudes, for many loads at little cost
 * (docs/physics.md, 6.2 and 6.4).  SI units, rad.
 *
 * The centre of buoyancy at a fixed attitude is a smooth function of the displaced volume alone, so
 * it is computed at a few volumes and interpolated between them; the weights only enter linearly.
 */
#ifndef PLUGWRIGHT_BALLAST_TORQUE_H
#define PLUGWRIGHT_BALLAST_TORQUE_H

#include "compute/ballast/solve.h"

enum { TORQUE_NODES = 4 };

struct torque_window {
    double angle[2];    /* lower and upper edge, rad */
    double least, most; /* volumes that it holds for, m3 */
    double volume[TORQUE_NODES], bx[2][TORQUE_NODES], bz[2][TORQUE_NODES];
};

/* A window of `half` to either side of `middle`, for displaced volumes from `least` to `most`.
 * False where such a volume cannot be displaced. */
bool torque_window_open(struct torque_window *window, const struct weighing *weighing,
                        double middle, double half, double least, double most);

/* Torques (G - B) x n times mass, kg m, at both edges; false outside the window's volumes.
 * A rest lies between where the first is negative and the second positive. */
bool torque_edges(const struct torque_window *window, const struct tally *tally, double water,
                  double torque[2]);

#endif
