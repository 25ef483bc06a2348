/* What an operation says for this recipe: the texts of grammar/route.def with their {places} filled
 * in.
 *
 * Measures are written as everywhere (emit/write/measure.h), in the recipe's own shop.units.  Text
 * that the recipe itself brings (names of colours, masks, its own steps) goes in as it stands and
 * is not looked at again; the result is plain text, which an emitter escapes like any other.
 */
#ifndef PLUGWRIGHT_WORDS_WORDS_H
#define PLUGWRIGHT_WORDS_WORDS_H

#include "compute/work/operation.h"

/* NULL where there is nothing to say. */
struct words {
    const char *title;
    const char *what, *with, *check, *ruins;
    const char *skipped; /* why the builder leaves it out; NULL: it is done */
    const char *risk;    /* what skipping it takes upon them */
};

struct words words_of(struct arena *arena, const struct recipe *recipe,
                      const struct operation *operation);

/* The title alone. */
const char *words_title(struct arena *arena, const struct recipe *recipe,
                        const struct operation *operation);

/* What several operations of this one's kind that follow each other say as one block, or NULL. */
const char *words_together(struct arena *arena, const struct recipe *recipe,
                           const struct operation *operation);

/* Of a colour: how paint of its kind is laid. */
const char *words_laying(struct arena *arena, const struct recipe *recipe,
                         const struct operation *operation);

/* The heading of a phase, above this operation. */
const char *words_phase(struct arena *arena, const struct recipe *recipe,
                        const struct operation *operation, enum phase phase);

#endif
