#include "compute/schedule.h"

#include <string.h>

#include "compute/schedule_generate.h"
#include "compute/schedule_search.h"

static struct schedule empty(struct arena *arena, int count) {
    struct schedule s = {.culprit = -1};
    s.start = NEW(arena, int64_t, count);
    s.work_end = NEW(arena, int64_t, count);
    s.end = NEW(arena, int64_t, count);
    return s;
}
struct solver {
    const struct plan *plan;
    struct lister *lister;
    struct generator *g;
    int *list;
    int64_t *priority;
    struct slot *best;
    struct slot *tail;
    int64_t makespan, bound;
    long nodes;
};

static void keep(struct solver *v, const struct slot *slot) {
    int64_t m = slots_makespan(slot, v->plan->count);
    if (m >= v->makespan) return;
    v->makespan = m;
    memcpy(v->best, slot, (size_t)v->plan->count * sizeof *slot);
}

static bool by_lft(struct solver *v) {
    for (int i = 0; i < v->plan->count; i++) v->priority[i] = v->tail[i].end;
    list_by(v->lister, v->priority, v->list);
    if (!generate_early(v->g, v->list, v->g->nodes + 200L * v->plan->count)) return false;
    keep(v, v->g->slot);
    return true;
}

static struct solver *solver_of(struct arena *arena, const struct plan *plan) {
    struct solver *v = NEW(arena, struct solver, 1);
    int n = plan->count;
    v->plan = plan;
    v->lister = lister_of(arena, plan);
    v->g = generator_of(arena, plan);
    v->list = NEW(arena, int, n);
    v->priority = NEW(arena, int64_t, n);
    v->best = NEW(arena, struct slot, n);
    v->tail = NEW(arena, struct slot, n);
    v->makespan = INT64_MAX;
    v->bound = slots_makespan(plan->head, n);
    plan_tails(plan, v->bound, v->tail);
    return v;
}

static void finish(struct schedule *s, const struct solver *v) {
    s->feasible = v->makespan < INT64_MAX;
    s->makespan = s->feasible ? v->makespan : 0;
    s->lower_bound = v->bound;
    s->optimal = s->feasible && v->bound >= v->makespan;
    s->nodes = v->nodes + v->g->nodes;
    s->culprit = s->feasible ? -1 : v->g->stuck;
    for (int i = 0; i < v->plan->count; i++) {
        s->start[i] = v->best[i].start;
        s->work_end[i] = v->best[i].work_end;
        s->end[i] = v->best[i].end;
    }
}

struct schedule schedule_serial(struct arena *arena, const struct project *project) {
    struct arena scratch = {0};
    struct schedule s = empty(arena, project->count);
    const struct plan *plan = schedule_plan_of(&scratch, project, &s.culprit);
    if (plan) {
        struct solver *v = solver_of(&scratch, plan);
        by_lft(v);
        finish(&s, v);
    }
    arena_free(&scratch);
    return s;
}

static void improve(struct solver *v) {
    for (int pass = 0; pass < 10; pass++) {
        generate_late(v->g);
        for (int i = 0; i < v->plan->count; i++) v->priority[i] = v->g->slot[i].start;
        list_by(v->lister, v->priority, v->list);
        if (!generate_early(v->g, v->list, v->g->nodes + 200L * v->plan->count)) return;
        int64_t was = v->makespan;
        keep(v, v->g->slot);
        if (v->makespan == was) return;
    }
}

static void exact(struct solver *v, struct arena *scratch, long limit) {
    struct search *s = search_of(scratch, v->plan);
    s->node_limit = limit;
    /* root bound by bisection */
    int64_t low = v->bound, high = v->makespan; /* low-1 refuted; */
    while (low < high && s->nodes < limit) {
        int64_t mid = low + (high - low) / 2;
        if (search_refutes(s, mid)) low = mid + 1; else high = mid;
    }
    v->bound = low;
    while (v->bound < v->makespan && s->nodes < limit) {
        if (!search_deadline(s, v->makespan - 1)) { v->bound = v->makespan; break; }
        enum search_end e = search_run(s, limit);
        if (e == SEARCH_NONE) { v->bound = v->makespan; break; }
        if (e == SEARCH_LIMIT) break;
        struct slot *slot = NEW(scratch, struct slot, v->plan->count);
        for (int i = 0; i < v->plan->count; i++) slot[i] = s->bound[2 * i];
        keep(v, slot);
    }
    v->nodes += s->nodes;
}

struct schedule schedule_solve(struct arena *arena, const struct project *project, long node_limit) {
    struct arena scratch = {0};
    struct schedule s = empty(arena, project->count);
    const struct plan *plan = schedule_plan_of(&scratch, project, &s.culprit);
    if (plan) {
        struct solver *v = solver_of(&scratch, plan);
        if (by_lft(v) && v->bound < v->makespan) improve(v);
        if (v->bound < v->makespan) exact(v, &scratch, node_limit);
        finish(&s, v);
    }
    arena_free(&scratch);
    return s;
}
