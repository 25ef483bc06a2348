/* The route: which operations this recipe needs, how long each takes, what must come before what
 * and why (docs/physics.md).  What every operation says and why one follows another are
 * rows of grammar/route.def; this module picks, fills in and checks.
 *
 * All texts are plain text that may hold text of the recipe: an emitter escapes them.
 */
#ifndef PLUGWRIGHT_WORK_ROUTE_H
#define PLUGWRIGHT_WORK_ROUTE_H

#include "base/arena.h"
#include "base/diag.h"
#include "model/recipe.h"

/* Where an operation happens: a resource of the run. */
enum station_used { AT_NONE, AT_BENCH, AT_SPRAY, AT_WHEEL };

/* A skipped operation keeps its place in the order, takes no time and uses nothing. */
struct operation {
    const char *id, *title;
    const char *what, *with, *check, *ruins; /* printed on the order; NULL where there is none */
    unsigned cautions;                       /* bits of enum caution (model/reference.h) */
    double fixed, each;                      /* hands-on time for the load, and for every plug, s */
    double wait;                             /* unattended after it, s */
    enum station_used station;
    bool coat;           /* laid on a whole load in one go */
    bool by_wheel;       /* done load by load when the wheel is too small */
    int coat_number;     /* of a topcoat or colour, from 1; 0 otherwise */
    int layer;           /* of a colour: index of the layer; -1 otherwise */
    const char *skipped; /* why the builder leaves it out, or NULL */
    const char *risk;    /* what skipping it takes upon them; NULL for the recipe's own */
    bool added;          /* by the recipe's own steps */
};

/* `before` must be finished (wait included) before `after` begins. */
struct precedence {
    int before, after;  /* indices of operations */
    const char *reason; /* printed */
    double within; /* > 0: `after` begins at most this long after the hands-on end of `before`, s */
};

/* Links that follow from others are left out, except for those whose breach would spoil the work.
 */
struct route {
    struct operation *operations; /* in an order that keeps every precedence */
    int count;
    struct precedence *links;
    int link_count;
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
struct route route_of(struct arena *arena, const struct recipe *recipe, struct diags *diags);

/* Index of an operation, or -1. */
int route_find(const struct route *route, struct str id);

/* The route with a step `scuff-K` in place of the recoat window that ends with topcoat-K: the coat
 * below cures first, and the next one is due at any time after scuffing.  Without such a window,
 * the route as it was. */
struct route route_scuff(struct arena *arena, const struct route *route,
                         const struct recipe *recipe, int coat);

#endif
