/* The wood that a ballast bore leaves above itself (docs/physics.md, 7.1).  Metres. */
#ifndef PLUGWRIGHT_PLUG_WALL_H
#define PLUGWRIGHT_PLUG_WALL_H

#include "compute/plug/mass.h"

/* Least distance from a bore's side and end to the surface above the sections' middle line, both
 * flat ends included: proven to be the least of all within 0.1 um.  0: the bore breaks through. */
double wall_least(const struct plug *plug, const struct bore_fill *fill);

/* Whether so much wood falls short of what is due, which exactly so much does not: by more than a
 * micrometre (docs/physics.md, 1.3), or all of it. */
bool wall_short(double wood, double due);

/* Whether a wall is no error: it does not fall short of FACT_WALL_LEAST. */
bool wall_enough(double wall);

/* The wall under which it is doubtful; a low body has to do with less. */
double wall_doubtful(const struct plug *plug);

#endif
