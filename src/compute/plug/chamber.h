/* Chambers: what is bored, what lies loose in it and what closes it (docs/physics.md, 3.6 and 4.7).
 * SI units; of a pair, every number is of each.
 */
#ifndef PLUGWRIGHT_PLUG_CHAMBER_H
#define PLUGWRIGHT_PLUG_CHAMBER_H

#include "compute/plug/axis.h"

struct hollow {
    struct axis axis;
    double drill, depth;
    double stopper;      /* what of the depth is closed, from the mouth on */
    double content;      /* kg, loose */
    double middle;       /* of the room that the content has, from the mouth inward */
    double closed;       /* m3 of what is closed */
    double stopper_mass; /* kg, of what closes it, in the middle of that */
};

struct hollow hollow_of(const struct plug *plug, int chamber);

/* Density that the content would have if it filled its room, kg/m3. */
double hollow_packing(const struct hollow *hollow);

#endif
