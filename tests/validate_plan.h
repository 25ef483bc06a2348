/* Judges a plan by its orders' routes alone, without any of the scheduler's own code. */
#ifndef PLUGWRIGHT_VALIDATE_PLAN_H
#define PLUGWRIGHT_VALIDATE_PLAN_H

#include "compute/work/plan.h"

/* Where an order has a step of its route: a lot's run, or its own. */
const struct run *validate_run_with(const struct plan *plan, int count, int order, int step);

/* What is wrong with a plan of `count` orders: the shop is shut or the builder at two places, a
 * step is left out or done twice, comes before what must come before it, or outside its window;
 * NULL: nothing. */
const char *validate_plan(const struct plan *plan, const struct plan_order *orders, int count);

#endif
