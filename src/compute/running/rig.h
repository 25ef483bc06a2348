/* A plug on its line: how deep it is towed. */
#ifndef PLUGWRIGHT_RUNNING_RIG_H
#define PLUGWRIGHT_RUNNING_RIG_H

#include "compute/running/line.h"
#include "compute/running/pull.h"

struct rig {
    struct tow tow;
    double viscosity;              /* of the water, Pa s */
    double diameter, density, tip; /* of the line; height of the rod's tip */
};

/* Of a recipe that has `running`. */
struct rig rig_of(const struct plug *plug, const struct mass_list *masses, const struct rest *rest);

/* The line with a stream's coefficients. */
struct line rig_line(const struct rig *rig, const struct coefficients *k, double speed);

/* Depths on lengths of line from the rod's tip, rising, under a steady pull: 0 at the surface.
 * `steps` as in line.h. */
void rig_depths(const struct rig *rig, const struct coefficients *k, const struct pull *pull,
                int steps, const double *out, int count, double *depth);

#endif
