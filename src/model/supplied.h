/* What a recipe takes from its workshop key by key, put under its tree before that is bound.
 *
 * Currency, prices and shop as they stand; of named sealers, paints and topcoats, and of weighed
 * hooks and rings, what the recipe leaves out where it names one.  What lies under a key keeps the
 * place in the workshop's file where it was written, so diagnostics and orders can tell.
 */
#ifndef PLUGWRIGHT_SUPPLIED_H
#define PLUGWRIGHT_SUPPLIED_H

#include "base/diag.h"
#include "read/tree.h"

/* Fills in the recipe's own tree; the workshop's is left as it is.  Returns the root. */
struct node *supplied_by(struct arena *arena, const struct node *workshop, struct node *recipe,
                         struct diags *diags);

#endif
