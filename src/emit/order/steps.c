/* The steps, to tick off: what to do, how long, what it waits for, and how to know that it is
 * right.  When a step is due, and where its readings are written down, stands on the card.
 *
 * A step is a heading, a line of times and cautions, one task that holds all that is done, and a
 * list of how it is done well: in print the last two stand side by side.  Colours that follow each
 * other are one block with a row each.  What was said of one step is not said again of another.
 */
#include "emit/order/inner.h"

#include <ctype.h>
#include <string.h>

/* --- times and cautions --------------------------------------------------------------------- */

static void add_cautions(struct order *order, unsigned cautions) {
    int shown = 0;
    for (int i = 0; i < CAUTION_COUNT; i++) {
        if (!(cautions & 1u << i)) continue;
        md_add(&order->md, shown++ ? "; %s" : " · **Caution:** %s", reference_caution[i].title);
    }
}

double order_hands_on(const struct order *order, const struct operation *operation) {
    return operation->fixed + operation->each * order->recipe->make;
}

/* "38 min hands-on · then leave it 12 h · bench · Caution: Epoxy". */
static void times(struct order *order, int index) {
    const struct operation *operation = &order->results->run.route.operations[index];
    struct md *md = &order->md;
    md_open_para(md);
    double hands = order_hands_on(order, operation);
    bool waits = operation->wait > 0;
    if (hands > 0 || !waits) md_add(md, "**%s** hands-on", measure_time(order->arena, hands));
    if (waits)
        md_add(md, hands > 0 ? " · then leave it **%s**" : "Leave it **%s**",
               order_wait(order, operation->wait));
    if (operation->station != AT_NONE)
        md_add(md, " · %s", operation_places[operation->station].title);
    add_cautions(order, operation->cautions);
    if (!operation->cautions && operation->added)
        md_add(md, " · **No caution is known for this step:** think of your own");
    md_end(md);
}

/* --- what must come before ------------------------------------------------------------------ */

static bool counts(const struct order *order, const struct precedence *link, int operation) {
    return link->after == operation && !order->results->run.route.operations[link->before].skipped;
}

/* Recoat windows: "Not before 4 h 40 min and not later than 27 h 30 min after step 32."  A mere
 * wait stands at the step that it follows.  Returns whether there is one. */
static bool add_windows(struct order *order, int operation) {
    const struct route *route = &order->results->run.route;
    struct md *md = &order->md;
    int shown = 0;
    for (int i = 0; i < route->link_count; i++) {
        const struct precedence *link = &route->links[i];
        if (!counts(order, link, operation) || !(link->within > 0)) continue;
        double wait = route->operations[link->before].wait;
        if (!shown++) md_further(md);
        if (wait > 0) md_add(md, "**Not before** %s and ", order_wait(order, wait));
        md_add(md, "**not later than** %s after step %d.", order_limit(order, link->within),
               order_step_number(order, link->before));
    }
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

/* Whether a link before this one gives the same reason, to this step or to one above it. */
static bool said_before(const struct order *order, int operation, int link, bool above) {
    const struct route *route = &order->results->run.route;
    for (int i = 0; i < route->link_count; i++) {
        const struct precedence *other = &route->links[i];
        if (!same_reason(other, &route->links[link]) || route->operations[other->before].skipped ||
            route->operations[other->after].skipped || route->operations[other->after].done)
            continue;
        if (above ? other->after < operation : other->after == operation && i < link) return true;
    }
    return false;
}

/* The steps before this one whose reason an earlier step has told: "steps 1 and 2", or NULL. */
static const char *steps_told(const struct order *order, int operation) {
    const struct route *route = &order->results->run.route;
    bool *numbers = NEW(order->arena, bool, route->count + 1), any = false;
    for (int i = 0; i < route->link_count; i++) {
        const struct precedence *link = &route->links[i];
        if (!counts(order, link, operation) || !link->reason) continue;
        if (!said_before(order, operation, i, true)) continue;
        numbers[order_step_number(order, link->before)] = any = true;
    }
    return any ? order_steps_named(order, numbers, "step", "steps") : NULL;
}

/* "After step 1: every cut takes away …; steps 3, 8 and 9: …; step 2."  A reason that an earlier
 * step has told is not told again. */
static void add_reasons(struct order *order, int operation, bool begun) {
    const struct route *route = &order->results->run.route;
    const char *told = steps_told(order, operation);
    struct md *md = &order->md;
    int shown = 0;
    for (int i = 0; i < route->link_count; i++) {
        const struct precedence *link = &route->links[i];
        if (!counts(order, link, operation) || !link->reason) continue;
        if (said_before(order, operation, i, false) || said_before(order, operation, i, true))
            continue;
        if (!shown && begun) md_add(md, " ");
        if (!shown && !begun) md_further(md);
        md_add(md, shown++ ? "; %s: %s" : "**After** %s: %s", steps_before(order, operation, i),
               link->reason);
    }
    if (told && !shown && !begun) md_further(md);
    if (told && !shown && begun) md_add(md, " ");
    if (told) md_add(md, shown++ ? "; %s" : "**After** %s", told);
    if (shown) md_add(md, ".");
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

/* Whether no step above this one warns of it. */
static bool first_warned(const struct order *order, int index, unsigned bit) {
    for (int i = 0; i < index; i++) {
        const struct operation *operation = &order->results->run.route.operations[i];
        if (!operation->skipped && operation->cautions & bit) return false;
    }
    return true;
}

static void labelled(struct order *order, const char *label, const char *text) {
    if (text) md_item(&order->md, "**%s:** %s", label, text);
}

/* What matters most of a caution, beside the first step that it is about. */
static void warn(struct order *order, int index) {
    unsigned cautions = order->results->run.route.operations[index].cautions;
    for (int i = 0; i < CAUTION_COUNT; i++)
        if (cautions & 1u << i && first_warned(order, index, 1u << i))
            md_item(&order->md, "**Mind, %s:** %s", reference_caution[i].id,
                    reference_caution[i].brief);
}

static void how(struct order *order, int index) {
    const struct words *words = &order->words[index];
    if (alike(order, index) < 0) {
        labelled(order, "With", words->with);
        labelled(order, "Right when", words->check);
        labelled(order, "What ruins it", words->ruins);
    }
    warn(order, index);
}

/* --- the steps ------------------------------------------------------------------------------ */

static void skipped_step(struct order *order, const struct words *words) {
    md_heading(&order->md, 4, "Left out: %s", words->title);
    md_item(&order->md, "Because: %s", words->skipped);
    labelled(order, "What you take upon yourself", words->risk);
}

static void add_card(struct order *order, const struct operation *operation) {
    if (operation->weighed == WEIGHED_NOT) return;
    md_further(&order->md);
    if (operation->weighed == WEIGHED_IN_TEST || operation->weighed == WEIGHED_FINISHED)
        md_add(&order->md, "The card has what it should weigh, how it should lie, and the blanks.");
    else
        md_add(&order->md, "The card has what it should weigh, and the blanks.");
}

static void step(struct order *order, int index) {
    const struct words *words = &order->words[index];
    struct md *md = &order->md;
    if (words->skipped) {
        skipped_step(order, words);
        return;
    }
    md_heading(md, 4, "%d. %s", order_step_number(order, index), words->title);
    if (order->results->run.route.operations[index].done) {
        md_para(md, "%s Done.", ORDER_TICKED);
        return;
    }
    times(order, index);
    md_open_task(md);
    md_add(md, "%s", words->what ? words->what : words->title);
    add_reasons(order, index, add_windows(order, index));
    add_card(order, &order->results->run.route.operations[index]);
    add_alike(order, alike(order, index));
    md_end(md);
    how(order, index);
}

/* --- colours, one block --------------------------------------------------------------------- */

/* Whether it is a colour as the route makes it: its row says all. */
static bool plain_colour(const struct order *order, int index) {
    const struct operation *operation = &order->results->run.route.operations[index];
    return operation->key == OPERATION_colour && !operation->skipped && !operation->changed;
}

static int end_of_colours(const struct order *order, int first) {
    int end = first;
    while (end < order->results->run.route.count && plain_colour(order, end)) end++;
    return end;
}

/* Paint and reducer of a layer for the run: "10.2 ml + 10.2 ml". */
const char *order_paint(const struct order *order, int layer) {
    const struct supply *supply = &order->results->supply;
    for (int i = 0; i < supply->count; i++) {
        const struct supply_row *row = &supply->rows[i];
        if (row->item.key != NAME_PAINT || layer--) continue;
        if (i + 1 == supply->count || !row[1].mixed) return order_volume(order, row->run);
        return arena_printf(order->arena, "%s + %s", order_volume(order, row->run),
                            order_volume(order, row[1].run));
    }
    return "–";
}

static void colour_row(struct order *order, int index) {
    const struct operation *operation = &order->results->run.route.operations[index];
    const struct layer *layer = &order->recipe->finish->paint->layers[operation->number - 1];
    struct md *md = &order->md;
    md_cell(md, "%s %d", order_box(operation), order_step_number(order, index));
    md_cell(md, "%d. %.*s, %s", operation->number, MD_STR(layer->colour),
            reference_layer_kind[layer->kind].kind);
    md_cell(md, "%s", reference_cover[layer->where].where);
    md_cell(md, "%d", layer->coats);
    md_cell(md, "%s", order_paint(order, operation->number - 1));
    md_cell(md, "%s", measure_time(order->arena, order_hands_on(order, operation)));
    md_cell(md, "%s", measure_time(order->arena, operation->wait));
}

static void colour_table(struct order *order, int first, int end) {
    static const struct md_column columns[] = {
        {"Step", MD_LEFT},     {"Colour", MD_LEFT},           {"Where", MD_LEFT},
        {"Coats", MD_RIGHT},   {"Paint + reducer", MD_RIGHT}, {"Work", MD_RIGHT},
        {"then dry", MD_RIGHT}};
    md_table(&order->md, columns, 7);
    for (int i = first; i < end; i++) colour_row(order, i);
    md_table_end(&order->md);
}

/* "Masks: colour 4, comb held 5 mm off; ..." */
static void masks(struct order *order, int first, int end) {
    const struct operation *operations = order->results->run.route.operations;
    const struct layer *layers = order->recipe->finish->paint->layers;
    struct md *md = &order->md;
    int shown = 0;
    for (int i = first; i < end; i++) {
        const struct layer *layer = &layers[operations[i].number - 1];
        if (!str_trim(layer->mask).size) continue;
        if (!shown) md_open_para(md);
        md_add(md, shown++ ? "; colour %d, %.*s" : "**Masks:** colour %d, %.*s",
               operations[i].number, MD_STR(layer->mask));
    }
    if (!shown) return;
    md_add(md, ".");
    md_end(md);
}

static const char *capital(const struct order *order, const char *word) {
    char *text = arena_copy(order->arena, word, strlen(word));
    text[0] = (char)toupper((unsigned char)text[0]);
    return text;
}

/* How the paints are laid, once a kind. */
static void lay_kinds(struct order *order, int first, int end) {
    const struct operation *operations = order->results->run.route.operations;
    const struct layer *layers = order->recipe->finish->paint->layers;
    unsigned told = 0;
    for (int i = first; i < end; i++) {
        enum layer_kind kind = layers[operations[i].number - 1].kind;
        if (told & 1u << kind) continue;
        told |= 1u << kind;
        md_add(&order->md, " **%s:** %s", capital(order, reference_layer_kind[kind].kind),
               words_laying(order->arena, order->recipe, &operations[i]));
    }
}

static void colours(struct order *order, int first, int end) {
    const struct operation *operations = order->results->run.route.operations;
    struct md *md = &order->md;
    md_heading(md, 4, "%d to %d. Colours", order_step_number(order, first),
               order_step_number(order, end - 1));
    md_open_para(md);
    md_add(md, "%s", operation_places[AT_SPRAY].title);
    add_cautions(order, operations[first].cautions);
    md_end(md);
    md_open_task(md);
    md_add(md, "%s", words_together(order->arena, order->recipe, &operations[first]));
    lay_kinds(order, first, end);
    add_reasons(order, first, add_windows(order, first));
    md_end(md);
    how(order, first);
    md_end_list(md);
    colour_table(order, first, end);
    masks(order, first, end);
}

/* --- the chapter ---------------------------------------------------------------------------- */

void order_steps(struct order *order) {
    const struct route *route = &order->results->run.route;
    struct md *md = &order->md;
    int opened = -1; /* a step of an earlier phase stays under the heading where it falls */
    md_heading(md, 2, "Steps");
    md_para(
        md,
        "Every step stands after all that it needs. Hands-on times are for the run of %s; a wait "
        "runs day and night. The card has the days.",
        order_count(order, order->recipe->make, "plug", "plugs"));
    for (int i = 0; i < route->count;) {
        int phase = (int)operation_rows[route->operations[i].key].phase,
            end = end_of_colours(order, i);
        if (phase > opened)
            md_heading(md, 3, "%s",
                       words_phase(order->arena, order->recipe, &route->operations[i],
                                   (enum phase)(opened = phase)));
        if (end > i + 1)
            colours(order, i, end);
        else
            step(order, end = i), end++;
        i = end;
    }
}
