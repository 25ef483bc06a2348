#include "compute/shopping.h"

#include <math.h>

#include "model/reference.h"
#include "model/workshop.h"

/* What a run calls its own way, so that the same thing is the same in every run. */
static struct shopping_row row_of(const struct recipe *recipe, const struct supply_row *row) {
    struct shopping_row out = {row->group, row->item, {"", 0},     row->unit,
                               row->run,   row->have, row->priced, row->to_pay};
    enum name_key key = row->item.key;
    if (key == NAME_METAL) out.item.key = NAME_METAL_IN_ALL, out.item.number = 0;
    if (key == NAME_RESIN || key == NAME_TOPCOAT_HARDENER)
        out.of = str_of(reference_topcoat[recipe->finish->topcoat->kind].kind);
    return out;
}

static bool same_thing(const struct shopping_row *a, const struct shopping_row *b) {
    return a->group == b->group && a->unit == b->unit && name_equal(a->item, b->item) &&
           str_equal(a->of, b->of);
}

static void add(struct shopping *list, struct shopping_row row) {
    for (int i = 0; i < list->count; i++) {
        struct shopping_row *known = &list->rows[i];
        if (!same_thing(known, &row)) continue;
        known->amount += row.amount;
        known->have += row.have;
        known->to_pay += row.to_pay;
        known->priced = known->priced && row.priced;
        return;
    }
    list->rows[list->count++] = row;
}

/* What the runs before this one have left of its stock; NULL without any. */
static struct stock *left_by(struct arena *arena, const struct results *const *runs,
                             struct stock *const *stocks, int which) {
    for (int k = 0; k < which; k++)
        if (sawing_shares(runs[k], runs[which])) return stocks[k];
    return stock_copy(arena, runs[which]->plug.recipe->workshop);
}

/* So many blanks lie on hand. */
static void have_blanks(const struct supply *supply, int blanks) {
    for (int i = 0; i < supply->count; i++) {
        struct supply_row *row = &supply->rows[i];
        if (row->item.key != NAME_BLANK) continue;
        row->have = fmin(blanks * row->one, row->run);
        row->to_pay = row->run > 0 ? row->cost * (1 - row->have / row->run) : 0;
    }
}

static struct supply *supplies_of(struct arena *arena, const struct results *const *runs, int count,
                                  const struct sawing *sawing) {
    struct supply *supplies = NEW(arena, struct supply, count);
    struct stock **stocks = NEW(arena, struct stock *, count);
    for (int k = 0; k < count; k++) {
        const struct results *r = runs[k];
        stocks[k] = left_by(arena, runs, stocks, k);
        supplies[k] =
            supply_of(arena, &r->plug, &r->ballast, &r->run.route, r->run.topcoat_load, stocks[k]);
        have_blanks(&supplies[k], sawing->blanks[k]);
    }
    return supplies;
}

struct shopping shopping_of(struct arena *arena, const struct results *const *runs, int count) {
    struct shopping list = {.sawing = sawing_of(arena, runs, count)};
    const struct supply *supplies = supplies_of(arena, runs, count, &list.sawing);
    int most = 0;
    for (int k = 0; k < count; k++) most += supplies[k].count;
    list.rows = NEW(arena, struct shopping_row, most);
    for (int group = SUPPLY_WOOD; group <= SUPPLY_FINISH; group++)
        for (int k = 0; k < count; k++)
            for (int i = 0; i < supplies[k].count; i++)
                if ((int)supplies[k].rows[i].group == group)
                    add(&list, row_of(runs[k]->plug.recipe, &supplies[k].rows[i]));
    for (int k = 0; k < count; k++) list.stocked = list.stocked || supplies[k].stocked;
    for (int i = 0; i < list.count; i++) {
        list.priced = list.priced || list.rows[i].priced;
        if (list.rows[i].priced) list.to_pay += list.rows[i].to_pay;
    }
    return list;
}
