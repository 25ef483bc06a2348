/* One section clipped by a straight line, in closed form (docs/physics.md, 5.4).  SI units. */
#ifndef PLUGWRIGHT_SHAPE_CLIP_H
#define PLUGWRIGHT_SHAPE_CLIP_H

#include "compute/shape/section.h"

/* What lies below a line, and the chord that the section has in common with the line. */
struct cut {
    double area, moment_y, moment_z; /* m2, m3 about the middle plane and the datum */
    double middle, half;             /* m: centre of the chord along (q, -p), and half its length */
};

/* The part of the section with p y + q z < level; (p, q) is a unit vector. */
struct cut clip_section(const struct section *section, double p, double q, double level);

/* How far the section reaches from its centre towards (p, q). */
double clip_reach(const struct section *section, double p, double q);

#endif
