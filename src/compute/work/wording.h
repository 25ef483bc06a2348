/* What an operation says for this recipe: the texts of grammar/route.def with their {places} filled
 * in.
 *
 * Lengths are printed in the recipe's own shop.units.  Text that the recipe itself brings (names of
 * colours, masks) goes in as it stands and is not looked at again; the result is plain text, which
 * an emitter escapes like any other.
 */
#ifndef PLUGWRIGHT_WORK_WORDING_H
#define PLUGWRIGHT_WORK_WORDING_H

#include "base/arena.h"
#include "compute/work/trait.h"

struct wording {
    const struct recipe *recipe;
    unsigned traits;
    int number; /* of a layer, a topcoat or a scuffing, from 1; else 0 */
};

const char *wording_fill(struct arena *arena, const struct wording *wording, const char *text);

#endif
