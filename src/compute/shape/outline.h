/* The body's outline: back, belly and width as smooth curves through the builder's stations.
 *
 * x runs aft from the nose (0) to the tail (length) along the datum line, z up.  All in metres.
 * Curves are monotone piecewise Hermite cubics (Fritsch and Butland 1984, SIAM J. Sci. Stat.
 * Comput. 5, 300-304): weighted harmonic mean slopes inside, the shape-preserving three-point rule
 * at both ends (docs/physics.md, 2.1).
 */
#ifndef PLUGWRIGHT_SHAPE_OUTLINE_H
#define PLUGWRIGHT_SHAPE_OUTLINE_H

#include "base/arena.h"
#include "model/recipe.h"

struct curve {
    int count; /* 2 or more */
    const double *x, *y, *slope;
};

struct outline {
    double length;
    struct curve back, belly, width; /* all three share their x */
    enum section_shape shape;
    double radius; /* of a rounded section's corners, before it is limited by the section itself */
};

/* A cubic in t, the distance behind some place: c[0] + c[1] t + c[2] t^2 + c[3] t^3. */
struct cubic {
    double c[4];
};

static inline double cubic_at(const struct cubic *cubic, double t) {
    const double *c = cubic->c;
    return c[0] + t * (c[1] + t * (c[2] + t * c[3]));
}

static inline double cubic_slope(const struct cubic *cubic, double t) {
    const double *c = cubic->c;
    return c[1] + t * (2 * c[2] + t * 3 * c[3]);
}

/* Where the cubic passes zero within 0 < t < end, rising t; at most three. */
int cubic_roots(const struct cubic *cubic, double end, double roots[3]);

/* A curve through `count` points with rising x; `x` and `y` must live as long as the curve. */
struct curve curve_through(struct arena *arena, const double *x, const double *y, int count);
/* Beyond its ends a curve keeps its end values. */
double curve_at(const struct curve *curve, double x);
double curve_slope_at(const struct curve *curve, double x);
/* The curve's cubic between points `row` and `row` + 1, counted from point `row`. */
struct cubic curve_cubic(const struct curve *curve, int row);

/* The least value of a + b between points `row` and `row` + 1 (both curves share their x). */
double curve_least_sum(const struct curve *a, const struct curve *b, int row);

struct outline outline_of(struct arena *arena, const struct body *body);

#endif
