/* A made-up run of plugs as a scheduling project: what a route with loads comes to. */
#ifndef PLUGWRIGHT_WORKSHOP_H
#define PLUGWRIGHT_WORKSHOP_H

#include "compute/schedule/solve.h"

enum { HOUR = 3600, DAY = 24 * HOUR, WEEK = 7 * DAY };

/* `make` plugs, a wheel for `wheel` of them, that many colours and topcoats; `evenings`: open in
 * the evening on weekdays and on Saturday, otherwise day and night. */
struct workshop {
    int make, wheel, colours, topcoats;
    bool evenings;
};

struct project workshop_project(struct arena *arena, const struct workshop *shop);

#endif
