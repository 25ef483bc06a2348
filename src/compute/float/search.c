/* Between two probes the function is taken for the cubic of their values and slopes.  That is
 * trusted where the trapezoidal rule on the slopes reproduces the change of value to a quarter of
 * the values themselves; else the interval is halved, at most SEARCH_HALVINGS times.
 */
#include "compute/float/search.h"

#include <math.h>

enum { SEARCH_HALVINGS = 12, SEARCH_STEPS = 60 };

static bool trusted(const struct search *search, struct probe left, struct probe right) {
    double change = 0.5 * (right.at - left.at) * (left.slope + right.slope);
    double off = fabs(right.value - left.value - change);
    return off <= 0.25 * (fabs(left.value) + fabs(right.value)) + search->noise;
}

/* Whether the function dips between two probes, about where (the cubic's minimum), and how low it
 * gets at the most if it is convex there: to where the two tangents meet. */
static bool dip_between(struct probe left, struct probe right, double *at, double *bound) {
    if (!(left.slope < 0 && right.slope > 0)) return false;
    double wide = right.at - left.at, line = (right.value - left.value) / wide;
    double c2 = (3 * line - 2 * left.slope - right.slope) / wide;
    double c3 = (left.slope + right.slope - 2 * line) / (wide * wide);
    double root = sqrt(fmax(c2 * c2 - 3 * c3 * left.slope, 0));
    double t = c2 + root > 0 ? -left.slope / (c2 + root) : 0.5 * wide;
    *at = left.at + fmin(fmax(t, 0.01 * wide), 0.99 * wide);
    double meet = wide * (right.slope - line) / (right.slope - left.slope);
    *bound = left.value + left.slope * meet;
    return true;
}

/* The root between a probe above zero and one at or below it: Newton's steps inside the bracket. */
static struct probe root_between(const struct search *search, struct probe left,
                                 struct probe right) {
    struct probe best = fabs(left.value) < fabs(right.value) ? left : right;
    double low = left.at, high = right.at;
    double small = 1e-3 * (fabs(left.value) + fabs(right.value));
    for (int i = 0; i < SEARCH_STEPS; i++) {
        double next = best.slope < 0 ? best.at - best.value / best.slope : low;
        bool tiny = fabs(next - best.at) <= search->tolerance;
        if (tiny && fabs(best.value) <= small) break;
        bool halve = tiny || (i >= 6 && i % 2) || !(next > low && next < high);
        if (halve) next = 0.5 * (low + high);
        if (high - low <= search->tolerance) break;
        best = search->probe(search->context, next);
        if (best.value > 0)
            low = next;
        else
            high = next;
    }
    return best;
}

static bool fall_within(struct search *search, struct probe left, struct probe right, int halvings,
                        struct probe *fall) {
    double at = 0.5 * (left.at + right.at), bound;
    bool look = !trusted(search, left, right);
    if (!look && right.value <= 0) {
        *fall = root_between(search, left, right);
        return true;
    }
    if (!look && dip_between(left, right, &at, &bound)) look = bound < -search->noise;
    if (!look || halvings == 0 || search->budget <= 0 || right.at - left.at <= search->tolerance) {
        if (right.value <= 0) *fall = root_between(search, left, right);
        return right.value <= 0;
    }
    search->budget--;
    struct probe middle = search->probe(search->context, at);
    return fall_within(search, left, middle, halvings - 1, fall) ||
           fall_within(search, middle, right, halvings - 1, fall);
}

bool search_fall(struct search *search, struct probe left, struct probe right, struct probe *fall) {
    if (left.value <= 0) {
        *fall = left;
        return true;
    }
    return fall_within(search, left, right, SEARCH_HALVINGS, fall);
}
