/* Labels and dimensions.  Places are spread by pooling adjacent violators: after taking i times the
 * gap from the i-th place the task is least-squares monotone regression (Barlow and others, 1972),
 * and a run of places that would overlap moves as one block about its mean.
 */
#include "emit/drawing/inner.h"

#include <math.h>
#include <stdlib.h>

void part_spread(double *places, int count, double gap, double low, double high) {
    if (count <= 0) return;
    if (count > 1) gap = fmin(gap, fmax(high - low, 0.0) / (count - 1));
    double mean[MAX_STATIONS + MAX_STEPS];
    int size[MAX_STATIONS + MAX_STEPS], blocks = 0;
    if (count > (int)(sizeof mean / sizeof *mean)) return;

    for (int i = 0; i < count; i++) {
        mean[blocks] = places[i] - i * gap;
        size[blocks++] = 1;
        for (; blocks > 1 && mean[blocks - 2] > mean[blocks - 1]; blocks--) {
            int all = size[blocks - 2] + size[blocks - 1];
            mean[blocks - 2] =
                (mean[blocks - 2] * size[blocks - 2] + mean[blocks - 1] * size[blocks - 1]) / all;
            size[blocks - 2] = all;
        }
    }
    double last = high - (count - 1) * gap;
    for (int block = 0, i = 0; block < blocks; block++) {
        double base = fmax(low, fmin(last, mean[block]));
        for (int end = i + size[block]; i < end; i++) places[i] = base + i * gap;
    }
}

void part_cross(struct svg *svg, struct svg_point at, double arm) {
    svg_line(svg, at.x - arm, at.y, at.x + arm, at.y);
    svg_line(svg, at.x, at.y - arm, at.x, at.y + arm);
}

static void tick(struct svg *svg, double x, double y) {
    svg_line(svg, x - 0.8, y + 0.8, x + 0.8, y - 0.8);
}

/* A narrow dimension has its text to the right of it. */
void part_dim_across(struct svg *svg, double x1, double x2, double y, const char *text) {
    svg_group(svg, &pen_thin);
    svg_line(svg, x1, y, x2, y);
    svg_group_end(svg);
    svg_group(svg, &pen_detail);
    tick(svg, x1, y);
    tick(svg, x2, y);
    svg_group_end(svg);
    bool narrow = svg_text_width(text, &font_plain) > fabs(x2 - x1) - 2.0;
    struct svg_font font = font_at(&font_plain, narrow ? SVG_START : SVG_MIDDLE);
    if (narrow)
        svg_text(svg, fmax(x1, x2) + 1.6, y + 1.1, &font, text);
    else
        svg_text(svg, (x1 + x2) / 2.0, y - 0.9, &font, text);
}

void part_dim_up(struct svg *svg, double x, double y1, double y2, const char *text) {
    svg_group(svg, &pen_thin);
    svg_line(svg, x, y1, x, y2);
    svg_group_end(svg);
    svg_group(svg, &pen_detail);
    tick(svg, x, y1);
    tick(svg, x, y2);
    svg_group_end(svg);
    bool narrow = svg_text_width(text, &font_plain) > fabs(y2 - y1) - 2.0;
    struct svg_font font = narrow ? font_plain : font_turned(&font_plain, SVG_MIDDLE, -90.0);
    if (narrow)
        svg_text(svg, x + 1.4, (y1 + y2) / 2.0 + 1.1, &font, text);
    else
        svg_text(svg, x - 0.9, (y1 + y2) / 2.0, &font, text);
}

void part_scale_bar(struct svg *svg, double x, double y, double block, int blocks,
                    const char *text) {
    double from = x + 0.1;
    svg_group(svg, &(struct svg_style){.stroke = "#000", .width = 0.2});
    svg_rect(svg, from, y, block * blocks, 2.4, 0.0);
    svg_line(svg, from, y - 1.6, from, y + 4.0);
    svg_line(svg, from + block * blocks, y - 1.6, from + block * blocks, y + 4.0);
    svg_group_end(svg);
    svg_group(svg, &pen_solid);
    for (int i = 0; i < blocks; i += 2) svg_rect(svg, from + i * block, y, block, 2.4, 0.0);
    svg_group_end(svg);
    svg_text(svg, x + block * blocks + 3.0, y + 2.4, &font_bold, text);
}

/* --- ladders -------------------------------------------------------------------------------- */

/* A label is two turned lines under a number, or where sizes stand elsewhere the name beside the
 * number; `leader` is the height of the slanting part. */
static const double rung_gap = 8.6, leader = 5.0, line_gap = 3.8;

static int by_place(const void *left, const void *right) {
    const struct rung *a = left, *b = right;
    return (a->at > b->at) - (a->at < b->at);
}

static double widest_number(const struct rung *rungs, int count) {
    double widest = 0.0;
    for (int i = 0; i < count; i++) {
        widest = fmax(widest, svg_text_width(rungs[i].number, &font_bold));
    }
    return widest;
}

static bool any_size(const struct rung *rungs, int count) {
    for (int i = 0; i < count; i++)
        if (rungs[i].size) return true;
    return false;
}

double part_ladder_height(const struct rung *rungs, int count) {
    double longest = 0.0, number = widest_number(rungs, count);
    for (int i = 0; i < count; i++) {
        longest = fmax(longest, svg_text_width(rungs[i].name, &font_plain));
        if (rungs[i].size) longest = fmax(longest, svg_text_width(rungs[i].size, &font_plain));
    }
    if (!count) return 0.0;
    return leader + 1.0 + (any_size(rungs, count) ? number + 2.5 + longest : fmax(number, longest));
}

static void leaders(struct svg *svg, const struct rung *rungs, const double *places, int count,
                    double y) {
    svg_group(svg, &pen_thin);
    for (int i = 0; i < count; i++) {
        svg_path(svg);
        svg_move(svg, rungs[i].at, rungs[i].from);
        svg_to(svg, rungs[i].at, y);
        svg_to(svg, places[i], y + leader);
        svg_path_end(svg);
    }
    svg_group_end(svg);
}

void part_ladder(struct svg *svg, struct rung *rungs, int count, double y, double low,
                 double high) {
    enum { MOST = 64 };
    double places[MOST];
    if (count <= 0 || count > MOST) return;
    qsort(rungs, (size_t)count, sizeof *rungs, by_place);
    for (int i = 0; i < count; i++) places[i] = rungs[i].at;
    part_spread(places, count, rung_gap, low, high);
    leaders(svg, rungs, places, count, y);

    /* Turned to be read from the right: the number ends at the leader, the words below or beside.
     */
    bool sized = any_size(rungs, count);
    double top = y + leader + 1.0, words = sized ? top + widest_number(rungs, count) + 2.5 : top;
    struct svg_font number = font_turned(&font_bold, SVG_END, -90.0);
    struct svg_font text = font_turned(&font_plain, SVG_END, -90.0);
    for (int i = 0; i < count; i++) {
        double middle = places[i] + 1.1, left = middle - line_gap / 2.0;
        svg_text(svg, sized ? middle : left + line_gap, top, &number, rungs[i].number);
        svg_text(svg, sized && !rungs[i].size ? middle : left, words, &text, rungs[i].name);
        if (rungs[i].size) svg_text(svg, left + line_gap, words, &text, rungs[i].size);
    }
}
