/* How values are written, as regular expressions of ECMA-262, for those that check texts without us
 * (JSON Schema).  They take what base/quantity.h reads: whether a number lies in its range, and the
 * units of a compound from large to small, they cannot tell.
 */
#ifndef PLUGWRIGHT_WRITE_PATTERN_H
#define PLUGWRIGHT_WRITE_PATTERN_H

#include "base/buf.h"
#include "base/unit.h"

/* A quantity of this dimension, gauges and drills included. */
const char *pattern_quantity(struct arena *arena, enum dimension dimension);

const char *pattern_whole_number(struct arena *arena);
const char *pattern_parts(struct arena *arena); /* 2:1 by mass */

#endif
