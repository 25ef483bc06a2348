/* A private temporary folder: made, filled, and removed whatever ends the program.
 *
 * While it is open, the signals that end a program wait; scratch_close removes the folder and then
 * lets them in.  Who waits for other programs meanwhile does so by scratch_wait, which tells of
 * both.  What no signal tells of (a kill, a power cut) leaves a folder; the next run clears it.
 */
#ifndef PLUGWRIGHT_SCRATCH_H
#define PLUGWRIGHT_SCRATCH_H

#include <signal.h>
#include <stdbool.h>

#include "base/arena.h"
#include "base/str.h"
#include "system/claim.h"

struct scratch {
    struct arena *arena;
    const char *folder; /* its absolute path */
    int place;          /* what it lies in, open */
    struct claim claim;
    sigset_t before; /* the signals that waited before: the mask for programs started meanwhile */
    sigset_t held;   /* those that wait now */
};

/* Makes one in TMPDIR, or in /tmp where that is no absolute path.  False with errno set: then
 * nothing waits and there is nothing to close. */
bool scratch_open(struct scratch *scratch, struct arena *arena);

/* A file, by its path from the folder, with the folders that it needs; false with errno set. */
bool scratch_write(const struct scratch *scratch, const char *path, struct str bytes);

/* A file of it, of one with more than `most` bytes the last of them.  Only a regular one is read,
 * and no link is followed; false with errno set. */
bool scratch_read(const struct scratch *scratch, const char *path, size_t most, struct str *bytes);

/* Removes a folder of it with all that is there; links are removed, not followed. */
void scratch_drop(const struct scratch *scratch, const char *path);

/* Waits for the end of a child, a second at most.  False if instead a signal came that is to end
 * the program: it does so in scratch_close. */
bool scratch_wait(const struct scratch *scratch);

/* Removes the folder.  A signal that came meanwhile ends the program here. */
void scratch_close(struct scratch *scratch);

#endif
