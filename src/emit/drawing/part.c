/* Pens, views and outlines.  The outline's Hermite cubics go to paper as the Bezier cubics that
 * they are: over an interval h with values y0, y1 and slopes m0, m1 the inner control points stand
 * at a third of h with y0 + m0 h/3 and y1 - m1 h/3.
 */
#include "emit/drawing/inner.h"

#include <math.h>
#include <string.h>

/* --- figures -------------------------------------------------------------------------------- */

static struct figure *figure_new(struct drawing *drawing) {
    struct figure_list *list = &drawing->list;
    GROW(drawing->arena, list->figures, list->count, drawing->capacity);
    return &list->figures[list->count++];
}

void part_begin(struct drawing *drawing, struct svg *svg, enum figure_kind kind, const char *file,
                const char *title, double width, double height, int layer) {
    *figure_new(drawing) = (struct figure){.kind = kind,
                                           .file = file,
                                           .title = title,
                                           .width = width,
                                           .height = height,
                                           .layer = layer};
    const char *id = arena_copy(drawing->arena, file, strcspn(file, "."));
    svg_begin(svg, drawing->arena, id, title, width, height);
}

void part_end(struct drawing *drawing, struct svg *svg) {
    svg_end(svg);
    drawing->list.figures[drawing->list.count - 1].svg = svg->out;
}

const char *part_text(const struct drawing *drawing, struct str text) {
    return arena_copy(drawing->arena, text.data, text.size);
}

/* --- pens and type -------------------------------------------------------------------------- */

const struct svg_style pen_outline = {.stroke = "#000", .width = 0.45};
const struct svg_style pen_detail = {.stroke = "#000", .width = 0.25};
const struct svg_style pen_thin = {.stroke = "#555", .width = 0.13};
const struct svg_style pen_centre = {.stroke = "#333", .width = 0.15, .dash = "7 1.2 1.2 1.2"};
const struct svg_style pen_hidden = {.stroke = "#000", .width = 0.18, .dash = "1.4 0.9"};
const struct svg_style pen_body = {.fill = "#fbf7ee", .stroke = "#000", .width = 0.45};
const struct svg_style pen_face = {.fill = "#fff", .stroke = "#000", .width = 0.25};
const struct svg_style pen_solid = {.fill = "#000"};
const struct svg_style pen_water = {.fill = "#e6f0f6"};
const struct svg_style pen_surface = {.stroke = "#1f5578", .width = 0.35};

const struct svg_font font_plain = {.size = 3.0};
const struct svg_font font_small = {.size = 2.8, .fill = "#333"};
const struct svg_font font_bold = {.size = 3.0, .bold = true};
const struct svg_font font_head = {.size = 3.8, .bold = true};

struct svg_font font_at(const struct svg_font *font, enum svg_anchor anchor) {
    struct svg_font placed = *font;
    placed.anchor = anchor;
    return placed;
}

struct svg_font font_turned(const struct svg_font *font, enum svg_anchor anchor, double turn) {
    struct svg_font turned = font_at(font, anchor);
    turned.turn = turn;
    return turned;
}

/* --- views ---------------------------------------------------------------------------------- */

struct svg_point view_point(const struct view *view, double along, double up) {
    double c = cos(view->turn), s = sin(view->turn);
    return (struct svg_point){view->x + view->scale * (c * along - s * up),
                              view->y - view->scale * (s * along + c * up)};
}

double view_x(const struct view *view, double along) {
    return view->x + view->scale * along;
}

double view_y(const struct view *view, double up) {
    return view->y - view->scale * up;
}

static const struct {
    double scale;
    const char *name;
} usual_scales[] = {{5000.0, "5:1"},       {4000.0, "4:1"}, {3000.0, "3:1"},
                    {2000.0, "2:1"},       {1500.0, "3:2"}, {1000.0, "1:1"},
                    {1000.0 / 1.5, "2:3"}, {500.0, "1:2"},  {400.0, "1:2.5"},
                    {1000.0 / 3.0, "1:3"}, {250.0, "1:4"},  {200.0, "1:5"},
                    {1000.0 / 8.0, "1:8"}, {100.0, "1:10"}, {50.0, "1:20"}};

enum { USUAL_SCALES = sizeof usual_scales / sizeof *usual_scales };

double part_scale(double most) {
    for (int i = 0; i < USUAL_SCALES; i++) {
        if (usual_scales[i].scale <= most) return usual_scales[i].scale;
    }
    return usual_scales[USUAL_SCALES - 1].scale;
}

const char *part_scale_name(double scale) {
    for (int i = 0; i < USUAL_SCALES; i++) {
        if (fabs(usual_scales[i].scale - scale) < 1e-6 * scale) return usual_scales[i].name;
    }
    return "no scale";
}

double part_step(double span) {
    double power = pow(10.0, floor(log10(span / 6.0)));
    double factor = span / 6.0 / power;
    return power * (factor <= 1.0 ? 1.0 : factor <= 2.0 ? 2.0 : factor <= 5.0 ? 5.0 : 10.0);
}

void part_arrow(struct svg *svg, struct svg_point from, struct svg_point to) {
    const double head = 3.2, half = 1.2;
    double x = to.x - from.x, y = to.y - from.y, long_ = hypot(x, y);
    if (!(long_ > 0.0)) return;
    x /= long_, y /= long_;
    double back = fmin(head, long_);
    struct svg_point foot = {to.x - back * x, to.y - back * y};
    struct svg_point corners[3] = {
        to, {foot.x - half * y, foot.y + half * x}, {foot.x + half * y, foot.y - half * x}};
    svg_group(svg, &(struct svg_style){.stroke = "#000", .width = 0.45});
    svg_line(svg, from.x, from.y, foot.x, foot.y);
    svg_group_end(svg);
    svg_group(svg, &pen_solid);
    svg_polygon(svg, corners, 3);
    svg_group_end(svg);
}

/* --- outlines ------------------------------------------------------------------------------- */

void extent_add(struct extent *extent, double along, double up) {
    extent->left = fmin(extent->left, along);
    extent->right = fmax(extent->right, along);
    extent->bottom = fmin(extent->bottom, up);
    extent->top = fmax(extent->top, up);
}

/* One cubic of a curve, from point `from` to its neighbour `to`. */
static void cubic(struct svg *svg, const struct view *view, const struct curve *curve,
                  double factor, int from, int to) {
    double third = (curve->x[to] - curve->x[from]) / 3.0;
    struct svg_point p = view_point(view, curve->x[from] + third,
                                    factor * (curve->y[from] + curve->slope[from] * third));
    struct svg_point q =
        view_point(view, curve->x[to] - third, factor * (curve->y[to] - curve->slope[to] * third));
    struct svg_point end = view_point(view, curve->x[to], factor * curve->y[to]);
    svg_curve(svg, p.x, p.y, q.x, q.y, end.x, end.y);
}

static void begin_at(struct svg *svg, const struct view *view, const struct curve *curve,
                     double factor, int point, bool first) {
    struct svg_point start = view_point(view, curve->x[point], factor * curve->y[point]);
    if (first)
        svg_move(svg, start.x, start.y);
    else
        svg_to(svg, start.x, start.y);
}

static void closed_outline(struct svg *svg, const struct view *view, const struct curve *upper,
                           double upper_factor, const struct curve *lower, double lower_factor) {
    svg_path(svg);
    begin_at(svg, view, upper, upper_factor, 0, true);
    for (int i = 0; i + 1 < upper->count; i++) cubic(svg, view, upper, upper_factor, i, i + 1);
    begin_at(svg, view, lower, lower_factor, lower->count - 1, false);
    for (int i = lower->count - 1; i > 0; i--) cubic(svg, view, lower, lower_factor, i, i - 1);
    svg_close(svg);
    svg_path_end(svg);
}

void part_side_outline(struct svg *svg, const struct view *view, const struct outline *outline) {
    closed_outline(svg, view, &outline->back, 1.0, &outline->belly, -1.0);
}

void part_plan_outline(struct svg *svg, const struct view *view, const struct outline *outline) {
    closed_outline(svg, view, &outline->width, 0.5, &outline->width, -0.5);
}

void part_curve(struct svg *svg, const struct view *view, const struct curve *curve,
                double factor) {
    svg_path(svg);
    begin_at(svg, view, curve, factor, 0, true);
    for (int i = 0; i + 1 < curve->count; i++) cubic(svg, view, curve, factor, i, i + 1);
    svg_path_end(svg);
}

/* A rectangle whose corners are quarter ellipses; an oval is nothing but corners.  A cubic with
 * its control points at 0.5523 of the radius follows a quarter circle within 0.03 %. */
void part_section_outline(struct svg *svg, const struct section *section, double x, double y,
                          double scale) {
    bool oval = section->shape == SECTION_OVAL;
    double a = scale * section->half_width, h = scale * section->half_height;
    double rx = oval ? a : fmin(scale * section->radius, fmin(a, h)), ry = oval ? h : rx;
    double kx = rx * 0.4477, ky = ry * 0.4477;
    double top = y - scale * section->centre - h, bottom = top + 2.0 * h;
    svg_path(svg);
    svg_move(svg, x + a - rx, top);
    svg_curve(svg, x + a - kx, top, x + a, top + ky, x + a, top + ry);
    svg_to(svg, x + a, bottom - ry);
    svg_curve(svg, x + a, bottom - ky, x + a - kx, bottom, x + a - rx, bottom);
    svg_to(svg, x - a + rx, bottom);
    svg_curve(svg, x - a + kx, bottom, x - a, bottom - ky, x - a, bottom - ry);
    svg_to(svg, x - a, top + ry);
    svg_curve(svg, x - a, top + ky, x - a + kx, top, x - a + rx, top);
    svg_close(svg);
    svg_path_end(svg);
}

void part_section_points(struct svg_point points[SECTION_POINTS], const struct section *section,
                         double x, double y, double scale) {
    static const double quarter = 3.14159265358979323846 / 2.0;
    bool oval = section->shape == SECTION_OVAL;
    double a = scale * section->half_width, h = scale * section->half_height;
    double rx = oval ? a : fmin(scale * section->radius, fmin(a, h)), ry = oval ? h : rx;
    int corner = SECTION_POINTS / 4;
    for (int i = 0; i < SECTION_POINTS; i++) {
        int turned = i / corner;
        double angle = quarter * (turned + (double)(i % corner) / (corner - 1));
        double right = turned == 0 || turned == 3 ? 1.0 : -1.0, up = turned < 2 ? 1.0 : -1.0;
        points[i].x = x + right * (a - rx) + rx * cos(angle);
        points[i].y = y - scale * section->centre - up * (h - ry) - ry * sin(angle);
    }
}

void part_bar(struct svg_point corners[4], const struct view *view, double x, double z, double ux,
              double uz, double deep, double thick) {
    double sx = -uz * thick / 2.0, sz = ux * thick / 2.0;
    corners[0] = view_point(view, x + sx, z + sz);
    corners[1] = view_point(view, x + sx + ux * deep, z + sz + uz * deep);
    corners[2] = view_point(view, x - sx + ux * deep, z - sz + uz * deep);
    corners[3] = view_point(view, x - sx, z - sz);
}
