/* Colourways: recipes of one body that differ in what is laid on it.  Texts to compare, made of the
 * facts of a recipe, with what is implied (model/walk.h).
 */
#ifndef PLUGWRIGHT_COLOURWAY_H
#define PLUGWRIGHT_COLOURWAY_H

#include "model/walk.h"

/* What the plug is up to its first colour: all facts but its names, dates and prices, its colours
 * and topcoat, how it runs, and those below. */
const char *colourway_body(const struct walk *walk);

/* In which water it is to float, and how. */
const char *colourway_floating(const struct walk *walk);

#endif
