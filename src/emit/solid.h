/* The shaped body for machines: STL and 3MF, in millimetres (docs/command.md, For machines).
 *
 * The frame is the recipe's: x from the nose aft, y to starboard, z above the datum.
 */
#ifndef PLUGWRIGHT_SOLID_FILES_H
#define PLUGWRIGHT_SOLID_FILES_H

#include "base/buf.h"
#include "base/str.h"
#include "compute/shape/mesh.h"

/* Binary STL: 80 bytes of words, and each facet's normal and corners in single precision. */
void solid_stl(struct buf *out, const struct mesh *mesh);

/* A package after the 3MF Core Specification; `name` is that of the plug.  The build places the
 * body where the specification wants it, with no coordinate below zero. */
void solid_3mf(struct buf *out, const struct mesh *mesh, struct str name);

#endif
