/* The plan as a drawing. */
#include <math.h>

#include "emit/plan/inner.h"
#include "emit/write/measure.h"
#include "emit/write/svg.h"

static const double sheet_width = 180, lane_left = 46, lane_height = 8, lanes_top = 12;

static double place(const struct plan_view *v, int64_t seconds) {
    double all = fmax((double)v->plan->all.makespan, 1);
    return lane_left + (sheet_width - lane_left) * (double)seconds / all;
}

static void day_lines(struct svg *svg, const struct plan_view *v, double bottom) {
    enum { MOST_LINES = 8 };
    static const struct svg_font font = {.size = 2.6};
    const struct moment *start = &v->recipes[0]->shop->start;
    int64_t back = plan_dated(v) ? start->hour * 3600 + start->minute * 60 : 0;
    int64_t days = (v->plan->all.makespan + back) / SECONDS_OF_DAY + 1;
    int64_t every = (days + MOST_LINES - 1) / MOST_LINES;
    for (int64_t day = 0; day < days; day += every) {
        int64_t seconds = day * SECONDS_OF_DAY - back;
        if (seconds < 0) seconds = 0;
        double x = place(v, seconds);
        svg_group(svg, &(struct svg_style){.stroke = "#888", .width = 0.13});
        svg_line(svg, x, lanes_top - 3, x, bottom);
        svg_group_end(svg);
        const char *label = plan_dated(v) ? measure_date(v->arena, moment_after(*start, seconds))
                                          : plan_when(v, seconds);
        if (x < sheet_width - 12 && (day == 0 || x > lane_left + 10))
            svg_text(svg, x, lanes_top - 4, &font, label);
    }
}

/* Waits pale, work with the hands solid, the due date a thick line. */
static void lane(struct svg *svg, const struct plan_view *v, int number, double y) {
    static const struct svg_font font = {.size = 3};
    const struct run *run = &v->plan->runs[number];
    struct str name = plan_recipe(v, number)->name;
    const char *text = arena_copy(v->arena, name.data, name.size);
    svg_text(svg, 0, y + 5, &font, svg_text_fit(v->arena, text, &font, lane_left - 2));
    svg_group(svg, &(struct svg_style){.fill = "#ccc"});
    for (int i = 0; i < run->count; i++) {
        double from = place(v, run->steps[i].work_end), to = place(v, run->steps[i].end);
        if (to > from) svg_rect(svg, from, y + 3, to - from, 2, 0);
    }
    svg_group_end(svg);
    svg_group(svg, &(struct svg_style){.fill = "#000"});
    for (int i = 0; i < run->stint_count; i++) {
        double from = place(v, run->stints[i].from), to = place(v, run->stints[i].to);
        svg_rect(svg, from, y + 1.5, fmax(to - from, 0.3), 5, 0);
    }
    svg_group_end(svg);
    int64_t due = plan_lot(v, number) ? -1 : v->plan->due[number];
    if (due < 0 || due > v->plan->all.makespan) return;
    svg_group(svg, &(struct svg_style){.stroke = "#000", .width = 0.6, .dash = "1 0.6"});
    svg_line(svg, place(v, due), y, place(v, due), y + lane_height);
    svg_group_end(svg);
}

/* Lots first: what they are worked into goes on below. */
struct buf plan_timeline(const struct plan_view *v) {
    static const struct svg_font font = {.size = 2.6};
    struct svg svg;
    int lanes = v->count + v->plan->lots.count;
    double bottom = lanes_top + lanes * lane_height;
    svg_begin(&svg, v->arena, "plan", "When each run is worked on and when it waits", sheet_width,
              bottom + 7);
    day_lines(&svg, v, bottom);
    for (int k = 0; k < lanes; k++)
        lane(&svg, v, (v->count + k) % lanes, lanes_top + k * lane_height);
    svg_text(&svg, 0, bottom + 5, &font,
             "black: hands-on; grey: unattended wait; broken line: the end of the day it is due");
    svg_end(&svg);
    return svg.out;
}
