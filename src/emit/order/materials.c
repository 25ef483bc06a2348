/* Cut list and materials, to tick off. */
#include "emit/order/inner.h"
#include "emit/words/size.h"

#define TICK_BOX "\xe2\x98\x90" /* U+2610 */

/* --- cut list ------------------------------------------------------------------------------- */

static void cut_row(struct order *order, const char *what, int pieces, const char *size) {
    md_cell(&order->md, TICK_BOX);
    md_cell(&order->md, "%s", what);
    md_cell(&order->md, "%d", pieces);
    md_cell(&order->md, "%s", size);
}

static void lip_row(struct order *order, const struct lip *lip) {
    double width = lip->tip.given && lip->tip.value > lip->width ? lip->tip.value : lip->width;
    cut_row(order, arena_printf(order->arena, "Lip, %s", reference_sheet[lip->material].name),
            order->recipe->make,
            arena_printf(order->arena, "%s × %s of %s sheet", order_length(order, lip->length),
                         order_length(order, width), order_fine(order, lip->thickness)));
}

static void cut_table(struct order *order) {
    static const struct md_column columns[] = {
        {"", MD_CENTRE}, {"Cut", MD_LEFT}, {"Pieces", MD_RIGHT}, {"Size", MD_LEFT}};
    const struct supply *supply = &order->results->supply;
    const struct recipe *recipe = order->recipe;
    int make = recipe->make;
    md_table(&order->md, columns, 4);
    cut_row(order, arena_printf(order->arena, "Blank, %s", recipe->wood->row->name), make,
            arena_printf(order->arena, "%s long × %s high × %s wide",
                         order_length(order, supply->blank_length),
                         order_length(order, supply->blank_height),
                         order_length(order, supply->blank_width)));
    if (recipe->lip) lip_row(order, recipe->lip);
    for (int i = 0; i < order->results->plug.fitting_count; i++) {
        const struct fitted *fitted = &order->results->plug.fittings[i];
        bool through = fitted->pilot.through;
        if (fitted->fitting->screw || (through && i != FITTING_TIE)) continue;
        const char *fitting = name_text(order->arena, fitting_name(i, NAME_TIE, NAME_HANGER));
        cut_row(order, arena_printf(order->arena, "Wire, %s", through ? "through" : fitting), make,
                arena_printf(order->arena, "%s of %s %s", order_length(order, supply->cuts[i].cut),
                             size_of_wire(order->arena, recipe, &recipe->hardware->wire->diameter,
                                          recipe->hardware->wire->diameter),
                             reference_metal[recipe->hardware->wire->material].name));
    }
    md_table_end(&order->md);
}

static void board_note(struct order *order) {
    const struct supply *supply = &order->results->supply;
    const struct shop *shop = order->recipe->shop;
    struct md *md = &order->md;
    md_open_para(md);
    md_add(md, "Blanks hold %s over in length, %s in height and %s in width.",
           order_length(order, shop->allowance->length),
           order_length(order, shop->allowance->height),
           order_length(order, shop->allowance->width));
    if (supply->blank_boards == 2)
        md_add(md, " Each is two boards, %s thick.", order_length(order, supply->blank_width / 2));
    if (supply->board_given) {
        md_add(md,
               " The board on hand (%s × %s × %s) gives %s with a kerf of %s: %d along, %d "
               "across, %d deep%s.",
               order_length(order, shop->board->length), order_length(order, shop->board->width),
               order_length(order, shop->board->thickness),
               order_count(order, supply->board_pieces, "blank", "blanks"),
               order_length(order, shop->kerf), supply->board_along, supply->board_across,
               supply->board_layers,
               supply->board_turned ? ", each blank's width across the board's thickness" : "");
        if (supply->board_pieces < order->recipe->make) {
            md_add(md, " **That is not enough for this run.**");
        }
    }
    md_end(md);
}

/* --- materials ------------------------------------------------------------------------------ */

static const char *amount(const struct order *order, const struct supply_row *row, double value) {
    if (row->group == SUPPLY_WOOD && row->unit == SUPPLY_VOLUME) return order_solid(order, value);
    switch (row->unit) {
    case SUPPLY_MASS:
        return order_mass(order, value);
    case SUPPLY_LENGTH:
        return order_length(order, value);
    case SUPPLY_AREA:
        return measure_area(order->arena, value, order->units);
    case SUPPLY_VOLUME:
        return order_volume(order, value);
    case SUPPLY_PIECES:
        break;
    }
    return measure_number(order->arena, value, 0);
}

static const char *money(const struct order *order, double value) {
    return measure_number(order->arena, value, 2);
}

static const char *cost_title(const struct order *order) {
    struct buf title = {.arena = order->arena};
    buf_text(&title, "Cost, ");
    md_escape(&title, order->recipe->currency, false);
    return title.data;
}

static const char *group_name(enum supply_group group) {
    static const char *const names[] = {"Wood", "Lip", "Hardware", "Ballast", "Finish"};
    return names[group];
}

/* A material, or two that are mixed with each other: "paint: white ground + reducer", "0.9 ml + 0.9
 * ml". */
static void material_row(struct order *order, const struct supply_row *row,
                         const struct supply_row *other, bool first_of_group) {
    struct md *md = &order->md;
    const char *item = name_text(order->arena, row->item);
    md_cell(md, TICK_BOX);
    if (first_of_group)
        md_cell(md, "%s", group_name(row->group));
    else
        md_skip(md);
    if (other) {
        md_cell(md, "%s + %s", item, name_text(order->arena, (struct name){.key = other->mixed}));
        md_cell(md, "%s + %s", amount(order, row, row->one), amount(order, other, other->one));
        md_cell(md, "%s + %s", amount(order, row, row->run), amount(order, other, other->run));
    } else {
        md_cell(md, "%s", item);
        md_cell(md, "%s", amount(order, row, row->one));
        md_cell(md, "%s", amount(order, row, row->run));
    }
    if (!order->results->supply.priced) return;
    if (row->priced)
        md_cell(md, "%s", money(order, row->cost + (other ? other->cost : 0)));
    else
        md_cell(md, "–");
}

static void material_table(struct order *order) {
    const struct supply *supply = &order->results->supply;
    struct md_column columns[] = {{"", MD_CENTRE},       {"For", MD_LEFT},
                                  {"Material", MD_LEFT}, {"One plug", MD_RIGHT},
                                  {"The run", MD_RIGHT}, {"", MD_RIGHT}};
    struct md *md = &order->md;
    int group = -1;
    if (supply->priced) columns[5].title = cost_title(order);
    md_table(md, columns, supply->priced ? 6 : 5);
    for (int i = 0; i < supply->count; i++) {
        const struct supply_row *row = &supply->rows[i];
        bool pair = i + 1 < supply->count && row[1].mixed;
        material_row(order, row, pair ? row + 1 : NULL, (int)row->group != group);
        group = (int)row->group;
        i += pair;
    }
    md_table_end(md);
    if (!supply->priced) return;
    md_para(md,
            "Priced materials: **%s %.*s** for the run, %s a plug. A dash means that no price is "
            "given.",
            money(order, supply->cost), MD_STR(order->recipe->currency),
            money(order, supply->cost / order->recipe->make));
}

static void amount_cell(struct order *order, const struct supply_row *row, double value) {
    if (value > 0)
        md_cell(&order->md, "%s", amount(order, row, value));
    else
        md_cell(&order->md, "–");
}

/* What the workshop's stock has of it, and what is to be bought. */
static void shopping_table(struct order *order) {
    const struct supply *supply = &order->results->supply;
    struct md_column columns[] = {{"", MD_CENTRE},       {"Material", MD_LEFT},
                                  {"The run", MD_RIGHT}, {"On hand", MD_RIGHT},
                                  {"To buy", MD_RIGHT},  {"", MD_RIGHT}};
    struct md *md = &order->md;
    if (!supply->stocked) return;
    if (supply->priced) columns[5].title = cost_title(order);
    md_heading(md, 3, "Shopping list");
    md_table(md, columns, supply->priced ? 6 : 5);
    for (int i = 0; i < supply->count; i++) {
        const struct supply_row *row = &supply->rows[i];
        md_cell(md, TICK_BOX);
        md_cell(md, "%s", name_text(order->arena, row->item));
        md_cell(md, "%s", amount(order, row, row->run));
        amount_cell(order, row, row->have);
        amount_cell(order, row, row->run - row->have);
        if (!supply->priced) continue;
        if (row->priced)
            md_cell(md, "%s", money(order, row->to_pay));
        else
            md_cell(md, "–");
    }
    md_table_end(md);
    if (supply->priced)
        md_para(md,
                "To pay: **%s %.*s**. Other runs may need the same stock: `plugwright plan` "
                "takes it off once for all of them.",
                money(order, supply->to_pay), MD_STR(order->recipe->currency));
}

void order_materials(struct order *order) {
    md_heading(&order->md, 2, "Cut list and materials");
    cut_table(order);
    board_note(order);
    material_table(order);
    shopping_table(order);
}

bool order_is_short(const struct order *order) {
    enum { ROWS = 24, RESUMED = 6 /* lines that the title has more */ };
    const struct supply *supply = &order->results->supply;
    int rows = supply->count + 1 + (order->recipe->lip != NULL);
    for (int i = 0; i < supply->count; i++) rows -= supply->rows[i].mixed != NAME_NONE;
    for (int i = 0; i < order->results->plug.fitting_count; i++)
        rows += !order->results->plug.fittings[i].fitting->screw;
    if (order->results->resumed.given) rows += RESUMED;
    if (supply->stocked) rows += supply->count + 2;
    return rows <= ROWS;
}
