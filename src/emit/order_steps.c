/* The steps, to tick off: what to do, how long, when it may begin, how to know that it is right,
 * and blanks beside every number that can be measured there.
 */
#include "emit/order_part.h"

#include <string.h>

enum { MAX_BOXES = 24 }; /* one tick box a plug up to here */

/* --- phases --------------------------------------------------------------------------------- */

/* Steps stand under a phase; one that belongs to an earlier phase (or was added by the recipe)
 * stays under the heading where it falls. */
enum phase { PHASE_SHAPE, PHASE_SEAL, PHASE_COLOUR, PHASE_TOPCOAT, PHASE_PROVE, PHASE_COUNT };

static const char *const phase_titles[PHASE_COUNT] = {
    "Shaping", "Wires, sealing and ballast", "Lip and colour", "Topcoat", "Hooks and proof"};

static int phase_of(const struct operation *operation) {
    static const struct {
        const char *id;
        enum phase phase;
    } rows[] = {
        {"hang", PHASE_SEAL},        {"seal", PHASE_SEAL},   {"float-test", PHASE_SEAL},
        {"set-ballast", PHASE_SEAL}, {"reseal", PHASE_SEAL}, {"lip-glue", PHASE_COLOUR},
        {"mask", PHASE_COLOUR},      {"eyes", PHASE_COLOUR}, {"unmask", PHASE_COLOUR},
        {"clear", PHASE_PROVE},      {"rig", PHASE_PROVE},   {"prove", PHASE_PROVE},
    };
    if (operation->layer >= 0) return PHASE_COLOUR;
    if (operation->coat_number) return PHASE_TOPCOAT;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        if (!strcmp(operation->id, rows[i].id)) return rows[i].phase;
    }
    return PHASE_SHAPE;
}

/* --- time ----------------------------------------------------------------------------------- */

static const char *station_name(enum station_used station) {
    static const char *const names[] = {"anywhere", "at the bench", "at the spray place",
                                        "on the drying wheel"};
    return names[station];
}

/* "hands-on 38 min · then leave it 12 h · at the bench". */
static void add_times(struct order *order, const struct operation *operation) {
    struct md *md = &order->md;
    int make = order->recipe->make;
    double hands_on = operation->fixed + operation->each * make;
    md_add(md, "Hands-on **%s**", measure_time(order->arena, hands_on));
    if (make > 1) md_add(md, " for %d plugs", make);
    if (operation->wait > 0) {
        md_add(md, " · then leave it **%s**", order_wait(order, operation->wait));
    }
    if (operation->station != AT_NONE) md_add(md, " · %s", station_name(operation->station));
}

/* "Planned Sat 2026-12-05, 09:00", for every load, and a tick box for every plug. */
static void add_plan(struct order *order, int operation) {
    const struct run *run = &order->results->run;
    struct md *md = &order->md;
    int make = order->recipe->make, shown = 0;
    for (int i = 0; run->feasible && i < run->count; i++) {
        if (run->steps[i].operation != operation) continue;
        if (!shown) md_break(md);
        md_add(md, shown++ ? "; %s" : "Planned %s", order_moment(order, run->steps[i].start));
    }
    if (make < 2 || make > MAX_BOXES) return;
    md_add(md, " · plugs done");
    /* The no-break space keeps a box and its number on one line. */
    for (int i = 1; i <= make; i++) md_add(md, " \xe2\x98\x90\xc2\xa0%d", i);
}

/* --- order ---------------------------------------------------------------------------------- */

static bool counts(const struct order *order, const struct precedence *link, int operation) {
    return link->after == operation && !order->results->route.operations[link->before].skipped;
}

/* Waits of the steps before, and recoat windows. */
static void wait_item(struct order *order, int operation) {
    const struct route *route = &order->results->route;
    struct md *md = &order->md;
    int shown = 0;
    for (int i = 0; i < route->link_count; i++) {
        const struct precedence *link = &route->links[i];
        if (!counts(order, link, operation)) continue;
        double wait = route->operations[link->before].wait;
        if (!(wait > 0) && !(link->within > 0)) continue;
        if (!shown) md_open_item(md);
        md_add(md, shown++ ? "; " : "**Not before** ");
        if (wait > 0) md_add(md, "%s", order_wait(order, wait));
        if (link->within > 0) {
            md_add(md, wait > 0 ? " and **not later than** %s" : "**not later than** %s",
                   order_limit(order, link->within));
        }
        md_add(md, " after step %d", order_step_number(order, link->before));
    }
    if (!shown) return;
    md_add(md, ".");
    md_end(md);
}

/* "After step 1 (every cut takes away …) and 4 (…)." */
static void reason_item(struct order *order, int operation) {
    const struct route *route = &order->results->route;
    struct md *md = &order->md;
    int shown = 0;
    for (int i = 0; i < route->link_count; i++) {
        const struct precedence *link = &route->links[i];
        if (!counts(order, link, operation) || !link->reason) continue;
        if (!shown) md_open_item(md);
        md_add(md, shown++ ? "; step %d" : "**After** step %d",
               order_step_number(order, link->before));
        md_add(md, ": %s", link->reason);
    }
    if (!shown) return;
    md_add(md, ".");
    md_end(md);
}

/* --- what to measure ------------------------------------------------------------------------ */

static void mass_item(struct order *order, const char *what, double mass) {
    md_item(&order->md, "%s: predicted **%s**, weighed " ORDER_BLANK, what,
            order_mass(order, mass));
}

static void float_items(struct order *order, const struct condition *condition) {
    mass_item(order, "Mass", condition->burden.mass);
    if (condition->waterline_given) {
        md_item(&order->md,
                "Waterline above the datum: at the nose **%s**, read " ORDER_BLANK
                "; at the tail **%s**, read " ORDER_BLANK,
                order_length(order, condition->waterline_nose),
                order_length(order, condition->waterline_tail));
    }
    md_item(&order->md, "Attitude: **%s**, read " ORDER_BLANK,
            order_attitude(order, condition->rest.attitude));
}

static void measure_items(struct order *order, const struct operation *operation) {
    unsigned stages = bench_stages_after(operation->id);
    if (stages) {
        mass_item(order, "Mass of one", bench_tally(&order->results->masses, stages).mass);
    } else if (!strcmp(operation->id, "float-test")) {
        float_items(order, &order->results->test);
    } else if (!strcmp(operation->id, "prove")) {
        float_items(order, &order->results->finished);
    }
}

/* --- the steps ------------------------------------------------------------------------------ */

static void caution_item(struct order *order, unsigned cautions) {
    if (!cautions) return;
    struct md *md = &order->md;
    int shown = 0;
    md_open_item(md);
    md_add(md, "**Caution:**");
    for (int i = 0; i < CAUTION_COUNT; i++) {
        if (!(cautions & 1u << i)) continue;
        md_add(md, shown++ ? "; %s" : " %s", reference_caution[i].title);
    }
    md_add(md, " (see Cautions).");
    md_end(md);
}

static void labelled(struct order *order, const char *label, const char *text) {
    if (text) md_item(&order->md, "**%s:** %s", label, text);
}

static void skipped_step(struct order *order, const struct operation *operation) {
    struct md *md = &order->md;
    md_heading(md, 4, "Left out: %s", operation->title);
    md_open_item(md);
    md_add(md, "Because: %s", operation->skipped);
    md_end(md);
    labelled(order, "What that takes upon you", operation->risk);
}

static void step(struct order *order, int index) {
    const struct operation *operation = &order->results->route.operations[index];
    struct md *md = &order->md;
    if (operation->skipped) {
        skipped_step(order, operation);
        return;
    }
    md_heading(md, 4, "%d. %s", order_step_number(order, index), operation->title);
    md_open_para(md);
    add_times(order, operation);
    add_plan(order, index);
    md_end(md);
    md_task(md, "%s", operation->what ? operation->what : operation->title);
    labelled(order, "With", operation->with);
    wait_item(order, index);
    reason_item(order, index);
    caution_item(order, operation->cautions);
    labelled(order, "Right when", operation->check);
    labelled(order, "What ruins it", operation->ruins);
    measure_items(order, operation);
}

void order_steps(struct order *order) {
    const struct route *route = &order->results->route;
    struct md *md = &order->md;
    int phase = -1;
    md_heading(md, 2, "Steps");
    md_para(md,
            "Every step stands after all that it needs. Times are for the whole run; a wait runs "
            "day and night.");
    for (int i = 0; i < route->count; i++) {
        int its = phase_of(&route->operations[i]);
        if (its > phase) {
            phase = its;
            md_heading(md, 3, "%s", phase_titles[phase]);
        }
        step(order, i);
    }
}
