/* Several files as one ZIP archive (ISO/IEC 21320-1), in memory; libzip does the work.  Same files,
 * same bytes: every file is dated 1 January 1980, the earliest that the format knows.
 */
#ifndef PLUGWRIGHT_WRITE_PACKAGE_H
#define PLUGWRIGHT_WRITE_PACKAGE_H

#include <stdbool.h>

#include "base/buf.h"

struct package_file {
    const char *path; /* ASCII, with forward slashes */
    struct str bytes;
};

/* Appends the archive.  False: libzip could not make it. */
bool package_write(struct buf *out, const struct package_file *files, int count);

#endif
