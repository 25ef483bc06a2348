/* What somebody who does not know YAML is likely to have meant, where libyaml gave up.
 *
 * libyaml tells where it could not go on, which is often a line behind the slip, in words about
 * YAML.  This looks at the lines before, and says what is wrong there and how to mend it.
 */
#ifndef PLUGWRIGHT_SLIP_H
#define PLUGWRIGHT_SLIP_H

#include "base/arena.h"
#include "base/diag.h"

struct slip {
    struct span at;
    const char *message, *hint; /* message NULL: nothing was found */
};

/* The first slip in the lines `from` to `to` (from 0).  One pass over the text up to there, so it
 * costs nothing as long as nobody asks. */
struct slip slip_find(struct arena *arena, const struct text_file *file, int from, int to);

#endif
