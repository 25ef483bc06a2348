/* Templates, bore map, mass budget, centre line: what the wood must become and keep to. */
#include "emit/order/inner.h"
#include "emit/words/size.h"

#include "compute/plug/block.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

#include "compute/plug/wall.h"

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

void order_templates(struct order *order) {
    struct md *md = &order->md;
    md_heading(md, 2, "Templates, full size");
    md_para(md, "Print at 100 %% and lay a rule on the scale bar of each sheet: it must measure "
                "100 mm. If it does not, the printer has fitted the page; do not cut.");
    if (order->recipe->make > 1)
        md_para(md,
                order->recipe->lip
                    ? "The templates are glued on and cut through with wood and lip: **print their "
                      "sheets %d times**, once for every plug. The gauges of the sections are cut "
                      "once."
                    : "The templates are glued on and cut through with the wood: **print their "
                      "sheets %d times**, once for every plug. The gauges of the sections are cut "
                      "once.",
                order->recipe->make);
    md_heading(md, 3, "Offsets");
    md_para(md, "The table is the shape; the templates are drawn from it. Sections are %s.",
            section_words(order));
    offsets_table(order);
    if (order->recipe->joint_count)
        md_para(
            md,
            "The body is carved in one piece and cut at its joints last. Its hinges turn about "
            "upright pins: in pitch and heel it counts as rigid, in every number of this order.");
    order_figures(order, FIGURE_TEMPLATE);
    order_figures(order, FIGURE_LIP);
    order_figures(order, FIGURE_CUP);
    md_heading(md, 3, "Sections and gauges");
    md_para(md,
            "Glue the right half on card and cut along the bold line. Hold the gauge against the "
            "plug at its station while you round it: its straight edges stand over the middle "
            "of back and belly, its line on the datum, and no light shows between.");
    order_figures(order, FIGURE_SECTIONS);
}

/* --- bore map ------------------------------------------------------------------------------- */

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

/* Where something is bored and how deep. */
struct side_row {
    enum bore_side from;
    const struct axis *axis;
    const char *drill;
    double depth;
};

enum { SIDE_COLUMNS = 7 };
static const struct md_column bore_columns[SIDE_COLUMNS] = {{"Bore", MD_RIGHT},
                                                            {"Enters", MD_LEFT},
                                                            {"From the nose", MD_RIGHT},
                                                            {"Above datum", MD_RIGHT},
                                                            {"Drill", MD_RIGHT},
                                                            {"Deep in the block", MD_RIGHT},
                                                            {"Deep in the plug", MD_RIGHT}};
static const struct md_column chamber_columns[SIDE_COLUMNS] = {
    {"Chamber", MD_RIGHT},         {"Enters", MD_LEFT}, {"From the nose", MD_RIGHT},
    {"Above datum", MD_RIGHT},     {"Drill", MD_RIGHT}, {"Deep in the block", MD_RIGHT},
    {"Deep in the plug", MD_RIGHT}};

/* Only what comes from the ends is bored into the square block. */
static void side_row(struct order *order, const struct block *block, int number,
                     struct side_row row) {
    const struct axis *axis = row.axis;
    double waste = block_waste(block, axis->x, axis->z, axis->u_x, axis->u_z);
    const char *in_block = order_length(order, row.depth + waste);
    struct md *md = &order->md;
    md_cell(md, "%d", number);
    md_cell(md, "%s", name_sides[row.from]);
    md_cell(md, "%s", order_length(order, axis->x));
    md_cell(md, "%s", axis->u_z == 0 ? order_length(order, axis->z) : "–");
    md_cell(md, "%s", row.drill);
    md_cell(md, "%s", side_is_end(row.from) ? in_block : "–");
    md_cell(md, "%s", order_length(order, row.depth));
}

static void side_table(struct order *order, const struct block *block) {
    const struct ballast_result *ballast = &order->results->ballast;
    md_table(&order->md, bore_columns, SIDE_COLUMNS);
    for (int i = 0; i < ballast->bore_count; i++) {
        const struct bore_fill *fill = &ballast->fills[i];
        const struct bore *bore = &order->recipe->ballast->bores[i];
        const char *drill = size_of_drill(order->arena, order->recipe, &bore->drill, fill->drill);
        side_row(order, block, i + 1,
                 (struct side_row){bore->from, &fill->axis, drill, fill->depth});
    }
    md_table_end(&order->md);
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

static void chamber_tables(struct order *order, const struct block *block) {
    struct md *md = &order->md;
    if (!order->recipe->chamber_count) return;
    md_heading(md, 3, "Chambers");
    md_table(md, chamber_columns, SIDE_COLUMNS);
    for (int i = 0; i < order->recipe->chamber_count; i++) {
        struct hollow hollow = hollow_of(&order->results->plug, i);
        const struct chamber *chamber = &order->recipe->chambers[i];
        const char *drill =
            size_of_drill(order->arena, order->recipe, &chamber->drill, hollow.drill);
        side_row(order, block, i + 1,
                 (struct side_row){chamber->from, &hollow.axis, drill, hollow.depth});
    }
    md_table_end(md);
    content_table(order);
    md_para(
        md,
        "The stopper closes so much of the depth, from the finished surface on; behind it the "
        "content lies loose. Chambers from the flanks are pairs, one a side and alike: what "
        "stands here is of each. Those from nose and tail are bored into the square block, all "
        "others into the shaped body. The wall is the least wood to the surface ahead, or from "
        "nose and tail around the room, from the flanks around the floor: under %s is an error, "
        "under %s doubtful in this body.",
        order_length(order, reference_fact[FACT_WALL_LEAST].value),
        order_length(order, wall_doubtful(&order->results->plug)));
    if (order->recipe->body->halves)
        md_para(md, "Those from inside count from the flat face between the halves, and are pairs "
                    "too: the two of a pair make one room.");
}

static void load_words(struct order *order, bool belly) {
    struct md *md = &order->md;
    md_open_para(md);
    if (belly)
        md_add(md, "Depth counts from the finished belly.");
    else
        md_add(
            md,
            "Bores from nose and tail are bored into the square block, so deep from its end; "
            "all others into the shaped body. Deep in the plug: from the finished surface, where "
            "the middle of the bore enters. Bores from the flanks are pairs, one a side and "
            "alike: what stands here is of each.");
    md_add(md,
           " The load stands that high at the inner end of its bore; the rest is filler. The wall "
           "is the least wood to the surface %s: under %s is an error, under %s doubtful in this "
           "body.",
           belly ? "above, groove and end included"
                 : "ahead, or from nose and tail around the load, from the flanks around the floor",
           order_length(order, reference_fact[FACT_WALL_LEAST].value),
           order_length(order, wall_doubtful(&order->results->plug)));
    md_end(md);
}

static void load_table(struct order *order, const struct block *block) {
    static const struct md_column columns[] = {{"Bore", MD_RIGHT},  {"From the nose", MD_RIGHT},
                                               {"Drill", MD_RIGHT}, {"Depth", MD_RIGHT},
                                               {"Load", MD_RIGHT},  {"stands", MD_RIGHT},
                                               {"Wall", MD_RIGHT},  {"Next to it", MD_LEFT}};
    static const struct md_column loads[] = {{"Bore", MD_RIGHT},
                                             {"Load", MD_RIGHT},
                                             {"stands", MD_RIGHT},
                                             {"Wall", MD_RIGHT},
                                             {"Next to it", MD_LEFT}};
    const struct ballast_result *ballast = &order->results->ballast;
    if (!ballast->bore_count) return;
    bool belly = all_from_belly(order->recipe->ballast);
    struct md *md = &order->md;
    md_heading(md, 3, belly ? "Ballast, drilled straight up from the belly" : "Ballast");
    if (!belly) side_table(order, block);
    md_table(md, belly ? columns : loads, belly ? 8 : 5);
    for (int i = 0; i < ballast->bore_count; i++) {
        const struct bore_fill *fill = &ballast->fills[i];
        md_cell(md, "%d", i + 1);
        if (belly) {
            md_cell(md, "%s", order_length(order, fill->axis.x));
            md_cell(md, "%s",
                    size_of_drill(order->arena, order->recipe,
                                  &order->recipe->ballast->bores[i].drill, fill->drill));
            md_cell(md, "%s", order_length(order, fill->depth));
        }
        md_cell(md, fill->axis.pair ? "%s each" : "%s", order_mass(order, fill->load));
        md_cell(md, "%s", order_length(order, fill->slug));
        md_cell(md, "%s", order_length(order, ballast->wall[i]));
        md_cell(md, "%s", nearest(order, OPENING_BORE, i));
    }
    md_table_end(md);
    load_words(order, belly);
}

/* One row of the table: what is bored, where it enters, and with what. */
struct opening_row {
    const char *what, *enters, *from_nose, *drill;
    const char *depth, *in_block; /* from the finished surface, and from the block's face */
};

static void opening_row(struct order *order, struct opening_row row) {
    const char *const cells[] = {row.what,  row.enters,   row.from_nose,
                                 row.drill, row.in_block, row.depth};
    for (size_t i = 0; i < sizeof cells / sizeof *cells; i++) md_cell(&order->md, "%s", cells[i]);
}

/* "Hanger 1", at the head of a row. */
static const char *fitting_title(const struct order *order, int fitting) {
    const char *name = name_text(order->arena, fitting_name(fitting, NAME_TIE, NAME_HANGER));
    char *title = arena_copy(order->arena, name, strlen(name));
    title[0] = (char)toupper((unsigned char)title[0]);
    return title;
}

static void pilot_row(struct order *order, const struct block *block, int fitting) {
    const struct fitted *fitted = &order->results->plug.fittings[fitting];
    const struct pilot *pilot = &fitted->pilot;
    if (!pilot_bored(pilot)) return;
    double waste = block_waste(block, pilot->mouth_x, pilot->mouth_z, pilot->u_x, pilot->u_z);
    opening_row(order,
                (struct opening_row){.what = fitting_title(order, fitting),
                                     .enters = name_places[fitted->fitting->place],
                                     .from_nose = order_length(order, pilot->mouth_x),
                                     .drill = size_of_pilot(order->arena, order->recipe,
                                                            fitted->fitting, pilot->diameter),
                                     .depth = order_length(order, pilot->depth),
                                     .in_block = order_length(order, pilot->depth + waste)});
}

static void slot_row(struct order *order, const struct block *block) {
    const struct lip *lip = order->recipe->lip;
    const struct plate *plate = &order->results->plug.plate;
    double waste = block_waste(block, plate->mouth_x, plate->mouth_z, -plate->u_x, -plate->u_z);
    opening_row(
        order, (struct opening_row){
                   .what = "Slot for the lip",
                   .enters = arena_printf(order->arena, "belly, %s to the datum",
                                          measure_angle(order->arena, lip->angle)),
                   .from_nose = order_position(order, lip->at),
                   .drill = arena_printf(order->arena, "%s saw", order_fine(order, lip->thickness)),
                   .depth = order_length(order, lip->slot),
                   .in_block = order_length(order, lip->slot + waste),
               });
}

static void lip_rows(struct order *order, const struct block *block) {
    const struct lip *lip = order->recipe->lip;
    const struct fitting *tie = order->recipe->hardware->line_tie;
    if (!lip) return;
    slot_row(order, block);
    if (tie->place != PLACE_LIP) return;
    double from_end = position_in(tie->at, lip->length);
    opening_row(order, (struct opening_row){
                           .what = fitting_title(order, FITTING_TIE),
                           .enters = arena_printf(order->arena, "lip, %s from its outer end",
                                                  order_length(order, from_end)),
                           .from_nose = "–",
                           .drill = size_of_pilot(order->arena, order->recipe, tie,
                                                  fitting_drill(order->recipe, tie)),
                           .depth = "through",
                           .in_block = "–",
                       });
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

static void opening_table(struct order *order, const struct block *block) {
    static const struct md_column columns[] = {
        {"Opening", MD_LEFT}, {"Enters at", MD_LEFT},          {"From the nose", MD_RIGHT},
        {"Drill", MD_RIGHT},  {"Deep in the block", MD_RIGHT}, {"Deep in the plug", MD_RIGHT}};
    const struct eyes *eyes = order->recipe->eyes;
    md_heading(&order->md, 3, "Wires, slot and sockets");
    md_table(&order->md, columns, 6);
    for (int i = 0; i < order->results->plug.fitting_count; i++) pilot_row(order, block, i);
    lip_rows(order, block);
    if (eyes) {
        opening_row(order, (struct opening_row){
                               .what = "Eye sockets, one a side",
                               .enters = arena_printf(order->arena, "flanks, %s above the datum",
                                                      order_length(order, eyes->up)),
                               .from_nose = order_position(order, eyes->at),
                               .drill = order_length(order, eyes->size),
                               .depth = order_length(order, eyes->depth),
                               .in_block = "–",
                           });
    }
    md_table_end(&order->md);
    md_para(&order->md,
            "Deep in the block: from the face of the square block, waste and all, with the datum "
            "line %s below its upper face and the nose %s behind its front end; a slot is measured "
            "along its cut. Deep in the plug: from the finished surface.",
            order_length(order, block->back), order_length(order, block->nose));
    tight_pairs(order);
}

void order_bores(struct order *order) {
    const struct block block = block_of(order->recipe);
    md_heading(&order->md, 2, "Bore map");
    md_para(&order->md,
            "Mark everything from the nose along the datum line while the block is square "
            "and before a profile is cut; what the saw takes away is marked again from here.");
    load_table(order, &block);
    chamber_tables(order, &block);
    opening_table(order, &block);
    order_figures(order, FIGURE_SIDE);
    order_figures(order, FIGURE_BORES);
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

void order_masses(struct order *order) {
    static const struct md_column columns[] = {
        {"Stage", MD_LEFT}, {"What", MD_LEFT},           {"Mass", MD_RIGHT},
        {"Sum", MD_RIGHT},  {"From the nose", MD_RIGHT}, {"Above datum", MD_RIGHT}};
    struct md *md = &order->md;
    struct tally sum = {0};
    md_heading(md, 2, "Mass budget");
    md_para(md, "One plug, in the order of the build; on the right, the centre of gravity so far.");
    md_table(md, columns, 6);
    for (int stage = 0; stage < STAGE_COUNT; stage++) stage_rows(order, (enum stage)stage, &sum);
    md_table_end(md);
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

void order_centre_line(struct order *order) {
    const struct condition *finished = &order->results->finished;
    const double allowed = reference_fact[FACT_LEAN_ALLOWED].value;
    const double step =
        shown_form(SHOWN_LENGTH, order->units).unit->scale / (order->units == UNITS_INCH ? 32 : 1);
    struct md *md = &order->md;
    md_heading(md, 2, "Centre line");
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
    order_figures(order, FIGURE_RIGHTING);
}
