/* What is true of a shop and not of one plug: the file that recipes name by `workshop`.
 *
 * Units as in the recipe.  What a recipe takes from it key by key (currency, prices, shop, named
 * products, weighed hooks and rings) is put under the recipe's own tree before that is bound, so it
 * is bound as if it stood there; own woods and the stock are asked for here.
 */
#ifndef PLUGWRIGHT_WORKSHOP_H
#define PLUGWRIGHT_WORKSHOP_H

#include "model/recipe.h"
#include "model/reference.h"

enum {
    MAX_OWN = 64,     /* rows of each kind */
    MAX_ON_HAND = 64, /* rows of each kind of stock */
};

/* A wood of the shop's own: its density as weighed, what is left out as of a wood of the table. */
struct own_wood {
    struct str name, note;
    int like;           /* row of the wood table; of use only where it was written */
    struct opt density; /* at this moisture */
    double moisture;
    struct opt spread, weighed;
    struct wood_row row; /* what follows: its basic gravity, and where it comes from */
};

struct own_hook {
    enum hook_kind kind;
    struct str size;
    double mass;
    struct opt length, spread, weighed;
};

struct own_ring {
    struct str size;
    double mass;
    struct opt spread, weighed;
};

/* A paint by its name; what it says is what a layer of that colour leaves out. */
struct own_paint {
    struct str name;
    unsigned hex;
    bool hex_given;
    enum layer_kind kind;
    struct opt coats, dry, film, density, solids, transfer, spread, weighed;
    struct parts thin;
};

/* On hand: so many boards, pieces, sheets alike. */
struct stock_board {
    struct str species;
    const struct wood_row *row;
    double length, width, thickness;
    int count;
};

struct stock_piece {
    int material; /* row of the ballast metals */
    struct opt ball, mass;
    int count;
};

struct stock_sheet {
    int material; /* row of the sheet table */
    double thickness, length, width;
    int count;
};

struct stock_wire {
    int material; /* row of the wire metals */
    double diameter, length;
};

struct stock_hook {
    enum hook_kind kind;
    struct str size;
    int count;
};

struct stock_ring {
    struct str size;
    int count;
};

struct stock_eye {
    double size; /* diameter, m */
    int count;
};

/* A sealer, paint or topcoat: what is left in its tins. */
struct stock_product {
    struct str name;
    double volume;
};

struct stock {
    struct stock_board *boards;
    struct stock_piece *pieces;
    struct stock_sheet *sheets;
    struct stock_wire *wires;
    struct stock_hook *hooks;
    struct stock_ring *rings;
    struct stock_eye *eyes;
    struct stock_product *sealers, *paints, *topcoats;
    int stock_board_count, stock_piece_count, stock_sheet_count, stock_wire_count, stock_hook_count,
        stock_ring_count, stock_eye_count, stock_sealer_count, stock_paint_count,
        stock_topcoat_count;
};

struct workshop {
    int version;
    struct str name, note, currency;
    struct prices *prices; /* optional: shop, stock */
    struct shop *shop;
    struct own_wood *woods;
    struct own_hook *hooks;
    struct own_ring *rings;
    struct seal *sealers;
    struct own_paint *paints;
    struct topcoat *topcoats;
    int own_wood_count, own_hook_count, own_ring_count, seal_count, own_paint_count, topcoat_count;
    struct stock *stock;
    const struct text_file *file;
    const struct places *places;
};

/* The shop's own wood of this name, or NULL; `workshop` may be NULL. */
const struct wood_row *workshop_wood(const struct workshop *workshop, struct str name);

/* Whether the value of a member was written in the workshop's file. */
bool workshop_gave(const struct recipe *recipe, const void *member);

/* "#4", and curly quotes round a size, are how it is written on packets: takes them away. */
void workshop_plain_size(struct str *size);

#endif
