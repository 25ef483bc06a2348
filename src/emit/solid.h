/* The shaped body for a copy carver, a printer or a jig, in millimetres: as binary STL, and as 3MF
 * (3MF core specification 1.3: model, relationships and content types in one package).
 */
#ifndef PLUGWRIGHT_SOLID_EMIT_H
#define PLUGWRIGHT_SOLID_EMIT_H

#include <stdbool.h>

#include "base/buf.h"
#include "compute/shape/mesh.h"

/* Chord error of what is written, m: 0.02 mm are asked of a carver; so fine, the volume agrees to a
 * thousandth too. */
#define SOLID_CHORD 0.008e-3

void solid_stl(struct buf *out, const struct mesh *mesh);

/* False: the package could not be made. */
bool solid_3mf(struct buf *out, const struct mesh *mesh);

#endif
