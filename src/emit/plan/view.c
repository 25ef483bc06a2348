#include "compute/work/sitting.h"
#include "emit/plan/inner.h"
#include "emit/words/words.h"
#include "emit/write/measure.h"

bool plan_dated(const struct plan_view *v) {
    return v->recipes[0]->shop->start.given;
}

/* "Sat 5 Dec, 09:00", or the hours since the beginning. */
const char *plan_when(const struct plan_view *v, int64_t seconds) {
    if (!plan_dated(v))
        return arena_printf(v->arena, "hour %s", measure_hour(v->arena, (double)seconds));
    struct moment moment = moment_after(v->recipes[0]->shop->start, seconds);
    return arena_printf(v->arena, "%s, %s", measure_date(v->arena, moment),
                        measure_clock(v->arena, moment));
}

/* The same inside a day whose date stands above. */
const char *plan_clock(const struct plan_view *v, int64_t seconds) {
    if (!plan_dated(v)) return plan_when(v, seconds);
    return measure_clock(v->arena, moment_after(v->recipes[0]->shop->start, seconds));
}

const char *plan_span(const struct plan_view *v, int64_t seconds) {
    return measure_time(v->arena, (double)seconds);
}

/* The step's number on the sheet of its order. */
int plan_step_number(const struct run *run, int operation) {
    int number = 0;
    for (int i = 0; i <= operation; i++) number += !run->route.operations[i].skipped;
    return number;
}

/* The lot that one of the plan's runs is, or NULL: then it is that of an order. */
const struct lot *plan_lot(const struct plan_view *v, int run) {
    return run < v->count ? NULL : &v->plan->lots.items[run - v->count];
}

int plan_order_of(const struct plan_view *v, int run) {
    return run < v->count ? run : plan_lot(v, run)->orders[0];
}

const struct recipe *plan_recipe(const struct plan_view *v, int run) {
    return run < v->count ? v->recipes[run] : plan_lot(v, run)->recipe;
}

const char *plan_title(const struct plan_view *v, int run, int operation) {
    return words_title(v->arena, plan_recipe(v, run),
                       &v->plan->runs[run].route.operations[operation]);
}

int64_t plan_late(const struct plan_view *v, int order) {
    const struct plan *plan = v->plan;
    bool is = plan->due[order] >= 0 && plan->ends[order] > plan->due[order];
    return is ? plan->ends[order] - plan->due[order] : 0;
}

const char *plan_item(const struct plan_view *v, const struct shopping_row *row) {
    const char *item = name_text(v->arena, row->item);
    if (!row->of.size) return item;
    return arena_printf(v->arena, "%s (%.*s)", item, (int)row->of.size, row->of.data);
}

const char *plan_sheet_cut(const struct plan_view *v, const struct sawing_wood *wood, int want) {
    return v->sheets[wood->runs[want]];
}

/* Of a strip that gives all blanks of a want that are missing, with the cuts between them. */
double plan_length_missing(const struct sawing_wood *wood, int want) {
    const struct cutting_want *w = &wood->task.wants[want];
    int parts = (w->count - wood->cutting.got[want]) * w->set;
    return parts > 0 ? parts * (w->length + wood->task.kerf) - wood->task.kerf : 0;
}
