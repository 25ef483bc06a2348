/* What a side that is fatter than the other does (docs/physics.md, 5.10).  SI units, rad. */
#ifndef PLUGWRIGHT_PLUG_SYMMETRY_H
#define PLUGWRIGHT_PLUG_SYMMETRY_H

#include "compute/plug/condition.h"

/* Heel (rad, away from the fatter side when positive) at rest of the finished plug whose one side
 * stands out `extra` metres more than the other at the widest of every section.  For small
 * angles; valid where the finished plug's GM is above zero. */
double symmetry_lean(const struct plug *plug, const struct condition *finished, double extra);

#endif
