/* File names as URI references (RFC 3986). */
#ifndef PLUGWRIGHT_WRITE_URI_H
#define PLUGWRIGHT_WRITE_URI_H

#include "base/arena.h"

/* What is no unreserved character and no slash is written in per cent; a colon too, or a name would
 * read as a scheme. */
const char *uri_of(struct arena *arena, const char *name);

#endif
