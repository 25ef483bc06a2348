/* The run by the clock: one line for every step of every load. */
#include "emit/order_part.h"

static const char *plugs_of(const struct order *order, const struct run_step *step) {
    const char *plugs = order_count(order, step->plugs, "plug", "plugs");
    if (!step->load) return plugs;
    return arena_printf(order->arena, "load %d: %s", step->load, plugs);
}

/* The time alone where it is on the day of `from`, with its weekday within a week, else with its
 * date. */
static const char *until(const struct order *order, int64_t from, int64_t to) {
    int64_t days = order_day_number(order, to) - order_day_number(order, from);
    if (!days) return order_clock(order, to);
    const struct shop *shop = order->recipe->shop;
    if (days > 6 || !(shop->start.given || shop->open.given)) return order_moment(order, to);
    return arena_printf(order->arena, "%.3s %s", order_day(order, to), order_clock(order, to));
}

static void step_cell(struct order *order, const struct run_step *step) {
    const struct route *route = &order->results->route;
    struct md *md = &order->md;
    const char *title = route->operations[step->operation].title;
    int number = order_step_number(order, step->operation);
    if (step->latest < 0) {
        md_cell(md, "%d. %s", number, title);
    } else {
        md_cell(md, "%d. %s; begin by %s", number, title, until(order, step->start, step->latest));
    }
}

static bool any_load(const struct run *run) {
    for (int i = 0; i < run->count; i++) {
        if (run->steps[i].load > 1) return true;
    }
    return false;
}

static void run_table(struct order *order) {
    static const struct md_column columns[] = {{"Day", MD_LEFT},  {"From", MD_LEFT},
                                               {"To", MD_LEFT},   {"Then leave until", MD_LEFT},
                                               {"Step", MD_LEFT}, {"For", MD_LEFT}};
    const struct run *run = &order->results->run;
    struct md *md = &order->md;
    bool loads = any_load(run);
    int64_t last_day = -1;
    md_table(md, columns, loads ? 6 : 5);
    for (int i = 0; i < run->count; i++) {
        const struct run_step *step = &run->steps[i];
        if (order->results->route.operations[step->operation].skipped) continue;
        int64_t day = order_day_number(order, step->start);
        if (day != last_day)
            md_cell(md, "**%s**", order_day(order, step->start));
        else
            md_skip(md);
        last_day = day;
        md_cell(md, "%s", order_clock(order, step->start));
        md_cell(md, "%s", until(order, step->start, step->work_end));
        if (step->end > step->work_end)
            md_cell(md, "%s", until(order, step->start, step->end));
        else
            md_skip(md);
        step_cell(order, step);
        if (loads) md_cell(md, "%s", plugs_of(order, step));
    }
    md_table_end(md);
}

void order_timeline(struct order *order) {
    const struct run *run = &order->results->run;
    struct md *md = &order->md;
    md_heading(md, 2, "Timeline");
    if (!run->feasible) {
        md_para(md, "This run does not fit into the shop's opening hours.");
        return;
    }
    md_para(md,
            "%s at the bench in all; %s from the first step to the last. One plug alone takes %s.",
            measure_time(order->arena, (double)run->hands_on),
            measure_time(order->arena, (double)run->makespan),
            measure_time(order->arena, order->results->length_of_one));
    run_table(order);
    order_figures(order, FIGURE_TIMELINE);
}
