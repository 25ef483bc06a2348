/* Room around ballast bores: to the surface, to each other, to slot, sockets and wires
 * (docs/physics.md, 7).  Metres.
 */
#ifndef PLUGWRIGHT_PLUG_CLEARANCE_H
#define PLUGWRIGHT_PLUG_CLEARANCE_H

#include "compute/plug/mass.h"

struct clearance {
    int bore;
    struct name other; /* another bore, the slot, the sockets, the wire of a fitting */
    double distance;   /* 0 or less: they meet */
};

/* Least distance from a bore's side and end to the surface above the sections' middle line. */
double clearance_wall(const struct plug *plug, const struct bore_fill *fill);

/* Every pair of a bore and something else; returns their number. */
int clearance_all(struct arena *arena, const struct plug *plug, const struct bore_fill *fills,
                  struct clearance **clearances);

#endif
