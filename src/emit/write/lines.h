/* What differs between two texts, line by line, as a unified difference without context (POSIX
 * diff -U 0), which `patch` and people read.  Memory and time are linear but for places where more
 * than LINES_APART lines were changed on end: there all that follows counts as changed.
 */
#ifndef PLUGWRIGHT_WRITE_LINES_H
#define PLUGWRIGHT_WRITE_LINES_H

#include "base/buf.h"

enum { LINES_APART = 200 };

/* Nothing where both are the same.  Characters that cannot be seen are shown as they are elsewhere
 * (base/unicode.h). */
void lines_difference(struct buf *out, const char *name, struct str old, struct str new);

#endif
