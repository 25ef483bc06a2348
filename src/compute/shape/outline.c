/* Slopes of the curves (Fritsch and Butland 1984): with h the distance to the next point and m the
 * slope of the straight line to it, the slope at an inner point is the weighted harmonic mean of
 * the two lines that meet there, weights h_before + 2 h_behind for the line before and the mirror
 * of it for the line behind; zero where the lines do not both rise or both fall.  At an end it is
 * the slope of the parabola through the three nearest points, made zero where it would run against
 * the first line and cut to three times that line where the second line turns.
 */
#include "compute/shape/outline.h"

#include <math.h>

/* Places within 0 < t < end where the cubic is level, rising t; at most two. */
static int cubic_turns(const struct cubic *cubic, double end, double turns[2]) {
    double a = 3 * cubic->c[3], b = cubic->c[2], c = cubic->c[1]; /* a t^2 + 2 b t + c = 0 */
    double square = b * b - a * c;
    if (!(square >= 0)) return 0;
    double sum = -(b + copysign(sqrt(square), b)); /* no cancellation: the roots' product is c/a */
    double first = sum != 0 ? c / sum : 0;
    double second = a != 0 ? sum / a : -1;
    int count = 0;
    if (first > 0 && first < end) turns[count++] = first;
    if (second > 0 && second < end && second != first) turns[count++] = second;
    if (count == 2 && turns[0] > turns[1]) {
        turns[0] = second;
        turns[1] = first;
    }
    return count;
}

/* The root of a cubic that changes its sign between `low` and `high`, by bisection. */
static double root_between(const struct cubic *cubic, double low, double high) {
    bool rises = cubic_at(cubic, high) > 0;
    for (int i = 0; i < 60; i++) {
        double middle = 0.5 * (low + high);
        if ((cubic_at(cubic, middle) > 0) == rises)
            high = middle;
        else
            low = middle;
    }
    return 0.5 * (low + high);
}

int cubic_roots(const struct cubic *cubic, double end, double roots[3]) {
    double at[4] = {0};
    int pieces = 1 + cubic_turns(cubic, end, at + 1), count = 0;
    at[pieces] = end;
    for (int i = 0; i < pieces; i++)
        if ((cubic_at(cubic, at[i]) > 0) != (cubic_at(cubic, at[i + 1]) > 0))
            roots[count++] = root_between(cubic, at[i], at[i + 1]);
    return count;
}

static double inner_slope(double before, double behind, double h_before, double h_behind) {
    if (!(before * behind > 0)) return 0;
    double w_before = h_before + 2 * h_behind, w_behind = 2 * h_before + h_behind;
    return (w_before + w_behind) / (w_before / before + w_behind / behind);
}

static double end_slope(double first, double second, double h_first, double h_second) {
    double slope = ((2 * h_first + h_second) * first - h_first * second) / (h_first + h_second);
    if (!(slope * first > 0)) return 0;
    if (first * second <= 0 && fabs(slope) > 3 * fabs(first)) return 3 * first;
    return slope;
}

struct curve curve_through(struct arena *arena, const double *x, const double *y, int count) {
    double *slope = NEW(arena, double, count), *line = NEW(arena, double, count);
    int last = count - 1;
    for (int i = 0; i < last; i++) line[i] = (y[i + 1] - y[i]) / (x[i + 1] - x[i]);
    for (int i = 1; i < last; i++)
        slope[i] = inner_slope(line[i - 1], line[i], x[i] - x[i - 1], x[i + 1] - x[i]);
    if (count == 2) {
        slope[0] = slope[1] = line[0];
    } else {
        slope[0] = end_slope(line[0], line[1], x[1] - x[0], x[2] - x[1]);
        slope[last] = end_slope(line[last - 1], line[last - 2], x[last] - x[last - 1],
                                x[last - 1] - x[last - 2]);
    }
    return (struct curve){count, x, y, slope};
}

struct cubic curve_cubic(const struct curve *curve, int row) {
    double h = curve->x[row + 1] - curve->x[row];
    double line = (curve->y[row + 1] - curve->y[row]) / h;
    double s0 = curve->slope[row], s1 = curve->slope[row + 1];
    return (struct cubic){
        {curve->y[row], s0, (3 * line - 2 * s0 - s1) / h, (s0 + s1 - 2 * line) / (h * h)}};
}

/* The row whose interval holds x. */
static int row_at(const struct curve *curve, double x) {
    int low = 0, high = curve->count - 1;
    while (high - low > 1) {
        int middle = (low + high) / 2;
        if (curve->x[middle] <= x)
            low = middle;
        else
            high = middle;
    }
    return low;
}

static double within(const struct curve *curve, double x) {
    return fmin(fmax(x, curve->x[0]), curve->x[curve->count - 1]);
}

double curve_at(const struct curve *curve, double x) {
    if (x >= curve->x[curve->count - 1]) return curve->y[curve->count - 1];
    double inside = within(curve, x);
    int row = row_at(curve, inside);
    struct cubic cubic = curve_cubic(curve, row);
    return cubic_at(&cubic, inside - curve->x[row]);
}

double curve_slope_at(const struct curve *curve, double x) {
    double inside = within(curve, x);
    int row = row_at(curve, inside);
    struct cubic cubic = curve_cubic(curve, row);
    return cubic_slope(&cubic, inside - curve->x[row]);
}

double curve_least_sum(const struct curve *a, const struct curve *b, int row) {
    struct cubic sum = curve_cubic(a, row), other = curve_cubic(b, row);
    for (int i = 0; i < 4; i++) sum.c[i] += other.c[i];
    double turns[2], least = fmin(a->y[row] + b->y[row], a->y[row + 1] + b->y[row + 1]);
    double end = a->x[row + 1] - a->x[row], margin = 1e-6 * end;
    int count = cubic_turns(&sum, end, turns);
    for (int i = 0; i < count; i++) /* a turn that is an end but for rounding is that end */
        if (turns[i] > margin && turns[i] < end - margin)
            least = fmin(least, cubic_at(&sum, turns[i]));
    return least;
}

struct outline outline_of(struct arena *arena, const struct body *body) {
    int count = body->station_count;
    double *x = NEW(arena, double, count), *back = NEW(arena, double, count);
    double *belly = NEW(arena, double, count), *width = NEW(arena, double, count);
    for (int i = 0; i < count; i++) {
        const struct station *station = &body->stations[i];
        x[i] = position_in(station->at, body->length);
        back[i] = station->back;
        belly[i] = station->belly;
        width[i] = station->width;
    }
    x[count - 1] = body->length; /* where the recipe has it to within a micrometre */
    const struct section_choice *section = body->section;
    return (struct outline){
        .length = body->length,
        .back = curve_through(arena, x, back, count),
        .belly = curve_through(arena, x, belly, count),
        .width = curve_through(arena, x, width, count),
        .shape = section->shape,
        .radius = section->shape == SECTION_ROUNDED ? section->radius.value : 0,
    };
}
