/* Paths as texts: taken apart, put together, and kept inside a folder tree. */
#ifndef PLUGWRIGHT_PATH_H
#define PLUGWRIGHT_PATH_H

#include <stdbool.h>
#include <sys/types.h>

#include "base/arena.h"

const char *path_name(const char *path); /* "c" of "a/b/c" */

/* "a/b" of "a/b/c", "/" of "/c", "" of "c". */
const char *path_folder(struct arena *arena, const char *path);

/* What a recipe's outputs are called: "heron" for "recipes/heron.yaml".  NULL where the path gives
 * no plain name ("-", "..", "/"). */
const char *path_stem(struct arena *arena, const char *path);

/* "folder/name"; an empty folder is the one that we are in. */
const char *path_join(struct arena *arena, const char *folder, const char *name);

/* `name` as it is meant in `folder`, both counted from the top of some tree, without "." and "..".
 * NULL where it leads out of the tree or is absolute. */
const char *path_within(struct arena *arena, const char *folder, const char *name);

/* The real path, links followed, or NULL with errno set. */
const char *path_real(struct arena *arena, const char *path);

/* Whether a real path lies below the folder with the real path `tree`. */
bool path_is_below(const char *real, const char *tree);

/* The name of one visible file: no slash, no leading dot. */
bool path_is_plain(const char *name);

/* Makes a folder with its parents; what is there already stays.  NULL, or with errno set the one
 * that cannot be made. */
const char *path_make(struct arena *arena, const char *path, mode_t mode);

#endif
