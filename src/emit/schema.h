/* A JSON Schema (draft-07) of the recipe language from the grammar's rows, for editors.
 * It can say which keys there are and which words may be chosen; quantities are text to it. */
#ifndef PLUGWRIGHT_SCHEMA_H
#define PLUGWRIGHT_SCHEMA_H

#include "base/buf.h"
#include "model/grammar.h"

void schema_emit(struct buf *out, enum part_id root);

#endif
