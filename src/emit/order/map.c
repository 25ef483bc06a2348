/* The bore map of the card: every opening with its place, its drill and the two depths that a stop
 * is set to, in the square block and in the finished plug.
 */
#include "emit/order/inner.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

#include "compute/plug/block.h"
#include "emit/words/size.h"

enum { COLUMNS = 8 };
static const struct md_column columns[COLUMNS] = {
    {"Opening", MD_LEFT},           {"Enters", MD_LEFT}, {"From the nose", MD_RIGHT},
    {"Above datum", MD_RIGHT},      {"Drill", MD_RIGHT}, {"Deep in the block", MD_RIGHT},
    {"Deep in the plug", MD_RIGHT}, {"Load", MD_RIGHT}};

/* One row: what is bored, where it enters, and with what.  NULL: there is nothing to say. */
struct map_row {
    const char *what, *enters, *from_nose, *up, *drill, *in_block, *in_plug, *load;
};

static void write_row(struct order *order, struct map_row row) {
    const char *const cells[COLUMNS] = {row.what,  row.enters,   row.from_nose, row.up,
                                        row.drill, row.in_block, row.in_plug,   row.load};
    for (int i = 0; i < COLUMNS; i++) md_cell(&order->md, "%s", cells[i] ? cells[i] : "–");
}

/* What a depth is greater by that counts from the face of the square block. */
static double waste_over(const struct block *block, const struct axis *axis) {
    if (axis_level(axis)) return fmax(0, block->width / 2 - fabs(axis->y));
    return block_waste(block, axis->x, axis->z, axis->u_x, axis->u_z);
}

/* What is bored along an axis, as deep as `depth`. */
static void axis_row(struct order *order, const struct block *block, const struct axis *axis,
                     double depth, struct map_row row) {
    row.from_nose = order_length(order, axis->x);
    if (axis->u_z == 0) row.up = order_length(order, axis->z);
    if (!axis_from_inside(axis))
        row.in_block = order_length(order, depth + waste_over(block, axis));
    row.in_plug = order_length(order, depth);
    write_row(order, row);
}

static void bore_rows(struct order *order, const struct block *block) {
    const struct ballast_result *ballast = &order->results->ballast;
    struct arena *arena = order->arena;
    for (int i = 0; i < ballast->bore_count; i++) {
        const struct bore_fill *fill = &ballast->fills[i];
        const struct bore *bore = &order->recipe->ballast->bores[i];
        bool pair = fill->axis.pair;
        axis_row(order, block, &fill->axis, fill->depth,
                 (struct map_row){
                     .what = arena_printf(arena, pair ? "Bore %d, a pair" : "Bore %d", i + 1),
                     .enters = name_sides[bore->from],
                     .drill = size_of_drill(arena, order->recipe, &bore->drill, fill->drill),
                     .load = arena_printf(arena, pair ? "%s each" : "%s",
                                          order_mass(order, fill->load))});
    }
}

static void chamber_rows(struct order *order, const struct block *block) {
    struct arena *arena = order->arena;
    for (int i = 0; i < order->recipe->chamber_count; i++) {
        const struct chamber *chamber = &order->recipe->chambers[i];
        struct hollow hollow = hollow_of(&order->results->plug, i);
        bool pair = hollow.axis.pair;
        axis_row(order, block, &hollow.axis, hollow.depth,
                 (struct map_row){
                     .what = arena_printf(arena, pair ? "Chamber %d, a pair" : "Chamber %d", i + 1),
                     .enters = name_sides[chamber->from],
                     .drill = size_of_drill(arena, order->recipe, &chamber->drill, hollow.drill),
                     .load = arena_printf(arena, pair ? "%s each" : "%s",
                                          order_mass(order, hollow.content))});
    }
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
    write_row(order,
              (struct map_row){.what = fitting_title(order, fitting),
                               .enters = name_places[fitted->fitting->place],
                               .from_nose = order_length(order, pilot->mouth_x),
                               .up = pilot->u_z == 0 ? order_length(order, pilot->mouth_z) : NULL,
                               .drill = size_of_pilot(order->arena, order->recipe, fitted->fitting,
                                                      pilot->diameter),
                               .in_block = order_length(order, pilot->depth + waste),
                               .in_plug = order_length(order, pilot->depth)});
}

static void slot_row(struct order *order, const struct block *block) {
    const struct lip *lip = order->recipe->lip;
    const struct plate *plate = &order->results->plug.plate;
    double waste = block_waste(block, plate->mouth_x, plate->mouth_z, -plate->u_x, -plate->u_z);
    write_row(order,
              (struct map_row){
                  .what = "Slot for the lip",
                  .enters = arena_printf(order->arena, "belly, %s to the datum",
                                         measure_angle(order->arena, lip->angle)),
                  .from_nose = order_position(order, lip->at),
                  .drill = arena_printf(order->arena, "%s saw", order_fine(order, lip->thickness)),
                  .in_block = order_length(order, lip->slot + waste),
                  .in_plug = order_length(order, lip->slot),
              });
}

static void lip_rows(struct order *order, const struct block *block) {
    const struct lip *lip = order->recipe->lip;
    const struct fitting *tie = order->recipe->hardware->line_tie;
    if (!lip) return;
    slot_row(order, block);
    if (tie->place != PLACE_LIP) return;
    double from_end = position_in(tie->at, lip->length);
    write_row(order, (struct map_row){
                         .what = fitting_title(order, FITTING_TIE),
                         .enters = arena_printf(order->arena, "lip, %s from its outer end",
                                                order_length(order, from_end)),
                         .drill = size_of_pilot(order->arena, order->recipe, tie,
                                                fitting_drill(order->recipe, tie)),
                         .in_plug = "through",
                     });
}

static void socket_row(struct order *order, const struct block *block) {
    const struct eyes *eyes = order->recipe->eyes;
    if (!eyes) return;
    struct axis axis = axis_of(&order->results->plug, SIDE_FLANK, eyes->at, eyes->up);
    axis_row(order, block, &axis, eyes->depth,
             (struct map_row){.what = "Eye sockets, a pair",
                              .enters = name_sides[SIDE_FLANK],
                              .drill = order_length(order, eyes->size)});
}

void order_bore_map(struct order *order) {
    const struct block block = block_of(order->recipe);
    struct md *md = &order->md;
    md_heading(md, 3, "Bore map");
    md_table(md, columns, COLUMNS);
    for (int i = 0; i < order->results->plug.fitting_count; i++) pilot_row(order, &block, i);
    lip_rows(order, &block);
    bore_rows(order, &block);
    chamber_rows(order, &block);
    socket_row(order, &block);
    md_table_end(md);
    md_para(md,
            "Block: %s × %s, the datum %s below its upper face, the nose %s behind its front end; "
            "a slot is as deep as its cut is long. Deep in the plug: from the finished surface.",
            order_length(order, block.height), order_length(order, block.width),
            order_length(order, block.back), order_length(order, block.nose));
}
