/* Folders that belong to a running program until it lets go of them.
 *
 * Such a folder has a name by chance, so that no two programs ask for one, and is locked (flock)
 * while its owner lives.  What a dead owner left is known by its free lock, and a later run can
 * clear it away.  Where a file system has no such locks nothing is ever taken for dead.
 */
#ifndef PLUGWRIGHT_CLAIM_H
#define PLUGWRIGHT_CLAIM_H

#include <stdbool.h>
#include <sys/types.h>

#include "base/arena.h"

struct claim {
    const char *name; /* in its parent */
    int folder;       /* open, and with it the lock is held; it is not inherited */
};

/* Makes a folder of one's own, called `prefix` and 16 digits by chance, in the open folder
 * `parent`; false with errno set. */
bool claim_make(struct arena *arena, int parent, const char *prefix, mode_t mode,
                struct claim *claim);

/* Lets go of it; the folder stays. */
void claim_release(const struct claim *claim);

/* Calls `clear` for each folder in `parent` of that prefix whose owner is dead and was of our own
 * user.  It is open and locked meanwhile. */
void claim_sweep(int parent, const char *prefix,
                 void (*clear)(int parent, const struct claim *dead, void *context), void *context);

/* Waits until no other run has its turn in the open folder, at most some seconds: a stopped run, or
 * somebody else's lock, must not hold up all others.  The turn ends as the descriptor is closed. */
void claim_turn(int folder);

/* Removes a folder and what is in it; links are removed, not followed. */
void claim_remove(int parent, const char *name);

#endif
