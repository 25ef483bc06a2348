/* What a builder could write instead, where the results show something to be wrong: offers for the
 * diagnostic that was added last (model/offer.h), none of which is known to help.
 */
#ifndef PLUGWRIGHT_ADVICE_H
#define PLUGWRIGHT_ADVICE_H

#include "base/diag.h"
#include "compute/results.h"

/* A load that stands too high in its bore. */
void advise_load(struct diags *diags, const struct results *results, const struct opening *bore);

/* Content that would need so many times the room that a chamber has. */
void advise_content(struct diags *diags, const struct results *results,
                    const struct opening *chamber, double times);

/* A drill too wide for the body. */
void advise_drill(struct diags *diags, const struct results *results, const struct opening *bore);

/* An opening that lacks so much room, m: the one that is blamed, or the other that it is near to.
 */
enum advice_for { ADVICE_BLAMED, ADVICE_OTHER };
void advise_room(struct diags *diags, const struct results *results, const struct opening *opening,
                 double lack, enum advice_for whom);

/* A bore that begins at a height where there is no wood. */
void advise_up(struct diags *diags, const struct results *results, const struct opening *bore);

void advise_eyes(struct diags *diags, const struct results *results);

/* Back and belly that cross by `lack` between a station and the next. */
void advise_outline(struct diags *diags, const struct recipe *recipe, int row, double lack);

/* An aim out of reach: looks for what would bring it within reach. */
void advise_aim(struct diags *diags, const struct results *results);

/* The deepest that a bore may be and leave the wood that is due above it, m. */
double advice_room(const struct results *results, int bore, double due);

#endif
