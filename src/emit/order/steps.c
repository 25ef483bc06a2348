/* The steps, to tick off: what to do, how long, when it may begin, how to know that it is right,
 * and blanks beside every number that can be measured there.
 *
 * A step is a heading, a line of times and cautions, one task that holds all that is done and
 * written down, and a list of how it is done well: in print the last two stand side by side.
 */
#include "emit/order/inner.h"

#include <string.h>

enum {
    MAX_BOXES = 24,  /* one tick box a plug up to here */
    LOADS_SHOWN = 4, /* with their planned time */
};

/* --- times and cautions --------------------------------------------------------------------- */

/* " · Sat 5 Dec, 09:00", for every load while they are few. */
static void add_plan(struct order *order, int operation) {
    const struct run *run = &order->results->run;
    struct md *md = &order->md;
    int loads = 0;
    for (int i = 0; run->feasible && i < run->count; i++) {
        if (run->steps[i].operation != operation || loads++ >= LOADS_SHOWN) continue;
        md_add(md, loads == 1 ? " · %s" : "; %s", order_moment(order, run->steps[i].start));
    }
    if (loads > LOADS_SHOWN) md_add(md, " and %d loads more (see Timeline)", loads - LOADS_SHOWN);
}

static void add_cautions(struct order *order, unsigned cautions) {
    int shown = 0;
    for (int i = 0; i < CAUTION_COUNT; i++) {
        if (!(cautions & 1u << i)) continue;
        md_add(&order->md, shown++ ? "; %s" : " · **Caution:** %s", reference_caution[i].title);
    }
}

/* "38 min hands-on · then leave it 12 h · bench · Sat 5 Dec, 09:00 · Caution: Epoxy". */
static void times(struct order *order, int index) {
    const struct operation *operation = &order->results->run.route.operations[index];
    struct md *md = &order->md;
    md_open_para(md);
    double hands_on = operation->fixed + operation->each * order->recipe->make;
    bool waits = operation->wait > 0;
    if (hands_on > 0 || !waits) md_add(md, "**%s** hands-on", measure_time(order->arena, hands_on));
    if (waits)
        md_add(md, hands_on > 0 ? " · then leave it **%s**" : "Leave it **%s**",
               order_wait(order, operation->wait));
    if (operation->station != AT_NONE)
        md_add(md, " · %s", operation_places[operation->station].title);
    add_plan(order, index);
    add_cautions(order, operation->cautions);
    if (!operation->cautions && operation->added)
        md_add(md, " · **No caution is known for this step:** think of your own");
    md_end(md);
}

/* --- what must come before ------------------------------------------------------------------ */

static bool counts(const struct order *order, const struct precedence *link, int operation) {
    return link->after == operation && !order->results->run.route.operations[link->before].skipped;
}

/* Waits of the steps before, and recoat windows: "Not before 14 h after step 17; 20 min after step
 * 23."  Returns whether there is one. */
static bool add_waits(struct order *order, int operation) {
    const struct route *route = &order->results->run.route;
    struct md *md = &order->md;
    int shown = 0;
    for (int i = 0; i < route->link_count; i++) {
        const struct precedence *link = &route->links[i];
        if (!counts(order, link, operation)) continue;
        double wait = route->operations[link->before].wait;
        if (!(wait > 0) && !(link->within > 0)) continue;
        if (!shown) md_further(md);
        if (shown++) md_add(md, "; ");
        if (wait > 0) md_add(md, shown == 1 ? "**Not before** %s" : "%s", order_wait(order, wait));
        if (link->within > 0) {
            md_add(md, wait > 0 ? " and **not later than** %s" : "**not later than** %s",
                   order_limit(order, link->within));
        }
        md_add(md, " after step %d", order_step_number(order, link->before));
    }
    if (shown) md_add(md, ".");
    return shown > 0;
}

static bool same_reason(const struct precedence *a, const struct precedence *b) {
    return a->reason && b->reason && !strcmp(a->reason, b->reason);
}

/* The steps before this one for the reason of link `first`: "steps 3, 8 and 9". */
static const char *steps_before(const struct order *order, int operation, int first) {
    const struct route *route = &order->results->run.route;
    bool *numbers = NEW(order->arena, bool, route->count + 1);
    for (int i = first; i < route->link_count; i++) {
        const struct precedence *link = &route->links[i];
        if (!counts(order, link, operation) || !same_reason(link, &route->links[first])) continue;
        numbers[order_step_number(order, link->before)] = true;
    }
    return order_steps_named(order, numbers, "step", "steps");
}

static bool said_before(const struct order *order, int operation, int link) {
    const struct precedence *links = order->results->run.route.links;
    for (int i = 0; i < link; i++) {
        if (counts(order, &links[i], operation) && same_reason(&links[i], &links[link]))
            return true;
    }
    return false;
}

/* "After step 1: every cut takes away …; steps 3, 8 and 9: …." */
static void add_reasons(struct order *order, int operation, bool begun) {
    const struct route *route = &order->results->run.route;
    struct md *md = &order->md;
    int shown = 0;
    for (int i = 0; i < route->link_count; i++) {
        const struct precedence *link = &route->links[i];
        if (!counts(order, link, operation) || !link->reason) continue;
        if (said_before(order, operation, i)) continue;
        if (!shown && begun) md_add(md, " ");
        if (!shown && !begun) md_further(md);
        md_add(md, shown++ ? "; %s: %s" : "**After** %s: %s", steps_before(order, operation, i),
               link->reason);
    }
    if (shown) md_add(md, ".");
}

/* --- what to measure ------------------------------------------------------------------------ */

static void add_mass(struct order *order, const char *what, double mass) {
    md_further(&order->md);
    md_add(&order->md, "%s: predicted **%s**, weighed " ORDER_BLANK, what, order_mass(order, mass));
}

/* Mass of the shaped body, with a blank for every plug, or what it weighed. */
static void add_bodies(struct order *order, double mass) {
    const struct measured *measured = order->recipe->measured;
    int make = order->recipe->make, count = measured ? measured->blank_count : 0;
    struct md *md = &order->md;
    if (make < 2 || make > MAX_BOXES) {
        add_mass(order, "Mass of one", mass);
        return;
    }
    md_further(md);
    md_add(md, "Mass of one: predicted **%s**, weighed", order_mass(order, mass));
    /* The no-break space keeps a number and its blank on one line. */
    for (int i = 0; i < make; i++)
        md_add(md, "%s %d:\xc2\xa0%s", i ? "," : "", i + 1,
               i < count ? order_mass(order, measured->blank[i]) : ORDER_BLANK);
}

static void add_float(struct order *order, const struct condition *condition) {
    struct md *md = &order->md;
    add_mass(order, "Mass", condition->burden.mass);
    if (condition->waterline_given) {
        md_break(md);
        md_add(md, "Water forward: **%s**, read " ORDER_BLANK,
               order_mark(order, &condition->marks.fore));
        md_break(md);
        md_add(md, "Water aft: **%s**, read " ORDER_BLANK,
               order_mark(order, &condition->marks.aft));
    }
    md_break(md);
    md_add(md, "Attitude: **%s**, read " ORDER_BLANK,
           measure_attitude(order->arena, condition->rest.attitude));
}

static void add_measures(struct order *order, const struct operation *operation) {
    enum weighed weighed = operation->weighed;
    if (weighed == WEIGHED_IN_TEST)
        add_float(order, &order->results->test);
    else if (weighed == WEIGHED_FINISHED)
        add_float(order, &order->results->finished), order_add_sounding(order);
    else if (weighed == WEIGHED_SHAPED)
        add_bodies(order, bench_mass(order->results, weighed));
    else if (weighed != WEIGHED_NOT)
        add_mass(order, "Mass of one", bench_mass(order->results, weighed));
}

/* Whether every plug has a blank of its own there, which says as well that it is done. */
static bool has_blanks(const struct order *order, const struct operation *operation) {
    return operation_rows[operation->key].weighed == WEIGHED_SHAPED && !operation->added &&
           order->recipe->make <= MAX_BOXES;
}

static void add_boxes(struct order *order) {
    int make = order->recipe->make;
    if (make < 2 || make > MAX_BOXES) return;
    md_further(&order->md);
    md_add(&order->md, "Done");
    /* The no-break space keeps a box and its number on one line. */
    for (int i = 1; i <= make; i++) md_add(&order->md, " \xe2\x98\x90\xc2\xa0%d", i);
}

/* --- how it is done well -------------------------------------------------------------------- */

static bool same_text(const char *a, const char *b) {
    return a == b || (a && b && !strcmp(a, b));
}

/* The first step before this one that is done with the same tools and judged alike, or -1. */
static int alike(const struct order *order, int index) {
    const struct words *this = &order->words[index];
    for (int i = 0; this->with && this->check && this->ruins && i < index; i++) {
        const struct words *other = &order->words[i];
        if (!other->skipped && same_text(this->with, other->with) &&
            same_text(this->check, other->check) && same_text(this->ruins, other->ruins)) {
            return i;
        }
    }
    return -1;
}

static void add_alike(struct order *order, int other) {
    if (other < 0) return;
    md_further(&order->md);
    md_add(&order->md, "**With, right when, what ruins it:** as in step %d.",
           order_step_number(order, other));
}

static void labelled(struct order *order, const char *label, const char *text) {
    if (text) md_item(&order->md, "**%s:** %s", label, text);
}

static void how(struct order *order, const struct words *words) {
    labelled(order, "With", words->with);
    labelled(order, "Right when", words->check);
    labelled(order, "What ruins it", words->ruins);
}

/* --- the steps ------------------------------------------------------------------------------ */

static void skipped_step(struct order *order, const struct words *words) {
    md_heading(&order->md, 4, "Left out: %s", words->title);
    md_item(&order->md, "Because: %s", words->skipped);
    labelled(order, "What that takes upon you", words->risk);
}

static void step(struct order *order, int index) {
    const struct words *words = &order->words[index];
    struct md *md = &order->md;
    if (words->skipped) {
        skipped_step(order, words);
        return;
    }
    int other = alike(order, index);
    md_heading(md, 4, "%d. %s", order_step_number(order, index), words->title);
    times(order, index);
    md_open_task(md);
    md_add(md, "%s", words->what ? words->what : words->title);
    add_reasons(order, index, add_waits(order, index));
    add_measures(order, &order->results->run.route.operations[index]);
    add_alike(order, other);
    if (!has_blanks(order, &order->results->run.route.operations[index])) add_boxes(order);
    md_end(md);
    if (other < 0) how(order, words);
}

void order_steps(struct order *order) {
    const struct route *route = &order->results->run.route;
    struct md *md = &order->md;
    int opened = -1; /* a step of an earlier phase stays under the heading where it falls */
    md_heading(md, 2, "Steps");
    md_para(
        md,
        "Every step stands after all that it needs. Hands-on times are for the run of %s; a wait "
        "runs day and night; %s the planned beginning.",
        order_count(order, order->recipe->make, "plug", "plugs"),
        order_has_days(order) ? "a date is" : "an hour, counted from the start of the run, is");
    for (int i = 0; i < route->count; i++) {
        int phase = (int)operation_rows[route->operations[i].key].phase;
        if (phase > opened) md_heading(md, 3, "%s", words_phase((enum phase)(opened = phase)));
        step(order, i);
    }
}
