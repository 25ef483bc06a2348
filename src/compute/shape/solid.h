/* The body as a whole: integrals over its sections (volume, surface and their centroids) and its
 * greatest extents, bare or with a finish of some thickness (docs/physics.md, 2.4).  SI units.
 */
#ifndef PLUGWRIGHT_SHAPE_SOLID_H
#define PLUGWRIGHT_SHAPE_SOLID_H

#include "compute/shape/outline.h"

struct solid {
    double volume;                     /* m3 */
    double centroid_x, centroid_z;     /* m */
    double surface;                    /* m2, with flat end faces */
    double surface_x, surface_z;       /* m, centroid of all of the surface */
    double plan_area;                  /* m2: integral of the width along x */
    double plan_x, plan_z;             /* m, its centroid */
    double height, width, top, bottom; /* m: greatest extents; top and bottom above the datum,
                                          height = top - bottom */
};

/* Relative error under 1e-6 for volume and surface.  A body without volume has its centroid at 0.
 */
struct solid solid_of(const struct outline *outline, double finish);

#endif
