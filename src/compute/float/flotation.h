/* Where the waterplane lies when a hull displaces a given volume in a given pose (docs/physics.md,
 * 5.4).  SI units; angles in rad; the body's frame as in hydro.h.
 *
 * What cannot be displaced is refused by displacement_of; after that a level is always found, to
 * 1e-7 of the volume on the fine integration and 1e-2 on the coarse, the last miss made good.
 */
#ifndef PLUGWRIGHT_FLOAT_FLOTATION_H
#define PLUGWRIGHT_FLOAT_FLOTATION_H

#include "compute/float/hydro.h"

struct point3 {
    double x, y, z;
};

/* World up n in the body's frame is (sine, cosine p, cosine q). */
struct pose {
    double sine, cosine, p, q;
};

/* Nose-down attitude, within a millionth of a radian of upright on end, and heel. */
struct pose pose_of(double attitude, double heel);

/* What must be displaced.  The lesser part of the hull is integrated, the wet or the dry one, so
 * that a plug that all but sinks is known as well as one that hardly wets itself. */
struct displacement {
    const struct hull *hull;
    double volume;               /* m3, with what hangs below */
    double hung, hung_x, hung_z; /* m3, m */
    double all, all_x, all_z;    /* everything, hung included: m3, m4 */
    double part;                 /* the volume of hull that is integrated */
    bool dry;                    /* whether that is the part out of the water */
};

/* Volume and first moments of hull, lip and what hangs below them, all under water. */
void displacement_greatest(const struct hull *hull, const struct burden *burden, double *volume,
                           double *moment_x, double *moment_z);

/* False where the volume cannot be displaced. */
bool displacement_of(const struct hull *hull, const struct burden *burden, double volume,
                     struct displacement *displacement);

struct flotation {
    double level;           /* c of the waterplane n.r = c, m */
    struct point3 buoyancy; /* centre of all that is displaced */
    double area;            /* of the waterplane, m2; the lip's edge counts */
    struct point3 centre;   /* of the waterplane */
    double along, across;   /* second moments of the waterplane about its centre, m4: along the
                               body's length and across it */
    double bend;            /* m: how the level strayed from turning about the waterplane's centre,
                               by the square of the angle */
};

/* `near` is a flotation in a pose from which this one was reached by a turn of `turn` radians: it
 * tells where to begin.  May be NULL. */
struct flotation flotation_in(const struct displacement *displacement, const struct pose *pose,
                              const struct flotation *near, double turn, enum fineness fineness);

#endif
