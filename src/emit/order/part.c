/* What the chapters share: figures, values in the shop's units, days and hours, steps by number. */
#include <math.h>
#include <string.h>

#include "base/clock.h"
#include "compute/work/sitting.h"
#include "emit/order/inner.h"
#include "emit/words/size.h"

bool order_figures(struct order *order, enum figure_kind kind) {
    bool any = false;
    for (int i = 0; i < order->figures->count; i++) {
        const struct figure *figure = &order->figures->figures[i];
        if (figure->kind != kind) continue;
        md_figure(&order->md, figure->file, figure->title);
        any = true;
    }
    return any;
}

const char *order_length(const struct order *order, double metres) {
    return measure_length(order->arena, metres, order->units);
}

const char *order_fine(const struct order *order, double metres) {
    return measure_fine(order->arena, metres, order->units);
}

const char *order_mass(const struct order *order, double kg) {
    return measure_mass(order->arena, kg, order->units);
}

const char *order_volume(const struct order *order, double m3) {
    return measure_volume(order->arena, m3, order->units);
}

const char *order_solid(const struct order *order, double m3) {
    return measure_solid(order->arena, m3, order->units);
}

const char *order_position(const struct order *order, struct position position) {
    return order_length(order, position_in(position, order->recipe->body->length));
}

const char *order_piece(const struct order *order, const struct piece *piece) {
    return size_of_piece(order->arena, order->recipe, piece);
}

const char *order_mark(const struct order *order, const struct water_mark *mark) {
    if (mark->on == MARK_NONE) return name_marks[MARK_NONE];
    return arena_printf(order->arena, "%s %s", name_marks[mark->on], order_length(order, mark->at));
}

const char *order_speed(const struct order *order, double speed) {
    const char *fast = measure_speed(order->arena, fabs(speed), order->units);
    if (!(speed < 0)) return arena_printf(order->arena, "rises at %s", fast);
    return arena_printf(order->arena, "sinks at %s, %s", fast,
                        measure_pace(order->arena, speed, order->units));
}

/* Nobody waits to the minute: 1 min up to an hour, 5 min up to six, a quarter beyond. */
static double wait_step(double seconds) {
    return seconds <= 3600 ? 60 : seconds <= 6 * 3600 ? 5 * 60 : 15 * 60;
}

const char *order_wait(const struct order *order, double seconds) {
    double step = wait_step(seconds);
    return measure_time(order->arena, ceil(seconds / step - 1e-6) * step);
}

const char *order_limit(const struct order *order, double seconds) {
    double step = wait_step(seconds);
    return measure_time(order->arena, floor(seconds / step + 1e-6) * step);
}

const char *order_count(const struct order *order, int count, const char *one, const char *many) {
    return arena_printf(order->arena, "%d %s", count, count == 1 ? one : many);
}

int64_t order_day_number(const struct order *order, int64_t seconds) {
    return sitting_day(&order->results->run, seconds);
}

bool order_has_days(const struct order *order) {
    return sitting_has_days(order->recipe);
}

static const char *day(const struct order *order, int64_t seconds, bool whole) {
    const struct shop *shop = order->recipe->shop;
    int number = (int)order_day_number(order, seconds);
    if (shop->start.given) {
        struct moment moment = moment_after(shop->start, seconds);
        return whole ? measure_date_long(order->arena, moment) : measure_date(order->arena, moment);
    }
    const char *weekday = measure_weekday(number % WEEKDAYS);
    return arena_printf(order->arena, "%.*s of week %d", whole ? (int)strlen(weekday) : 3, weekday,
                        number / WEEKDAYS + 1);
}

const char *order_day(const struct order *order, int64_t seconds) {
    return day(order, seconds, false);
}

const char *order_day_long(const struct order *order, int64_t seconds) {
    return day(order, seconds, true);
}

const char *order_clock(const struct order *order, int64_t seconds) {
    int64_t of_week = order->results->run.hours.origin + seconds + SECONDS_OF_WEEK; /* or before */
    int minutes = (int)(of_week % SECONDS_OF_DAY / 60);
    return measure_clock(order->arena,
                         (struct moment){.hour = minutes / 60, .minute = minutes % 60});
}

const char *order_moment(const struct order *order, int64_t seconds) {
    if (!order_has_days(order))
        return arena_printf(order->arena, "hour %s", measure_hour(order->arena, (double)seconds));
    return arena_printf(order->arena, "%s, %s", order_day(order, seconds),
                        order_clock(order, seconds));
}

int order_step_number(const struct order *order, int operation) {
    const struct route *route = &order->results->run.route;
    int number = 0;
    for (int i = 0; i <= operation; i++) number += !route->operations[i].skipped;
    return route->operations[operation].skipped ? 0 : number;
}

/* The last of the wanted numbers that follow `first` without a gap. */
static int end_of_range(const bool *wanted, int first, int most) {
    int last = first;
    while (last < most && wanted[last + 1]) last++;
    return last;
}

const char *order_steps_named(const struct order *order, const bool *wanted, const char *one,
                              const char *many) {
    int most = order->results->run.route.count, count = 0, highest = 0, shown = 0;
    struct buf text = {.arena = order->arena};
    for (int i = 1; i <= most; i++) {
        if (!wanted[i]) continue;
        count++;
        highest = i;
    }
    buf_text(&text, count == 1 ? one : many);
    for (int i = 1; i <= most; i++) {
        if (!wanted[i]) continue;
        int last = end_of_range(wanted, i, most);
        if (last < i + 2) last = i; /* two in a row are listed */
        buf_text(&text, !shown++ ? " " : last == highest ? " and " : ", ");
        buf_printf(&text, last > i ? "%d to %d" : "%d", i, last);
        i = last;
    }
    return text.data;
}

const char *order_steps_with(const struct order *order, unsigned bit, const char *one,
                             const char *many) {
    const struct route *route = &order->results->run.route;
    bool *numbers = NEW(order->arena, bool, route->count + 1);
    for (int i = 0; i < route->count; i++) {
        const struct operation *operation = &route->operations[i];
        if (operation->skipped || operation->done || !(operation->cautions & bit)) continue;
        numbers[order_step_number(order, i)] = true;
    }
    return order_steps_named(order, numbers, one, many);
}
