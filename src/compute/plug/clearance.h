/* Room around ballast bores: to the surface, to each other, to slot, sockets and wires
 * (docs/physics.md).  Metres.
 */
#ifndef PLUGWRIGHT_PLUG_CLEARANCE_H
#define PLUGWRIGHT_PLUG_CLEARANCE_H

#include "compute/plug/mass.h"

struct clearance {
    int bore;
    const char
        *other; /* "bore 2", "the lip's slot", "the eye sockets", "the wire of hanger 1", … */
    double distance; /* 0 or less: they meet */
};

/* Least distance from a bore's side and end to the surface above the sections' middle line. */
double clearance_wall(const struct plug *plug, const struct bore_fill *fill);

/* Every pair of a bore and something else; returns their number. */
int clearance_all(struct arena *arena, const struct plug *plug, const struct bore_fill *fills,
                  struct clearance **clearances);

#endif
