/* What the main results of a recipe are, and where those of two recipes differ by more than the
 * tolerances of grammar/tolerance.def.  SI units. */
#ifndef PLUGWRIGHT_EFFECT_H
#define PLUGWRIGHT_EFFECT_H

#include "compute/results.h"

enum effect_kind {
    EFFECT_MASS,
    EFFECT_LENGTH,
    EFFECT_AREA,
    EFFECT_VOLUME, /* of what is poured */
    EFFECT_SOLID,  /* volume of what is carved */
    EFFECT_DENSITY,
    EFFECT_SHARE,
    EFFECT_ANGLE,
    EFFECT_SPEED,
    EFFECT_TIME,
    EFFECT_MONEY, /* in the recipe's currency */
    EFFECT_FACTOR,
    EFFECT_PIECES,
};

/* For grouping in print: the rows of RESULT, then bores, then materials for one plug. */
enum effect_group { EFFECT_MAIN, EFFECT_BORE, EFFECT_MATERIAL };

/* The rows of RESULT. */
enum effect_result {
#define RESULT(id, ...) RESULT_##id,
#include "tolerance.def"
    RESULT_COUNT
};

struct effect_value {
    enum effect_group group;
    enum effect_result result; /* of the main group; else RESULT_COUNT */
    enum effect_kind kind;
    struct name path, label; /* "float.finished.reserve", "reserve"; a material has no path */
    double value, tolerance;
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
};

struct effect_list {
    struct effect *items; /* what differs, in the order of the rows */
    int count;
};

struct effect_list effect_between(struct arena *arena, const struct effect_values *before,
                                  const struct effect_values *after);

/* Least of the factors that a published formula gives; 0: none. */
double effect_strength(const struct results *results);

/* The one unit of a kind in which lists meant for machines print it, and its decimals. */
struct effect_unit {
    const char *name; /* "" of a plain number */
    double scale;     /* SI = number * scale */
    int decimals;
};
struct effect_unit effect_unit_of(enum effect_kind kind);

#endif
