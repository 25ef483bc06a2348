#include "compute/schedule/inner.h"

/* Tasks: what activities use of resources, cut where the use changes; and disjunctive pairs, tasks
 * that exclude each other (Carlier and Pinson, Management Science 35, 1989, 164-176, for machines;
 * here also where two demands together exceed a larger capacity). */

#include <stdlib.h>

static int by_demand(const void *a, const void *b) {
    const struct task *x = a, *y = b;
    if (x->demand != y->demand) return x->demand - y->demand;
    return x->activity - y->activity;
}

/* The tasks of activity `i` on a resource; returns how many there are. */
static int tasks_of(const struct project *project, int i, int resource, struct task *task) {
    const struct activity *a = &project->activities[i];
    int work = work_length(a) > 0 ? a->work[resource] : 0;
    int rest = a->wait > 0 ? a->rest[resource] : 0;
    int count = 0;
    if (work > 0) task[count++] = (struct task){i, work, false, work == rest};
    if (rest > 0 && work != rest) task[count++] = (struct task){i, rest, true, true};
    return count;
}

static void collect_tasks(struct exact *s, int number) {
    const struct project *project = s->instance->project;
    struct resource *r = &s->resource[number];
    r->capacity = s->instance->capacity[number];
    r->task = NEW(s->arena, struct task, 2 * project->count);
    for (int i = 0; i < project->count; i++)
        r->count += tasks_of(project, i, number, &r->task[r->count]);
    qsort(r->task, (size_t)r->count, sizeof *r->task, by_demand);
    r->stretch = NEW(s->arena, struct stretch, 2 * r->count);
    r->edge = NEW(s->arena, struct edge, 2 * r->count);
    r->changed = true;
}

/* What a resource is used by during the same stretch of the same activity as by `task`. */
static int demand_during(const struct project *project, int resource, const struct task *task) {
    struct task other[2];
    int count = tasks_of(project, task->activity, resource, other);
    for (int k = 0; k < count; k++)
        if (other[k].resting == task->resting && other[k].waiting == task->waiting)
            return other[k].demand;
    return 0;
}

static bool exclude(const struct project *project, int resource, int i, int demand, int j,
                    int other) {
    return demand > 0 && other > 0 &&
           (demand + other > project->capacity[resource] ||
            project_keeps_apart(project, resource, i, j));
}

/* Pairs that exclude each other on more than one resource are taken once. */
static bool first_to_exclude(const struct project *project, int resource, const struct task *a,
                             const struct task *b) {
    for (int r = 0; r < resource; r++) {
        int x = demand_during(project, r, a), y = demand_during(project, r, b);
        if (exclude(project, r, a->activity, x, b->activity, y)) return false;
    }
    return true;
}

static bool are_disjunctive(const struct instance *instance, int resource, const struct task *a,
                            const struct task *b) {
    int i = a->activity, j = b->activity;
    return i != j && exclude(instance->project, resource, i, a->demand, j, b->demand) &&
           !instance_follows(instance, i, j) && !instance_follows(instance, j, i) &&
           first_to_exclude(instance->project, resource, a, b);
}

static int collect_on(const struct exact *s, int number, struct disjunction *pairs, int count) {
    enum { MOST = 1 << 16 };
    const struct resource *r = &s->resource[number];
    for (int x = 0; x < r->count; x++)
        for (int y = x + 1; y < r->count && count < MOST; y++) {
            if (!are_disjunctive(s->instance, number, &r->task[x], &r->task[y])) continue;
            if (pairs) pairs[count] = (struct disjunction){r->task[x], r->task[y]};
            count++;
        }
    return count;
}

/* Counts the pairs that arcs do not order anyway (and keeps them, where there is a place to), first
 * those that no time-table would notice. */
static int collect_disjunctions(const struct exact *s, struct disjunction *pairs) {
    const struct project *project = s->instance->project;
    int count = 0;
    for (int r = 0; r < project->resources; r++)
        if (project->one_kind[r]) count = collect_on(s, r, pairs, count);
    for (int r = 0; r < project->resources; r++)
        if (!project->one_kind[r]) count = collect_on(s, r, pairs, count);
    return count;
}

static void index_disjunctions(struct exact *s, int pairs) {
    int count = s->instance->count;
    s->pair_first = NEW(s->arena, int, count + 1);
    s->pair = NEW(s->arena, int, 2 * pairs);
    int *next = NEW(s->arena, int, count);
    for (int k = 0; k < pairs; k++) {
        s->pair_first[s->disjunction[k].a.activity + 1]++;
        s->pair_first[s->disjunction[k].b.activity + 1]++;
    }
    for (int i = 0; i < count; i++) s->pair_first[i + 1] += s->pair_first[i];
    for (int i = 0; i < count; i++) next[i] = s->pair_first[i];
    for (int k = 0; k < pairs; k++) {
        s->pair[next[s->disjunction[k].a.activity]++] = k;
        s->pair[next[s->disjunction[k].b.activity]++] = k;
    }
}

static bool at_once(const struct task *a, const struct task *b, const struct slot *slot) {
    const struct slot *x = &slot[a->activity], *y = &slot[b->activity];
    return task_begin(a, x) < task_end(b, y) && task_begin(b, y) < task_end(a, x);
}

bool task_kinds_apart(const struct exact *s, const struct slot *slot) {
    const struct project *project = s->instance->project;
    for (int number = 0; number < project->resources; number++) {
        const struct resource *r = &s->resource[number];
        for (int x = 0; project->one_kind[number] && x < r->count; x++)
            for (int y = x + 1; y < r->count; y++)
                if (project_keeps_apart(project, number, r->task[x].activity,
                                        r->task[y].activity) &&
                    at_once(&r->task[x], &r->task[y], slot))
                    return false;
    }
    return true;
}

void task_collect(struct exact *s) {
    for (int r = 0; r < s->instance->project->resources; r++) collect_tasks(s, r);
    int pairs = collect_disjunctions(s, NULL);
    s->disjunction = NEW(s->arena, struct disjunction, pairs);
    collect_disjunctions(s, s->disjunction);
    index_disjunctions(s, pairs);
}
