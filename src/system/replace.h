/* One file of the builder's own that takes another's place, whole or not at all. */
#ifndef PLUGWRIGHT_REPLACE_H
#define PLUGWRIGHT_REPLACE_H

#include "base/arena.h"
#include "base/str.h"

/* The file at `path`, which is there, has these bytes afterwards, with the rights that it had; a
 * link's own file is replaced.  They are brought to the disk before.  Returns NULL, or in one line
 * what could not be done; the file is then as it was. */
const char *replace_file(struct arena *arena, const char *path, struct str bytes);

#endif
