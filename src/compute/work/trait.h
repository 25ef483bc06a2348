/* What a recipe has, and what the layer or coat in hand is: the conditions of grammar/route.def, as
 * bits: an operation, a phrase or a caution stands where all that it asks for are set. */
#ifndef PLUGWRIGHT_WORK_TRAIT_H
#define PLUGWRIGHT_WORK_TRAIT_H

#include <stdint.h>

#include "model/recipe.h"

enum trait {
    TRAIT_LIP,
    TRAIT_CUP,
    TRAIT_JOINTS,
    TRAIT_HALVES,          /* the body is built in two halves */
    TRAIT_GROOVE,          /* with a through wire between them */
    TRAIT_INSIDE_CHAMBERS, /* with chambers between them */
    TRAIT_TIE_ON_LIP,
    TRAIT_WIRES,        /* in the body, or screws; a line tie on the lip is none */
    TRAIT_THROUGH,      /* one wire from nose to tail, in a kerf */
    TRAIT_STRIP,        /* a strip closes that */
    TRAIT_FROM_BACK,    /* it is sawn from the back */
    TRAIT_TWISTED,      /* at least one of them is wire */
    TRAIT_SCREWS,       /* at least one of them is a screw eye that goes in early */
    TRAIT_LAST_SCREWS,  /* at least one of them is a screw eye that goes in last */
    TRAIT_FITTED_EARLY, /* fittings, by when they are fitted */
    TRAIT_FITTED_ON_PAINT,
    TRAIT_FITTED_LAST,
    TRAIT_HOW_TOLD, /* the recipe says how the fitting in hand is fitted */
    TRAIT_BORES,
    TRAIT_BELLY_BORES, /* by the side that they are bored from */
    TRAIT_BACK_BORES,
    TRAIT_NOSE_BORES,
    TRAIT_TAIL_BORES,
    TRAIT_FLANK_BORES,
    TRAIT_SIDE_BORES,    /* back or flank */
    TRAIT_END_BORES,     /* nose or tail */
    TRAIT_SQUARE_BORES,  /* all else, or sockets, in the square block */
    TRAIT_BODY_CHAMBERS, /* from belly, back or flank */
    TRAIT_END_CHAMBERS,  /* from nose or tail */
    TRAIT_CHAMBERS,
    TRAIT_FLANK_CHAMBERS,
    TRAIT_WOOD_STOPPERS, /* what closes them */
    TRAIT_FILLER_STOPPERS,
    TRAIT_SOLVED, /* the load of a bore is left to the compiler */
    TRAIT_EYES,
    TRAIT_SEAL,
    TRAIT_SANDED_SEAL,
    TRAIT_COLOUR,
    TRAIT_TOPCOAT,
    TRAIT_WHEEL,     /* the drying wheel turns the topcoat */
    TRAIT_WINDOW,    /* the next topcoat is due at a latest time */
    TRAIT_HARDENING, /* the topcoat may be handled before it may be fished */
    TRAIT_COATED,    /* any of the three */
    TRAIT_CLOGGED,   /* and an eye is in before it is */
    TRAIT_RIGGING,
    TRAIT_CURVED, /* the section is not square */
    TRAIT_OVAL,
    TRAIT_ROUNDED,
    TRAIT_SOFT_METAL,
    TRAIT_LEAD,
    TRAIT_DUSTY_FILLER,
#define LAYER_KIND(key, ...) TRAIT_##key, /* of the layer in hand */
#include "tables/finish.def"
    TRAIT_MASKED,
    TRAIT_LATER_COAT,    /* of sealer or topcoat, not the first */
    TRAIT_LAST_COAT,     /* of sealer or topcoat */
    TRAIT_SCUFFED,       /* the coat below was scuffed */
    TRAIT_PLASTIC_SHEET, /* of the lip: it has a film, melts and crazes */
    TRAIT_METAL_SHEET,
    TRAIT_TOWED, /* by a lip, and its depth is computed */
    TRAIT_INCH,  /* the shop measures in inches */
    TRAIT_COUNT
};

#define HAS(trait) (UINT64_C(1) << TRAIT_##trait)

/* The traits of the recipe as a whole, and of one of its layers. */
uint64_t trait_of_recipe(const struct recipe *recipe);
uint64_t trait_of_layer(const struct layer *layer);

#endif
