/* Recipes at random from the rows of the grammar, and recipes written again from what was read.
 *
 * The same seed gives the same text.  What is made is YAML in flow style, one line a section.  A
 * recipe is made from nothing but the rows (few of these make a plug), or from recipes that do:
 * their values varied within their ranges, optional fields left out or put in, sections taken from
 * one another.
 */
#ifndef PLUGWRIGHT_GENERATE_H
#define PLUGWRIGHT_GENERATE_H

#include <stdint.h>

#include "compile.h"

/* Recipes to start from. */
struct generate_stock {
    const struct compilation *recipes;
    int count;
};

/* All of `folder` that compile, by name; they live in `arena`. */
struct generate_stock generate_stock_of(struct arena *arena, const char *folder);

/* How a recipe is written; all zero: its own values in the first units, keys in the rows' order. */
struct generate_style {
    bool keys, units;              /* keys in any order, quantities in any of their units */
    double change, drop, add;      /* chances, for each value */
    double cross;                  /* of each section: chance that another recipe's is taken */
    const struct recipe *stranger; /* that one */
};

/* A recipe written from the model: what was written in it, by its style. */
const char *generate_written(struct arena *arena, const struct recipe *recipe,
                             const struct generate_style *style, uint64_t seed);

/* One from the rows alone. */
const char *generate_from_rows(struct arena *arena, uint64_t seed);

/* One of the stock, varied once: the harder the more. */
const char *generate_varied(struct arena *arena, const struct generate_stock *stock, int hardness,
                            uint64_t seed);

enum { GENERATE_HARDNESS = 4 }; /* the greatest; 0 changes nothing but the way of writing */

/* One that compiles: ever softer variations until one does. */
struct compilation generate_valid(struct arena *arena, const struct generate_stock *stock,
                                  uint64_t seed, const char **text);

#endif
