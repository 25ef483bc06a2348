/* The finished body across the flow: what a plug that is towed nose down, or askew, feels of it
 * (docs/physics.md, 15.1). * SI units; integrals over the length, x from the nose.
 */
#ifndef PLUGWRIGHT_RUNNING_ACROSS_H
#define PLUGWRIGHT_RUNNING_ACROSS_H

#include "compute/shape/outline.h"

struct across {
    double girth;        /* area of the greatest section at a station, m2 */
    double slenderness;  /* length over the diameter of a circle of that area */
    double plan, plan_x; /* drag area of the plan, m2, and its moment, m3 */
    double side, side_x; /* the same of the profile */
    double side_z;       /* and its moment about the datum */
    double heave, sway;  /* m3: what turns the body by Munk's couple, over 1/2 rho V^2 sin 2 angle:
                            in the vertical plane and in the level one */
    double z;            /* of the body's centroid, m */
};

struct across across_of(const struct outline *outline, double finish);

/* Drag of a round cylinder across the flow, by length times diameter. */
double across_cylinder(double slenderness);

/* A flat section's drag over a round one's, the flow running along `deep`; `deep` and `broad` are
 * half extents, `radius` that of the corners (0: sharp; no matter for an oval). */
double across_section(enum section_shape shape, double broad, double deep, double radius);

/* Added mass of a prolate spheroid, over the mass of the water that it displaces: when it moves
 * along its axis, and across.  Slenderness above 1.  Lamb, Hydrodynamics, article 114. */
void across_spheroid(double slenderness, double *along, double *athwart);

#endif
