/* 1:1 templates.  Side and top profile stand on one canvas with the ladder of all bores between
 * them, or on a canvas each, if that saves joins or paper.  A canvas that is too long for the paper
 * is turned, if it fits then, or else cut into sheets that overlap, with targets in the overlap by
 * which they are laid on each other.
 */
#include "emit/drawing/inner.h"

#include <math.h>

static const double head = 11.0;                          /* of a sheet */
static const double foot_high = 19.0, foot_in_row = 10.0; /* its scale bars, … */
static const double row_of_bars = 236.0;                  /* … which this width takes in a row */
static const double overlap = 15.0, canvas_side = 7.0, narrowest = 168.0;

enum shown { SHOW_SIDE = 1, SHOW_TOP = 2, SHOW_BOTH = 3 };

/* Everything on the canvas is in mm, and the views are 1:1. */
struct canvas {
    enum shown shown;
    struct view side, plan;
    double width, height;
    double ladder, plan_label;
    struct rung *rungs;
    int rung_count;
};

/* How the canvas goes to paper. */
struct tiling {
    double window, window_height; /* of the canvas on one sheet */
    int columns, rows;
    bool turned;
};

/* `brief`: places and names alone, where the sizes would not fit on the sheet; the bore map of the
 * card has them. */
static struct canvas canvas_of(struct drawing *drawing, enum shown shown, bool brief) {
    const struct solid *bare = &drawing->results->plug.bare;
    struct canvas c = {.shown = shown, .width = 1e3 * drawing->outline->length + 2.0 * canvas_side};
    double y = 4.0;
    if (shown & SHOW_SIDE) {
        c.side = (struct view){canvas_side, y + 9.0 + 1e3 * bare->top, 1e3, 0.0};
        c.rungs = brief ? part_brief_features(drawing, &c.side, &c.rung_count)
                        : part_features(drawing, &c.side, &c.rung_count);
        c.ladder = view_y(&c.side, bare->bottom) + 8.0;
        y = c.ladder + part_ladder_height(c.rungs, c.rung_count) + 8.0;
    }
    if (shown & SHOW_TOP) {
        c.plan_label = y;
        c.plan = (struct view){canvas_side, y + 8.0 + 1e3 * bare->width / 2.0, 1e3, 0.0};
        y = c.plan.y + 1e3 * bare->width / 2.0 + 8.0;
    }
    c.height = y + 3.0;
    return c;
}

static int sheets_for(double size, double window) {
    return size <= window ? 1 : (int)ceil((size - overlap) / (window - overlap));
}

static int sheets_of(const struct tiling *tiling) {
    return tiling->columns * tiling->rows;
}

static struct tiling tiling_in(const struct canvas *canvas, double wide, double high, bool turned) {
    return (struct tiling){fmin(wide, canvas->width), fmin(high, canvas->height),
                           sheets_for(canvas->width, wide), sheets_for(canvas->height, high),
                           turned};
}

static double foot_of(double width) {
    return width < row_of_bars ? foot_high : foot_in_row;
}

/* Upright or turned, whichever takes fewer sheets. */
static struct tiling tiling_of(const struct drawing *drawing, const struct canvas *canvas) {
    bool letter = drawing->recipe->shop->paper == PAPER_LETTER;
    double wide = letter ? 187.9 : 182.0, high = letter ? 246.0 : 262.0;
    struct tiling upright =
        tiling_in(canvas, wide, page_height - head - foot_of(fmin(wide, canvas->width)), false);
    struct tiling turned =
        tiling_in(canvas, high, wide - head - foot_of(fmin(high, canvas->width)), true);
    return sheets_of(&turned) < sheets_of(&upright) ? turned : upright;
}

/* --- what is on the canvas ------------------------------------------------------------------ */

static void middle_line(struct svg *svg, const struct drawing *drawing, const struct view *view) {
    double end = view_x(view, drawing->outline->length);
    svg_group(svg, &pen_centre);
    svg_line(svg, view->x - 7.0, view->y, end + 7.0, view->y);
    svg_group_end(svg);
}

/* Thin across the profile, and out of it as ticks that stay on the waste. */
static void stations(struct drawing *drawing, struct svg *svg, const struct canvas *canvas) {
    const struct outline *outline = drawing->outline;
    svg_group(svg, &pen_thin);
    for (int i = 0; i < outline->back.count; i++) {
        double x = outline->back.x[i], at = canvas_side + 1e3 * x;
        double half = curve_at(&outline->width, x) / 2.0;
        if (canvas->shown & SHOW_SIDE) {
            svg_line(svg, at, view_y(&canvas->side, outline->back.y[i]) - 3.0, at,
                     view_y(&canvas->side, -outline->belly.y[i]) + 3.0);
        }
        if (canvas->shown & SHOW_TOP) {
            svg_line(svg, at, view_y(&canvas->plan, half) - 3.0, at,
                     view_y(&canvas->plan, -half) + 3.0);
        }
    }
    svg_group_end(svg);
}

/* Where the shaping of the edges begins, as a share of half the height or width: a rounded section
 * is flat up to its radius; an oval is first planed to eight sides, whose corners stand at
 * tan(22.5 deg) of its half-axes. */
static double flat_part(const struct section *section, double half) {
    if (section->shape == SECTION_OVAL) return 0.41421356 * half;
    return half - fmin(section->radius, fmin(section->half_width, section->half_height));
}

static void edge_lines(struct drawing *drawing, struct svg *svg, const struct canvas *canvas) {
    enum { POINTS = 121 };
    struct svg_point side[2][POINTS], plan[2][POINTS];
    for (int i = 0; i < POINTS; i++) {
        double x = drawing->outline->length * i / (POINTS - 1);
        struct section section = section_at(drawing->outline, x, 0.0);
        double high = flat_part(&section, section.half_height);
        double wide = flat_part(&section, section.half_width);
        for (int k = 0; k < 2; k++) {
            double sign = k ? -1.0 : 1.0;
            side[k][i] = view_point(&canvas->side, x, section.centre + sign * high);
            plan[k][i] = view_point(&canvas->plan, x, sign * wide);
        }
    }
    svg_group(svg, &(struct svg_style){.stroke = "#000", .width = 0.13, .dash = "0.8 0.8"});
    for (int k = 0; k < 2; k++) {
        if (canvas->shown & SHOW_SIDE) svg_polyline(svg, side[k], POINTS);
        if (canvas->shown & SHOW_TOP) svg_polyline(svg, plan[k], POINTS);
    }
    svg_group_end(svg);
}

/* A hole in the plane of the side view: its sides, its centre line run out of the wood, and a
 * cross at its mouth. */
static void hole(struct svg *svg, const struct view *view, double x, double z, double ux, double uz,
                 double depth, double drill) {
    struct svg_point sides[4], mouth = view_point(view, x, z);
    struct svg_point end = view_point(view, x + ux * depth, z + uz * depth);
    part_bar(sides, view, x, z, ux, uz, depth, drill);
    svg_group(svg, &pen_hidden);
    svg_polyline(svg, sides, 4);
    svg_group_end(svg);
    svg_group(svg, &pen_thin);
    svg_line(svg, mouth.x - 5.0 * ux, mouth.y + 5.0 * uz, end.x + 2.0 * ux, end.y - 2.0 * uz);
    svg_group_end(svg);
    svg_group(svg, &pen_detail);
    part_cross(svg, mouth, 2.0);
    svg_group_end(svg);
}

/* One that comes from the flank. */
static void round_hole(struct svg *svg, const struct view *view, double x, double z, double drill) {
    struct svg_point centre = view_point(view, x, z);
    svg_group(svg, &pen_detail);
    svg_circle(svg, centre.x, centre.y, view->scale * drill / 2.0);
    part_cross(svg, centre, 2.0);
    svg_group_end(svg);
}

/* Both sides of the saw cut, run out over the waste. */
static void slot(struct drawing *drawing, struct svg *svg, const struct canvas *canvas) {
    const struct plate *plate = &drawing->results->plug.plate;
    struct svg_point cut[4];
    double out = 0.008, depth = drawing->recipe->lip->slot + out;
    part_bar(cut, &canvas->side, plate->mouth_x + out * plate->u_x,
             plate->mouth_z + out * plate->u_z, -plate->u_x, -plate->u_z, depth, plate->thickness);
    svg_group(svg, &pen_detail);
    svg_polyline(svg, cut, 4);
    svg_group_end(svg);
    part_bar(cut, &canvas->side, plate->mouth_x, plate->mouth_z, -plate->u_x, -plate->u_z,
             drawing->recipe->lip->slot, plate->thickness);
    svg_group(svg, &pen_thin);
    svg_hatch(svg, cut, 4, -60.0, 0.8);
    svg_group_end(svg);
}

static void holes(struct drawing *drawing, struct svg *svg, const struct canvas *canvas) {
    const struct plug *plug = &drawing->results->plug;
    struct part_hole bored[PART_HOLES];
    int count = part_holes(drawing, bored);
    for (int i = 0; i < count; i++) {
        const struct axis *axis = &bored[i].axis;
        if (axis_level(axis))
            round_hole(svg, &canvas->side, axis->x, axis->z, bored[i].drill);
        else
            hole(svg, &canvas->side, axis->x, axis->z, axis->u_x, axis->u_z, bored[i].depth,
                 bored[i].drill);
    }
    for (int i = 0; i < plug->fitting_count; i++) {
        const struct pilot *pilot = &plug->fittings[i].pilot;
        if (!pilot_bored(pilot)) continue;
        hole(svg, &canvas->side, pilot->mouth_x, pilot->mouth_z, pilot->u_x, pilot->u_z,
             pilot->depth, pilot->diameter);
    }
    if (plug->through.given)
        hole(svg, &canvas->side, 0.0, plug->through.z, 1.0, 0.0, drawing->outline->length,
             drawing->recipe->hardware->wire->diameter);
    if (plug->plate.given) slot(drawing, svg, canvas);
    if (!drawing->recipe->eyes) return;
    const struct eyes *eyes = drawing->recipe->eyes;
    round_hole(svg, &canvas->side, position_in(eyes->at, drawing->outline->length), eyes->up,
               eyes->size);
}

static void draw_side_profile(struct drawing *drawing, struct svg *svg,
                              const struct canvas *canvas) {
    svg_text(svg, 1.0, 4.0, &font_bold,
             "SIDE: glue on the left side of the block, nose left, back up. Cut on the bold line.");
    middle_line(svg, drawing, &canvas->side);
    holes(drawing, svg, canvas);
    svg_group(svg, &pen_outline);
    part_side_outline(svg, &canvas->side, drawing->outline);
    svg_group_end(svg);
    part_cup(drawing, svg, &canvas->side, false, true);
    if (drawing->recipe->joint_count) part_joints(drawing, svg, &canvas->side, false);
    part_ladder(svg, canvas->rungs, canvas->rung_count, canvas->ladder, 5.0, canvas->width - 5.0);
}

static void draw_top_profile(struct drawing *drawing, struct svg *svg,
                             const struct canvas *canvas) {
    svg_text(svg, 1.0, canvas->plan_label, &font_bold,
             "TOP: glue on the upper face of the block, nose left, ends over the side's.");
    middle_line(svg, drawing, &canvas->plan);
    part_plan_holes(drawing, svg, &canvas->plan);
    svg_group(svg, &pen_outline);
    part_plan_outline(svg, &canvas->plan, drawing->outline);
    svg_group_end(svg);
    part_cup(drawing, svg, &canvas->plan, true, true);
    if (drawing->recipe->joint_count) part_joints(drawing, svg, &canvas->plan, true);
}

static void draw_canvas(struct drawing *drawing, struct svg *svg, const struct canvas *canvas) {
    static const char *const edges[] = {
        [SECTION_OVAL] = "; fine dashes: plane to eight sides up to here, then round",
        [SECTION_SQUARE] = "",
        [SECTION_ROUNDED] = "; fine dashes: where the rounding of the edges begins",
    };
    stations(drawing, svg, canvas);
    if (drawing->outline->shape != SECTION_SQUARE) edge_lines(drawing, svg, canvas);
    if (canvas->shown & SHOW_SIDE) draw_side_profile(drawing, svg, canvas);
    if (canvas->shown & SHOW_TOP) draw_top_profile(drawing, svg, canvas);
    svg_text(svg, 1.0, canvas->height - 1.5, &font_small,
             arena_printf(drawing->arena, "All in %s. Chain line: datum, middle%s.",
                          drawing->units == UNITS_INCH ? "inches" : "millimetres",
                          edges[drawing->outline->shape]));
}

/* --- sheets --------------------------------------------------------------------------------- */

static void sheet_head(struct drawing *drawing, struct svg *svg, double width, const char *number) {
    struct svg_font right = font_at(&font_bold, SVG_END);
    double room = width - svg_text_width(number, &right) - 6.0;
    const char *name =
        arena_printf(drawing->arena, "Template, %s", part_text(drawing, drawing->recipe->name));
    svg_text(svg, 0.0, 4.0, &font_head, svg_text_fit(drawing->arena, name, &font_head, room));
    svg_text(svg, width, 4.0, &right, number);
    svg_group(svg, &pen_detail);
    svg_line(svg, 0.0, 6.5, width, 6.5);
    svg_group_end(svg);
}

static void sheet_foot(struct svg *svg, double y, double width) {
    bool row = width >= row_of_bars;
    part_scale_bar(svg, 0.0, y + 3.5, 10.0, 10, row ? "100 mm" : "100 mm: measure before you cut");
    part_scale_bar(svg, row ? 118.0 : 0.0, y + (row ? 3.5 : 12.5), 12.7, 8,
                   row ? "4 in" : "4 in: measure before you cut");
}

/* A target in the overlap of two sheets; `letter` names the pair. */
static void target(struct drawing *drawing, struct svg *svg, double x, double y, int letter) {
    svg_group(svg, &pen_detail);
    svg_circle(svg, x, y, 2.0);
    part_cross(svg, (struct svg_point){x, y}, 3.4);
    svg_group_end(svg);
    const char *name = letter < 26 ? arena_printf(drawing->arena, "%c", 'A' + letter)
                                   : arena_printf(drawing->arena, "%d", letter + 1);
    svg_text(svg, x + 3.0, y - 1.6, &font_bold, name);
}

/* All joins of the canvas: what lies outside a sheet is clipped away with the rest. */
static void joins(struct drawing *drawing, struct svg *svg, const struct canvas *canvas,
                  const struct tiling *tiling) {
    double step = tiling->window - overlap, step_down = tiling->window_height - overlap;
    for (int i = 1; i < tiling->columns; i++) {
        double x = i * step + overlap / 2.0;
        svg_group(svg, &pen_hidden);
        svg_line(svg, x, 0.0, x, canvas->height);
        svg_group_end(svg);
        for (int row = 0; row < tiling->rows; row++) {
            for (int k = 0; k < 2; k++) {
                target(drawing, svg, x, step_down * (row + 0.1 + 0.8 * k), i - 1);
            }
        }
    }
    for (int i = 1; i < tiling->rows; i++) {
        double y = i * step_down + overlap / 2.0;
        svg_group(svg, &pen_hidden);
        svg_line(svg, 0.0, y, canvas->width, y);
        svg_group_end(svg);
        for (int column = 0; column < tiling->columns; column++) {
            for (int k = 0; k < 2; k++) {
                target(drawing, svg, step * (column + 0.25 + 0.5 * k), y, tiling->columns - 2 + i);
            }
        }
    }
}

/* "sheet 2 of 6", and where it lies among those that are joined. */
static const char *sheet_number(struct drawing *drawing, const struct tiling *tiling, int tile,
                                int sheet, int sheets) {
    const char *number = arena_printf(drawing->arena, "sheet %d of %d", sheet + 1, sheets);
    if (sheets_of(tiling) == 1) return number;
    return arena_printf(drawing->arena, "%s: row %d, column %d", number, tile / tiling->columns + 1,
                        tile % tiling->columns + 1);
}

static void draw_sheet(struct drawing *drawing, const struct canvas *canvas,
                       const struct tiling *tiling, int tile, int sheet, int sheets) {
    int column = tile % tiling->columns, row = tile / tiling->columns;
    double width = fmax(tiling->window, narrowest), foot = foot_of(width);
    double height = tiling->window_height + head + foot;
    const char *file = arena_printf(drawing->arena, "template-%d.svg", sheet + 1);
    const char *title = arena_printf(drawing->arena, "Template of %s in true size, sheet %d of %d",
                                     part_text(drawing, drawing->recipe->name), sheet + 1, sheets);
    struct svg svg;
    part_begin(drawing, &svg, FIGURE_TEMPLATE, file, title, tiling->turned ? height : width,
               tiling->turned ? width : height, sheet);
    /* Clockwise: what stands upright along the sheet is read from the left, labels from below. */
    if (tiling->turned) svg_group_moved(&svg, height, 0.0, 90.0);
    sheet_head(drawing, &svg, width, sheet_number(drawing, tiling, tile, sheet, sheets));
    svg_group_clipped(&svg, 0.0, head - 3.0, width, tiling->window_height + 3.0);
    svg_group_moved(&svg, -column * (tiling->window - overlap),
                    head - row * (tiling->window_height - overlap), 0.0);
    draw_canvas(drawing, &svg, canvas);
    joins(drawing, &svg, canvas, tiling);
    svg_group_end(&svg);
    svg_group_end(&svg);
    sheet_foot(&svg, head + tiling->window_height, width);
    if (tiling->turned) svg_group_end(&svg);
    part_end(drawing, &svg);
}

void draw_templates(struct drawing *drawing) {
    struct canvas both = canvas_of(drawing, SHOW_BOTH, false);
    struct canvas brief = canvas_of(drawing, SHOW_BOTH, true);
    struct canvas each[2] = {canvas_of(drawing, SHOW_SIDE, false),
                             canvas_of(drawing, SHOW_TOP, false)};
    struct tiling whole = tiling_of(drawing, &both), short_of = tiling_of(drawing, &brief);
    struct tiling parts[2] = {tiling_of(drawing, &each[0]), tiling_of(drawing, &each[1])};
    int together = sheets_of(&whole), apart = sheets_of(&parts[0]) + sheets_of(&parts[1]);
    if (together > 1 && sheets_of(&short_of) == 1) {
        draw_sheet(drawing, &brief, &short_of, 0, 0, 1);
        return;
    }
    if (together == 1 || (apart > 2 && together <= apart)) {
        for (int i = 0; i < together; i++) draw_sheet(drawing, &both, &whole, i, i, together);
        return;
    }
    for (int part = 0, sheet = 0; part < 2; part++) {
        for (int i = 0; i < sheets_of(&parts[part]); i++) {
            draw_sheet(drawing, &each[part], &parts[part], i, sheet++, apart);
        }
    }
}
