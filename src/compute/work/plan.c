/* Every run becomes a project as it does alone (run.c); the projects stand side by side in one, and
 * share its resources.  A lot (lot.c) is a run too, from which the runs of its orders go on. */
#include "compute/work/plan.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "compute/schedule/joint.h"
#include "compute/work/planner.h"
#include "compute/work/resume.h"
#include "model/reference.h"

enum { NODES = 1000000 }; /* a second or so, forty runs two */

/* A part of the plan is what one order has for itself, or a lot. */
struct joiner {
    struct arena *arena;
    const struct plan_order *orders;
    int count;
    struct lots lots;
    int parts;            /* the orders', and after them the lots' */
    struct route *routes; /* of each part, what belongs to other parts marked as done */
    struct planner *planners;
    struct job *jobs;
    int64_t *due; /* of each order */
    struct project project;
    struct activity *activities; /* of the project */
    struct activity_link *links;
    int64_t *start; /* of each activity, one part after the other */
};

/* --- the parts ------------------------------------------------------------------------------- */

static int leader_of(const struct joiner *j, int part) {
    return part < j->count ? part : j->lots.items[part - j->count].orders[0];
}

static const struct recipe *recipe_of(const struct joiner *j, int part) {
    return part < j->count ? j->orders[part].recipe : j->lots.items[part - j->count].recipe;
}

/* The route of an order with the steps before `from`, and those from `to` on, marked as done. */
static struct route route_between(struct arena *arena, const struct route *route, int from,
                                  int to) {
    struct route part = *route;
    part.operations = NEW(arena, struct operation, route->count);
    for (int i = 0; i < route->count; i++) {
        part.operations[i] = route->operations[i];
        if (i < from || i >= to) part.operations[i].done = true;
    }
    return part;
}

static void plan_part(struct joiner *j, int part) {
    const struct route *whole = &j->orders[leader_of(j, part)].alone->route;
    int from = 0, to = whole->count;
    if (part < j->count) {
        from = lots_parted(&j->lots, part);
    } else {
        from = j->lots.items[part - j->count].from;
        to = j->lots.items[part - j->count].to;
    }
    j->routes[part] = route_between(j->arena, whole, from, to);
    j->planners[part] = planner_of(j->arena, recipe_of(j, part), &j->routes[part]);
    resume_take_out(&j->planners[part]);
}

/* The end of the day that it is due on. */
static int64_t due_of(const struct recipe *recipe) {
    if (!recipe->due.given || !recipe->shop->start.given) return -1;
    int64_t due = moment_between(recipe->shop->start, recipe->due) + SECONDS_OF_DAY;
    return due > 0 ? due : 0;
}

/* A lot is never late itself, and as urgent as what is due first of it. */
static struct job job_of(const struct joiner *j, int part) {
    if (part < j->count)
        return (struct job){.due = j->due[part],
                            .weight = PLAN_RANKS / j->orders[part].recipe->rank,
                            .least = j->orders[part].alone->lower_bound};
    const struct lot *lot = &j->lots.items[part - j->count];
    struct job job = {.due = -1};
    for (int i = 0; i < lot->order_count; i++) {
        int64_t due = j->due[lot->orders[i]];
        if (due >= 0 && (job.due < 0 || due < job.due)) job.due = due;
    }
    return job;
}

/* --- one project of them --------------------------------------------------------------------- */

static bool holds(const struct lot *lot, int order) {
    for (int i = 0; i < lot->order_count; i++)
        if (lot->orders[i] == order) return true;
    return false;
}

/* The part of an order that has a step of its route. */
static int part_with(const struct joiner *j, int order, int step) {
    for (int i = 0; i < j->lots.count; i++) {
        const struct lot *lot = &j->lots.items[i];
        if (step >= lot->from && step < lot->to && holds(lot, order)) return j->count + i;
    }
    return order;
}

static bool does(const struct planner *p, int activity, int step, bool hanging_too) {
    if (p->operation[activity] != step) return false;
    return hanging_too || p->hanging[step] < 0 || activity < p->hanging[step];
}

/* All loads of a step of one part before any of a step of another; NULL to count them. */
static int tie(const struct joiner *j, int before, int step, int after, int next,
               struct activity_link *links) {
    const struct planner *p = &j->planners[before], *q = &j->planners[after];
    int count = 0;
    for (int a = 0; a < p->project.count; a++)
        for (int b = 0; does(p, a, step, true) && b < q->project.count; b++) {
            if (!does(q, b, next, false)) continue;
            if (links)
                links[count] =
                    (struct activity_link){j->jobs[before].first + a, j->jobs[after].first + b, -1};
            count++;
        }
    return count;
}

/* What a part has to wait for in other parts; NULL to count it. */
static int tie_part(const struct joiner *j, int part, struct activity_link *links) {
    int order = leader_of(j, part), count = 0;
    const struct route *route = &j->routes[part];
    for (int i = 0; i < route->link_count; i++) {
        const struct precedence *link = &route->links[i];
        int before = part_with(j, order, link->before);
        if (route->operations[link->after].done || before == part) continue;
        count += tie(j, before, link->before, part, link->after, links ? links + count : NULL);
    }
    return count;
}

static void join_projects(struct joiner *j) {
    int activities = 0, links = 0;
    for (int k = 0; k < j->parts; k++) {
        j->jobs[k].first = activities;
        j->jobs[k].count = j->planners[k].project.count;
        activities += j->jobs[k].count;
        links += j->planners[k].project.link_count + tie_part(j, k, NULL);
    }
    j->activities = NEW(j->arena, struct activity, activities);
    j->links = NEW(j->arena, struct activity_link, links);
    j->project = j->planners[0].project;
    j->project.count = activities;
    j->project.link_count = 0;
    for (int k = 0; k < j->parts; k++) {
        const struct project *own = &j->planners[k].project;
        int first = j->jobs[k].first;
        for (int i = 0; i < own->count; i++) j->activities[first + i] = own->activities[i];
        for (int i = 0; i < own->link_count; i++)
            j->links[j->project.link_count++] = (struct activity_link){
                own->links[i].before + first, own->links[i].after + first, own->links[i].within};
        j->project.link_count += tie_part(j, k, j->links + j->project.link_count);
    }
    j->project.activities = j->activities;
    j->project.links = j->links;
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
    if (!a || !b) return a == b;
    return a->kind == b->kind && str_equal(a->name, b->name) && same_parts(a->mix, b->mix) &&
           a->density == b->density && a->solids == b->solids && a->turn == b->turn &&
           a->cure == b->cure && a->fish == b->fish && a->at == b->at &&
           same_figure(a->pot_life, b->pot_life) && same_recoat(a->recoat, b->recoat);
}

static const struct topcoat *topcoat_on(const struct recipe *recipe) {
    return recipe->finish ? recipe->finish->topcoat : NULL;
}

/* The topcoat of this part: the number of the first part that has it, from 1. */
static int topcoat_of(const struct joiner *j, int part) {
    const struct topcoat *own = topcoat_on(recipe_of(j, part));
    int first = 0;
    while (first < part && !same_topcoat(topcoat_on(recipe_of(j, first)), own)) first++;
    return first + 1;
}

/* The plugs that the wheel turns at once have one topcoat, whichever run they are of. */
static void tell_topcoats_apart(struct joiner *j) {
    j->project.one_kind[AT_WHEEL] = true;
    for (int k = 0; k < j->parts; k++) {
        int topcoat = topcoat_of(j, k);
        for (int i = j->jobs[k].first; i < j->jobs[k].first + j->jobs[k].count; i++)
            if (j->activities[i].work[AT_WHEEL]) j->activities[i].kind = topcoat;
    }
}

/* --- the airbrush ---------------------------------------------------------------------------- */

/* A colour as it is thinned for the airbrush, and how often it is taken up. */
struct colour {
    const struct layer *layer;
    struct parts thin;
    int uses;
};

struct palette {
    struct colour *colours;
    int count;
};

static const struct layer *layer_of(const struct joiner *j, int part, int activity) {
    const struct planner *p = &j->planners[part];
    const struct operation *o = &p->route->operations[p->operation[activity]];
    int hanging = p->hanging[p->operation[activity]];
    if (o->key != OPERATION_colour || (hanging >= 0 && activity >= hanging)) return NULL;
    return &recipe_of(j, part)->finish->paint->layers[o->number - 1];
}

/* The place of a colour in the palette; where it is not there yet, behind the last. */
static struct colour *colour_of(const struct palette *palette, const struct layer *layer,
                                struct parts thin) {
    struct colour *colour = palette->colours, *end = colour + palette->count;
    while (colour < end && !(str_equal(colour->layer->colour, layer->colour) &&
                             colour->layer->kind == layer->kind && same_parts(colour->thin, thin)))
        colour++;
    return colour;
}

static struct parts thin_of(const struct recipe *recipe, const struct layer *layer) {
    return layer->thin_given ? layer->thin : recipe->finish->paint->thin;
}

static void take_up(struct palette *palette, const struct layer *layer, struct parts thin) {
    struct colour *colour = colour_of(palette, layer, thin);
    if (colour == palette->colours + palette->count) {
        *colour = (struct colour){.layer = layer, .thin = thin};
        palette->count++;
    }
    colour->uses++;
}

static struct palette palette_of(const struct joiner *j) {
    int most = 0;
    for (int k = 0; k < j->parts; k++) most += j->planners[k].project.count;
    struct palette palette = {.colours = NEW(j->arena, struct colour, most)};
    for (int k = 0; k < j->parts; k++)
        for (int i = 0; i < j->planners[k].project.count; i++) {
            const struct layer *layer = layer_of(j, k, i);
            if (layer) take_up(&palette, layer, thin_of(recipe_of(j, k), layer));
        }
    return palette;
}

/* Between two goes with the same colour the airbrush is not cleaned, whichever plug wears it. */
static void tell_colours_apart(struct joiner *j) {
    struct palette palette = palette_of(j);
    for (int k = 0; k < j->parts; k++)
        for (int i = 0; i < j->planners[k].project.count; i++) {
            const struct layer *layer = layer_of(j, k, i);
            if (!layer) continue;
            const struct planner *p = &j->planners[k];
            struct activity *a = &p->activities[i];
            struct colour *colour = colour_of(&palette, layer, thin_of(recipe_of(j, k), layer));
            double cleaning = reference_fact[FACT_CLEANING].value;
            double fixed = p->route->operations[p->operation[i]].fixed;
            if (colour->uses < 2 || a->work[AT_WHEEL] || a->pieces < 1) continue;
            a->kind = 1 + j->parts + (int)(colour - palette.colours); /* topcoats before these */
            a->setup = llround(fmin(cleaning, fixed));
        }
}

/* --- one after the other --------------------------------------------------------------------- */

/* One part from `from` on, when the bench is free; where its windows do not fit the hours from
 * there, at the same second of a later week as it began alone, which always fits. */
static struct schedule part_from(struct joiner *j, int part, int64_t *from) {
    enum { FOR_ONE = 20000 };
    struct project project = j->planners[part].project;
    project.hours.origin += *from;
    struct schedule s = schedule_solve(j->arena, &project, FOR_ONE);
    if (s.feasible) return s;
    int64_t cycle = project.hours.cycle;
    *from = (*from + cycle - 1) / cycle * cycle;
    return schedule_solve(j->arena, &j->planners[part].project, SCHEDULE_NODE_LIMIT);
}

/* When all are done, one part after the other, lots first; -1: one of them fits nowhere. */
static int64_t schedule_in_turn(struct joiner *j) {
    int64_t from = 0;
    j->start = NEW(j->arena, int64_t, j->project.count);
    for (int k = 0; k < j->parts; k++) {
        int part = (j->count + k) % j->parts;
        struct schedule s = part_from(j, part, &from);
        if (!s.feasible) return -1;
        for (int i = 0; i < j->jobs[part].count; i++)
            j->start[j->jobs[part].first + i] = from + s.start[i];
        from += s.makespan;
    }
    return from;
}

static struct schedule slice(const struct schedule *s, const struct job *job) {
    struct schedule own = *s;
    own.start += job->first, own.work_end += job->first, own.end += job->first;
    if (own.follows_on) own.follows_on += job->first;
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

static struct joiner joiner_of(struct arena *arena, const struct plan_order *orders, int count,
                               struct lots lots) {
    int parts = count + lots.count;
    struct joiner j = {.arena = arena,
                       .orders = orders,
                       .count = count,
                       .lots = lots,
                       .parts = parts,
                       .routes = NEW(arena, struct route, parts),
                       .planners = NEW(arena, struct planner, parts),
                       .jobs = NEW(arena, struct job, parts),
                       .due = NEW(arena, int64_t, count)};
    for (int k = 0; k < count; k++) j.due[k] = due_of(orders[k].recipe);
    for (int k = 0; k < parts; k++) {
        plan_part(&j, k);
        j.jobs[k] = job_of(&j, k);
    }
    tell_colours_apart(&j);
    join_projects(&j);
    tell_topcoats_apart(&j);
    return j;
}

/* Cleaning that falls away may end a run sooner than it ends alone. */
static void lower_least(struct joiner *j) {
    enum { FOR_BOUND = 20000 };
    for (int k = 0; k < j->count; k++) {
        struct project project = j->planners[k].project;
        struct activity *activities = NEW(j->arena, struct activity, project.count);
        bool any = false;
        for (int i = 0; i < project.count; i++) {
            activities[i] = project.activities[i];
            activities[i].first -= activities[i].setup;
            any = any || activities[i].setup > 0;
            activities[i].setup = 0;
        }
        project.activities = activities;
        if (any) j->jobs[k].least = schedule_solve(j->arena, &project, FOR_BOUND).lower_bound;
    }
}

static struct plan plan_joined(struct joiner *j, long nodes) {
    struct plan plan = {.due = j->due, .lots = j->lots};
    struct joint_schedule joint =
        schedule_joint(j->arena, &j->project, j->jobs, j->parts, j->start, nodes);
    if (!joint.schedule.feasible) return plan;
    const double hour = 3600;
    plan.feasible = true;
    plan.runs = NEW(j->arena, struct run, j->parts);
    plan.ends = NEW(j->arena, int64_t, j->parts);
    for (int k = 0; k < j->parts; k++) {
        struct schedule own = slice(&joint.schedule, &j->jobs[k]);
        plan.runs[k] = planner_run(&j->planners[k], &own);
        plan.ends[k] = own.makespan;
    }
    plan.all = (struct run){.feasible = true,
                            .optimal = joint.schedule.optimal,
                            .makespan = joint.schedule.makespan,
                            .lower_bound = joint.schedule.lower_bound,
                            .culprit = -1,
                            .hours = j->project.hours,
                            .nodes = joint.schedule.nodes};
    plan.lateness = (double)joint.lateness / PLAN_RANKS / hour;
    plan.least_late = (double)joint.lateness_bound / PLAN_RANKS / hour;
    plan.least_late_proven = joint.lateness == joint.lateness_bound;
    join_steps(j->arena, &plan, j->parts);
    return plan;
}

static int64_t last_day(const struct plan *plan) {
    return (plan->all.hours.origin + plan->all.makespan) / SECONDS_OF_DAY;
}

/* Less late, or done on an earlier day. */
static bool is_better(const struct plan *a, const struct plan *b) {
    if (a->feasible != b->feasible) return a->feasible;
    if (a->lateness != b->lateness) return a->lateness < b->lateness;
    return last_day(a) < last_day(b);
}

/* Lots save setting up, but a run that could be done early waits for them: both are tried. */
struct plan plan_of(struct arena *arena, const struct plan_order *orders, int count) {
    struct joiner apart = joiner_of(arena, orders, count, (struct lots){0});
    int64_t in_turn = schedule_in_turn(&apart);
    if (in_turn < 0) return (struct plan){.due = apart.due};
    lower_least(&apart);
    struct lots lots = lots_of(arena, orders, count);
    if (!lots.count) {
        struct plan plan = plan_joined(&apart, NODES);
        plan.in_turn = in_turn;
        return plan;
    }
    struct joiner joiner = joiner_of(arena, orders, count, lots);
    for (int k = 0; k < count; k++) joiner.jobs[k].least = apart.jobs[k].least;
    struct plan plan = {0}, other = plan_joined(&apart, NODES / 2);
    if (schedule_in_turn(&joiner) >= 0) plan = plan_joined(&joiner, NODES / 4 * 3);
    if (is_better(&other, &plan)) {
        plan = other;
        plan.parted = true;
    }
    plan.in_turn = in_turn;
    return plan;
}
