/* The wires of line tie and hangers: where they are bored, how deep, how long they are
 * (docs/physics.md, 3.3 and 4.3). */
#ifndef PLUGWRIGHT_PLUG_FITTING_H
#define PLUGWRIGHT_PLUG_FITTING_H

#include "compute/plug/plug.h"

/* Fits line tie and hangers of the plug's recipe anew; outline and plate must stand. */
void fittings_fit(struct plug *plug);

#endif
