/* Text widths come from the advance widths of Liberation Sans, the font that the drawings ask for;
 * its stand-ins elsewhere, Arial and Helvetica, have the same ones.  Other scripts are taken as a
 * whole em wide, which errs to the safe side.
 */
#include "emit/write/svg.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/unicode.h"
#include "emit/write/markup.h"

enum { HATCH_LINES = 4000, HATCH_CUTS = 512 };

static const double degree = 3.14159265358979323846 / 180.0;
static const double coordinate_limit = 1e5; /* mm; nothing on paper is farther away */

/* --- numbers ------------------------------------------------------------------------------- */

/* Up to three decimals, without trailing zeros and without -0. */
static void number(struct svg *svg, double value) {
    char text[24], *at = text + sizeof text;
    if (!isfinite(value)) value = 0.0;
    value = fmax(-coordinate_limit, fmin(coordinate_limit, value));
    long long micrometres = llround(value * 1e3);
    long long size = micrometres < 0 ? -micrometres : micrometres, whole = size / 1000;
    int decimals = (int)(size % 1000), places = 3;
    for (; places > 0 && decimals % 10 == 0; places--) decimals /= 10;
    char *end = at;
    for (int i = 0; i < places; i++, decimals /= 10) *--at = (char)('0' + decimals % 10);
    if (places) *--at = '.';
    do *--at = (char)('0' + whole % 10);
    while ((whole /= 10) > 0);
    if (micrometres < 0) *--at = '-';
    buf_bytes(&svg->out, at, (size_t)(end - at));
}

/* ` name="text"`, of our own. */
static void attribute_text(struct svg *svg, const char *name, const char *text) {
    buf_char(&svg->out, ' ');
    buf_text(&svg->out, name);
    buf_text(&svg->out, "=\"");
    buf_text(&svg->out, text);
    buf_char(&svg->out, '"');
}

static void attribute(struct svg *svg, const char *name, double value) {
    buf_char(&svg->out, ' ');
    buf_text(&svg->out, name);
    buf_text(&svg->out, "=\"");
    number(svg, value);
    buf_char(&svg->out, '"');
}

static void pair(struct svg *svg, double x, double y) {
    number(svg, x);
    buf_char(&svg->out, ' ');
    number(svg, y);
}

/* --- text ---------------------------------------------------------------------------------- */

/* Advance width in 1/2048 em. */
static int advance(struct character c) {
    static const short ascii[] = {
        569,  569,  727,  1139, 1139, 1821, 1366, 391,  682,  682,  797,  1196, 569,  682,
        569,  569,  1139, 1139, 1139, 1139, 1139, 1139, 1139, 1139, 1139, 1139, 569,  569,
        1196, 1196, 1196, 1139, 2079, 1366, 1366, 1479, 1479, 1366, 1251, 1593, 1479, 569,
        1024, 1366, 1139, 1706, 1479, 1593, 1366, 1593, 1479, 1366, 1251, 1479, 1366, 1933,
        1366, 1366, 1251, 569,  569,  569,  961,  1139, 682,  1139, 1139, 1024, 1139, 1139,
        569,  1139, 1139, 455,  455,  1024, 455,  1706, 1139, 1139, 1139, 1139, 682,  1024,
        569,  1139, 1024, 1479, 1024, 1024, 1024, 684,  532,  684,  1196};
    uint32_t point = c.point;
    if (c.width == 0) return 0;
    if (c.kind == CHARACTER_BREAK) point = ' ';
    if (point >= 32 && point < 127) return ascii[point - 32];
    if (point == 0xb0) return 819;
    if (point == 0xb2 || point == 0xb3) return 682;
    if (point >= 0xc0 && point < 0x180) return 1400;  /* Latin letters with marks */
    if (point >= 0x370 && point < 0x530) return 1600; /* Greek, Cyrillic */
    return 2048;
}

static double scale_of(const struct svg_font *font) {
    return font->size / 2048.0 * (font->bold ? 1.13 : 1.0);
}

double svg_text_width(const char *text, const struct svg_font *font) {
    double width = 0.0;
    for (struct str rest = str_of(text); rest.size;) width += advance(unicode_take(&rest));
    return width * scale_of(font);
}

const char *svg_text_fit(struct arena *arena, const char *text, const struct svg_font *font,
                         double width) {
    if (svg_text_width(text, font) <= width) return text;
    double room = width / scale_of(font) - 2048.0; /* for the ellipsis */
    size_t kept = 0;
    for (struct str rest = str_of(text); rest.size; kept = (size_t)(rest.data - text)) {
        room -= advance(unicode_take(&rest));
        if (room < 0.0) break;
    }
    while (kept && text[kept - 1] == ' ') kept--;
    return arena_printf(arena, "%.*s\xe2\x80\xa6", (int)kept, text);
}

void svg_text(struct svg *svg, double x, double y, const struct svg_font *font, const char *text) {
    static const char *const anchor[] = {"start", "middle", "end"};
    buf_text(&svg->out, "<text");
    if (font->turn != 0.0) {
        buf_text(&svg->out, " transform=\"translate(");
        pair(svg, x, y);
        buf_text(&svg->out, ") rotate(");
        number(svg, font->turn);
        buf_text(&svg->out, ")\"");
    } else {
        attribute(svg, "x", x);
        attribute(svg, "y", y);
    }
    attribute(svg, "font-size", font->size);
    if (font->anchor != SVG_START) attribute_text(svg, "text-anchor", anchor[font->anchor]);
    if (font->bold) attribute_text(svg, "font-weight", "bold");
    if (font->italic) attribute_text(svg, "font-style", "italic");
    attribute_text(svg, "fill", font->fill ? font->fill : "#000");
    buf_text(&svg->out, " stroke=\"none\">");
    markup_text(&svg->out, str_of(text));
    buf_text(&svg->out, "</text>\n");
}

/* --- document and groups -------------------------------------------------------------------- */

/* Root element up to its size, one unit a millimetre; further attributes may follow. */
static void begin_sized(struct svg *svg, const char *role, double width, double height) {
    buf_text(&svg->out, "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\"");
    buf_text(&svg->out, role);
    buf_text(&svg->out, " width=\"");
    number(svg, width);
    buf_text(&svg->out, "mm\" height=\"");
    number(svg, height);
    buf_text(&svg->out, "mm\" viewBox=\"0 0 ");
    pair(svg, width, height);
    buf_char(&svg->out, '"');
}

void svg_begin(struct svg *svg, struct arena *arena, const char *id, const char *title,
               double width, double height) {
    *svg = (struct svg){.out.arena = arena, .id = id};
    begin_sized(svg, " role=\"img\"", width, height);
    buf_text(&svg->out, " font-family=\"Liberation Sans, Arial, Helvetica, sans-serif\""
                        " fill=\"none\" stroke=\"none\">\n<title>");
    markup_text(&svg->out, str_of(title));
    buf_text(&svg->out, "</title>\n<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n");
}

void svg_begin_bare(struct svg *svg, struct arena *arena, double width, double height) {
    *svg = (struct svg){.out.arena = arena, .id = ""};
    begin_sized(svg, "", width, height);
    buf_text(&svg->out, ">\n");
}

void svg_end(struct svg *svg) {
    buf_text(&svg->out, "</svg>\n");
}

void svg_group(struct svg *svg, const struct svg_style *style) {
    buf_text(&svg->out, "<g");
    attribute_text(svg, "fill", style->fill ? style->fill : "none");
    attribute_text(svg, "stroke", style->stroke ? style->stroke : "none");
    if (style->stroke) {
        attribute(svg, "stroke-width", style->width);
        attribute_text(svg, "stroke-dasharray", style->dash ? style->dash : "none");
        attribute_text(svg, "stroke-linejoin", "round");
    }
    if (style->fade > 0.0) attribute(svg, "opacity", style->fade);
    buf_text(&svg->out, ">\n");
}

void svg_group_moved(struct svg *svg, double x, double y, double turn) {
    buf_text(&svg->out, "<g transform=\"translate(");
    pair(svg, x, y);
    buf_char(&svg->out, ')');
    if (turn != 0.0) {
        buf_text(&svg->out, " rotate(");
        number(svg, turn);
        buf_char(&svg->out, ')');
    }
    buf_text(&svg->out, "\">\n");
}

void svg_group_clipped(struct svg *svg, double x, double y, double width, double height) {
    int clip = ++svg->clips;
    buf_printf(&svg->out, "<clipPath id=\"%s-clip-%d\">", svg->id, clip);
    svg_rect(svg, x, y, width, height, 0.0);
    buf_printf(&svg->out, "</clipPath>\n<g clip-path=\"url(#%s-clip-%d)\">\n", svg->id, clip);
}

void svg_group_end(struct svg *svg) {
    buf_text(&svg->out, "</g>\n");
}

/* --- shapes --------------------------------------------------------------------------------- */

void svg_line(struct svg *svg, double x1, double y1, double x2, double y2) {
    svg_path(svg);
    svg_move(svg, x1, y1);
    svg_to(svg, x2, y2);
    svg_path_end(svg);
}

void svg_rect(struct svg *svg, double x, double y, double width, double height, double radius) {
    buf_text(&svg->out, "<rect");
    attribute(svg, "x", x);
    attribute(svg, "y", y);
    attribute(svg, "width", fmax(width, 0.0));
    attribute(svg, "height", fmax(height, 0.0));
    if (radius > 0.0) attribute(svg, "rx", radius);
    buf_text(&svg->out, "/>\n");
}

void svg_circle(struct svg *svg, double x, double y, double radius) {
    buf_text(&svg->out, "<circle");
    attribute(svg, "cx", x);
    attribute(svg, "cy", y);
    attribute(svg, "r", fmax(radius, 0.0));
    buf_text(&svg->out, "/>\n");
}

static void through(struct svg *svg, const struct svg_point *points, int count, bool closed) {
    if (count < 2) return;
    svg_path(svg);
    svg_move(svg, points[0].x, points[0].y);
    for (int i = 1; i < count; i++) svg_to(svg, points[i].x, points[i].y);
    if (closed) svg_close(svg);
    svg_path_end(svg);
}

void svg_polyline(struct svg *svg, const struct svg_point *points, int count) {
    through(svg, points, count, false);
}

void svg_polygon(struct svg *svg, const struct svg_point *points, int count) {
    through(svg, points, count, true);
}

void svg_path(struct svg *svg) {
    buf_text(&svg->out, "<path d=\"");
}

void svg_move(struct svg *svg, double x, double y) {
    buf_char(&svg->out, 'M');
    pair(svg, x, y);
}

void svg_to(struct svg *svg, double x, double y) {
    buf_char(&svg->out, 'L');
    pair(svg, x, y);
}

void svg_curve(struct svg *svg, double x1, double y1, double x2, double y2, double x, double y) {
    buf_char(&svg->out, 'C');
    pair(svg, x1, y1);
    buf_char(&svg->out, ' ');
    pair(svg, x2, y2);
    buf_char(&svg->out, ' ');
    pair(svg, x, y);
}

void svg_arc(struct svg *svg, double radius, bool large, bool clockwise, double x, double y) {
    buf_char(&svg->out, 'A');
    pair(svg, radius, radius);
    buf_printf(&svg->out, " 0 %d %d ", large, clockwise);
    pair(svg, x, y);
}

void svg_close(struct svg *svg) {
    buf_char(&svg->out, 'Z');
}

void svg_path_end(struct svg *svg) {
    buf_text(&svg->out, "\"/>\n");
}

/* --- hatching ------------------------------------------------------------------------------- */

static int by_value(const void *left, const void *right) {
    double a = *(const double *)left, b = *(const double *)right;
    return (a > b) - (a < b);
}

/* Where the line y = `level` crosses the polygon turned by (c, s), sorted along that line. */
static int crossings(const struct svg_point *points, int count, double c, double s, double level,
                     double *along) {
    int found = 0;
    for (int i = 0; i < count && found < HATCH_CUTS; i++) {
        struct svg_point p = points[i], q = points[i + 1 < count ? i + 1 : 0];
        double py = c * p.y + s * p.x, qy = c * q.y + s * q.x;
        if ((py < level) == (qy < level)) continue;
        double px = c * p.x - s * p.y, qx = c * q.x - s * q.y;
        along[found++] = px + (qx - px) * (level - py) / (qy - py);
    }
    qsort(along, (size_t)found, sizeof *along, by_value);
    return found;
}

void svg_hatch(struct svg *svg, const struct svg_point *points, int count, double turn,
               double gap) {
    if (count < 3 || gap <= 0.0) return;
    double c = cos(turn * degree), s = sin(turn * degree);
    double low = INFINITY, high = -INFINITY;
    for (int i = 0; i < count; i++) {
        double y = c * points[i].y + s * points[i].x;
        low = fmin(low, y);
        high = fmax(high, y);
    }
    if (!(high - low < HATCH_LINES * gap)) return;

    double along[HATCH_CUTS], first = floor(low / gap) + 1.0;
    bool begun = false;
    for (int line = 0; (first + line) * gap < high; line++) {
        double level = (first + line) * gap;
        int cuts = crossings(points, count, c, s, level, along);
        for (int i = 0; i + 1 < cuts; i += 2) {
            if (!begun) svg_path(svg);
            begun = true;
            svg_move(svg, c * along[i] + s * level, c * level - s * along[i]);
            svg_to(svg, c * along[i + 1] + s * level, c * level - s * along[i + 1]);
        }
    }
    if (begun) svg_path_end(svg);
}
