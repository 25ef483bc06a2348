/* What git is asked for: versions of files and their bytes. */
#ifndef PLUGWRIGHT_GIT_H
#define PLUGWRIGHT_GIT_H

#include <stdbool.h>

#include "base/arena.h"
#include "base/str.h"

struct git {
    struct arena *arena;
    const char *program; /* NULL: not in PATH */
    const char *folder;  /* in which it is started */
};

struct git git_in(struct arena *arena, const char *folder);

/* Commits that touched any of `files`, the newest first. */
struct git_commit {
    const char *id, *date, *subject; /* date as 2026-12-05 */
    const char *path;                /* of the one file then, from the top of the repository */
};
struct git_log {
    struct git_commit *commits;
    int count;
};

/* Of one file, through changes of its name; of several, without, and paths are NULL. */
bool git_log(const struct git *git, const char *const *files, int file_count, int most,
             struct git_log *log);

/* Git's own words where it does not read this repository because it belongs to somebody else; or
 * NULL. */
const char *git_refusal(const struct git *git);

/* The folder's path from the top of the repository, "" or ending in a slash. */
bool git_prefix(const struct git *git, const char **prefix);

/* The id of the commit that a revision names, as in git's REVISION:PATH; false where there is none.
 */
bool git_commit_id(const struct git *git, const char *revision, const char **id);

/* The file at `path`, from the top of the repository, as it was in a commit; `most` bytes at most.
 */
bool git_blob(const struct git *git, const char *commit, const char *path, size_t most,
              struct str *bytes);

#endif
