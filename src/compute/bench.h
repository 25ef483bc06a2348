/* What the bench can measure: predictions to write a reading beside, and what readings that came
 * back into the recipe (`measured`) mean (docs/physics.md, 8.1).  SI units, rad.
 */
#ifndef PLUGWRIGHT_BENCH_H
#define PLUGWRIGHT_BENCH_H

#include "compute/results.h"

/* What one plug weighs where an operation is followed by the scale, kg. */
double bench_mass(const struct results *results, enum weighed weighed);

/* Height of the waterline half-way between nose and tail; valid where waterline_given. */
double bench_amidships(const struct condition *condition);

/* How far off the middle the ballast may stand for a lean of `lean`; valid where lean_given and
 * there is ballast. */
double bench_tolerance(const struct condition *condition, double lean);

/* Readings of the recipe beside what was computed; a part that was not measured is not given. */
struct bench_reading {
    bool given;
    double predicted, read;
    double doubt; /* how far what was read may be off */
    bool told;    /* the two differ by more than that */
};

struct bench_comparison {
    struct bench_reading body;             /* kg; by the wood without it, and the mean weighed */
    struct bench_reading sealed, finished; /* kg */
    double reserve;                        /* of the finished plug by its weighed mass */
    struct bench_reading nose, tail;       /* waterline in the float test, m above the datum */
    struct bench_reading attitude;         /* rad, from both ends of that waterline */
};

struct bench_comparison bench_compare(const struct recipe *recipe, const struct results *results);

#endif
