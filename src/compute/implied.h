/* The values that a recipe leaves to the compiler and that were found without solving anything, in
 * SI units, for whoever lists a recipe with all that follows from it.
 *
 * Not among them is the depth of a ballast bore: it follows from the load, so whoever writes it out
 * fixes what would otherwise follow the aim.
 */
#ifndef PLUGWRIGHT_COMPUTE_IMPLIED_H
#define PLUGWRIGHT_COMPUTE_IMPLIED_H

#include "compute/results.h"
#include "model/implied.h"

struct implied_list implied_values(struct arena *arena, const struct results *results);

#endif
