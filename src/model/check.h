/* Rules across fields of one recipe: the rows of grammar/rules.def. */
#ifndef PLUGWRIGHT_CHECK_H
#define PLUGWRIGHT_CHECK_H

#include "base/diag.h"
#include "model/workshop.h"

/* Adds a diagnostic for every rule that the recipe breaks; computes no physics.  Returns whether
 * all that was broken leaves the results to be computed, to tell in one go what they get wrong. */
bool check_recipe(const struct recipe *recipe, struct diags *diags);

/* The same of a workshop by itself. */
void check_workshop(struct arena *arena, const struct workshop *workshop, struct diags *diags);

#endif
