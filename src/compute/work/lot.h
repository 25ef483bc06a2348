/* Lots: colourways of one body are shaped together, up to their first colour (docs/physics.md,
 * 12.4).  In a factory, a production lot: pieces of several orders that are worked on as one.
 */
#ifndef PLUGWRIGHT_WORK_LOT_H
#define PLUGWRIGHT_WORK_LOT_H

#include "compute/work/run.h"

/* One recipe with its run, as it is when the bench has nothing else to do. */
struct plan_order {
    const struct recipe *recipe;
    const struct run *alone;
    const char *body;     /* orders with the same text here have the same body; NULL: none has */
    const char *floating; /* and what it is wished to float like, in which water */
    const double *loads;  /* of its ballast, bore by bore, kg; read where `body` is given */
};

/* Steps that are worked for the plugs of several orders as one, by the sheet of the first.  Plugs
 * are numbered through the orders, in this order. */
struct lot {
    int from, to; /* steps of the route of each, `to` excluded */
    int *orders;
    int order_count, plugs;
    struct recipe *recipe; /* of the first order, with all plugs, under a name of its own */
};

struct lots {
    struct lot *items;
    int count;
};

/* Lots of these orders.  One whose plugs float differently from the others of its body goes with
 * them as far as the first bore for ballast.  An order is in two lots at most, and the earlier of
 * them comes first; a lot has MAX_RUN plugs at most. */
struct lots lots_of(struct arena *arena, const struct plan_order *orders, int count);

/* Of an order, the step from which it is worked on by itself. */
int lots_parted(const struct lots *lots, int order);

#endif
