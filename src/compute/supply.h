/* What to buy and to cut: blank, board, lip sheet, wire, hooks, ballast, finishes, with costs
 * (docs/physics.md, 10).  SI units in the structs, money in the recipe's currency.  Rows live in
 * the arena; what has no price is not priced, which is another thing than a cost of 0.
 */
#ifndef PLUGWRIGHT_SUPPLY_H
#define PLUGWRIGHT_SUPPLY_H

#include "compute/ballast/ballast.h"
#include "compute/plug/mass.h"
#include "compute/stock.h"
#include "compute/work/route.h"

enum supply_unit { SUPPLY_MASS, SUPPLY_LENGTH, SUPPLY_AREA, SUPPLY_VOLUME, SUPPLY_PIECES };

/* For grouping in print. */
enum supply_group { SUPPLY_WOOD, SUPPLY_LIP, SUPPLY_HARDWARE, SUPPLY_BALLAST, SUPPLY_FINISH };

struct supply_row {
    enum supply_group group;
    struct name item;
    enum supply_unit unit; /* kg, m, m2, m3, pieces */
    double one, run;       /* of a plug, and of all with what each run loses */
    double have;           /* of the run's, what lies in the workshop's stock */
    bool priced;
    double cost, to_pay; /* of the run, and of what must be bought for it, in its currency */
    enum name_key mixed; /* what it is to the row before, with which it is mixed; or NAME_NONE */
};

/* A piece of wire to cut. */
struct wire_cut {
    double installed, cut; /* m */
};

/* One cup of topcoat: of one in two parts a mix, used up within its pot life; else what to pour out
 * for a coat of a load, all of it in `resin`. */
struct mix {
    int coat, load, cup; /* from 1 */
    int plugs;
    bool two_parts;
    double resin, hardener;           /* m3 */
    double resin_mass, hardener_mass; /* kg; 0 where a density is not known */
    double hands_on, pot_life;        /* s; 0: it has none */
};

struct supply {
    struct supply_row *rows;
    int count;
    double blank_length, blank_height, blank_width; /* m */
    bool board_given;
    int blank_boards; /* that make a blank, side by side: 2 of a body in halves */
    int board_pieces; /* blanks out of the board on hand */
    int board_along, board_across, board_layers;
    bool board_turned;                  /* the blank's width lies across the board's thickness */
    struct wire_cut cuts[MAX_FITTINGS]; /* for every fitting, in their order */
    struct mix *mixes;
    int mix_count;
    bool priced;
    double cost, to_pay; /* of the run, and of what must be bought for it */
    bool stocked;        /* a stock was drawn from */
};

/* `topcoat_load`: plugs at most in one load of the topcoat, as the run has them.  What the run
 * takes of the stock is taken off `left`; NULL: there is none. */
struct supply supply_of(struct arena *arena, const struct plug *plug,
                        const struct ballast_result *ballast, const struct route *route,
                        int topcoat_load, struct stock *left);

#endif
