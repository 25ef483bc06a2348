/* Every run becomes a project as it does alone (run.c); the projects stand side by side in one, and
 * share its resources. */
#include "compute/work/plan.h"

#include <stdlib.h>
#include <string.h>

#include "compute/schedule/joint.h"
#include "compute/work/planner.h"

enum { NODES = 1000000 }; /* a second or so, forty runs two */

struct joiner {
    struct arena *arena;
    const struct plan_order *orders;
    int count;
    struct planner *planners;
    struct job *jobs;
    struct project project;
    struct activity *activities; /* of the project */
    int64_t *start;              /* of each activity, one order after the other */
};

static void join_projects(struct joiner *j) {
    int activities = 0, links = 0;
    for (int k = 0; k < j->count; k++) {
        activities += j->planners[k].project.count;
        links += j->planners[k].project.link_count;
    }
    j->activities = NEW(j->arena, struct activity, activities);
    struct activity_link *link = NEW(j->arena, struct activity_link, links);
    j->project = j->planners[0].project;
    j->project.count = j->project.link_count = 0;
    for (int k = 0; k < j->count; k++) {
        const struct project *own = &j->planners[k].project;
        int first = j->project.count;
        j->jobs[k].first = first;
        j->jobs[k].count = own->count;
        for (int i = 0; i < own->count; i++) j->activities[j->project.count++] = own->activities[i];
        for (int i = 0; i < own->link_count; i++)
            link[j->project.link_count++] = (struct activity_link){
                own->links[i].before + first, own->links[i].after + first, own->links[i].within};
    }
    j->project.activities = j->activities;
    j->project.links = link;
}

/* --- the wheel ------------------------------------------------------------------------------- */

static bool same_parts(struct parts a, struct parts b) {
    return a.first == b.first && a.second == b.second;
}

static bool same_figure(struct opt a, struct opt b) {
    return a.given == b.given && (!a.given || a.value == b.value);
}

static bool same_recoat(const struct recoat *a, const struct recoat *b) {
    if (!a || !b) return a == b;
    return a->after == b->after && same_figure(a->before, b->before);
}

/* Whether one mix does for both: the product, whatever is laid of it. */
static bool same_topcoat(const struct topcoat *a, const struct topcoat *b) {
    return a->kind == b->kind && str_equal(a->name, b->name) && same_parts(a->mix, b->mix) &&
           a->density == b->density && a->solids == b->solids && a->turn == b->turn &&
           a->cure == b->cure && a->fish == b->fish && a->at == b->at &&
           same_figure(a->pot_life, b->pot_life) && same_recoat(a->recoat, b->recoat);
}

/* The topcoat of this order: the number of the first order that has it, from 1. */
static int topcoat_of(const struct joiner *j, int order) {
    const struct topcoat *own = j->orders[order].recipe->finish->topcoat;
    int first = 0;
    while (first < order && !same_topcoat(j->orders[first].recipe->finish->topcoat, own)) first++;
    return first + 1;
}

/* The plugs that the wheel turns at once have one topcoat, whichever run they are of. */
static void tell_topcoats_apart(struct joiner *j) {
    j->project.one_kind[AT_WHEEL] = true;
    for (int k = 0; k < j->count; k++) {
        int topcoat = topcoat_of(j, k);
        for (int i = j->jobs[k].first; i < j->jobs[k].first + j->jobs[k].count; i++)
            if (j->activities[i].work[AT_WHEEL]) j->activities[i].kind = topcoat;
    }
}

/* --- one after the other --------------------------------------------------------------------- */

/* One run from `from` on, when the bench is free; where its windows do not fit the hours from
 * there, at the same second of a later week as it began alone, which always fits. */
static struct schedule run_from(struct joiner *j, int order, int64_t *from) {
    enum { FOR_ONE = 20000 };
    struct project project = j->planners[order].project;
    project.hours.origin += *from;
    struct schedule s = schedule_solve(j->arena, &project, FOR_ONE);
    if (s.feasible) return s;
    int64_t cycle = project.hours.cycle;
    *from = (*from + cycle - 1) / cycle * cycle;
    return schedule_solve(j->arena, &j->planners[order].project, SCHEDULE_NODE_LIMIT);
}

/* When all are done, one order after the other; -1: one of them fits nowhere. */
static int64_t schedule_in_turn(struct joiner *j) {
    int64_t from = 0;
    j->start = NEW(j->arena, int64_t, j->project.count);
    for (int k = 0; k < j->count; k++) {
        struct schedule s = run_from(j, k, &from);
        if (!s.feasible) return -1;
        for (int i = 0; i < j->jobs[k].count; i++)
            j->start[j->jobs[k].first + i] = from + s.start[i];
        from += s.makespan;
    }
    return from;
}

/* The end of the day that it is due on. */
static int64_t due_of(const struct recipe *recipe) {
    if (!recipe->due.given || !recipe->shop->start.given) return -1;
    int64_t due = moment_between(recipe->shop->start, recipe->due) + SECONDS_OF_DAY;
    return due > 0 ? due : 0;
}

static struct schedule slice(const struct schedule *s, const struct job *job) {
    struct schedule own = *s;
    own.start += job->first, own.work_end += job->first, own.end += job->first;
    own.makespan = 0;
    for (int i = 0; i < job->count; i++)
        if (own.end[i] > own.makespan) own.makespan = own.end[i];
    return own;
}

/* --- all steps together ---------------------------------------------------------------------- */

struct whose {
    int64_t start;
    int order, step;
};

static int by_start(const void *a, const void *b) {
    const struct whose *x = a, *y = b;
    if (x->start != y->start) return x->start < y->start ? -1 : 1;
    return x->order != y->order ? x->order - y->order : x->step - y->step;
}

static int by_beginning(const void *a, const void *b) {
    const struct stint *x = a, *y = b;
    if (x->from != y->from) return x->from < y->from ? -1 : 1;
    return x->step - y->step;
}

static void join_steps(struct arena *arena, struct plan *plan, int count) {
    int steps = 0, stints = 0;
    for (int k = 0; k < count; k++)
        steps += plan->runs[k].count, stints += plan->runs[k].stint_count;
    struct run *all = &plan->all;
    struct whose *whose = NEW(arena, struct whose, steps);
    for (int k = 0; k < count; k++)
        for (int i = 0; i < plan->runs[k].count; i++)
            whose[all->count++] = (struct whose){plan->runs[k].steps[i].start, k, i};
    qsort(whose, (size_t)steps, sizeof *whose, by_start);
    all->steps = NEW(arena, struct run_step, steps);
    all->stints = NEW(arena, struct stint, stints);
    plan->owner = NEW(arena, int, steps);
    plan->own = NEW(arena, int, steps);
    for (int n = 0; n < steps; n++) {
        const struct run *run = &plan->runs[whose[n].order];
        plan->owner[n] = whose[n].order;
        plan->own[n] = whose[n].step;
        all->steps[n] = run->steps[whose[n].step];
        all->hands_on += all->steps[n].hands_on;
        for (int i = 0; i < run->stint_count; i++) {
            if (run->stints[i].step != whose[n].step) continue;
            all->stints[all->stint_count] = run->stints[i];
            all->stints[all->stint_count++].step = n;
        }
    }
    qsort(all->stints, (size_t)all->stint_count, sizeof *all->stints, by_beginning);
}

/* --- the plan -------------------------------------------------------------------------------- */

static void fill_plan(struct joiner *j, struct plan *plan, const struct joint_schedule *joint) {
    const double hour = 3600;
    plan->feasible = true;
    plan->runs = NEW(j->arena, struct run, j->count);
    plan->ends = NEW(j->arena, int64_t, j->count);
    for (int k = 0; k < j->count; k++) {
        struct schedule own = slice(&joint->schedule, &j->jobs[k]);
        plan->runs[k] = planner_run(&j->planners[k], &own);
        plan->ends[k] = own.makespan;
    }
    plan->all = (struct run){.feasible = true,
                             .optimal = joint->schedule.optimal,
                             .makespan = joint->schedule.makespan,
                             .lower_bound = joint->schedule.lower_bound,
                             .culprit = -1,
                             .hours = j->project.hours,
                             .nodes = joint->schedule.nodes};
    plan->lateness = (double)joint->lateness / PLAN_RANKS / hour;
    plan->least_late = (double)joint->lateness_bound / PLAN_RANKS / hour;
    plan->least_late_proven = joint->lateness == joint->lateness_bound;
    join_steps(j->arena, plan, j->count);
}

struct plan plan_of(struct arena *arena, const struct plan_order *orders, int count) {
    struct joiner j = {.arena = arena,
                       .orders = orders,
                       .count = count,
                       .planners = NEW(arena, struct planner, count),
                       .jobs = NEW(arena, struct job, count)};
    struct plan plan = {.due = NEW(arena, int64_t, count)};
    for (int k = 0; k < count; k++) {
        const struct recipe *recipe = orders[k].recipe;
        j.planners[k] = planner_of(arena, recipe, &orders[k].alone->route);
        plan.due[k] = due_of(recipe);
        j.jobs[k] = (struct job){.due = plan.due[k],
                                 .weight = PLAN_RANKS / recipe->rank,
                                 .least = orders[k].alone->lower_bound};
    }
    join_projects(&j);
    tell_topcoats_apart(&j);
    plan.in_turn = schedule_in_turn(&j);
    if (plan.in_turn < 0) return plan;
    struct joint_schedule joint = schedule_joint(arena, &j.project, j.jobs, count, j.start, NODES);
    if (joint.schedule.feasible) fill_plan(&j, &plan, &joint);
    return plan;
}
