/* Operations are told apart by their id, colours by the name of their colour, since their numbers
 * move when a layer is put in.  What the alignment of the two routes pairs has stayed in its place.
 */
#include "compute/rework.h"

#include <math.h>
#include <string.h>

#include "model/align.h"
#include "compute/work/sitting.h"
#include "model/reference.h"

struct routes {
    const struct results *before, *after;
};

static const struct operation *operation_in(const struct results *r, int index) {
    return &r->run.route.operations[index];
}

static struct str colour_of(const struct results *r, const struct operation *o) {
    return r->plug.recipe->finish->paint->layers[o->number - 1].colour;
}

static struct str extra_of(const struct results *r, const struct operation *o) {
    const struct extra *extra = operation_extra(r->plug.recipe, o->key, o->number);
    return extra ? extra->name : (struct str){"", 0};
}

/* One that is left out is not the same as one that is done. */
static bool same(const struct routes *routes, int old, int new) {
    const struct operation *a = operation_in(routes->before, old);
    const struct operation *b = operation_in(routes->after, new);
    if (a->key != b->key || !a->skipped != !b->skipped) return false;
    if (a->key == OPERATION_colour)
        return str_equal(colour_of(routes->before, a), colour_of(routes->after, b));
    if (operation_extra(routes->before->plug.recipe, a->key, a->number))
        return str_equal(extra_of(routes->before, a), extra_of(routes->after, b));
    return strcmp(a->id, b->id) == 0;
}

static double unlike(const void *context, int old, int new) {
    return same(context, old, new) ? 0 : 2;
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
    const struct operation *a = old >= 0 ? operation_in(routes->before, old) : NULL;
    const struct operation *b = new >= 0 ? operation_in(routes->after, new) : NULL;
    list->items[list->count++] = (struct rework){
        .kind = kind,
        .before = a,
        .now = b,
        .behind = new > 0 ? operation_in(routes->after, new - 1) : NULL,
        .hands_before = a ? hands_on(a) : 0,
        .hands_now = b ? hands_on(b) : 0,
        .wait_before = a ? a->wait : 0,
        .wait_now = b ? b->wait : 0,
    };
}

/* The old operation that is a new one, and that no pair holds, or -1. */
static int moved_from(const struct routes *routes, const struct align_pair *pairs, int count,
                      int new, const bool *told) {
    for (int i = 0; i < count; i++)
        if (pairs[i].new < 0 && !told[i] && same(routes, pairs[i].old, new)) return i;
    return -1;
}

struct rework_list rework_between(struct arena *arena, const struct results *before,
                                  const struct results *after) {
    struct routes routes = {before, after};
    struct rework_list list = {0};
    int old_count = before->run.route.count, new_count = after->run.route.count, count;
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
        else if (p->new >= 0 && retimed(operation_in(before, p->old), operation_in(after, p->new)))
            tell(&list, &routes, REWORK_RETIMED, p->old, p->new);
    }
    return list;
}

/* --- sittings -------------------------------------------------------------------------------- */

/* When there is work, in disjoint spans; the run's steps stand by their start. */
static int busy_spans(const struct run *run, struct period *spans) {
    int count = 0;
    for (int i = 0; i < run->count; i++) {
        const struct run_step *s = &run->steps[i];
        if (!s->hands_on) continue;
        if (count && s->start <= spans[count - 1].to) {
            if (s->work_end > spans[count - 1].to) spans[count - 1].to = s->work_end;
        } else {
            spans[count++] = (struct period){s->start, s->work_end};
        }
    }
    return count;
}

/* Without hours: days of 24 h from the start in which there is work. */
static int busy_days(struct arena *arena, const struct run *run) {
    struct period *spans = NEW(arena, struct period, run->count);
    int count = busy_spans(run, spans), days = 0;
    int64_t free = 0; /* the first second that no counted day holds */
    for (int i = 0; i < count; i++)
        for (int64_t at = spans[i].from > free ? spans[i].from : free; at < spans[i].to;
             at = free) {
            int64_t of_day = (at + run->hours.origin) % SECONDS_OF_DAY;
            free = at - of_day + SECONDS_OF_DAY;
            days++;
        }
    return days;
}

struct sittings rework_sittings(struct arena *arena, const struct results *results) {
    const struct run *run = &results->run;
    struct sittings s = {.by_hours = run->hours.count > 0};
    if (!s.by_hours) s.all = busy_days(arena, run);
    for (int i = 0; s.by_hours && i < run->stint_count; s.all++) {
        struct sitting sitting = sitting_from(results->plug.recipe, run, i);
        int64_t of_day = (sitting.opening.from + run->hours.origin) % SECONDS_OF_DAY;
        s.evenings += (double)of_day >= reference_fact[FACT_EVENING].value;
        i = sitting.end;
    }
    return s;
}

unsigned rework_cautions(const struct results *results) {
    unsigned all = 0;
    for (int i = 0; i < results->run.route.count; i++) {
        const struct operation *o = &results->run.route.operations[i];
        if (!o->skipped && !o->done) all |= o->cautions;
    }
    return all;
}
