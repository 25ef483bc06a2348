/* The best loads that can be made from what lies on hand (docs/physics.md, 6.4). */
#ifndef PLUGWRIGHT_BALLAST_PIECES_H
#define PLUGWRIGHT_BALLAST_PIECES_H

#include "compute/ballast/solve.h"

/* Fills `best` with up to BALLAST_BEST_LOADS loads of the bores to be solved, least miss first, of
 * all combinations of at most BALLAST_PIECES_PER_BORE pieces a bore.  Loads that show the same on
 * the scale in every bore are one choice, of which the fewest pieces are taken, and of these the
 * nearest.  The other bores stay as `fills` has them.  Returns their number; *proven tells whether
 * no other load can be better, which only a recipe with very many kinds of pieces leaves open. */
int pieces_best(struct arena *arena, const struct weighing *weighing, const struct bore_fill *fills,
                struct piece_load best[BALLAST_BEST_LOADS], bool *proven);

#endif
