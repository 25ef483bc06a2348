/* Where a smooth function first falls to zero, a bracketed root; in whatever units it has.  Nothing
 * but Newton's steps and the trapezoidal rule; how it looks closer is said in search.c.
 */
#ifndef PLUGWRIGHT_FLOAT_SEARCH_H
#define PLUGWRIGHT_FLOAT_SEARCH_H

#include <stdbool.h>

/* The function at one place. */
struct probe {
    double at, value, slope;
};

struct search {
    struct probe (*probe)(void *context, double at);
    void *context;
    double tolerance; /* of `at` */
    double noise;     /* of the value: differences below this mean nothing */
    int budget;       /* how many more probes may be spent on looking closer */
};

/* Whether the function falls to zero between two places, and where it does so first.  Looks closer
 * where the ends' slopes do not account for the way between them, or speak of a dip to near zero:
 * a pair of roots must not be stepped over. */
bool search_fall(struct search *search, struct probe left, struct probe right, struct probe *fall);

#endif
