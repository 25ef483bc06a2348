/* A run that goes on after some of its steps: what the plan takes for granted, and what would bring
 * its end forward.
 */
#include "emit/order/inner.h"

const char *order_box(const struct operation *operation) {
    return operation->done ? ORDER_TICKED : "\xe2\x98\x90";
}

/* The steps that are done: "Step 1", "Steps 1 to 9 and 12"; NULL: none. */
static const char *steps_done(const struct order *order) {
    const struct route *route = &order->results->run.route;
    bool *numbers = NEW(order->arena, bool, route->count + 1), any = false;
    for (int i = 0; i < route->count; i++)
        if (route->operations[i].done && !route->operations[i].skipped)
            numbers[order_step_number(order, i)] = any = true;
    return any ? order_steps_named(order, numbers, "Step", "Steps") : NULL;
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

static void add_extra(struct order *order) {
    const struct extra_opening *extra = &order->results->resumed.extra;
    struct md *md = &order->md;
    if (!extra->tried) return;
    if (extra->gain <= 0) {
        md_add(md, extra->proven ? " No one more opening would bring the end forward."
                                 : " No one more opening was found that brings the end forward.");
        return;
    }
    md_add(md, " **One more opening** on %s to %s would bring the end forward most: by %s.",
           order_moment(order, extra->opening.from), order_clock(order, extra->opening.to),
           measure_time(order->arena, (double)extra->gain));
}

void order_resumed(struct order *order) {
    struct md *md = &order->md;
    if (!order->results->resumed.given || !order->results->run.feasible) return;
    const char *done = steps_done(order);
    int scuffing = scuffed_anew(order);
    md_open_para(md);
    if (done) {
        md_add(md, "**%s done.** The plan is for what is left, from %s on.", done,
               order_moment(order, 0));
        md_add(md, " Waits count as if the work had ended as late as it can have: by %s.",
               order_moment(order, order->results->resumed.closed));
        md_add(md, " What to buy and to cut is that of the whole run.");
    } else {
        md_add(md, "The plan begins on %s.", order_moment(order, 0));
    }
    if (scuffing)
        md_add(md,
               " Nobody knows how old the last coat is, so step %d, which scuffs it, is new: all "
               "numbers behind it are one more than on the sheet before.",
               scuffing);
    add_extra(order);
    md_end(md);
}
