/* What plugs were weighed, as `measured` has it, and which plugs of a recipe's older version are
 * those of newer ones. */
#ifndef PLUGWRIGHT_WEIGHING_H
#define PLUGWRIGHT_WEIGHING_H

#include "base/arena.h"
#include "model/recipe.h"

/* The stages at which the scale is asked: blank, hung, sealed, ballasted, painted, topcoated,
 * finished. */
enum { WEIGHING_STAGES = 7 };

/* One value a plug, in kg. */
struct weighing_list {
    const double *values;
    int count;
};
struct weighing_list weighing_at(const struct measured *measured, int stage);

/* What of a version's readings counts with a newer one. */
struct weighing_repeats {
    const bool *plugs; /* by their places in the lists; the waterline is of the first */
    int plug_count;
    const bool *minutes; /* by their places */
    int fresh;           /* plugs and times that count with this version */
};

/* A plug is the one that has its place in a newer version where at least half of the readings that
 * both have are the same; minutes are the same where the step is and what it took. */
struct weighing_repeats weighing_repeats_of(struct arena *arena, const struct measured *older,
                                            const struct measured *const *newer, int count);

#endif
