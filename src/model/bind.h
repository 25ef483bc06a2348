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
#include "model/workshop.h"
#include "read/tree.h"

/* Never NULL; of use only where no error was added.  `workshop` is what the recipe names, whose
 * values were put under the tree before (model/supplied.h), or NULL. */
const struct recipe *bind_recipe(struct arena *arena, const struct node *root,
                                 const struct workshop *workshop, struct diags *diags);

/* The same of a workshop's own file. */
const struct workshop *bind_workshop(struct arena *arena, const struct node *root,
                                     struct diags *diags);

#endif
