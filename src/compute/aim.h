/* The lip that meets an aim of running (docs/physics.md, 15.10): its length or its angle, whichever
 * the recipe leaves to be solved, with the ballast solved for every lip that is tried.
 */
#ifndef PLUGWRIGHT_AIM_H
#define PLUGWRIGHT_AIM_H

#include "base/diag.h"
#include "model/recipe.h"

/* Fills in the figure of the recipe's lip that is to be solved; the lip must be the caller's own.
 * A recipe with nothing to solve is left as it is.  The recipe must have checked without errors.
 * False where no lip meets the aim: then the depths that can be reached are told at the aim. */
bool aim_meet(struct arena *arena, const struct recipe *recipe, struct diags *diags);

/* Whether there is such a figure; then a recipe is computed some dozens of times. */
bool aim_seeks(const struct recipe *recipe);

/* A recipe with a lip of its own, for aim_meet; what it shares is left alone. */
const struct recipe *aim_own_lip(struct arena *arena, const struct recipe *recipe);

#endif
