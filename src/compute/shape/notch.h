/* What is taken out of the hull: a stretch along x with sections of its own, all of them inside the
 * body's (docs/physics.md, 2.6).  SI units.
 */
#ifndef PLUGWRIGHT_SHAPE_NOTCH_H
#define PLUGWRIGHT_SHAPE_NOTCH_H

#include "compute/shape/section.h"

struct notch {
    double start, end;         /* m from the nose */
    double x, z, radius;       /* centre of the sphere that a cup is part of; radius 0: a cut, */
    struct section section;    /* the same all along */
    double volume, at_x, at_z; /* m3, and its centroid */
};

/* A spherical cup in the nose, `width` across its mouth at x = 0 and `depth` deep, its middle at
 * height `up`; `finish` lines it.  Without volume where the finish fills it. */
struct notch notch_cup(double width, double depth, double up, double finish);

/* A cut across the body, `length` long about x, of the section that the body has there. */
struct notch notch_cut(const struct section *section, double x, double length);

struct section notch_section(const struct notch *notch, double x);

#endif
