/* What wood is left around the bores, and what is in them; where they lie stands on the card. */
#include "emit/order/inner.h"

#include <math.h>

#include "compute/plug/wall.h"

/* What stands nearest to an opening: "the lip's slot, 6.1 mm". */
static const char *nearest(const struct order *order, enum opening_kind kind, int index) {
    double distance;
    const struct opening *other =
        clearance_nearest(&order->results->clearances, kind, index, &distance);
    if (!other) return "–";
    return arena_printf(order->arena, "%s, %s", name_text(order->arena, opening_name(other)),
                        order_length(order, fmax(distance, 0)));
}

static bool all_from_belly(const struct ballast *ballast) {
    for (int i = 0; i < ballast->bore_count; i++)
        if (ballast->bores[i].from != SIDE_BELLY) return false;
    return true;
}

/* To the surface, of one of the openings. */
static double wall_around(const struct order *order, enum opening_kind kind, int index) {
    const struct clearances *c = &order->results->clearances;
    for (int i = 0; i < c->count; i++)
        if (c->openings[i].kind == kind && c->openings[i].index == index) return c->wall[i];
    return 0;
}

static const char *closed_with(const struct chamber *chamber) {
    if (chamber->from == SIDE_INSIDE) return "the other half";
    return chamber->closing == STOPPER_WOOD ? "wood" : "filler";
}

static void content_table(struct order *order) {
    static const struct md_column columns[] = {
        {"Chamber", MD_RIGHT}, {"Holds", MD_LEFT}, {"Mass", MD_RIGHT},     {"Closed with", MD_LEFT},
        {"Stopper", MD_RIGHT}, {"Wall", MD_RIGHT}, {"Next to it", MD_LEFT}};
    struct md *md = &order->md;
    md_table(md, columns, 7);
    for (int i = 0; i < order->recipe->chamber_count; i++) {
        const struct chamber *chamber = &order->recipe->chambers[i];
        struct hollow hollow = hollow_of(&order->results->plug, i);
        md_cell(md, "%d", i + 1);
        md_cell(md, "%.*s", MD_STR(chamber->holds->name));
        md_cell(md, hollow.axis.pair ? "%s each" : "%s", order_mass(order, hollow.content));
        md_cell(md, "%s", closed_with(chamber));
        md_cell(md, "%s", hollow.stopper > 0 ? order_length(order, hollow.stopper) : "–");
        md_cell(md, "%s", order_length(order, wall_around(order, OPENING_CHAMBER, i)));
        md_cell(md, "%s", nearest(order, OPENING_CHAMBER, i));
    }
    md_table_end(md);
}

static void chamber_chapter(struct order *order) {
    struct md *md = &order->md;
    if (!order->recipe->chamber_count) return;
    md_heading(md, 3, "In the chambers");
    content_table(order);
    md_open_para(md);
    md_add(md,
           "The stopper closes so much of the depth, from the finished surface on; behind it the "
           "content lies loose. Chambers from the flanks are pairs, one a side and alike: what "
           "stands here is of each.");
    if (order->recipe->shop->bore == BORED_SHAPED)
        md_add(md, " Those from nose and tail are bored into the square block, all others into the "
                   "shaped body.");
    md_add(md, " The wall is the least wood to the surface ahead, or from nose and tail around the "
               "room, from the flanks around the floor.");
    md_end(md);
    if (order->recipe->body->halves)
        md_para(md, "Those from inside count from the flat face between the halves, and are pairs "
                    "too: the two of a pair make one room.");
}

static void load_words(struct order *order, bool belly) {
    struct md *md = &order->md;
    md_open_para(md);
    md_add(md, "The load stands that high at the inner end of its bore; the rest is filler.");
    if (!belly && order->recipe->shop->bore == BORED_SHAPED)
        md_add(md, " Bores from nose and tail are bored into the square block, all others into the "
                   "shaped body.");
    if (!belly)
        md_add(md, " Those from the flanks are pairs, one a side and alike, and what stands here "
                   "is of each.");
    md_add(md,
           " The wall is the least wood to the surface %s: under %s is an error, under %s doubtful "
           "in this body.",
           belly ? "above, groove and end included"
                 : "ahead, or from nose and tail around the load, from the flanks around the floor",
           order_length(order, reference_fact[FACT_WALL_LEAST].value),
           order_length(order, wall_doubtful(&order->results->plug)));
    md_end(md);
}

static void load_chapter(struct order *order) {
    static const struct md_column columns[] = {{"Bore", MD_RIGHT},
                                               {"Load", MD_RIGHT},
                                               {"Its height", MD_RIGHT},
                                               {"Wall", MD_RIGHT},
                                               {"Next to it", MD_LEFT}};
    const struct ballast_result *ballast = &order->results->ballast;
    struct md *md = &order->md;
    if (!ballast->bore_count) return;
    md_table(md, columns, 5);
    for (int i = 0; i < ballast->bore_count; i++) {
        const struct bore_fill *fill = &ballast->fills[i];
        md_cell(md, "%d", i + 1);
        md_cell(md, fill->axis.pair ? "%s each" : "%s", order_mass(order, fill->load));
        md_cell(md, "%s", order_length(order, fill->slug));
        md_cell(md, "%s", order_length(order, ballast->wall[i]));
        md_cell(md, "%s", nearest(order, OPENING_BORE, i));
    }
    md_table_end(md);
    load_words(order, all_from_belly(order->recipe->ballast));
}

/* The pairs that leave the least wood between them: where a drill that runs off does harm first. */
static void tight_pairs(struct order *order) {
    enum { MOST = 3 };
    const struct clearances *c = &order->results->clearances;
    const struct clearance *tight[MOST];
    int count = 0;
    for (int i = 0; i < c->pair_count; i++) {
        int place = count < MOST ? count++ : MOST;
        while (place > 0 && tight[place - 1]->distance > c->pairs[i].distance) {
            if (place < MOST) tight[place] = tight[place - 1];
            place--;
        }
        if (place < MOST) tight[place] = &c->pairs[i];
    }
    if (!count) return;
    md_open_para(&order->md);
    for (int i = 0; i < count; i++) {
        const struct opening *one = &c->openings[tight[i]->one];
        const struct opening *other = &c->openings[tight[i]->other];
        md_add(&order->md, i ? "; %s and %s, %s" : "The least wood is left between %s and %s, %s",
               name_text(order->arena, opening_name(one)),
               one == other ? "the other" : name_text(order->arena, opening_name(other)),
               order_length(order, fmax(tight[i]->distance, 0)));
    }
    md_add(&order->md, ". Bore there with a stop and a square.");
    md_end(&order->md);
}

/* --- centre line ---------------------------------------------------------------------------- */

/* The lean for something `step` off the middle, where the lean for 1 mm is known. */
static double lean_for(double lean_of_millimetre, double step) {
    return atan(tan(lean_of_millimetre) * step / 1e-3);
}

static bool any_pair(const struct ballast_result *ballast) {
    for (int i = 0; i < ballast->bore_count; i++)
        if (ballast->fills[i].axis.pair) return true;
    return false;
}

static void centre_line(struct order *order) {
    const struct condition *finished = &order->results->finished;
    const double allowed = reference_fact[FACT_LEAN_ALLOWED].value;
    const double step =
        shown_form(SHOWN_LENGTH, order->units).unit->scale / (order->units == UNITS_INCH ? 32 : 1);
    struct md *md = &order->md;
    md_open_para(md);
    if (!finished->stable) {
        md_add(md, "The finished plug does not stand upright by itself, so no lean can be given.");
    } else if (!(finished->ballast_mass > 0)) {
        md_add(md, "There is no ballast that could stand off the middle.");
    } else if (bench_tolerance(finished, allowed) > order->results->plug.bare.width / 2) {
        md_add(md,
               "The ballast is so light that it makes the finished plug lean under %s wherever "
               "it stands across the body.",
               measure_angle(order->arena, allowed));
    } else {
        double lean = condition_lean(finished, finished->ballast_mass, step);
        md_add(md,
               "Ballast that stands %s off the middle makes the finished plug lean %s. To stay "
               "under %s keep every ballast bore within **%s** of the centre line%s.",
               order_length(order, step), measure_angle(order->arena, lean),
               measure_angle(order->arena, allowed),
               order_fine(order, bench_tolerance(finished, allowed)),
               any_pair(&order->results->ballast)
                   ? ", and the floors of a pair as much alike on both sides"
                   : "");
    }
    if (order->results->fat_side_given) {
        double lean = lean_for(fabs(order->results->fat_side_lean), step);
        md_add(md, " A flank that stands out %s further than the other makes it lean %s.",
               order_length(order, step), measure_angle(order->arena, lean));
    }
    md_end(md);
}

void order_bores(struct order *order) {
    md_heading(&order->md, 2, "Wood around the bores");
    load_chapter(order);
    chamber_chapter(order);
    tight_pairs(order);
    centre_line(order);
    order_figures(order, FIGURE_TOP);
    order_figures(order, FIGURE_BORES);
}
