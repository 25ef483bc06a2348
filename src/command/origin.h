/* Which recipe file an order's folder was made of. */
#ifndef PLUGWRIGHT_ORIGIN_H
#define PLUGWRIGHT_ORIGIN_H

#include "compile.h"

/* What stands in the folder's record (system/publish.h): another recipe, or another version of it,
 * makes all files anew. */
const char *origin_words(struct arena *arena, const struct compilation *c, const char *path);

/* NULL, or that DIRECTORY/STEM holds the order of another recipe file and how to go on.  A file of
 * the same content is no other. */
const char *origin_refusal(struct arena *arena, const struct compilation *c, const char *path,
                           const char *directory, const char *stem);

/* NULL, or that DIRECTORY/STEM holds the order of a recipe, where `what` ("the plan") is to go. */
const char *origin_order_refusal(struct arena *arena, const char *directory, const char *stem,
                                 const char *what);

#endif
