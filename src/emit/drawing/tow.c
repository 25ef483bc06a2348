/* The plug under tow: how deep it runs over the line that is out, a curve and a band for each
 * speed, and the plug at its trim with the forces that hold it there.
 */
#include "emit/drawing/inner.h"

#include <math.h>

#include "emit/words/tow.h"

/* Slow, middle, fast: told apart by their dashes, not by tint. */
static const struct svg_style speed_pen[MAX_SPEEDS] = {
    {.stroke = "#000", .width = 0.35, .dash = "1.6 1.2"},
    {.stroke = "#000", .width = 0.6},
    {.stroke = "#000", .width = 0.4, .dash = "5 1.2 1 1.2"},
};
static const struct svg_style edge_pen[MAX_SPEEDS] = {
    {.stroke = "#555", .width = 0.13, .dash = "1.6 1.2"},
    {.stroke = "#555", .width = 0.18},
    {.stroke = "#555", .width = 0.15, .dash = "5 1.2 1 1.2"},
};
static const struct svg_style band_pen = {.fill = "#8fb4cb", .fade = 0.22};

/* --- depth over line out --------------------------------------------------------------------- */

static const double width = 92.0, left = 12.0, right = 75.0, top = 7.0, height = 42.0,
                    name_gap = 4.2;

/* Axes in the shop's unit of depth. */
struct axes {
    double unit; /* m */
    double out, out_step, deep, deep_step;
};

static const struct running *running_in(const struct drawing *drawing) {
    return drawing->recipe->running;
}

static bool shown(const struct running_speed *speed) {
    return speed->steady && speed->depth[0].band.given;
}

static struct axes axes_of(const struct drawing *drawing) {
    const struct running_result *r = &drawing->results->running;
    const struct running *running = running_in(drawing);
    struct axes axes = {.unit = shown_form(SHOWN_DEPTH, drawing->units).unit->scale};
    axes.out = running->out[running->out_count - 1] / axes.unit;
    for (int i = 0; i < r->speed_count; i++)
        for (int k = 0; k < r->out_count && shown(&r->speeds[i]); k++)
            axes.deep = fmax(axes.deep, r->speeds[i].depth[k].band.high / axes.unit);
    const struct sounding_result *reading = &r->sounding;
    if (reading->given)
        axes.deep = fmax(axes.deep, drawing->recipe->measured->running->depth / axes.unit);
    axes.out_step = part_step(axes.out);
    axes.deep_step = part_step(fmax(axes.deep, 0.5));
    axes.deep = axes.deep_step * ceil(fmax(axes.deep, 0.5) / axes.deep_step - 1e-9);
    return axes;
}

static struct svg_point place(const struct axes *axes, double out, double depth) {
    return (struct svg_point){left + (right - left) * out / axes->unit / axes->out,
                              top + height * depth / axes->unit / axes->deep};
}

/* How many steps of a scale reach its end. */
static int steps_to(double end, double step) {
    return (int)floor(end / step + 1e-6);
}

static void grid(struct drawing *drawing, struct svg *svg, const struct axes *axes) {
    const char *unit = shown_form(SHOWN_DEPTH, drawing->units).sign;
    struct svg_font across = font_at(&font_plain, SVG_MIDDLE), up = font_at(&font_plain, SVG_END);
    int decimals = (int)fmax(0.0, -floor(log10(axes->deep_step) + 1e-9));
    int across_count = steps_to(axes->out, axes->out_step);
    int down_count = steps_to(axes->deep, axes->deep_step);
    svg_group(svg, &pen_water);
    svg_rect(svg, left, top, right - left, height, 0.0);
    svg_group_end(svg);
    svg_group(svg, &(struct svg_style){.stroke = "#bbb", .width = 0.13});
    for (int i = 0; i <= across_count; i++) {
        double x = place(axes, i * axes->out_step * axes->unit, 0).x;
        svg_line(svg, x, top, x, top + height);
    }
    for (int i = 1; i <= down_count; i++) {
        double y = place(axes, 0, i * axes->deep_step * axes->unit).y;
        svg_line(svg, left, y, right, y);
    }
    svg_group_end(svg);
    svg_group(svg, &pen_surface);
    svg_line(svg, left, top, right, top);
    svg_group_end(svg);
    for (int i = 0; i <= across_count; i++)
        svg_text(svg, place(axes, i * axes->out_step * axes->unit, 0).x, top + height + 4.6,
                 &across, measure_number(drawing->arena, i * axes->out_step, 0));
    for (int i = 0; i <= down_count; i++)
        svg_text(svg, left - 1.8, place(axes, 0, i * axes->deep_step * axes->unit).y + 1.1, &up,
                 measure_number(drawing->arena, i * axes->deep_step, decimals));
    svg_text(svg, 0.0, 4.0, &font_small, arena_printf(drawing->arena, "depth, %s", unit));
    struct svg_font end = font_at(&font_small, SVG_END);
    svg_text(svg, width - 2.0, top + height + 8.0, &end,
             arena_printf(drawing->arena, "line out, %s", unit));
}

enum edge { EDGE_LOW, EDGE_MEDIAN, EDGE_HIGH };

static double edge_of(const struct band *band, enum edge edge) {
    return edge == EDGE_LOW ? band->low : edge == EDGE_HIGH ? band->high : band->median;
}

static void curve(const struct drawing *drawing, struct svg *svg, const struct axes *axes,
                  const struct running_speed *speed, enum edge edge, const struct svg_style *pen) {
    const struct running *running = running_in(drawing);
    struct svg_point points[MAX_OUTS] = {0};
    for (int i = 0; i < running->out_count; i++)
        points[i] = place(axes, running->out[i], edge_of(&speed->depth[i].band, edge));
    svg_group(svg, pen);
    if (running->out_count > 1)
        svg_polyline(svg, points, running->out_count);
    else
        part_cross(svg, points[0], 1.4);
    svg_group_end(svg);
}

static void band(const struct drawing *drawing, struct svg *svg, const struct axes *axes,
                 const struct running_speed *speed) {
    const struct running *running = running_in(drawing);
    struct svg_point points[2 * MAX_OUTS];
    int count = running->out_count;
    for (int i = 0; i < count; i++) {
        points[i] = place(axes, running->out[i], speed->depth[i].band.low);
        points[2 * count - 1 - i] = place(axes, running->out[i], speed->depth[i].band.high);
    }
    svg_group(svg, &band_pen);
    svg_polygon(svg, points, 2 * count);
    svg_group_end(svg);
}

/* Speeds from slow to fast, those that are drawn. */
static int speeds_in_order(const struct running_result *r, int order[MAX_SPEEDS]) {
    int count = 0;
    for (int i = 0; i < r->speed_count; i++) {
        if (!shown(&r->speeds[i])) continue;
        int k = count++;
        for (; k > 0 && r->speeds[order[k - 1]].speed > r->speeds[i].speed; k--)
            order[k] = order[k - 1];
        order[k] = i;
    }
    return count;
}

/* Names at the curves' ends, the shallowest first. */
static void names(struct drawing *drawing, struct svg *svg, const struct axes *axes,
                  const int order[MAX_SPEEDS], int count) {
    const struct running_result *r = &drawing->results->running;
    int last = r->out_count - 1, sorted[MAX_SPEEDS];
    double ends[MAX_SPEEDS], places[MAX_SPEEDS];
    for (int i = 0; i < count; i++) {
        double y = place(axes, 0, r->speeds[order[i]].depth[last].band.median).y;
        int k = i;
        for (; k > 0 && ends[k - 1] > y; k--) ends[k] = ends[k - 1], sorted[k] = sorted[k - 1];
        ends[k] = y, sorted[k] = order[i];
    }
    for (int i = 0; i < count; i++) places[i] = ends[i];
    part_spread(places, count, name_gap, top, top + height);
    for (int i = 0; i < count; i++) {
        svg_group(svg, &pen_thin);
        svg_line(svg, right, ends[i], right + 2.0, places[i]);
        svg_group_end(svg);
        svg_text(svg, right + 3.0, places[i] + 1.1, &font_bold,
                 tow_value(drawing->arena, SHOWN_TOW, r->speeds[sorted[i]].speed, drawing->units));
    }
}

static void reading(struct drawing *drawing, struct svg *svg, const struct axes *axes) {
    if (!drawing->results->running.sounding.given) return;
    const struct sounding *read = drawing->recipe->measured->running;
    struct svg_point at = place(axes, read->out, read->depth);
    if (read->out / axes->unit > axes->out) return;
    svg_group(svg, &pen_outline);
    svg_circle(svg, at.x, at.y, 1.6);
    part_cross(svg, at, 2.6);
    svg_group_end(svg);
    svg_text(svg, at.x + 3.4, at.y - 1.4, &font_bold, "measured");
}

void draw_depths(struct drawing *drawing) {
    const struct running_result *r = &drawing->results->running;
    int order[MAX_SPEEDS], count = r->given ? speeds_in_order(r, order) : 0;
    if (!count) return;
    struct axes axes = axes_of(drawing);
    const struct band *middle = &r->speeds[r->middle_speed].depth[r->middle_out].band;
    const char *title = arena_printf(
        drawing->arena, "Running depth over line out: %s at %s, %s out",
        tow_band(drawing->arena, SHOWN_DEPTH, middle, drawing->units),
        tow_value(drawing->arena, SHOWN_TOW, r->speeds[r->middle_speed].speed, drawing->units),
        tow_out(drawing->arena, running_in(drawing)->out[r->middle_out], drawing->units));
    struct svg svg;
    part_begin(drawing, &svg, FIGURE_DEPTHS, "depths.svg", title, width, top + height + 11.5, 0);
    grid(drawing, &svg, &axes);
    for (int i = 0; i < count; i++) band(drawing, &svg, &axes, &r->speeds[order[i]]);
    for (int i = 0; i < count; i++) {
        int pen = count == 1 ? 1 : i; /* one alone is drawn bold */
        curve(drawing, &svg, &axes, &r->speeds[order[i]], EDGE_LOW, &edge_pen[pen]);
        curve(drawing, &svg, &axes, &r->speeds[order[i]], EDGE_HIGH, &edge_pen[pen]);
        curve(drawing, &svg, &axes, &r->speeds[order[i]], EDGE_MEDIAN, &speed_pen[pen]);
    }
    names(drawing, &svg, &axes, order, count);
    reading(drawing, &svg, &axes);
    svg_text(&svg, 0.0, top + height + 10.2, &font_small,
             "bold: medians; thin: 5 and 95 %; an estimate");
    part_end(drawing, &svg);
}

/* --- forces ---------------------------------------------------------------------------------- */

static const double forces_width = 86.0, plug_long = 42.0, arrow_long = 15.0, margin = 6.0;

struct arrows {
    struct view view;
    double scale; /* mm of paper per newton */
    double top, bottom, left, right;
};

static struct svg_point head_of(const struct arrows *a, const struct force *force) {
    struct svg_point from = view_point(&a->view, force->at.x, force->at.z);
    return (struct svg_point){from.x + a->scale * force->aft, from.y - a->scale * force->up};
}

static double size_of(const struct force *force) {
    return hypot(force->aft, force->up);
}

/* What stands at the head of an arrow, on the side that it points to: its name over its size. */
struct head_label {
    const char *name, *size;
    enum svg_anchor anchor;
    double x, y; /* of the first line, from the head */
};

static const double line_gap = 3.4;

static struct head_label label_of(const struct drawing *drawing, enum tow_force which) {
    const struct force *force = &drawing->results->running.force[which];
    bool upright = fabs(force->aft)<0.3 * fabs(force->up), up = force->up> 0.0;
    return (struct head_label){
        .name = name_tow_forces[which],
        .size = tow_value(drawing->arena, SHOWN_PULL, size_of(force), drawing->units),
        .anchor = upright            ? SVG_MIDDLE
                  : force->aft < 0.0 ? SVG_END
                                     : SVG_START,
        .x = upright            ? 0.0
             : force->aft < 0.0 ? -1.6
                                : 1.6,
        .y = upright ? (up ? -1.6 - line_gap : 4.0)
             : up    ? -1.0
                     : 1.4};
}

/* Where a label's two lines stand on paper, of a head at `head`. */
static struct extent label_box(const struct head_label *label, struct svg_point head) {
    double wide =
        fmax(svg_text_width(label->name, &font_plain), svg_text_width(label->size, &font_plain));
    double x = head.x + label->x, y = head.y + label->y;
    if (label->anchor == SVG_END) x -= wide;
    if (label->anchor == SVG_MIDDLE) x -= wide / 2;
    return (struct extent){x, x + wide, y - 3.0, y + line_gap + 0.6};
}

/* The head of a force's arrow with its label. */
static void add_head(struct extent *extent, const struct drawing *drawing, const struct arrows *a,
                     enum tow_force which) {
    const struct force *force = &drawing->results->running.force[which];
    if (!(size_of(force) > 0.0)) return;
    struct svg_point head = head_of(a, force);
    struct head_label label = label_of(drawing, which);
    struct extent box = label_box(&label, head);
    extent_add(extent, head.x, -head.y);
    extent_add(extent, box.left, -box.bottom);
    extent_add(extent, box.right, -box.top);
}

static struct extent around(const struct drawing *drawing, const struct arrows *a) {
    struct extent e = part_turned(drawing, &a->view, false);
    for (int i = 0; i < FORCES; i++) add_head(&e, drawing, a, (enum tow_force)i);
    return e;
}

/* The largest usual scale at which plug, arrows and labels lie side by side in the width. */
static struct arrows arrows_of(const struct drawing *drawing) {
    const struct running_result *r = &drawing->results->running;
    struct arrows a = {.view = {.turn = r->middle.trim}};
    double most = 0;
    for (int i = 0; i < FORCES; i++) most = fmax(most, size_of(&r->force[i]));
    a.scale = arrow_long / most;
    double fit = 1.25 * plug_long / drawing->outline->length;
    struct extent e;
    for (int tries = 0; tries < 4; tries++, fit /= 2) {
        a.view.scale = part_scale(fit);
        e = around(drawing, &a);
        if (e.right - e.left < forces_width) break;
    }
    a.view.x = (forces_width - (e.right + e.left)) / 2.0;
    a.view.y = margin + e.top;
    a.bottom = a.view.y - e.bottom + 4.0 + 2.0 * line_gap; /* where labels moved on may stand */
    return a;
}

static bool boxes_meet(const struct extent *a, const struct extent *b) {
    return a->left < b->right && b->left < a->right && a->bottom < b->top && b->bottom < a->top;
}

/* Every label at the head of its arrow, moved on up or down past those that stand there already. */
static void draw_labels(struct drawing *drawing, struct svg *svg, const struct arrows *a) {
    struct extent taken[FORCES];
    int count = 0;
    for (int i = 0; i < FORCES; i++) {
        const struct force *force = &drawing->results->running.force[i];
        if (!(size_of(force) > 0.0)) continue;
        struct head_label label = label_of(drawing, (enum tow_force)i);
        struct svg_point head = head_of(a, force);
        struct extent box = label_box(&label, head);
        for (int k = 0; k < count; k++) {
            if (!boxes_meet(&box, &taken[k])) continue;
            label.y += force->up > 0.0 ? taken[k].bottom - box.top : taken[k].top - box.bottom;
            box = label_box(&label, head);
            k = -1;
        }
        taken[count++] = box;
        struct svg_font font = font_at(&font_plain, label.anchor);
        svg_text(svg, head.x + label.x, head.y + label.y, &font, label.name);
        svg_text(svg, head.x + label.x, head.y + label.y + line_gap, &font, label.size);
    }
}

static void flow(struct svg *svg, double y) {
    part_arrow(svg, (struct svg_point){2.0, y}, (struct svg_point){20.0, y});
    svg_text(svg, 2.0, y - 2.0, &font_small, "water");
}

void draw_tow(struct drawing *drawing) {
    const struct running_result *r = &drawing->results->running;
    if (!r->given || r->kind == TOW_ON_TOP || !r->middle.steady) return;
    struct arrows a = arrows_of(drawing);
    const char *speed = tow_value(drawing->arena, SHOWN_TOW, r->middle.speed, drawing->units);
    const char *title =
        arena_printf(drawing->arena, "Under tow at %s: it runs %s, and the line pulls with %s",
                     speed, measure_attitude(drawing->arena, r->middle.trim),
                     tow_value(drawing->arena, SHOWN_PULL, r->middle.tension, drawing->units));
    struct svg svg;
    part_begin(drawing, &svg, FIGURE_TOW, "tow.svg", title, forces_width, a.bottom + 6.0, 0);
    part_side_body(drawing, &svg, &a.view, 0);
    for (int i = 0; i < FORCES; i++) {
        const struct force *force = &r->force[i];
        if (!(size_of(force) > 0.0)) continue;
        struct svg_point from = view_point(&a.view, force->at.x, force->at.z);
        part_arrow(&svg, from, head_of(&a, force));
    }
    draw_labels(drawing, &svg, &a);
    flow(&svg, 8.0);
    svg_text(&svg, 0.0, a.bottom + 4.0, &font_small,
             arena_printf(drawing->arena, "at %s, medians; without the body's couple", speed));
    struct svg_font end = font_at(&font_small, SVG_END);
    svg_text(&svg, forces_width, 3.0, &end,
             arena_printf(drawing->arena, "scale %s", part_scale_name(a.view.scale)));
    part_end(drawing, &svg);
}
