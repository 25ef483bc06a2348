/* The tree of a recipe, read by the rows of the grammar into the model.
 *
 * Every slip is a diagnostic at its line and column, as many as can be found in one go: unknown
 * keys (with the nearest known one), missing keys, wrong kinds of node, values out of range, units
 * of the wrong dimension.  Fields that are not given take their defaults from the same rows.
 */
#ifndef PLUGWRIGHT_BIND_H
#define PLUGWRIGHT_BIND_H

#include "base/arena.h"
#include "base/diag.h"
#include "model/recipe.h"
#include "read/tree.h"

/* Never NULL; of use only where no error was added. */
const struct recipe *bind_recipe(struct arena *arena, const struct node *root, struct diags *diags);

#endif
