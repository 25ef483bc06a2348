/* What would bring an unreachable aim within reach, in numbers of this recipe
 * (docs/physics.md, 6.3). SI units.  A remedy that does not help, or that no builder could use, is
 * 0 (a bore: -1).
 */
#ifndef PLUGWRIGHT_BALLAST_REMEDY_H
#define PLUGWRIGHT_BALLAST_REMEDY_H

#include "compute/ballast/solve.h"

/* Of a plug whose aim no load meets; each remedy is worked out alone, the plug else as it is. */
struct remedy remedy_of(struct arena *arena, const struct plug *plug);

#endif
