/* Righting arms over heel, in the float test (dashed) and finished (bold).  The nineteen values are
 * joined by cubics with central differences as slopes, which round the crest as a cross curve is
 * drawn with a batten; where a curve falls to zero is marked.
 */
#include "emit/drawing/inner.h"

#include <math.h>

static const double width = 86.0, left = 14.0, right = 83.0, top = 7.0, height = 21.0;
static const double degree = 3.14159265358979323846 / 180.0;

/* Axes: heel in degrees to x, arm in `unit` to y. */
struct axes {
    double unit;            /* m */
    double low, high, step; /* of the arm, in units */
};

static double place_x(double degrees) {
    return left + (right - left) * degrees / 180.0;
}

static double place_y(const struct axes *axes, double arm) {
    return top + height * (axes->high - arm / axes->unit) / (axes->high - axes->low);
}

static struct axes axes_of(const struct drawing *drawing) {
    const struct righting *test = &drawing->results->test.righting;
    const struct righting *finished = &drawing->results->finished.righting;
    struct axes axes = {.unit = shown_form(SHOWN_LENGTH, drawing->units).unit->scale};
    for (int i = 0; i < RIGHTING_STEPS; i++) {
        axes.low = fmin(axes.low, fmin(test->arm[i], finished->arm[i]) / axes.unit);
        axes.high = fmax(axes.high, fmax(test->arm[i], finished->arm[i]) / axes.unit);
    }
    axes.step = part_step(fmax(axes.high - axes.low, 0.001));
    axes.low = axes.step * floor(axes.low / axes.step + 1e-9);
    axes.high = axes.step * ceil(axes.high / axes.step - 1e-9);
    return axes;
}

static void grid(struct svg *svg, const struct axes *axes) {
    int rows = (int)lround((axes->high - axes->low) / axes->step);
    svg_group(svg, &(struct svg_style){.stroke = "#bbb", .width = 0.13});
    for (int i = 0; i <= 180; i += 30) {
        svg_line(svg, place_x(i), top, place_x(i), top + height);
    }
    for (int i = 0; i <= rows; i++) {
        double y = place_y(axes, axes->unit * (axes->low + i * axes->step));
        svg_line(svg, left, y, right, y);
    }
    svg_group_end(svg);
    svg_group(svg, &pen_detail);
    svg_line(svg, left, place_y(axes, 0.0), right, place_y(axes, 0.0));
    svg_group_end(svg);
}

static void grid_numbers(struct drawing *drawing, struct svg *svg, const struct axes *axes) {
    int rows = (int)lround((axes->high - axes->low) / axes->step);
    struct svg_font across = font_at(&font_plain, SVG_MIDDLE), up = font_at(&font_plain, SVG_END);
    for (int i = 0; i <= 180; i += 30) {
        svg_text(svg, place_x(i), top + height + 4.6, &across,
                 measure_angle(drawing->arena, i * degree));
    }
    int decimals = (int)fmax(0.0, -floor(log10(axes->step) + 1e-9));
    for (int i = 0; i <= rows; i++) {
        double arm = axes->low + i * axes->step;
        svg_text(svg, left - 1.8, place_y(axes, axes->unit * arm) + 1.1, &up,
                 measure_number(drawing->arena, arm, decimals));
    }
    svg_text(svg, 0.0, 4.0, &font_small,
             arena_printf(drawing->arena, "righting arm, %s", measure_length_unit(drawing->units)));
    svg_text(svg, 0.0, top + height + 4.6, &font_small, "heel");
}

static void curve(struct svg *svg, const struct axes *axes, const struct righting *righting,
                  const struct svg_style *pen) {
    double x[RIGHTING_STEPS], y[RIGHTING_STEPS], slope[RIGHTING_STEPS];
    for (int i = 0; i < RIGHTING_STEPS; i++) {
        int before = i > 0 ? i - 1 : i, after = i + 1 < RIGHTING_STEPS ? i + 1 : i;
        x[i] = place_x(10.0 * i);
        y[i] = -place_y(axes, righting->arm[i]);
        slope[i] = (place_y(axes, righting->arm[before]) - place_y(axes, righting->arm[after])) /
                   (place_x(10.0 * after) - place_x(10.0 * before));
    }
    struct curve line = {RIGHTING_STEPS, x, y, slope};
    svg_group(svg, pen);
    part_curve(svg, &(struct view){.scale = 1.0}, &line, 1.0);
    svg_group_end(svg);
}

static void vanishing(struct drawing *drawing, struct svg *svg, const struct axes *axes,
                      const struct righting *righting, bool finished) {
    if (!righting->vanishes) return;
    double x = place_x(righting->vanishing / degree), y = place_y(axes, 0.0);
    svg_group(svg, &(struct svg_style){
                       .fill = finished ? "#000" : "#fff", .stroke = "#000", .width = 0.3});
    svg_circle(svg, x, y, 1.2);
    svg_group_end(svg);
    bool before = !finished || x > right - 20.0; /* the text, so that no curve runs through it */
    struct svg_font font =
        font_at(finished ? &font_bold : &font_plain, before ? SVG_END : SVG_START);
    svg_text(svg, x + (before ? -1.8 : 1.8), y + (finished ? -2.2 : 4.6), &font,
             measure_angle(drawing->arena, righting->vanishing));
}

static void legend(struct svg *svg, double x, const struct svg_style *pen, const char *text) {
    svg_group(svg, pen);
    svg_line(svg, x, 3.0, x + 9.0, 3.0);
    svg_group_end(svg);
    svg_text(svg, x + 10.5, 4.0, &font_plain, text);
}

static const char *in_words(struct drawing *drawing, const struct righting *righting) {
    if (!righting->vanishes) return "rights itself from any heel";
    return arena_printf(drawing->arena, "rights itself up to %s",
                        measure_angle(drawing->arena, righting->vanishing));
}

void draw_righting(struct drawing *drawing) {
    static const struct svg_style bold = {.stroke = "#000", .width = 0.6};
    static const struct svg_style dashed = {.stroke = "#000", .width = 0.4, .dash = "2.4 1.4"};
    const struct righting *test = &drawing->results->test.righting;
    const struct righting *finished = &drawing->results->finished.righting;
    struct axes axes = axes_of(drawing);
    const char *title = arena_printf(drawing->arena,
                                     "Righting arm over heel: finished, it %s; "
                                     "in the float test, it %s",
                                     in_words(drawing, finished), in_words(drawing, test));
    struct svg svg;
    part_begin(drawing, &svg, FIGURE_RIGHTING, "righting.svg", title, width, top + height + 6.0, 0);
    grid(&svg, &axes);
    grid_numbers(drawing, &svg, &axes);
    curve(&svg, &axes, test, &dashed);
    curve(&svg, &axes, finished, &bold);
    vanishing(drawing, &svg, &axes, test, false);
    vanishing(drawing, &svg, &axes, finished, true);
    legend(&svg, 28.0, &bold, "finished");
    legend(&svg, 56.0, &dashed, "float test");
    part_end(drawing, &svg);
}
