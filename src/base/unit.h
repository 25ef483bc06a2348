/* Dimensions and their units, and the words that people write for them.
 *
 * The rows are grammar/units.def.  A wire diameter, a drill size and a distance are written in
 * units of length.
 */
#ifndef PLUGWRIGHT_UNIT_H
#define PLUGWRIGHT_UNIT_H

#include <stdbool.h>

#include "base/arena.h"
#include "base/number.h"
#include "base/str.h"

/* What a value measures, and the unit that `double` holds inside the program. */
enum dimension {
    DIM_LENGTH,      /* m */
    DIM_WIRE,        /* m: a length, or a gauge number with its system */
    DIM_DRILL,       /* m: a length, or `no 30`, `letter F` */
    DIM_DISTANCE,    /* m: a length out on the water */
    DIM_MASS,        /* kg */
    DIM_AREA,        /* m2 */
    DIM_VOLUME,      /* m3 */
    DIM_AREAL_MASS,  /* kg/m2 */
    DIM_DENSITY,     /* kg/m3 */
    DIM_TIME,        /* s */
    DIM_TEMPERATURE, /* degC */
    DIM_ANGLE,       /* rad */
    DIM_SHARE,       /* 1 */
    DIM_SALINITY,    /* g/kg */
    DIM_FORCE,       /* N */
    DIM_SPEED,       /* m/s */
    DIM_PACE,        /* s/m */
    DIM_NUMBER,      /* a plain number: money, counts */
    DIM_COUNT_
};

/* How lengths and masses are printed. */
enum unit_system { UNITS_METRIC, UNITS_INCH };

struct unit {
    enum dimension dimension;
    const char *name;
    double scale, offset; /* SI = value * scale + offset */
};

/* "a length", "a share", ... for messages; and an example such as "12 mm". */
const char *dimension_name(enum dimension dimension);
const char *dimension_example(enum dimension dimension);

/* The dimension whose units it is written in: length for a wire diameter, else mostly itself. */
enum dimension dimension_measured(enum dimension dimension);

/* The unit that a dimension is shown in.  NULL for a plain number. */
const struct unit *dimension_unit(enum dimension dimension);

/* The units that it is written in, from 0; NULL past the last. */
const struct unit *dimension_unit_at(enum dimension dimension, int index);

/* Whether such a quantity may be written in several parts, as 1 lb 4 oz. */
bool dimension_is_compound(enum dimension dimension);

/* Other words for a unit, from 0; NULL past the last. */
const char *unit_alias_at(const struct unit *unit, int index);

/* Decimals of a recipe's values in that unit, where recipes are compared. */
int dimension_decimals(enum dimension dimension);

/* What results are shown as: one row of units each for machines, for a metric bench and for one in
 * inches. */
enum shown_as {
#define SHOWN(key, ...) SHOWN_##key,
#include "units.def"
};

struct shown_form {
    const struct unit *unit; /* named "" for a plain number */
    const char *sign;        /* the unit's name for people */
    int decimals;
};

struct shown_form shown_form(enum shown_as what, enum unit_system units);
struct shown_form shown_exact(enum shown_as what); /* in lists for machines */

/* A value in a unit. */
double unit_number(const struct unit *unit, double si);

/* A unit as it was written. */
enum { UNIT_NAME_MAX = 16 };
struct unit_word {
    char name[UNIT_NAME_MAX]; /* pasted signs replaced; "" if longer than any unit */
    struct str written;
    const char *digit; /* the first plain digit in it, or NULL */
};

/* Takes the word that stands next and returns the unit that it names, or NULL. */
const struct unit *unit_take(struct scan *scan, struct unit_word *word);

/* The unit of this dimension that was probably meant by a word, or NULL. */
const char *unit_meant(const struct unit_word *word, enum dimension dimension);

/* "a mass is written in g, mg, ..." */
const char *unit_list(struct arena *arena, enum dimension dimension);

#endif
