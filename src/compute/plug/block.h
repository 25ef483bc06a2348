/* The block that a plug is carved from, and where the plug lies in it (docs/physics.md, 10.1): the
 * allowance of the shop is half above and half below, half before the nose and half behind the
 * tail.  SI units, in the coordinates of the plug.
 */
#ifndef PLUGWRIGHT_PLUG_BLOCK_H
#define PLUGWRIGHT_PLUG_BLOCK_H

#include "compute/plug/plug.h"

struct block {
    double length, height, width;
    double nose;        /* of the plug, behind the front end of the block */
    double back, belly; /* faces of the block, above and below the datum line */
};

struct block block_of(const struct recipe *recipe);

/* How much wood stands between the block's face and a mouth in the finished surface, along the
 * direction u inward, which is a unit vector: what a depth from that face is greater by. */
double block_waste(const struct block *block, double mouth_x, double mouth_z, double u_x,
                   double u_z);

#endif
