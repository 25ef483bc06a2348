/* What would bring an unreachable aim within reach, in numbers of this recipe
 * (docs/physics.md, 6.3). SI units.  A remedy that does not help, or that no builder could use, is
 * 0.
 */
#ifndef PLUGWRIGHT_BALLAST_REMEDY_H
#define PLUGWRIGHT_BALLAST_REMEDY_H

#include "compute/ballast/solve.h"

enum { REMEDY_PLACES = 12 };

/* A place for one of the solved bores, m from the nose, and how far that is from where it is. */
struct remedy_place {
    int bore;
    double at, moved;
};

/* What would bring an unreachable aim within reach; each worked out alone.  0: no help, or none
 * that a builder could use. */
struct remedy {
    double wood_density;                       /* kg/m3: wood this light or lighter */
    double lighter_hooks;                      /* kg less of hooks and rings in all */
    int fewer_coats;                           /* of topcoat */
    struct remedy_place places[REMEDY_PLACES]; /* a bore to move there, nearest first */
    int place_count;
};

/* Of a plug whose aim no load meets; each remedy is worked out alone, the plug else as it is. */
struct remedy remedy_of(struct arena *arena, const struct plug *plug);

/* All hooks and rings of the hangers together, kg. */
double remedy_hooks(const struct hardware *hardware);

#endif
