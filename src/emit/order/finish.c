/* Colour plan and topcoat mixes. */
#include "emit/order/inner.h"

static const char *hex_of(const struct order *order, const struct layer *layer) {
    return arena_printf(order->arena, "#%06X", layer->hex & 0xffffffu);
}

/* "`#F5F4EE`, 100 %; mask: …" */
static void layer_words(struct order *order, const struct layer *layer) {
    struct md *md = &order->md;
    md_open_para(md);
    if (layer->hex_given) md_add(md, "`%s`, ", hex_of(order, layer));
    md_add(md, "covers %s", measure_share(order->arena, layer_cover(layer)));
    if (str_trim(layer->mask).size) md_add(md, "; mask: %.*s", MD_STR(layer->mask));
    md_end(md);
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
    picture_note(order, paint);
    for (int i = 0; i < paint->layer_count; i++) {
        const struct layer *layer = &paint->layers[i];
        const struct figure *picture = picture_of(order, i);
        md_heading(md, 3, "%d. %.*s", i + 1, MD_STR(layer->colour));
        layer_words(order, layer);
        if (picture) md_figure(md, picture->file, picture->title);
    }
}

/* One of the eyes alone says all in its drawing. */
static bool masks_layer(const struct order *order) {
    const struct finish *finish = order->recipe->finish;
    const struct paint *paint = finish ? finish->paint : NULL;
    for (int i = 0; paint && i < paint->layer_count; i++)
        if (paint->layers[i].where == WHERE_BARS || paint->layers[i].where == WHERE_SPOTS)
            return true;
    return false;
}

void order_stencils(struct order *order) {
    if (masks_layer(order)) {
        md_heading(&order->md, 3, "Stencils, full size");
        md_para(&order->md,
                "Glue on card and cut out what is drawn bold. They are as the plug is seen from "
                "the side: lay the thin outline on the plug's own, and bend the card round the "
                "flank.");
    }
    order_figures(order, FIGURE_STENCIL);
}

/* --- topcoat -------------------------------------------------------------------------------- */

/* Whether two cups are stirred alike. */
static bool same_mix(const struct mix *a, const struct mix *b) {
    return a->plugs == b->plugs && a->two_parts == b->two_parts && a->resin == b->resin &&
           a->hardener == b->hardener && a->pot_life == b->pot_life;
}

static bool mixed_before(const struct supply *supply, int mix) {
    for (int i = 0; i < mix; i++)
        if (same_mix(&supply->mixes[i], &supply->mixes[mix])) return true;
    return false;
}

/* "coat 1 ☐ ☐, coat 2 ☐ ☐": a box for every cup that is stirred like mix `first`. */
static void boxes_cell(struct order *order, int first) {
    const struct supply *supply = &order->results->supply;
    struct md *md = &order->md;
    int coat = 0;
    md_open_cell(md);
    for (int i = first; i < supply->mix_count; i++) {
        const struct mix *mix = &supply->mixes[i];
        if (!same_mix(mix, &supply->mixes[first])) continue;
        if (mix->coat != coat) md_add(md, coat ? ", coat %d" : "coat %d", mix->coat);
        coat = mix->coat;
        md_add(md, " \xe2\x98\x90");
    }
    md_end_cell(md);
}

static void mix_table(struct order *order) {
    static const struct md_column columns[] = {{"", MD_LEFT},
                                               {"Plugs", MD_RIGHT},
                                               {"Resin + hardener", MD_RIGHT},
                                               {"or that", MD_RIGHT},
                                               {"Use within", MD_RIGHT}};
    const struct supply *supply = &order->results->supply;
    struct md *md = &order->md;
    md_table(md, columns, 5);
    for (int i = 0; i < supply->mix_count; i++) {
        const struct mix *mix = &supply->mixes[i];
        if (mixed_before(supply, i)) continue;
        boxes_cell(order, i);
        md_cell(md, "%d", mix->plugs);
        md_cell(md, "%s + %s", order_volume(order, mix->resin), order_volume(order, mix->hardener));
        if (mix->resin_mass > 0 && mix->hardener_mass > 0)
            md_cell(md, "%s + %s", order_mass(order, mix->resin_mass),
                    order_mass(order, mix->hardener_mass));
        else
            md_skip(md);
        md_cell(md, "%s", mix->pot_life > 0 ? measure_time(order->arena, mix->pot_life) : "");
    }
    md_table_end(md);
}

static void pour_table(struct order *order) {
    static const struct md_column columns[] = {
        {"", MD_LEFT}, {"Plugs", MD_RIGHT}, {"Pour out", MD_RIGHT}};
    const struct supply *supply = &order->results->supply;
    struct md *md = &order->md;
    md_table(md, columns, 3);
    for (int i = 0; i < supply->mix_count; i++) {
        const struct mix *mix = &supply->mixes[i];
        if (mixed_before(supply, i)) continue;
        boxes_cell(order, i);
        md_cell(md, "%d", mix->plugs);
        md_cell(md, "%s", order_volume(order, mix->resin));
    }
    md_table_end(md);
}

int order_mix_rows(const struct order *order) {
    const struct supply *supply = &order->results->supply;
    int rows = 0;
    for (int i = 0; i < supply->mix_count; i++) rows += !mixed_before(supply, i);
    return rows;
}

static void write_mixes(struct order *order) {
    if (order->results->supply.mixes[0].two_parts)
        mix_table(order);
    else
        pour_table(order);
}

/* "Mix: epoxy, 1:1 by volume, 25 % for cup and brush included". */
void order_mixes(struct order *order, int level) {
    const struct supply *supply = &order->results->supply;
    if (!supply->mix_count) return;
    const struct topcoat *topcoat = order->recipe->finish->topcoat;
    const char *kind = reference_topcoat[topcoat->kind].kind;
    const char *waste = measure_share(order->arena, topcoat->waste);
    if (supply->mixes[0].two_parts)
        md_heading(&order->md, level, "Mix: %s, %s, %s for cup and brush included", kind,
                   measure_parts(order->arena, topcoat->mix), waste);
    else
        md_heading(&order->md, level, "Pour: %s, %s for losses included", kind, waste);
    write_mixes(order);
}

void order_topcoat(struct order *order) {
    if (!order_mixes_on_card(order)) order_mixes(order, 2);
}
