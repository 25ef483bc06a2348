/* What is cut into the wood, as convex solids (docs/physics.md, 3.4 and 7.2).  Metres.
 *
 * A bore is a cylinder whose axis lies in the plane y = 0, the slot a block that goes all the way
 * across the body; both begin at their mouth.  The sockets are a pair of cylinders, one from each
 * flank, and count as one opening.
 */
#ifndef PLUGWRIGHT_PLUG_OPENING_H
#define PLUGWRIGHT_PLUG_OPENING_H

#include "compute/plug/plug.h"

enum opening_kind { OPENING_SLOT, OPENING_WIRE, OPENING_SOCKETS, OPENING_BORE };
enum { MAX_OPENINGS = 2 + MAX_FITTINGS + MAX_BORES };

struct opening {
    enum opening_kind kind;
    int index;       /* of the fitting or the bore */
    double x, z;     /* the middle of its mouth; of a socket its centre */
    double u_x, u_z; /* unit direction inward; of a socket none */
    double depth;
    double width; /* diameter; of the slot the thickness of its saw cut */
    double floor; /* of a socket, off the middle plane; below 0: beyond it */
};

/* The lip and the eyes must be given, and the wire a bore. */
struct opening opening_of_slot(const struct plug *plug);
struct opening opening_of_sockets(const struct plug *plug);
struct opening opening_of_wire(const struct pilot *pilot, int fitting);
/* A ballast bore, straight up. */
struct opening opening_of_bore(int bore, double at, double mouth, double drill, double depth);

/* The least distance between two openings; zero or less: they meet. */
double opening_distance(const struct opening *a, const struct opening *b);
/* Wood between the floors of the two sockets; zero or less: they meet. */
double opening_between_floors(const struct opening *sockets);

struct name opening_name(const struct opening *opening);

#endif
