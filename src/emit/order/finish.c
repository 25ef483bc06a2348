/* Colour plan and topcoat mixes. */
#include "emit/order/inner.h"

static const char *hex_of(const struct order *order, const struct layer *layer) {
    return arena_printf(order->arena, "#%06X", layer->hex & 0xffffffu);
}

static void layer_table(struct order *order, const struct paint *paint) {
    static const struct md_column columns[] = {
        {"Layer", MD_RIGHT}, {"Colour", MD_LEFT},          {"Hex", MD_LEFT},
        {"Kind", MD_LEFT},   {"Where", MD_LEFT},           {"Covers", MD_RIGHT},
        {"Coats", MD_RIGHT}, {"Paint : reducer", MD_LEFT}, {"Dry, each", MD_RIGHT}};
    struct md *md = &order->md;
    md_table(md, columns, 9);
    for (int i = 0; i < paint->layer_count; i++) {
        const struct layer *layer = &paint->layers[i];
        md_cell(md, "%d", i + 1);
        md_cell(md, "%.*s", MD_STR(layer->colour));
        if (layer->hex_given)
            md_cell(md, "`%s`", hex_of(order, layer));
        else
            md_cell(md, "–");
        md_cell(md, "%s", reference_layer_kind[layer->kind].kind);
        md_cell(md, "%s", reference_cover[layer->where].where);
        md_cell(md, "%s", measure_share(order->arena, layer_cover(layer)));
        md_cell(md, "%d", layer->coats);
        md_cell(md, "%s", measure_parts(order->arena, layer->thin));
        md_cell(md, "%s", measure_time(order->arena, layer->dry));
    }
    md_table_end(md);
}

static const struct figure *picture_of(const struct order *order, int layer) {
    for (int i = 0; i < order->figures->count; i++) {
        const struct figure *figure = &order->figures->figures[i];
        if (figure->kind == FIGURE_COLOUR && figure->layer == layer) return figure;
    }
    return NULL;
}

static void picture_note(struct order *order, const struct paint *paint) {
    bool all_given = true;
    for (int i = 0; i < paint->layer_count; i++)
        all_given = all_given && paint->layers[i].hex_given;
    md_open_para(&order->md);
    md_add(&order->md, "Hatched: what the layer adds. Numbers: the layers that are still seen, "
                       "black the newest.");
    if (!all_given) md_add(&order->md, " A layer whose hex is not given is grey.");
    md_end(&order->md);
}

void order_colours(struct order *order) {
    const struct finish *finish = order->recipe->finish;
    const struct paint *paint = finish ? finish->paint : NULL;
    struct md *md = &order->md;
    if (!paint || !paint->layer_count) return;
    md_heading(md, 2, "Colour plan");
    layer_table(order, paint);
    md_heading(md, 3, "Layer by layer");
    picture_note(order, paint);
    for (int i = 0; i < paint->layer_count; i++) {
        const struct layer *layer = &paint->layers[i];
        const struct figure *picture = picture_of(order, i);
        md_heading(md, 4, "%d. %.*s", i + 1, MD_STR(layer->colour));
        if (str_trim(layer->mask).size) md_para(md, "Mask: %.*s", MD_STR(layer->mask));
        if (picture) md_figure(md, picture->file, picture->title);
    }
}

/* --- topcoat -------------------------------------------------------------------------------- */

static void mix_table(struct order *order) {
    static const struct md_column columns[] = {
        {"", MD_CENTRE},        {"Coat", MD_RIGHT},     {"Load, cup", MD_CENTRE},
        {"Plugs", MD_RIGHT},    {"Resin", MD_RIGHT},    {"Hardener", MD_RIGHT},
        {"or resin", MD_RIGHT}, {"hardener", MD_RIGHT}, {"Use within", MD_RIGHT}};
    const struct supply *supply = &order->results->supply;
    struct md *md = &order->md;
    md_table(md, columns, 9);
    for (int i = 0; i < supply->mix_count; i++) {
        const struct mix *mix = &supply->mixes[i];
        md_cell(md, "\xe2\x98\x90");
        md_cell(md, "%d", mix->coat);
        md_cell(md, "%d, %d", mix->load, mix->cup);
        md_cell(md, "%d", mix->plugs);
        md_cell(md, "%s", order_volume(order, mix->resin));
        md_cell(md, "%s", order_volume(order, mix->hardener));
        md_cell(md, "%s", order_mass(order, mix->resin_mass));
        md_cell(md, "%s", order_mass(order, mix->hardener_mass));
        md_cell(md, "%s", mix->pot_life > 0 ? measure_time(order->arena, mix->pot_life) : "");
    }
    md_table_end(md);
}

static void pour_table(struct order *order) {
    static const struct md_column columns[] = {{"", MD_CENTRE},
                                               {"Coat", MD_RIGHT},
                                               {"Load", MD_RIGHT},
                                               {"Plugs", MD_RIGHT},
                                               {"Pour out", MD_RIGHT}};
    const struct supply *supply = &order->results->supply;
    struct md *md = &order->md;
    md_table(md, columns, 5);
    for (int i = 0; i < supply->mix_count; i++) {
        const struct mix *mix = &supply->mixes[i];
        md_cell(md, "\xe2\x98\x90");
        md_cell(md, "%d", mix->coat);
        md_cell(md, "%d", mix->load);
        md_cell(md, "%d", mix->plugs);
        md_cell(md, "%s", order_volume(order, mix->resin));
    }
    md_table_end(md);
}

void order_mixes(struct order *order) {
    const struct finish *finish = order->recipe->finish;
    const struct topcoat *topcoat = finish ? finish->topcoat : NULL;
    const struct supply *supply = &order->results->supply;
    struct md *md = &order->md;
    if (!topcoat || !supply->mix_count) return;
    const char *kind = reference_topcoat[topcoat->kind].kind;
    const char *waste = measure_share(order->arena, topcoat->waste);
    if (!supply->mixes[0].two_parts) {
        md_heading(md, 2, "Topcoat by coats");
        md_para(md,
                "Topcoat of %s, %s to be lost in cup and brush or in the air already added. One "
                "line is one coat of one load.",
                kind, waste);
        pour_table(order);
        return;
    }
    md_heading(md, 2, "Topcoat mixes");
    md_para(md,
            "Topcoat of %s, %s (resin to hardener), %s to be lost in cup and brush already added. "
            "One line is one mix, by volume or by mass: stir it when the one before is used up.",
            kind, measure_parts(order->arena, topcoat->mix), waste);
    mix_table(order);
}
