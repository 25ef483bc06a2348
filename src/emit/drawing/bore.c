/* Every ballast bore in a section of the body: along its axis, the load at the inner end and the
 * filler outside of it; of one along the body across its load.  The bore map's table has the
 * numbers.
 */
#include "emit/drawing/inner.h"

#include <math.h>

#include "model/reference.h"

enum { CELLS = 4 };

static const double cell = 45.0, section_width = 26.0, section_height = 34.0,
                    section_left = 17.0; /* of its middle line in the cell */

/* Height of the section's lower edge at a distance from the middle. */
static double lower_edge(const struct section *section, double aside) {
    double a = section->half_width, h = section->half_height;
    if (section->shape == SECTION_OVAL) {
        return section->centre - h * sqrt(fmax(0.0, 1.0 - aside * aside / (a * a)));
    }
    double r = fmin(section->radius, fmin(a, h)), over = fmax(0.0, aside - (a - r));
    return section->centre - h + r - sqrt(fmax(0.0, r * r - over * over));
}

/* A bore in the plane of its section: u points inward, `across` is how it lies in the paper. */
struct cut {
    const struct section *section;
    double y, z, u_y, u_z;
    double radius;
};

/* The point `s` inward and `off` to the side. */
static struct svg_point cut_point(const struct view *view, const struct cut *cut, double s,
                                  double off) {
    return view_point(view, cut->y + s * cut->u_y + off * cut->u_z,
                      cut->z + s * cut->u_z - off * cut->u_y);
}

/* How far inward of its mouth a line beside the axis enters the section. */
static double cut_edge(const struct cut *cut, double off) {
    const struct section *section = cut->section;
    if (cut->u_z == 0.0) return fabs(cut->y) - section_half_width(section, cut->z - off * cut->u_y);
    double low = lower_edge(section, fmin(fabs(off), section->half_width));
    return cut->u_z > 0.0 ? low - cut->z : cut->z - (2.0 * section->centre - low);
}

/* From so far to so far inward, its outer end cut by the wood's edge. */
static void part_of_bore(struct svg_point corners[4], const struct view *view,
                         const struct cut *cut, double from, double to) {
    for (int i = 0; i < 4; i++) {
        double off = i < 2 ? -cut->radius : cut->radius;
        double outer = fmin(fmax(from, cut_edge(cut, off)), to);
        corners[i] = cut_point(view, cut, i == 0 || i == 3 ? outer : to, off);
    }
}

static void hatched(struct svg *svg, const struct part_hole *hole, const struct svg_point *inner,
                    const struct svg_point *closed, int count) {
    svg_group(svg, &(struct svg_style){.stroke = "#000", .width = 0.16});
    if (hole->loaded) svg_hatch(svg, inner, count, 45.0, 0.6);
    if (hole->closed > 0.0 && closed) svg_hatch(svg, closed, count, -45.0, 1.6);
    svg_group_end(svg);
}

static void cut_along(struct svg *svg, const struct view *view, const struct cut *cut,
                      const struct part_hole *hole) {
    struct svg_point whole[4], inner[4], closed[4];
    part_of_bore(whole, view, cut, -INFINITY, hole->depth);
    part_of_bore(inner, view, cut, hole->closed, hole->depth);
    part_of_bore(closed, view, cut, -INFINITY, hole->closed);
    svg_group(svg, &pen_face);
    svg_polygon(svg, whole, 4);
    if (hole->loaded || hole->hollow) svg_polygon(svg, inner, 4);
    svg_group_end(svg);
    hatched(svg, hole, inner, closed, 4);
}

/* One that runs along the body is cut through its load. */
static void cut_through(struct svg *svg, const struct view *view, const struct part_hole *hole) {
    enum { ROUND = 48 };
    struct svg_point round[ROUND];
    for (int i = 0; i < ROUND; i++) {
        double turn = 2.0 * 3.14159265358979323846 * i / ROUND, radius = hole->drill / 2.0;
        round[i] = view_point(view, radius * cos(turn), hole->axis.z + radius * sin(turn));
    }
    svg_group(svg, &pen_face);
    svg_polygon(svg, round, ROUND);
    svg_group_end(svg);
    hatched(svg, hole, round, NULL, ROUND);
}

static void bore_in_section(struct svg *svg, const struct view *view, const struct section *section,
                            const struct part_hole *hole) {
    struct svg_point outline[SECTION_POINTS];
    const struct axis *axis = &hole->axis;
    part_section_points(outline, section, view->x, view->y, view->scale);
    svg_group(svg, &(struct svg_style){.stroke = "#999", .width = 0.12});
    svg_hatch(svg, outline, SECTION_POINTS, 45.0, 1.5);
    svg_group_end(svg);
    if (axis_along(axis)) cut_through(svg, view, hole);
    for (int side = 1; !axis_along(axis) && side >= (axis->pair ? -1 : 1); side -= 2) {
        struct cut cut = {section,          side * axis->y, axis->z,
                          side * axis->u_y, axis->u_z,      hole->drill / 2.0};
        cut_along(svg, view, &cut, hole);
    }
    svg_group(svg, &pen_outline);
    part_section_outline(svg, section, view->x, view->y, view->scale);
    svg_group_end(svg);
}

/* Where a bore is cut. */
static double place_of(const struct part_hole *hole) {
    return axis_along(&hole->axis) ? axis_x(&hole->axis, (hole->closed + hole->depth) / 2.0)
                                   : hole->axis.x;
}

/* How deep it is: beside the section, or under it where the bore lies across. */
static void depth_of(struct drawing *drawing, struct svg *svg, const struct view *view,
                     const struct section *section, const struct part_hole *hole) {
    const struct axis *axis = &hole->axis;
    const char *depth = measure_length_short(drawing->arena, hole->depth, drawing->units);
    double low = view_y(view, section->centre - section->half_height);
    double end = axis->y + hole->depth * axis->u_y;
    if (axis->u_z != 0.0)
        part_dim_up(svg, view->x + view->scale * section->half_width + 5.0,
                    view_y(view, axis_z(axis, axis->u_z > 0.0 ? 0.0 : hole->depth)),
                    view_y(view, axis_z(axis, axis->u_z > 0.0 ? hole->depth : 0.0)), depth);
    else if (axis_level(axis))
        part_dim_across(svg, view->x + view->scale * end, view->x + view->scale * axis->y,
                        low + 6.0, depth);
    else {
        svg_text(svg, view->x - section_left, low + 7.0, &font_plain,
                 arena_printf(drawing->arena, "%s deep, %s", depth,
                              axis->u_x > 0.0 ? "from the nose" : "from the tail"));
    }
}

static void one_hole(struct drawing *drawing, struct svg *svg, const struct part_hole *hole,
                     double left, double top, double scale) {
    struct section section = section_at(drawing->outline, place_of(hole), 0.0);
    double x = left + section_left;
    struct view view = {x, top + 8.0 + scale * (section.centre + section.half_height), scale, 0.0};
    double high = view_y(&view, section.centre + section.half_height);
    double low = view_y(&view, section.centre - section.half_height);
    svg_text(svg, left, top + 3.0, &font_bold,
             arena_printf(drawing->arena, "%s at %s", hole->name,
                          measure_length_bare(drawing->arena, place_of(hole), drawing->units)));
    bore_in_section(svg, &view, &section, hole);
    svg_group(svg, &pen_centre);
    svg_line(svg, x, high - 2.5, x, low + 3.0);
    svg_line(svg, x - scale * section.half_width - 2.5, view.y,
             x + scale * section.half_width + 2.5, view.y);
    svg_group_end(svg);
    depth_of(drawing, svg, &view, &section, hole);
}

void draw_bores(struct drawing *drawing) {
    struct part_hole holes[PART_HOLES];
    int count = part_holes(drawing, holes);
    bool chambers = drawing->recipe->chamber_count > 0;
    if (count == 0) return;
    double wide = 0.0, high = 0.0;
    bool under = false; /* something is written under a section */
    for (int i = 0; i < count; i++) {
        struct section section = section_at(drawing->outline, place_of(&holes[i]), 0.0);
        wide = fmax(wide, 2.0 * section.half_width);
        high = fmax(high, 2.0 * section.half_height);
        under |= holes[i].axis.u_z == 0.0;
    }
    double scale = part_scale(fmin(section_width / wide, section_height / high));
    double tall = scale * high, row = tall + (under ? 20.0 : 13.0);
    int rows = (count + CELLS - 1) / CELLS;
    struct svg svg;
    part_begin(drawing, &svg, FIGURE_BORES, "bores.svg",
               arena_printf(drawing->arena, "The %s cut across, to scale %s",
                            chambers ? "ballast bores and chambers" : "ballast bores",
                            part_scale_name(scale)),
               page_width, rows * row + 4.5, 0);
    for (int i = 0; i < count; i++) {
        int down = i / CELLS;
        one_hole(drawing, &svg, &holes[i], cell * (i % CELLS), row * down, scale);
    }
    svg_text(&svg, 0.0, rows * row + 2.5, &font_small,
             arena_printf(drawing->arena,
                          "close hatching: the load; wide: filler%s; distances from the nose, %s; "
                          "scale %s",
                          chambers ? " or stopper; blank: a chamber's room" : "",
                          measure_length_unit(drawing->units), part_scale_name(scale)));
    part_end(drawing, &svg);
}
