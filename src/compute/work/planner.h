/* A run as a project for the scheduler, and back: what run.c solves by itself, and plan.c together
 * with the runs of other recipes.  Nobody else needs this header.
 */
#ifndef PLUGWRIGHT_WORK_PLANNER_H
#define PLUGWRIGHT_WORK_PLANNER_H

#include "compute/work/run.h"

struct planner {
    struct arena *arena;
    const struct recipe *recipe;
    const struct route *route;
    struct project project;
    struct activity *activities;
    struct activity_link *links;
    int *operation, *load, *plugs; /* of each activity */
    int *first;                    /* first activity of each operation, */
    int *hanging;                  /* and first one of what is left of its wait, or -1 */
    int wheel_load, coat_load;     /* plugs at most in a load of the wheel, and of other coats */
};

/* The run of this recipe along this route, as activities. */
struct planner planner_of(struct arena *arena, const struct recipe *recipe,
                          const struct route *route);

/* The run that a schedule of these activities is. */
struct run planner_run(const struct planner *planner, const struct schedule *schedule);

#endif
