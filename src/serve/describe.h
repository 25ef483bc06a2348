/* Keys and words of the language, told as Markdown. */
#ifndef PLUGWRIGHT_SERVE_DESCRIBE_H
#define PLUGWRIGHT_SERVE_DESCRIBE_H

#include "base/arena.h"
#include "model/grammar.h"

const char *describe_field(struct arena *arena, const struct part *part, const struct field *field);

/* A word of a choice or a row of a table, by its number: figures and source, or NULL. */
const char *describe_word(struct arena *arena, const struct part *part, const struct field *field,
                          int row);

#endif
