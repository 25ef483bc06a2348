/* Where a waterline can be marked and read (docs/physics.md, 5.6).
 *
 * Seen from the side, the water enters the plug in one place and leaves it in another: at an end
 * face, where its height above the datum can be told, or on back or belly, where its distance from
 * the nose can be told along the datum.  An end that is under water, or out of it, has no height
 * that anyone could mark.  Metres.
 */
#ifndef PLUGWRIGHT_PLUG_WATERLINE_H
#define PLUGWRIGHT_PLUG_WATERLINE_H

#include "compute/plug/plug.h"

/* One place: a height above the datum on nose or tail, a distance from the nose on back or belly.
 * MARK_NONE: the water meets no such place. */
struct water_mark {
    enum mark_on on;
    double at;
};

struct water_marks {
    struct water_mark fore, aft;
    bool flank_given; /* the water crosses the middle line of the flanks: */
    double flank;     /* from the nose; the foremost place of several */
};

/* A waterline by its heights above the datum at x = 0 and x = length. */
struct water_level {
    double nose, tail;
};

/* Of a body that a finish of this dry thickness has made fatter. */
struct water_marks waterline_marks(const struct plug *plug, double finish,
                                   struct water_level level);

/* How far the attitude of a waterline may be off that a rule tells at nose and tail, rad. */
double waterline_doubt(const struct plug *plug);

/* The waterline that was read on the bare body, in whatever two places. */
struct water_level waterline_read(const struct plug *plug, const struct waterline *read);

#endif
