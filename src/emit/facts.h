/* A recipe as sorted lines `path = value`, for git and other tools that compare lines.
 *
 * The same design gives the same lines however it is written (model/walk.h); its main results
 * follow, under `result.`.  Of a recipe with errors the lines tell what could be read, and the
 * errors stand where the results would.
 */
#ifndef PLUGWRIGHT_FACTS_H
#define PLUGWRIGHT_FACTS_H

#include "compute/effect.h"
#include "model/walk.h"

struct facts_extra {
    const char *path, *value;
};

/* `results` is NULL where there are none; `extra` holds lines that no value of the model tells. */
void facts_emit(struct buf *out, const struct walk *walk, const struct facts_extra *extra,
                int extra_count, const struct results *results, const struct diags *diags);

#endif
