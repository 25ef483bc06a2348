/* The plug in one condition, float test or finished: at rest, its righting arms, its waterline
 * (docs/physics.md, 5.2 to 5.11).  SI units, rad.  What does not exist is told by a flag beside it,
 * never by a number.
 */
#ifndef PLUGWRIGHT_PLUG_CONDITION_H
#define PLUGWRIGHT_PLUG_CONDITION_H

#include "compute/plug/plug.h"
#include "compute/plug/mass.h"
#include "compute/plug/waterline.h"

struct condition {
    struct burden burden;
    struct rest rest;
    struct righting righting;
    enum float_state state;
    bool waterline_given;                  /* false: submerged, or as good as */
    double waterline_nose, waterline_tail; /* above the datum at x = 0 and x = length, m */
    struct water_marks marks;              /* where that line can be read */
    bool lean_given;     /* false: not stable, or no ballast to stand off the middle */
    double ballast_mass; /* of all loads together, kg */
    double speed;        /* m/s, rising positive */
    bool falling_given;  /* it sinks, and does not tumble: */
    double falling;      /* attitude on the way down, rad */
    bool stable;
};

/* `burden` is that of the condition (mass_burden); `ballast_mass`, all loads together, is for the
 * lean alone. */
struct condition condition_of(const struct plug *plug, const struct burden *burden,
                              enum condition_kind kind, double ballast_mass);

/* The hull that floats in a condition: bare in the float test, with its finish at the end. */
const struct hull *condition_hull(const struct plug *plug, enum condition_kind kind);

/* Thickness of the finish that is on the plug then, m. */
double condition_finish(const struct plug *plug, enum condition_kind kind);

/* Heel (rad) that `mass` standing `offset` metres off the middle makes; valid where GM > 0.
 * tan(heel) = mass * offset / (mass of the plug * GM). */
double condition_lean(const struct condition *condition, double mass, double offset);

/* Whether the waterline of a rest means anything, and its height above the datum at x. */
bool rest_has_waterline(const struct rest *rest);
double rest_waterline(const struct rest *rest, double x);

#endif
