/* What committed versions of recipes add to what `learn` reads: those of their plugs and times that
 * no newer version has (compute/weighing.h).
 */
#ifndef PLUGWRIGHT_PAST_H
#define PLUGWRIGHT_PAST_H

#include "compile.h"
#include "compute/lesson.h"
#include "emit/lesson.h"

enum { PAST_VERSIONS = 500 }; /* of all recipes together are read */

/* A version that adds something; its compilation lives in an arena of its own. */
struct past_version {
    struct arena arena;
    struct compilation c;
    const char *date;
    struct weighing_repeats repeats;
    struct past_version *next;
};

struct past {
    struct past_version *first, **end; /* recipe by recipe, the newest first */
    int count;
    struct lesson_past told; /* what is said of them */
};

/* Reads the versions of recipes without errors.  Returns NULL, or why that cannot be; *status is
 * what that calls for. */
const char *past_read(struct arena *arena, const struct compilation *const *recipes, int count,
                      struct past *past, int *status);

void past_free(struct past *past);

#endif
