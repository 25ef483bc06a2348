/* Unknown ratios by what was read on the bench (docs/physics.md, 16).
 *
 * An unknown is the logarithm of a ratio to what was computed; its prior is Gaussian with mean 0,
 * and every plug has a deviation of its own from it (scatter).  A reading is predicted by parts:
 * amounts, each times some ratios.  Units are those of the readings.
 */
#ifndef PLUGWRIGHT_LEARN_ESTIMATE_H
#define PLUGWRIGHT_LEARN_ESTIMATE_H

#include <stdbool.h>

#include "base/arena.h"

enum { LEARN_FACTORS = 2, LEARN_ROUNDS = 12 /* at most */ };
#define LEARN_AT_REST 2e-3 /* a logarithm that a round moves by no more */

struct learn_factor {
    int unknown;
    double scatter; /* of one plug from the rest, the same in all readings of that plug */
};

struct learn_part {
    double amount;
    struct learn_factor of[LEARN_FACTORS];
    int factor_count;
};

/* Readings of one plug stand together. */
struct learn_reading {
    int plug;
    double value, doubt; /* doubt: one standard deviation of the scale or the rule, > 0 */
    const struct learn_part *parts;
    int part_count;
};

struct learn_task {
    const double *prior; /* standard deviation of each unknown, > 0 */
    int count;
    const struct learn_reading *readings;
    int reading_count;
};

struct learn_estimate {
    double *mean, *deviation; /* of each unknown */
    double *covariance;       /* by rows, all unknowns with all */
    double *prior_share;      /* of what is known of each, 1: nothing was learned */
    int *readings;            /* how many bear on each */
    double scatter;           /* how far plugs differ, in parts of what was expected */
};

/* What a reading should be with these unknowns. */
double learn_predict(const struct learn_reading *reading, const double *unknowns);

/* Whether it hangs on an unknown. */
bool learn_bears(const struct learn_reading *reading, int unknown);

/* Slopes of that against every unknown of the task, and the variance of the plug's own scatter in
 * it, that being `scatter` times what was expected. */
double learn_slopes(const struct learn_task *task, const struct learn_reading *reading,
                    const double *unknowns, double scatter, double *slopes);

struct learn_estimate learn_estimate_of(struct arena *arena, const struct learn_task *task);

/* For every plug, in the order of the readings, what the means would be without it, linearised
 * where the estimate ended: a row of `means` each, so that no plug takes part in what is foretold
 * of it. */
void learn_leave_out(struct arena *arena, const struct learn_task *task,
                     const struct learn_estimate *estimate, double *means);

/* What one plug says of an unknown that bears on it: all that its readings are off, the others
 * being as the prior and the other plugs have them, is laid to this one; how doubtful those are
 * counts.  Of one unknown with one reading it is that reading. */
struct learn_claim {
    int plug, unknown;
    double mean, deviation;
};

/* All of them, plug by plug as the readings stand, linearised where the estimate ended. */
struct learn_claim *learn_claims(struct arena *arena, const struct learn_task *task,
                                 const struct learn_estimate *estimate, int *count);

#endif
