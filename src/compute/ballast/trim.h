/* What the float test is read by: what more or less in a bore does (docs/physics.md, 6.6).  SI
 * units. */
#ifndef PLUGWRIGHT_BALLAST_TRIM_H
#define PLUGWRIGHT_BALLAST_TRIM_H

#include "compute/ballast/solve.h"

/* Fills `trials` with moves for every bore, each tried up and down; returns their number.  A move
 * is one of the pieces on hand, or else a step of the scale that shows in the water and does not
 * turn the plug over.  What cannot be done is left out. */
int trim_moves(const struct weighing *weighing, const struct bore_fill *fills,
               struct trial trials[BALLAST_TRIALS]);

/* The finest of 1, 2 and 5 of some decimal place of the shop's unit of mass, kg, that a scale tells
 * and that is no less than `least`. */
double trim_step(const struct recipe *recipe, double least);

#endif
