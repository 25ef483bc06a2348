/* The latest ends come by a backward pass over what is done, as in the critical path method: an
 * operation has ended before one that follows it and is done began, less its wait. */
#include "compute/work/resume.h"

#include <math.h>

#include "base/clock.h"
#include "model/reference.h"

static const int64_t never = INT64_MAX / 4;

/* --- what is done ---------------------------------------------------------------------------- */

int resume_check(const struct route *route, bool *done, int *link) {
    for (int i = 0; i < route->count; i++) {
        if (!route->operations[i].skipped) continue;
        done[i] = true;
        for (int k = 0; k < route->link_count; k++)
            if (route->links[k].after == i && !done[route->links[k].before]) done[i] = false;
    }
    for (*link = 0; *link < route->link_count; ++*link) {
        const struct precedence *l = &route->links[*link];
        if (done[l->after] && !done[l->before]) return l->after;
    }
    return -1;
}

struct route resume_route(struct arena *arena, const struct recipe *recipe, struct route route) {
    for (int i = 0; i < route.count; i++) {
        const struct operation *o = &route.operations[i];
        if (o->key != OPERATION_topcoat || o->done) continue;
        for (int k = 0; k < route.link_count; k++) {
            const struct precedence *link = &route.links[k];
            if (link->after != i || !(link->within > 0)) continue;
            if (!route.operations[link->before].done) continue;
            route = route_scuff(arena, &route, recipe, o->number);
            break;
        }
    }
    return route;
}

/* --- when it ended --------------------------------------------------------------------------- */

int64_t resume_last_open(const struct hours *hours) {
    struct period room;
    if (!hours->count) return 0;
    return hours_room_until(hours, 0, 1, &room) ? room.to : 0;
}

/* The work of the last load, as if the shop never closed: it began no later than that before its
 * end.  Loads differ in plugs, and the last has fewest. */
static int64_t last_work(const struct planner *p, int operation) {
    int64_t least = never;
    for (int i = 0; i < p->project.count; i++) {
        const struct activity *a = &p->activities[i];
        if (p->operation[i] != operation) continue;
        if (p->hanging[operation] >= 0 && i >= p->hanging[operation]) continue;
        int64_t work = a->pieces > 0 ? a->first + a->each * (a->pieces - 1) : 0;
        if (work < least) least = work;
    }
    return least < never ? least : 0;
}

/* Of every operation that is done, the latest end of its work; what is skipped has none unless
 * something that is done follows it. */
static int64_t *latest_ends(const struct planner *p) {
    const struct route *route = p->route;
    int64_t *latest = NEW(p->arena, int64_t, route->count),
            closed = resume_last_open(&p->project.hours);
    for (int i = route->count - 1; i >= 0; i--) {
        if (!route->operations[i].done) continue;
        latest[i] = route->operations[i].skipped ? never : closed;
        for (int k = 0; k < route->link_count; k++) {
            int after = route->links[k].after;
            if (route->links[k].before != i || !route->operations[after].done) continue;
            int64_t due =
                latest[after] - last_work(p, after) - (int64_t)ceil(route->operations[i].wait);
            if (due < latest[i]) latest[i] = due;
        }
    }
    return latest;
}

/* When the wait of everything that is done is surely over. */
static int64_t *ends(const struct planner *p, const int64_t *latest) {
    const struct route *route = p->route;
    int64_t *end = NEW(p->arena, int64_t, route->count);
    for (int i = 0; i < route->count; i++) {
        const struct operation *o = &route->operations[i];
        if (!o->done) continue;
        end[i] = o->skipped ? 0 : latest[i] + (int64_t)ceil(o->wait);
        for (int k = 0; k < route->link_count; k++)
            if (route->links[k].after == i && end[route->links[k].before] > end[i])
                end[i] = end[route->links[k].before];
    }
    return end;
}

/* --- what is left ---------------------------------------------------------------------------- */

static void hold_back(struct activity *a, int64_t until) {
    if (until > a->earliest) a->earliest = until;
}

/* The wheel turns with what is done until it may be taken off. */
static int64_t wheel_free(const struct planner *p, const int64_t *latest) {
    int64_t until = 0;
    for (int i = 0; i < p->route->count; i++) {
        const struct operation *o = &p->route->operations[i];
        if (!o->done || o->station != AT_WHEEL) continue;
        int64_t held = (int64_t)ceil(o->held < o->wait ? o->held : o->wait);
        if (latest[i] + held > until) until = latest[i] + held;
    }
    return until;
}

static void hold_followers(struct planner *p) {
    int64_t *latest = latest_ends(p), *end = ends(p, latest), wheel = wheel_free(p, latest);
    for (int k = 0; k < p->project.link_count; k++) {
        int before = p->operation[p->links[k].before];
        if (p->route->operations[before].done)
            hold_back(&p->activities[p->links[k].after], end[before]);
    }
    for (int i = 0; i < p->project.count; i++)
        if (p->activities[i].work[AT_WHEEL] || p->activities[i].rest[AT_WHEEL])
            hold_back(&p->activities[i], wheel);
}

void resume_take_out(struct planner *p) {
    int *now = NEW(p->arena, int, p->project.count), kept = 0, links = 0;
    for (int i = 0; i < p->project.count; i++) {
        bool done = p->route->operations[p->operation[i]].done;
        now[i] = done ? -1 : kept;
        if (done) continue;
        p->activities[kept] = p->activities[i];
        p->operation[kept] = p->operation[i];
        p->load[kept] = p->load[i];
        p->plugs[kept++] = p->plugs[i];
    }
    for (int k = 0; k < p->project.link_count; k++) {
        struct activity_link link = p->links[k];
        link.before = now[link.before], link.after = now[link.after];
        if (link.before >= 0 && link.after >= 0) p->links[links++] = link;
    }
    for (int i = 0; i < p->route->count; i++) {
        p->first[i] = now[p->first[i]];
        if (p->hanging[i] >= 0) p->hanging[i] = now[p->hanging[i]];
    }
    p->project.count = kept;
    p->project.link_count = links;
}

void resume_planner(struct planner *p) {
    bool any = false;
    for (int i = 0; i < p->route->count; i++) any |= p->route->operations[i].done;
    if (!any) return;
    hold_followers(p);
    resume_take_out(p);
}
