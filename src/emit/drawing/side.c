/* Side and top view one above the other, as on a lines plan: between them the ladder of everything
 * that is bored or cut, under them the numbers of the stations, as in the table of offsets.
 */
#include "emit/drawing/inner.h"

#include <math.h>

enum { SHOWN = 24 };

static const double side_top = 12.5, number_gap = 6.0;

struct layout {
    struct view side, plan;
    double side_bottom, ladder, plan_bottom, height;
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

/* What is bored and cut, by its short names: the tables beside the drawing have the sizes. */
static struct rung *brief_features(struct drawing *drawing, const struct view *view, int *count) {
    struct rung *rungs = part_features(drawing, view, count);
    for (int i = 0; i < *count; i++) {
        rungs[i].name = rungs[i].brief;
        rungs[i].size = NULL;
    }
    return rungs;
}

static struct layout layout_of(struct drawing *drawing) {
    const struct solid *bare = &drawing->results->plug.bare;
    const struct plate *plate = &drawing->results->plug.plate;
    struct extent extent = part_extent(drawing);
    double half = fmax(bare->width, plate->given ? fmax(plate->width, plate->tip) : 0.0) / 2.0;
    double wide = extent.right - extent.left, high = extent.top - extent.bottom;
    double scale = part_scale(
        fmin(164.0 / wide, fmin(50.0 / high, half > 0.0 ? 38.0 / (2.0 * half) : INFINITY)));

    struct layout l = {0};
    double left = (page_width - scale * wide) / 2.0 - scale * extent.left;
    l.side = (struct view){left, side_top + scale * extent.top, scale, 0.0};
    l.side_bottom = view_y(&l.side, extent.bottom);
    l.rungs = brief_features(drawing, &l.side, &l.rung_count);
    l.ladder = l.side_bottom + 1.0;
    double plan_top = l.ladder + part_ladder_height(l.rungs, l.rung_count) + 5.0;
    l.plan = (struct view){left, plan_top + scale * half, scale, 0.0};
    l.plan_bottom = l.plan.y + scale * half;
    l.height = l.plan_bottom + 10.0;
    return l;
}

static void middle_line(struct svg *svg, const struct drawing *drawing, const struct view *view) {
    svg_group(svg, &pen_centre);
    svg_line(svg, view->x - 6.0, view->y, view_x(view, drawing->outline->length) + 6.0, view->y);
    svg_group_end(svg);
}

static void station_lines(struct drawing *drawing, struct svg *svg, const struct layout *l) {
    const struct outline *outline = drawing->outline;
    struct shown shown = choose(drawing);
    svg_group(svg, &pen_thin);
    for (int i = 0; i < shown.count; i++) {
        int at = shown.station[i];
        double x = view_x(&l->side, outline->back.x[at]), half = outline->width.y[at] / 2.0;
        svg_line(svg, x, view_y(&l->side, outline->back.y[at]), x,
                 view_y(&l->side, -outline->belly.y[at]));
        svg_line(svg, x, view_y(&l->plan, half), x, view_y(&l->plan, -half));
    }
    svg_group_end(svg);
}

/* Under the top view, each led to its station. */
static void station_numbers(struct drawing *drawing, struct svg *svg, const struct layout *l) {
    const struct outline *outline = drawing->outline;
    struct shown shown = choose(drawing);
    struct svg_font middle = font_at(&font_small, SVG_MIDDLE);
    double places[SHOWN];
    for (int i = 0; i < shown.count; i++) {
        places[i] = view_x(&l->side, outline->width.x[shown.station[i]]);
    }
    part_spread(places, shown.count, number_gap, 22.0, page_width - 3.0);
    svg_group(svg, &pen_thin);
    for (int i = 0; i < shown.count; i++) {
        int station = shown.station[i];
        double at = view_x(&l->side, outline->width.x[station]);
        svg_path(svg);
        svg_move(svg, at, view_y(&l->plan, -outline->width.y[station] / 2.0));
        svg_to(svg, at, l->plan_bottom + 2.0);
        svg_to(svg, places[i], l->plan_bottom + 4.5);
        svg_path_end(svg);
    }
    svg_group_end(svg);
    svg_text(svg, 0.0, l->plan_bottom + 8.0, &font_small, "station");
    for (int i = 0; i < shown.count; i++) {
        svg_text(svg, places[i], l->plan_bottom + 8.0, &middle,
                 arena_printf(drawing->arena, "%d", shown.station[i] + 1));
    }
}

static void main_sizes(struct drawing *drawing, struct svg *svg, const struct layout *l) {
    const struct solid *bare = &drawing->results->plug.bare;
    double end = view_x(&l->side, drawing->outline->length);
    struct extent extent = part_extent(drawing);
    double right = fmin(view_x(&l->side, extent.right) + 10.0, page_width - 1.0);
    part_dim_across(svg, l->side.x, end, 9.5,
                    measure_length(drawing->arena, drawing->outline->length, drawing->units));
    part_dim_up(svg, right, view_y(&l->side, bare->bottom), view_y(&l->side, bare->top),
                measure_length_short(drawing->arena, bare->height, drawing->units));
    part_dim_up(svg, right, view_y(&l->plan, -bare->width / 2.0),
                view_y(&l->plan, bare->width / 2.0),
                measure_length_short(drawing->arena, bare->width, drawing->units));
}

void draw_side(struct drawing *drawing) {
    struct layout l = layout_of(drawing);
    const char *title =
        arena_printf(drawing->arena,
                     "Side and top view of %s with its bores, wires "
                     "and stations, to scale %s",
                     part_text(drawing, drawing->recipe->name), part_scale_name(l.side.scale));
    struct svg svg;
    part_begin(drawing, &svg, FIGURE_SIDE, "side.svg", title, page_width, l.height, 0);
    svg_text(&svg, 0.0, 3.4, &font_bold, "Side view, cut along the middle");
    struct svg_font right = font_at(&font_small, SVG_END);
    svg_text(
        &svg, page_width, 3.4, &right,
        arena_printf(drawing->arena, "%s; chain lines: datum and middle; scale %s",
                     drawing->units == UNITS_INCH ? "inches, to the nearest 1/32" : "millimetres",
                     part_scale_name(l.side.scale)));
    svg_text(&svg, 0.0, l.ladder + part_ladder_height(l.rungs, l.rung_count) + 3.0, &font_bold,
             "Top view");
    part_side_body(drawing, &svg, &l.side, BODY_SECTIONED);
    part_plan_body(drawing, &svg, &l.plan);
    station_lines(drawing, &svg, &l);
    middle_line(&svg, drawing, &l.side);
    middle_line(&svg, drawing, &l.plan);
    part_ladder(&svg, l.rungs, l.rung_count, l.ladder, 4.0, page_width - 4.0);
    main_sizes(drawing, &svg, &l);
    station_numbers(drawing, &svg, &l);
    part_end(drawing, &svg);
}
