/* The appendix: what is looked up and not worked by. */
#include "emit/order/inner.h"

#include <math.h>
#include <string.h>

#include "compute/rework.h"

/* --- cautions in full ----------------------------------------------------------------------- */

static void cautions(struct order *order) {
    unsigned all = rework_cautions(order->results);
    if (!all) return;
    struct md *md = &order->md;
    md_heading(md, 3, "Cautions");
    md_para(md,
            "Read these before you begin. They replace no data sheet and no rule of your shop or "
            "country.");
    for (int i = 0; i < CAUTION_COUNT; i++) {
        const struct caution_row *row = &reference_caution[i];
        if (!(all & 1u << i)) continue;
        md_open_item(md);
        md_add(md, "**%s.** %s %s", row->title, row->text, row->defer);
        md_add(md, " *%s.*", order_steps_with(order, 1u << i, "Step", "Steps"));
        md_end(md);
    }
}

/* --- mass budget ---------------------------------------------------------------------------- */

/* Rows of one stage; the colours weigh so little that they stand together. */
static void stage_rows(struct order *order, enum stage stage, struct tally *sum) {
    const struct mass_list *masses = &order->results->masses;
    struct md *md = &order->md;
    bool first = true;
    double mass = 0; /* of the colours so far, which make one row */
    for (int i = 0; i < masses->count; i++) {
        const struct mass_row *row = &masses->rows[i];
        if (row->stage != stage) continue;
        tally_add(sum, row->mass, row->x, row->z);
        bool colour = row->item.key == NAME_COLOUR;
        bool more = i + 1 < masses->count && masses->rows[i + 1].item.key == NAME_COLOUR;
        mass = colour ? mass + row->mass : row->mass;
        if (colour && more) continue;
        if (first)
            md_cell(md, "%s", name_stages[stage].text);
        else
            md_skip(md);
        md_cell(md, "%s", colour ? "all colours" : name_text(order->arena, row->item));
        md_cell(md, "%s", order_mass(order, mass));
        md_cell(md, "%s", order_mass(order, sum->mass));
        md_cell(md, "%s", order_length(order, sum->x / sum->mass));
        md_cell(md, "%s", order_length(order, sum->z / sum->mass));
        first = false;
    }
}

static void masses(struct order *order) {
    static const struct md_column columns[] = {
        {"Stage", MD_LEFT}, {"What", MD_LEFT},           {"Mass", MD_RIGHT},
        {"Sum", MD_RIGHT},  {"From the nose", MD_RIGHT}, {"Above datum", MD_RIGHT}};
    struct md *md = &order->md;
    struct tally sum = {0};
    md_heading(md, 3, "Mass budget of one plug, with its centre so far");
    md_table(md, columns, 6);
    for (int stage = 0; stage < STAGE_COUNT; stage++) stage_rows(order, (enum stage)stage, &sum);
    md_table_end(md);
}

/* --- righting arms -------------------------------------------------------------------------- */

static void righting(struct order *order) {
    md_heading(&order->md, 3, "Righting arms");
    order_figures(order, FIGURE_RIGHTING);
}

/* --- what it was made from ------------------------------------------------------------------ */

static void digests(struct order *order) {
    const char *rest = order->results->digest;
    struct md *md = &order->md;
    md_open_para(md);
    md_add(md, "**Made from git blobs:**");
    while (rest && *rest) {
        size_t size = strcspn(rest, " ");
        md_add(md, " `%.*s`", (int)size, rest);
        rest += size + strspn(rest + size, " ");
    }
    md_end(md);
}

void order_appendix(struct order *order) {
    order_timeline(order);
    md_heading(&order->md, 2, "Appendix");
    cautions(order);
    order_tow_notes(order);
    order_sources(order);
    digests(order);
    righting(order);
    masses(order);
    order_strength(order);
}
