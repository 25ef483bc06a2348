/* The lip in true size, to be cut out: the inner end, which goes into the slot, is on top. */
#include "emit/drawing/inner.h"

#include <math.h>

static const double lip_top = 15.0, side_room = 36.0;

/* Paper: the slot's mouth is the line y = `mouth`, the middle is x = `middle`; 1:1. */
struct blank {
    const struct plate *plate;
    double middle, mouth, slot, half;
    double reach; /* half of the greatest width */
};

void part_lip_outline(struct svg *svg, const struct lip *lip, const struct plate *plate,
                      double middle, double mouth) {
    double inner = mouth - 1e3 * lip->slot, end = mouth + 1e3 * plate->extent;
    double half = 1e3 * lip->width / 2.0, tip = 1e3 * plate->tip / 2.0;
    bool round = plate->shape == LIP_ROUND, taper = plate->shape == LIP_TAPER;
    svg_path(svg);
    svg_move(svg, middle - half, inner);
    svg_to(svg, middle + half, inner);
    svg_to(svg, middle + half, taper ? mouth : round ? end - half : end);
    if (round) {
        svg_arc(svg, half, false, true, middle - half, end - half);
    } else if (taper) {
        svg_to(svg, middle + tip, end);
        svg_to(svg, middle - tip, end);
        svg_to(svg, middle - half, mouth);
    } else {
        svg_to(svg, middle - half, end);
    }
    svg_close(svg);
    svg_path_end(svg);
}

bool part_tie_hole(const struct drawing *drawing, double *from_end, double *drill) {
    const struct fitted *tie = &drawing->results->plug.fittings[FITTING_TIE];
    if (!drawing->recipe->lip || tie->pilot.given) return false;
    *drill = tie->pilot.diameter;
    *from_end = position_in(tie->fitting->at, drawing->recipe->lip->length);
    return true;
}

static void slot_part(struct svg *svg, const struct blank *b) {
    struct svg_point corners[4] = {{b->middle - b->half, b->mouth - b->slot},
                                   {b->middle + b->half, b->mouth - b->slot},
                                   {b->middle + b->half, b->mouth},
                                   {b->middle - b->half, b->mouth}};
    svg_group(svg, &(struct svg_style){.stroke = "#999", .width = 0.12});
    svg_hatch(svg, corners, 4, 45.0, 1.5);
    svg_group_end(svg);
    svg_group(svg, &pen_hidden);
    svg_line(svg, b->middle - b->half - 4.0, b->mouth, b->middle + b->half + 4.0, b->mouth);
    svg_group_end(svg);
}

static void tie_hole(struct drawing *drawing, struct svg *svg, const struct blank *b) {
    double from_end, drill;
    if (!part_tie_hole(drawing, &from_end, &drill)) return;
    struct svg_point hole = {b->middle, b->mouth + 1e3 * (b->plate->extent - from_end)};
    svg_group(svg, &pen_detail);
    svg_circle(svg, hole.x, hole.y, 1e3 * drill / 2.0);
    part_cross(svg, hole, 1e3 * drill / 2.0 + 1.2);
    svg_group_end(svg);
    double left = b->middle - b->reach - 5.0;
    svg_group(svg, &pen_thin);
    svg_line(svg, left, hole.y, hole.x - 1e3 * drill / 2.0 - 1.2, hole.y);
    svg_group_end(svg);
    struct svg_font font = font_at(&font_plain, SVG_END);
    svg_text(svg, left - 1.0, hole.y - 0.6, &font, "line tie");
    svg_text(svg, left - 1.0, hole.y + 3.0, &font,
             arena_printf(drawing->arena, "drill %s",
                          measure_length_bare(drawing->arena, drill, drawing->units)));
    part_dim_up(svg, left + 1.8, b->mouth + 1e3 * b->plate->extent, hole.y,
                measure_length_bare(drawing->arena, from_end, drawing->units));
}

static void sizes(struct drawing *drawing, struct svg *svg, const struct blank *b) {
    const struct lip *lip = drawing->recipe->lip;
    double inner = b->mouth - b->slot, end = b->mouth + 1e3 * b->plate->extent;
    double right = b->middle + b->reach + 9.0;
    part_dim_across(svg, b->middle - b->half, b->middle + b->half, inner - 5.0,
                    measure_length(drawing->arena, lip->width, drawing->units));
    part_dim_up(svg, right, b->mouth, inner,
                measure_length_bare(drawing->arena, lip->slot, drawing->units));
    part_dim_up(svg, right, end, b->mouth,
                measure_length_bare(drawing->arena, b->plate->extent, drawing->units));
    double farther = drawing->units == UNITS_INCH ? 28.0 : 12.0; /* behind the other two */
    part_dim_up(svg, right + farther, end, inner,
                measure_length_bare(drawing->arena, lip->length, drawing->units));
    if (lip->shape == LIP_TAPER) {
        double tip = 1e3 * b->plate->tip / 2.0;
        part_dim_across(svg, b->middle - tip, b->middle + tip, end + 6.0,
                        measure_length(drawing->arena, b->plate->tip, drawing->units));
    }
    if (lip->shape != LIP_ROUND) return;
    struct svg_font font = font_at(&font_plain, SVG_MIDDLE);
    svg_text(svg, b->middle, end + 5.0, &font,
             arena_printf(drawing->arena, "radius %s",
                          measure_length_bare(drawing->arena, lip->width / 2.0, drawing->units)));
}

void draw_lip(struct drawing *drawing) {
    const struct lip *lip = drawing->recipe->lip;
    if (!lip) return;
    struct blank b = {.plate = &drawing->results->plug.plate,
                      .slot = 1e3 * lip->slot,
                      .half = 1e3 * lip->width / 2.0};
    b.reach = fmax(b.half, lip->shape == LIP_TAPER ? 1e3 * b.plate->tip / 2.0 : 0.0);
    double end = lip_top + 1e3 * lip->length;
    double width = fmin(fmax(2.0 * (b.reach + side_room), 120.0), page_width);
    b.middle = width / 2.0 - 4.0;
    b.mouth = lip_top + b.slot;
    struct svg svg;
    part_begin(drawing, &svg, FIGURE_LIP, "lip.svg", "The lip in true size, to be cut out", width,
               end + 17.0, 0);
    svg_text(&svg, 0.0, 4.0, &font_bold,
             arena_printf(drawing->arena, "Lip in true size, %s thick; hatched: goes into the slot",
                          measure_fine(drawing->arena, lip->thickness, drawing->units)));
    slot_part(&svg, &b);
    svg_group(&svg, &pen_centre);
    svg_line(&svg, b.middle, lip_top - 4.0, b.middle, end + 1.0);
    svg_group_end(&svg);
    svg_group(&svg, &pen_outline);
    part_lip_outline(&svg, lip, b.plate, b.middle, b.mouth);
    svg_group_end(&svg);
    tie_hole(drawing, &svg, &b);
    sizes(drawing, &svg, &b);
    bool inch = drawing->units == UNITS_INCH;
    part_scale_bar(&svg, 0.0, end + 11.5, inch ? 12.7 : 10.0, inch ? 4 : 5,
                   inch ? "2 in: measure before you cut" : "50 mm: measure before you cut");
    part_end(drawing, &svg);
}
