/* Operations are told apart by their id, colours by the name of their colour, since their numbers
 * move when a layer is put in.  What the alignment of the two routes pairs has stayed in its place.
 */
#include "compute/rework.h"

#include <math.h>
#include <string.h>

#include "model/align.h"
#include "model/reference.h"

struct routes {
    struct arena *arena;
    const struct results *before, *after;
    const char **old_keys, **new_keys;
};

static const char *key_of(struct arena *arena, const struct results *r, const struct operation *o) {
    if (o->skipped) return arena_printf(arena, "%s, left out", o->id);
    if (o->layer < 0) return o->id;
    struct str colour = r->plug.recipe->finish->paint->layers[o->layer].colour;
    return arena_printf(arena, "colour: %.*s", (int)colour.size, colour.data);
}

static const char **keys_of(struct arena *arena, const struct results *r) {
    const char **keys = NEW(arena, const char *, r->route.count);
    for (int i = 0; i < r->route.count; i++) keys[i] = key_of(arena, r, &r->route.operations[i]);
    return keys;
}

static double unlike(const void *context, int old, int new) {
    const struct routes *routes = context;
    return strcmp(routes->old_keys[old], routes->new_keys[new]) == 0 ? 0 : 2;
}

static double hands_on(const struct operation *o) {
    return o->fixed + o->each;
}

static bool retimed(const struct operation *a, const struct operation *b) {
    const double minute = 60;
    return fabs(hands_on(a) - hands_on(b)) >= minute || fabs(a->wait - b->wait) >= minute;
}

static void tell(struct rework_list *list, const struct routes *routes, enum rework_kind kind,
                 int old, int new) {
    const struct route *after = &routes->after->route;
    const struct operation *a = old >= 0 ? &routes->before->route.operations[old] : NULL;
    const struct operation *b = new >= 0 ? &after->operations[new] : NULL;
    const struct operation *any = b ? b : &routes->before->route.operations[old]; /* one is given */
    list->items[list->count++] = (struct rework){
        .kind = kind,
        .title = any->title,
        .id = any->id,
        .behind = new > 0 ? after->operations[new - 1].title : NULL, // NOLINT
        .hands_before = a ? hands_on(a) : 0,
        .hands_now = b ? hands_on(b) : 0,
        .wait_before = a ? a->wait : 0,
        .wait_now = b ? b->wait : 0,
    };
}

/* The old operation with the key of a new one that no pair holds, or -1. */
static int moved_from(const struct routes *routes, const struct align_pair *pairs, int count,
                      int new, const bool *told) {
    for (int i = 0; i < count; i++)
        if (pairs[i].new < 0 && !told[i] && unlike(routes, pairs[i].old, new) == 0) return i;
    return -1;
}

struct rework_list rework_between(struct arena *arena, const struct results *before,
                                  const struct results *after) {
    struct routes routes = {arena, before, after, keys_of(arena, before), keys_of(arena, after)};
    struct rework_list list = {0};
    int old_count = before->route.count, new_count = after->route.count, count;
    const struct align_pair *pairs = align(arena, old_count, new_count, unlike, &routes, &count);
    bool *told = NEW(arena, bool, count);
    int *origin = NEW(arena, int, count);
    list.items = NEW(arena, struct rework, old_count + new_count);
    for (int i = 0; i < count; i++) {
        origin[i] = pairs[i].old;
        if (pairs[i].old >= 0) continue;
        int from = moved_from(&routes, pairs, count, pairs[i].new, told);
        if (from >= 0) told[from] = true, origin[i] = pairs[from].old;
    }
    for (int i = 0; i < count; i++) {
        const struct align_pair *p = &pairs[i];
        if (p->new < 0 && !told[i])
            tell(&list, &routes, REWORK_GOES, p->old, -1);
        else if (p->old < 0)
            tell(&list, &routes, origin[i] < 0 ? REWORK_COMES : REWORK_MOVES, origin[i], p->new);
        else if (p->new >= 0 &&
                 retimed(&before->route.operations[p->old], &after->route.operations[p->new]))
            tell(&list, &routes, REWORK_RETIMED, p->old, p->new);
    }
    return list;
}

/* --- sittings -------------------------------------------------------------------------------- */

struct span_of_time {
    int64_t from, to;
};

/* When there is work, in disjoint spans; the run's steps stand by their start. */
static int busy_spans(const struct run *run, struct span_of_time *spans) {
    int count = 0;
    for (int i = 0; i < run->count; i++) {
        const struct run_step *s = &run->steps[i];
        if (!s->hands_on) continue;
        if (count && s->start <= spans[count - 1].to) {
            if (s->work_end > spans[count - 1].to) spans[count - 1].to = s->work_end;
        } else {
            spans[count++] = (struct span_of_time){s->start, s->work_end};
        }
    }
    return count;
}

static const int64_t day_seconds = 24 * 60 * 60, minute_seconds = 60;

/* Counts the periods of a day that overlap with work; `next` is the first span that may. */
static void count_day(struct sittings *s, const struct opening *open, int weekday, int64_t midnight,
                      const struct span_of_time *spans, int count, int *next) {
    for (int i = 0; i < open->count[weekday]; i++) {
        const struct period *p = &open->day[weekday][i];
        int64_t from = midnight + p->from * minute_seconds, to = midnight + p->to * minute_seconds;
        while (*next < count && spans[*next].to <= from) ++*next;
        if (*next == count || spans[*next].from >= to) continue;
        s->all++;
        s->evenings += (double)(p->from * minute_seconds) >= reference_fact[FACT_EVENING].value;
    }
}

struct sittings rework_sittings(struct arena *arena, const struct results *results) {
    const struct run *run = &results->run;
    const struct opening *open = &results->plug.recipe->shop->open;
    struct span_of_time *spans = NEW(arena, struct span_of_time, run->count);
    struct sittings s = {.by_hours = open->given};
    static const struct opening always = {.day = {{{0, 1440}},
                                                  {{0, 1440}},
                                                  {{0, 1440}},
                                                  {{0, 1440}},
                                                  {{0, 1440}},
                                                  {{0, 1440}},
                                                  {{0, 1440}}},
                                          .count = {1, 1, 1, 1, 1, 1, 1}};
    int count = busy_spans(run, spans), next = 0;
    int weekday = (int)(run->origin / day_seconds);
    for (int64_t midnight = -(run->origin % day_seconds); next < count && midnight < run->makespan;
         midnight += day_seconds, weekday = (weekday + 1) % WEEKDAYS)
        count_day(&s, open->given ? open : &always, weekday % WEEKDAYS, midnight, spans, count,
                  &next);
    return s;
}

unsigned rework_cautions(const struct results *results) {
    unsigned all = 0;
    for (int i = 0; i < results->route.count; i++) {
        const struct operation *o = &results->route.operations[i];
        if (!o->skipped) all |= o->cautions;
    }
    return all;
}
