/* One shopping list for several runs: the materials of all of them, the same things added up,
 * less the stock.  Runs whose workshops are the same share one stock, and what the first takes the
 * next does not find; blanks alone are cut for all runs together.  SI units and money as in
 * supply.h.
 */
#ifndef PLUGWRIGHT_SHOPPING_H
#define PLUGWRIGHT_SHOPPING_H

#include "compute/results.h"
#include "compute/sawing.h"

struct shopping_row {
    enum supply_group group;
    struct name item; /* of a metal without the number of its bore */
    struct str of;    /* the kind of topcoat that a resin or hardener belongs to; else empty */
    enum supply_unit unit;
    double amount, have; /* that the runs need; of that, what the stock has */
    bool priced;         /* every run that needs it has a price for it */
    double to_pay;       /* for what is not on hand */
};

struct shopping {
    struct shopping_row *rows; /* by group, then as the runs name them first */
    int count;
    bool priced;   /* some row is */
    double to_pay; /* for the rows that are */
    bool stocked;  /* a run has a stock */
    struct sawing sawing;
};

/* In the order in which the runs take of the stock. */
struct shopping shopping_of(struct arena *arena, const struct results *const *runs, int count);

#endif
