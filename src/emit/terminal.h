/* What `weigh` prints: masses, floating, ballast, running, time.  As a listing it is on the living
 * page too.
 */
#ifndef PLUGWRIGHT_TERMINAL_H
#define PLUGWRIGHT_TERMINAL_H

#include "base/buf.h"
#include "compute/results.h"
#include "emit/write/listing.h"

struct listing terminal_listing(struct arena *arena, const struct recipe *recipe,
                                const struct results *results);

/* The same as text. */
void terminal_emit(struct buf *out, const struct recipe *recipe, const struct results *results);

#endif
