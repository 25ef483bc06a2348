/* Foreign programs: found in PATH, started without a shell, and kept to a folder of their own. */
#ifndef PLUGWRIGHT_TOOL_H
#define PLUGWRIGHT_TOOL_H

#include <signal.h>
#include <sys/types.h>

#include "base/arena.h"

/* The file of a program in an absolute folder of PATH, or NULL. */
const char *tool_find(struct arena *arena, const char *name);

/* Starts the program at `path` in `folder`, where its standard output and error go into the file
 * "report" and its temporary files into the folder itself.  Standard input is empty.  The locale is
 * C.UTF-8, and SOURCE_DATE_EPOCH is 0 unless it is set.  The program leads a process group of its
 * own and begins with the signal mask `mask`.  Returns 0 or an errno. */
int tool_start(struct arena *arena, const char *path, const char *const *arguments,
               const char *folder, const sigset_t *mask, pid_t *pid);

/* Removes a folder and all that is in it; links are removed, not followed. */
void tool_remove_folder(const char *path);

#endif
