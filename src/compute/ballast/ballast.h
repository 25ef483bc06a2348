/* Ballast: loads to an aim, spread of the wood, the table of the float test (docs/physics.md, 6).
 *
 * SI units; attitudes in rad, nose down positive; reserves as shares of 1.  Arrays by bore are in
 * the recipe's order, and a plug without ballast has none.  An aim out of reach is a status here
 * and an error in judge.h.
 */
#ifndef PLUGWRIGHT_BALLAST_BALLAST_H
#define PLUGWRIGHT_BALLAST_BALLAST_H

#include "compute/plug/mass.h"
#include "compute/plug/waterline.h"

enum { BALLAST_BEST_LOADS = 5, BALLAST_PIECES_PER_BORE = 8 };

/* How the plug floats with some loads. */
struct outcome {
    double reserve, attitude; /* attitude: NAN where there is no rest */
    double speed;             /* let go under water, m/s, rising positive */
    bool found;               /* there is a rest within +-90 degrees */
    bool afloat;
    bool waterline_given;
    double waterline_nose, waterline_tail; /* above the datum */
};

enum solve_status {
    SOLVE_NONE, /* nothing to solve */
    SOLVE_FOUND,
    SOLVE_UNREACHABLE, /* the outcome is the nearest that loads of zero or more can reach */
};

struct solution {
    enum solve_status status;
    int solved_count;
    double load[MAX_BORES]; /* of every bore, solved or not, kg; as everywhere, of a pair in each */
    struct outcome outcome; /* finished */
    bool attitude_noted; /* one bore for two aims: the reserve is met, the attitude as it comes */
};

/* The loads that the plug would need if its wood were lighter or heavier, and how it floats if the
 * ballast stays as solved. */
struct spread_case {
    int plug;            /* that weighs so, from 1; 0: none that was weighed */
    double body;         /* mass of the shaped body, kg */
    double wood_density; /* that explains it */
    bool solvable;       /* loads meet the aim: */
    double load[MAX_BORES], depth[MAX_BORES];
    bool fits[MAX_BORES];    /* goes into its bore, with wood enough above */
    struct outcome as_built; /* of the two edges of the spread */
};

/* One of the best loads that can be made from the pieces on hand. */
struct piece_load {
    int piece[MAX_BORES][BALLAST_PIECES_PER_BORE]; /* index of ballast.pieces; -1: none */
    double load[MAX_BORES];
    struct outcome outcome;
    double miss; /* by solve_miss */
};

/* Moves of one bore, each up and down; pieces on hand may be more than one. */
enum { BALLAST_MOVES = 3, BALLAST_TRIALS = 2 * BALLAST_MOVES * MAX_BORES };

/* One line of the table of the float test: one bore with a little more or less. */
struct trial {
    int bore;
    double change; /* kg */
    int piece;     /* of ballast.pieces; -1: a step of the scale */
    bool possible; /* false: less than nothing, or more than the bore holds */
    struct outcome test, finished;
    struct water_marks marks; /* in the test */
};

struct ballast_result {
    struct bore_fill fills[MAX_BORES];
    int bore_count;
    struct solution solution;
    double spread;  /* standard deviation of the wood's density, share */
    double scatter; /* of the bodies that were weighed; 0: not two */
    struct spread_case light, heavy;
    struct spread_case *by_blank; /* by rising mass of the body, or by plug; only where solved */
    int by_blank_count;
    struct piece_load best[BALLAST_BEST_LOADS];
    int best_count;
    bool best_proven;                    /* no other load of those pieces is better */
    struct trial trials[BALLAST_TRIALS]; /* all of them possible */
    int trial_count;
    double wall[MAX_BORES]; /* least distance from a bore to the surface ahead, m */
    long evaluations;       /* hydrostatic evaluations that all this took */
};

/* All loads together, kg. */
double ballast_loads(const struct ballast_result *ballast);

/* The loads, and the room around them: what is judged. */
struct ballast_result ballast_loaded(struct arena *arena, const struct plug *plug);

/* All that is asked of the ballast at once; the plug must live as long as the result. */
struct ballast_result ballast_of(struct arena *arena, const struct plug *plug);

#endif
