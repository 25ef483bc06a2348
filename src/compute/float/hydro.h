/* How a body floats: attitude at rest, metacentric height, righting arms (docs/physics.md, 5).
 *
 * x aft, y to starboard, z up in the body's frame.  World up at nose-down angle t and heel p is
 * n = (sin t, sin p cos t, cos p cos t); water fills n.r < c.  SI units; angles in rad.
 * hydro.c finds the rest, righting.c the righting arms; both stand on flotation.c, which finds the
 * waterplane, and hull.c, which cuts the body by it.
 */
#ifndef PLUGWRIGHT_FLOAT_HYDRO_H
#define PLUGWRIGHT_FLOAT_HYDRO_H

#include "compute/shape/hull.h"

/* What the hull carries: its load, in the words of ships. */
struct burden {
    double mass, x, z;     /* kg; centre of gravity, m */
    double hung_volume;    /* m3, always submerged (hooks, rings) */
    double hung_x, hung_z; /* centroid of that volume, m */
};

/* At rest, not heeled: the equilibrium; its attitude is the trim. */
struct rest {
    bool afloat;     /* mass below the greatest displacement */
    bool found;      /* a minimum of the potential energy within +-90 degrees */
    double capacity; /* greatest displacement, kg */
    double reserve;  /* (capacity - mass) / capacity; -1 if nothing can be displaced */
    double attitude; /* rad, nose down positive; where none was found, the bound it ran into */
    double level;    /* c of the waterplane (afloat only), m */
    double buoyancy_x, buoyancy_z;
    double gm; /* metacentric height, m; submerged: (B - G).n */
};

/* The first minimum of the potential energy downhill from attitude 0 (docs/physics.md, 5.5).
 * Finds it for every valid hull and burden; takes tens of microseconds. */
struct rest hydro_rest(const struct hull *hull, const struct burden *burden, double water);

/* Centre of buoyancy and waterplane with `volume` (m3) in all submerged, not heeled, at a given
 * attitude: what ballast is solved with.  Wholly under water the level is infinite.  Returns false
 * where the volume cannot be displaced. */
bool hydro_at(const struct hull *hull, const struct burden *burden, double volume, double attitude,
              double *buoyancy_x, double *buoyancy_z, double *level);

enum { RIGHTING_STEPS = 19 }; /* 0, 10 … 180 degrees */

struct righting {
    double arm[RIGHTING_STEPS]; /* m: the curve of GZ */
    bool vanishes;
    double vanishing; /* rad: where the arm first falls to zero; as far reaches its range */
    bool self_righting;
};

struct righting hydro_righting(const struct hull *hull, const struct burden *burden, double water,
                               const struct rest *rest);

/* Rise (positive) or sink speed fully submerged, m/s: sqrt(2 |F| / (water Cd plan_area)), Cd by
 * FACT(DRAG) (docs/physics.md, 5.11). */
double hydro_speed(const struct rest *rest, double mass, double water, double plan_area);

/* The reserve that goes with such a speed, of a greatest displacement of `capacity` kg. */
double hydro_reserve(double speed, double capacity, double water, double plan_area);

#endif
