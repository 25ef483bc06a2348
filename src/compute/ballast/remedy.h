/* What would bring an unreachable aim within reach, in numbers of this recipe. */
#ifndef PLUGWRIGHT_BALLAST_REMEDY_H
#define PLUGWRIGHT_BALLAST_REMEDY_H

#include "compute/ballast/solve.h"

struct remedy remedy_of(struct arena *arena, const struct plug *plug);

#endif
