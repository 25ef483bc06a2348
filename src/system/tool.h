/* Foreign programs: found in PATH and started without a shell, with nothing to read and with no
 * other open file than those named here. */
#ifndef PLUGWRIGHT_TOOL_H
#define PLUGWRIGHT_TOOL_H

#include <signal.h>
#include <stdbool.h>
#include <sys/types.h>

#include "base/arena.h"
#include "base/str.h"

/* One call of a program. */
struct tool_call {
    const char *program;          /* its file, from tool_find */
    const char *const *arguments; /* the first is its own name; ended by NULL */
    const char *const *settings;  /* "NAME=VALUE", over the environment that we have; ended by NULL,
                                   * or NULL where there are none */
    bool bare;                    /* of our environment it gets PATH alone */
    const char *folder;           /* in which it runs; NULL: where we are */
    bool errors; /* for tool_capture: what it says on standard error is taken too */
    int seconds; /* for tool_capture: it is killed then; 0: after a minute */
};

/* The file of a program in an absolute folder of PATH, or NULL. */
const char *tool_find(struct arena *arena, const char *name);

/* Starts it by itself, to be waited for: it leads a process group of its own, so that it can be
 * stopped with all that it starts, and begins with the signal mask `mask`.  What it says on
 * standard output and error goes to the file `report`, a path from its folder.  0 or an errno. */
int tool_start(struct arena *arena, const struct tool_call *call, const char *report,
               const sigset_t *mask, pid_t *pid);

/* Stops what tool_start has started, `count` of them, each with all that it has started: by
 * SIGTERM, and two seconds later by SIGKILL.  They are waited for. */
void tool_stop(const pid_t *pids, int count);

/* Runs it to its end and takes what it prints, `most` bytes at most; its errors go nowhere
 * unless they are asked for.
 * False where it cannot be started, fails, takes too long, or has more to print. */
bool tool_capture(struct arena *arena, const struct tool_call *call, size_t most, struct str *said);

#endif
