/* A piece of work is what is ticked off: a stint at the bench, or the whole of a step that has
 * none because it only waits.  A step is done when all of its pieces are, and a sitting as well;
 * so a tick in the plan and one at the step are the same.
 */
#include "emit/order/tablet.h"

#include "compute/bench.h"
#include "compute/work/sitting.h"
#include "emit/order/inner.h"
#include "emit/write/json.h"

static const struct route *route_here(const struct order *order) {
    return &order->results->run.route;
}

/* --- amounts --------------------------------------------------------------------------------- */

/* "10.2 ml paint + 10.2 ml reducer", for the run. */
static void add_paint(struct order *order, struct buf *out, int layer) {
    const struct supply *supply = &order->results->supply;
    for (int i = 0; i < supply->count; i++) {
        const struct supply_row *row = &supply->rows[i];
        if (row->item.key != NAME_PAINT || layer--) continue;
        buf_printf(out, "%s of paint", order_volume(order, row->run));
        if (i + 1 < supply->count && row[1].mixed)
            buf_printf(out, " + %s of reducer", order_volume(order, row[1].run));
        return;
    }
}

/* "cup 1: 5.0 ml + 5.0 ml (5.8 g + 4.9 g) for 6 plugs, use within 23 min", a cup after the other.
 */
static void add_mixes(struct order *order, struct buf *out, int coat) {
    const struct supply *supply = &order->results->supply;
    for (int i = 0; i < supply->mix_count; i++) {
        const struct mix *mix = &supply->mixes[i];
        if (mix->coat != coat) continue;
        if (out->size) buf_text(out, "; ");
        if (mix->load > 1 || mix->cup > 1)
            buf_printf(out, "load %d, cup %d: ", mix->load, mix->cup);
        buf_text(out, order_volume(order, mix->resin));
        if (mix->two_parts) buf_printf(out, " + %s", order_volume(order, mix->hardener));
        if (mix->resin_mass > 0 && mix->hardener_mass > 0)
            buf_printf(out, " (%s + %s)", order_mass(order, mix->resin_mass),
                       order_mass(order, mix->hardener_mass));
        buf_printf(out, " for %s", order_count(order, mix->plugs, "plug", "plugs"));
        if (mix->pot_life > 0)
            buf_printf(out, ", use within %s", measure_time(order->arena, mix->pot_life));
    }
}

/* Which bore takes how much goes by the mass of the body, so only what they come to. */
static void add_loads(struct order *order, struct buf *out) {
    double loads = ballast_loads(&order->results->ballast);
    if (loads > 0)
        buf_printf(out, "%s in all for a body as computed; yours by the table of loads",
                   order_mass(order, loads));
}

/* What a step needs or what it should come to, or NULL. */
static const char *amount_of(struct order *order, const struct operation *operation) {
    struct buf out = {.arena = order->arena};
    if (operation->added) return NULL;
    if (operation->key == OPERATION_colour)
        add_paint(order, &out, operation->number - 1);
    else if (operation->key == OPERATION_topcoat)
        add_mixes(order, &out, operation->number);
    else if (operation->key == OPERATION_set_ballast)
        add_loads(order, &out);
    else if (operation->weighed != WEIGHED_NOT)
        buf_printf(&out, "should weigh %s",
                   order_mass(order, bench_mass(order->results, operation->weighed)));
    return out.size ? buf_whole(&out).data : NULL;
}

/* --- steps ----------------------------------------------------------------------------------- */

static const char *cautions_of(const struct order *order, unsigned cautions) {
    struct buf out = {.arena = order->arena};
    for (int i = 0; i < CAUTION_COUNT; i++)
        if (cautions & 1u << i)
            buf_printf(&out, "%s%s", out.size ? ", " : "", reference_caution[i].title);
    return out.size ? out.data : NULL;
}

/* The steps whose waits this one waits for, and how long after their work it may begin at last. */
static void put_links(struct json *j, const struct order *order, int index) {
    const struct route *route = route_here(order);
    json_open_list(j, "after");
    for (int i = 0; i < route->link_count; i++) {
        const struct precedence *link = &route->links[i];
        const struct operation *before = &route->operations[link->before];
        if (link->after != index || before->skipped || before->done) continue;
        if (!(before->wait > 0) && !(link->within > 0)) continue;
        json_open_object(j, NULL);
        json_put_whole(j, "step", order_step_number(order, link->before));
        json_put_number_if(j, "within_s", link->within > 0, link->within);
        json_close(j);
    }
    json_close(j);
}

static void put_step(struct json *j, struct order *order, int index) {
    const struct operation *operation = &route_here(order)->operations[index];
    double hands_on = operation->fixed + operation->each * order->recipe->make;
    json_open_object(j, NULL);
    json_put_whole(j, "number", order_step_number(order, index));
    json_put_text(j, "title", words_title(order->arena, order->recipe, operation));
    json_put_text(j, "work", hands_on > 0 ? measure_time(order->arena, hands_on) : NULL);
    json_put_text(j, "amount", amount_of(order, operation));
    json_put_text(j, "cautions", cautions_of(order, operation->cautions));
    if (operation->done) json_put_flag(j, "done", true); /* before this page: it has no pieces */
    json_put_number(j, "wait_s", operation->wait);
    put_links(j, order, index);
    json_close(j);
}

/* --- the plan -------------------------------------------------------------------------------- */

/* Its key names the operation and the plugs, so that it is the same on every page of this recipe.
 */
static void put_piece(struct json *j, struct order *order, const struct run_step *step,
                      const struct stint *stint, int sitting) {
    struct arena *arena = order->arena;
    const char *id = route_here(order)->operations[step->operation].id;
    struct plug_range plugs = stint ? sitting_plugs(&order->results->run, stint)
                                    : (struct plug_range){1, order->recipe->make};
    json_open_object(j, NULL);
    json_put_whole(j, "step", order_step_number(order, step->operation));
    json_put_text(j, "key",
                  stint ? arena_printf(arena, "%s %d-%d", id, plugs.first, plugs.last) : id);
    json_put_whole(j, "first", plugs.first);
    json_put_whole(j, "last", plugs.last);
    if (sitting >= 0) json_put_whole(j, "sitting", sitting);
    if (stint) {
        json_put_text(j, "work", measure_time(arena, (double)(stint->to - stint->from)));
        if (order_has_days(order)) json_put_text(j, "clock", order_clock(order, stint->from));
        if (step->latest >= 0 && stint->from == step->start)
            json_put_text(j, "by", order_moment(order, step->latest));
    }
    json_close(j);
}

/* Whether a step of the run is only waited for; one that is left out is not. */
static bool only_waits(const struct run *run, int step) {
    if (run->route.operations[run->steps[step].operation].skipped) return false;
    for (int i = 0; i < run->stint_count; i++)
        if (run->stints[i].step == step) return false;
    return true;
}

/* Steps that only wait, from `*next` to the one before `end`. */
static void put_waits(struct json *j, struct order *order, int end, int *next) {
    const struct run *run = &order->results->run;
    for (; *next < end; ++*next)
        if (only_waits(run, *next)) put_piece(j, order, &run->steps[*next], NULL, -1);
}

static void put_pieces(struct json *j, struct order *order) {
    const struct run *run = &order->results->run;
    int next = 0;
    json_open_list(j, "pieces");
    for (int i = 0, sitting = 0; i < run->stint_count; sitting++) {
        for (int end = sitting_from(order->recipe, run, i).end; i < end; i++) {
            put_waits(j, order, run->stints[i].step, &next);
            put_piece(j, order, &run->steps[run->stints[i].step], &run->stints[i], sitting);
        }
    }
    put_waits(j, order, run->count, &next);
    json_close(j);
}

static void put_sittings(struct json *j, struct order *order) {
    const struct run *run = &order->results->run;
    json_open_list(j, "sittings");
    for (int i = 0; i < run->stint_count;) {
        struct sitting sitting = sitting_from(order->recipe, run, i);
        json_open_object(j, NULL);
        json_put_text(j, "when", order_moment(order, sitting.from));
        json_put_text(j, "work", measure_time(order->arena, (double)sitting.hands_on));
        json_close(j);
        i = sitting.end;
    }
    json_close(j);
}

/* --- the whole ------------------------------------------------------------------------------- */

/* In JSON these stand inside texts alone, where an escape is the same text. */
static void put_inert(struct buf *out, struct str json) {
    for (size_t i = 0; i < json.size; i++) {
        char c = json.data[i];
        if (c == '<' || c == '>' || c == '&')
            buf_printf(out, "\\u%04x", (unsigned)c);
        else
            buf_char(out, c);
    }
}

void tablet_emit(struct buf *out, const struct recipe *recipe, const struct results *results) {
    struct order order = {
        .arena = out->arena, .recipe = recipe, .results = results, .units = recipe->shop->units};
    struct buf plain = {.arena = out->arena};
    struct json json = json_begin(out->arena);
    json_put_text(&json, "digest", results->digest);
    json_put_whole(&json, "make", recipe->make);
    json_open_list(&json, "steps");
    for (int i = 0; i < results->run.route.count; i++)
        if (!results->run.route.operations[i].skipped) put_step(&json, &order, i);
    json_close(&json);
    put_pieces(&json, &order);
    put_sittings(&json, &order);
    json_end(&json, &plain);
    put_inert(out, buf_whole(&plain));
}
