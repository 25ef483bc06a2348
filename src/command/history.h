/* The committed versions of a recipe, read through git.
 *
 * Git is found in PATH and started without a shell; it reads, and nothing in the repository is
 * touched.  Every version is compiled as it was, with the bases of its own commit.
 */
#ifndef PLUGWRIGHT_HISTORY_H
#define PLUGWRIGHT_HISTORY_H

#include "compile.h"
#include "emit/difference/difference.h"

enum {
    HISTORY_VERSIONS = 50,   /* the newest so many are shown */
    HISTORY_COMMITS = 10000, /* and so many are counted */
};

/* Of the recipe at `path`, the file as it stands last where it differs from what is committed.
 * Returns NULL, or why there is no history (exit status 2). */
const char *history_read(struct arena *arena, const char *path, struct difference_history *history);

/* Whether a name is git's REVISION:PATH, and no file that is there. */
bool history_is_version(const char *name);

/* That version: PATH counts from the top of the repository, with ./ from this folder; bases are
 * those of the same commit. */
struct compilation history_compile(struct arena *arena, const char *name);

#endif
