/* The committed versions of a recipe, read through git.
 *
 * Git is found in PATH and started without a shell; it reads, and nothing in the repository is
 * touched.  Every version is compiled as it was, with the bases of its own commit.
 */
#ifndef PLUGWRIGHT_HISTORY_H
#define PLUGWRIGHT_HISTORY_H

#include "emit/difference/difference.h"

enum {
    HISTORY_VERSIONS = 50,   /* the newest so many are shown */
    HISTORY_COMMITS = 10000, /* and so many are counted */
};

/* Of the recipe at `path`, the file as it stands last where it differs from what is committed.
 * Returns NULL, or why there is no history (exit status 2). */
const char *history_read(struct arena *arena, const char *path, struct difference_history *history);

#endif
