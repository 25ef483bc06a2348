/* What the files of the room share; nothing outside compute/cutting includes this.
 *
 * One section a file, from the ground up: a file uses its own section and those above it.  Lengths
 * are whole nanometres with one kerf added, of parts and of boards: so many parts fit into a strip
 * as their lengths add up to no more than the board's, and sums are exact.  Wood is in whole
 * 1e-13 m3.
 */
#ifndef PLUGWRIGHT_CUTTING_INNER_H
#define PLUGWRIGHT_CUTTING_INNER_H

#include <stdint.h>

#include "compute/cutting/cutting.h"

enum { LEFT_OUT = -1 };

/* One part of a blank.  Those of one blank stand next to each other. */
struct saw_part {
    int64_t length, wood;
    int section, want, set;
    int of_set; /* parts of the same blank before it */
};

struct saw_kind {
    int64_t length, wood;
    int count;
};

/* The strips of one section in one board; the stretch is as long as the fullest. */
struct saw_stretch {
    int64_t longest;
    int64_t *loads; /* of every strip that is begun */
    int count;
    size_t capacity;
};

struct saw_board {
    int kind;
    int64_t room;                  /* of its length, beside its stretches */
    struct saw_stretch *stretches; /* one for each section */
};

struct saw_place {
    int board, strip; /* board LEFT_OUT: it is not cut */
};

/* What putting one part changed. */
struct saw_step {
    int64_t longest;
    bool opened; /* a strip */
};

struct saw_layout {
    int *kinds; /* of every board that is begun */
    int board_count;
    struct saw_place *places; /* of every part */
    int64_t wood, missing;
    double taken; /* of that wood, what is not left over whole */
    bool found;
};

struct saw {
    struct arena *arena;
    int64_t kerf;
    struct saw_kind *kinds;
    int kind_count, section_count, want_count;
    struct saw_part *parts; /* the longest first */
    int part_count;
    int *strips; /* of each section in each kind of board: saw_strips */

    struct saw_board *boards; /* begun, in this try */
    int board_count;
    int *unused; /* boards of each kind */
    struct saw_place *places;
    struct saw_step *steps;
    int64_t wood, missing;
    int64_t looked; /* at strips, by first fit */

    struct saw_layout best;
};

static inline int saw_strips(const struct saw *s, int section, int kind) {
    return s->strips[section * s->kind_count + kind];
}

/* Whether a part of this length comes out of a board of this kind at all. */
static inline bool saw_suits(const struct saw *s, const struct saw_part *part, int kind) {
    return saw_strips(s, part->section, kind) > 0 && part->length <= s->kinds[kind].length;
}

static inline bool saw_suits_any(const struct saw *s, const struct saw_part *part) {
    for (int k = 0; k < s->kind_count; k++)
        if (saw_suits(s, part, k)) return true;
    return false;
}

/* Whether a part is the same to the saw as the one before it. */
static inline bool saw_same(const struct saw *s, int part) {
    if (part == 0) return false;
    const struct saw_part *a = &s->parts[part - 1], *b = &s->parts[part];
    return a->length == b->length && a->section == b->section && a->set == b->set;
}

/* --- layout.c -------------------------------------------------------------------------------- */

/* Begins another board, and leaves the last one, which is empty, alone again. */
int saw_open(struct saw *s, int kind);
void saw_close(struct saw *s);

/* By how much a stretch grows when a part goes into one of its strips, or a further one. */
int64_t saw_growth(const struct saw_stretch *stretch, int strip, int64_t length);

bool saw_fits(const struct saw *s, const struct saw_part *part, int board, int strip);
void saw_put(struct saw *s, int part, int board, int strip);
void saw_take_back(struct saw *s, int part);
void saw_leave_out(struct saw *s, int part);

/* Of the boards that are begun, the wood of their stretches, each with one cut. */
double saw_taken(const struct saw *s);

/* Begins anew; keeps what is cut now if it is better than the best so far: less missing, then less
 * wood begun, then less taken of it. */
void saw_clear(struct saw *s);
void saw_keep(struct saw *s);

/* --- bound.c --------------------------------------------------------------------------------- */

/* No boards that hold less wood give the parts that `layout` cuts. */
int64_t saw_bound(const struct saw *s, const struct saw_layout *layout);

/* No cutting leaves out less wood in blanks. */
int64_t saw_missing_bound(const struct saw *s);

/* The boards that hold least and no less than this, as how many of each kind; false where there are
 * none, or too many sums to try. */
bool saw_least_boards(const struct saw *s, int64_t need, int *counts, int64_t *wood);

/* What a part takes at least, as wood of a board, when all of the board's strips are full. */
double saw_share(const struct saw *s, const struct saw_part *part);

/* --- first.c --------------------------------------------------------------------------------- */

/* One want after the other, rows across the board: as stock_boards takes them, new boards before
 * what is left of those that are begun, and the other way about. */
void saw_run_by_run(struct saw *s);

/* First fit, the longest first and in other orders, out of all boards and out of few. */
void saw_first_fit(struct saw *s);

/* --- search.c -------------------------------------------------------------------------------- */

/* True when nothing better than the best is left. */
bool saw_search(struct saw *s, int visits);

/* --- cutting.c ------------------------------------------------------------------------------- */

/* With nothing cut, and no best. */
struct saw saw_of(struct arena *arena, const struct cutting_task *task);

#endif
