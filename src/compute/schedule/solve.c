#include "compute/schedule/solve.h"

/* From the cheap to the thorough, until the makespan meets the lower bound: the serial schedule
 * generation scheme with the latest finish time rule (Davis and Patterson, Management Science 21,
 * 1975, 944-955), justification to the right and back while that helps, lower bounds, then exact
 * search and random lists around the best schedule by turns, until the nodes are used up.
 *
 * Random lists: the starts of the best schedule, each shifted at random, are the priorities of the
 * next list, which is generated and justified (problem space search: Storer, Wu and Vaccari,
 * Management Science 38, 1992, 1495-1509).  A schedule as long as the best takes its place, so that
 * the search moves on.
 */

#include <string.h>

#include "compute/schedule/inner.h"

struct solver {
    struct arena scratch;
    const struct instance *instance;
    struct lister *lister;
    struct serial *serial;
    int *list;
    int64_t *priority;
    struct slot *best;
    int64_t makespan; /* INT64_MAX: no schedule yet */
    int64_t bound;
    uint64_t random;
    struct exact *exact; /* once it is needed */
    long passes;         /* over all pairs of activities, in nodes */
};

/* What one pass over all pairs of `count` activities takes, in nodes. */
static long pass_nodes(int count) {
    enum { PAIRS_OF_NODE = 32 };
    return (long)((int64_t)count * count / PAIRS_OF_NODE);
}

static bool open_solver(struct solver *v, const struct project *project, int *culprit) {
    *v = (struct solver){0};
    v->instance = instance_of(&v->scratch, project, culprit);
    if (!v->instance) return false;
    v->passes = pass_nodes(v->instance->count); /* for the twins */
    v->lister = lister_of(&v->scratch, v->instance);
    v->serial = serial_of(&v->scratch, v->instance);
    v->list = NEW(&v->scratch, int, v->instance->count);
    v->priority = NEW(&v->scratch, int64_t, v->instance->count);
    v->best = NEW(&v->scratch, struct slot, v->instance->count);
    memcpy(v->best, v->instance->head, (size_t)v->instance->count * sizeof *v->best);
    v->makespan = INT64_MAX;
    v->bound = instance_makespan(v->instance, v->instance->head);
    v->random = UINT64_C(0x9E3779B97F4A7C15); /* any number but zero */
    return true;
}

static long nodes_used(const struct solver *v) {
    return v->passes + v->serial->nodes + (v->exact ? v->exact->nodes : 0);
}

static bool finished(const struct solver *v) {
    return v->makespan <= v->bound;
}

/* Keeps a schedule that is no longer than the best. */
static void keep(struct solver *v, const struct slot *slot) {
    int64_t makespan = instance_makespan(v->instance, slot);
    if (makespan > v->makespan) return;
    v->makespan = makespan;
    memcpy(v->best, slot, (size_t)v->instance->count * sizeof *slot);
}

/* Generates by the priorities; false when that leads nowhere. */
static bool generate(struct solver *v) {
    enum { PATIENCE = 200 }; /* placings for each activity */
    list_by(v->lister, v->priority, v->list);
    long limit = v->serial->nodes + (long)PATIENCE * v->instance->count;
    if (!serial_generate(v->serial, v->list, limit)) return false;
    keep(v, v->serial->slot);
    return true;
}

/* The yardstick: serial generation by latest finish time. */
static bool generate_serial(struct solver *v) {
    struct slot *tail = NEW(&v->scratch, struct slot, v->instance->count);
    instance_tails(v->instance, v->bound, tail);
    for (int i = 0; i < v->instance->count; i++) v->priority[i] = tail[i].end;
    return generate(v);
}

/* Justifies the schedule generated last to the right, and generates anew in that order. */
static bool justify(struct solver *v) {
    serial_justify(v->serial);
    for (int i = 0; i < v->instance->count; i++) v->priority[i] = v->serial->slot[i].start;
    return generate(v);
}

static void justify_while_better(struct solver *v, long node_limit) {
    int64_t before;
    do {
        before = v->makespan;
        if (finished(v) || nodes_used(v) >= node_limit || !justify(v)) return;
    } while (v->makespan < before);
}

/* xorshift64* (Vigna, ACM Transactions on Mathematical Software 42, 2016, article 30). */
static int64_t random_below(struct solver *v, int64_t limit) {
    v->random ^= v->random >> 12;
    v->random ^= v->random << 25;
    v->random ^= v->random >> 27;
    return (int64_t)(v->random * UINT64_C(2685821657736338717) % (uint64_t)limit);
}

/* Lists in the order of the best schedule's starts (or, as long as there is none, of the earliest
 * starts), each shifted by a random part of the makespan. */
static void sample(struct solver *v, long nodes) {
    enum { WIDEST = 2, WIDTHS = 10 };
    long limit = v->serial->nodes + nodes;
    while (!finished(v) && v->serial->nodes < limit) {
        int64_t length = v->makespan < INT64_MAX ? v->makespan : v->bound;
        int64_t width = length / (WIDEST + random_below(v, WIDTHS)) + 1;
        for (int i = 0; i < v->instance->count; i++)
            v->priority[i] = v->best[i].start + random_below(v, width);
        if (generate(v)) justify(v);
    }
}

/* Exact search for something shorter than the best, for so many nodes more; false when there is
 * nothing. */
static bool search(struct solver *v, long nodes) {
    struct exact *exact = v->exact;
    exact->node_limit = exact->nodes + nodes;
    while (!finished(v)) {
        enum exact_end end = EXACT_NONE;
        if (v->makespan == INT64_MAX || exact_deadline(exact, v->makespan - 1))
            end = exact_run(exact);
        if (end == EXACT_LIMIT) return true;
        if (end == EXACT_NONE) {
            if (v->makespan < INT64_MAX) v->bound = v->makespan;
            return false;
        }
        struct slot *slot = v->serial->slot;
        for (int i = 0; i < v->instance->count; i++) slot[i] = exact->bound[2 * i];
        if (!task_kinds_apart(exact, slot)) return true;
        keep(v, slot);
    }
    return true;
}

static void raise_bound(struct solver *v, int64_t bound) {
    if (bound > v->bound) v->bound = bound;
}

/* Starts everything as early as the order of the starts allows. */
static void tidy(struct solver *v) {
    for (int i = 0; i < v->instance->count; i++) v->priority[i] = v->best[i].start;
    generate(v);
}

/* Exact search and random lists by turns, each turn twice as long as the last. */
static void search_and_sample(struct solver *v, long node_limit) {
    enum { TURNS = 64, MOST_FOR_SEARCH = 1000 };
    bool small = v->instance->count <= MOST_FOR_SEARCH, impossible = false;
    for (long share = node_limit / TURNS + 1; !finished(v) && !impossible; share *= 2) {
        long left = node_limit - nodes_used(v);
        if (left <= 0) return;
        if (share > left) share = left;
        if (small) impossible = !search(v, share - share / 4);
        if (!impossible) sample(v, small ? share / 4 : share);
    }
}

/* The bound by sequence passes through the network once for every activity: only where that is
 * within what is left. */
static void bound_sequence(struct solver *v, long node_limit) {
    long nodes = pass_nodes(v->instance->count);
    if (nodes >= node_limit - nodes_used(v)) return;
    raise_bound(v, bound_by_sequence(&v->scratch, v->instance));
    v->passes += nodes;
}

static void solve(struct solver *v, long node_limit) {
    if (generate_serial(v)) justify_while_better(v, node_limit);
    if (finished(v)) return;
    bound_sequence(v, node_limit);
    if (finished(v) || nodes_used(v) >= node_limit) return;
    v->exact = exact_of(&v->scratch, v->instance);
    v->exact->node_limit = node_limit / 4;
    if (v->makespan < INT64_MAX)
        raise_bound(v, bound_by_deadlines(&v->scratch, v->exact, v->bound, v->makespan));
    search_and_sample(v, node_limit);
    if (v->makespan < INT64_MAX) tidy(v);
}

/* The result, in the caller's arena; closes the solver. */
static struct schedule close_solver(struct solver *v, struct arena *arena, int culprit) {
    struct schedule s = {.culprit = culprit};
    if (v->instance) {
        int count = v->instance->count;
        s.nodes = nodes_used(v);
        s.feasible = v->makespan < INT64_MAX;
        s.lower_bound = v->bound;
        s.culprit = s.feasible ? -1 : v->serial->stuck;
        s.start = NEW(arena, int64_t, count);
        s.work_end = NEW(arena, int64_t, count);
        s.end = NEW(arena, int64_t, count);
        for (int i = 0; s.feasible && i < count; i++) {
            s.start[i] = v->best[i].start;
            s.work_end[i] = v->best[i].work_end;
            s.end[i] = v->best[i].end;
        }
        if (s.feasible) s.makespan = v->makespan;
        s.optimal = s.feasible && finished(v);
    }
    arena_free(&v->scratch);
    return s;
}

struct schedule schedule_solve(struct arena *arena, const struct project *project,
                               long node_limit) {
    struct solver solver;
    int culprit;
    if (open_solver(&solver, project, &culprit)) solve(&solver, node_limit);
    return close_solver(&solver, arena, culprit);
}

struct schedule schedule_serial(struct arena *arena, const struct project *project) {
    struct solver solver;
    int culprit;
    if (open_solver(&solver, project, &culprit)) generate_serial(&solver);
    return close_solver(&solver, arena, culprit);
}
