/* The plug as far as it does not depend on the ballast: outline, wood, lip, pilots, hulls, water
 * (docs/physics.md, 2, 3 and 5.1).
 *
 * SI units; x aft of the nose, z above the datum.  The recipe must have passed its checks, and must
 * live as long as the plug; curves and hulls live in the arena.  Pilots that leave the wood are
 * judged afterwards.
 */
#ifndef PLUGWRIGHT_PLUG_PLUG_H
#define PLUGWRIGHT_PLUG_PLUG_H

#include "compute/float/hydro.h"
#include "compute/shape/solid.h"
#include "model/name.h"

/* A bore for a wire, in the plane y = 0, from its mouth inward. */
struct pilot {
    bool given; /* false for a tie on the lip, which has a hole and no bore */
    double mouth_x, mouth_z;
    double u_x, u_z; /* unit direction inward */
    double depth, diameter;
    bool screw;   /* for a screw eye */
    bool through; /* an end of a through wire, which has no bore: depth and diameter 0 */
};

/* What a fitting's pilot, or the hole of a line tie on the lip, is drilled with. */
double fitting_drill(const struct recipe *recipe, const struct fitting *fitting);

/* What an eye is made of: its wire's diameter, or that of a screw's thread. */
double fitting_thickness(const struct recipe *recipe, const struct fitting *fitting);

/* Whether it is drilled at all. */
static inline bool pilot_bored(const struct pilot *pilot) {
    return pilot->given && !pilot->through;
}

double pilot_volume(const struct pilot *pilot); /* m3 of one that is given */

/* The line tie is the first of a plug's fittings; the hangers follow in the order of the recipe, so
 * that hanger k, as people count them, is fitting k. */
enum { FITTING_TIE, FITTING_HANGERS, MAX_FITTINGS = MAX_HANGERS + 1 };

/* An eye of wire, set into the wood or bent through a hole of the lip. */
struct fitted {
    const struct fitting *fitting;
    struct pilot pilot;
    double eye_x, eye_z;    /* where the eye stands: at the mouth of its bore, or on the lip */
    double twisted, looped; /* wire installed: both strands in the wood; around the eye, m; of a
                               screw eye 0 */
};

/* A through wire and its kerf (through.h). */
struct through_fit {
    bool groove; /* between two halves, instead of a kerf */
    bool strip;  /* that closes the kerf */
    bool given;
    double z;                    /* of the wire's middle: the kerf's floor */
    double wire;                 /* its length with both eyes and their wraps, m */
    double kerf, kerf_x, kerf_z; /* wood that the kerf takes out, m3, and its centroid */
    double closed;               /* what closes it: the kerf less the wire in it, m3 */
    double least;                /* depth of the kerf where it is least, and where that is */
    double least_x;
};

struct plug {
    const struct recipe *recipe;
    struct outline outline;
    struct solid bare; /* without finish */
    double wood_density;
    enum wood_source wood_source;
    double ballast_density; /* 0 without ballast */
    bool ballast_soft;      /* driven home as a slug, whatever shape it had */
    double finish;          /* total dry thickness, m */
    struct plate plate;     /* the lip outside the body */
    double slot_volume;
    double shaped; /* m3 of wood in the shaped body: slot, pilots and bores from the ends
                      in it, no other */
    struct notch joints[MAX_JOINTS]; /* bare; in the order of the recipe */
    int joint_count;
    struct notch cup; /* bare; without volume: there is none */
    struct through_fit through;
    struct fitted fittings[MAX_FITTINGS];
    int fitting_count;
    struct hull bare_hull, finished_hull;
    double water; /* kg/m3 */
};

/* Weighed wood goes before the table: shaped bodies (their mean), then a density. */
struct plug plug_of(struct arena *arena, const struct recipe *recipe);

/* The same plug of another wood: for spread and for what a lighter wood would change. */
struct plug plug_with_wood(const struct plug *plug, double density);

/* Mass of the shaped body, kg, and the density of the wood of one that weighs so, kg/m3. */
double plug_body_mass(const struct plug *plug);
double plug_density_of(const struct plug *plug, double body_mass);

/* Mean of one reading a plug; 0 of none. */
double plug_mean(const double *readings, int count);

/* The density that the recipe gives without any body on the scale, kg/m3. */
double plug_assumed_density(const struct recipe *recipe);

/* The same plug by a recipe that differs only in what does not shape the body: ballast, hooks,
 * rings, sealer. */
struct plug plug_with_recipe(const struct plug *plug, const struct recipe *recipe);

/* The same body with another lip: `recipe` is the plug's, but for its lip. */
struct plug plug_with_lip(const struct plug *plug, const struct recipe *recipe);

/* Back and belly of the body at x: heights of the surface in the middle plane. */
double plug_top(const struct plug *plug, double x);
double plug_bottom(const struct plug *plug, double x);

/* Where the datum line enters the wood at the nose: the floor of a cup. */
double plug_nose(const struct plug *plug);

/* How far a joint reaches to either side of its place: at the flanks, more than at the middle. */
double plug_joint_reach(const struct plug *plug, int joint);

/* The middle of the slot inside the body. */
void plug_slot_centre(const struct plug *plug, double *x, double *z);

/* How the density of the wood came to be known, in words: "own workshop, weighed 5 times". */
const char *plug_wood_source(const struct plug *plug);

/* What a layer is sprayed with: its own figures, or the paint's. */
struct colour {
    double film, density, solids, transfer; /* m of one coat, kg/m3 of it, shares */
};

struct colour layer_colour(const struct recipe *recipe, const struct layer *layer);

/* Dry thickness that one row of the finish adds, spread over the whole plug. */
double layer_thickness(const struct recipe *recipe, const struct layer *layer);
double layer_cover(const struct layer *layer);

/* Whether it is nose or tail: what comes from there is bored into the square block. */
bool side_is_end(enum bore_side side);
/* Whether what enters there is bored into the square block, before the body is weighed. */
bool side_in_block(const struct recipe *recipe, enum bore_side side);
/* One a side. */
bool side_is_pair(enum bore_side side);

/* What is in the shaped body: "slot and pilots in it". */
struct name plug_shaped_name(const struct recipe *recipe);

/* What a fitting is called: by the one key as the line tie, by the other as a hanger. */
struct name fitting_name(int fitting, enum name_key tie, enum name_key hanger);

#endif
