/* Messages of the Language Server Protocol, 3.17 (Base protocol): a header in ASCII with the length
 * of the body, an empty line, and the body, which is JSON.
 *
 * A header has at most 4096 bytes and a body at most WIRE_MOST; where either is wrong nobody can
 * tell where the next message begins, so that is the end.
 */
#ifndef PLUGWRIGHT_SERVE_WIRE_H
#define PLUGWRIGHT_SERVE_WIRE_H

#include <stdbool.h>

#include "base/buf.h"

enum { WIRE_MOST = 8 << 20, WIRE_CHUNK = 16384 };

struct wire {
    int in, out;
    char chunk[WIRE_CHUNK]; /* read ahead */
    size_t size, at;
};

enum wire_state { WIRE_MESSAGE, WIRE_END, WIRE_WRONG };

/* The body of the next message.  WIRE_END: the other side has closed between two messages;
 * WIRE_WRONG: *wrong says what is amiss. */
enum wire_state wire_take(struct wire *wire, struct arena *arena, struct str *body,
                          const char **wrong);

/* False where nobody reads any more. */
bool wire_put(struct wire *wire, struct str body);

#endif
