/* Files that are replaced again and again while a program runs, each as a whole.
 *
 * A file is written to a hidden folder beside the one that it is meant for and takes its place by
 * one rename, so that who reads it finds the former one or the new one.  What else lies in that
 * folder (an order, files of the builder's own) is left alone.  The hidden folder is a claim: it
 * goes with renew_close, and what a dead run has left is cleared by the next.  Nothing is brought
 * to the disk before it goes on: such files are not worth the wait.
 */
#ifndef PLUGWRIGHT_RENEW_H
#define PLUGWRIGHT_RENEW_H

#include "base/arena.h"
#include "base/str.h"
#include "system/claim.h"

struct renewal {
    struct arena *arena;
    const char *directory, *stem; /* the files lie in DIRECTORY/STEM */
    int outer;                    /* DIRECTORY, open; -1: not yet */
    struct claim claim;
};

/* Makes DIRECTORY and STEM in it as needed.  Both of these return NULL, or in one line what could
 * not be done; after a failure renew_file tries anew. */
const char *renew_open(struct renewal *renewal, struct arena *arena, const char *directory,
                       const char *stem);

/* Puts a file in place.  `name` is plain.  A folder that was removed meanwhile is made again. */
const char *renew_file(struct renewal *renewal, const char *name, struct str bytes);

void renew_close(struct renewal *renewal);

#endif
