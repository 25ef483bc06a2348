/* What the bench taught: the builder's own figures by what was measured of many plugs
 * (docs/physics.md, 16).
 *
 * Figures are woods, sealers, films, hooks and shaping, by the masses at the stages and the
 * waterlines; and the minutes of operations.  Each stands as the tables or the recipes say, and its
 * ratio to that is estimated.  SI units.
 */
#ifndef PLUGWRIGHT_LESSON_H
#define PLUGWRIGHT_LESSON_H

#include "compute/learn/estimate.h"
#include "compute/results.h"
#include "compute/weighing.h"

enum lesson_kind {
    LESSON_WOOD,    /* density, kg/m3 */
    LESSON_SHAPING, /* volume as built over volume drawn */
    LESSON_SEALER,  /* what a coat leaves, kg/m2 */
    LESSON_PAINT,   /* film of a coat, m */
    LESSON_TOPCOAT, /* likewise */
    LESSON_HOOK,    /* mass of one, kg */
    LESSON_LOADS,   /* what the scale makes of the ballast: learned along and not told */
    LESSON_TIME     /* of an operation: its ratio alone */
};

struct lesson_figure {
    enum lesson_kind kind;
    struct str name;
    double stands;                       /* in the first recipe that has it; 1 of a ratio */
    double mean, deviation, prior_share; /* of the logarithm of its ratio */
    int readings;
    const struct wood_row *row; /* of a wood */
    double moisture;            /* of a wood, at which its density stands so */
    bool lone;     /* the wood of one recipe's own board, which is no row of any table */
    bool improves; /* what plugs are foretold without taking part is nearer with it */
};

/* A recipe as it is, or a committed version of one. */
struct lesson_source {
    const struct recipe *recipe;
    const struct results *results;          /* both without errors */
    const char *date;                       /* of a version; NULL: as it is */
    const struct weighing_repeats *repeats; /* what counts elsewhere; NULL: nothing */
};

/* A stage at which the scale is asked, as `measured` calls it. */
struct lesson_stage {
    const char *key;
    unsigned stages; /* bits of enum stage that are on the plug then */
};

enum { LESSON_STAGES = WEIGHING_STAGES, LESSON_MOST_RECIPES = 256, LESSON_MOST_FIGURES = 512 };
extern const struct lesson_stage lesson_stages[LESSON_STAGES];

/* Where a plug comes from; of minutes, a run. */
struct lesson_plug {
    int source;
    int number; /* from 1; 0: the whole run */
};

/* The readings of all recipes as a task each for masses and for minutes. */
struct lesson_task {
    struct learn_task task;
    struct learn_estimate estimate;
    struct lesson_figure *figures;
    struct lesson_plug *sources; /* of each plug */
    int plugs;
    const struct learn_claim *claims; /* what each plug says of each figure, by lesson_claims */
    int claim_count;
};

/* Root mean squares of what was foretold of each plug's last weighing, or of a time, against what
 * was read: by the tables, and by what all other plugs taught. */
struct lesson_trial {
    int plugs;
    double before, after; /* kg; of times a share */
    double reserve_before,
        reserve_after; /* the same masses as shares of the greatest displacement */
};

/* The weighing of one more plug that would take most of the doubt off the reserves. */
struct lesson_next {
    bool given;
    int recipe, stage;
    double before, after; /* root mean square of the standard deviations of all reserves */
};

struct lesson {
    struct lesson_task masses, times;
    struct lesson_trial mass_trial, time_trial;
    struct lesson_next next;
    bool too_many; /* more than LESSON_MOST_FIGURES figures: nothing was computed */
};

/* The first `current` sources are recipes as they are, what follows are versions; what stands and
 * what is worth weighing next is told of the former.  What a version's plugs say is of the figures
 * as they stand now. */
struct lesson lesson_of(struct arena *arena, const struct lesson_source *sources, int count,
                        int current);

/* Asks each plug what it says of each figure, which the estimate itself does not need. */
void lesson_claims(struct arena *arena, struct lesson *lesson);

/* The plugs that by themselves are at least half as sure of a figure as what stands; of many, those
 * that are surest, in their order. */
enum { LESSON_POINTS = 24 };
struct lesson_points {
    const struct learn_claim **claims;
    int count;
    int weaker, more; /* plugs that are less sure, and those that were too many */
};
struct lesson_points lesson_points_of(struct arena *arena, const struct lesson_task *task,
                                      int figure);

#endif
