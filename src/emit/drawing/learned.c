/* Two curves over the same scale, both drawn equally high: dashed what stands, bold what is known
 * by the bench, hatched where it lies nine times in ten.  Below them a row for each plug, with a
 * point for what it says by itself and a line for how sure that is.  Curves are Gaussian in the
 * logarithm of the ratio.
 */
#include "emit/drawing/learned.h"

#include <math.h>

#include "base/unicode.h"
#include "emit/drawing/inner.h"
#include "emit/words/lesson.h"

static const double width = 156.0, left = 54.0, right = 150.0, top = 8.0, high = 24.0,
                    row_gap = 4.4;

enum { CURVE_POINTS = 97 };

static const struct svg_style stands_pen = {.stroke = "#000", .width = 0.35, .dash = "2.0 1.3"};
static const struct svg_style bench_pen = {.stroke = "#000", .width = 0.6};
static const struct svg_style grid_pen = {.stroke = "#bbb", .width = 0.13};

struct plot {
    struct drawing *drawing;
    const struct lesson_task *task;
    const struct lesson_figure *figure;
    const struct lesson_source *sources;
    struct lesson_points points;
    struct lesson_unit unit;
    double prior;           /* standard deviation of the logarithm */
    double low, most, step; /* ends of the scale, in the unit, and its steps */
    double base, bottom;    /* y of the curves' foot and of the scale */
};

/* --- the scale ------------------------------------------------------------------------------- */

/* In the figure's unit. */
static double value_at(const struct plot *p, double logarithm) {
    return p->figure->stands * exp(logarithm) / p->unit.scale;
}

static double place(const struct plot *p, double value) {
    double share = (value - p->low) / (p->most - p->low);
    return left + (right - left) * fmax(-0.5, fmin(1.5, share));
}

static double place_of(const struct plot *p, double logarithm) {
    return place(p, value_at(p, logarithm));
}

/* Both curves as far as they are seen, and the points that are not out of this world. */
static void set_scale(struct plot *p) {
    const struct lesson_figure *f = p->figure;
    double from = fmin(-2.2 * p->prior, f->mean - 3.2 * f->deviation);
    double to = fmax(2.2 * p->prior, f->mean + 3.2 * f->deviation);
    for (int i = 0; i < p->points.count; i++) {
        double at = fmax(-5 * p->prior, fmin(5 * p->prior, p->points.claims[i]->mean));
        from = fmin(from, at - 0.1 * p->prior);
        to = fmax(to, at + 0.1 * p->prior);
    }
    p->low = value_at(p, from);
    p->most = value_at(p, to);
    p->step = part_step(p->most - p->low);
}

static void scale(struct plot *p, struct svg *svg) {
    struct arena *arena = p->drawing->arena;
    struct svg_font across = font_at(&font_plain, SVG_MIDDLE), end = font_at(&font_small, SVG_END);
    int first = (int)ceil(p->low / p->step - 1e-9), last = (int)floor(p->most / p->step + 1e-9);
    int decimals = (int)fmax(0.0, -floor(log10(p->step) + 1e-9));
    svg_group(svg, &grid_pen);
    for (int i = first; i <= last; i++)
        svg_line(svg, place(p, i * p->step), top, place(p, i * p->step), p->bottom);
    svg_group_end(svg);
    svg_group(svg, &pen_detail);
    svg_line(svg, left, p->base, right, p->base);
    if (p->bottom > p->base) svg_line(svg, left, p->bottom, right, p->bottom);
    svg_group_end(svg);
    for (int i = first; i <= last; i++)
        svg_text(svg, place(p, i * p->step), p->bottom + 4.2, &across,
                 measure_number(arena, i * p->step, decimals));
    svg_text(svg, left - 3.0, p->bottom + 4.2, &end, p->unit.sign);
}

/* --- curves ---------------------------------------------------------------------------------- */

static struct svg_point point_of(const struct plot *p, double mean, double deviation, double z) {
    return (struct svg_point){place_of(p, mean + z * deviation),
                              p->base - high * exp(-z * z / 2.0)};
}

static void curve(const struct plot *p, struct svg *svg, double mean, double deviation,
                  const struct svg_style *pen) {
    struct svg_point points[CURVE_POINTS];
    for (int i = 0; i < CURVE_POINTS; i++)
        points[i] = point_of(p, mean, deviation, 3.6 * (2.0 * i / (CURVE_POINTS - 1) - 1.0));
    svg_group(svg, pen);
    svg_polyline(svg, points, CURVE_POINTS);
    svg_group_end(svg);
}

/* Where it lies nine times in ten. */
static void interval(const struct plot *p, struct svg *svg) {
    const struct lesson_figure *f = p->figure;
    struct svg_point points[CURVE_POINTS + 2];
    for (int i = 0; i < CURVE_POINTS; i++)
        points[i] = point_of(p, f->mean, f->deviation,
                             lesson_ninety * (2.0 * i / (CURVE_POINTS - 1) - 1.0));
    points[CURVE_POINTS] = (struct svg_point){points[CURVE_POINTS - 1].x, p->base};
    points[CURVE_POINTS + 1] = (struct svg_point){points[0].x, p->base};
    svg_group(svg, &pen_face);
    svg_polygon(svg, points, CURVE_POINTS + 2);
    svg_group_end(svg);
    svg_group(svg, &pen_thin);
    svg_hatch(svg, points, CURVE_POINTS + 2, 45.0, 1.2);
    svg_group_end(svg);
}

static void curves(const struct plot *p, struct svg *svg) {
    const struct lesson_figure *f = p->figure;
    svg_group_clipped(svg, left, top - 1.0, right - left, p->base - top + 1.0);
    interval(p, svg);
    curve(p, svg, 0.0, p->prior, &stands_pen);
    curve(p, svg, f->mean, f->deviation, &bench_pen);
    svg_group_end(svg);
}

/* --- plugs ----------------------------------------------------------------------------------- */

/* "Sanderling: plug 2", of a version "Sanderling 2027-01-16: plug 2"; a long name is cut, what
 * follows it stays. */
static const char *plug_label(const struct plot *p, const struct learn_claim *claim) {
    struct arena *arena = p->drawing->arena;
    const struct lesson_plug *plug = &p->task->sources[claim->plug];
    const struct lesson_source *source = &p->sources[plug->source];
    const char *name = unicode_clean(arena, source->recipe->name).data;
    const char *date = source->date ? arena_printf(arena, " %s", source->date) : "";
    const char *rest = plug->number ? arena_printf(arena, "%s: plug %d", date, plug->number) : date;
    double room = left - 3.0 - svg_text_width(rest, &font_plain);
    return arena_printf(arena, "%s%s", svg_text_fit(arena, name, &font_plain, room), rest);
}

/* The plug's line, as far as the scale goes. */
static void sureness(const struct plot *p, struct svg *svg, const struct learn_claim *claim,
                     double y) {
    double half = lesson_ninety * claim->deviation;
    double from = fmax(left, place_of(p, claim->mean - half));
    double to = fmin(right, place_of(p, claim->mean + half));
    svg_group(svg, &pen_detail);
    if (from < to) svg_line(svg, from, y, to, y);
    if (from > left && from < right) svg_line(svg, from, y - 0.8, from, y + 0.8);
    if (to < right && to > left) svg_line(svg, to, y - 0.8, to, y + 0.8);
    svg_group_end(svg);
}

/* A point, or an arrow where it lies beyond the scale. */
static void said(const struct plot *p, struct svg *svg, const struct learn_claim *claim, double y) {
    double x = place_of(p, claim->mean);
    bool under = x<left, over = x> right;
    svg_group(svg, &pen_solid);
    if (!under && !over) svg_circle(svg, x, y, 1.0);
    svg_group_end(svg);
    if (!under && !over) return;
    double tip = under ? left : right, tail = under ? left + 5.0 : right - 5.0;
    part_arrow(svg, (struct svg_point){tail, y}, (struct svg_point){tip, y});
}

static void rows(const struct plot *p, struct svg *svg) {
    struct svg_font font = font_at(&font_plain, SVG_END);
    for (int i = 0; i < p->points.count; i++) {
        const struct learn_claim *claim = p->points.claims[i];
        double y = p->base + row_gap * (i + 0.7);
        sureness(p, svg, claim, y);
        said(p, svg, claim, y);
        svg_text(svg, left - 3.0, y + 1.1, &font, plug_label(p, claim));
    }
}

/* --- the plot -------------------------------------------------------------------------------- */

static void legend(struct svg *svg, double x, const struct svg_style *pen, const char *text) {
    svg_group(svg, pen);
    svg_line(svg, x, 3.0, x + 9.0, 3.0);
    svg_group_end(svg);
    svg_text(svg, x + 10.5, 4.0, &font_plain, text);
}

static void legends(const struct plot *p, struct svg *svg) {
    double x = left + 76.0;
    legend(svg, left, &stands_pen, "as it stands");
    legend(svg, left + 37.0, &bench_pen, "by the bench");
    if (!p->points.count) return;
    svg_group(svg, &pen_detail);
    svg_line(svg, x, 3.0, x + 6.0, 3.0);
    svg_group_end(svg);
    svg_group(svg, &pen_solid);
    svg_circle(svg, x + 3.0, 3.0, 1.0);
    svg_group_end(svg);
    svg_text(svg, x + 7.5, 4.0, &font_plain, p->task->sources[0].number ? "a plug" : "a run");
}

static const char *in_words(const struct plot *p) {
    struct arena *arena = p->drawing->arena;
    enum unit_system units = p->drawing->units;
    const struct lesson_figure *f = p->figure;
    double half = lesson_ninety * f->deviation;
    return arena_printf(arena,
                        "%s: %s as it stands, %s by the bench, nine times in ten from %s to %s",
                        lesson_title(arena, f), lesson_value(arena, f, 1, units),
                        lesson_value(arena, f, exp(f->mean), units),
                        lesson_value(arena, f, exp(f->mean - half), units),
                        lesson_value(arena, f, exp(f->mean + half), units));
}

static void draw(struct plot *p, int index) {
    struct svg svg;
    struct arena *arena = p->drawing->arena;
    const char *kind = p->task->sources[0].number ? "learned" : "time";
    set_scale(p);
    p->base = top + high;
    p->bottom = p->base + (p->points.count ? row_gap * (p->points.count + 0.4) : 0.0);
    part_begin(p->drawing, &svg, FIGURE_LEARNED, arena_printf(arena, "%s-%d.svg", kind, index),
               in_words(p), width, p->bottom + 6.5, index);
    scale(p, &svg);
    curves(p, &svg);
    rows(p, &svg);
    legends(p, &svg);
    part_end(p->drawing, &svg);
}

struct figure_list drawing_learned(struct arena *arena, const struct lesson_task *task,
                                   const struct lesson_source *sources, enum unit_system units) {
    struct drawing drawing = {.arena = arena, .units = units};
    for (int i = 0; i < task->task.count; i++) {
        const struct lesson_figure *f = &task->figures[i];
        if (!f->readings || f->kind == LESSON_LOADS) continue;
        struct plot plot = {.drawing = &drawing,
                            .task = task,
                            .figure = f,
                            .sources = sources,
                            .points = lesson_points_of(arena, task, i),
                            .unit = lesson_unit_of(f, units),
                            .prior = task->task.prior[i]};
        draw(&plot, i);
    }
    return drawing.list;
}
