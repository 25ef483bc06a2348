/* The work order as Markdown (docs/command.md, The work order). */
#ifndef PLUGWRIGHT_ORDER_ORDER_H
#define PLUGWRIGHT_ORDER_ORDER_H

#include "compute/results.h"
#include "emit/drawing/figure.h"

struct order_style {
    bool brief; /* steps for the practised: title, amounts, wait, deadline */
    int copies; /* of every sheet of templates, at least 1 */
};

void order_emit(struct buf *out, const struct recipe *recipe, const struct results *results,
                const struct figure_list *figures, const struct order_style *style);

/* The card alone; of the figures it needs those of FIGURE_SIDE. */
void order_card_emit(struct buf *out, const struct recipe *recipe, const struct results *results,
                     const struct figure_list *figures);

#endif
