/* What is cut into the wood, as convex solids (docs/physics.md, 3.4 and 7.2).  Metres.
 *
 * A bore is a cylinder along its axis, the slot a block that goes all the way across the body; both
 * begin at their mouth.  What comes from the flanks, the sockets too, is a pair of cylinders,
 * mirror images of each other, and counts as one opening.
 */
#ifndef PLUGWRIGHT_PLUG_OPENING_H
#define PLUGWRIGHT_PLUG_OPENING_H

#include "compute/plug/chamber.h"
#include "compute/plug/mass.h"

enum opening_kind { OPENING_SLOT, OPENING_WIRE, OPENING_SOCKETS, OPENING_BORE, OPENING_CHAMBER };
enum { MAX_OPENINGS = 2 + MAX_FITTINGS + MAX_BORES + MAX_CHAMBERS };

struct opening {
    enum opening_kind kind;
    int index;  /* of the fitting, the bore or the chamber */
    bool screw; /* of a fitting: its eye is a screw's */
    struct axis axis;
    double depth;
    double width; /* diameter; of the slot the thickness of its saw cut */
    double outer; /* of one along the body: from where on, from its mouth, it needs wood around */
};

/* The lip and the eyes must be given, and the wire a bore. */
struct opening opening_of_slot(const struct plug *plug);
struct opening opening_of_sockets(const struct plug *plug);
struct opening opening_of_wire(const struct pilot *pilot, int fitting);
/* A ballast bore: along the body, its load needs wood around. */
struct opening opening_of_bore(int bore, const struct bore_fill *fill);
/* Along the body, its room needs wood around. */
struct opening opening_of_chamber(int chamber, const struct hollow *hollow);
/* All chambers of the recipe; returns their number. */
int opening_of_chambers(const struct plug *plug, struct opening openings[MAX_CHAMBERS]);

/* Of a pair: how far its floor stands off the middle plane; below 0: beyond it. */
static inline double opening_floor(const struct opening *opening) {
    return opening->axis.y + opening->axis.u_y * opening->depth;
}

/* Of a pair: how near it comes to the middle plane, in which one from inside begins. */
static inline double opening_inmost(const struct opening *opening) {
    return axis_from_inside(&opening->axis) ? 0 : opening_floor(opening);
}

/* The least distance between two openings; zero or less: they meet. */
double opening_distance(const struct opening *a, const struct opening *b);
/* Wood between the floors of a pair from the flanks; zero or less: they meet. */
double opening_between_floors(const struct opening *pair);

/* The part of the recipe that a ballast bore or a chamber is, and its members. */
struct boring {
    const void *part;
    enum bore_side from;
    const enum bore_side *side; /* `from` itself, to be pointed at */
    const struct position *at;
    const struct opt *up;
    const double *drill;
};
struct boring opening_boring(const struct recipe *recipe, const struct opening *opening);

struct name opening_name(const struct opening *opening);

#endif
