/* The route (in a factory: routing, or process plan): which operations this recipe needs, how long
 * each takes, what must come before what and why (docs/physics.md, 11).  What every operation says
 * and why one follows another are rows of grammar/route.def; this module picks, fills in and
 * checks.
 *
 * All texts are plain text that may hold text of the recipe: an emitter escapes them.
 */
#ifndef PLUGWRIGHT_WORK_ROUTE_H
#define PLUGWRIGHT_WORK_ROUTE_H

#include "base/diag.h"
#include "compute/work/operation.h"

/* `before` must be finished (wait included) before `after` begins. */
struct precedence {
    int before, after; /* indices of operations */
    enum link_weight weight;
    const char *reason; /* printed, as the row has it */
    double within; /* > 0: `after` begins at most this long after the hands-on end of `before`, s */
};

/* Links that follow from others are left out, except for those whose breach would spoil the work.
 */
struct route {
    struct operation *operations; /* in an order that keeps every precedence */
    int count;
    struct precedence *links;
    int link_count;
    double surface; /* of the bare body, which times go by, m2 */
};

/* Orders that would spoil the work, unknown ids and the like are diagnostics at their steps, a
 * colour without a ground at its layer, a shop too cold for epoxy at its temperature.
 *
 * Of the recipe's `steps`: `hands-on` is work for one plug (fixed 0) and `wait` holds in this shop
 * as written; `say` replaces what the operation says; `needs` names a place ("bench", "spray
 * place", "wheel"), or tools at the bench.  An added step that names only `after` (or only
 * `before`) stands between that operation and all that directly follows (or precedes) it.  Where an
 * order goes against a mere habit of the trade, the habit yields.  An added step `scuff-K` lifts
 * the recoat window of topcoat-K. */
struct route route_of(struct arena *arena, const struct recipe *recipe, double surface,
                      struct diags *diags);

/* Index of an operation, or -1. */
int route_find(const struct route *route, struct str id);

/* The route with a step `scuff-K` in place of the recoat window that ends with topcoat-K: the coat
 * below cures first, and the next one is due at any time after scuffing.  Without such a window,
 * the route as it was. */
struct route route_scuff(struct arena *arena, const struct route *route,
                         const struct recipe *recipe, int coat);

#endif
