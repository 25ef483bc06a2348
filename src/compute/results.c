#include "compute/results.h"

#include "compute/plug/symmetry.h"

static struct critical_times *times_of_one(struct arena *arena, const struct route *route,
                                           double *length) {
    struct critical_times *times = NEW(arena, struct critical_times, route->count);
    struct critical_link *links = NEW(arena, struct critical_link, route->link_count);
    double *durations = NEW(arena, double, route->count);
    for (int i = 0; i < route->count; i++) {
        const struct operation *o = &route->operations[i];
        durations[i] = o->done ? 0 : o->fixed + o->each + o->wait;
    }
    for (int i = 0; i < route->link_count; i++)
        links[i] = (struct critical_link){route->links[i].before, route->links[i].after};
    *length = critical_path(arena, durations, route->count, links, route->link_count, times);
    return times;
}

static bool running_wanted(const struct recipe *recipe, enum results_extent extent) {
    if (!recipe->running) return false;
    return extent == RESULTS_ALL || (recipe->measured && recipe->measured->running);
}

static struct results afloat(struct arena *arena, struct results r) {
    r.digest = "";
    r.clearances = clearances_of(&r.plug, r.ballast.fills);
    r.reaches = reaches_of(&r.plug);
    r.masses = mass_rows(arena, &r.plug, r.ballast.fills);
    double loads = ballast_loads(&r.ballast);
    struct burden test = mass_burden(&r.masses, CONDITION_TEST);
    struct burden finished = mass_burden(&r.masses, CONDITION_FINISHED);
    r.test = condition_of(&r.plug, &test, CONDITION_TEST, loads);
    r.finished = condition_of(&r.plug, &finished, CONDITION_FINISHED, loads);
    r.strength = strength_of(arena, &r.plug);
    return r;
}

struct results results_afloat(struct arena *arena, const struct recipe *recipe) {
    struct results r = {.plug = plug_of(arena, recipe)};
    r.ballast = ballast_of(arena, &r.plug);
    return afloat(arena, r);
}

struct results results_loaded(struct arena *arena, const struct recipe *recipe) {
    struct results r = {.plug = plug_of(arena, recipe)};
    r.ballast = ballast_loaded(arena, &r.plug);
    return afloat(arena, r);
}

struct results results_compute(struct arena *arena, const struct recipe *recipe,
                               enum results_extent extent, struct diags *diags) {
    struct results r = results_afloat(arena, recipe);
    r.fat_side_given = r.finished.rest.gm > 0;
    if (r.fat_side_given) r.fat_side_lean = symmetry_lean(&r.plug, &r.finished, 1e-3);
    r.budget = budget_of(&r.plug, &r.masses, &r.test, &r.finished, r.ballast.spread);
    r.swap_count = swaps_of(&r.plug, &r.finished, r.swaps);
    r.correction = correction_of(arena, &r.plug, &r.ballast, &r.masses, &r.test);
    if (running_wanted(recipe, extent))
        r.running = running_of(arena, &r.plug, &r.ballast, &r.masses, &r.finished.rest);
    struct route planned = route_of(arena, recipe, r.plug.bare.surface, diags);
    r.run = run_of(arena, recipe, &planned);
    r.times = times_of_one(arena, &r.run.route, &r.length_of_one);
    r.supply = supply_of(arena, &r.plug, &r.ballast, &r.run.route, r.run.topcoat_load,
                         stock_copy(arena, recipe->workshop));
    return r;
}

void results_complete(struct arena *arena, const struct recipe *recipe, struct results *r) {
    if (running_wanted(recipe, RESULTS_ALL) && !running_wanted(recipe, RESULTS_FOR_DIAGNOSTICS))
        r->running = running_of(arena, &r->plug, &r->ballast, &r->masses, &r->finished.rest);
}

/* The mixes of coats that are done are mixed. */
static void keep_mixes_left(struct results *r) {
    struct supply *supply = &r->supply;
    const struct route *route = &r->run.route;
    int kept = 0;
    for (int i = 0; i < supply->mix_count; i++) {
        bool done = false;
        for (int k = 0; k < route->count; k++)
            done |= route->operations[k].key == OPERATION_topcoat && route->operations[k].done &&
                    route->operations[k].number == supply->mixes[i].coat;
        if (!done) supply->mixes[kept++] = supply->mixes[i];
    }
    supply->mix_count = kept;
}

/* Scuffing that only the rest of the run asks for. */
static void mark_new(const struct route *before, struct route *now, bool goes_on) {
    for (int i = 0; goes_on && i < now->count; i++)
        now->operations[i].anew = route_find(before, str_of(now->operations[i].id)) < 0;
}

void results_resume(struct arena *arena, const struct recipe *recipe, struct results *r,
                    const bool *done) {
    struct diags told = {.arena = arena}; /* all that is wrong with the route has been said */
    struct route route = r->run.route;
    if (!done) route = route_of(arena, recipe, r->plug.bare.surface, &told);
    for (int i = 0; done && i < route.count; i++) route.operations[i].done = done[i];
    r->run = run_of(arena, recipe, &route);
    mark_new(&route, &r->run.route, done != NULL);
    r->times = times_of_one(arena, &r->run.route, &r->length_of_one);
    r->resumed = resumed_of(recipe, &r->run);
    keep_mixes_left(r);
}
