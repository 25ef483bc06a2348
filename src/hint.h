/* Hints that hold: what a hint tells the author to write is written into a copy of the tree and
 * compiled before it is printed (docs/command.md, Diagnostics).
 */
#ifndef PLUGWRIGHT_HINT_H
#define PLUGWRIGHT_HINT_H

#include "base/diag.h"
#include "model/workshop.h"
#include "read/tree.h"

/* So many offers are tried for one recipe, and fewer of a large one (so many values are compiled in
 * all) or of one that seeks a lip, so that a hostile one takes bounded time. */
enum { HINT_MOST_TRIALS = 200, HINT_MOST_VALUES = 30000 };

/* Tries what the diagnostics of a recipe offer, and puts what holds at the end of their hints.
 * Of one choice that is the first offer that leaves nothing new to say, else the first that brings
 * no more than a warning.  Returns how many were tried. `workshop` is
 * what the recipe takes its own woods from, or NULL; `recipe` what was bound, or NULL. */
int hints_settle(struct arena *arena, const struct node *root, const struct workshop *workshop,
                 const struct recipe *recipe, struct diags *diags);

#endif
