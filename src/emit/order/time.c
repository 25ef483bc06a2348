/* The run as a person plans it: sitting by sitting, what to do, for which plugs, and until when to
 * leave it then.  A sitting is the work inside one opening of the shop; where only the start is
 * known, the work of one day; where not even that is, work without a pause, by the hours since the
 * run began.
 */
#include "emit/order/inner.h"

#include "compute/rework.h"
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

/* ", plugs 7 to 9", where it is not all of them. */
static void add_plugs(struct order *order, const struct stint *stint) {
    struct plug_range plugs = sitting_plugs(&order->results->run, stint);
    if (plugs.first == 1 && plugs.last == order->recipe->make) return;
    if (plugs.first == plugs.last)
        md_add(&order->md, ", plug %d", plugs.first);
    else
        md_add(&order->md, plugs.last == plugs.first + 1 ? ", plugs %d and %d" : ", plugs %d to %d",
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

static void stint_task(struct order *order, const struct stint *stint) {
    const struct run_step *step = &order->results->run.steps[stint->step];
    struct md *md = &order->md;
    md_open_task(md);
    if (order_has_days(order)) md_add(md, "%s ", order_clock(order, stint->from));
    md_add(md, "**%d. %s**", order_step_number(order, step->operation),
           order->words[step->operation].title);
    add_plugs(order, stint);
    md_add(md, ", %s", measure_time(order->arena, (double)(stint->to - stint->from)));
    if (step->latest >= 0 && stint->from == step->start) {
        int64_t latest = order_has_days(order) ? step->latest : quarter_down(step->latest);
        md_add(md, "; **begin by %s**", until(order, stint->from, latest));
    }
    if (stint->last && step->end > step->work_end) {
        md_add(md, "; then leave it until %s", until(order, stint->from, step->end));
    }
    md_end(md);
}

/* --- the plan ------------------------------------------------------------------------------- */

/* A day's end is 24:00, not the next day's 0:00. */
static const char *closing_time(const struct order *order, const struct period *opening) {
    int64_t midnight = order_day_number(order, opening->from) * SECONDS_OF_DAY;
    int64_t end = order->results->run.hours.origin + opening->to - midnight;
    return measure_clock(
        order->arena, (struct moment){.hour = (int)(end / 3600), .minute = (int)(end / 60 % 60)});
}

static void sitting_head(struct order *order, const struct sitting *sitting) {
    const struct period *opening = &sitting->opening;
    const struct stint *stints = order->results->run.stints;
    if (!order_has_days(order)) {
        md_heading(&order->md, 4, "Hour %s to %s",
                   measure_hour(order->arena, (double)stints[sitting->first].from),
                   measure_hour(order->arena, (double)quarter_up(stints[sitting->end - 1].to)));
        md_para(&order->md, "%s at the bench",
                measure_time(order->arena, (double)sitting->hands_on));
        return;
    }
    const char *day = order_day_long(order, stints[sitting->first].from);
    if (opening->to > opening->from)
        md_heading(&order->md, 4, "%s, %s to %s", day, order_clock(order, opening->from),
                   closing_time(order, opening));
    else
        md_heading(&order->md, 4, "%s", day);
    md_para(&order->md, "%s at the bench", measure_time(order->arena, (double)sitting->hands_on));
}

static void plan(struct order *order) {
    const struct run *run = &order->results->run;
    md_heading(&order->md, 3, "Sitting by sitting");
    for (int i = 0; i < run->stint_count;) {
        struct sitting sitting = sitting_from(order->recipe, run, i);
        sitting_head(order, &sitting);
        for (; i < sitting.end; i++) stint_task(order, &run->stints[i]);
    }
}

/* "21 h 28 min at the bench in 13 sittings, 3 h 35 min a plug." */
static void sums(struct order *order) {
    const struct run *run = &order->results->run;
    struct arena *arena = order->arena;
    struct sittings sittings = rework_sittings(arena, order->results);
    struct md *md = &order->md;
    md_open_para(md);
    md_add(md, "%s at the bench in %s", measure_time(arena, (double)run->hands_on),
           sittings.by_hours ? order_count(order, sittings.all, "sitting", "sittings")
                             : order_count(order, sittings.all, "day", "days"));
    if (order->recipe->make > 1) {
        md_add(md, ", %s a plug", measure_time(arena, (double)run->hands_on / order->recipe->make));
    }
    md_add(md,
           "; %s from the first step to the last. One plug alone, in a shop that is never "
           "closed, takes %s.",
           measure_time(arena, (double)run->makespan),
           measure_time(arena, order->results->length_of_one));
    if (order->recipe->shop->start.given) {
        md_add(md, " The file `run.ics` beside this order holds the same sittings for a calendar.");
    }
    md_end(md);
}

/* What the hours count from, and that they run on while nobody works. */
static void hours_note(struct order *order) {
    if (order_has_days(order)) return;
    md_para(&order->md,
            "The recipe gives no `shop.start`, so hours count from the beginning of the run, "
            "day and night: hour 24 is the same time of the next day. A wait may last longer "
            "unless a step says otherwise; what follows then moves with it.");
}

void order_timeline(struct order *order) {
    md_heading(&order->md, 2, "Timeline");
    if (!order->results->run.feasible) {
        md_para(&order->md, "This run does not fit into the shop's opening hours.");
        return;
    }
    sums(order);
    hours_note(order);
    order_figures(order, FIGURE_TIMELINE);
    plan(order);
}
