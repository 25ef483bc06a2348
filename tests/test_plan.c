/* Plans of several runs, judged by what they say alone: nothing of the scheduler is used here. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <cmocka.h>

#include "compile.h"
#include "compute/shopping.h"
#include "compute/work/plan.h"

enum { ORDERS = 4 };

static const char *const files[ORDERS] = {"recipes/grebe.yaml", "recipes/grebe-dusk.yaml",
                                          "recipes/grebe-ice.yaml", "recipes/grebe-perch.yaml"};

struct bench {
    struct arena arena;
    struct compilation c[ORDERS];
    struct plan plan;
};

static void plan_them(struct bench *b) {
    struct plan_order orders[ORDERS];
    for (int k = 0; k < ORDERS; k++) {
        b->c[k] = compile_recipe(&b->arena, files[k]);
        assert_false(compilation_failed(&b->c[k]));
        orders[k] = (struct plan_order){b->c[k].recipe, &b->c[k].results.run};
    }
    b->plan = plan_of(&b->arena, orders, ORDERS);
    assert_true(b->plan.feasible);
}

/* With room on the wheel for so many, and so many topcoats that are called differently, by turns.
 * The runs alone stay as they were compiled: with less room none is shorter. */
static void plan_with(struct bench *b, int wheel, int topcoats) {
    static const char *const names[ORDERS] = {"clear", "matt", "satin", "amber"};
    struct plan_order orders[ORDERS];
    for (int k = 0; k < ORDERS; k++) {
        b->c[k] = compile_recipe(&b->arena, files[k]);
        struct recipe *own = NEW(&b->arena, struct recipe, 1);
        struct shop *shop = NEW(&b->arena, struct shop, 1);
        struct finish *finish = NEW(&b->arena, struct finish, 1);
        struct topcoat *topcoat = NEW(&b->arena, struct topcoat, 1);
        *own = *b->c[k].recipe, *shop = *own->shop, *finish = *own->finish;
        *topcoat = *finish->topcoat;
        own->shop = shop, own->finish = finish, finish->topcoat = topcoat;
        shop->wheel = wheel;
        topcoat->name = str_of(names[k % topcoats]);
        orders[k] = (struct plan_order){own, &b->c[k].results.run};
    }
    b->plan = plan_of(&b->arena, orders, ORDERS);
    assert_true(b->plan.feasible);
}

/* Every second of a stint lies in the hours as the recipe writes them. */
static bool in_hours(const struct hours *hours, const struct stint *stint) {
    int64_t from = (stint->from + hours->origin) % hours->cycle;
    for (int i = 0; i < hours->count; i++)
        if (hours->period[i].from <= from && from + stint->to - stint->from <= hours->period[i].to)
            return true;
    return false;
}

static void one_builder_works_in_opening_hours(void **state) {
    (void)state;
    struct bench b = {0};
    plan_them(&b);
    const struct run *all = &b.plan.all;
    for (int i = 0; i < all->stint_count; i++) {
        assert_true(in_hours(&all->hours, &all->stints[i]));
        if (i) assert_true(all->stints[i].from >= all->stints[i - 1].to);
    }
    arena_free(&b.arena);
}

static int loads_of(const struct run *run, int operation) {
    int loads = 0;
    for (int i = 0; i < run->count; i++) loads += run->steps[i].operation == operation;
    return loads;
}

/* Load by load where both operations go by as many, else every load of the one is before every
 * load of the other.  What was laid has waited, and what has a window is in it. */
static void check_link(const struct run *run, const struct precedence *link) {
    bool by_load = loads_of(run, link->before) == loads_of(run, link->after);
    for (int i = 0; i < run->count; i++)
        for (int m = 0; m < run->count; m++) {
            const struct run_step *x = &run->steps[i], *y = &run->steps[m];
            if (x->operation != link->before || y->operation != link->after) continue;
            if (by_load && x->load != y->load) continue;
            const struct operation *o = &run->route.operations[x->operation];
            assert_true(x->end >= x->work_end + llround(o->wait));
            assert_true(y->start >= x->end);
            if (link->within > 0) assert_true((double)(y->start - x->work_end) <= link->within + 1);
        }
}

static void waits_and_windows_are_kept(void **state) {
    (void)state;
    for (int wheel = 2; wheel <= 6; wheel += 2) {
        struct bench b = {0};
        plan_with(&b, wheel, 1);
        for (int k = 0; k < ORDERS; k++) {
            const struct run *run = &b.plan.runs[k];
            for (int n = 0; n < run->route.link_count; n++) check_link(run, &run->route.links[n]);
        }
        arena_free(&b.arena);
    }
}

/* Whether a step's plugs are on the wheel while another one's work begins. */
static bool turns_at(const struct plan *plan, int step, int64_t tick) {
    const struct run_step *s = &plan->all.steps[step];
    const struct operation *o = &plan->runs[plan->owner[step]].route.operations[s->operation];
    double held = o->held < o->wait ? o->held : o->wait;
    return o->station == AT_WHEEL && s->start <= tick &&
           (double)tick < floor((double)s->work_end + held);
}

/* How often plugs of two orders turn at once: with the same topcoat, and with different ones. */
static void count_shared(const struct bench *b, int topcoats, int *same, int *different) {
    const struct plan *plan = &b->plan;
    for (int i = 0; i < plan->all.count; i++)
        for (int m = 0; m < plan->all.count; m++) {
            int64_t tick = plan->all.steps[i].start;
            int x = plan->owner[i], y = plan->owner[m];
            if (x == y || !turns_at(plan, i, tick) || !turns_at(plan, m, tick)) continue;
            ++*(x % topcoats == y % topcoats ? same : different);
        }
}

/* Twice as much room as a run needs: nothing but the topcoat keeps two runs off it at once. */
static void only_plugs_with_the_same_topcoat_share_the_wheel(void **state) {
    (void)state;
    for (int topcoats = 1; topcoats <= ORDERS; topcoats++) {
        struct bench b = {0};
        int same = 0, different = 0;
        plan_with(&b, 24, topcoats);
        count_shared(&b, topcoats, &same, &different);
        assert_int_equal(different, 0);
        if (topcoats == 1) assert_true(same > 0);
        arena_free(&b.arena);
    }
}

static void the_wheel_never_holds_more_than_it_has_room_for(void **state) {
    (void)state;
    struct bench b = {0};
    plan_them(&b);
    const struct run *all = &b.plan.all;
    for (int i = 0; i < all->count; i++) {
        int turning = 0;
        for (int m = 0; m < all->count; m++) {
            const struct run_step *s = &all->steps[m];
            const struct operation *o =
                &b.plan.runs[b.plan.owner[m]].route.operations[s->operation];
            double held = o->held < o->wait ? o->held : o->wait;
            bool on = o->station == AT_WHEEL && s->start <= all->steps[i].start &&
                      (double)all->steps[i].start < floor((double)s->work_end + held);
            if (on) turning += s->plugs;
        }
        assert_true(turning <= b.c[0].recipe->shop->wheel);
    }
    arena_free(&b.arena);
}

static void together_is_done_sooner_than_in_turn(void **state) {
    (void)state;
    struct bench b = {0};
    plan_them(&b);
    assert_true(b.plan.all.makespan < b.plan.in_turn);
    assert_true(b.plan.all.lower_bound <= b.plan.all.makespan);
    for (int k = 0; k < ORDERS; k++) assert_true(b.plan.ends[k] >= b.c[k].results.run.lower_bound);
    arena_free(&b.arena);
}

/* Compiled anew, the last one wanted by the end of a day; the start is 2026-12-05T09:00. */
static void plan_due(struct bench *b, struct moment day) {
    struct plan_order orders[ORDERS];
    for (int k = 0; k < ORDERS; k++) {
        b->c[k] = compile_recipe(&b->arena, files[k]);
        struct recipe *own = NEW(&b->arena, struct recipe, 1);
        *own = *b->c[k].recipe;
        if (k == ORDERS - 1) own->due = day;
        orders[k] = (struct plan_order){own, &b->c[k].results.run};
    }
    b->plan = plan_of(&b->arena, orders, ORDERS);
    assert_true(b->plan.feasible);
}

/* To the midnight after 2 January it is 28 days and 15 hours; alone it takes 21 days. */
static void what_is_due_is_done_by_the_end_of_its_day(void **state) {
    (void)state;
    struct bench b = {0};
    plan_due(&b, (struct moment){.year = 2027, .month = 1, .day = 2, .given = true});
    for (int k = 0; k < ORDERS - 1; k++) assert_int_equal(b.plan.due[k], -1);
    assert_int_equal(b.plan.due[ORDERS - 1], 28 * 86400 + 15 * 3600);
    assert_true(b.plan.ends[ORDERS - 1] <= b.plan.due[ORDERS - 1]);
    assert_true(b.plan.lateness == 0);
    arena_free(&b.arena);
}

/* Wanted before it was begun: late it is, by no less than it takes alone. */
static void what_was_due_yesterday_is_late_by_what_it_takes(void **state) {
    (void)state;
    struct bench b = {0};
    plan_due(&b, (struct moment){.year = 2026, .month = 12, .day = 3, .given = true});
    const double alone = (double)b.c[ORDERS - 1].results.run.lower_bound / 3600;
    assert_int_equal(b.plan.due[ORDERS - 1], 0);
    assert_true(fabs(b.plan.least_late - alone) < 1e-6);
    assert_true(fabs(b.plan.lateness - (double)b.plan.ends[ORDERS - 1] / 3600) < 1e-6);
    assert_true(b.plan.lateness >= b.plan.least_late - 1e-6);
    arena_free(&b.arena);
}

/* By kind of material and unit, and in money: without a stock nothing is taken off. */
static void check_list(struct arena *arena, const char *const *recipes) {
    const struct results *runs[ORDERS];
    double orders[5][5] = {{0}}, list[5][5] = {{0}}, cost = 0;
    for (int k = 0; k < ORDERS; k++) {
        struct compilation *c = NEW(arena, struct compilation, 1);
        *c = compile_recipe(arena, recipes[k]);
        assert_false(compilation_failed(c));
        runs[k] = &c->results;
        const struct supply *supply = &runs[k]->supply;
        for (int i = 0; i < supply->count; i++)
            orders[supply->rows[i].group][supply->rows[i].unit] += supply->rows[i].run;
        assert_true(supply->priced);
        cost += supply->cost;
    }
    struct shopping all = shopping_of(arena, runs, ORDERS);
    assert_false(all.stocked);
    for (int i = 0; i < all.count; i++)
        list[all.rows[i].group][all.rows[i].unit] += all.rows[i].amount;
    for (int g = 0; g < 5; g++)
        for (int u = 0; u < 5; u++)
            assert_true(fabs(list[g][u] - orders[g][u]) <= 1e-12 * (1 + orders[g][u]));
    assert_true(fabs(all.to_pay - cost) <= 1e-9 * cost);
}

static void the_list_is_the_sum_of_the_orders(void **state) {
    (void)state;
    static const char *const neighbours[ORDERS] = {"recipes/bittern.yaml", "recipes/dipper.yaml",
                                                   "recipes/gannet.yaml", "recipes/skua.yaml"};
    struct arena arena = {0};
    check_list(&arena, files);      /* colours of one plug */
    check_list(&arena, neighbours); /* four plugs of one workshop */
    arena_free(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_builder_works_in_opening_hours),
        cmocka_unit_test(waits_and_windows_are_kept),
        cmocka_unit_test(only_plugs_with_the_same_topcoat_share_the_wheel),
        cmocka_unit_test(the_wheel_never_holds_more_than_it_has_room_for),
        cmocka_unit_test(together_is_done_sooner_than_in_turn),
        cmocka_unit_test(the_list_is_the_sum_of_the_orders),
        cmocka_unit_test(what_is_due_is_done_by_the_end_of_its_day),
        cmocka_unit_test(what_was_due_yesterday_is_late_by_what_it_takes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
