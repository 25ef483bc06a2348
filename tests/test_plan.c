/* Plans of several runs, judged by what they say alone: nothing of the scheduler is used here. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <cmocka.h>

#include "compile.h"
#include "compute/implied.h"
#include "compute/shopping.h"
#include "compute/work/plan.h"
#include "model/colourway.h"
#include "validate_plan.h"

enum { ORDERS = 4 };

static const char *const files[ORDERS] = {"recipes/grebe.yaml", "recipes/grebe-dusk.yaml",
                                          "recipes/grebe-ice.yaml", "recipes/grebe-perch.yaml"};

struct bench {
    struct arena arena;
    struct compilation c[ORDERS];
    struct plan plan;
};

/* As if no two bodies were the same. */
static struct plan_order order_of(const struct bench *b, int k, const struct recipe *recipe) {
    return (struct plan_order){.recipe = recipe, .alone = &b->c[k].results.run};
}

static void plan_them(struct bench *b) {
    struct plan_order orders[ORDERS];
    for (int k = 0; k < ORDERS; k++) {
        b->c[k] = compile_recipe(&b->arena, files[k]);
        assert_false(compilation_failed(&b->c[k]));
        orders[k] = order_of(b, k, b->c[k].recipe);
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
        orders[k] = order_of(b, k, own);
    }
    b->plan = plan_of(&b->arena, orders, ORDERS);
    assert_true(b->plan.feasible);
}

static int loads_of(const struct run *run, int operation) {
    int loads = 0;
    for (int i = 0; i < run->count; i++) loads += run->steps[i].operation == operation;
    return loads;
}

/* The judge takes the plan's orders for what it was made of. */
static const char *judged(const struct bench *b) {
    struct plan_order orders[ORDERS];
    for (int k = 0; k < ORDERS; k++) orders[k] = order_of(b, k, b->c[k].recipe);
    return validate_plan(&b->plan, orders, ORDERS);
}

static void hours_waits_and_windows_are_kept(void **state) {
    (void)state;
    for (int wheel = 2; wheel <= 6; wheel += 2) {
        struct bench b = {0};
        plan_with(&b, wheel, 1);
        assert_null(judged(&b));
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
        orders[k] = order_of(b, k, own);
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

/* --- lots ------------------------------------------------------------------------------------ */

/* All four have the base's body; the third and the fourth are for colder and warmer water. */
struct colourways {
    struct arena arena;
    struct compilation c[ORDERS];
    struct recipe recipe[ORDERS];
    double loads[ORDERS][MAX_BORES];
    struct plan_order orders[ORDERS];
    struct plan plan;
};

static struct walk facts_of(struct colourways *w, int k, const struct recipe *recipe) {
    return (struct walk){.arena = &w->arena,
                         .recipe = recipe,
                         .implied = implied_values(&w->arena, &w->c[k].results)};
}

static const char *body_of(struct colourways *w, int k, const struct recipe *recipe) {
    struct walk walk = facts_of(w, k, recipe);
    return colourway_body(&walk);
}

static const char *floating_of(struct colourways *w, int k, const struct recipe *recipe) {
    struct walk walk = facts_of(w, k, recipe);
    return colourway_floating(&walk);
}

static void colourways_of(struct colourways *w) {
    for (int k = 0; k < ORDERS; k++) {
        w->c[k] = compile_recipe(&w->arena, files[k]);
        assert_false(compilation_failed(&w->c[k]));
        w->recipe[k] = *w->c[k].recipe;
        const struct ballast_result *ballast = &w->c[k].results.ballast;
        for (int i = 0; i < ballast->bore_count; i++) w->loads[k][i] = ballast->fills[i].load;
        w->orders[k] = (struct plan_order){.recipe = &w->recipe[k],
                                           .alone = &w->c[k].results.run,
                                           .body = body_of(w, k, w->c[k].recipe),
                                           .floating = floating_of(w, k, w->c[k].recipe),
                                           .loads = w->loads[k]};
    }
}

static void plan_colourways(struct colourways *w) {
    w->plan = plan_of(&w->arena, w->orders, ORDERS);
    assert_true(w->plan.feasible);
}

static int place_of(const struct run *run, enum operation_key key) {
    for (int i = 0; i < run->route.count; i++)
        if (run->route.operations[i].key == key) return i;
    return -1;
}

static void one_body_is_shaped_together_and_one_ballast_set_together(void **state) {
    (void)state;
    struct colourways w = {0};
    colourways_of(&w);
    plan_colourways(&w);
    assert_int_equal(w.plan.lots.count, 2);
    const struct lot *body = &w.plan.lots.items[0], *ballasted = &w.plan.lots.items[1];
    assert_int_equal(body->order_count, ORDERS);
    assert_int_equal(body->plugs, 6 + 6 + 4 + 6);
    assert_int_equal(body->from, 0);
    assert_int_equal(body->to, place_of(w.orders[0].alone, OPERATION_bore_ballast));
    assert_int_equal(ballasted->order_count, 2);
    assert_int_equal(ballasted->plugs, 12);
    assert_int_equal(ballasted->from, body->to);
    assert_int_equal(ballasted->to, place_of(w.orders[0].alone, OPERATION_colour));
    arena_free(&w.arena);
}

static void every_step_is_done_once_and_in_order(void **state) {
    (void)state;
    struct colourways w = {0};
    colourways_of(&w);
    plan_colourways(&w);
    assert_null(validate_plan(&w.plan, w.orders, ORDERS));
    arena_free(&w.arena);
}

/* A judge that finds nothing wrong with anything is none. */
static void the_judge_sees_what_is_wrong(void **state) {
    (void)state;
    struct colourways w = {0};
    colourways_of(&w);
    plan_colourways(&w);
    struct run *all = &w.plan.all, *lot = &w.plan.runs[ORDERS];
    all->stints[3].from -= 3600;
    assert_non_null(validate_plan(&w.plan, w.orders, ORDERS));
    all->stints[3].from += 3600;
    lot->steps[1].plugs--;
    assert_non_null(validate_plan(&w.plan, w.orders, ORDERS));
    lot->steps[1].plugs++;
    lot->steps[lot->count - 1].end += 40 * 86400;
    assert_non_null(validate_plan(&w.plan, w.orders, ORDERS));
    lot->steps[lot->count - 1].end -= 40 * 86400;
    assert_null(validate_plan(&w.plan, w.orders, ORDERS));
    arena_free(&w.arena);
}

/* What is saved is setting up: once a lot instead of once a run, and of a coat that is laid load by
 * load as often as there are fewer loads. */
static void a_lot_is_set_up_once(void **state) {
    (void)state;
    struct colourways w = {0};
    colourways_of(&w);
    plan_colourways(&w);
    double hands_on = 0;
    for (int k = 0; k < ORDERS; k++) hands_on += (double)w.orders[k].alone->hands_on;
    for (int i = 0; i < w.plan.lots.count; i++) {
        const struct lot *lot = &w.plan.lots.items[i];
        for (int step = lot->from; step < lot->to; step++) {
            int loads = -loads_of(&w.plan.runs[ORDERS + i], step);
            for (int k = 0; k < lot->order_count; k++)
                loads += loads_of(w.orders[lot->orders[k]].alone, step);
            hands_on -= loads * w.orders[0].alone->route.operations[step].fixed;
        }
    }
    for (int i = 0; i < w.plan.all.count; i++) hands_on -= (double)w.plan.all.steps[i].spared;
    assert_true(fabs(hands_on - (double)w.plan.all.hands_on) <= w.plan.all.count);
    arena_free(&w.arena);
}

static const struct layer *layer_at(const struct colourways *w, int step) {
    const struct plan *plan = &w->plan;
    int order = plan->owner[step];
    const struct operation *o =
        &plan->runs[order].route.operations[plan->all.steps[step].operation];
    if (o->key != OPERATION_colour) return NULL;
    return &w->recipe[order].finish->paint->layers[o->number - 1];
}

/* What is not cleaned for begins as the same colour ends, and is shorter by 5 min (FACT_CLEANING)
 * than it is alone. */
static void the_airbrush_is_cleaned_between_colours_and_not_within_one(void **state) {
    (void)state;
    struct colourways w = {0};
    colourways_of(&w);
    plan_colourways(&w);
    int spared = 0;
    for (int i = 0; i < w.plan.all.count; i++) {
        const struct run_step *step = &w.plan.all.steps[i];
        const struct layer *layer = layer_at(&w, i);
        if (!step->spared) continue;
        bool behind = false;
        for (int m = 0; m < w.plan.all.count; m++) {
            const struct layer *other = layer_at(&w, m);
            behind = behind || (other && str_equal(other->colour, layer->colour) &&
                                w.plan.all.steps[m].work_end == step->start);
        }
        assert_true(behind);
        assert_int_equal(step->spared, 5 * 60);
        const struct run *alone = w.orders[w.plan.owner[i]].alone;
        for (int m = 0; m < alone->count; m++)
            if (alone->steps[m].operation == step->operation && alone->steps[m].load == step->load)
                assert_int_equal(alone->steps[m].hands_on - 5 * 60, step->hands_on);
        spared++;
    }
    assert_true(spared > 0);
    arena_free(&w.arena);
}

/* The white ground of all is one paint, thinned alike: called or thinned otherwise in each, it is
 * cleaned away. */
static void a_colour_that_is_thinned_otherwise_is_another(void **state) {
    (void)state;
    struct colourways w = {0};
    colourways_of(&w);
    for (int k = 0; k < ORDERS; k++) {
        struct finish *finish = NEW(&w.arena, struct finish, 1);
        struct paint *paint = NEW(&w.arena, struct paint, 1);
        *finish = *w.recipe[k].finish, *paint = *finish->paint;
        paint->thin.second += k;
        finish->paint = paint, w.recipe[k].finish = finish;
    }
    plan_colourways(&w);
    for (int i = 0; i < w.plan.all.count; i++) assert_int_equal(w.plan.all.steps[i].spared, 0);
    arena_free(&w.arena);
}

/* The balance tells 0.1 g apart (FACT_BALANCE_DOUBT): 0.04 g more is the same load, 0.06 g not. */
static void loads_are_the_same_where_the_balance_cannot_tell(void **state) {
    (void)state;
    struct colourways w = {0};
    colourways_of(&w);
    for (int i = 0; i < MAX_BORES; i++) w.loads[1][i] = w.loads[0][i];
    w.loads[1][0] += 0.04e-3;
    plan_colourways(&w);
    assert_int_equal(w.plan.lots.count, 2);
    w.loads[1][0] += 0.02e-3;
    plan_colourways(&w);
    assert_int_equal(w.plan.lots.count, 1);
    arena_free(&w.arena);
}

static void other_wood_is_another_body(void **state) {
    (void)state;
    struct colourways w = {0};
    colourways_of(&w);
    struct wood wood = *w.recipe[1].wood;
    wood.moisture += 0.01;
    w.recipe[1].wood = &wood;
    w.orders[1].body = body_of(&w, 1, &w.recipe[1]);
    plan_colourways(&w);
    assert_int_equal(w.plan.lots.count, 1);
    assert_int_equal(w.plan.lots.items[0].order_count, ORDERS - 1);
    assert_int_equal(w.plan.runs[1].count, w.orders[1].alone->count);
    arena_free(&w.arena);
}

/* Name, note, number, rank, prices, colours and topcoat are the colourway's own. */
static void a_name_and_a_topcoat_are_no_part_of_the_body(void **state) {
    (void)state;
    struct colourways w = {0};
    colourways_of(&w);
    struct finish finish = *w.recipe[0].finish;
    struct topcoat topcoat = *finish.topcoat;
    struct recipe other = w.recipe[0];
    topcoat.coats++, topcoat.name = str_of("matt");
    finish.topcoat = &topcoat, other.finish = &finish;
    other.name = str_of("another"), other.note = str_of("a word"), other.make = 9, other.rank = 3;
    assert_string_equal(body_of(&w, 0, &other), w.orders[0].body);
    assert_string_equal(floating_of(&w, 0, &other), w.orders[0].floating);
    other.lip = NULL;
    assert_string_not_equal(body_of(&w, 0, &other), w.orders[0].body);
    arena_free(&w.arena);
}

/* Wanted at the end of the day on which it is done alone, it cannot wait for the others' bodies. */
static void what_would_be_late_with_the_others_is_worked_by_itself(void **state) {
    (void)state;
    struct colourways w = {0};
    colourways_of(&w);
    struct moment done = moment_after(w.recipe[3].shop->start, w.orders[3].alone->makespan);
    w.recipe[3].due =
        (struct moment){.year = done.year, .month = done.month, .day = done.day, .given = true};
    plan_colourways(&w);
    assert_true(w.plan.parted);
    assert_int_equal(w.plan.lots.count, 0);
    assert_true(w.plan.lateness == 0);
    assert_true(w.plan.ends[3] <= w.plan.due[3]);
    arena_free(&w.arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(hours_waits_and_windows_are_kept),
        cmocka_unit_test(only_plugs_with_the_same_topcoat_share_the_wheel),
        cmocka_unit_test(the_wheel_never_holds_more_than_it_has_room_for),
        cmocka_unit_test(together_is_done_sooner_than_in_turn),
        cmocka_unit_test(the_list_is_the_sum_of_the_orders),
        cmocka_unit_test(what_is_due_is_done_by_the_end_of_its_day),
        cmocka_unit_test(what_was_due_yesterday_is_late_by_what_it_takes),
        cmocka_unit_test(one_body_is_shaped_together_and_one_ballast_set_together),
        cmocka_unit_test(every_step_is_done_once_and_in_order),
        cmocka_unit_test(the_judge_sees_what_is_wrong),
        cmocka_unit_test(a_lot_is_set_up_once),
        cmocka_unit_test(the_airbrush_is_cleaned_between_colours_and_not_within_one),
        cmocka_unit_test(a_colour_that_is_thinned_otherwise_is_another),
        cmocka_unit_test(loads_are_the_same_where_the_balance_cannot_tell),
        cmocka_unit_test(other_wood_is_another_body),
        cmocka_unit_test(a_name_and_a_topcoat_are_no_part_of_the_body),
        cmocka_unit_test(what_would_be_late_with_the_others_is_worked_by_itself),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
