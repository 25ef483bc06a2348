/* Waiting until one of some files is another one, or a signal asks for the end.
 *
 * What is watched is the folders that the files lie in, since many editors put a new file in the
 * place of the old one; of a link also the folder of what it leads to.  The system tells of changes
 * at once where it can (inotify); beside that the files are looked at once a second, and ten times
 * a second where it cannot, so that what another machine or a mount changes is seen too.
 *
 * While it is open, the signals that ask for the end (SIGINT, SIGTERM, SIGHUP) wait for
 * watch_wait, so that nothing is cut off half done.
 */
#ifndef PLUGWRIGHT_WATCH_H
#define PLUGWRIGHT_WATCH_H

#include <signal.h>
#include <stdbool.h>
#include <sys/types.h>
#include <time.h>

#include "base/arena.h"

/* Which file stands at a path, as far as the system tells without reading it. */
struct watch_stamp {
    bool there;
    dev_t device;
    ino_t inode;
    off_t size;
    struct timespec changed;
};

struct watch_file {
    const char *path;    /* as it was given */
    const char *name[2]; /* in its folder, and of what it leads to, in that one's */
    struct watch_stamp stamp;
};

enum { WATCH_MAX_FILES = 32 };

struct file_watch {
    struct arena arena; /* of the paths */
    bool polls;         /* the system is not asked to tell; may be set before watch_open */
    struct watch_file files[WATCH_MAX_FILES];
    int count;
    int told;                /* inotify's descriptor, or -1 */
    int asked;               /* that of the signals, or -1 */
    sigset_t ending, before; /* the signals that wait, and those that waited before */
};

void watch_open(struct file_watch *watch);

/* Watches these files from now on, and no others; more than WATCH_MAX_FILES are left out.  What
 * changes afterwards ends the next watch_wait: so ask first, then read. */
void watch_files(struct file_watch *watch, const char *const *paths, int count);

/* Whether it is among them. */
bool watch_has(const struct file_watch *watch, const char *path);

/* Waits.  True: one of the files is another one now, or is gone, and has been left alone for a
 * moment.  False: a signal asked for the end. */
bool watch_wait(struct file_watch *watch);

/* Whether a signal has asked for the end meanwhile; does not wait. */
bool watch_ended(const struct file_watch *watch);

/* Lets the signals in again. */
void watch_close(struct file_watch *watch);

#endif
