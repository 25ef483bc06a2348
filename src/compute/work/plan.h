/* A plan: the runs of several recipes on one bench (docs/physics.md, 12).  All have the same shop:
 * one builder, one of each place, the wheel shared, the same hours.  Times in seconds from the
 * shop's start.
 */
#ifndef PLUGWRIGHT_WORK_PLAN_H
#define PLUGWRIGHT_WORK_PLAN_H

#include "compute/work/lot.h"

enum {
    PLAN_MOST_RECIPES = 256,
    PLAN_MOST_PLUGS = 2000,
    PLAN_RANKS = 2520, /* a second late of rank r weighs this through r: whole for 1 to 10 */
};

struct plan {
    bool feasible;    /* false: too much for the scheduler, or a run that is not feasible alone */
    struct run *runs; /* of each order what is its own, and after them of each lot */
    struct lots lots;
    bool parted;    /* there were lots, but with them more would be late, or the end a day later */
    int64_t *ends;  /* when each is done */
    int64_t *due;   /* when each is wanted; -1: whenever it is */
    struct run all; /* all steps and stints together, by start; its route is empty */
    int *owner, *own;  /* of each step of `all`: its place in `runs`, and which step it is there */
    int64_t in_turn;   /* when all would be done one order after the other */
    double lateness;   /* hours late, each through its rank, summed up */
    double least_late; /* proven: no plan has less */
    bool least_late_proven;
};

/* The runs must be feasible, and the recipes agree on the shop.  Lots are made where bodies are the
 * same, unless without them less is late or the end is on an earlier day. */
struct plan plan_of(struct arena *arena, const struct plan_order *orders, int count);

#endif
