/* One wire from the line tie to the tail, in a kerf that is sawn from belly or back
 * (docs/physics.md, 4.8).  SI units; x aft of the nose, z above the datum.
 */
#ifndef PLUGWRIGHT_PLUG_THROUGH_H
#define PLUGWRIGHT_PLUG_THROUGH_H

#include "compute/plug/opening.h"
#include "compute/plug/plug.h"

/* Outline and recipe of the plug must stand; not given where the recipe has no such wire. */
struct through_fit through_of(const struct plug *plug);

/* How far an opening stays from kerf and wire, of the slot from the wire alone; zero or less: they
 * meet.  The through wire's own openings are at no distance, and not to be asked for. */
double through_distance(const struct plug *plug, const struct opening *opening);

#endif
