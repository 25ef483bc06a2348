/* Templates and the table of offsets: what the wood must become. */
#include "emit/order/inner.h"

/* --- 1:1 templates -------------------------------------------------------------------------- */

static void offsets_table(struct order *order) {
    static const struct md_column columns[] = {{"Station", MD_RIGHT},
                                               {"From the nose", MD_RIGHT},
                                               {"Back above datum", MD_RIGHT},
                                               {"Belly below datum", MD_RIGHT},
                                               {"Width", MD_RIGHT}};
    const struct body *body = order->recipe->body;
    md_table(&order->md, columns, 5);
    for (int i = 0; i < body->station_count; i++) {
        const struct station *station = &body->stations[i];
        md_cell(&order->md, "%d", i + 1);
        md_cell(&order->md, "%s", order_position(order, station->at));
        md_cell(&order->md, "%s", order_length(order, station->back));
        md_cell(&order->md, "%s", order_length(order, station->belly));
        md_cell(&order->md, "%s", order_length(order, station->width));
    }
    md_table_end(&order->md);
}

static const char *section_words(const struct order *order) {
    const struct section_choice *section = order->recipe->body->section;
    if (section->shape == SECTION_OVAL) return "oval";
    if (section->shape == SECTION_SQUARE) return "square";
    return arena_printf(order->arena, "square with its edges rounded over to %s",
                        order_length(order, section->radius.value));
}

/* Every plug is sawn through a print of its own. */
static void say_copies(struct order *order, int copies) {
    const char *through = order->recipe->lip ? "wood and lip" : "the wood";
    struct md *md = &order->md;
    md_open_para(md);
    md_add(md, "The templates are glued on and cut through with %s: ", through);
    if (copies == 1)
        md_add(md, "**print their sheets %d times**, once for every plug", order->recipe->make);
    else
        md_add(md, "there are %d prints here, and **%d plugs want one each**", copies,
               order->recipe->make);
    md_add(md, ". The gauges of the sections are cut once.");
    md_end(md);
}

/* Sheets of templates that fill a page come behind the lip, which then shares the page before. */
static void template_sheets(struct order *order) {
    static const double fills_page = 190.0; /* mm */
    bool tall = false;
    for (int i = 0; i < order->figures->count; i++) {
        const struct figure *figure = &order->figures->figures[i];
        tall |= figure->kind == FIGURE_TEMPLATE && figure->height > fills_page;
    }
    if (tall) order_figures(order, FIGURE_LIP);
    order_figures(order, FIGURE_TEMPLATE);
    if (!tall) order_figures(order, FIGURE_LIP);
}

void order_templates(struct order *order, int copies) {
    struct md *md = &order->md;
    md_heading(md, 2, "Templates, full size");
    md_para(md, "Print at 100 %% and lay a rule on the scale bar of each sheet: it must measure "
                "100 mm. If it does not, the printer has fitted the page; do not cut.");
    if (copies < order->recipe->make) say_copies(order, copies);
    md_heading(md, 3, "Offsets");
    md_para(md, "The table is the shape; the templates are drawn from it. Sections are %s.",
            section_words(order));
    offsets_table(order);
    if (order->recipe->joint_count)
        md_para(
            md,
            "The body is carved in one piece and cut at its joints last. Its hinges turn about "
            "upright pins: in pitch and heel it counts as rigid, in every number of this order.");
    for (int i = 0; i < copies; i++) template_sheets(order);
    order_figures(order, FIGURE_CUP);
    md_heading(md, 3, "Sections and gauges");
    md_para(md,
            "Glue the right half on card and cut along the bold line. Hold the gauge against the "
            "plug at its station while you round it: its straight edges stand over the middle "
            "of back and belly, its line on the datum, and no light shows between.");
    order_figures(order, FIGURE_SECTIONS);
}
