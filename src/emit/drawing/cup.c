/* The cup of the face: its line in the views of the body, and gauge and mould in true size. */
#include "emit/drawing/inner.h"

#include <math.h>

enum { ARC_POINTS = 41 };

/* From rim to rim, `middle` being the height (or from above the breadth) of its middle. */
static void arc_points(const struct notch *cup, const struct view *view, double middle,
                       struct svg_point points[ARC_POINTS]) {
    double half =
        asin(fmin(sqrt(fmax(cup->radius * cup->radius - cup->x * cup->x, 0.0)) / cup->radius, 1.0));
    if (cup->x > 0.0) half = 3.14159265358979323846 - half; /* deeper than the sphere's middle */
    for (int i = 0; i < ARC_POINTS; i++) {
        double turn = half * (2.0 * i / (ARC_POINTS - 1) - 1.0);
        points[i] =
            view_point(view, cup->x + cup->radius * cos(turn), middle + cup->radius * sin(turn));
    }
}

void part_cup(struct drawing *drawing, struct svg *svg, const struct view *view, bool from_above,
              bool hidden) {
    const struct notch *cup = &drawing->results->plug.cup;
    struct svg_point points[ARC_POINTS];
    if (cup->volume <= 0.0) return;
    arc_points(cup, view, from_above ? 0.0 : cup->z, points);
    svg_group(svg, hidden ? &pen_hidden : &pen_face);
    if (hidden)
        svg_polyline(svg, points, ARC_POINTS);
    else
        svg_polygon(svg, points, ARC_POINTS);
    svg_group_end(svg);
}

static const double shoulder = 10.0, high = 14.0; /* of the gauge, beside and above the bulge */

void part_cup_gauge(struct svg *svg, const struct nose_face *face, const struct notch *cup,
                    double x, double top) {
    double half = 1e3 * face->cup->width / 2.0, radius = 1e3 * cup->radius;
    svg_path(svg);
    svg_move(svg, x - half - shoulder, top);
    svg_to(svg, x + half + shoulder, top);
    svg_to(svg, x + half + shoulder, top + high);
    svg_to(svg, x + half, top + high);
    svg_arc(svg, radius, false, true, x - half, top + high);
    svg_to(svg, x - half - shoulder, top + high);
    svg_close(svg);
    svg_path_end(svg);
}

struct svg_point part_cup_gauge_size(const struct nose_face *face) {
    return (struct svg_point){1e3 * face->cup->width + 2.0 * shoulder,
                              high + 1e3 * face->cup->depth};
}

void draw_cup(struct drawing *drawing) {
    const struct nose_face *face = drawing->recipe->face;
    if (!face) return;
    const double top = 9.0;
    double half = 1e3 * face->cup->width / 2.0, depth = 1e3 * face->cup->depth;
    double radius = 1e3 * drawing->results->plug.cup.radius, middle = half + 14.0;
    bool ball = radius <= 30.0;
    double bottom = fmax(top + high + depth, ball ? top + 2.0 * radius : 0.0);
    struct svg svg;
    part_begin(drawing, &svg, FIGURE_CUP, "cup.svg", "Gauge and ball for the cup, in true size",
               page_width, bottom + 8.0, 0);
    svg_text(&svg, 0.0, 4.0, &font_bold,
             arena_printf(drawing->arena,
                          "Gauge for the cup%s in true size; radius %s, mouth %s, depth %s",
                          ball ? " and the ball that fits it," : ",",
                          measure_length_bare(drawing->arena, 1e-3 * radius, drawing->units),
                          measure_length_bare(drawing->arena, face->cup->width, drawing->units),
                          measure_length_bare(drawing->arena, face->cup->depth, drawing->units)));
    svg_group(&svg, &pen_outline);
    part_cup_gauge(&svg, face, &drawing->results->plug.cup, middle, top);
    if (ball) svg_circle(&svg, 2.0 * middle + radius + 8.0, top + radius, radius);
    svg_group_end(&svg);
    part_end(drawing, &svg);
}
