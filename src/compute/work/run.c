/* The route becomes a project: one activity for every operation and load, the builder and the
 * places as resources.  Bench work is split between plugs and never within one; a coat is laid on a
 * whole load in one go; only the wheel stays taken while a coat waits, and no longer than it has to
 * turn.  What is left of such a wait is an activity of its own without work: hanging. */
#include "compute/work/planner.h"
#include "compute/work/resume.h"

#include <math.h>
#include <stdlib.h>

/* Resources are numbered like the places; where no place is, the builder is. */
enum { BUILDER = AT_NONE };

_Static_assert((int)AT_COUNT <= SCHEDULE_MAX_RESOURCES, "every place is a resource");

/* The shop's hours from the start of the run; without a date it begins with the first opening. */
static struct hours hours_of(const struct shop *shop) {
    struct hours hours = {.cycle = SECONDS_OF_WEEK};
    if (shop->open) hours = *shop->open;
    if (shop->start.given)
        hours.origin = moment_second_of_week(shop->start);
    else if (hours.count)
        hours.origin = hours.period[0].from;
    return hours;
}

/* --- the project ----------------------------------------------------------------------------- */

/* How long the plugs wait where they are, and how long after that elsewhere. */
static int64_t waiting_in_place(const struct operation *operation) {
    bool moved = operation->station == AT_WHEEL && operation->held < operation->wait;
    return llround(moved ? operation->held : operation->wait);
}

static int64_t waiting_elsewhere(const struct operation *operation) {
    return llround(operation->wait) - waiting_in_place(operation);
}

static struct activity activity_of(const struct operation *operation, int plugs) {
    struct activity a = {.in_hours = true, .wait = waiting_in_place(operation)};
    int64_t fixed = llround(operation->fixed), each = llround(operation->each);
    enum station_used place = operation->station;
    if (operation->coat || each == 0) {
        a.first = fixed + each * plugs;
        a.pieces = a.first > 0;
    } else {
        a.first = fixed + each;
        a.each = each;
        a.pieces = plugs;
    }
    a.work[BUILDER] = 1;
    a.work[place] = place == AT_WHEEL ? plugs : 1;
    if (place == AT_WHEEL) a.rest[place] = plugs;
    return a;
}

/* How many plugs an operation takes in one go at most. */
static int load_size(const struct planner *p, const struct operation *operation) {
    if (operation->by_wheel) return p->wheel_load;
    return operation->coat ? p->coat_load : p->recipe->make;
}

static int loads_of(const struct planner *p, int operation) {
    int size = load_size(p, &p->route->operations[operation]);
    return (p->recipe->make + size - 1) / size;
}

/* A coat is laid on a whole load in one go, so a load is no larger than what one opening allows;
 * one plug at least, even where that fits nowhere.  Coats of a kind share their loads, so that one
 * load can go through all of them. */
static int most_at_once(const struct planner *p, bool by_wheel, int most) {
    int64_t longest = hours_longest(&p->project.hours);
    for (int i = 0; longest && i < p->route->count; i++) {
        const struct operation *o = &p->route->operations[i];
        if (!o->coat || o->by_wheel != by_wheel || o->each <= 0) continue;
        double fit = floor(((double)longest - o->fixed) / o->each);
        if (fit < most) most = fit < 1 ? 1 : (int)fit;
    }
    return most;
}

/* One activity of every load, from the next index on, which is returned. */
static int add_loads(struct planner *p, int operation, bool hanging) {
    const struct operation *o = &p->route->operations[operation];
    int loads = loads_of(p, operation), size = load_size(p, o), first = p->project.count;
    for (int load = 0; load < loads; load++) {
        int count = p->project.count++, left = p->recipe->make - load * size;
        p->operation[count] = operation;
        p->load[count] = loads > 1 ? load + 1 : 0;
        p->plugs[count] = left > size ? size : left;
        if (hanging)
            p->activities[count].wait = waiting_elsewhere(o);
        else
            p->activities[count] = activity_of(o, p->plugs[count]);
    }
    return first;
}

static void add_activities(struct planner *p) {
    for (int i = 0; i < p->route->count; i++) {
        bool moved = waiting_elsewhere(&p->route->operations[i]) > 0;
        p->first[i] = add_loads(p, i, false);
        p->hanging[i] = moved ? add_loads(p, i, true) : -1;
    }
}

/* Room for every pair of loads that links may tie. */
static int64_t pairs_of(const struct planner *p) {
    int64_t pairs = 0;
    for (int i = 0; i < p->route->link_count; i++) {
        int before = loads_of(p, p->route->links[i].before);
        int after = loads_of(p, p->route->links[i].after);
        pairs += before == after ? before : (int64_t)before * after;
    }
    pairs *= 2; /* to what is laid, and to what hangs */
    for (int i = 0; i < p->route->count; i++) pairs += loads_of(p, i);
    return pairs;
}

static void add_link(struct planner *p, int before, int after, int64_t within) {
    p->links[p->project.link_count++] = (struct activity_link){before, after, within};
}

/* Load by load where both go by the same loads, else all of one before any of the other. */
static void add_precedence(struct planner *p, const struct precedence *link) {
    int64_t within = link->within > 0 ? llround(link->within) : -1;
    int before = loads_of(p, link->before), after = loads_of(p, link->after);
    int first = p->first[link->before], hanging = p->hanging[link->before];
    for (int a = 0; a < before; a++)
        for (int b = before == after ? a : 0; b < (before == after ? a + 1 : after); b++) {
            if (hanging < 0 || within >= 0)
                add_link(p, first + a, p->first[link->after] + b, within);
            if (hanging >= 0) add_link(p, hanging + a, p->first[link->after] + b, -1);
        }
}

static void add_links(struct planner *p) {
    for (int i = 0; i < p->route->count; i++)
        for (int load = 0; p->hanging[i] >= 0 && load < loads_of(p, i); load++)
            add_link(p, p->first[i] + load, p->hanging[i] + load, -1);
    for (int i = 0; i < p->route->link_count; i++) add_precedence(p, &p->route->links[i]);
}

struct planner planner_of(struct arena *arena, const struct recipe *recipe,
                          const struct route *route) {
    struct planner p = {.arena = arena, .recipe = recipe, .route = route};
    int wheel = recipe->shop->wheel, most = 0;
    p.project.hours = hours_of(recipe->shop);
    p.wheel_load = most_at_once(&p, true, wheel < recipe->make ? wheel : recipe->make);
    p.coat_load = most_at_once(&p, false, recipe->make);
    for (int i = 0; i < route->count; i++) most += 2 * loads_of(&p, i);
    p.activities = NEW(arena, struct activity, most);
    p.links = NEW(arena, struct activity_link, pairs_of(&p));
    p.operation = NEW(arena, int, most);
    p.load = NEW(arena, int, most);
    p.plugs = NEW(arena, int, most);
    p.first = NEW(arena, int, route->count);
    p.hanging = NEW(arena, int, route->count);
    add_activities(&p);
    add_links(&p);
    p.project.activities = p.activities;
    p.project.links = p.links;
    p.project.resources = AT_COUNT;
    for (int place = 0; place < AT_COUNT; place++)
        p.project.capacity[place] = place == AT_WHEEL ? wheel : 1;
    return p;
}

/* --- the run --------------------------------------------------------------------------------- */

static int64_t work_of(const struct activity *a) {
    return a->pieces > 0 ? a->first + a->each * (a->pieces - 1) : 0;
}

static int64_t latest_of(const struct planner *p, const struct schedule *s, int activity) {
    for (int i = 0; i < p->project.link_count; i++)
        if (p->links[i].after == activity && p->links[i].within >= 0)
            return s->work_end[p->links[i].before] + p->links[i].within;
    return -1;
}

static int by_start(const void *a, const void *b) {
    const struct run_step *x = a, *y = b;
    if (x->start != y->start) return x->start < y->start ? -1 : 1;
    if (x->operation != y->operation) return x->operation < y->operation ? -1 : 1;
    return x->load - y->load;
}

static int by_beginning(const void *a, const void *b) {
    const struct stint *x = a, *y = b;
    if (x->from != y->from) return x->from < y->from ? -1 : 1;
    return x->step - y->step;
}

/* Stints of every step; a coat and a step without pieces concern all plugs of the load. */
static void add_stints(const struct planner *p, struct run *run) {
    int most = 0;
    for (int i = 0; i < p->project.count; i++) most += p->activities[i].pieces;
    run->stints = NEW(p->arena, struct stint, most);
    for (int i = 0; i < run->count; i++) {
        const struct run_step *step = &run->steps[i];
        struct activity activity = activity_of(&p->route->operations[step->operation], step->plugs);
        activity.first -= step->spared;
        struct stint *own = &run->stints[run->stint_count];
        int count = stint_split(&p->project.hours, &activity, step->start, own);
        for (int k = 0; k < count; k++) {
            own[k].step = i;
            if (activity.pieces == 1) own[k].last_plug = step->plugs;
        }
        run->stint_count += count;
    }
    qsort(run->stints, (size_t)run->stint_count, sizeof *run->stints, by_beginning);
}

/* Loads of the topcoat, on the wheel or not. */
static int topcoat_load(const struct planner *p) {
    for (int i = 0; i < p->route->count; i++)
        if (p->route->operations[i].key == OPERATION_topcoat)
            return load_size(p, &p->route->operations[i]);
    return p->wheel_load;
}

/* The work of one load; its wait ends where the hanging does. */
static struct run_step step_of(const struct planner *p, const struct schedule *s, int i) {
    int operation = p->operation[i], hanging = p->hanging[operation];
    int last = hanging >= 0 ? hanging + i - p->first[operation] : i;
    int64_t spared = s->follows_on && s->follows_on[i] ? p->activities[i].setup : 0;
    return (struct run_step){.operation = operation,
                             .load = p->load[i],
                             .plugs = p->plugs[i],
                             .start = s->start[i],
                             .work_end = s->work_end[i],
                             .end = s->end[last],
                             .latest = latest_of(p, s, i),
                             .hands_on = work_of(&p->activities[i]) - spared,
                             .spared = spared};
}

static bool is_hanging(const struct planner *p, int i) {
    int hanging = p->hanging[p->operation[i]];
    return hanging >= 0 && i >= hanging;
}

struct run planner_run(const struct planner *p, const struct schedule *s) {
    struct run run = {.route = *p->route,
                      .feasible = s->feasible,
                      .optimal = s->optimal,
                      .makespan = s->makespan,
                      .lower_bound = s->lower_bound,
                      .nodes = s->nodes,
                      .culprit = s->culprit >= 0 ? p->operation[s->culprit] : -1,
                      .topcoat_load = topcoat_load(p),
                      .hours = p->project.hours};
    if (!s->feasible) return run;
    run.steps = NEW(p->arena, struct run_step, p->project.count);
    for (int i = 0; i < p->project.count; i++) {
        if (is_hanging(p, i)) continue;
        run.steps[run.count] = step_of(p, s, i);
        run.hands_on += run.steps[run.count++].hands_on;
    }
    qsort(run.steps, (size_t)run.count, sizeof *run.steps, by_start);
    add_stints(p, &run);
    return run;
}

/* --- recoat windows -------------------------------------------------------------------------- */

/* Topcoats, on a wheel or hung up, and the scuffing between them. */
static bool is_coating(const struct operation *operation) {
    return operation->key == OPERATION_topcoat || operation->key == OPERATION_scuff;
}

/* Whether one load's topcoats can keep their windows in the shop's hours, all else left aside. */
static bool windows_hold(struct arena *arena, const struct recipe *recipe,
                         const struct route *route) {
    struct recipe load = *recipe;
    if (load.make > load.shop->wheel) load.make = load.shop->wheel;
    struct planner p = planner_of(arena, &load, route);
    int *renumbered = NEW(arena, int, p.project.count), kept = 0, links = 0;
    for (int i = 0; i < p.project.count; i++) {
        const struct operation *o = &route->operations[p.operation[i]];
        bool chain = is_coating(o) && !o->done && p.load[i] <= 1;
        renumbered[i] = chain ? kept : -1;
        if (chain) p.activities[kept++] = p.activities[i];
    }
    for (int i = 0; i < p.project.link_count; i++) {
        struct activity_link link = p.links[i];
        link.before = renumbered[link.before], link.after = renumbered[link.after];
        if (link.before >= 0 && link.after >= 0) p.links[links++] = link;
    }
    p.project.count = kept;
    p.project.link_count = links;
    return schedule_serial(arena, &p.project).feasible;
}

static int topcoats(const struct route *route) {
    int last = 0;
    for (int i = 0; i < route->count; i++)
        if (route->operations[i].key == OPERATION_topcoat && route->operations[i].number > last)
            last = route->operations[i].number;
    return last;
}

/* One scuffing where one is enough, the last coat's first; else one after the other from the last.
 */
static struct route with_open_windows(struct arena *arena, const struct recipe *recipe,
                                      struct route route) {
    int last = topcoats(&route);
    for (int coat = last; coat >= 2 && !windows_hold(arena, recipe, &route); coat--) {
        for (int alone = coat; alone >= 2; alone--) {
            struct route trial = route_scuff(arena, &route, recipe, alone);
            if (trial.count > route.count && windows_hold(arena, recipe, &trial)) return trial;
        }
        route = route_scuff(arena, &route, recipe, coat);
    }
    return route;
}

struct run run_of(struct arena *arena, const struct recipe *recipe, const struct route *planned) {
    struct route route = resume_route(arena, recipe, *planned);
    route = with_open_windows(arena, recipe, route);
    long nodes = SCHEDULE_NODE_LIMIT; /* for all attempts together */
    for (int coat = topcoats(&route);; coat--) {
        struct planner p = planner_of(arena, recipe, &route);
        resume_planner(&p);
        struct schedule s = schedule_solve(arena, &p.project, nodes);
        nodes = s.nodes < nodes ? nodes - s.nodes : 0;
        struct run run = planner_run(&p, &s);
        /* loads that cannot all keep their windows, although one could */
        bool misses =
            !run.feasible && run.culprit >= 0 && is_coating(&route.operations[run.culprit]);
        if (!misses || coat < 2) return run;
        struct route scuffed = route_scuff(arena, &route, recipe, coat);
        if (scuffed.count == route.count) return run;
        route = scuffed;
    }
}
