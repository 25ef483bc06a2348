/* The language, field by field, as Markdown from the grammar's rows (docs/fields.md). */
#ifndef PLUGWRIGHT_MANUAL_H
#define PLUGWRIGHT_MANUAL_H

#include "base/buf.h"
#include "model/grammar.h"

/* Of one field: what it is, what may be written (or nothing), and its default, or "". */
const char *manual_kind(const struct field *field);
void manual_range(struct buf *out, const struct field *field);
const char *manual_fallback(const struct field *field);

void manual_emit(struct buf *out);

#define MANUAL_DATE "November 27, 2026" /* of the manual pages */

/* The same as plugwright-recipe(5), in mdoc(7). */
void manual_man(struct buf *out);

#endif
