/* Offers of a hint, in the recipe's units and as the language reads them, so that they can be
 * pasted.
 *
 * Who finds a mistake offers what may mend it, best first, and need not know whether it does: each
 * offer is compiled before it is printed (hint.h).  Nothing happens in a trial.
 */
#ifndef PLUGWRIGHT_OFFER_H
#define PLUGWRIGHT_OFFER_H

#include "model/recipe.h"

/* A quantity (SI). */
const char *offer_quantity(struct arena *arena, const struct recipe *recipe, double value,
                           enum dimension dimension);

/* What lengths of an offer are whole multiples of, m: one, two or five of a decimal of the recipe's
 * unit, as a rule at the bench tells. */
double offer_step(const struct recipe *recipe);

/* For the diagnostic that was added last: something to write into a part of the recipe. */
struct offering {
    struct diags *diags;
    const struct recipe *recipe;
    const void *part;
    int choice; /* both as in struct diag_offer */
    bool otherwise;
    const char *whose; /* the part's name, where it is not the one that is blamed; or NULL */
};

__attribute__((format(printf, 2, 3))) void offer(const struct offering *offering,
                                                 const char *format, ...);

/* A length under a key, printed as a multiple of the step: the nearest, or the next that is not
 * more or not less. */
enum offer_round { OFFER_NEAREST, OFFER_AT_MOST, OFFER_AT_LEAST };
void offer_length(const struct offering *offering, const char *key, double value,
                  enum offer_round round);

#endif
