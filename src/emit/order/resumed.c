/* A run that goes on after some of its steps: what the plan takes for granted, and what would bring
 * its end forward.
 */
#include "emit/order/inner.h"

const char *order_box(const struct operation *operation) {
    return operation->done ? ORDER_TICKED : "\xe2\x98\x90";
}

/* The steps that are done: "step 1", "steps 1 to 9 and 12"; NULL: none. */
static const char *steps_done(const struct order *order) {
    const struct route *route = &order->results->run.route;
    bool *numbers = NEW(order->arena, bool, route->count + 1), any = false;
    for (int i = 0; i < route->count; i++)
        if (route->operations[i].done && !route->operations[i].skipped)
            numbers[order_step_number(order, i)] = any = true;
    return any ? order_steps_named(order, numbers, "step", "steps") : NULL;
}

bool order_goes_on(const struct order *order) {
    return order->results->resumed.given && steps_done(order) != NULL;
}

/* The first scuffing that the run did not have before; 0: none. */
static int scuffed_anew(const struct order *order) {
    const struct route *route = &order->results->run.route;
    for (int i = 0; i < route->count; i++)
        if (route->operations[i].anew) return order_step_number(order, i);
    return 0;
}

/* "Mon 25 Jan, 19:00 to 21:30, would bring the end forward most: by 3 d 14 h"; NULL: without hours
 * there is nothing to open. */
static const char *extra_told(const struct order *order) {
    const struct extra_opening *extra = &order->results->resumed.extra;
    if (!extra->tried) return NULL;
    if (extra->gain <= 0)
        return extra->proven ? "none would bring the end forward"
                             : "none was found that would bring the end forward";
    return arena_printf(order->arena, "%s to %s, would bring the end forward most: by %s",
                        order_moment(order, extra->opening.from),
                        order_clock(order, extra->opening.to),
                        measure_time(order->arena, (double)extra->gain));
}

static const char *waits_told(const struct order *order) {
    return arena_printf(order->arena,
                        "waits count from when each can have ended at the latest, %s or before",
                        order_moment(order, order->results->resumed.closed));
}

/* NULL: all numbers are as they were. */
static const char *scuffing_told(const struct order *order) {
    int step = scuffed_anew(order);
    if (!step) return NULL;
    return arena_printf(order->arena,
                        "step %d, since nobody knows how old the coat below is; the numbers "
                        "behind it are one more than before",
                        step);
}

static bool is_told(const struct order *order) {
    return order->results->resumed.given && order->results->run.feasible;
}

void order_resumed_rows(struct order *order) {
    struct md *md = &order->md;
    if (!is_told(order)) return;
    const char *done = steps_done(order), *scuffing = scuffing_told(order);
    const char *extra = extra_told(order);
    if (done) {
        md_cell(md, "Done");
        md_cell(md, "%s; %s", done, waits_told(order));
    }
    if (scuffing) {
        md_cell(md, "New");
        md_cell(md, "%s", scuffing);
    }
    if (!extra) return;
    md_cell(md, "One more opening");
    md_cell(md, "%s", extra);
}

void order_resumed(struct order *order) {
    struct md *md = &order->md;
    if (!is_told(order)) return;
    const char *done = steps_done(order), *scuffing = scuffing_told(order);
    const char *extra = extra_told(order);
    md_open_para(md);
    if (done)
        md_add(md, "**Done:** %s; %s.", done, waits_told(order));
    else
        md_add(md, "**Begins:** %s.", order_moment(order, 0));
    if (scuffing) md_add(md, " **New:** %s.", scuffing);
    if (extra) md_add(md, " **One more opening:** %s.", extra);
    md_end(md);
}
