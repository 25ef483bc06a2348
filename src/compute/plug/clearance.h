/* Room between all that is cut into the wood, and to the surface (docs/physics.md, 7.2).  Metres.
 * The wood that a ballast bore leaves above itself: wall.h.
 */
#ifndef PLUGWRIGHT_PLUG_CLEARANCE_H
#define PLUGWRIGHT_PLUG_CLEARANCE_H

#include "compute/plug/mass.h"
#include "compute/plug/opening.h"

/* Two openings of the list; a pair with itself is the one with the other. */
struct clearance {
    int one, other;
    double distance; /* 0 or less: they meet */
};

struct clearances {
    struct opening openings[MAX_OPENINGS]; /* slot, wires, sockets, bores, chambers */
    int count;
    double wall[MAX_OPENINGS]; /* to the surface where that is not its own mouth */
    struct clearance pairs[MAX_OPENINGS * (MAX_OPENINGS - 1) / 2 + 1];
    int pair_count;
};

/* Every opening against every other; `fills` has one entry for every bore of the recipe. */
struct clearances clearances_of(const struct plug *plug, const struct bore_fill *fills);

/* What comes nearest to an opening, of `index` among its kind; NULL where it is alone. */
const struct opening *clearance_nearest(const struct clearances *clearances, enum opening_kind kind,
                                        int index, double *distance);

#endif
