/* Where each member of a recipe was written.
 *
 * `bind` notes them as it goes; rules ask through `recipe_place`.  A part is noted with the range
 * of its bytes, so that a member that was left out can answer with the part that should hold it.
 */
#ifndef PLUGWRIGHT_PLACES_H
#define PLUGWRIGHT_PLACES_H

#include "base/arena.h"
#include "model/recipe.h"

struct places;

struct places *places_new(struct arena *arena);
void places_value(struct places *places, const void *member, struct span at);

/* A member took its default, written like this. */
void places_default(struct places *places, const void *member, const char *text);

/* A part of `size` bytes; `at` is its key, with a NULL file where it was made from defaults only.
 * Parts are noted after the part that holds them. */
void places_part(struct places *places, const void *part, size_t size, struct span at);

/* Whether a member was written. */
bool places_wrote(const struct places *places, const void *member);

/* The part did not bind cleanly: rules leave it alone. */
void places_break(struct places *places, const void *part);
bool places_broken(const struct places *places, const void *part);

#endif
