/* A plug under tow: its trim, and what the line feels of it (docs/physics.md, 15.3).
 *
 * The plug is the finished one, wholly under water, in a steady straight pull.  x aft of the nose,
 * z above the datum; the trim is the nose-down angle; a moment is positive nose down.  SI units.
 */
#ifndef PLUGWRIGHT_RUNNING_PULL_H
#define PLUGWRIGHT_RUNNING_PULL_H

#include "compute/plug/condition.h"
#include "compute/running/across.h"
#include "compute/running/blade.h"
#include "model/name.h"
#include "model/reference.h"

struct pull_spot {
    double x, z;
};

/* The lip outside the body. */
struct tow_lip {
    bool given;
    struct pull_spot mouth;
    double angle, extent, area, width;
    double centroid; /* of the area, from the mouth */
    double aspect;   /* width squared over area, kept within the lips of the tank tests */
    struct blade blade;
};

struct tow_hook {
    struct pull_spot at;
    double drag; /* area, m2 */
};

/* What depends neither on the coefficients nor on the speed. */
struct tow {
    double water; /* kg/m3 */
    struct across across;
    struct tow_lip lip;
    struct pull_spot tie; /* the pull point; of a tie on the lip see `tie_s` */
    bool tie_on_lip;      /* then it turns with the lip */
    double tie_s, eye; /* how far from the lip's mouth its eye stands; inner diameter of the eye */
    double tie_raised; /* lifts the pull point, m: for a tweak */
    struct tow_hook hooks[MAX_HANGERS];
    int hook_count;
    double weight, buoyancy;          /* N */
    struct pull_spot gravity, centre; /* where they act */
    double rest;                      /* attitude from which the trim is sought, rad */
};

/* Weight and buoyancy act where the rows of mass say, `rest` is that of the finished plug. */
struct tow tow_of(const struct plug *plug, const struct mass_list *masses, const struct rest *rest);

enum tow_kind {
    TOW_BY_LIP,
    TOW_BY_WEIGHT, /* no lip, and heavier than water: nothing determines its trim */
    TOW_ON_TOP,    /* no lip, and it floats: not computed */
};
enum tow_kind tow_kind_of(const struct tow *tow);

/* The plug in a stream with one set of coefficients: everything that does not depend on speed and
 * trim.  Forces and moments of the water are those of 1/2 rho V^2 = 1. */
struct stream {
    const struct tow *tow;
    struct coefficients k;
    struct pull_spot tie;           /* the pull point */
    double across, across_moment;   /* at 90 degrees */
    double couple;                  /* at sin 2 trim = 1 */
    double along, along_z;          /* along_z: above the pull point */
    double hooks, hooks_x, hooks_z; /* drag, and its moments about the pull point */
    double lip_angle, lip_sine, lip_cosine;
    double lip_size,
        lip_reach; /* force per coefficient; from the mouth to the middle of the force */
    struct pull_spot righting; /* N m: moment of buoyancy and weight about the pull point by each
                             component of world up */
};

struct stream stream_of(const struct tow *tow, const struct coefficients *k);

/* The force on the lip, towards (sine, -cosine) of the lip's angle. */
struct lip_push {
    struct pull_spot at;
    double force, incidence, centre; /* N, rad, blade_centre of it */
};

struct pull {
    bool steady; /* false: it turns over, and nothing else is given */
    double speed, trim;
    double back, down; /* of the water alone, in the world: aft and downwards, N */
    double line_back,
        line_down;         /* what the line feels, weight and wobble counted; down > 0: dives */
    double tension, angle; /* of the line at the plug; angle above the flow */
    struct lip_push lip;
};

/* Equilibrium about the pull point. */
struct pull pull_at(const struct stream *stream, double speed);

/* The same where the line feels another force downwards. */
struct pull pull_with_down(const struct pull *pull, double line_down);

/* A force in the world, and where in the body it acts: what the line does to the plug, and what the
 * body feels besides its couple, at the middle of its plan. */
struct force {
    struct pull_spot at;
    double aft, up; /* N */
};

void pull_forces(const struct stream *stream, const struct pull *pull, struct force force[FORCES]);

/* Moment about the pull point: it falls through 0 at the trim of pull_at. */
double pull_moment(const struct stream *stream, double speed, double trim);

/* The speed at which it begins to dive: the slowest that is looked at where it always does,
 * infinite where it does not even at the fastest. */
double pull_dives_from(const struct stream *stream);

#endif
