/* Two plugs in one drawing: the old one dashed, the new one in full lines. */
#ifndef PLUGWRIGHT_DRAWING_DIFFERENCE_H
#define PLUGWRIGHT_DRAWING_DIFFERENCE_H

#include "compute/results.h"
#include "emit/drawing/figure.h"

/* Side and top view over each other (FIGURE_SIDE), and both at rest in the same water
 * (FIGURE_GLANCE).  In the units of the new recipe. */
struct figure_list drawing_difference(struct arena *arena, const struct results *old,
                                      const struct results *new);

#endif
