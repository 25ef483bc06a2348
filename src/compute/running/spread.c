#include "compute/running/spread.h"

#include <math.h>

/* The coefficients of a struct, one after the other. */
static double *member(struct coefficients *k, int row) {
    return (double *)(void *)((char *)k + reference_spread[row].offset);
}

static int prime_after(int number) {
    for (bool prime = false; !prime;) {
        number++;
        prime = true;
        for (int d = 2; d * d <= number; d++) prime = prime && number % d;
    }
    return number;
}

static struct coefficients at_shares(const double *share) {
    struct coefficients k = {0};
    for (int i = 0; i < COEFFICIENTS; i++) {
        const struct spread_row *row = &reference_spread[i];
        *member(&k, i) = (row->low + (row->high - row->low) * share[i]) * row->one;
    }
    return k;
}

struct coefficients spread_point(int number) {
    double share[COEFFICIENTS], whole;
    for (int i = 0, prime = 1; i < COEFFICIENTS; i++) {
        prime = prime_after(prime);
        share[i] = modf(number * sqrt(prime), &whole);
    }
    return at_shares(share);
}

struct spread spread_all(void) {
    struct spread all = {0};
    for (int i = 0; i < SPREAD_POINTS; i++) all.point[i] = spread_point(i + 1);
    return all;
}

struct coefficients spread_middle(void) {
    double share[COEFFICIENTS];
    for (int i = 0; i < COEFFICIENTS; i++) share[i] = 0.5;
    return at_shares(share);
}

static void sort(double *values, int count) {
    for (int i = 1; i < count; i++) {
        double value = values[i];
        int k = i;
        for (; k > 0 && values[k - 1] > value; k--) values[k] = values[k - 1];
        values[k] = value;
    }
}

static double quantile(const double *sorted, int count, double share) {
    double place = share * (count - 1), whole, part = modf(place, &whole);
    double here = sorted[(int)whole];
    if (part <= 0 || isinf(here)) return here;
    return here + part * (sorted[(int)whole + 1] - here);
}

struct band band_of(double *values, int count) {
    if (count == 0) return (struct band){0};
    sort(values, count);
    return (struct band){true, quantile(values, count, 0.05), quantile(values, count, 0.5),
                         quantile(values, count, 0.95)};
}

bool band_unclear(const struct band *band) {
    return band->low <= 0 && band->high >= 0;
}
