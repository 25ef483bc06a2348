/* The lip outside the body: a thin plate that stands across the plane y = 0, seen from the side as
 * a line from its mouth outward; s runs along it (docs/physics.md, 2.5).  SI units.  A plate that
 * is not given has no area anywhere.
 */
#ifndef PLUGWRIGHT_SHAPE_LIP_H
#define PLUGWRIGHT_SHAPE_LIP_H

#include "model/recipe.h"

struct plate {
    bool given;
    double mouth_x, mouth_z; /* where s = 0 */
    double u_x, u_z;         /* unit direction outward */
    double extent;           /* s of the outer end */
    double thickness, width, tip;
    enum lip_shape shape;
};

/* 0 beyond the plate's ends, and everywhere where no plate is given. */
double plate_width(const struct plate *plate, double s);
/* Area of the part between s0 and s1 and the first moment of that area about s = 0. */
void plate_area(const struct plate *plate, double s0, double s1, double *area, double *moment);

/* What of the plate lies below a plane, and the line in which the plane meets it. */
struct plate_part {
    double volume, moment_x, moment_z; /* m3, m4 */
    double rate;                       /* m2: change of the volume with the plane's level */
    double trace_x, trace_z;           /* m: where the two meet; valid where rate > 0 */
};

/* The part with nx x + nz z < level, as if all of the plate were at y = 0. */
struct plate_part plate_below(const struct plate *plate, double nx, double nz, double level);

#endif
