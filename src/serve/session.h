/* A conversation with an editor: the Language Server Protocol, 3.17, over two file descriptors.
 *
 * Recipes and workshops that are open there are compiled from their unsaved texts, and told of
 * whenever nothing more waits to be read; what they name comes from disk, anew after each save.  At
 * most SESSION_DOCUMENTS are open at once.  What a message says is bounded (post.h); one that is no
 * JSON, or asks for what is not there, gets an error and the conversation goes on.
 */
#ifndef PLUGWRIGHT_SERVE_SESSION_H
#define PLUGWRIGHT_SERVE_SESSION_H

#include "base/arena.h"

enum { SESSION_DOCUMENTS = 64 };

/* Until the editor says that it ends.  NULL where it has asked for the end before, as is due, or
 * what was wrong. */
const char *session_hold(struct arena *arena, int in, int out, const char *version);

#endif
