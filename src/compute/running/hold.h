/* What keeps a plug under tow from rolling out, and how far off the middle its line tie may stand
 * (docs/physics.md, 15.5).  SI units.
 *
 * The water's forces turn with the plug when it heels about the flow: weight and buoyancy alone
 * right it.  Where the tie stands aside the plug yaws until the water's moments agree, and that
 * heels it too.
 */
#ifndef PLUGWRIGHT_RUNNING_HOLD_H
#define PLUGWRIGHT_RUNNING_HOLD_H

#include "compute/running/pull.h"

struct hold {
    bool yaws_off;    /* nothing turns it back from a yaw: then there is no stiffness */
    double yaw;       /* epsilon: how yaw and heel go together */
    double stiffness; /* N m per radian of heel; 0 or less: it rolls out by itself */
    double tie_aside; /* m off the middle that heel it by FACT_ROLL_MOST; 0 where it rolls out by
                         itself, infinite where no offset does */
};

/* `pull` is a steady one of this stream. */
struct hold hold_at(const struct stream *stream, const struct pull *pull);

/* The speed at which a tie FACT_TIE_ASIDE off the middle rolls it out; the slowest or the fastest
 * that is looked at where it lies beyond. */
double hold_speed(const struct stream *stream);

#endif
