/* Two recipes compared: what the command `diff` prints. */
#ifndef PLUGWRIGHT_COMPARE_H
#define PLUGWRIGHT_COMPARE_H

#include "compile.h"
#include "emit/difference/difference.h"

/* Both without errors.  Lives in `arena`, and points into both. */
struct difference compare(struct arena *arena, const struct compilation *old,
                          const struct compilation *new);

#endif
