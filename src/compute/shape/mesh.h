/* The bare body's surface in triangles, for machines and other programs (docs/physics.md, 2.8).
 *
 * SI units; x aft of the nose, y to starboard, z above the datum.  Every facet names its corners
 * anticlockwise as seen from outside.  Every edge has two facets that run along it in opposite
 * directions, no facet names a corner twice, and no two corners of a shell are in one place.
 * Coordinates are whole tenths of a micrometre, so that no way of writing them makes two of one.
 * A body that has no area somewhere between its ends is several shells.
 */
#ifndef PLUGWRIGHT_SHAPE_MESH_H
#define PLUGWRIGHT_SHAPE_MESH_H

#include "compute/shape/notch.h"

struct mesh_point {
    double x, y, z; /* m */
};

struct mesh_facet {
    int corner[3]; /* of the mesh's points */
};

struct mesh {
    struct mesh_point *points;
    struct mesh_facet *facets;
    int point_count, facet_count;
};

/* Corners on the true surface, which is nowhere farther from the facets than 0.02 mm, and the
 * volume within 0.05 % of the true one.  `cup` is a cup in the
 * nose, inside the section there, or NULL.  A body without volume has no facets. */
struct mesh mesh_of(struct arena *arena, const struct outline *outline, const struct notch *cup);

double mesh_volume(const struct mesh *mesh); /* m3, within the facets */

/* The unit vector outward; 0 of a facet whose corners stand in one line. */
struct mesh_point mesh_normal(const struct mesh *mesh, int facet);

#endif
