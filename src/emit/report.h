/* The whole report as JSON: fixed keys, more may be added (docs/report.md, Units and nulls). */
#ifndef PLUGWRIGHT_REPORT_H
#define PLUGWRIGHT_REPORT_H

#include "base/buf.h"
#include "compute/results.h"

/* Millimetres, grams, degrees, minutes; null where a value does not exist. */
void report_emit(struct buf *out, const struct recipe *recipe, const struct results *results,
                 const struct diags *diags);

/* What stands in its place when the recipe has errors: the diagnostics alone. */
void report_diagnostics(struct buf *out, const struct diags *diags);

/* Of several recipes in one list, in their order. */
void report_all_diagnostics(struct buf *out, const struct diags *const *lists, int count);

#endif
