#include "compute/shopping.h"

#include "model/reference.h"

/* What a run calls its own way, so that the same thing is the same in every run. */
static struct shopping_row row_of(const struct recipe *recipe, const struct supply_row *row) {
    struct shopping_row out = {row->group, row->item,   {"", 0},  row->unit,
                               row->run,   row->priced, row->cost};
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
        known->cost += row.cost;
        known->priced = known->priced && row.priced;
        return;
    }
    list->rows[list->count++] = row;
}

struct shopping shopping_of(struct arena *arena, const struct recipe *const *recipes,
                            const struct supply *const *supplies, int count) {
    struct shopping list = {0};
    int most = 0;
    for (int k = 0; k < count; k++) most += supplies[k]->count;
    list.rows = NEW(arena, struct shopping_row, most);
    for (int group = SUPPLY_WOOD; group <= SUPPLY_FINISH; group++)
        for (int k = 0; k < count; k++)
            for (int i = 0; i < supplies[k]->count; i++)
                if ((int)supplies[k]->rows[i].group == group)
                    add(&list, row_of(recipes[k], &supplies[k]->rows[i]));
    for (int i = 0; i < list.count; i++) {
        list.priced = list.priced || list.rows[i].priced;
        if (list.rows[i].priced) list.cost += list.rows[i].cost;
    }
    return list;
}
