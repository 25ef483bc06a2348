/* The hull: body and lip, ready to be cut by a plane again and again (docs/physics.md, 5.4).
 *
 * SI units; x aft of the nose, y to starboard, z above the datum.  Panels live in the arena.  Any
 * plane cuts any hull: one that passes it by leaves all of it or nothing.
 */
#ifndef PLUGWRIGHT_SHAPE_HULL_H
#define PLUGWRIGHT_SHAPE_HULL_H

#include "compute/shape/lip.h"
#include "compute/shape/notch.h"
#include "compute/shape/outline.h"

struct hull_panel; /* hull.c */

enum { HULL_NOTCHES = 1 + MAX_JOINTS };

struct hull {
    const struct hull_panel *panels;
    int count;
    double volume, moment_x, moment_z; /* of the body alone, less what is taken out: m3, m4 */
    struct notch notches[HULL_NOTCHES];
    int notch_count;
    struct plate plate;
    double length;
    double half_width, top, bottom; /* greatest extents, the lip left out */
};

/* With a finish of that dry thickness; the outline is not needed any more afterwards. */
struct hull hull_of(struct arena *arena, const struct outline *outline, double finish,
                    const struct plate *plate);

/* Takes a notch out of a hull: a cup, and each joint. */
void hull_take(struct hull *hull, const struct notch *notch);

/* The space sine x + cosine (p y + q z) < level: sine and cosine of one angle, cosine > 0, and
 * (p, q) a unit vector.  In the plane, s runs along (cosine, -sine p, -sine q) and m along
 * (0, q, -p). */
struct plane {
    double sine, cosine, p, q, level;
};

/* What of the hull lies below a plane, and its waterplane: the lip's part in that is the line in
 * which it stands in the plane, with the area that its thickness gives it. */
struct hull_part {
    double volume, moment_x, moment_y, moment_z; /* m3, m4 */
    double area, area_s, area_m;                 /* m2, and its first moments, m3 */
    double area_ss, area_mm;                     /* second moments, m4 */
};

/* How finely the cut part of the hull is integrated: to about 1e-5 and 1e-7 of the part. */
enum fineness { HULL_COARSE, HULL_FINE };

struct hull_part hull_below(const struct hull *hull, const struct plane *plane,
                            enum fineness fineness);

#endif
