/* The drawings of a work order as SVG, in millimetres (docs/command.md, Drawings). */
#ifndef PLUGWRIGHT_DRAWING_DRAWING_H
#define PLUGWRIGHT_DRAWING_DRAWING_H

#include "compute/results.h"
#include "emit/drawing/figure.h"

/* Every drawing that this recipe calls for, in the order in which the work order shows them. */
struct figure_list drawing_all(struct arena *arena, const struct recipe *recipe,
                               const struct results *results);

/* Those of one kind alone. */
struct figure_list drawing_of_kind(struct arena *arena, const struct recipe *recipe,
                                   const struct results *results, enum figure_kind wanted);

/* What a machine cuts in true size (docs/command.md, For machines), as one SVG of nothing but cut
 * lines: side, top, lip with the hole of its line tie, gauge for the cup. */
struct buf drawing_outlines(struct arena *arena, const struct recipe *recipe,
                            const struct results *results);

#endif
