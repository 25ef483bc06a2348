/* Blanks out of boards, so that the least wood is begun (docs/physics.md, 10.8).  Knows no plug.
 *
 * A board is cut across into stretches, one for each section of blank that comes out of it; a
 * stretch is ripped into strips of that section, and each strip is cut to length.  Between any two
 * parts the saw takes its kerf; nothing is lost at a board's own ends and edges.  Of some boards
 * the blanks are cut that hold most wood, for these the boards are begun that hold least, and of
 * those the least is taken.  SI units; everything lives in the arena.
 */
#ifndef PLUGWRIGHT_CUTTING_H
#define PLUGWRIGHT_CUTTING_H

#include <stdbool.h>

#include "base/arena.h"

enum { CUTTING_VISITS = 8000000 }; /* strips that the search looks at, at most */

struct cutting_board {
    double length, width, thickness; /* length along the grain */
    int count;                       /* alike */
};

/* So many blanks of `set` equal parts each, which are cut singly: all of a blank's or none. */
struct cutting_want {
    double length, width, thickness;
    int set, count;
};

struct cutting_task {
    const struct cutting_board *boards; /* in the order in which a builder takes them */
    int board_count;
    const struct cutting_want *wants; /* what comes first is cut first where boards run out */
    int want_count;
    double kerf;
    int visits; /* of the search, at most: CUTTING_VISITS, or a share of them */
};

/* So many parts of one want, one behind the other. */
struct cutting_piece {
    int want, count;
};

struct cutting_strip {
    int alike;
    const struct cutting_piece *pieces;
    int count;
};

struct cutting_stretch {
    double length, width, thickness; /* of the board's length; the section of its strips */
    const struct cutting_strip *strips;
    int count;
};

struct cutting_begun {
    int board, alike; /* which of the task's boards, and how many of them are cut like this */
    const struct cutting_stretch *stretches;
    int count;
    double left; /* of the board's length, whole behind the last cut */
    double
        waste; /* share of what is not left over that is no blank: cuts, ends, what is ripped off */
};

/* m3 */
struct cutting_wood {
    double begun;   /* in the boards that are begun, whole */
    double missing; /* in the blanks that do not come out of the boards */
    double taken;   /* of what is begun, with one cut behind each stretch, not left over whole */
};

struct cutting {
    const struct cutting_begun *begun;
    int count;
    const int *got; /* blanks of each want */
    double blanks;  /* m3 in the blanks that are cut */
    struct cutting_wood wood, run_by_run;
    double bound; /* m3: no boards that hold less give what is cut */
    double waste; /* share of what is not left over of all boards that is no blank */
    bool least;   /* no cutting of what is cut begins less wood */
    bool most;    /* no cutting gives more wood in blanks */
};

/* Never worse than one want after the other by stock_boards (compute/stock.h). */
struct cutting cutting_of(struct arena *arena, const struct cutting_task *task);

#endif
