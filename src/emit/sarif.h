/* Diagnostics for code hosts: SARIF 2.1.0 (OASIS standard, 27 March 2020).  Columns count code
 * points, as everywhere. */
#ifndef PLUGWRIGHT_SARIF_H
#define PLUGWRIGHT_SARIF_H

#include "base/buf.h"
#include "base/diag.h"

/* One log of the diagnostics of all recipes, of each those that are shown (DIAGS_SHOWN), in the
 * order of the lists. */
void sarif_emit(struct buf *out, const char *version, const struct diags *const *lists, int count);

#endif
