/* `b` is the place that was asked last and `a` the one across the root.  A step is never shorter
 * than half the width: one that would be goes past the root, and so closes the bracket. */
#include "compute/running/root.h"

#include <math.h>
#include <stdbool.h>

enum { ROOT_STEPS = 200, HALVE_EVERY = 4, HALVINGS = 6 };

double root_between(struct bracket bracket, double width,
                    double (*function)(const void *context, double at), const void *context) {
    double a = bracket.low, fa = bracket.at_low, b = bracket.high, fb = bracket.at_high;
    double wide = fabs(b - a);
    for (int i = 1; i <= ROOT_STEPS && fabs(b - a) > width; i++) {
        double least = copysign(0.5 * width, a - b), step = fb * (a - b) / (fb - fa);
        if (fabs(step) < fabs(least)) step = least;
        bool slow = i % HALVE_EVERY == 0 && fabs(b - a) > 0.5 * wide;
        if (i % HALVE_EVERY == 0) wide = fabs(b - a);
        if (slow || !isfinite(fa) || !isfinite(fb) || !(fabs(step) < fabs(a - b)))
            step = 0.5 * (a - b);
        double x = b + step, fx = function(context, x);
        if (fx == 0) return x;
        if ((fx > 0) == (fb > 0)) {
            fa *= 0.5;
        } else {
            a = b;
            fa = fb;
        }
        b = x;
        fb = fx;
    }
    return b;
}

/* Halvings decide which of several places it is; then the bracket is narrowed in fewer steps. */
double root_rising(double low, double high, double width,
                   double (*function)(const void *context, double at), const void *context) {
    struct bracket b = {low, high, NAN, NAN};
    for (int i = 0; i < HALVINGS; i++) {
        double middle = 0.5 * (b.low + b.high), value = function(context, middle);
        if (value > 0)
            b.high = middle, b.at_high = value;
        else
            b.low = middle, b.at_low = value;
    }
    if (b.low == low) b.at_low = function(context, low);
    if (b.high == high) b.at_high = function(context, high);
    if (b.at_low > 0) return low;
    return b.at_high > 0 ? root_between(b, width, function, context) : high;
}
