/* The chapters in the order of the sheet. */
#include "emit/order/order.h"

#include "emit/order/inner.h"

static const struct words *all_words(struct arena *arena, const struct recipe *recipe,
                                     const struct route *route) {
    struct words *words = NEW(arena, struct words, route->count);
    for (int i = 0; i < route->count; i++)
        words[i] = words_of(arena, recipe, &route->operations[i]);
    return words;
}

static struct order order_of(struct buf *out, const struct recipe *recipe,
                             const struct results *results, const struct figure_list *figures) {
    return (struct order){
        .md = md_of(out),
        .arena = out->arena,
        .recipe = recipe,
        .results = results,
        .figures = figures,
        .words = all_words(out->arena, recipe, &results->run.route),
        .units = recipe->shop->units,
    };
}

void order_emit(struct buf *out, const struct recipe *recipe, const struct results *results,
                const struct figure_list *figures, const struct order_style *style) {
    struct order order = order_of(out, recipe, results, figures);
    order_title(&order);
    order_materials(&order);
    if (order_is_short(&order)) order_glance(&order);
    order_card(&order);
    order_templates(&order, style->copies);
    order_stencils(&order);
    order_bores(&order);
    if (!order_is_short(&order)) order_glance(&order);
    order_ballast(&order);
    order_measured(&order);
    if (style->brief)
        order_brief(&order);
    else
        order_steps(&order);
    order_colours(&order);
    order_topcoat(&order);
    order_tow(&order);
    order_appendix(&order);
}

void order_card_emit(struct buf *out, const struct recipe *recipe, const struct results *results,
                     const struct figure_list *figures) {
    struct order order = order_of(out, recipe, results, figures);
    order_name(&order);
    order_resumed(&order);
    order_card(&order);
}
