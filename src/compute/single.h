/* How a recipe floats and how deep it runs, for what one change does by itself: without its route
 * and run, which say nothing about that (docs/physics.md, 14).  SI units, rad.
 */
#ifndef PLUGWRIGHT_SINGLE_H
#define PLUGWRIGHT_SINGLE_H

#include "compute/results.h"

struct single {
    const char *failure;        /* why nothing can be said, or NULL */
    double reserve, attitude;   /* with its loads as written, or solved */
    double ballast;             /* all loads together, kg */
    struct estimate depth;      /* under tow; not given where the recipe does not ask */
    bool kept;                  /* every solved bore has a load that it had before: */
    struct outcome with_before; /* the plug with those */
};

/* `load_before` has the load that each bore had, or NAN.  The recipe may have errors. */
struct single single_of(struct arena *arena, const struct recipe *recipe,
                        const double *load_before);

/* The same from results that are there already. */
struct single single_in(struct arena *arena, const struct results *results,
                        const double *load_before);

#endif
