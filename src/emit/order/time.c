/* The run as a person plans it: sitting by sitting, which steps, for which plugs, and what must not
 * be begun later.  A sitting is the work inside one opening of the shop; where only the start is
 * known, the work of one day; where not even that is, work without a pause, by the hours since the
 * run began.
 */
#include "emit/order/inner.h"

#include <limits.h>

#include "compute/work/sitting.h"

enum { QUARTER = 15 * 60 }; /* of an hour, s */

/* --- one line ------------------------------------------------------------------------------- */

/* The time alone where it is on the day of `from`, with its weekday within a week, else with its
 * date. */
static const char *until(const struct order *order, int64_t from, int64_t to) {
    if (!order_has_days(order)) return order_moment(order, to);
    int64_t days = order_day_number(order, to) - order_day_number(order, from);
    if (!days) return order_clock(order, to);
    if (days > 6) return order_moment(order, to);
    return arena_printf(order->arena, "%.3s %s", order_day(order, to), order_clock(order, to));
}

/* " (plugs 7 to 9)", where it is not all of them. */
static void add_plugs(struct order *order, const struct stint *stint) {
    struct plug_range plugs = sitting_plugs(&order->results->run, stint);
    if (plugs.first == 1 && plugs.last == order->recipe->make) return;
    if (plugs.first == plugs.last)
        md_add(&order->md, " (plug %d)", plugs.first);
    else
        md_add(&order->md,
               plugs.last == plugs.first + 1 ? " (plugs %d and %d)" : " (plugs %d to %d)",
               plugs.first, plugs.last);
}

/* On a sheet of quarter hours: an end so that even short work has one, a limit so that it is kept.
 */
static int64_t quarter_up(int64_t seconds) {
    return (seconds + QUARTER - 1) / QUARTER * QUARTER;
}

static int64_t quarter_down(int64_t seconds) {
    return seconds / QUARTER * QUARTER;
}

/* "33 (plugs 1 to 4), **begin by Sun 12:55**" */
static void add_stint(struct order *order, const struct stint *stint) {
    const struct run_step *step = &order->results->run.steps[stint->step];
    struct md *md = &order->md;
    md_add(md, "%d", order_step_number(order, step->operation));
    add_plugs(order, stint);
    if (step->latest < 0 || stint->from != step->start) return;
    int64_t latest = order_has_days(order) ? step->latest : quarter_down(step->latest);
    md_add(md, " **begin by %s**", until(order, stint->from, latest));
}

/* --- the plan ------------------------------------------------------------------------------- */

/* "Sat 5 Dec, 09:00" */
static void when_cell(struct order *order, const struct sitting *sitting) {
    const struct stint *stints = order->results->run.stints;
    struct md *md = &order->md;
    int64_t from = stints[sitting->first].from, to = stints[sitting->end - 1].to;
    if (order_has_days(order))
        md_cell(md, "%s", order_moment(order, from));
    else
        md_cell(md, "hour %s to %s", measure_hour(order->arena, (double)from),
                measure_hour(order->arena, (double)quarter_up(to)));
}

void order_sittings(struct order *order, int most) {
    static const struct md_column columns[] = {
        {"", MD_CENTRE}, {"When", MD_LEFT}, {"Bench", MD_RIGHT}, {"Steps", MD_LEFT}};
    const struct run *run = &order->results->run;
    struct md *md = &order->md;
    int shown = 0;
    md_table(md, columns, 4);
    for (int i = 0; i < run->stint_count && shown < most; shown++) {
        struct sitting sitting = sitting_from(order->recipe, run, i);
        md_cell(md, "\xe2\x98\x90");
        when_cell(order, &sitting);
        md_cell(md, "%s", measure_time(order->arena, (double)sitting.hands_on));
        md_open_cell(md);
        for (; i < sitting.end; i++) {
            if (i > sitting.first) md_add(md, ", ");
            add_stint(order, &run->stints[i]);
        }
        md_end_cell(md);
    }
    md_table_end(md);
    int left = sitting_count(order->recipe, run) - shown;
    if (left > 0)
        md_para(md, "%s more: see Timeline.", order_count(order, left, "sitting", "sittings"));
}

/* What the hours count from, and that they run on while nobody works. */
void order_hours_note(struct order *order) {
    if (order_has_days(order)) return;
    md_para(&order->md,
            "The recipe gives no `shop.start`, so hours count from the beginning of the run, "
            "day and night: hour 24 is the same time of the next day. A wait may last longer "
            "unless a step says otherwise; what follows then moves with it.");
}

void order_timeline(struct order *order) {
    if (!order->results->run.feasible || order_sittings_on_card(order)) return;
    md_heading(&order->md, 2, "Timeline");
    order_figures(order, FIGURE_TIMELINE);
    order_sittings(order, INT_MAX);
}
