/* The reference tables in plain text, each row with its source. */
#ifndef PLUGWRIGHT_TABLES_H
#define PLUGWRIGHT_TABLES_H

#include <stdbool.h>

#include "base/buf.h"
#include "model/workshop.h"

/* The table of this name, behind it the workshop's own rows (`workshop` may be NULL); or with NULL
 * the list of tables.  False where there is none so called. */
bool tables_emit(struct buf *out, const char *name, const struct workshop *workshop);

/* The names, comma-separated, for an error message. */
const char *tables_names(struct arena *arena);

#endif
