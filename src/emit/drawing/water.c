/* The plug as it floats when it is finished: turned to its attitude, in the water, hooks hanging,
 * with its centres and the heights of its waterline.  A plug that does not float is drawn under the
 * surface with an arrow the way that it moves.
 */
#include "emit/drawing/inner.h"

#include <math.h>

static const double width = 86.0, picture_width = 54.0, picture_height = 46.0, air = 7.0,
                    deep = 4.0;
static const double movement_width = 24.0; /* at the right, for the arrow of what does not float */

/* --- where the drawing stands --------------------------------------------------------------- */

struct scene {
    struct view view;
    double surface, bottom; /* y on paper */
};

static struct scene scene_of(const struct drawing *drawing, const struct condition *condition) {
    struct view unit = {.scale = 1.0, .turn = condition->rest.attitude};
    struct extent e = part_turned(drawing, &unit, true);
    bool afloat = condition->rest.afloat;
    if (afloat) extent_add(&e, e.left, condition->rest.level);
    double aside = condition->state == STATE_FLOATS ? 0.0 : movement_width;
    double scale = part_scale(fmin((picture_width - aside / 2.0) / (e.right - e.left),
                                   picture_height / (e.top - e.bottom)));
    double down = afloat ? air : air + 13.0; /* room for the surface over a plug that is under it */
    struct scene s = {.view = {.scale = scale, .turn = unit.turn}};
    s.view.x = (width - aside - scale * (e.right + e.left)) / 2.0;
    s.view.y = down + scale * e.top;
    s.surface = afloat ? s.view.y - scale * condition->rest.level : air;
    s.bottom = s.view.y - scale * e.bottom + deep;
    return s;
}

/* --- marks ---------------------------------------------------------------------------------- */

/* The usual sign of a centre of gravity: a circle quartered black and white. */
static void gravity_mark(struct svg *svg, struct svg_point at) {
    double r = 1.9;
    svg_group(svg, &pen_face);
    svg_circle(svg, at.x, at.y, r);
    svg_group_end(svg);
    svg_group(svg, &pen_solid);
    for (int side = -1; side <= 1; side += 2) {
        svg_path(svg);
        svg_move(svg, at.x, at.y);
        svg_to(svg, at.x + side * r, at.y);
        svg_arc(svg, r, false, true, at.x, at.y + side * r);
        svg_close(svg);
        svg_path_end(svg);
    }
    svg_group_end(svg);
}

static void buoyancy_mark(struct svg *svg, struct svg_point at) {
    svg_group(svg, &pen_face);
    svg_circle(svg, at.x, at.y, 1.9);
    part_cross(svg, at, 1.9);
    svg_group_end(svg);
}

static void centres(struct svg *svg, const struct scene *s, const struct condition *condition) {
    struct svg_point g = view_point(&s->view, condition->burden.x, condition->burden.z);
    struct svg_point b =
        view_point(&s->view, condition->rest.buoyancy_x, condition->rest.buoyancy_z);
    svg_group(svg, &pen_centre);
    svg_line(svg, g.x, fmin(g.y, b.y) - 7.0, g.x, fmax(g.y, b.y) + 7.0);
    svg_group_end(svg);
    buoyancy_mark(svg, b);
    gravity_mark(svg, g);
    struct svg_font left = font_at(&font_bold, SVG_END);
    svg_text(svg, b.x - 2.9, b.y + 1.1, &left, "B");
    svg_text(svg, g.x + 2.9, g.y + 1.1, &font_bold, "G");
}

/* The sign of a water level: a triangle on the surface over two short lines. */
static void level_mark(struct svg *svg, double x, double y) {
    struct svg_point triangle[3] = {{x, y}, {x - 1.8, y - 3.0}, {x + 1.8, y - 3.0}};
    svg_group(svg, &pen_surface);
    svg_polygon(svg, triangle, 3);
    svg_line(svg, x - 1.6, y + 1.2, x + 1.6, y + 1.2);
    svg_line(svg, x - 0.8, y + 2.2, x + 0.8, y + 2.2);
    svg_group_end(svg);
}

/* From the datum square up or down to the surface, at one end. */
static void waterline_height(struct drawing *drawing, struct svg *svg, const struct scene *s,
                             double x, double height, bool nose) {
    struct svg_point from = view_point(&s->view, x, 0.0), to = view_point(&s->view, x, height);
    svg_group(svg, &pen_thin);
    svg_line(svg, from.x, from.y, to.x, to.y);
    svg_group_end(svg);
    svg_group(svg, &pen_solid);
    svg_circle(svg, to.x, to.y, 0.6);
    svg_group_end(svg);
    const struct hardware *hardware = drawing->recipe->hardware;
    double eye =
        hardware->line_tie->eye + 2.0 * fitting_thickness(drawing->recipe, hardware->line_tie);
    double clear = 2.0 + s->view.scale * eye;
    struct svg_font font = font_at(&font_plain, nose ? SVG_END : SVG_START);
    svg_text(svg, to.x + (nose ? -clear : clear), to.y - 1.5, &font,
             measure_length(drawing->arena, height, drawing->units));
}

static void movement(struct drawing *drawing, struct svg *svg, const struct scene *s,
                     const struct condition *condition) {
    double x = width - 9.0, top = s->surface + 7.0, end = top + 13.0;
    bool up = condition->speed > 0.0;
    struct svg_point head[3] = {{x, up ? top : end},
                                {x - 1.5, up ? top + 3.6 : end - 3.6},
                                {x + 1.5, up ? top + 3.6 : end - 3.6}};
    svg_group(svg, &(struct svg_style){.stroke = "#000", .width = 0.5});
    svg_line(svg, x, top, x, end);
    svg_group_end(svg);
    svg_group(svg, &pen_solid);
    svg_polygon(svg, head, 3);
    svg_group_end(svg);
    struct svg_font font = font_at(&font_plain, SVG_END);
    svg_text(svg, x - 3.0, top + 5.5, &font,
             arena_printf(drawing->arena, "%s about", up ? "rises" : "sinks"));
    svg_text(svg, x - 3.0, top + 9.8, &font,
             measure_speed(drawing->arena, fabs(condition->speed), drawing->units));
}

static bool waterline_shown(const struct drawing *drawing, const struct condition *condition) {
    return condition->waterline_given &&
           part_waterline_near(drawing, condition->waterline_nose, condition->waterline_tail);
}

static void picture(struct drawing *drawing, struct svg *svg, const struct scene *s,
                    const struct condition *condition) {
    svg_group(svg, &pen_water);
    svg_rect(svg, 0.0, s->surface, width, s->bottom - s->surface, 0.0);
    svg_group_end(svg);
    part_hooks(drawing, svg, &s->view);
    part_side_body(drawing, svg, &s->view, 0);
    svg_group(svg, &(struct svg_style){.fill = "#8fb4cb", .fade = 0.22});
    svg_rect(svg, 0.0, s->surface, width, s->bottom - s->surface, 0.0);
    svg_group_end(svg);
    struct svg_point nose = view_point(&s->view, -0.004, 0.0);
    struct svg_point tail = view_point(&s->view, drawing->outline->length + 0.004, 0.0);
    svg_group(svg, &pen_centre);
    svg_line(svg, nose.x, nose.y, tail.x, tail.y);
    svg_group_end(svg);
    svg_group(svg, &pen_surface);
    svg_line(svg, 0.0, s->surface, width, s->surface);
    svg_group_end(svg);
    level_mark(svg, 6.0, s->surface);
    centres(svg, s, condition);
    if (waterline_shown(drawing, condition)) {
        waterline_height(drawing, svg, s, 0.0, condition->waterline_nose, true);
        waterline_height(drawing, svg, s, drawing->outline->length, condition->waterline_tail,
                         false);
    }
    if (condition->state != STATE_FLOATS) movement(drawing, svg, s, condition);
}

/* --- the drawing ---------------------------------------------------------------------------- */

void draw_glance(struct drawing *drawing) {
    const struct condition *condition = &drawing->results->finished;
    struct scene scene = scene_of(drawing, condition);
    const char *title = arena_printf(
        drawing->arena, "%s at rest: it %s, %s, with a reserve of %s; scale %s",
        part_text(drawing, drawing->recipe->name), name_float_states[condition->state],
        measure_attitude(drawing->arena, condition->rest.attitude),
        measure_share(drawing->arena, condition->rest.reserve), part_scale_name(scene.view.scale));
    struct svg svg;
    part_begin(drawing, &svg, FIGURE_GLANCE, "glance.svg", title, width, scene.bottom + 5.5, 0);
    picture(drawing, &svg, &scene, condition);
    svg_text(&svg, 0.0, scene.bottom + 4.0, &font_small, "G centre of gravity, B of buoyancy");
    struct svg_font right = font_at(&font_small, SVG_END);
    svg_text(&svg, width, scene.bottom + 4.0, &right,
             arena_printf(drawing->arena, "scale %s", part_scale_name(scene.view.scale)));
    part_end(drawing, &svg);
}
