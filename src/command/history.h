/* The committed versions of a recipe, read through git.
 *
 * Git is found in PATH and started without a shell; it reads, and nothing in the repository is
 * touched.  Every version is compiled as it was, with the bases of its own commit.
 */
#ifndef PLUGWRIGHT_HISTORY_H
#define PLUGWRIGHT_HISTORY_H

#include "compile.h"
#include "emit/difference/difference.h"
#include "system/git.h"

enum {
    HISTORY_VERSIONS = 50,   /* the newest so many are shown */
    HISTORY_COMMITS = 10000, /* and so many are counted */
};

/* The commits of one recipe, the newest first. */
struct history {
    struct arena *arena;
    struct git git;
    const char *real;   /* path of the recipe */
    const char *prefix; /* of its folder from the top of the repository */
    struct git_log log;
};

/* Of the recipe that was compiled as `now`; NULL, or why there is no history. */
const char *history_open(struct arena *arena, const struct compilation *now,
                         struct history *history);

/* Its version of commit `index`, which lives in `arena`: its document alone, or all of it. */
struct document history_document(const struct history *history, int index, struct arena *arena,
                                 struct diags *diags, const char **failure);
struct compilation history_version(const struct history *history, int index, struct arena *arena);

/* Why a version makes no plug, or NULL. */
const char *history_failure(const struct compilation *version);

/* Of the recipe at `path`, the file as it stands last where it differs from what is committed.
 * Returns NULL, or why there is no history (exit status 2). */
const char *history_read(struct arena *arena, const char *path, struct difference_history *history);

/* Whether a name is git's REVISION:PATH, and no file that is there. */
bool history_is_version(const char *name);

/* That version: PATH counts from the top of the repository, with ./ from this folder; bases are
 * those of the same commit. */
struct compilation history_compile(struct arena *arena, const char *name);

#endif
