/* What would bring an unreachable aim within reach, in numbers of this recipe. */
#ifndef PLUGWRIGHT_REMEDY_H
#define PLUGWRIGHT_REMEDY_H

#include "compute/solve.h"

struct remedy remedy_of(struct arena *arena, const struct frame *frame);

#endif
