/* What all drawings share: pens and type, views from metres to paper, outlines, labels and
 * dimensions.  Private to this room.
 *
 * The look is that of a boatbuilder's lines plan: a bold outline, thin construction lines,
 * chain-dashed centre lines, hatching for what is cut away or put in.  Grey and one pale blue (the
 * water) are the only tints, and nothing is told by tint alone.
 */
#ifndef PLUGWRIGHT_DRAWING_INNER_H
#define PLUGWRIGHT_DRAWING_INNER_H

#include "compute/results.h"
#include "compute/shape/section.h"
#include "emit/drawing/figure.h"
#include "emit/write/measure.h"
#include "emit/write/svg.h"

/* What a drawing is made from, and the list that it joins. */
struct drawing {
    struct arena *arena;
    const struct recipe *recipe;
    const struct results *results;
    const struct outline *outline;
    enum unit_system units;
    struct figure_list list;
    size_t capacity;
};

/* Each adds its figures to the drawing. */
#define DRAWING(kind, draw, doc) void draw(struct drawing *drawing);
#include "emit/drawing/drawing.def"

/* --- figures -------------------------------------------------------------------------------- */

static const double page_width = 180.0;  /* mm of text on either paper */
static const double page_height = 240.0; /* with room for a heading and a caption */

void part_begin(struct drawing *drawing, struct svg *svg, enum figure_kind kind, const char *file,
                const char *title, double width, double height, int layer);
void part_end(struct drawing *drawing, struct svg *svg);

/* --- pens and type -------------------------------------------------------------------------- */

extern const struct svg_style pen_outline, pen_detail, pen_thin, pen_centre, pen_hidden, pen_body,
    pen_water, pen_surface, pen_solid, pen_face;
extern const struct svg_font font_plain, font_small, font_bold, font_head;

struct svg_font font_at(const struct svg_font *font, enum svg_anchor anchor);
struct svg_font font_turned(const struct svg_font *font, enum svg_anchor anchor, double turn);

/* --- views ---------------------------------------------------------------------------------- */

/* Body to paper: the nose on the datum stands at (x, y), then turned nose down by `turn`.  `along`
 * is x of the body's frame; `up` is its z seen from the side, its y seen from above. */
struct view {
    double x, y;
    double scale; /* mm of paper per metre */
    double turn;  /* rad */
};

struct svg_point view_point(const struct view *view, double along, double up);
double view_x(const struct view *view, double along); /* of a view that is not turned */
double view_y(const struct view *view, double up);

/* The largest usual drawing scale (5:1 … 1:10) up to `most`, in mm per metre, and its name. */
double part_scale(double most);
const char *part_scale_name(double scale);

/* --- the plug's shapes ---------------------------------------------------------------------- */

/* Extent of the bare body, of the lip and the eyes around it, seen from the side. */
struct extent {
    double left, right, bottom, top; /* m */
};
struct extent part_extent(const struct drawing *drawing);
void extent_add(struct extent *extent, double along, double up);
/* The same on paper, of the plug turned by a view at the origin, with its hooks hanging or without;
 * up counts upward. */
struct extent part_turned(const struct drawing *drawing, const struct view *view, bool hooks);

/* The cup of the face, if there is one: cut open, or as a hidden line. */
void part_cup(struct drawing *drawing, struct svg *svg, const struct view *view, bool from_above,
              bool hidden);
/* The joints: from the side the saw cuts, from above the V of each part's end. */
void part_joints(struct drawing *drawing, struct svg *svg, const struct view *view,
                 bool from_above);
void part_side_outline(struct svg *svg, const struct view *view, const struct outline *outline);
void part_plan_outline(struct svg *svg, const struct view *view, const struct outline *outline);
/* A curve times `factor`, as a path of its own. */
void part_curve(struct svg *svg, const struct view *view, const struct curve *curve, double factor);
/* A section centred on the paper's (x, y), which is the datum and the middle line. */
void part_section_outline(struct svg *svg, const struct section *section, double x, double y,
                          double scale);
/* The same as points, for hatching. */
enum { SECTION_POINTS = 100 };
void part_section_points(struct svg_point points[SECTION_POINTS], const struct section *section,
                         double x, double y, double scale);
/* A rectangle along a direction: from (x, z) the length `deep` along (ux, uz), `thick` across. */
void part_bar(struct svg_point corners[4], const struct view *view, double x, double z, double ux,
              double uz, double deep, double thick);

/* The plug seen from the side or above: cut open, or in its colours. */
enum { BODY_SECTIONED = 1, BODY_PAINTED = 2 };
void part_side_body(struct drawing *drawing, struct svg *svg, const struct view *view, int how);
void part_plan_body(struct drawing *drawing, struct svg *svg, const struct view *view);
/* A ballast bore or a chamber, and what is in it: from the mouth on what closes it, behind that the
 * load, or a room with something loose. */
struct part_hole {
    const char *name, *title; /* "bore 1", "ballast bore 1" */
    enum bore_side from;
    struct axis axis;
    double drill, depth;
    double closed;       /* of the depth */
    bool loaded, hollow; /* there is a load; there is a room */
};
enum { PART_HOLES = MAX_BORES + MAX_CHAMBERS };
int part_holes(const struct drawing *drawing, struct part_hole holes[PART_HOLES]);
/* The sides of what is bored along the body or from its flanks, seen from above. */
void part_hole_from_above(struct svg *svg, const struct view *view, const struct part_hole *hole);
void part_plan_holes(struct drawing *drawing, struct svg *svg, const struct view *view);
/* All colours over the wood, as they look in the end. */
void part_paint(struct drawing *drawing, struct svg *svg, const struct view *view);
/* The hooks, hanging straight down from their hangers, and how far each reaches. */
void part_hooks(struct drawing *drawing, struct svg *svg, const struct view *view);
double part_hang(const struct fitting *hanger);
/* Whether the heights of a waterline at both ends are of this world: a plug that stands upright has
 * them far away. */
bool part_waterline_near(const struct drawing *drawing, double nose, double tail);

/* What is cut out in true size.  The lip with its inner end on top, the slot's mouth at height
 * `mouth` of the paper and its middle at x = `middle`; and the hole of a line tie on the lip, how
 * far from the outer end and how wide in m; false: there is none. */
void part_lip_outline(struct svg *svg, const struct lip *lip, const struct plate *plate,
                      double middle, double mouth);
bool part_tie_hole(const struct drawing *drawing, double *from_end, double *drill);
/* A card with a bulge that fills the cup and shoulders that lie on its rim, about x = `x`. */
void part_cup_gauge(struct svg *svg, const struct nose_face *face, const struct notch *cup,
                    double x, double top);
struct svg_point part_cup_gauge_size(const struct nose_face *face);

/* --- labels and dimensions ------------------------------------------------------------------ */

/* 1, 2 or 5 times a power of ten, so that `span` takes at most six steps. */
double part_step(double span);

/* An arrow between two points, its head at the second. */
void part_arrow(struct svg *svg, struct svg_point from, struct svg_point to);

/* A cross that marks a centre. */
void part_cross(struct svg *svg, struct svg_point at, double arm);

/* Dimension lines with oblique ticks; the text stands above the line or beside it. */
void part_dim_across(struct svg *svg, double x1, double x2, double y, const char *text);
void part_dim_up(struct svg *svg, double x, double y1, double y2, const char *text);

/* A bar from (x, y), of `blocks` blocks in black and white by turns, with its text behind. */
void part_scale_bar(struct svg *svg, double x, double y, double block, int blocks,
                    const char *text);

/* Moves `count` places apart to at least `gap` within low … high, as little as possible (least
 * squares, keeping their order).  `places` are sorted; too many of them share the room evenly. */
void part_spread(double *places, int count, double gap, double low, double high);

/* One rung of a ladder of ordinates: a turned label under the place that it belongs to. */
struct rung {
    double at;               /* x on paper */
    double from;             /* y where its leader begins */
    const char *number;      /* distance from the nose */
    const char *name, *size; /* two lines; size may be NULL */
    const char *brief;       /* the name alone, where sizes stand elsewhere */
};

/* Sorts the rungs and draws them: leaders down to `y`, labels below. */
void part_ladder(struct svg *svg, struct rung *rungs, int count, double y, double low, double high);
double part_ladder_height(const struct rung *rungs, int count);

/* What is bored, cut and set into the body, as rungs with y on the paper of this view. */
struct rung *part_features(struct drawing *drawing, const struct view *view, int *count);

/* The same by their short names: the tables beside the drawing have the sizes. */
struct rung *part_brief_features(struct drawing *drawing, const struct view *view, int *count);

/* The name of a text of the recipe as a C string. */
const char *part_text(const struct drawing *drawing, struct str text);

#endif
