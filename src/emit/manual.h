/* The language, field by field, as Markdown from the grammar's rows (docs/fields.md). */
#ifndef PLUGWRIGHT_MANUAL_H
#define PLUGWRIGHT_MANUAL_H

#include "base/buf.h"

void manual_emit(struct buf *out);

#endif
