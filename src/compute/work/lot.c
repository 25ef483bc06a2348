#include "compute/work/lot.h"

#include <math.h>
#include <string.h>

#include "model/reference.h"

struct finder {
    struct arena *arena;
    const struct plan_order *orders;
    int count;
    struct lots lots;
};

/* --- what two orders have in common ---------------------------------------------------------- */

static bool same_operation(const struct operation *a, const struct operation *b) {
    return a->key == b->key && a->number == b->number && strcmp(a->id, b->id) == 0 &&
           a->traits == b->traits && a->fixed == b->fixed && a->each == b->each &&
           a->wait == b->wait && a->held == b->held && a->station == b->station &&
           a->coat == b->coat && a->by_wheel == b->by_wheel && !a->skipped == !b->skipped;
}

static bool is_finish(const struct operation *o) {
    return o->key == OPERATION_colour || operation_rows[o->key].phase >= PHASE_COATING;
}

static bool bores_for_ballast(const struct operation *o) {
    return o->key == OPERATION_bore_square || o->key == OPERATION_bore_ends ||
           o->key == OPERATION_bore_ballast || o->key == OPERATION_bore_sides ||
           o->key == OPERATION_bore_inside;
}

/* Nothing from `step` on has a window that counts from before it. */
static bool no_window_across(const struct route *route, int step) {
    for (int i = 0; i < route->link_count; i++) {
        const struct precedence *link = &route->links[i];
        if (link->within > 0 && link->before < step && link->after >= step) return false;
    }
    return true;
}

/* How many steps from the first on are the same in both, none of them of the finish. */
static int common_steps(const struct route *a, const struct route *b, bool ballast_too) {
    int steps = 0;
    while (steps < a->count && steps < b->count) {
        const struct operation *o = &a->operations[steps];
        if (!same_operation(o, &b->operations[steps]) || is_finish(o)) break;
        if (!ballast_too && bores_for_ballast(o)) break;
        steps++;
    }
    while (steps > 0 && !(no_window_across(a, steps) && no_window_across(b, steps))) steps--;
    return steps;
}

static bool same_text(const char *a, const char *b) {
    return a && b && strcmp(a, b) == 0;
}

/* Loads are one where the balance hardly tells them apart. */
static bool same_loads(const struct plan_order *a, const struct plan_order *b) {
    const double told_apart = reference_fact[FACT_BALANCE_DOUBT].value / 2;
    int bores = a->recipe->ballast ? a->recipe->ballast->bore_count : 0;
    int others = b->recipe->ballast ? b->recipe->ballast->bore_count : 0;
    if (bores != others) return false;
    for (int i = 0; i < bores; i++)
        if (!(fabs(a->loads[i] - b->loads[i]) <= told_apart)) return false;
    return true;
}

static bool alike(const struct plan_order *a, const struct plan_order *b, bool ballast_too) {
    if (!same_text(a->body, b->body)) return false;
    return !ballast_too || (same_text(a->floating, b->floating) && same_loads(a, b));
}

/* --- the lots -------------------------------------------------------------------------------- */

static void take_in(struct lot *lot, int order, int plugs, int to) {
    lot->orders[lot->order_count++] = order;
    lot->plugs += plugs;
    if (to < lot->to) lot->to = to;
}

/* The orders among `from`, itself taken from `first` on, that are like its first; those that are
 * not, or for which there is no room, stay. */
static struct lot gather(const struct finder *f, const int *from, int count, bool *taken, int first,
                         int begin) {
    bool ballast_too = begin >= 0;
    const struct plan_order *leader = &f->orders[from[first]];
    struct lot lot = {.from = ballast_too ? begin : 0,
                      .to = leader->alone->route.count,
                      .orders = NEW(f->arena, int, count)};
    for (int i = first; i < count; i++) {
        const struct plan_order *order = &f->orders[from[i]];
        int plugs = order->recipe->make;
        if (taken[i] || !alike(leader, order, ballast_too)) continue;
        int steps = common_steps(&leader->alone->route, &order->alone->route, ballast_too);
        if (steps <= lot.from || (i > first && lot.plugs + plugs > MAX_RUN)) continue;
        taken[i] = true;
        take_in(&lot, from[i], plugs, steps);
    }
    return lot;
}

static void keep(struct finder *f, struct lot lot) {
    lot.recipe = NEW(f->arena, struct recipe, 1);
    *lot.recipe = *f->orders[lot.orders[0]].recipe;
    struct str first = lot.recipe->name;
    lot.recipe->make = lot.plugs;
    lot.recipe->name = str_of(arena_printf(f->arena, "%.*s and %d more", (int)first.size,
                                           first.data, lot.order_count - 1));
    f->lots.items[f->lots.count++] = lot;
}

/* A lot of one body goes on as one where all float alike; else in lots of those that do. */
static void split_by_ballast(struct finder *f, struct lot *body) {
    bool *taken = NEW(f->arena, bool, body->order_count);
    struct lot *parts = NEW(f->arena, struct lot, body->order_count);
    int count = 0;
    for (int i = 0; i < body->order_count; i++)
        if (!taken[i]) {
            struct lot lot = gather(f, body->orders, body->order_count, taken, i, body->to);
            if (lot.order_count > 1) parts[count++] = lot;
        }
    if (count == 1 && parts[0].order_count == body->order_count) {
        body->to = parts[0].to;
        count = 0;
    }
    keep(f, *body);
    for (int i = 0; i < count; i++) keep(f, parts[i]);
}

struct lots lots_of(struct arena *arena, const struct plan_order *orders, int count) {
    struct finder f = {.arena = arena, .orders = orders, .count = count};
    f.lots.items = NEW(arena, struct lot, count + 1);
    int *all = NEW(arena, int, count);
    bool *taken = NEW(arena, bool, count);
    for (int i = 0; i < count; i++) all[i] = i;
    for (int i = 0; i < count; i++) {
        if (taken[i]) continue;
        struct lot lot = gather(&f, all, count, taken, i, -1);
        if (lot.order_count > 1) split_by_ballast(&f, &lot);
    }
    return f.lots;
}

int lots_parted(const struct lots *lots, int order) {
    int step = 0;
    for (int i = 0; i < lots->count; i++)
        for (int k = 0; k < lots->items[i].order_count; k++)
            if (lots->items[i].orders[k] == order && lots->items[i].to > step)
                step = lots->items[i].to;
    return step;
}
