/* Side and top view one above the other, as on a lines plan: between them the ladder of everything
 * that is bored or cut, under them the table of offsets, each column led to its station.
 */
#include "emit/drawing_part.h"

#include <math.h>

enum { COLUMNS = 12, INCH_COLUMNS = 10, TABLE_ROWS = 4, SECTIONS = 9 };

static const double side_top = 15.0, row_height = 4.8, table_left = 27.0;

struct layout {
    struct view side, plan;
    double side_bottom, ladder, plan_bottom, height;
    struct rung *rungs;
    int rung_count;
};

/* Columns of the table: the stations that it has room for. */
struct columns {
    int station[COLUMNS], count;
    double place[COLUMNS]; /* x on paper */
};

/* Evenly chosen, always with both ends. */
static struct columns choose(const struct draft *draft) {
    int count = draft->outline->back.count;
    int room = draft->units == UNITS_INCH ? INCH_COLUMNS : COLUMNS;
    struct columns columns = {.count = count < room ? count : room};
    for (int i = 0; i < columns.count; i++) {
        columns.station[i] = i * (count - 1) / (columns.count - 1);
    }
    return columns;
}

static struct layout layout_of(struct draft *draft) {
    const struct solid *bare = &draft->results->frame.bare;
    const struct plate *plate = &draft->results->frame.plate;
    struct extent extent = part_extent(draft);
    double half = fmax(bare->width, plate->given ? fmax(plate->width, plate->tip) : 0.0) / 2.0;
    double wide = extent.right - extent.left, high = extent.top - extent.bottom;
    double scale = part_scale(
        fmin(164.0 / wide, fmin(60.0 / high, half > 0.0 ? 50.0 / (2.0 * half) : INFINITY)));

    struct layout l = {0};
    double left = (page_width - scale * wide) / 2.0 - scale * extent.left;
    l.side = (struct view){left, side_top + scale * extent.top, scale, 0.0};
    l.side_bottom = view_y(&l.side, extent.bottom);
    l.rungs = part_features(draft, &l.side, &l.rung_count);
    l.ladder = l.side_bottom + 2.0;
    double plan_top = l.ladder + part_ladder_height(l.rungs, l.rung_count) + 9.0;
    l.plan = (struct view){left, plan_top + scale * half, scale, 0.0};
    l.plan_bottom = l.plan.y + scale * half;
    l.height = l.plan_bottom + 8.0 + TABLE_ROWS * row_height + 5.0;
    return l;
}

static void middle_line(struct svg *svg, const struct draft *draft, const struct view *view) {
    svg_group(svg, &pen_centre);
    svg_line(svg, view->x - 6.0, view->y, view_x(view, draft->outline->length) + 6.0, view->y);
    svg_group_end(svg);
}

static void station_lines(struct draft *draft, struct svg *svg, const struct layout *l) {
    const struct outline *outline = draft->outline;
    struct columns columns = choose(draft);
    svg_group(svg, &pen_thin);
    for (int i = 0; i < columns.count; i++) {
        int at = columns.station[i];
        double x = view_x(&l->side, outline->back.x[at]), half = outline->width.y[at] / 2.0;
        svg_line(svg, x, view_y(&l->side, outline->back.y[at]), x,
                 view_y(&l->side, -outline->belly.y[at]));
        svg_line(svg, x, view_y(&l->plan, half), x, view_y(&l->plan, -half));
    }
    svg_group_end(svg);
}

/* --- table of offsets ----------------------------------------------------------------------- */

/* Rules of the table, and a leader from each column to its station. */
static void table_lines(struct draft *draft, struct svg *svg, const struct layout *l,
                        const struct columns *columns, double top) {
    const struct outline *outline = draft->outline;
    svg_group(svg, &pen_thin);
    for (int i = 0; i < columns->count; i++) {
        double x = outline->width.x[columns->station[i]], at = view_x(&l->side, x);
        svg_path(svg);
        svg_move(svg, at, view_y(&l->plan, -curve_at(&outline->width, x) / 2.0));
        svg_to(svg, at, l->plan_bottom + 2.0);
        svg_to(svg, columns->place[i], top - 0.8);
        svg_path_end(svg);
    }
    for (int row = 0; row <= TABLE_ROWS; row++) {
        double y = top + row * row_height;
        svg_line(svg, 0.0, y, page_width, y);
    }
    svg_group_end(svg);
}

static void table_row(struct draft *draft, struct svg *svg, const struct columns *columns,
                      const char *head, const double *values, double y, bool bold) {
    const struct svg_font *font = bold ? &font_bold : &font_plain;
    struct svg_font middle = font_at(font, SVG_MIDDLE);
    svg_text(svg, 0.0, y, font, head);
    for (int i = 0; i < columns->count; i++) {
        double value = values[columns->station[i]];
        svg_text(svg, columns->place[i], y, &middle,
                 measure_length_short(draft->arena, value, draft->units));
    }
}

static void offsets(struct draft *draft, struct svg *svg, const struct layout *l) {
    const struct outline *outline = draft->outline;
    bool inch = draft->units == UNITS_INCH;
    double top = l->plan_bottom + 8.0, y = top + row_height - 1.4;
    struct columns columns = choose(draft);
    for (int i = 0; i < columns.count; i++) {
        columns.place[i] = view_x(&l->side, outline->back.x[columns.station[i]]);
    }
    part_spread(columns.place, columns.count, inch ? 16.0 : 12.8, table_left + 5.0,
                page_width - 5.5);
    table_lines(draft, svg, l, &columns, top);
    table_row(draft, svg, &columns, "from the nose", outline->back.x, y, true);
    table_row(draft, svg, &columns, "back", outline->back.y, y + row_height, false);
    table_row(draft, svg, &columns, "belly", outline->belly.y, y + 2.0 * row_height, false);
    table_row(draft, svg, &columns, "width", outline->width.y, y + 3.0 * row_height, false);
    svg_text(
        svg, 0.0, top + TABLE_ROWS * row_height + 3.8, &font_small,
        arena_printf(draft->arena, "all in %s; chain lines: datum and middle%s",
                     inch ? "inches, to the nearest 1/32" : "millimetres",
                     columns.count < outline->back.count ? "; some of the recipe's stations" : ""));
}

static void main_sizes(struct draft *draft, struct svg *svg, const struct layout *l) {
    const struct solid *bare = &draft->results->frame.bare;
    double end = view_x(&l->side, draft->outline->length);
    double right = fmin(end + 14.0, page_width - 1.0);
    part_dim_across(svg, l->side.x, end, 9.5,
                    measure_length(draft->arena, draft->outline->length, draft->units));
    part_dim_up(svg, right, view_y(&l->side, bare->bottom), view_y(&l->side, bare->top),
                measure_length_short(draft->arena, bare->height, draft->units));
    part_dim_up(svg, right, view_y(&l->plan, -bare->width / 2.0),
                view_y(&l->plan, bare->width / 2.0),
                measure_length_short(draft->arena, bare->width, draft->units));
}

void draw_side(struct draft *draft) {
    struct layout l = layout_of(draft);
    const char *title =
        arena_printf(draft->arena,
                     "Side and top view of %s with its bores, wires "
                     "and stations, to scale %s",
                     part_text(draft, draft->recipe->name), part_scale_name(l.side.scale));
    struct svg svg;
    part_begin(draft, &svg, FIGURE_SIDE, "side.svg", title, page_width, l.height, 0);
    svg_text(&svg, 0.0, 3.4, &font_bold, "Side view, cut along the middle");
    struct svg_font right = font_at(&font_small, SVG_END);
    svg_text(&svg, page_width, 3.4, &right,
             arena_printf(draft->arena, "scale %s", part_scale_name(l.side.scale)));
    svg_text(&svg, 0.0, l.ladder + part_ladder_height(l.rungs, l.rung_count) + 6.0, &font_bold,
             "Top view");
    part_side_body(draft, &svg, &l.side, BODY_SECTIONED);
    part_plan_body(draft, &svg, &l.plan);
    station_lines(draft, &svg, &l);
    middle_line(&svg, draft, &l.side);
    middle_line(&svg, draft, &l.plan);
    part_ladder(&svg, l.rungs, l.rung_count, l.ladder, 4.0, page_width - 4.0);
    main_sizes(draft, &svg, &l);
    offsets(draft, &svg, &l);
    part_end(draft, &svg);
}

/* --- sections ------------------------------------------------------------------------------- */

/* Stations whose section has an area, evenly chosen. */
static int choose_sections(const struct draft *draft, double places[SECTIONS]) {
    double real[MAX_STATIONS];
    int count = 0;
    for (int i = 0; i < draft->outline->back.count && count < MAX_STATIONS; i++) {
        double x = draft->outline->back.x[i];
        struct section section = section_at(draft->outline, x, 0.0);
        if (section_area(&section) > 0.0) real[count++] = x;
    }
    int kept = count < SECTIONS ? count : SECTIONS;
    for (int i = 0; i < kept; i++) {
        places[i] = real[kept > 1 ? i * (count - 1) / (kept - 1) : 0];
    }
    return kept;
}

static void one_section(struct draft *draft, struct svg *svg, double at, double x, double y,
                        double scale) {
    struct section section = section_at(draft->outline, at, 0.0);
    struct svg_point points[SECTION_POINTS];
    double a = scale * section.half_width, h = scale * section.half_height;
    double middle = y - scale * section.centre;
    part_section_points(points, &section, x, y, scale);
    svg_group(svg, &(struct svg_style){.stroke = "#999", .width = 0.12});
    svg_hatch(svg, points, SECTION_POINTS, 45.0, 1.5);
    svg_group_end(svg);
    svg_group(svg, &pen_centre);
    svg_line(svg, x - a - 2.5, y, x + a + 2.5, y);
    svg_line(svg, x, middle - h - 2.5, x, middle + h + 2.5);
    svg_group_end(svg);
    svg_group(svg, &pen_outline);
    part_section_outline(svg, &section, x, y, scale);
    svg_group_end(svg);
    part_dim_across(svg, x - a, x + a, middle + h + 6.5,
                    measure_length_short(draft->arena, 2.0 * section.half_width, draft->units));
    part_dim_up(svg, x + a + 7.0, middle + h, middle - h,
                measure_length_short(draft->arena, 2.0 * section.half_height, draft->units));
}

/* As large as fits in two thirds of a page, beside dimensions. */
static double arrange_sections(const struct solid *bare, int count, int *columns) {
    double best = 0.0;
    for (int tried = 5; tried >= 1; tried--) {
        int rows = (count + tried - 1) / tried;
        double scale = part_scale(
            fmin((page_width / tried - 22.0) / bare->width, (160.0 / rows - 21.0) / bare->height));
        if (scale <= best || scale > 2000.0) continue;
        best = scale;
        *columns = tried;
    }
    return best;
}

void draw_sections(struct draft *draft) {
    const struct solid *bare = &draft->results->frame.bare;
    double places[SECTIONS];
    int count = choose_sections(draft, places);
    if (!count) return;
    int columns = 1;
    double scale = arrange_sections(bare, count, &columns);
    int rows = (count + columns - 1) / columns;
    double cell = page_width / columns;
    double tall = scale * bare->height, row = tall + 21.0;

    struct svg svg;
    const char *title =
        arena_printf(draft->arena, "Sections across %s at %d of its stations, to scale %s",
                     part_text(draft, draft->recipe->name), count, part_scale_name(scale));
    part_begin(draft, &svg, FIGURE_SECTIONS, "sections.svg", title, page_width, rows * row + 5.0,
               0);
    for (int i = 0; i < count; i++) {
        int down = i / columns;
        double x = cell * (i % columns + 0.5) - 4.0, top = row * down + 9.0;
        struct svg_font head = font_at(&font_bold, SVG_MIDDLE);
        svg_text(&svg, x, top - 4.5, &head,
                 measure_length_short(draft->arena, places[i], draft->units));
        one_section(draft, &svg, places[i], x, top + scale * bare->top, scale);
    }
    const char *rounded = "";
    if (draft->outline->shape == SECTION_ROUNDED) {
        rounded = arena_printf(draft->arena, ", edges rounded to %s",
                               measure_length(draft->arena, draft->outline->radius, draft->units));
    }
    svg_text(
        &svg, 0.0, rows * row + 3.5, &font_small,
        arena_printf(draft->arena,
                     "bold: distance from the nose, %s; chain lines: datum and middle%s; scale %s",
                     measure_length_unit(draft->units), rounded, part_scale_name(scale)));
    part_end(draft, &svg);
}
