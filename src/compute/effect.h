/* What the main results of a recipe are, and where those of two recipes differ by more than the
 * tolerances of grammar/tolerance.def (docs/physics.md, 14).  SI units.  What a recipe has not is
 * not in the list: a plug under water has no waterline.
 */
#ifndef PLUGWRIGHT_EFFECT_H
#define PLUGWRIGHT_EFFECT_H

#include "compute/results.h"

/* For grouping in print: the rows of RESULT, then bores, then materials for one plug. */
enum effect_group { EFFECT_MAIN, EFFECT_BORE, EFFECT_MATERIAL };

/* The rows of RESULT and TOW_RESULT. */
enum effect_result {
#define RESULT(id, ...)     RESULT_##id,
#define TOW_RESULT(id, ...) RESULT_##id,
#include "tolerance.def"
    RESULT_COUNT
};

struct effect_value {
    enum effect_group group;
    enum effect_result result; /* of the main group; else RESULT_COUNT */
    enum shown_as kind;
    struct name path, label; /* "float.finished.reserve", "reserve"; a material has no path */
    double value, tolerance;
    const struct estimate *estimate; /* that the value is the median of, or NULL */
};

struct effect_values {
    struct effect_value *items;
    int count;
};

/* All that are given, in the order of their rows. */
struct effect_values effect_values_of(struct arena *arena, const struct results *results);

struct effect {
    const struct effect_value *any;            /* the new one, or else the old one */
    const struct effect_value *before, *after; /* one may be NULL: not given, or not there */
    struct band change; /* of two answers, point by point; not given where there are none */
};

struct effect_list {
    struct effect *items; /* what differs, in the order of the rows */
    int count;
};

/* What differs by more than the tolerance of its row, or is in one of the two lists alone. */
struct effect_list effect_between(struct arena *arena, const struct effect_values *before,
                                  const struct effect_values *after);

/* Least of the factors that a published formula gives; 0: none. */
double effect_strength(const struct results *results);

#endif
