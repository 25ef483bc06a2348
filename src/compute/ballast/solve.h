/* Loads to an aim (docs/physics.md, 6.2): what ballast.c asks for each density of the wood.
 *
 * SI units; attitudes in rad, reserves as shares of 1.  A weighing holds what does not depend on
 * the bores, so that a load costs no more than its own part; the plug must live as long.
 */
#ifndef PLUGWRIGHT_BALLAST_SOLVE_H
#define PLUGWRIGHT_BALLAST_SOLVE_H

#include "compute/ballast/ballast.h"

/* A plug with the part of its tally that does not depend on the bores, and a count of work. */
struct weighing {
    const struct plug *plug;
    struct tally base[2];  /* by enum condition_kind: everything but the bores */
    struct burden hung;    /* only its hung volume */
    const struct aim *aim; /* with the reserve that a time of sinking asks for; NULL: none */
    long *evaluations;     /* hydrostatic evaluations so far */
};

struct weighing weighing_of(struct arena *arena, const struct plug *plug, long *evaluations);

/* The plug in a condition with its bores filled so. */
struct burden weighing_burden(const struct weighing *weighing, const struct bore_fill *fills,
                              enum condition_kind kind);
struct outcome weighing_outcome(const struct weighing *weighing, const struct bore_fill *fills,
                                enum condition_kind kind);
double weighing_capacity(const struct weighing *weighing, enum condition_kind kind);

/* Solves the bores that ask for it; `fills` of the others are given and those are filled in.  What
 * a balance and a rule cannot tell from the aim is as good as met. */
struct solution solve_loads(const struct weighing *weighing, struct bore_fill *fills);

/* Where solve_loads found no answer: the nearest that loads of zero or more can reach; SOLVE_FOUND
 * if that is as good. */
void solve_nearest(const struct weighing *weighing, struct bore_fill *fills,
                   struct solution *solution);

/* Distance from the aim, of what is aimed at: |reserve missed| / FACT(RESERVE_STEP)
 * + |attitude missed| / FACT(ATTITUDE_STEP); a plug that finds no rest misses it by a right angle.
 */
double solve_miss(const struct aim *aim, const struct outcome *outcome);

#endif
