/* The float test, its first half: what to load beyond what the card says, and what the coats still
 * to come will change; the second half is trim.c.
 */
#include "emit/order/inner.h"

#include <math.h>

/* --- what to load --------------------------------------------------------------------------- */

struct range {
    double least, most;
};

/* Loads that one bore may need, between light and heavy wood, as far as they fit. */
static struct range load_range(const struct ballast_result *ballast, int bore) {
    double load = ballast->fills[bore].load;
    struct range range = {load, load};
    const struct spread_case *cases[] = {&ballast->light, &ballast->heavy};
    for (int i = 0; i < 2; i++) {
        if (!ballast->fills[bore].solved || !cases[i]->fits[bore]) continue;
        range.least = fmin(range.least, cases[i]->load[bore]);
        range.most = fmax(range.most, cases[i]->load[bore]);
    }
    return range;
}

static void load_row(struct order *order, int bore) {
    const struct ballast_result *ballast = &order->results->ballast;
    const struct bore_fill *fill = &ballast->fills[bore];
    struct range range = load_range(ballast, bore);
    struct md *md = &order->md;
    md_cell(md, fill->axis.pair ? "%d, each" : "%d", bore + 1);
    md_cell(md, "%s", order_length(order, fill->axis.x));
    md_cell(md, "%s", order_mass(order, fill->load));
    if (!fill->solved)
        md_cell(md, "as written");
    else if (order_corrected(order))
        md_cell(md, "corrected by what was measured");
    else
        md_cell(md, "%s to %s", order_mass(order, range.least), order_mass(order, range.most));
    if (!fill->solved)
        md_cell(md, "**%s**", order_mass(order, fill->load));
    else if (order_corrected(order))
        md_cell(md, "**%s**", order_mass(order, order->results->correction.load[bore]));
    else
        md_cell(md, "by the body's mass, or **%s**", order_mass(order, range.least));
}

static bool all_fit(const struct ballast_result *ballast) {
    for (int k = 0; k < ballast->by_blank_count; k++)
        for (int i = 0; i < ballast->bore_count; i++)
            if (!ballast->by_blank[k].fits[i]) return false;
    return true;
}

/* What the words of the table of loads mean that are no number. */
static void say_unmet(struct order *order) {
    if (all_fit(&order->results->ballast)) return;
    md_para(&order->md,
            "By the mass of the body, **no load** means that none meets the aim in wood of that "
            "mass, and **does not fit** that the load is higher than its bore, or leaves less than "
            "%s of wood above it. Such a body wants another aim, a wider drill or other wood.",
            order_length(order, reference_fact[FACT_WALL_LEAST].value));
}

static void load_table(struct order *order) {
    static const struct md_column columns[] = {{"Bore", MD_RIGHT},
                                               {"From the nose", MD_RIGHT},
                                               {"Computed", MD_RIGHT},
                                               {"May need", MD_LEFT},
                                               {"Start with", MD_LEFT}};
    md_table(&order->md, columns, 5);
    for (int i = 0; i < order->results->ballast.bore_count; i++) load_row(order, i);
    md_table_end(&order->md);
}

/* What wood of one edge of the spread leaves unmet. */
static void unmet_note(struct order *order, const struct spread_case *wood, const char *which) {
    const struct ballast_result *ballast = &order->results->ballast;
    if (!wood->solvable) md_add(&order->md, " In the %s no loads meet the aim.", which);
    for (int i = 0; wood->solvable && i < ballast->bore_count; i++)
        if (ballast->fills[i].solved && !wood->fits[i])
            md_add(&order->md, " In the %s the load of bore %d does not fit.", which, i + 1);
}

static void spread_note(struct order *order) {
    const struct ballast_result *ballast = &order->results->ballast;
    const struct outcome *light = &ballast->light.as_built, *heavy = &ballast->heavy.as_built;
    struct arena *arena = order->arena;
    if (!(ballast->spread > 0)) return;
    struct md *md = &order->md;
    md_open_para(md);
    md_add(md,
           "The wood's density is known within %s (one standard deviation: about two bodies in "
           "three lie inside): with these loads the finished plug keeps %s in "
           "reserve and lies %s in wood that much lighter, %s and %s in wood that much heavier.",
           measure_share(arena, ballast->spread), measure_share(arena, light->reserve),
           measure_attitude(order->arena, light->attitude), measure_share(arena, heavy->reserve),
           measure_attitude(order->arena, heavy->attitude));
    if (ballast->solution.solved_count) {
        unmet_note(order, &ballast->light, "lighter");
        unmet_note(order, &ballast->heavy, "heavier");
        md_add(md, " A body that was not weighed: start low, and add.");
    }
    md_end(md);
}

/* "2 × 0.440 in ball + 3.0 g", "nothing". */
static const char *pieces_in(const struct order *order, const struct piece_load *load, int bore) {
    struct buf text = {.arena = order->arena};
    const struct piece *pieces = order->recipe->ballast->pieces;
    buf_text(&text, "");
    for (int kind = 0; kind < order->recipe->ballast->piece_count; kind++) {
        int count = 0;
        for (int i = 0; i < BALLAST_PIECES_PER_BORE; i++) count += load->piece[bore][i] == kind;
        if (!count) continue;
        if (text.size) buf_text(&text, " + ");
        if (count > 1) buf_printf(&text, "%d × ", count);
        buf_text(&text, order_piece(order, &pieces[kind]));
    }
    return text.size ? text.data : "nothing";
}

static void piece_table(struct order *order) {
    const struct ballast_result *ballast = &order->results->ballast;
    struct md_column columns[MAX_BORES + 3] = {{"Choice", MD_RIGHT}};
    int count = 1;
    if (!ballast->best_count) return;
    for (int i = 0; i < ballast->bore_count; i++) {
        if (!ballast->fills[i].solved) continue;
        columns[count++] = (struct md_column){
            arena_printf(order->arena, ballast->fills[i].axis.pair ? "Bores %d, each" : "Bore %d",
                         i + 1),
            MD_LEFT};
    }
    columns[count++] = (struct md_column){"Reserve", MD_RIGHT};
    columns[count++] = (struct md_column){"Attitude", MD_RIGHT};
    struct md *md = &order->md;
    md_para(md,
            "From the pieces on hand, up to %d a bore, the nearest first%s. Loads that a scale in "
            "steps of %s shows alike in every bore are one choice, in the fewest pieces:",
            BALLAST_PIECES_PER_BORE,
            ballast->best_proven ? "" : " of those tried: there are too many to try them all",
            order_mass(order, reference_fact[FACT_SCALE_STEP].value));
    md_table(md, columns, count);
    for (int k = 0; k < ballast->best_count; k++) {
        const struct piece_load *load = &ballast->best[k];
        md_cell(md, "%d", k + 1);
        for (int i = 0; i < ballast->bore_count; i++) {
            if (ballast->fills[i].solved) md_cell(md, "%s", pieces_in(order, load, i));
        }
        md_cell(md, "%s", measure_share(order->arena, load->outcome.reserve));
        md_cell(md, "%s", measure_attitude(order->arena, load->outcome.attitude));
    }
    md_table_end(md);
}

/* --- what is still to come ------------------------------------------------------------------ */

static void coming(struct order *order) {
    const struct results *r = order->results;
    struct md *md = &order->md;
    int shown = 0;
    md_open_para(md);
    for (int stage = 0; stage < STAGE_COUNT; stage++) {
        struct tally tally = mass_tally(&r->masses, 1u << stage);
        if (stage_counts((enum stage)stage, CONDITION_TEST) || !(tally.mass > 0)) continue;
        md_add(md, shown++ ? ", %s %s" : "Still to come after the test: %s %s",
               name_stages[stage].text, order_mass(order, tally.mass));
    }
    if (shown)
        md_add(md, ".");
    else
        md_add(md, "Nothing is still to come after the test.");
    md_end(md);
}

/* --- the chapter ---------------------------------------------------------------------------- */

/* What the test is made with: what this plug has of it. */
static void bucket(struct order *order) {
    const struct recipe *recipe = order->recipe;
    struct md *md = &order->md;
    md_open_para(md);
    md_add(md, "For the bucket: water at %s with %s g/kg salt;",
           measure_temperature(order->arena, recipe->water->temperature, order->units),
           measure_number(order->arena, recipe->water->salinity, 0));
    if (recipe->lip) md_add(md, " the lip dry in its slot,");
    if (recipe->hardware->hanger_count) md_add(md, " hooks and rings on,");
    if (order->results->ballast.bore_count) md_add(md, " loads in their bores,");
    md_add(md, " every opening taped over.");
    md_end(md);
}

void order_ballast(struct order *order) {
    bool loaded = order->results->ballast.bore_count > 0;
    struct md *md = &order->md;
    md_heading(md, 2, "Ballast and float test");
    bucket(order);
    if (loaded) {
        md_heading(md, 3, "Load");
        if (order->results->ballast.by_blank_count && !order_loads_on_card(order))
            order_load_table(order);
        say_unmet(order);
        load_table(order);
        spread_note(order);
        piece_table(order);
    }
    coming(order);
    order_trim(order);
    order_figures(order, FIGURE_FLOAT);
}
