/* One recipe as facts: what the command `facts` prints. */
#ifndef PLUGWRIGHT_INSPECT_H
#define PLUGWRIGHT_INSPECT_H

#include <stdbool.h>

#include "base/buf.h"

/* The recipe at `path` as lines `path = value` (emit/facts.h), also where it has errors.  `own`: of
 * a recipe with a base, only what its own file says, so that git can compare what it hands over
 * without the files around.  Returns NULL, or why the file cannot be read. */
const char *inspect_facts(struct buf *out, const char *path, bool own);

#endif
