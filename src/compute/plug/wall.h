/* The wood that openings leave to the surface (docs/physics.md, 7.1 and 7.3).  Metres. */
#ifndef PLUGWRIGHT_PLUG_WALL_H
#define PLUGWRIGHT_PLUG_WALL_H

#include "compute/plug/mass.h"
#include "compute/plug/opening.h"

/* Least distance from a ballast bore to the surface ahead of it, proven to be the least of all
 * within 0.1 um: from belly or back its side and end to what lies beyond the sections' middle line,
 * both flat ends included; from nose or tail its load to the surface all round and the far end;
 * from the flanks the disc that it ends in to the surface on its side.  0: the bore breaks through.
 */
double wall_least(const struct plug *plug, const struct bore_fill *fill);

/* The same for any opening, to the surface where that is not its own mouth: of a bore for a wire
 * the other side, or all round its inner half where it runs along the body; of the slot the back,
 * in the middle plane.  Sockets: 0 where a floor comes out of the wood, else infinite. */
double wall_of(const struct plug *plug, const struct opening *opening);

/* Whether so much wood falls short of what is due, which exactly so much does not: by more than a
 * micrometre (docs/physics.md, 1.3), or all of it. */
bool wall_short(double wood, double due);

/* Whether a wall is no error: it does not fall short of FACT_WALL_LEAST. */
bool wall_enough(double wall);

/* Whether a load goes into its bore and, where the bore follows its load, leaves wall enough.  A
 * depth that the recipe gives is judged with the plug itself. */
bool wall_allows(const struct plug *plug, int bore, const struct bore_fill *fill);

/* The wall under which it is doubtful; a low body has to do with less. */
double wall_doubtful(const struct plug *plug);

#endif
