#include "compute/schedule/exact.h"

/* What activities use of resources, cut into parts in which the use does not change, and the pairs
 * of parts that exclude each other. */

#include <stdlib.h>

static int by_demand(const void *a, const void *b) {
    const struct usage *x = a, *y = b;
    if (x->demand != y->demand) return x->demand - y->demand;
    return x->activity - y->activity;
}

/* The parts of activity `i` on a resource; returns how many there are. */
static int parts_of(const struct project *project, int i, int resource, struct usage *part) {
    const struct activity *a = &project->activities[i];
    int work = work_length(a) > 0 ? a->work[resource] : 0;
    int rest = a->wait > 0 ? a->rest[resource] : 0;
    int count = 0;
    if (work > 0) part[count++] = (struct usage){i, work, false, work == rest};
    if (rest > 0 && work != rest) part[count++] = (struct usage){i, rest, true, true};
    return count;
}

static void collect_parts(struct exact *s, int number) {
    const struct project *project = s->instance->project;
    struct resource *r = &s->resource[number];
    r->capacity = s->instance->capacity[number];
    r->part = NEW(s->arena, struct usage, 2 * project->count);
    for (int i = 0; i < project->count; i++)
        r->count += parts_of(project, i, number, &r->part[r->count]);
    qsort(r->part, (size_t)r->count, sizeof *r->part, by_demand);
    r->stretch = NEW(s->arena, struct stretch, 2 * r->count);
    r->edge = NEW(s->arena, struct edge, 2 * r->count);
    r->changed = true;
}

/* What a resource is used by during the same stretch of the same activity as by `part`. */
static int demand_during(const struct project *project, int resource, const struct usage *part) {
    struct usage other[2];
    int count = parts_of(project, part->activity, resource, other);
    for (int k = 0; k < count; k++)
        if (other[k].resting == part->resting && other[k].waiting == part->waiting)
            return other[k].demand;
    return 0;
}

/* Pairs that exclude each other on more than one resource are taken once. */
static bool first_to_exclude(const struct project *project, int resource, const struct usage *a,
                             const struct usage *b) {
    for (int r = 0; r < resource; r++) {
        int x = demand_during(project, r, a), y = demand_during(project, r, b);
        if (x > 0 && y > 0 && x + y > project->capacity[r]) return false;
    }
    return true;
}

static bool are_rivals(const struct instance *instance, int resource, const struct usage *a,
                       const struct usage *b) {
    int i = a->activity, j = b->activity;
    return i != j && a->demand + b->demand > instance->capacity[resource] &&
           !schedule_follows(instance, i, j) && !schedule_follows(instance, j, i) &&
           first_to_exclude(instance->project, resource, a, b);
}

/* Counts the rivals that links do not order anyway (and keeps them, where there is a place to). */
static int collect_rivals(const struct exact *s, struct rivals *rivals) {
    enum { MOST = 1 << 16 };
    int count = 0;
    for (int number = 0; number < s->instance->project->resources; number++) {
        const struct resource *r = &s->resource[number];
        for (int x = 0; x < r->count; x++)
            for (int y = x + 1; y < r->count && count < MOST; y++) {
                if (!are_rivals(s->instance, number, &r->part[x], &r->part[y])) continue;
                if (rivals) rivals[count] = (struct rivals){r->part[x], r->part[y]};
                count++;
            }
    }
    return count;
}

static void index_rivals(struct exact *s, int rivals) {
    int count = s->instance->count;
    s->rival_first = NEW(s->arena, int, count + 1);
    s->rival = NEW(s->arena, int, 2 * rivals);
    int *next = NEW(s->arena, int, count);
    for (int k = 0; k < rivals; k++) {
        s->rival_first[s->rivals[k].a.activity + 1]++;
        s->rival_first[s->rivals[k].b.activity + 1]++;
    }
    for (int i = 0; i < count; i++) s->rival_first[i + 1] += s->rival_first[i];
    for (int i = 0; i < count; i++) next[i] = s->rival_first[i];
    for (int k = 0; k < rivals; k++) {
        s->rival[next[s->rivals[k].a.activity]++] = k;
        s->rival[next[s->rivals[k].b.activity]++] = k;
    }
}

void exact_prepare(struct exact *s) {
    for (int r = 0; r < s->instance->project->resources; r++) collect_parts(s, r);
    int rivals = collect_rivals(s, NULL);
    s->rivals = NEW(s->arena, struct rivals, rivals);
    collect_rivals(s, s->rivals);
    index_rivals(s, rivals);
}
