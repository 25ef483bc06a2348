/* Text in manual pages, in the language mdoc(7). */
#ifndef PLUGWRIGHT_WRITE_ROFF_H
#define PLUGWRIGHT_WRITE_ROFF_H

#include "base/buf.h"

/* Appends a line of running text of our own: backticks are left out, and nothing of it is taken for
 * a macro or an escape. */
void roff_line(struct buf *out, const char *text);

/* Appends it as one argument of a macro, in quotes. */
void roff_argument(struct buf *out, const char *text);

#endif
