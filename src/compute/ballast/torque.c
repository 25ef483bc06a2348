#include "compute/ballast/torque.h"

#include <math.h>

bool torque_window_open(struct torque_window *window, const struct weighing *weighing,
                        double middle, double half, double least, double most) {
    const struct hull *hull = &weighing->plug->finished_hull;
    window->angle[0] = middle - half;
    window->angle[1] = middle + half;
    window->least = least;
    window->most = most;
    for (int k = 0; k < TORQUE_NODES; k++) {
        /* Chebyshev nodes, at which interpolation does not ring. */
        double node = cos(3.14159265358979323846 * (2 * k + 1) / (2.0 * TORQUE_NODES)), level;
        window->volume[k] = (least + most) / 2 + (most - least) / 2 * node;
        for (int edge = 0; edge < 2; edge++) {
            ++*weighing->evaluations;
            if (!hydro_at(hull, &weighing->hung, window->volume[k], window->angle[edge],
                          &window->bx[edge][k], &window->bz[edge][k], &level))
                return false;
        }
    }
    return true;
}

/* Lagrange's weights of the nodes at a volume. */
static void weights_at(const struct torque_window *window, double volume,
                       double weight[TORQUE_NODES]) {
    for (int i = 0; i < TORQUE_NODES; i++) {
        weight[i] = 1;
        for (int k = 0; k < TORQUE_NODES; k++)
            if (k != i)
                weight[i] *= (volume - window->volume[k]) / (window->volume[i] - window->volume[k]);
    }
}

bool torque_edges(const struct torque_window *window, const struct tally *tally, double water,
                  double torque[2]) {
    double volume = tally->mass / water, weight[TORQUE_NODES];
    if (volume < window->least || volume > window->most) return false;
    weights_at(window, volume, weight);
    for (int edge = 0; edge < 2; edge++) {
        double bx = 0, bz = 0, angle = window->angle[edge];
        for (int k = 0; k < TORQUE_NODES; k++) {
            bx += weight[k] * window->bx[edge][k];
            bz += weight[k] * window->bz[edge][k];
        }
        torque[edge] =
            (tally->x - tally->mass * bx) * cos(angle) - (tally->z - tally->mass * bz) * sin(angle);
    }
    return true;
}
