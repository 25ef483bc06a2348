/* What lighter and heavier wood asks of the ballast (docs/physics.md, 6.5 and 6.6): the spread that
 * the wood is known within, and a row for every body that may come off the scale.
 *
 * SI units, spreads as shares of 1.  A case without an answer says so by its flags.
 */
#ifndef PLUGWRIGHT_BALLAST_SPREAD_H
#define PLUGWRIGHT_BALLAST_SPREAD_H

#include "compute/ballast/solve.h"

/* Standard deviation of the bodies that were weighed, over their mean; 0 where there are not two.
 */
double spread_scatter(const struct recipe *recipe);

/* Standard deviation of the density of one plug's wood, as a share of it. */
double spread_of(const struct plug *plug);

/* The plug in wood of this density: its loads solved anew, and as it is with those of `fills`. */
struct spread_case spread_case_of(struct arena *arena, const struct plug *plug, double density,
                                  const struct bore_fill *fills, long *evaluations);

/* One case for every body that was weighed where there are several, in their order; else for every
 * step of a scale within two spreads of the computed body.  Without `as_built`.  Returns their
 * number. */
int spread_by_blank(struct arena *arena, const struct plug *plug, double spread,
                    const struct bore_fill *fills, struct spread_case **cases, long *evaluations);

#endif
