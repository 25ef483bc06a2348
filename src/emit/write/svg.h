/* A small writer of SVG in millimetres: lines, faces, text, hatching.  It knows no plugs.
 *
 * x runs right and y down from the paper's top left corner.  Everything is written as presentation
 * attributes on groups and shapes, the one subset that browsers and the renderers of paper agree
 * on; hatching is computed as plain lines, since patterns are not drawn alike everywhere.
 * Coordinates are rounded to a micrometre, so the same drawing is the same bytes everywhere.
 */
#ifndef PLUGWRIGHT_WRITE_SVG_H
#define PLUGWRIGHT_WRITE_SVG_H

#include <stdbool.h>

#include "base/buf.h"

struct svg {
    struct buf out;
    const char *id; /* begins every id inside, so that several drawings can share one page */
    int clips;      /* ids given out so far */
};

struct svg_point {
    double x, y;
};

/* How shapes are drawn.  What is NULL or 0 is none: styles say all, and groups inherit nothing. */
struct svg_style {
    const char *fill, *stroke;
    double width;     /* of the stroke, mm */
    const char *dash; /* lengths of dashes and gaps, mm */
    double fade;      /* 0: solid; else opacity */
};

enum svg_anchor { SVG_START, SVG_MIDDLE, SVG_END };

struct svg_font {
    double size; /* mm, of the em; capitals stand 0.73 of it high */
    enum svg_anchor anchor;
    const char *fill; /* NULL: black */
    bool bold, italic;
    double turn; /* degrees, clockwise about the text's point */
};

/* `title` says in words what the drawing shows.  `id` is a plain word. */
void svg_begin(struct svg *svg, struct arena *arena, const char *id, const char *title,
               double width, double height);
/* For a machine that takes every shape for work: no title, no paper. */
void svg_begin_bare(struct svg *svg, struct arena *arena, double width, double height);
void svg_end(struct svg *svg);

/* Shapes between take this style.  A moved group is first turned, then moved. */
void svg_group(struct svg *svg, const struct svg_style *style);
void svg_group_moved(struct svg *svg, double x, double y, double turn);
void svg_group_clipped(struct svg *svg, double x, double y, double width, double height);
void svg_group_end(struct svg *svg);

void svg_line(struct svg *svg, double x1, double y1, double x2, double y2);
void svg_rect(struct svg *svg, double x, double y, double width, double height, double radius);
void svg_circle(struct svg *svg, double x, double y, double radius);
void svg_polyline(struct svg *svg, const struct svg_point *points, int count);
void svg_polygon(struct svg *svg, const struct svg_point *points, int count);

/* A path between svg_path and svg_path_end. */
void svg_path(struct svg *svg);
void svg_move(struct svg *svg, double x, double y);
void svg_to(struct svg *svg, double x, double y);
void svg_curve(struct svg *svg, double x1, double y1, double x2, double y2, double x, double y);
void svg_arc(struct svg *svg, double radius, bool large, bool clockwise, double x, double y);
void svg_close(struct svg *svg);
void svg_path_end(struct svg *svg);

/* Parallel lines inside a polygon (even-odd), as a path in the style of the group around: `turn`
 * degrees against the horizontal, anticlockwise; `gap` between lines.  All areas with the same turn
 * and gap share one grid of lines. */
void svg_hatch(struct svg *svg, const struct svg_point *points, int count, double turn, double gap);

/* Text is cleaned (base/unicode.h) and escaped. */
void svg_text(struct svg *svg, double x, double y, const struct svg_font *font, const char *text);

/* Width that a text takes, mm, and the text cut with an ellipsis to what fits. */
double svg_text_width(const char *text, const struct svg_font *font);
const char *svg_text_fit(struct arena *arena, const char *text, const struct svg_font *font,
                         double width);

#endif
