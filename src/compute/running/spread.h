/* How far the coefficients leave the answers open: points that fill their ranges evenly, and what
 * lies between the twentieth and the nineteenth of twenty parts of the answers
 * (docs/physics.md, 15.7).
 */
#ifndef PLUGWRIGHT_RUNNING_SPREAD_H
#define PLUGWRIGHT_RUNNING_SPREAD_H

#include <stdbool.h>

#include "model/reference.h"

enum { SPREAD_POINTS = 64 };

/* Point 1 to SPREAD_POINTS: the j-th coefficient is low + (high - low) times the fraction of the
 * point's number times the root of the j-th prime (Richtmyer's sequence; Niederreiter 1978, Bull.
 * Am. Math. Soc. 84, 957, from memory). */
struct coefficients spread_point(int number);

/* All of them, in their order; one that a reading speaks against is dropped. */
struct spread {
    struct coefficients point[SPREAD_POINTS];
    bool dropped[SPREAD_POINTS];
};

struct spread spread_all(void);

/* The middle of every range. */
struct coefficients spread_middle(void);

/* 5 %, 50 % and 95 %, linear between sorted values; may be infinite. */
struct band {
    bool given;
    double low, median, high;
};

/* Sorts the values; not given where there are none.  No NaN among them. */
struct band band_of(double *values, int count);

/* Whether zero lies within a band: of a difference, that even its direction is unclear. */
bool band_unclear(const struct band *band);

#endif
