/* The line along which something is bored from a side of the body (docs/physics.md, 3.5).  Metres.
 *
 * From belly and back it runs straight up and down in the plane y = 0; from nose and tail along the
 * datum line, at a height, in that plane too; from the flanks level, a pair of mirror images, of
 * which this is the one at y > 0.  It begins where it meets the bare outline.  From inside, in a
 * body of two halves, such a pair begins in the middle plane and runs outward.
 */
#ifndef PLUGWRIGHT_PLUG_AXIS_H
#define PLUGWRIGHT_PLUG_AXIS_H

#include "compute/plug/plug.h"

struct axis {
    double x, y, z;       /* where it enters the body */
    double u_x, u_y, u_z; /* unit direction inward */
    double room; /* wood ahead: to the other side, of a pair from the flanks to the middle plane */
    bool pair;   /* its mirror image is bored too */
};

/* `at` is not looked at for nose and tail, nor `up` for belly and back.  Where the outline nowhere
 * reaches the height `up`, or the flank has no wood there, room is 0. */
struct axis axis_of(const struct plug *plug, enum bore_side from, struct position at, double up);

struct axis axis_of_bore(const struct plug *plug, const struct bore *bore);

/* How many are bored along it: 1 or 2. */
static inline int axis_count(const struct axis *axis) {
    return axis->pair ? 2 : 1;
}

/* The place `s` metres inward, seen from the side. */
static inline double axis_x(const struct axis *axis, double s) {
    return axis->x + axis->u_x * s;
}

static inline double axis_z(const struct axis *axis, double s) {
    return axis->z + axis->u_z * s;
}

/* Whether it runs along the body, or level across it. */
static inline bool axis_along(const struct axis *axis) {
    return axis->u_x != 0;
}

static inline bool axis_level(const struct axis *axis) {
    return axis->u_y != 0;
}

/* Level and outward. */
static inline bool axis_from_inside(const struct axis *axis) {
    return axis->u_y > 0;
}

/* How wide the body is across a bore where it enters: what a drill has to be less than. */
double axis_breadth(const struct plug *plug, const struct axis *axis);

/* The deepest that a bore may be and leave what is due ahead of it: FACT(WALL_LEAST) to the other
 * side, half of FACT(CLEARANCE_DOUBTFUL) to the middle plane from the flanks; 0 or more. */
double axis_deepest(const struct axis *axis);

#endif
