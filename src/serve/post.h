/* Messages of the Language Server Protocol, 3.17 (Base protocol): a header in ASCII with the length
 * of the body, an empty line, and the body, which is JSON.
 *
 * A header has at most 4096 bytes and a body at most POST_MOST; where either is wrong nobody can
 * tell where the next message begins, so that is the end.
 */
#ifndef PLUGWRIGHT_SERVE_POST_H
#define PLUGWRIGHT_SERVE_POST_H

#include <stdbool.h>

#include "base/buf.h"

enum { POST_MOST = 8 << 20, POST_CHUNK = 16384 };

struct post {
    int in, out;            /* descriptors */
    char chunk[POST_CHUNK]; /* read ahead */
    size_t size, at;
};

enum post_state { POST_MESSAGE, POST_END, POST_WRONG };

/* The body of the next message.  POST_END: the other side has closed between two messages;
 * POST_WRONG: *wrong says what is amiss. */
enum post_state post_take(struct post *post, struct arena *arena, struct str *body,
                          const char **wrong);

/* Whether something is there to be read within so many milliseconds, the end too. */
bool post_waits(const struct post *post, int milliseconds);

/* False where nobody reads any more. */
bool post_put(struct post *post, struct str body);

#endif
