/* What `weigh` prints to a terminal: masses, floating, ballast, tolerances, time, in plain text. */
#ifndef PLUGWRIGHT_TERMINAL_H
#define PLUGWRIGHT_TERMINAL_H

#include "base/buf.h"
#include "compute/results.h"

void terminal_emit(struct buf *out, const struct recipe *recipe, const struct results *results);

#endif
