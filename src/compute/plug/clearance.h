/* Room between ballast bores and what else is cut into the wood: each other, slot, sockets, wires
 * (docs/physics.md, 7.2).  Metres.  The wood that a bore leaves above itself: wall.h.
 */
#ifndef PLUGWRIGHT_PLUG_CLEARANCE_H
#define PLUGWRIGHT_PLUG_CLEARANCE_H

#include "compute/plug/mass.h"

struct clearance {
    int bore;
    struct name other; /* another bore, the slot, the sockets, the wire of a fitting */
    double distance;   /* 0 or less: they meet */
};

/* Every pair of a bore and something else; returns their number. */
int clearance_all(struct arena *arena, const struct plug *plug, const struct bore_fill *fills,
                  struct clearance **clearances);

#endif
