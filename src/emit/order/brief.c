/* The steps for the practised: a line each, with what goes on, how long it takes and waits, and
 * what must not be later.
 */
#include "emit/order/inner.h"

/* Of all rows of one kind, for the run, "8.6 ml"; two parts that are mixed read "10.1 ml + 10.1
 * ml".
 */
static const char *run_needs(const struct order *order, enum name_key item) {
    const struct supply *supply = &order->results->supply;
    for (int i = 0; i < supply->count; i++) {
        const struct supply_row *row = &supply->rows[i];
        if (row->item.key != item) continue;
        const char *amount = order_volume(order, row->run);
        if (i + 1 == supply->count || !row[1].mixed) return amount;
        return arena_printf(order->arena, "%s + %s", amount, order_volume(order, row[1].run));
    }
    return "";
}

/* Of all coats of a kind together, where there are several. */
static const char *amount_of(const struct order *order, const struct operation *operation) {
    if (operation->added) return "";
    switch (operation->key) {
    case OPERATION_seal:
        return arena_printf(order->arena, "%s in all coats", run_needs(order, NAME_SEALER_NAMED));
    case OPERATION_colour:
        return order_paint(order, operation->number - 1);
    case OPERATION_topcoat:
        return "by the card";
    case OPERATION_set_ballast:
        return "by the card";
    default:
        return "";
    }
}

/* "27 h 30 min after step 32" */
static const char *deadline_of(const struct order *order, int operation) {
    const struct route *route = &order->results->run.route;
    for (int i = 0; i < route->link_count; i++) {
        const struct precedence *link = &route->links[i];
        if (link->after != operation || !(link->within > 0)) continue;
        if (route->operations[link->before].skipped) continue;
        return arena_printf(order->arena, "%s after step %d", order_limit(order, link->within),
                            order_step_number(order, link->before));
    }
    return "";
}

static void row(struct order *order, int index) {
    const struct operation *operation = &order->results->run.route.operations[index];
    double hands = order_hands_on(order, operation);
    struct md *md = &order->md;
    md_cell(md, "%s %d", order_box(operation), order_step_number(order, index));
    md_cell(md, "%s", order->words[index].title);
    if (operation->done) {
        md_cell(md, "done");
        for (int i = 0; i < 3; i++) md_skip(md);
        return;
    }
    md_cell(md, "%s", amount_of(order, operation));
    md_cell(md, "%s", hands > 0 ? measure_time(order->arena, hands) : "");
    md_cell(md, "%s", operation->wait > 0 ? order_wait(order, operation->wait) : "");
    md_cell(md, "%s", deadline_of(order, index));
}

void order_brief(struct order *order) {
    static const struct md_column columns[] = {
        {"Step", MD_LEFT},  {"What", MD_LEFT},           {"How much", MD_LEFT},
        {"Work", MD_RIGHT}, {"then leave it", MD_RIGHT}, {"Not later than", MD_LEFT}};
    const struct route *route = &order->results->run.route;
    struct md *md = &order->md;
    md_heading(md, 2, "Steps in brief");
    md_para(md, "What each asks for, and why it stands where it stands, is in the order without "
                "`--brief`.");
    md_table(md, columns, 6);
    for (int i = 0; i < route->count; i++)
        if (!route->operations[i].skipped) row(order, i);
    md_table_end(md);
}
