/* A zip archive in memory, as formats ask for that are a few files in one.
 *
 * Parts are stored as they are, not deflated, all with the earliest time that the format knows: the
 * same parts are the same bytes everywhere, whichever zlib is there.
 */
#ifndef PLUGWRIGHT_WRITE_ZIP_H
#define PLUGWRIGHT_WRITE_ZIP_H

#include "base/buf.h"

struct zip_part {
    const char *name; /* with slashes */
    struct str bytes;
};

/* Writes the archive into an empty buffer. */
void zip_write(struct buf *out, const struct zip_part *parts, int count);

#endif
