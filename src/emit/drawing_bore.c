/* Every ballast bore cut across: the section of the body there, the load at the inner end, the
 * filler over it, and the numbers to drill by.
 */
#include "emit/drawing_part.h"

#include <math.h>

#include "model/reference.h"

enum { CELLS = 4, WORD_LINES = 5 };

static const double cell = 45.0, section_width = 24.0, section_height = 44.0;

/* Height of the section's lower edge at a distance from the middle. */
static double lower_edge(const struct section *section, double aside) {
    double a = section->half_width, h = section->half_height;
    if (section->shape == SECTION_OVAL) {
        return section->centre - h * sqrt(fmax(0.0, 1.0 - aside * aside / (a * a)));
    }
    double r = fmin(section->radius, fmin(a, h)), over = fmax(0.0, aside - (a - r));
    return section->centre - h + r - sqrt(fmax(0.0, r * r - over * over));
}

/* The bore between two heights, or down to the wood's edge where `low` is under it. */
static void part_of_bore(struct svg_point corners[4], const struct view *view, double radius,
                         double low, double high, double edge) {
    corners[0] = view_point(view, -radius, fmin(fmax(low, edge), high));
    corners[1] = view_point(view, -radius, high);
    corners[2] = view_point(view, radius, high);
    corners[3] = view_point(view, radius, fmin(fmax(low, edge), high));
}

static void bore_in_section(struct svg *svg, const struct view *view, const struct section *section,
                            const struct bore_fill *fill) {
    struct svg_point outline[SECTION_POINTS], whole[4], slug[4], filler[4];
    double radius = fill->drill / 2.0, end = fill->mouth_z + fill->depth;
    double edge = lower_edge(section, fmin(radius, section->half_width));
    part_section_points(outline, section, view->x, view->y, view->scale);
    part_of_bore(whole, view, radius, -INFINITY, end, edge);
    part_of_bore(slug, view, radius, end - fill->slug, end, edge);
    part_of_bore(filler, view, radius, -INFINITY, end - fill->slug, edge);
    svg_group(svg, &(struct svg_style){.stroke = "#999", .width = 0.12});
    svg_hatch(svg, outline, SECTION_POINTS, 45.0, 1.5);
    svg_group_end(svg);
    svg_group(svg, &pen_face);
    svg_polygon(svg, whole, 4);
    if (fill->slug > 0.0) svg_polygon(svg, slug, 4);
    svg_group_end(svg);
    svg_group(svg, &(struct svg_style){.stroke = "#000", .width = 0.16});
    if (fill->slug > 0.0) svg_hatch(svg, slug, 4, 45.0, 0.6);
    if (fill->filler > 0.0) svg_hatch(svg, filler, 4, -45.0, 1.6);
    svg_group_end(svg);
    svg_group(svg, &pen_outline);
    part_section_outline(svg, section, view->x, view->y, view->scale);
    svg_group_end(svg);
}

static void bore_words(struct draft *draft, struct svg *svg, int index, double x, double y) {
    struct arena *arena = draft->arena;
    const struct bore_fill *fill = &draft->results->ballast.fills[index];
    const char *metal = reference_metal[draft->recipe->ballast->material].name;
    const char *lines[WORD_LINES] = {
        arena_printf(arena, "drill %s", measure_length_bare(arena, fill->drill, draft->units)),
        arena_printf(arena, "%s deep", measure_length_bare(arena, fill->depth, draft->units)),
        arena_printf(arena, "load %s %s", measure_mass(arena, fill->load, draft->units), metal),
        arena_printf(arena, "stands %s high", measure_length_bare(arena, fill->slug, draft->units)),
        arena_printf(
            arena, "thinnest wall %s",
            measure_length_bare(arena, draft->results->ballast.wall[index], draft->units))};
    for (int i = 0; i < WORD_LINES; i++) {
        svg_text(svg, x, y + 4.3 * i, &font_plain,
                 svg_text_fit(arena, lines[i], &font_plain, cell - 1.0));
    }
}

static void one_bore(struct draft *draft, struct svg *svg, int index, double left, double top,
                     double scale, double tall) {
    const struct bore_fill *fill = &draft->results->ballast.fills[index];
    struct section section = section_at(draft->outline, fill->at, 0.0);
    double x = left + 17.0;
    struct view view = {x, top + 8.0 + scale * (section.centre + section.half_height), scale, 0.0};
    double high = view_y(&view, section.centre + section.half_height);
    double low = view_y(&view, section.centre - section.half_height);
    svg_text(svg, left, top + 3.0, &font_bold,
             arena_printf(draft->arena, "bore %d at %s", index + 1,
                          measure_length_bare(draft->arena, fill->at, draft->units)));
    bore_in_section(svg, &view, &section, fill);
    svg_group(svg, &pen_centre);
    svg_line(svg, x, high - 2.5, x, low + 3.0);
    svg_line(svg, x - scale * section.half_width - 2.5, view.y,
             x + scale * section.half_width + 2.5, view.y);
    svg_group_end(svg);
    part_dim_up(svg, x + scale * section.half_width + 5.0, view_y(&view, fill->mouth_z),
                view_y(&view, fill->mouth_z + fill->depth),
                measure_length_short(draft->arena, fill->depth, draft->units));
    bore_words(draft, svg, index, left, top + 8.0 + tall + 9.0);
}

/* How far the line of bores may stand off the middle for a lean of two degrees: the tangent of the
 * lean grows evenly with it. */
static const char *middle_note(struct draft *draft) {
    static const double two_degrees = 2.0 * 3.14159265358979323846 / 180.0, step = 1e-3;
    const struct condition *c = &draft->results->finished;
    if (!c->lean_given || c->ballast_mass <= 0.0) return "Keep the bores on the middle line.";
    double most = step * tan(two_degrees) / tan(condition_lean(c, c->ballast_mass, step));
    return arena_printf(
        draft->arena, "Keep the bores within %s of the middle: that far aside, the plug leans 2°.",
        measure_length(draft->arena, most, draft->units));
}

void draw_bores(struct draft *draft) {
    const struct ballast_result *ballast = &draft->results->ballast;
    if (ballast->bore_count == 0) return;
    double wide = 0.0, high = 0.0;
    for (int i = 0; i < ballast->bore_count; i++) {
        struct section section = section_at(draft->outline, ballast->fills[i].at, 0.0);
        wide = fmax(wide, 2.0 * section.half_width);
        high = fmax(high, 2.0 * section.half_height);
    }
    double scale = part_scale(fmin(section_width / wide, section_height / high));
    double tall = scale * high, row = tall + 42.0;
    int rows = (ballast->bore_count + CELLS - 1) / CELLS;
    struct svg svg;
    part_begin(draft, &svg, FIGURE_BORES, "bores.svg",
               arena_printf(draft->arena, "The ballast bores cut across, to scale %s",
                            part_scale_name(scale)),
               page_width, rows * row + 5.0, 0);
    for (int i = 0; i < ballast->bore_count; i++) {
        int down = i / CELLS;
        one_bore(draft, &svg, i, cell * (i % CELLS), row * down, scale, tall);
    }
    svg_text(&svg, 0.0, rows * row + 2.0, &font_plain, middle_note(draft));
    struct svg_font right = font_at(&font_small, SVG_END);
    svg_text(&svg, page_width, rows * row + 2.0, &right,
             arena_printf(draft->arena, "%s, scale %s", measure_length_unit(draft->units),
                          part_scale_name(scale)));
    part_end(draft, &svg);
}
