/* Wishes against results: what the computation shows to be wrong or doubtful with a recipe
 * (docs/physics.md, 13).  Every finding is a diagnostic at the member that is to blame, in the
 * author's own units, with the figure that is due as its hint.
 */
#ifndef PLUGWRIGHT_JUDGE_H
#define PLUGWRIGHT_JUDGE_H

#include "base/diag.h"
#include "compute/results.h"

/* The outline between its stations, which must hold before anything is computed from it; returns
 * whether it does. */
bool judge_outline(struct arena *arena, const struct recipe *recipe, struct diags *diags);

/* The plug, and how it floats: of the results, what `results_loaded` fills in. */
void judge_afloat(struct arena *arena, const struct recipe *recipe, const struct results *results,
                  struct diags *diags);

/* Rules, outline, plug and how it floats in one: of the results, what `results_loaded` fills in, or
 * nothing where that cannot be computed.  `diags` has what was said of binding.  The recipe's lip
 * must be the caller's own (compute/aim.h). */
struct results judge_recipe(struct arena *arena, const struct recipe *recipe, struct diags *diags);

/* Whether the run fits into the opening hours; says nothing where there are errors already. */
void judge_run(struct arena *arena, const struct recipe *recipe, const struct run *run,
               struct diags *diags);

#endif
