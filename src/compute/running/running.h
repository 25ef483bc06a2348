/* How a plug runs: trim, pull, depth and hold under tow, each as a band over the spread of the
 * coefficients, and what some changes would do to them (docs/physics.md, 15).  SI units; trims nose
 * down positive.
 *
 * The bands are those of the coefficients, not of the model: as a whole it was compared with no
 * measured plug.  Whoever prints a band prints that beside it (RUNNING_NOTE rows).
 */
#ifndef PLUGWRIGHT_RUNNING_RUNNING_H
#define PLUGWRIGHT_RUNNING_RUNNING_H

#include "compute/ballast/ballast.h"
#include "compute/running/hold.h"
#include "compute/running/rig.h"
#include "compute/running/sounding.h"
#include "compute/running/spread.h"
#include "model/name.h"

/* One answer by the points of the spread: NAN at a point that has none, infinite where there is no
 * limit. */
struct by_point {
    double value[SPREAD_POINTS];
};

/* An answer with its band. */
struct estimate {
    struct band band;
    const struct by_point *points; /* NULL where the band is not given */
};

struct running_speed {
    double speed;
    bool steady;            /* false: no steady attitude, and nothing below is given */
    enum tow_verdict runs;  /* stays under */
    enum tow_verdict holds; /* does not roll out; means nothing where `tie_aside` is not given */
    struct estimate trim, pull, angle; /* angle of the line at the plug, above the flow */
    struct estimate tie_aside;         /* offset of the line tie that rolls it out */
    struct estimate depth[MAX_OUTS];
    double beat, beat_doubt; /* Hz, of the wake of a plate as wide as the lip; 0 without a lip */
};

/* What a change does at one speed, on one length of line: differences, point by point. */
struct running_tweak {
    bool possible;
    struct band depth, trim, pull, tie_aside;
};

struct running_result {
    bool given;         /* the recipe asks for it */
    enum tow_kind kind; /* on top: nothing is computed; by weight: no trim and no hold */
    struct estimate dives_from, hold_speed; /* infinite: beyond what is looked at */
    struct running_speed speeds[MAX_SPEEDS];
    int speed_count, out_count;
    int middle_speed, middle_out; /* where the tweaks are made */
    struct running_tweak tweaks[TWEAKS];
    struct sounding_result sounding;
    bool lip_dry; /* at rest the lip's middle stands out of the water */
    struct rig rig;
    struct pull middle; /* at that speed, in the middle of every range, with its forces */
    struct force force[FORCES];
};

struct running_result running_of(struct arena *arena, const struct plug *plug,
                                 const struct ballast_result *ballast,
                                 const struct mass_list *masses, const struct rest *finished);

/* Depth alone, at the middle speed on the middle length of line: as good as all of it to 1e-6 m. */
struct estimate running_depth(struct arena *arena, const struct plug *plug,
                              const struct mass_list *masses, const struct rest *finished);

/* Depth alone, for an aim and by the coefficients as they are published: what was measured of a
 * plug says nothing of one with another lip.  Not given without a lip, and where it has no steady
 * attitude or may stay at the surface. */
struct band running_aimed(struct arena *arena, const struct plug *plug,
                          const struct mass_list *masses, const struct rest *finished,
                          const struct tow_aim *aim);

/* Whether the lip's middle stands out of the water at rest, so that it may not bite. */
bool running_lip_dry(const struct plug *plug, const struct rest *finished);

/* The differences of two answers, point by point; not given where they have no point in common. */
struct band running_change(const struct estimate *before, const struct estimate *after);

#endif
