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
#include "model/recipe.h"

/* What a recipe has, and what the layer or coat in hand is: the conditions of route.def. */
enum trait {
    TRAIT_LIP,
    TRAIT_TIE_ON_LIP,
    TRAIT_WIRES, /* in the body; a line tie on the lip is none */
    TRAIT_BORES,
    TRAIT_EYES,
    TRAIT_SEAL,
    TRAIT_SANDED_SEAL,
    TRAIT_COLOUR,
    TRAIT_TOPCOAT,
    TRAIT_COATED, /* any of the three */
    TRAIT_RIGGING,
    TRAIT_CURVED, /* the section is not square */
    TRAIT_OVAL,
    TRAIT_ROUNDED,
    TRAIT_SOFT_METAL,
    TRAIT_LEAD,
    TRAIT_EPOXY, /* kind of the topcoat */
    TRAIT_URETHANE,
    TRAIT_VARNISH,
    TRAIT_OPAQUE, /* kind of the layer in hand */
    TRAIT_TRANSPARENT,
    TRAIT_FLUORESCENT,
    TRAIT_PEARL,
    TRAIT_METALLIC,
    TRAIT_MASKED,
    TRAIT_LATER_COAT, /* a topcoat that is not the first */
};

#define HAS(trait) (1u << TRAIT_##trait)

/* The traits of the recipe as a whole, and of one of its layers. */
unsigned wording_traits(const struct recipe *recipe);
unsigned wording_layer_traits(const struct layer *layer);

struct wording {
    const struct recipe *recipe;
    unsigned traits;
    int number; /* of a layer, a topcoat or a scuffing, from 1; else 0 */
};

const char *wording_fill(struct arena *arena, const struct wording *wording, const char *text);

#endif
