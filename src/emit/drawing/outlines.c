/* What a machine cuts in true size: side and top one below the other with a lip and a gauge under
 * them, and nothing that is no cut.
 */
#include "emit/drawing/inner.h"

#include <math.h>

#include "emit/drawing/drawing.h"

static const double room = 5.0; /* mm around every piece */

/* The pen that programs for lasers take for a cut. */
static const struct svg_style pen_cut = {.stroke = "#000", .width = 0.01};

/* Where the pieces lie, in mm of the sheet. */
struct sheet {
    struct view side, plan;
    double lip_middle, lip_mouth;
    double gauge_middle, gauge_top;
    double width, height;
};

static struct sheet sheet_of(const struct drawing *drawing) {
    const struct solid *bare = &drawing->results->plug.bare;
    const struct lip *lip = drawing->recipe->lip;
    const struct nose_face *face = drawing->recipe->face;
    struct sheet sheet = {.side = {room, room + 1e3 * bare->top, 1e3, 0.0}};
    double y = view_y(&sheet.side, bare->bottom) + room, x = room, high = 0.0;
    sheet.plan = (struct view){room, y + 1e3 * bare->width / 2.0, 1e3, 0.0};
    y = sheet.plan.y + 1e3 * bare->width / 2.0 + room;
    if (lip) {
        double tip = lip->shape == LIP_TAPER ? drawing->results->plug.plate.tip : 0.0;
        double half = 1e3 * fmax(lip->width, tip) / 2.0;
        sheet.lip_middle = x + half;
        sheet.lip_mouth = y + 1e3 * lip->slot;
        x += 2.0 * half + room;
        high = 1e3 * lip->length;
    }
    if (face) {
        struct svg_point size = part_cup_gauge_size(face);
        sheet.gauge_middle = x + size.x / 2.0;
        sheet.gauge_top = y;
        x += size.x + room;
        high = fmax(high, size.y);
    }
    sheet.width = fmax(x, 1e3 * drawing->outline->length + 2.0 * room);
    sheet.height = y + (high > 0.0 ? high + room : 0.0);
    return sheet;
}

static void cut_lip(const struct drawing *drawing, struct svg *svg, const struct sheet *sheet) {
    const struct plate *plate = &drawing->results->plug.plate;
    double from_end, drill;
    part_lip_outline(svg, drawing->recipe->lip, plate, sheet->lip_middle, sheet->lip_mouth);
    if (part_tie_hole(drawing, &from_end, &drill))
        svg_circle(svg, sheet->lip_middle, sheet->lip_mouth + 1e3 * (plate->extent - from_end),
                   1e3 * drill / 2.0);
}

struct buf drawing_outlines(struct arena *arena, const struct recipe *recipe,
                            const struct results *results) {
    struct drawing drawing = {
        .arena = arena, .recipe = recipe, .results = results, .outline = &results->plug.outline};
    struct sheet sheet = sheet_of(&drawing);
    struct svg svg;
    svg_begin_bare(&svg, arena, sheet.width, sheet.height);
    svg_group(&svg, &pen_cut);
    part_side_outline(&svg, &sheet.side, drawing.outline);
    part_plan_outline(&svg, &sheet.plan, drawing.outline);
    if (recipe->lip) cut_lip(&drawing, &svg, &sheet);
    if (recipe->face)
        part_cup_gauge(&svg, recipe->face, &results->plug.cup, sheet.gauge_middle, sheet.gauge_top);
    svg_group_end(&svg);
    svg_end(&svg);
    return svg.out;
}
