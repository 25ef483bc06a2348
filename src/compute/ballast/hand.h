/* What may go into one bore of the pieces on hand (docs/physics.md, 6.4).  SI units. */
#ifndef PLUGWRIGHT_BALLAST_HAND_H
#define PLUGWRIGHT_BALLAST_HAND_H

#include "compute/ballast/ballast.h"

/* Some pieces for one bore. */
struct choice {
    signed char piece[BALLAST_PIECES_PER_BORE]; /* kinds, never falling; -1: no more */
    signed char count;                          /* of pieces */
    int shown;                                  /* by the scale, in its steps */
    double mass, height;
    double gain, aft, lift; /* of the finished plug: its mass, and that times the distance from the
                               nose, and times the height above the datum */
};

/* Choices that show the same on a scale that tells FACT(SCALE_STEP), fewest pieces first. */
struct cell {
    int first, count;      /* in hand.order */
    double least, most;    /* of what the finished plug gains by them */
    double floor, ceiling; /* least of these and all heavier cells, most of these and all lighter */
};

struct hand {
    int bore;               /* -1: none, and nothing is all that goes in */
    struct bore_fill empty; /* the bore */
    struct choice *choices;
    int count;
    int *order;         /* of the choices, by cells */
    struct cell *cells; /* by rising mass of the load */
    int cell_count;
    bool complete;              /* false: too many choices to list them all */
    double drillable, too_deep; /* depths known to leave wall enough, and not to */
    bool looked;                /* at a wall between the two */
};

static inline const struct choice *hand_choice(const struct hand *hand, const struct cell *cell,
                                               int which) {
    return &hand->choices[hand->order[cell->first + which]];
}

/* All choices of up to BALLAST_PIECES_PER_BORE pieces that go into a bore; that a bore that follows
 * its load may come too near the surface is looked at by hand_drillable. */
struct hand hand_of(struct arena *arena, const struct plug *plug, int bore);
struct hand hand_empty(struct arena *arena);

struct bore_fill hand_fill(const struct hand *hand, const struct plug *plug,
                           const struct choice *choice);

/* Whether a bore that is as deep as a choice asks for leaves wall enough.  An empty bore does, and
 * a depth that the recipe gives is the recipe's affair. */
bool hand_drillable(struct hand *hand, const struct plug *plug, const struct choice *choice);

/* Whether there are pieces enough for a choice of either hand; those of a pair of bores go into
 * both. */
bool hand_together(const struct ballast *ballast, const struct hand hands[2],
                   const struct choice *const choices[2]);

#endif
