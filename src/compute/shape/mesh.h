/* The shaped body as a closed mesh of triangles: bare, without bores, slot, cup or joints, the body
 * whose volume struct solid gives (docs/physics.md, 2.4).  Metres, in the coordinates of the
 * outline, with y to the right flank seen from behind; corners of a face run anticlockwise seen
 * from outside.
 */
#ifndef PLUGWRIGHT_SHAPE_MESH_H
#define PLUGWRIGHT_SHAPE_MESH_H

#include "compute/shape/outline.h"

struct mesh_point {
    double x, y, z;
};

struct mesh_face {
    int corner[3];
};

struct mesh {
    struct mesh_point *points;
    struct mesh_face *faces;
    int point_count, face_count;
};

/* No point of the body's skin is farther than `chord` from the mesh.  Every edge is shared by two
 * faces, also where the body ends in a point or an edge; points that are one in single precision
 * in millimetres are one. */
struct mesh mesh_of(struct arena *arena, const struct outline *outline, double chord);

double mesh_volume(const struct mesh *mesh); /* m3 */

#endif
