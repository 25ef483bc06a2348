/* Writing what was made: whole folders of files, each complete or not there at all.
 *
 * Every file is first written under a temporary name in the folder that it is meant for, brought to
 * the disk (fsync) and only then renamed; a failure half-way leaves the former files as they were.
 * Nothing is ever written outside the folder: names are plain, and a link in the folder's place is
 * refused.
 */
#ifndef PLUGWRIGHT_PUBLISH_H
#define PLUGWRIGHT_PUBLISH_H

#include <stdbool.h>

#include "base/arena.h"
#include "base/str.h"

struct publish_file {
    const char *name; /* plain: no slash, no leading dot */
    struct str bytes;
};

/* Writes all `files` into DIRECTORY/STEM and creates both as needed (DIRECTORY with its parents).
 * The last file is put in place last: let it be the one that refers to the others.
 * Returns NULL, or in one line what could not be done to which path and why. */
const char *publish_folder(struct arena *arena, const char *directory, const char *stem,
                           const struct publish_file *files, int count);

/* Writes all `bytes` to an open file; false with errno set on failure. */
bool publish_bytes(int descriptor, struct str bytes);

#endif
