/* The finished plug as it will look: its colours, lip, hooks and eyes, small, at the head of the
 * sheet.  Nothing is measured from it.
 */
#include "emit/drawing/inner.h"

#include <math.h>

#include "compute/plug/reach.h"

static const double emblem_width = 58.0, emblem_height = 36.0, edge = 0.6;

/* --- hooks ---------------------------------------------------------------------------------- */

static double ring_size(const struct fitting *fitting) {
    return fitting->ring ? 1.3 * ring_length(fitting->ring) : 0.0; /* over its wire */
}

/* How far a hanger's hook reaches below its mouth. */
double part_hang(const struct fitting *fitting) {
    return fitting->eye + (fitting->link ? fitting->link->length : 0.0) + ring_size(fitting) +
           (fitting->hook ? hook_length(fitting->hook) : 0.0);
}

/* Three points show as two, one as one. */
static void draw_hook(struct svg *svg, double x, double y, const struct hook *hook, double length) {
    svg_group(svg, &(struct svg_style){.stroke = "#000", .width = fmax(0.25, 0.014 * length)});
    svg_circle(svg, x, y + 0.05 * length, 0.05 * length);
    svg_line(svg, x, y + 0.1 * length, x, y + 0.96 * length);
    for (int side = hook->kind == HOOK_SINGLE ? 1 : -1; side <= 1; side += 2) {
        double out = side * length;
        svg_path(svg);
        svg_move(svg, x, y + 0.68 * length);
        svg_curve(svg, x, y + length, x + 0.3 * out, y + 1.02 * length, x + 0.3 * out,
                  y + 0.76 * length);
        svg_to(svg, x + 0.29 * out, y + 0.58 * length);
        svg_to(svg, x + 0.24 * out, y + 0.68 * length);
        svg_path_end(svg);
    }
    svg_group_end(svg);
}

void part_hooks(struct drawing *drawing, struct svg *svg, const struct view *view) {
    const struct plug *plug = &drawing->results->plug;
    for (int i = FITTING_HANGERS; i < plug->fitting_count; i++) {
        const struct fitting *fitting = plug->fittings[i].fitting;
        const struct pilot *pilot = &plug->fittings[i].pilot;
        double out = fitting->eye + fitting_thickness(drawing->recipe, fitting);
        struct svg_point eye =
            view_point(view, pilot->mouth_x - out * pilot->u_x, pilot->mouth_z - out * pilot->u_z);
        double ring = view->scale * ring_size(fitting);
        if (ring > 0.0) {
            svg_group(svg, &(struct svg_style){.stroke = "#000", .width = 0.35});
            svg_circle(svg, eye.x, eye.y + 0.4 * ring, ring / 2.0);
            svg_group_end(svg);
        }
        if (!fitting->hook) continue;
        draw_hook(svg, eye.x, eye.y + 0.7 * ring, fitting->hook,
                  view->scale * hook_length(fitting->hook));
    }
}

/* --- the emblem ----------------------------------------------------------------------------- */

static struct extent extent_of(const struct drawing *drawing) {
    const struct plug *plug = &drawing->results->plug;
    struct extent extent = part_extent(drawing);
    for (int i = FITTING_HANGERS; i < plug->fitting_count; i++) {
        const struct pilot *pilot = &plug->fittings[i].pilot;
        const struct fitting *hanger = plug->fittings[i].fitting;
        double aside = hanger->hook ? 0.3 * hook_length(hanger->hook) : 0.0;
        double out = hanger->eye + fitting_thickness(drawing->recipe, hanger);
        double x = pilot->mouth_x - out * pilot->u_x;
        extent_add(&extent, x - aside, pilot->mouth_z - part_hang(hanger) - out);
        extent_add(&extent, x + aside, pilot->mouth_z);
    }
    return extent;
}

void draw_plug(struct drawing *drawing) {
    struct extent extent = extent_of(drawing);
    double wide = extent.right - extent.left, high = extent.top - extent.bottom;
    double scale = fmin(emblem_width / wide, emblem_height / high);
    struct view view = {edge - scale * extent.left, edge + scale * extent.top, scale, 0.0};
    struct svg svg;
    part_begin(
        drawing, &svg, FIGURE_PLUG, "plug.svg",
        arena_printf(drawing->arena, "%s, finished", part_text(drawing, drawing->recipe->name)),
        scale * wide + 2.0 * edge, scale * high + 2.0 * edge, 0);
    part_hooks(drawing, &svg, &view);
    part_side_body(drawing, &svg, &view, BODY_PAINTED);
    part_end(drawing, &svg);
}
