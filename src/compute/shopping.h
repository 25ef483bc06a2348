/* One shopping list for several runs: the materials of all of them, the same things added up.
 * SI units and money as in supply.h.
 */
#ifndef PLUGWRIGHT_SHOPPING_H
#define PLUGWRIGHT_SHOPPING_H

#include "compute/supply.h"

struct shopping_row {
    enum supply_group group;
    struct name item; /* of a metal without the number of its bore */
    struct str of;    /* the kind of topcoat that a resin or hardener belongs to; else empty */
    enum supply_unit unit;
    double amount;
    bool priced; /* every run that needs it has a price for it */
    double cost;
};

struct shopping {
    struct shopping_row *rows; /* by group, then as the runs name them first */
    int count;
    bool priced; /* some row is */
    double cost; /* of the rows that are */
};

struct shopping shopping_of(struct arena *arena, const struct recipe *const *recipes,
                            const struct supply *const *supplies, int count);

#endif
