/* Side and top view, as on a lines plan: the side view over the ladder of everything that is bored
 * or cut, the numbers of the stations, as in the table of offsets, beside both.
 */
#include "emit/drawing/inner.h"

#include <math.h>

enum { SHOWN = 24 };

static const double side_top = 11.5, number_gap = 6.0, numbers_at = 8.0;

struct layout {
    struct view side, plan;
    double side_bottom, plan_bottom;
    struct rung *rungs;
    int rung_count;
};

/* The stations that there is room for. */
struct shown {
    int station[SHOWN], count;
};

/* Evenly chosen, always with both ends. */
static struct shown choose(const struct drawing *drawing) {
    int count = drawing->outline->back.count;
    struct shown shown = {.count = count < SHOWN ? count : SHOWN};
    for (int i = 0; i < shown.count; i++) {
        shown.station[i] = i * (count - 1) / (shown.count - 1);
    }
    return shown;
}

/* The card has a row for every plug: of many it leaves less room to draw one. */
static double room_up(const struct drawing *drawing) {
    return drawing->recipe->make > 6 ? 24.0 : 42.0;
}

/* Both views have one scale, so that one can be held beside the other. */
static struct layout layout_of(struct drawing *drawing) {
    const struct solid *bare = &drawing->results->plug.bare;
    const struct plate *plate = &drawing->results->plug.plate;
    struct extent extent = part_extent(drawing);
    double half = fmax(bare->width, plate->given ? fmax(plate->width, plate->tip) : 0.0) / 2.0;
    double wide = extent.right - extent.left, high = extent.top - extent.bottom;
    double scale = part_scale(fmin(
        164.0 / wide, fmin(room_up(drawing) / high, half > 0.0 ? 38.0 / (2.0 * half) : INFINITY)));

    struct layout l = {0};
    double left = (page_width - scale * wide) / 2.0 - scale * extent.left;
    l.side = (struct view){left, side_top + scale * extent.top, scale, 0.0};
    l.side_bottom = view_y(&l.side, extent.bottom);
    l.rungs = part_brief_features(drawing, &l.side, &l.rung_count);
    l.plan = (struct view){left, 5.0 + scale * half, scale, 0.0};
    l.plan_bottom = l.plan.y + scale * half;
    return l;
}

static void middle_line(struct svg *svg, const struct drawing *drawing, const struct view *view) {
    svg_group(svg, &pen_centre);
    svg_line(svg, view->x - 6.0, view->y, view_x(view, drawing->outline->length) + 6.0, view->y);
    svg_group_end(svg);
}

/* The numbers of the stations in a row at height `y`, each led to its station; `from` is where a
 * leader begins. */
static void station_numbers(struct drawing *drawing, struct svg *svg, const struct view *view,
                            double y,
                            double (*from)(const struct view *, const struct outline *, int)) {
    const struct outline *outline = drawing->outline;
    struct shown shown = choose(drawing);
    struct svg_font middle = font_at(&font_small, SVG_MIDDLE);
    double places[SHOWN];
    for (int i = 0; i < shown.count; i++)
        places[i] = view_x(view, outline->width.x[shown.station[i]]);
    part_spread(places, shown.count, number_gap, 22.0, page_width - 3.0);
    svg_text(svg, 0.0, y, &font_small, "station");
    for (int i = 0; i < shown.count; i++) {
        int station = shown.station[i];
        double at = view_x(view, outline->width.x[station]), end = from(view, outline, station);
        double foot = end > y ? y + 0.8 : y - 3.0;
        svg_group(svg, &pen_thin);
        svg_path(svg);
        svg_move(svg, at, end);
        svg_to(svg, at, foot + (end > y ? 1.6 : -1.6));
        svg_to(svg, places[i], foot);
        svg_path_end(svg);
        svg_group_end(svg);
        svg_text(svg, places[i], y, &middle, arena_printf(drawing->arena, "%d", station + 1));
    }
}

static double back_at(const struct view *view, const struct outline *outline, int station) {
    return view_y(view, outline->back.y[station]);
}

static double flank_at(const struct view *view, const struct outline *outline, int station) {
    return view_y(view, -outline->width.y[station] / 2.0);
}

static void station_lines(struct drawing *drawing, struct svg *svg, const struct view *view,
                          bool from_above) {
    const struct outline *outline = drawing->outline;
    struct shown shown = choose(drawing);
    svg_group(svg, &pen_thin);
    for (int i = 0; i < shown.count; i++) {
        int at = shown.station[i];
        double x = view_x(view, outline->back.x[at]), half = outline->width.y[at] / 2.0;
        svg_line(svg, x, view_y(view, from_above ? half : outline->back.y[at]), x,
                 view_y(view, from_above ? -half : -outline->belly.y[at]));
    }
    svg_group_end(svg);
}

static double right_of(struct drawing *drawing, const struct view *view) {
    return fmin(view_x(view, part_extent(drawing).right) + 10.0, page_width - 1.0);
}

void draw_side(struct drawing *drawing) {
    const struct solid *bare = &drawing->results->plug.bare;
    struct layout l = layout_of(drawing);
    const char *scale = part_scale_name(l.side.scale);
    const char *title = arena_printf(
        drawing->arena, "Side view of %s with its bores, wires and stations, to scale %s",
        part_text(drawing, drawing->recipe->name), scale);
    double ladder = l.side_bottom + 1.0;
    struct svg svg;
    part_begin(drawing, &svg, FIGURE_SIDE, "side.svg", title, page_width,
               ladder + part_ladder_height(l.rungs, l.rung_count) + 1.0, 0);
    part_side_body(drawing, &svg, &l.side, BODY_SECTIONED);
    station_lines(drawing, &svg, &l.side, false);
    middle_line(&svg, drawing, &l.side);
    part_ladder(&svg, l.rungs, l.rung_count, ladder, 4.0, page_width - 4.0);
    part_dim_across(&svg, l.side.x, view_x(&l.side, drawing->outline->length), 4.0,
                    measure_length(drawing->arena, drawing->outline->length, drawing->units));
    part_dim_up(&svg, right_of(drawing, &l.side), view_y(&l.side, bare->bottom),
                view_y(&l.side, bare->top),
                measure_length_short(drawing->arena, bare->height, drawing->units));
    station_numbers(drawing, &svg, &l.side, numbers_at, back_at);
    part_end(drawing, &svg);
}

/* Whether something is bored that the side view does not tell of: along the body or from its flanks
 * other than the eyes. */
static bool seen_from_above(const struct drawing *drawing) {
    struct part_hole holes[PART_HOLES];
    int count = part_holes(drawing, holes);
    for (int i = 0; i < count; i++)
        if (holes[i].axis.u_z == 0.0) return true;
    return false;
}

void draw_top(struct drawing *drawing) {
    if (!seen_from_above(drawing)) return;
    const struct solid *bare = &drawing->results->plug.bare;
    struct layout l = layout_of(drawing);
    const char *scale = part_scale_name(l.side.scale);
    const char *title =
        arena_printf(drawing->arena, "Top view of %s with its bores and stations, to scale %s",
                     part_text(drawing, drawing->recipe->name), scale);
    struct svg_font right = font_at(&font_small, SVG_END);
    struct svg svg;
    part_begin(drawing, &svg, FIGURE_TOP, "top.svg", title, page_width, l.plan_bottom + 10.0, 0);
    svg_text(&svg, 0.0, 3.4, &font_bold, "Top view");
    svg_text(
        &svg, page_width, 3.4, &right,
        arena_printf(drawing->arena, "%s; chain line: the middle; scale %s",
                     drawing->units == UNITS_INCH ? "inches, to the nearest 1/32" : "millimetres",
                     scale));
    part_plan_body(drawing, &svg, &l.plan);
    station_lines(drawing, &svg, &l.plan, true);
    middle_line(&svg, drawing, &l.plan);
    part_dim_up(&svg, right_of(drawing, &l.side), view_y(&l.plan, -bare->width / 2.0),
                view_y(&l.plan, bare->width / 2.0),
                measure_length_short(drawing->arena, bare->width, drawing->units));
    station_numbers(drawing, &svg, &l.plan, l.plan_bottom + 8.0, flank_at);
    part_end(drawing, &svg);
}
