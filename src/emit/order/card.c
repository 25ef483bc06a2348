/* The card: one side of paper for the wall.  Where everything is bored, what goes in, when to come
 * back, what the plug must weigh and where the water must meet it, with a blank for every reading:
 * the only blanks of the order.
 */
#include "emit/order/inner.h"

#include <string.h>

#include "compute/rework.h"
#include "compute/work/sitting.h"

enum {
    LOADS_SHOWN = 24,    /* rows of loads; more of them stand with the float test */
    SITTINGS_SHOWN = 20, /* more of them stand in the timeline */
    MIXES_SHOWN = 3,     /* kinds of mixes, */
    CUPS_SHOWN = 24,     /* and how often any is stirred */
    PLUGS_SHOWN = 12,    /* a row of blanks each */
    WIDE_LINES = 6,      /* up to here the rows are high */
    BORES_SHOWN = 3,     /* a column each */
    READINGS = 16,       /* columns at most */
};

bool order_loads_on_card(const struct order *order) {
    return order_load_rows(order) <= LOADS_SHOWN;
}

bool order_sittings_on_card(const struct order *order) {
    return sitting_count(order->recipe, &order->results->run) <= SITTINGS_SHOWN;
}

bool order_mixes_on_card(const struct order *order) {
    return order_mix_rows(order) <= MIXES_SHOWN && order->results->supply.mix_count <= CUPS_SHOWN;
}

static void cautions(struct order *order) {
    unsigned all = rework_cautions(order->results);
    int shown = 0;
    if (!all) return;
    md_open_para(&order->md);
    for (int i = 0; i < CAUTION_COUNT; i++) {
        if (!(all & 1u << i)) continue;
        md_add(&order->md, shown++ ? "; %s" : "**Cautions:** %s", reference_caution[i].title);
        md_add(&order->md, " %s", order_steps_with(order, 1u << i, "", ""));
    }
    md_add(&order->md, " (numbers of steps; in full at the end).");
    md_end(&order->md);
}

/* What goes in, and what to beware of. */
static void loads(struct order *order) {
    int rows = order_load_rows(order);
    md_heading(&order->md, 3, rows ? "Load" : "Mind");
    if (rows && order_loads_on_card(order)) order_load_table(order);
    if (rows && !order_loads_on_card(order))
        md_para(&order->md, "By the mass of every body: see Ballast and float test.");
    cautions(order);
}

static void mixes(struct order *order) {
    if (order_mixes_on_card(order))
        order_mixes(order, 4);
    else
        md_para(&order->md, "What to mix, in loads and cups: behind the steps.");
}

/* The mixes belong to the days. */
static void when(struct order *order) {
    md_heading(&order->md, 3, "When");
    if (!order->results->run.feasible)
        md_para(&order->md, "This run does not fit into the shop's opening hours.");
    else
        order_sittings(order, SITTINGS_SHOWN), order_hours_note(order);
    mixes(order);
}

/* --- readings ------------------------------------------------------------------------------- */

/* A column: what is read, after which operation, and what it should be (NULL: it is no number). */
struct card_reading {
    const char *what;
    int step;
    const char *due;
};

struct readings {
    struct card_reading columns[READINGS];
    int count;
};

static void add(struct readings *readings, const char *what, int step, const char *due) {
    if (step && readings->count < READINGS)
        readings->columns[readings->count++] = (struct card_reading){what, step, due};
}

/* The last step after which the plug is weighed so; 0: none. */
static int step_weighed(const struct order *order, enum weighed weighed) {
    const struct route *route = &order->results->run.route;
    int step = 0;
    for (int i = 0; i < route->count; i++)
        if (!route->operations[i].skipped && route->operations[i].weighed == weighed)
            step = order_step_number(order, i);
    return step;
}

static int step_of(const struct order *order, enum operation_key key) {
    const struct route *route = &order->results->run.route;
    for (int i = 0; i < route->count; i++)
        if (!route->operations[i].skipped && route->operations[i].key == key)
            return order_step_number(order, i);
    return 0;
}

static void add_loads(const struct order *order, struct readings *readings) {
    const struct ballast_result *ballast = &order->results->ballast;
    int step = step_of(order, OPERATION_set_ballast);
    if (ballast->bore_count > BORES_SHOWN) {
        add(readings, "Loads", step, NULL);
        return;
    }
    for (int i = 0; i < ballast->bore_count; i++) {
        const struct bore_fill *fill = &ballast->fills[i];
        double load = fill->load;
        if (fill->solved && order_corrected(order)) load = order->results->correction.load[i];
        add(readings, arena_printf(order->arena, fill->axis.pair ? "Loads %d" : "Load %d", i + 1),
            step, order_mass(order, load));
    }
}

static void add_condition(const struct order *order, struct readings *readings,
                          enum weighed weighed, const struct condition *c) {
    int step = step_weighed(order, weighed);
    add(readings, weighed == WEIGHED_IN_TEST ? "Test" : "Finished", step,
        order_mass(order, c->burden.mass));
    if (!order_read_afloat(order)) {
        add(readings, "let go", step, order_speed(order, c->speed));
        return;
    }
    add(readings, "forward", step, order_mark(order, &c->marks.fore));
    add(readings, "aft", step, order_mark(order, &c->marks.aft));
}

static struct readings readings_of(const struct order *order) {
    const struct results *r = order->results;
    struct readings readings = {.count = 0};
    int step = step_weighed(order, WEIGHED_SHAPED), sealed = step_weighed(order, WEIGHED_SEALED);
    if (step) add(&readings, "Body", step, order_mass(order, bench_mass(r, WEIGHED_SHAPED)));
    if (sealed) add(&readings, "Sealed", sealed, order_mass(order, bench_mass(r, WEIGHED_SEALED)));
    add_loads(order, &readings);
    add_condition(order, &readings, WEIGHED_IN_TEST, &r->test);
    add_condition(order, &readings, WEIGHED_FINISHED, &r->finished);
    return readings;
}

/* A row for every plug while there is room; a body that was weighed already stands there. */
static void plug_rows(struct order *order, const struct readings *readings) {
    const struct measured *measured = order->recipe->measured;
    int make = order->recipe->make, rows = make < PLUGS_SHOWN ? make : PLUGS_SHOWN;
    int weighed = measured ? measured->blank_count : 0;
    bool bodies = readings->count && !strcmp(readings->columns[0].what, "Body");
    struct md *md = &order->md;
    for (int plug = 0; plug < rows; plug++) {
        if (make <= PLUGS_SHOWN)
            md_cell(md, "%d", plug + 1);
        else
            md_skip(md);
        if (bodies && plug < weighed)
            md_cell(md, "%s", order_mass(order, measured->blank[plug]));
        else
            md_skip(md);
        for (int i = 1; i < readings->count; i++) md_skip(md);
    }
}

static bool is_done(const struct order *order, int step) {
    const struct route *route = &order->results->run.route;
    for (int i = 0; i < route->count; i++)
        if (order_step_number(order, i) == step) return route->operations[i].done;
    return false;
}

static void reading_table(struct order *order) {
    struct md_column columns[1 + READINGS] = {{"Plug", MD_LEFT}};
    struct readings readings = readings_of(order);
    struct md *md = &order->md;
    for (int i = 0; i < readings.count; i++)
        columns[1 + i] = (struct md_column){readings.columns[i].what, MD_RIGHT};
    md_table(md, columns, 1 + readings.count);
    md_cell(md, "after step");
    for (int i = 0; i < readings.count; i++)
        md_cell(md, is_done(order, readings.columns[i].step) ? "%d " ORDER_TICKED : "%d",
                readings.columns[i].step);
    md_cell(md, "should be");
    for (int i = 0; i < readings.count; i++)
        if (readings.columns[i].due)
            md_cell(md, "**%s**", readings.columns[i].due);
        else
            md_skip(md);
    plug_rows(order, &readings);
    md_table_end(md);
}

static void readings(struct order *order) {
    const struct results *r = order->results;
    struct md *md = &order->md;
    bool many = order->recipe->make > WIDE_LINES && order->recipe->make <= PLUGS_SHOWN;
    md_heading(md, 3, many ? "Read and write down, a line a plug" : "Read and write down");
    reading_table(order);
    md_open_para(md);
    md_add(md, "Lies %s in the test, %s when finished",
           measure_attitude(order->arena, r->test.rest.attitude),
           measure_attitude(order->arena, r->finished.rest.attitude));
    md_add(md, ".");
    order_add_sounding(order);
    md_end(md);
}

void order_card(struct order *order) {
    md_heading(&order->md, 2, "Card");
    order_figures(order, FIGURE_SIDE);
    order_bore_map(order);
    loads(order);
    when(order);
    readings(order);
}
