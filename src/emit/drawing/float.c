/* The float test as it is read at the bench: the plug on its datum, and the waterline across it as
 * predicted, as measured (if it was), and with a gram more or less in a bore.  Each line carries
 * its heights above the datum at the nose and at the tail.
 */
#include "emit/drawing/inner.h"

#include <math.h>

enum { LINES = 8, TRIALS = 6 };

static const double nose_label = 14.0, tail_label = 130.0, name_label = 141.0, label_gap = 4.6,
                    lines_top = 9.0;
static const double picture_left = 26.0, picture = 92.0, beyond = 7.0;
static const double steepest = 0.5; /* rise of a trial's line over the length that is still drawn */

struct level {
    double nose, tail; /* above the datum, m */
    const char *name;
    const struct svg_style *pen;
};

static const struct svg_style predicted = {.stroke = "#1f5578", .width = 0.5};
static const struct svg_style found = {.stroke = "#000", .width = 0.4, .dash = "5 1 1 1"};
static const struct svg_style trial = {.stroke = "#333", .width = 0.18, .dash = "1.6 1"};

static int levels_of(struct drawing *drawing, struct level levels[LINES]) {
    const struct condition *test = &drawing->results->test;
    const struct ballast_result *ballast = &drawing->results->ballast;
    const struct measured *measured = drawing->recipe->measured;
    double length = drawing->outline->length;
    int n = 0;
    levels[n++] =
        (struct level){test->waterline_nose, test->waterline_tail, "predicted", &predicted};
    if (measured && measured->waterline) {
        struct water_level read = waterline_read(&drawing->results->plug, measured->waterline);
        levels[n++] = (struct level){read.nose, read.tail, "measured", &found};
    }
    for (int i = 0; i < ballast->trial_count && i < TRIALS; i++) {
        const struct trial *t = &ballast->trials[i];
        if (!t->possible || !t->test.waterline_given ||
            !part_waterline_near(drawing, t->test.waterline_nose, t->test.waterline_tail) ||
            fabs(t->test.waterline_tail - t->test.waterline_nose) > steepest * length) {
            continue; /* the card still has its numbers */
        }
        const char *change = measure_mass(drawing->arena, fabs(t->change), drawing->units);
        const char *name =
            arena_printf(drawing->arena, "%s%s in %sbore %d", t->change < 0.0 ? "−" : "+", change,
                         ballast->fills[t->bore].axis.pair ? "each " : "", t->bore + 1);
        levels[n++] = (struct level){t->test.waterline_nose, t->test.waterline_tail, name, &trial};
    }
    return n;
}

/* Where a line ends on paper, a little beyond the nose or the tail. */
static struct svg_point end_of(const struct drawing *drawing, const struct view *view,
                               const struct level *level, bool nose) {
    double out = beyond / view->scale, length = drawing->outline->length;
    double rise = (level->tail - level->nose) / length;
    return nose ? view_point(view, -out, level->nose - out * rise)
                : view_point(view, length + out, level->tail + out * rise);
}

/* Labels of all lines at one end, the highest first, spread, with a leader from each line's end. */
static void end_labels(struct drawing *drawing, struct svg *svg, const struct view *view,
                       const struct level *levels, int count, bool nose, double low, double high) {
    int order[LINES];
    double places[LINES], ends[LINES];
    for (int i = 0; i < count; i++) {
        double y = end_of(drawing, view, &levels[i], nose).y;
        int k = i;
        for (; k > 0 && ends[k - 1] > y; k--) {
            order[k] = order[k - 1];
            ends[k] = ends[k - 1];
        }
        order[k] = i;
        ends[k] = y;
    }
    for (int i = 0; i < count; i++) places[i] = ends[i];
    part_spread(places, count, label_gap, low, high);
    double x = nose ? nose_label : tail_label;
    for (int i = 0; i < count; i++) {
        const struct level *level = &levels[order[i]];
        struct svg_font font =
            font_at(level->pen == &trial ? &font_plain : &font_bold, nose ? SVG_END : SVG_START);
        svg_group(svg, &pen_thin);
        svg_line(svg, end_of(drawing, view, level, nose).x, ends[i], nose ? x + 1.0 : x - 1.0,
                 places[i]);
        svg_group_end(svg);
        svg_text(
            svg, x, places[i] + 1.1, &font,
            measure_length_short(drawing->arena, nose ? level->nose : level->tail, drawing->units));
        if (!nose) svg_text(svg, name_label, places[i] + 1.1, &font, level->name);
    }
}

static void draw_level(struct drawing *drawing, struct svg *svg, const struct view *view,
                       const struct level *level) {
    struct svg_point nose = end_of(drawing, view, level, true);
    struct svg_point tail = end_of(drawing, view, level, false);
    svg_group(svg, level->pen);
    svg_line(svg, nose.x, nose.y, tail.x, tail.y);
    svg_group_end(svg);
}

static void water_below(struct drawing *drawing, struct svg *svg, const struct view *view,
                        const struct level *level, double bottom) {
    struct svg_point nose = end_of(drawing, view, level, true);
    struct svg_point tail = end_of(drawing, view, level, false);
    struct svg_point corners[4] = {nose, tail, {tail.x, bottom}, {nose.x, bottom}};
    svg_group(svg, &pen_water);
    svg_polygon(svg, corners, 4);
    svg_group_end(svg);
}

/* Datum, and where the heights are taken. */
static void uprights(const struct drawing *drawing, struct svg *svg, const struct view *view,
                     double bottom) {
    double end = view_x(view, drawing->outline->length);
    svg_group(svg, &pen_centre);
    svg_line(svg, view->x - beyond, view->y, end + beyond, view->y);
    svg_group_end(svg);
    svg_group(svg, &pen_thin);
    svg_line(svg, view->x, lines_top, view->x, bottom);
    svg_line(svg, end, lines_top, end, bottom);
    svg_group_end(svg);
}

static struct extent extent_of(const struct drawing *drawing, const struct level *levels,
                               int count) {
    struct extent extent = part_extent(drawing);
    for (int i = 0; i < count; i++) {
        double rise = 0.1 * (levels[i].tail - levels[i].nose); /* over what stands beyond */
        extent_add(&extent, 0.0, levels[i].nose - rise);
        extent_add(&extent, 0.0, levels[i].tail + rise);
    }
    return extent;
}

void draw_float_test(struct drawing *drawing) {
    const struct condition *test = &drawing->results->test;
    if (!test->waterline_given ||
        !part_waterline_near(drawing, test->waterline_nose, test->waterline_tail)) {
        return;
    }
    struct level levels[LINES];
    int count = levels_of(drawing, levels);
    struct extent extent = extent_of(drawing, levels, count);
    double length = drawing->outline->length, high = extent.top - extent.bottom;
    double scale = fmin(picture / length, 32.0 / high);
    double tall = fmax(scale * high, label_gap * count);
    struct view view = {picture_left + (picture - scale * length) / 2.0,
                        lines_top + scale * extent.top, scale, 0.0};
    double bottom = lines_top + tall + 3.0;
    struct svg svg;
    const char *title =
        arena_printf(drawing->arena,
                     "Waterline of the float test: %s above the datum at the nose, %s at the tail",
                     measure_length(drawing->arena, levels[0].nose, drawing->units),
                     measure_length(drawing->arena, levels[0].tail, drawing->units));
    part_begin(drawing, &svg, FIGURE_FLOAT, "float.svg", title, page_width, bottom + 6.0, 0);
    water_below(drawing, &svg, &view, &levels[0], bottom);
    part_side_body(drawing, &svg, &view, 0);
    uprights(drawing, &svg, &view, bottom);
    for (int i = count - 1; i >= 0; i--) draw_level(drawing, &svg, &view, &levels[i]);
    end_labels(drawing, &svg, &view, levels, count, true, lines_top, bottom - 3.0);
    end_labels(drawing, &svg, &view, levels, count, false, lines_top, bottom - 3.0);
    svg_text(&svg, 0.0, 4.0, &font_small, "at the nose");
    svg_text(&svg, tail_label, 4.0, &font_small, "at the tail");
    svg_text(&svg, 0.0, bottom + 4.0, &font_small,
             arena_printf(drawing->arena, "heights of the water above the datum (chain line), %s",
                          measure_length_unit(drawing->units)));
    part_end(drawing, &svg);
}
