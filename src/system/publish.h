/* Writing what was made: a whole generation of a folder's files, or none of it.
 *
 * A generation is written beside the folder that it is meant for, brought to the disk, and put in
 * its place by one rename (an exchange where the system has it); whenever the program is killed,
 * the folder is the former one or the new one.  What earlier generations held is known from a
 * record in the folder (".plugwright"): files that belong to another design go, those of the same
 * design that were not made anew stay, and so does all that somebody else has put there.  What a
 * killed run has left beside the folder is cleared by the next.
 *
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

struct publication {
    const char *directory, *stem; /* the folder is DIRECTORY/STEM */
    const char *of;               /* what the files were made of, in one line: the same design has
                                   * the same words */
    const struct publish_file *files;
    int count;
};

/* Writes all of it; DIRECTORY is made with its parents as needed.
 * Returns NULL, or in one line what could not be done to which path and why. */
const char *publish_folder(struct arena *arena, const struct publication *publication);

/* What the files of DIRECTORY/STEM were made of; "" where nobody knows. */
const char *publish_made_of(struct arena *arena, const char *directory, const char *stem);

/* Writes all `bytes` to an open file; false with errno set on failure. */
bool publish_bytes(int descriptor, struct str bytes);

#endif
