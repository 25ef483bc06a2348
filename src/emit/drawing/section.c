/* Sections in true size, each with a half gauge beside it: a card that is cut out along the right
 * half of the section and held against the plug while it is rounded.  Its straight edge then stands
 * over the middle of back and belly, its short line on the datum.  The widest sections get gauges,
 * as many as a builder will cut.
 *
 * A body that is too large for the paper has its sections drawn smaller, and no gauges.
 */
#include "emit/drawing/inner.h"

#include <math.h>
#include <stdlib.h>

enum { SECTIONS = 9, GAUGES = 6 };

static const double card_margin = 6.0, card_side = 9.5; /* of a gauge round its section */
static const double size_below = 7.0;                   /* for a dimension and its number */
static const double row_gap = 3.0, cell_gap = 3.0, title_room = 5.5, note_room = 6.0,
                    bar_room = 9.0;

struct cell {
    int station;
    const char *title; /* "3 at 28.5" */
    struct section section;
    bool gauge;
    double x, y; /* on paper: the middle line, and the cell's top */
};

struct sheet {
    struct cell cells[SECTIONS];
    int count;
    double scale, height;
    double size_room; /* for a dimension and its number at the left of a section */
};

static const double least_gauge = 3.0; /* half-width, mm: nobody rounds less by a gauge */

/* --- which, and where ----------------------------------------------------------------------- */

/* Stations whose section has an area, evenly chosen. */
static int choose(const struct drawing *drawing, struct cell *cells) {
    struct cell real[MAX_STATIONS];
    int count = 0;
    for (int i = 0; i < drawing->outline->back.count && count < MAX_STATIONS; i++) {
        struct section section = section_at(drawing->outline, drawing->outline->back.x[i], 0.0);
        if (!(section_area(&section) > 0.0)) continue;
        real[count++] = (struct cell){.station = i, .section = section};
    }
    int kept = count < SECTIONS ? count : SECTIONS;
    for (int i = 0; i < kept; i++) {
        cells[i] = real[kept > 1 ? i * (count - 1) / (kept - 1) : 0];
        double place = drawing->outline->back.x[cells[i].station];
        cells[i].title = arena_printf(drawing->arena, "%d at %s", cells[i].station + 1,
                                      measure_length_short(drawing->arena, place, drawing->units));
    }
    return kept;
}

/* How many others are larger; of equals the first counts. */
static int rank(const struct sheet *sheet, int index) {
    double own = section_area(&sheet->cells[index].section);
    int larger = 0;
    for (int i = 0; i < sheet->count; i++) {
        double area = section_area(&sheet->cells[i].section);
        larger += area > own || (area == own && i < index);
    }
    return larger;
}

static double tall_of(const struct sheet *sheet, const struct cell *cell) {
    return 2.0 * sheet->scale * cell->section.half_height;
}

static double wide_of(const struct sheet *sheet, const struct cell *cell) {
    double section = sheet->size_room + 2.0 * sheet->scale * cell->section.half_width;
    double title = svg_text_width(cell->title, &font_bold);
    return fmax(section + (cell->gauge ? card_side : 2.0), title);
}

/* Cells in rows from left to right, `most` in a row as far as they fit; the sheet's height follows.
 * Returns the number of rows. */
static int fill_rows(struct sheet *sheet, int most) {
    double left = 0.0, top = 0.0, high = 0.0;
    int rows = 1, in_row = 0;
    for (int i = 0; i < sheet->count; i++, in_row++) {
        struct cell *cell = &sheet->cells[i];
        double wide = wide_of(sheet, cell);
        if (in_row && (in_row == most || left + wide > page_width)) {
            rows++;
            in_row = 0;
            top += high + row_gap;
            left = high = 0.0;
        }
        cell->x = left + sheet->size_room + sheet->scale * cell->section.half_width;
        cell->y = top;
        high = fmax(high, title_room + tall_of(sheet, cell) + 2.0 * card_margin + size_below);
        left += wide + cell_gap;
    }
    sheet->height = top + high + note_room + bar_room;
    return rows;
}

/* Rows of even length, and no more of them than there must be. */
static void arrange(struct sheet *sheet) {
    int rows = fill_rows(sheet, SECTIONS);
    int most = (sheet->count + rows - 1) / rows;
    if (fill_rows(sheet, most) > rows) fill_rows(sheet, SECTIONS);
}

/* True size where that fits one page, with gauges. */
static struct sheet sheet_of(const struct drawing *drawing) {
    static const double scales[] = {1000.0, 1000.0 / 1.5, 500.0, 1000.0 / 3.0, 250.0};
    struct sheet sheet = {.size_room = drawing->units == UNITS_INCH ? 11.5 : 8.5};
    sheet.count = choose(drawing, sheet.cells);
    for (size_t i = 0; i < sizeof scales / sizeof *scales; i++) {
        sheet.scale = scales[i];
        for (int k = 0; k < sheet.count; k++) {
            bool wide = 1e3 * sheet.cells[k].section.half_width >= least_gauge;
            sheet.cells[k].gauge = i == 0 && wide && rank(&sheet, k) < GAUGES;
        }
        arrange(&sheet);
        if (sheet.height <= page_height) break;
    }
    return sheet;
}

/* --- one section ---------------------------------------------------------------------------- */

/* The card to the right of the middle line: its other three sides, and the datum across it. */
static void gauge(struct drawing *drawing, struct svg *svg, const struct sheet *sheet,
                  const struct cell *cell, double datum) {
    double a = sheet->scale * cell->section.half_width, h = tall_of(sheet, cell) / 2.0;
    double middle = datum - sheet->scale * cell->section.centre, right = cell->x + a + card_side;
    double top = middle - h - card_margin, bottom = middle + h + card_margin;
    svg_group(svg, &pen_detail);
    svg_path(svg);
    svg_move(svg, cell->x, middle - h);
    svg_to(svg, cell->x, top);
    svg_to(svg, right, top);
    svg_to(svg, right, bottom);
    svg_to(svg, cell->x, bottom);
    svg_to(svg, cell->x, middle + h);
    svg_path_end(svg);
    svg_line(svg, cell->x + a + 1.0, datum, right, datum);
    svg_group_end(svg);
    struct svg_font font = font_at(&font_small, SVG_END);
    svg_text(svg, right - 1.0, bottom - 1.6, &font,
             arena_printf(drawing->arena, "%d", cell->station + 1));
}

/* Hatched where it is wood to be seen, left free where the gauge lies. */
static void half_hatch(struct svg *svg, const struct sheet *sheet, const struct cell *cell,
                       double datum) {
    struct svg_point points[SECTION_POINTS];
    part_section_points(points, &cell->section, cell->x, datum, sheet->scale);
    for (int i = 0; cell->gauge && i < SECTION_POINTS; i++) {
        points[i].x = fmin(points[i].x, cell->x);
    }
    svg_group(svg, &(struct svg_style){.stroke = "#999", .width = 0.12});
    svg_hatch(svg, points, SECTION_POINTS, 45.0, 1.5);
    svg_group_end(svg);
}

/* The height, its text on the side away from the section also where it is narrow. */
static void height_of(struct svg *svg, double x, double low, double high, const char *text) {
    bool narrow = svg_text_width(text, &font_plain) > fabs(high - low) - 2.0;
    struct svg_font font = font_at(&font_plain, SVG_END);
    part_dim_up(svg, x, low, high, narrow ? "" : text);
    if (narrow) svg_text(svg, x - 1.0, (low + high) / 2.0 + 1.1, &font, text);
}

static void one_section(struct drawing *drawing, struct svg *svg, const struct sheet *sheet,
                        const struct cell *cell) {
    double a = sheet->scale * cell->section.half_width, h = tall_of(sheet, cell) / 2.0;
    double middle = cell->y + title_room + card_margin + h;
    double datum = middle + sheet->scale * cell->section.centre;
    svg_text(svg, cell->x - a - sheet->size_room, cell->y + 3.4, &font_bold, cell->title);
    half_hatch(svg, sheet, cell, datum);
    svg_group(svg, &pen_centre);
    svg_line(svg, cell->x - a - 2.5, datum, cell->x + a, datum);
    svg_line(svg, cell->x, middle - h - 2.5, cell->x, middle + h + 2.5);
    svg_group_end(svg);
    if (cell->gauge) gauge(drawing, svg, sheet, cell, datum);
    svg_group(svg, &pen_outline);
    part_section_outline(svg, &cell->section, cell->x, datum, sheet->scale);
    svg_group_end(svg);
    part_dim_across(
        svg, cell->x - a, cell->x + a, middle + h + card_margin + 4.5,
        measure_length_short(drawing->arena, 2.0 * cell->section.half_width, drawing->units));
    height_of(
        svg, cell->x - a - 2.8, middle + h, middle - h,
        measure_length_short(drawing->arena, 2.0 * cell->section.half_height, drawing->units));
}

/* --- the sheet ------------------------------------------------------------------------------ */

static const char *note(struct drawing *drawing, const struct sheet *sheet, bool gauges) {
    const char *rounded = "";
    if (drawing->outline->shape == SECTION_ROUNDED) {
        rounded =
            arena_printf(drawing->arena, ", edges rounded to %s",
                         measure_length(drawing->arena, drawing->outline->radius, drawing->units));
    }
    return arena_printf(drawing->arena, "station at its distance from the nose, %s%s; scale %s%s",
                        measure_length_unit(drawing->units), rounded, part_scale_name(sheet->scale),
                        gauges ? "; right half: gauge to cut out" : "");
}

void draw_sections(struct drawing *drawing) {
    struct sheet sheet = sheet_of(drawing);
    if (!sheet.count) return;
    bool gauges = sheet.cells[0].gauge, inch = drawing->units == UNITS_INCH;
    for (int i = 1; i < sheet.count; i++) gauges = gauges || sheet.cells[i].gauge;
    if (!gauges) sheet.height -= bar_room;

    struct svg svg;
    const char *title =
        arena_printf(drawing->arena, "Sections across %s at %d of its stations, to scale %s%s",
                     part_text(drawing, drawing->recipe->name), sheet.count,
                     part_scale_name(sheet.scale), gauges ? ", with half gauges to cut out" : "");
    part_begin(drawing, &svg, FIGURE_SECTIONS, "sections.svg", title, page_width, sheet.height, 0);
    for (int i = 0; i < sheet.count; i++) one_section(drawing, &svg, &sheet, &sheet.cells[i]);
    double y = sheet.height - 1.5;
    if (gauges) {
        part_scale_bar(&svg, 0.0, sheet.height - 6.0, inch ? 12.7 : 10.0, inch ? 4 : 5,
                       inch ? "2 in: measure before you cut" : "50 mm: measure before you cut");
        y -= bar_room;
    }
    svg_text(&svg, 0.0, y, &font_small, note(drawing, &sheet, gauges));
    part_end(drawing, &svg);
}
