/* Everything that is computed from a recipe, in one value; emitters read nothing else.
 * SI units; what a part is and where its formula comes from says the header of its struct.
 */
#ifndef PLUGWRIGHT_RESULTS_H
#define PLUGWRIGHT_RESULTS_H

#include "compute/ballast/ballast.h"
#include "compute/plug/budget.h"
#include "compute/plug/clearance.h"
#include "compute/plug/reach.h"
#include "compute/plug/condition.h"
#include "compute/ballast/correction.h"
#include "compute/schedule/critical.h"
#include "compute/float/hydro.h"
#include "compute/plug/mass.h"
#include "compute/running/running.h"
#include "compute/work/sooner.h"
#include "compute/work/run.h"
#include "compute/plug/strength.h"
#include "compute/supply.h"

struct results {
    struct plug plug;
    struct mass_list masses;
    struct condition test, finished;
    struct ballast_result ballast;
    struct budget budget; /* of the finished plug's reserve */
    struct swap swaps[MAX_SWAPS];
    int swap_count;
    struct clearances clearances;
    struct reaches reaches;
    struct run run;               /* with its route */
    struct critical_times *times; /* of the route's operations, one plug, s */
    double length_of_one;         /* critical path of one plug, s */
    struct supply supply;
    struct strength strength;
    bool fat_side_given;          /* false: the finished plug does not stay upright by itself */
    double fat_side_lean;         /* rad: heel for one side 1 mm fatter than the other */
    struct correction correction; /* by what was measured */
    struct running_result running;
    struct resumed resumed; /* a run of which some is done */
    const char *digest;     /* blob ids of the files that it was read from, joined by blanks */
};

/* What the plug weighs, how it floats and what it bears: what a change of the recipe does to the
 * plug itself.  Of the rest, nothing is filled in. */
struct results results_afloat(struct arena *arena, const struct recipe *recipe);

/* The same as far as it is judged: of the ballast no more than `ballast_loaded` fills in. */
struct results results_loaded(struct arena *arena, const struct recipe *recipe);

/* Running takes as long as all the rest: for diagnostics alone it is left out where it has none. */
enum results_extent { RESULTS_ALL, RESULTS_FOR_DIAGNOSTICS };

/* Runs the computation in order.  The recipe must have bound and checked without errors.  Orders of
 * work that would spoil it are diagnostics here; wishes against results are judged afterwards. */
struct results results_compute(struct arena *arena, const struct recipe *recipe,
                               enum results_extent extent, struct diags *diags);

/* The run anew from the recipe's `shop.start`, which has changed since, without the operations that
 * are done: a place for each of the run's route, or NULL for none.  What is to be bought stays that
 * of the whole run; what is mixed is for the coats that are left. */
void results_resume(struct arena *arena, const struct recipe *recipe, struct results *results,
                    const bool *done);

/* What RESULTS_FOR_DIAGNOSTICS left out. */
void results_complete(struct arena *arena, const struct recipe *recipe, struct results *results);

#endif
