/* What a change means for the work: operations that come, go, move or take another time, sittings
 * at the bench (docs/physics.md, 12.5), and dangers.  Seconds.  Both recipes must be without
 * errors.
 */
#ifndef PLUGWRIGHT_REWORK_H
#define PLUGWRIGHT_REWORK_H

#include "compute/results.h"

enum rework_kind { REWORK_COMES, REWORK_GOES, REWORK_MOVES, REWORK_RETIMED };

struct rework {
    enum rework_kind kind;
    const struct operation *before, *now; /* in the old and in the new route; NULL: not there */
    const struct operation *behind;       /* what stands before it in the new route, or NULL */
    double hands_before, hands_now;       /* for one plug, s; 0 where it is not there */
    double wait_before, wait_now;
};

struct rework_list {
    struct rework *items; /* in the order of the new route; what goes stands where it stood */
    int count;
};

/* Operations are told apart by their ids, colours by the names of their colours. */
struct rework_list rework_between(struct arena *arena, const struct results *before,
                                  const struct results *after);

/* How often the builder sits down to the run: opening periods in which there is work, those that
 * begin at FACT(EVENING) or later also counted as evenings; without opening hours, days from the
 * start. */
struct sittings {
    bool by_hours; /* false: days */
    int all, evenings;
};

struct sittings rework_sittings(struct arena *arena, const struct results *results);

/* Bits of enum caution over all operations that are still to be done. */
unsigned rework_cautions(const struct results *results);

#endif
