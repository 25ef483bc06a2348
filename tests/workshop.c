#include "workshop.h"

/* One builder, one bench, one spray place, and a wheel with room for one load.  Bench work goes
 * plug by plug and may pause over closed hours, a coat is laid on a whole load in one go.  Times
 * are made up, of the size that a builder would expect. */

enum { BUILDER, BENCH, SPRAY, WHEEL, PLACES };
enum { MINUTE = 60, MOST_ACTIVITIES = 4000, MOST_LINKS = 8000 };

struct draft {
    const struct workshop *shop;
    struct activity *activity;
    struct activity_link *link;
    int count, link_count;
};

static void follow(struct draft *d, int before, int after, int64_t within) {
    if (before < 0) return;
    d->link[d->link_count++] = (struct activity_link){before, after, within};
}

/* Bench work on every plug, after `before` (or after nothing: -1). */
static int bench(struct draft *d, int before, int64_t fixed, int64_t each, int64_t wait) {
    struct activity a = {.first = (fixed + each) * MINUTE,
                         .each = each * MINUTE,
                         .pieces = d->shop->make,
                         .wait = wait * MINUTE,
                         .in_hours = true};
    a.work[BUILDER] = a.work[BENCH] = 1;
    d->activity[d->count] = a;
    follow(d, before, d->count, -1);
    return d->count++;
}

/* A coat on one load of `plugs` at a place, after `before`. */
static int coat(struct draft *d, int before, int place, int plugs, int64_t wait, int64_t within) {
    struct activity a = {
        .first = (5 + 3 * plugs) * MINUTE, .pieces = 1, .wait = wait * MINUTE, .in_hours = true};
    a.work[BUILDER] = a.work[place] = 1;
    if (place == WHEEL) a.work[WHEEL] = a.rest[WHEEL] = plugs;
    d->activity[d->count] = a;
    follow(d, before, d->count, within);
    return d->count++;
}

static int load_size(const struct workshop *shop, int load) {
    int left = shop->make - load * shop->wheel;
    return left < shop->wheel ? left : shop->wheel;
}

static int loads(const struct workshop *shop) {
    return (shop->make + shop->wheel - 1) / shop->wheel;
}

static int shape(struct draft *d) {
    int i = bench(d, -1, 15, 6, 0);  /* layout */
    i = bench(d, i, 10, 4, 0);       /* slot */
    i = bench(d, i, 10, 5, 0);       /* bore for wires */
    i = bench(d, i, 10, 5, 0);       /* saw the side */
    i = bench(d, i, 5, 5, 0);        /* saw the top */
    i = bench(d, i, 0, 8, 0);        /* true */
    i = bench(d, i, 0, 35, 0);       /* round */
    i = bench(d, i, 10, 3, 0);       /* bore for ballast */
    i = bench(d, i, 5, 3, 0);        /* bore for eyes */
    i = bench(d, i, 0, 15, 0);       /* sand */
    i = bench(d, i, 10, 8, 12 * 60); /* hang */
    return i;
}

/* Coats on every load after `before`, at the spray place; `join` is bench work behind them all. */
static int coats(struct draft *d, int before, int number, int64_t wait, int64_t each) {
    int last[MOST_ACTIVITIES];
    for (int load = 0; load < loads(d->shop); load++) {
        last[load] = before;
        for (int k = 0; k < number; k++)
            last[load] = coat(d, last[load], SPRAY, load_size(d->shop, load), wait, -1);
    }
    int join = bench(d, -1, 5, each, 0);
    for (int load = 0; load < loads(d->shop); load++) follow(d, last[load], join, -1);
    return join;
}

static void topcoat(struct draft *d, int before, int after) {
    for (int load = 0; load < loads(d->shop); load++) {
        int plugs = load_size(d->shop, load), last = before;
        for (int k = 0; k < d->shop->topcoats; k++) {
            bool cure = k + 1 == d->shop->topcoats;
            last = coat(d, last, WHEEL, plugs, (cure ? 24 : 4) * 60, k > 0 ? DAY : -1);
        }
        follow(d, last, after, -1);
    }
}

static void set_hours(struct project *project) {
    enum { PERIODS = 7 };
    static struct period open[PERIODS] = {
        [5] = {5 * DAY + 9 * HOUR, 5 * DAY + 12 * HOUR},
        [6] = {5 * DAY + 13 * HOUR, 5 * DAY + 17 * HOUR},
    };
    for (int day = 0; day < 5; day++)
        open[day] = (struct period){day * DAY + 18 * HOUR, day * DAY + 21 * HOUR + HOUR / 2};
    project->hours = (struct hours){open, PERIODS, WEEK, 18 * HOUR};
}

struct project workshop_project(struct arena *arena, const struct workshop *shop) {
    struct draft d = {shop, NEW(arena, struct activity, MOST_ACTIVITIES),
                      NEW(arena, struct activity_link, MOST_LINKS), 0, 0};
    int lip = bench(&d, -1, 10, 10, 0);
    int shaped = shape(&d);
    int tested = coats(&d, shaped, 2, 60, 4);         /* seal; float test */
    int ballasted = bench(&d, tested, 10, 6, 6 * 60); /* set ballast, reseal */
    int glued = bench(&d, ballasted, 10, 8, 12 * 60); /* glue lips */
    follow(&d, lip, glued, -1);
    int masked = bench(&d, glued, 5, 3, 0);
    int eyed = coats(&d, masked, shop->colours, 20, 4); /* colours; eyes and unmasking */
    int cleared = bench(&d, -1, 5, 3, 0);
    topcoat(&d, eyed, cleared);
    int rigged = bench(&d, cleared, 5, 6, 0);
    bench(&d, rigged, 5, 2, 0); /* prove */

    struct project project = {.activities = d.activity,
                              .count = d.count,
                              .links = d.link,
                              .link_count = d.link_count,
                              .capacity = {1, 1, 1, shop->wheel},
                              .resources = PLACES};
    if (shop->evenings) set_hours(&project);
    return project;
}
