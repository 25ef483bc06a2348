/* The work order as Markdown (docs/command.md, The work order). */
#ifndef PLUGWRIGHT_ORDER_ORDER_H
#define PLUGWRIGHT_ORDER_ORDER_H

#include "compute/results.h"
#include "emit/drawing/figure.h"

void order_emit(struct buf *out, const struct recipe *recipe, const struct results *results,
                const struct figure_list *figures);

#endif
