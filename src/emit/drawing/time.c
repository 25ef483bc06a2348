/* The run as a bar chart: one row an operation, its loads side by side in it.  Hands-on work is
 * solid, an unattended wait hatched, a recoat window a bracket; operations on the critical path of
 * one plug have a wedge.  Opening hours are a pale ground.
 */
#include "emit/drawing/inner.h"
#include "emit/words/words.h"

#include <math.h>
#include <string.h>

static const double title_width = 57.0, start_at = 86.0, chart_left = 88.0, chart_right = 180.0;
static const double head = 19.0, foot = 9.0;
static const double least_row = 3.5, most_row = 3.7;

enum { SHADED_DAYS = 100, MOST_ROWS = 46 };

struct chart {
    const struct run *run;
    int *rows; /* operation of each row */
    int row_count;
    int first, last; /* rows on this sheet, last excluded */
    double row_height, top, bottom;
    bool dated;
};

static double place(const struct chart *chart, double seconds) {
    double span = fmax((double)chart->run->makespan, 1.0);
    return chart_left + (chart_right - chart_left) * fmax(0.0, fmin(1.0, seconds / span));
}

static double row_middle(const struct chart *chart, int row) {
    return chart->top + (row - chart->first + 0.5) * chart->row_height;
}

/* The operations that take time, by their first start. */
static int rows_of(struct drawing *drawing, int *rows) {
    const struct run *run = &drawing->results->run;
    bool *seen = NEW(drawing->arena, bool, drawing->results->run.route.count + 1);
    int count = 0;
    for (int i = 0; i < run->count; i++) {
        const struct run_step *step = &run->steps[i];
        if (seen[step->operation] || step->end <= step->start) continue;
        seen[step->operation] = true;
        rows[count++] = step->operation;
    }
    return count;
}

/* --- the ground: days and opening hours ----------------------------------------------------- */

/* Seconds from the start of the run back to the midnight before it; 0 without a date. */
static int64_t since_midnight(const struct drawing *drawing) {
    const struct moment *start = &drawing->recipe->shop->start;
    return start->given ? start->hour * 3600 + start->minute * 60 : 0;
}

/* Opening hours of a longer run would blur into grey. */
static bool is_shaded(const struct drawing *drawing) {
    const struct run *run = &drawing->results->run;
    return run->hours.count && run->makespan < (int64_t)SHADED_DAYS * SECONDS_OF_DAY;
}

static void opening_hours(struct drawing *drawing, struct svg *svg, const struct chart *chart) {
    if (!is_shaded(drawing)) return;
    svg_group(svg, &(struct svg_style){.fill = "#ececec"});
    for (int64_t tick = 0; tick < chart->run->makespan;) {
        struct period opening = hours_period_after(&chart->run->hours, tick);
        double x = place(chart, (double)opening.from), end = place(chart, (double)opening.to);
        if (end > x) svg_rect(svg, x, chart->top, end - x, chart->bottom - chart->top, 0.0);
        tick = opening.to;
    }
    svg_group_end(svg);
}

/* What stands over the line of a day: weekday and date, or the hour since the run began. */
static void day_label(struct drawing *drawing, struct svg *svg, const struct chart *chart, double x,
                      int64_t seconds) {
    if (!chart->dated) {
        svg_text(svg, x + 0.8, chart->top - 1.4, &font_small,
                 arena_printf(drawing->arena, "hour %d", (int)(seconds / 3600)));
        return;
    }
    const char *date =
        measure_date(drawing->arena, moment_after(drawing->recipe->shop->start, seconds));
    const char *day = strchr(date, ' ');
    svg_text(svg, x + 0.8, chart->top - 5.0, &font_small,
             arena_copy(drawing->arena, date, (size_t)(day - date)));
    svg_text(svg, x + 0.8, chart->top - 1.6, &font_small, day + 1);
}

static void day_lines(struct drawing *drawing, struct svg *svg, const struct chart *chart) {
    int64_t back = chart->dated ? since_midnight(drawing) : 0;
    int days = (int)((chart->run->makespan + back) / SECONDS_OF_DAY) + 1;
    double width =
        (chart_right - chart_left) * SECONDS_OF_DAY / fmax((double)chart->run->makespan, 1.0);
    int every = (int)ceil(12.0 / fmax(width, 1e-3)), lines = width < 4.0 ? every : 1;
    for (int day = 0; day < days; day += lines) {
        double seconds = (double)((int64_t)day * SECONDS_OF_DAY - back);
        double x = place(chart, fmax(seconds, 0.0));
        svg_group(svg, &(struct svg_style){.stroke = "#888", .width = 0.13});
        svg_line(svg, x, chart->top - ((day % every) ? 0.0 : 7.5), x, chart->bottom);
        svg_group_end(svg);
        double next = place(chart, (double)((int64_t)(day + every) * SECONDS_OF_DAY - back));
        bool crowded = day == 0 && next - x < 11.0; /* a run that begins late in the day */
        if (day % every || crowded || x > chart_right - 9.0) continue;
        day_label(drawing, svg, chart, x, (int64_t)fmax(seconds, 0.0));
    }
}

/* --- bars ----------------------------------------------------------------------------------- */

/* Solid for each stint, with a thin line over the hours between, when the shop is closed. */
static void work_bar(struct svg *svg, const struct chart *chart, int step, double y) {
    const struct run *run = chart->run;
    double half = 0.3 * chart->row_height;
    double start = place(chart, (double)run->steps[step].start);
    double end = place(chart, (double)run->steps[step].work_end);
    svg_group(svg, &pen_solid);
    svg_rect(svg, start, y - 0.1, end - start, 0.2, 0.0);
    for (int i = 0; i < run->stint_count; i++) {
        const struct stint *stint = &run->stints[i];
        if (stint->step != step) continue;
        double x = fmin(place(chart, (double)stint->from), chart_right - 0.5);
        double width = place(chart, (double)stint->to) - x;
        svg_rect(svg, x, y - half, fmax(width, 0.5), 2.0 * half, 0.0);
    }
    svg_group_end(svg);
}

static void wait_bar(struct drawing *drawing, struct svg *svg, const struct chart *chart,
                     const struct run_step *step, double y) {
    static const struct svg_style edge = {.fill = "#fff", .stroke = "#000", .width = 0.15};
    static const struct svg_style lines = {.stroke = "#000", .width = 0.13};
    double x = place(chart, (double)step->work_end), end = place(chart, (double)step->end);
    double half = 0.22 * chart->row_height;
    if (end - x < 0.15) return;
    struct svg_point corners[4] = {{x, y - half}, {end, y - half}, {end, y + half}, {x, y + half}};
    svg_group(svg, &edge);
    svg_polygon(svg, corners, 4);
    svg_group_end(svg);
    svg_group(svg, &lines);
    svg_hatch(svg, corners, 4, 45.0, 0.9);
    svg_group_end(svg);
    if (!step->load || end - x < 8.0) return;
    struct svg_font font = {.size = 2.8, .anchor = SVG_MIDDLE};
    double middle = (x + end) / 2.0;
    svg_group(svg, &(struct svg_style){.fill = "#fff"});
    svg_rect(svg, middle - 2.2, y - 1.5, 4.4, 3.0, 0.0);
    svg_group_end(svg);
    svg_text(svg, middle, y + 1.0, &font, arena_printf(drawing->arena, "%d", step->load));
}

/* When the window of a step opens: the end of the coat before it, on the same load. */
static double window_opens(const struct drawing *drawing, const struct run_step *step) {
    const struct route *route = &drawing->results->run.route;
    const struct run *run = &drawing->results->run;
    for (int i = 0; i < route->link_count; i++) {
        const struct precedence *link = &route->links[i];
        if (link->after != step->operation || !(link->within > 0.0)) continue;
        for (int k = 0; k < run->count; k++) {
            const struct run_step *coat = &run->steps[k];
            if (coat->operation == link->before && coat->load == step->load) {
                return (double)coat->end;
            }
        }
    }
    return (double)step->start;
}

static void window_bracket(struct drawing *drawing, struct svg *svg, const struct chart *chart,
                           const struct run_step *step, double y) {
    double from = place(chart, window_opens(drawing, step));
    double to = place(chart, (double)step->latest), over = y - 0.44 * chart->row_height;
    svg_group(svg, &(struct svg_style){.stroke = "#000", .width = 0.3});
    svg_path(svg);
    svg_move(svg, from, over + 1.6);
    svg_to(svg, from, over);
    svg_to(svg, to, over);
    svg_to(svg, to, over + 1.6);
    svg_path_end(svg);
    svg_group_end(svg);
}

static void bars(struct drawing *drawing, struct svg *svg, const struct chart *chart) {
    const struct run *run = chart->run;
    for (int row = chart->first; row < chart->last; row++) {
        double y = row_middle(chart, row);
        for (int i = 0; i < run->count; i++) {
            const struct run_step *step = &run->steps[i];
            if (step->operation != chart->rows[row]) continue;
            wait_bar(drawing, svg, chart, step, y);
            if (step->work_end > step->start) work_bar(svg, chart, i, y);
            if (step->latest >= 0) window_bracket(drawing, svg, chart, step, y);
        }
    }
}

/* --- words ---------------------------------------------------------------------------------- */

static const struct run_step *first_step(const struct run *run, int operation) {
    for (int i = 0; i < run->count; i++) {
        if (run->steps[i].operation == operation) return &run->steps[i];
    }
    return &run->steps[0];
}

static const char *start_of(struct drawing *drawing, const struct chart *chart, int64_t start) {
    if (!chart->dated) return measure_hour(drawing->arena, (double)start);
    struct moment moment = moment_after(drawing->recipe->shop->start, start);
    const char *clock = measure_clock(drawing->arena, moment);
    return arena_printf(drawing->arena, "%s, %s", measure_date(drawing->arena, moment), clock);
}

static void row_words(struct drawing *drawing, struct svg *svg, const struct chart *chart) {
    const struct route *route = &drawing->results->run.route;
    struct svg_font right = font_at(&font_small, SVG_END);
    for (int row = chart->first; row < chart->last; row++) {
        int operation = chart->rows[row];
        double y = row_middle(chart, row);
        bool critical = drawing->results->times && drawing->results->times[operation].critical;
        if (critical) {
            struct svg_point wedge[3] = {{0.0, y - 1.2}, {2.0, y}, {0.0, y + 1.2}};
            svg_group(svg, &pen_solid);
            svg_polygon(svg, wedge, 3);
            svg_group_end(svg);
        }
        svg_text(svg, 3.2, y + 1.1, &font_plain,
                 svg_text_fit(
                     drawing->arena,
                     words_title(drawing->arena, drawing->recipe, &route->operations[operation]),
                     &font_plain, title_width));
        svg_text(svg, start_at, y + 1.1, &right,
                 start_of(drawing, chart, first_step(chart->run, operation)->start));
    }
    svg_group(svg, &(struct svg_style){.stroke = "#ccc", .width = 0.1});
    for (int row = chart->first; row <= chart->last; row++) {
        double y = chart->top + (row - chart->first) * chart->row_height;
        svg_line(svg, 0.0, y, chart_right, y);
    }
    svg_group_end(svg);
}

static void chart_head(struct drawing *drawing, struct svg *svg, const struct chart *chart) {
    const struct run *run = chart->run;
    const char *plugs = drawing->recipe->make == 1
                            ? "1 plug"
                            : arena_printf(drawing->arena, "%d plugs", drawing->recipe->make);
    svg_text(svg, 0.0, 4.0, &font_head,
             arena_printf(drawing->arena, "%s: %s from start to end, %s hands-on", plugs,
                          measure_time(drawing->arena, (double)run->makespan),
                          measure_time(drawing->arena, (double)run->hands_on)));
    struct svg_font right = font_at(&font_small, SVG_END);
    svg_text(svg, start_at, chart->top - 1.6, &right, chart->dated ? "begins" : "begins, hour");
}

/* The last line: what the signs mean, each drawn as it is in the chart. */
static void legend(struct drawing *drawing, struct svg *svg, double y) {
    struct svg_point box[4] = {{27.0, y - 2.2}, {34.0, y - 2.2}, {34.0, y + 0.2}, {27.0, y + 0.2}};
    struct svg_point wedge[3] = {{113.0, y - 2.2}, {115.0, y - 1.0}, {113.0, y + 0.2}};
    svg_group(svg, &pen_solid);
    svg_rect(svg, 0.0, y - 2.4, 7.0, 2.8, 0.0);
    svg_polygon(svg, wedge, 3);
    svg_group_end(svg);
    svg_group(svg, &(struct svg_style){.stroke = "#000", .width = 0.13});
    svg_polygon(svg, box, 4);
    svg_hatch(svg, box, 4, 45.0, 0.9);
    svg_group_end(svg);
    svg_group(svg, &(struct svg_style){.stroke = "#000", .width = 0.3});
    svg_path(svg);
    svg_move(svg, 73.0, y - 0.4);
    svg_to(svg, 73.0, y - 2.0);
    svg_to(svg, 80.0, y - 2.0);
    svg_to(svg, 80.0, y - 0.4);
    svg_path_end(svg);
    svg_group_end(svg);
    svg_text(svg, 9.0, y, &font_small, "hands-on");
    svg_text(svg, 36.0, y, &font_small, "unattended wait");
    svg_text(svg, 82.0, y, &font_small, "recoat window");
    svg_text(svg, 117.0, y, &font_small, "nothing to spare");
    if (!is_shaded(drawing)) return;
    svg_group(svg, &(struct svg_style){.fill = "#ececec"});
    svg_rect(svg, 148.0, y - 2.4, 7.0, 2.8, 0.0);
    svg_group_end(svg);
    svg_text(svg, 157.0, y, &font_small, "shop open");
}

static void draw_chart(struct drawing *drawing, struct chart *chart, int sheet, int sheets) {
    int rows = chart->last - chart->first;
    chart->row_height = fmax(least_row, fmin(most_row, (page_height - head - foot) / rows));
    chart->top = head;
    chart->bottom = head + rows * chart->row_height;
    const char *file =
        sheets == 1 ? "timeline.svg" : arena_printf(drawing->arena, "timeline-%d.svg", sheet + 1);
    const char *title = arena_printf(drawing->arena,
                                     "When each step of the run begins, lasts and "
                                     "waits, sheet %d of %d",
                                     sheet + 1, sheets);
    struct svg svg;
    part_begin(drawing, &svg, FIGURE_TIMELINE, file, title, page_width, chart->bottom + foot,
               sheet);
    chart_head(drawing, &svg, chart);
    opening_hours(drawing, &svg, chart);
    row_words(drawing, &svg, chart);
    day_lines(drawing, &svg, chart);
    bars(drawing, &svg, chart);
    legend(drawing, &svg, chart->bottom + 6.0);
    part_end(drawing, &svg);
}

void draw_timeline(struct drawing *drawing) {
    const struct run *run = &drawing->results->run;
    if (!run->feasible || run->count == 0) return;
    struct chart chart = {.run = run,
                          .rows = NEW(drawing->arena, int, drawing->results->run.route.count + 1),
                          .dated = drawing->recipe->shop->start.given};
    chart.row_count = rows_of(drawing, chart.rows);
    int sheets = (chart.row_count + MOST_ROWS - 1) / MOST_ROWS;
    for (int sheet = 0; sheet < sheets; sheet++) {
        chart.first = (int)((long)sheet * chart.row_count / sheets);
        chart.last = (int)((long)(sheet + 1) * chart.row_count / sheets);
        draw_chart(drawing, &chart, sheet, sheets);
    }
}
