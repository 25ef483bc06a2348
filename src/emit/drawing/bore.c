/* Every ballast bore cut across: the section of the body there, the load at the inner end and the
 * filler under it.  The bore map's table has the numbers.
 */
#include "emit/drawing/inner.h"

#include <math.h>

#include "model/reference.h"

enum { CELLS = 4 };

static const double cell = 45.0, section_width = 26.0, section_height = 34.0;

/* Height of the section's lower edge at a distance from the middle. */
static double lower_edge(const struct section *section, double aside) {
    double a = section->half_width, h = section->half_height;
    if (section->shape == SECTION_OVAL) {
        return section->centre - h * sqrt(fmax(0.0, 1.0 - aside * aside / (a * a)));
    }
    double r = fmin(section->radius, fmin(a, h)), over = fmax(0.0, aside - (a - r));
    return section->centre - h + r - sqrt(fmax(0.0, r * r - over * over));
}

/* The bore between two heights, or down to the wood's edge where `low` is under it. */
static void part_of_bore(struct svg_point corners[4], const struct view *view, double radius,
                         double low, double high, double edge) {
    corners[0] = view_point(view, -radius, fmin(fmax(low, edge), high));
    corners[1] = view_point(view, -radius, high);
    corners[2] = view_point(view, radius, high);
    corners[3] = view_point(view, radius, fmin(fmax(low, edge), high));
}

static void bore_in_section(struct svg *svg, const struct view *view, const struct section *section,
                            const struct bore_fill *fill) {
    struct svg_point outline[SECTION_POINTS], whole[4], slug[4], filler[4];
    double radius = fill->drill / 2.0, end = fill->mouth_z + fill->depth;
    double edge = lower_edge(section, fmin(radius, section->half_width));
    part_section_points(outline, section, view->x, view->y, view->scale);
    part_of_bore(whole, view, radius, -INFINITY, end, edge);
    part_of_bore(slug, view, radius, end - fill->slug, end, edge);
    part_of_bore(filler, view, radius, -INFINITY, end - fill->slug, edge);
    svg_group(svg, &(struct svg_style){.stroke = "#999", .width = 0.12});
    svg_hatch(svg, outline, SECTION_POINTS, 45.0, 1.5);
    svg_group_end(svg);
    svg_group(svg, &pen_face);
    svg_polygon(svg, whole, 4);
    if (fill->slug > 0.0) svg_polygon(svg, slug, 4);
    svg_group_end(svg);
    svg_group(svg, &(struct svg_style){.stroke = "#000", .width = 0.16});
    if (fill->slug > 0.0) svg_hatch(svg, slug, 4, 45.0, 0.6);
    if (fill->filler > 0.0) svg_hatch(svg, filler, 4, -45.0, 1.6);
    svg_group_end(svg);
    svg_group(svg, &pen_outline);
    part_section_outline(svg, section, view->x, view->y, view->scale);
    svg_group_end(svg);
}

static void one_bore(struct drawing *drawing, struct svg *svg, int index, double left, double top,
                     double scale) {
    const struct bore_fill *fill = &drawing->results->ballast.fills[index];
    struct section section = section_at(drawing->outline, fill->at, 0.0);
    double x = left + 17.0;
    struct view view = {x, top + 8.0 + scale * (section.centre + section.half_height), scale, 0.0};
    double high = view_y(&view, section.centre + section.half_height);
    double low = view_y(&view, section.centre - section.half_height);
    svg_text(svg, left, top + 3.0, &font_bold,
             arena_printf(drawing->arena, "bore %d at %s", index + 1,
                          measure_length_bare(drawing->arena, fill->at, drawing->units)));
    bore_in_section(svg, &view, &section, fill);
    svg_group(svg, &pen_centre);
    svg_line(svg, x, high - 2.5, x, low + 3.0);
    svg_line(svg, x - scale * section.half_width - 2.5, view.y,
             x + scale * section.half_width + 2.5, view.y);
    svg_group_end(svg);
    part_dim_up(svg, x + scale * section.half_width + 5.0, view_y(&view, fill->mouth_z),
                view_y(&view, fill->mouth_z + fill->depth),
                measure_length_short(drawing->arena, fill->depth, drawing->units));
}

void draw_bores(struct drawing *drawing) {
    const struct ballast_result *ballast = &drawing->results->ballast;
    if (ballast->bore_count == 0) return;
    double wide = 0.0, high = 0.0;
    for (int i = 0; i < ballast->bore_count; i++) {
        struct section section = section_at(drawing->outline, ballast->fills[i].at, 0.0);
        wide = fmax(wide, 2.0 * section.half_width);
        high = fmax(high, 2.0 * section.half_height);
    }
    double scale = part_scale(fmin(section_width / wide, section_height / high));
    double tall = scale * high, row = tall + 13.0;
    int rows = (ballast->bore_count + CELLS - 1) / CELLS;
    struct svg svg;
    part_begin(drawing, &svg, FIGURE_BORES, "bores.svg",
               arena_printf(drawing->arena, "The ballast bores cut across, to scale %s",
                            part_scale_name(scale)),
               page_width, rows * row + 4.5, 0);
    for (int i = 0; i < ballast->bore_count; i++) {
        int down = i / CELLS;
        one_bore(drawing, &svg, i, cell * (i % CELLS), row * down, scale);
    }
    svg_text(&svg, 0.0, rows * row + 2.5, &font_small,
             arena_printf(drawing->arena,
                          "close hatching: the load; wide: filler; distances from the nose, %s; "
                          "scale %s",
                          measure_length_unit(drawing->units), part_scale_name(scale)));
    part_end(drawing, &svg);
}
