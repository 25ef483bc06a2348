#include "validate_plan.h"

#include <math.h>

/* Every second of a stint lies in the hours as the recipe writes them. */
static bool in_hours(const struct hours *hours, const struct stint *stint) {
    if (!hours->count) return true;
    int64_t from = (stint->from + hours->origin) % hours->cycle;
    for (int i = 0; i < hours->count; i++)
        if (hours->period[i].from <= from && from + stint->to - stint->from <= hours->period[i].to)
            return true;
    return false;
}

static const char *wrong_stint(const struct run *all) {
    for (int i = 0; i < all->stint_count; i++) {
        if (!in_hours(&all->hours, &all->stints[i])) return "work while the shop is shut";
        if (i && all->stints[i].from < all->stints[i - 1].to) return "two things at once";
    }
    return NULL;
}

const struct run *validate_run_with(const struct plan *plan, int count, int order, int step) {
    for (int i = 0; i < plan->lots.count; i++) {
        const struct lot *lot = &plan->lots.items[i];
        for (int k = 0; k < lot->order_count; k++)
            if (lot->orders[k] == order && step >= lot->from && step < lot->to)
                return &plan->runs[count + i];
    }
    return &plan->runs[order];
}

static int plugs_in(const struct run *run, int operation) {
    int plugs = 0;
    for (int i = 0; i < run->count; i++)
        if (run->steps[i].operation == operation) plugs += run->steps[i].plugs;
    return plugs;
}

static int loads_of(const struct run *run, int operation) {
    int loads = 0;
    for (int i = 0; i < run->count; i++) loads += run->steps[i].operation == operation;
    return loads;
}

/* Every step is done once, for as many plugs as the order makes or the lot has. */
static const char *wrong_count(const struct plan *plan, const struct plan_order *orders, int count,
                               int order) {
    for (int i = 0; i < orders[order].alone->route.count; i++) {
        const struct run *run = validate_run_with(plan, count, order, i);
        bool own = run == &plan->runs[order];
        int plugs =
            own ? orders[order].recipe->make : plan->lots.items[run - plan->runs - count].plugs;
        if (plugs_in(run, i) != plugs) return "a step is done for other plugs than there are";
        if (!own && plugs_in(&plan->runs[order], i)) return "a step is done twice";
    }
    return NULL;
}

static const char *wrong_pair(const struct run *run, const struct run_step *x,
                              const struct run_step *y, const struct precedence *link) {
    const struct operation *o = &run->route.operations[x->operation];
    if (x->end < x->work_end + llround(o->wait)) return "a wait is cut short";
    if (y->start < x->end) return "a step comes too early";
    if (link->within > 0 && (double)(y->start - x->work_end) > link->within + 1)
        return "a window is missed";
    return NULL;
}

/* Load by load where both operations are in one run and go by as many, else every load of the one
 * is before every load of the other. */
static const char *wrong_link(const struct run *before, const struct run *after,
                              const struct precedence *link) {
    bool by_load =
        before == after && loads_of(before, link->before) == loads_of(after, link->after);
    for (int i = 0; i < before->count; i++)
        for (int m = 0; m < after->count; m++) {
            const struct run_step *x = &before->steps[i], *y = &after->steps[m];
            if (x->operation != link->before || y->operation != link->after) continue;
            if (by_load && x->load != y->load) continue;
            const char *wrong = wrong_pair(before, x, y, link);
            if (wrong) return wrong;
        }
    return NULL;
}

const char *validate_plan(const struct plan *plan, const struct plan_order *orders, int count) {
    const char *wrong = wrong_stint(&plan->all);
    for (int k = 0; k < count && !wrong; k++) {
        const struct route *route = &orders[k].alone->route;
        wrong = wrong_count(plan, orders, count, k);
        for (int n = 0; n < route->link_count && !wrong; n++)
            wrong = wrong_link(validate_run_with(plan, count, k, route->links[n].before),
                               validate_run_with(plan, count, k, route->links[n].after),
                               &route->links[n]);
    }
    return wrong;
}
