/* What the bench taught, a plot for each figure: what stands, what each plug says, what is known
 * now. */
#ifndef PLUGWRIGHT_DRAWING_LEARNED_H
#define PLUGWRIGHT_DRAWING_LEARNED_H

#include "compute/lesson.h"
#include "emit/drawing/figure.h"

/* Of the figures that readings bear on (FIGURE_LEARNED, `layer`: index of the figure); plugs are
 * called by the recipes, and the versions of them, that they are of. */
struct figure_list drawing_learned(struct arena *arena, const struct lesson_task *task,
                                   const struct lesson_source *sources, enum unit_system units);

#endif
