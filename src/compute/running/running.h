/* How a plug runs: trim, pull, depth and hold under tow, each as a band over the spread of the
 * coefficients, and what some changes would do to them (docs/physics.md).  SI units; trims nose
 * down positive.
 *
 * The bands are those of the coefficients, not of the model: as a whole it was compared with no
 * measured plug.  Whoever prints a band says so.
 */
#ifndef PLUGWRIGHT_RUNNING_RUNNING_H
#define PLUGWRIGHT_RUNNING_RUNNING_H

#include "compute/ballast/ballast.h"
#include "compute/running/hold.h"
#include "compute/running/rig.h"
#include "compute/running/sounding.h"
#include "compute/running/spread.h"

/* In words: running_verdict_name. */
enum tow_verdict { VERDICT_NO, VERDICT_DOUBTFUL, VERDICT_YES };

struct running_speed {
    double speed;
    bool steady;                   /* false: no steady attitude, and nothing below is given */
    enum tow_verdict runs, holds;      /* stays under; does not roll out */
    struct band trim, pull, angle; /* angle of the line at the plug, above the flow */
    struct band tie_aside;         /* offset of the line tie that rolls it out; may be infinite */
    struct band depth[MAX_OUTS];
};

/* What a change does at one speed, on one length of line: differences, point by point. */
struct running_tweak {
    bool possible;
    struct band depth, trim, pull, tie_aside;
};

struct running_result {
    bool given;         /* the recipe asks for it */
    enum tow_kind kind; /* on top: nothing is computed; by weight: no trim and no hold */
    struct band dives_from, hold_speed; /* infinite: not at any speed that is looked at */
    struct running_speed speeds[MAX_SPEEDS];
    int speed_count, out_count;
    int middle_speed, middle_out; /* where the tweaks are made */
    struct running_tweak tweaks[TWEAKS];
    struct sounding_result sounding;
    bool lip_dry; /* at rest the lip's middle stands out of the water */
    struct rig rig;
    struct pull middle; /* at that speed, in the middle of every spread */
};

struct running_result running_of(struct arena *arena, const struct plug *plug,
                                 const struct ballast_result *ballast,
                                 const struct mass_list *masses, const struct rest *finished);

/* "at the surface", "doubtful", "runs"; "rolls out", "doubtful", "holds". */
const char *running_runs_name(enum tow_verdict runs);
const char *running_holds_name(enum tow_verdict holds);

#endif
