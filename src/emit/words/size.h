/* Sizes and pieces as the recipe's author wrote them, which is what stands on the tool or in the
 * box: "letter N (0.302 in)", "18 wm (0.047 in)", "1/4 in", "6 mm (0.236 in)".
 *
 * The measure in brackets is in the shop's units.  It is left out where it would say the same
 * again.  What nobody wrote is a measure alone.
 */
#ifndef PLUGWRIGHT_WORDS_SIZE_H
#define PLUGWRIGHT_WORDS_SIZE_H

#include "base/arena.h"
#include "model/recipe.h"

/* `member` is where the recipe holds the size; `metres` is what is meant, and wins where the two
 * differ. */
const char *size_of_drill(struct arena *arena, const struct recipe *recipe, const void *member,
                          double metres);
const char *size_of_wire(struct arena *arena, const struct recipe *recipe, const void *member,
                         double metres);

/* The drill of an eye, which the recipe may leave unsaid. */
const char *size_of_pilot(struct arena *arena, const struct recipe *recipe,
                          const struct fitting *fitting, double metres);

/* A piece of ballast that belongs to `recipe`, told apart by what its box says: "0.31 in ball",
 * "1/16 oz (1.8 g)". */
const char *size_of_piece(struct arena *arena, const struct recipe *recipe,
                          const struct piece *piece);

#endif
