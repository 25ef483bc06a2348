/* The least wall by branch and bound.  Every bore in the middle plane is a rod; so is the slot,
 * seen in that plane.  Of a bore from the flank or from inside the disc counts that it ends in, a
 * rod without length: nearer to its mouth the wood runs out by nature.
 *
 * The surface above the sections' middle line is cut into tiles: a stretch along x within a panel
 * (panel.h), over which every measure of the section is one cubic, by a stretch around the section
 * from the side up to the middle plane: an oval's quarter, or a side, a corner and a flat.
 *
 * The rod is convex, so a point p of the surface is no nearer to it than n.p less the rod's reach
 * along n, whatever the unit vector n; with n from the rod to the tile's middle that is the
 * distance itself, but for what the tile is curved.  Around the section the upper curve is convex
 * and n points outward, or down: so n.p is least at one of the tile's rims u0 and u1.  There it is
 * a cubic in x, which does not fall below the least of its Bernstein coefficients.  Where the rod
 * stands off the middle plane n may point inward and down: then n.p may dip between the rims, by no
 * more than an arc so long rises over its chord.  A tile that
 * cannot beat the least distance found so far is dropped, any other is halved.  The bounds close in
 * with the square of a tile's size, so few tiles are ever looked at. */
#include "compute/plug/wall.h"

#include <math.h>

#include "compute/shape/panel.h"
#include "compute/shape/section.h"
#include "model/reference.h"

static const double tolerance = 1e-7; /* m */

struct vector {
    double x, y, z;
};

/* A round rod from its mouth on along the unit vector u, in the plane y = 0 or level across it, at
 * y > 0. */
struct rod {
    struct vector mouth, u;
    double length, radius;
};

/* Which parts of the surface count.  The lower half is searched as the upper half of the plug
 * turned upside down. */
enum part {
    PART_ABOVE = 1, /* above the sections' middle line */
    PART_BELOW = 2, /* below it */
    PART_NOSE = 4,  /* the flat ends, their halves above or below */
    PART_TAIL = 8,
    PART_MIDDLE = 16 /* of all this only what lies in the plane y = 0 */
};

/* What is looked for, and the panel on which it is looked for just now. */
struct search {
    struct rod rod;
    double least; /* distance found so far */
    bool below;   /* upside down */
    double from;  /* u of the rims at which tiles begin: 0, or 1 for the middle plane alone */
    double widest, highest; /* half of the body's breadth and height */
    struct panel panel;
    struct cubic corner; /* radius of the panel's corners */
};

/* fmin, fmax and hypot proper are calls into the library, and these run in the innermost loops. */
static inline double lesser(double a, double b) {
    return a < b ? a : b;
}

static inline double greater(double a, double b) {
    return a > b ? a : b;
}

static inline double length_of(double a, double b) {
    return sqrt(a * a + b * b);
}

/* --- the surface ----------------------------------------------------------------------------- */

/* Faces of the upper half of a section, u = 0 at the side to 1 towards the middle plane. */
enum face { FACE_OVAL, FACE_SIDE, FACE_CORNER, FACE_FLAT };

/* The upper curves at one u: y = wide a + inward r, z = centre + high h + down r, with a section's
 * half-width a, half-height h and corner radius r. */
struct rim {
    double wide, inward, high, down;
};

static struct rim rim_at(enum face face, double u) {
    const double quarter = 1.57079632679489661923;
    if (face == FACE_OVAL) return (struct rim){cos(quarter * u), 0, sin(quarter * u), 0};
    if (face == FACE_SIDE) return (struct rim){1, 0, u, -u};
    if (face == FACE_FLAT) return (struct rim){1 - u, u - 1, 1, 0};
    return (struct rim){1, cos(quarter * u) - 1, 1, sin(quarter * u) - 1};
}

static struct vector point_at(const struct search *s, const struct rim *rim, double x) {
    const struct panel *panel = &s->panel;
    double t = x - panel->origin, corner = cubic_at(&s->corner, t);
    double y = rim->wide * cubic_at(&panel->half_width, t) + rim->inward * corner;
    double up = rim->high * cubic_at(&panel->half_height, t) + rim->down * corner;
    return (struct vector){x, y, cubic_at(&panel->centre, t) + up};
}

/* The corners' radius follows one rule over a panel: that of its middle. */
static struct cubic corner_of(const struct panel *panel) {
    double t = 0.5 * (panel->start + panel->end) - panel->origin;
    double a = cubic_at(&panel->half_width, t), h = cubic_at(&panel->half_height, t);
    if (panel->radius <= lesser(a, h)) return (struct cubic){{panel->radius}};
    return a < h ? panel->half_width : panel->half_height;
}

/* --- the rod --------------------------------------------------------------------------------- */

static inline double dot(struct vector a, struct vector b) {
    return a.x * b.x + a.y * b.y + a.z * b.z;
}

/* Distance of a point from the rod, 0 inside it; `away` is the unit vector of the shortest way from
 * the rod to the point. */
static double distance(const struct search *s, struct vector p, struct vector *away) {
    const struct rod *rod = &s->rod;
    struct vector d = {p.x - rod->mouth.x, p.y - rod->mouth.y, p.z - rod->mouth.z}, u = rod->u;
    double along = dot(d, u);
    struct vector across = {d.x - along * u.x, d.y - along * u.y, d.z - along * u.z};
    double off = sqrt(dot(across, across)), side = greater(off - rod->radius, 0);
    double end =
        along > rod->length ? along - rod->length : lesser(along, 0); /* below 0: before it */
    double length = length_of(side, end);
    *away = (struct vector){0, 0, 1};
    if (!(length > 0)) return 0;
    double ahead = end / length, aside = side > 0 ? side / (off * length) : 0;
    *away = (struct vector){ahead * u.x + aside * across.x, ahead * u.y + aside * across.y,
                            ahead * u.z + aside * across.z};
    return length;
}

/* How far the rod reaches along a unit vector. */
static double reach(const struct search *s, struct vector n) {
    const struct rod *rod = &s->rod;
    double along = dot(n, rod->u);
    return dot(n, rod->mouth) + rod->radius * sqrt(greater(1 - along * along, 0)) +
           greater(along, 0) * rod->length;
}

static void look_at(struct search *s, struct vector p, struct vector *away) {
    s->least = lesser(s->least, distance(s, p, away));
}

/* --- branch and bound ------------------------------------------------------------------------ */

struct tile {
    enum face face;
    double x0, x1, u0, u1;
    struct rim rim0, middle, rim1;
    struct vector n; /* from the rod to its middle */
    double along;    /* how much n.p may change along x */
    double bound;    /* no point of it is nearer to the rod */
};

/* The least of n.p along a rim of a tile, or a value below it. */
static double least_along(struct search *s, struct tile *tile, const struct rim *rim) {
    const struct panel *panel = &s->panel;
    struct vector n = tile->n, away;
    struct cubic q;
    for (int i = 0; i < 4; i++)
        q.c[i] = n.y * rim->wide * panel->half_width.c[i] +
                 (n.y * rim->inward + n.z * rim->down) * s->corner.c[i] +
                 n.z * (panel->centre.c[i] + rim->high * panel->half_height.c[i]);
    q.c[0] += n.x * panel->origin;
    q.c[1] += n.x;
    double t0 = tile->x0 - panel->origin, t1 = tile->x1 - panel->origin, third = (t1 - t0) / 3;
    double first = cubic_at(&q, t0), last = cubic_at(&q, t1);
    double left = first + third * cubic_slope(&q, t0), right = last - third * cubic_slope(&q, t1);
    double ends = lesser(first, last), inner = lesser(left, right), least = lesser(ends, inner);
    double most = greater(greater(first, last), greater(left, right));
    tile->along = greater(tile->along, most - least);
    if (ends <= inner) look_at(s, point_at(s, rim, first < last ? tile->x0 : tile->x1), &away);
    return least;
}

/* By how much n.p may dip between the rims of a tile: only where n points inward and down. */
static double dip(const struct search *s, const struct tile *tile) {
    const double quarter = 1.57079632679489661923;
    if (tile->n.y >= 0 || tile->n.z >= 0 || tile->face == FACE_SIDE || tile->face == FACE_FLAT)
        return 0;
    double swing = length_of(tile->n.y * s->widest, tile->n.z * s->highest);
    return swing * (1 - cos(quarter * (tile->u1 - tile->u0) / 2));
}

/* Looks at a few points of a tile and fills in what follows from its stretches. */
static void survey(struct search *s, struct tile *tile) {
    tile->middle = rim_at(tile->face, 0.5 * (tile->u0 + tile->u1));
    look_at(s, point_at(s, &tile->middle, 0.5 * (tile->x0 + tile->x1)), &tile->n);
    tile->along = 0;
    tile->bound = lesser(least_along(s, tile, &tile->rim0), least_along(s, tile, &tile->rim1)) -
                  reach(s, tile->n) - dip(s, tile);
}

static double along_n(const struct search *s, const struct tile *tile, const struct rim *rim,
                      double x) {
    struct vector p = point_at(s, rim, x);
    return tile->n.x * p.x + tile->n.y * p.y + tile->n.z * p.z;
}

/* Halves a tile along the way on which n.p changes more. */
static void halve(const struct search *s, const struct tile *tile, struct tile halves[2]) {
    double x = 0.5 * (tile->x0 + tile->x1), u = 0.5 * (tile->u0 + tile->u1);
    double middle = along_n(s, tile, &tile->middle, x);
    double around = greater(fabs(along_n(s, tile, &tile->rim0, x) - middle),
                            fabs(along_n(s, tile, &tile->rim1, x) - middle));
    halves[0] = halves[1] = *tile;
    if (tile->along > around) {
        halves[0].x1 = halves[1].x0 = x;
    } else {
        halves[0].u1 = halves[1].u0 = u;
        halves[0].rim1 = halves[1].rim0 = tile->middle;
    }
}

static void look_closer(struct search *s, const struct tile *tile) {
    if (s->least == 0 || !(tile->bound < s->least - tolerance)) return;
    struct tile halves[2];
    halve(s, tile, halves);
    for (int i = 0; i < 2; i++) survey(s, &halves[i]);
    int nearer = halves[1].bound < halves[0].bound;
    look_closer(s, &halves[nearer]);
    look_closer(s, &halves[!nearer]);
}

static void search_panel(struct search *s, const struct panel *panel, bool closely) {
    bool oval = panel->shape == SECTION_OVAL, middle = s->from > 0;
    enum face last = oval ? FACE_OVAL : FACE_FLAT;
    s->panel = *panel;
    s->corner = corner_of(panel);
    for (int i = 0; s->below && i < 4; i++) s->panel.centre.c[i] = -panel->centre.c[i];
    for (enum face face = oval || middle ? last : FACE_SIDE; face <= last; face++) {
        if (face == FACE_CORNER && panel->shape == SECTION_SQUARE) continue;
        struct tile tile = {.face = face,
                            .x0 = panel->start,
                            .x1 = panel->end,
                            .u0 = s->from,
                            .u1 = 1,
                            .rim0 = rim_at(face, s->from),
                            .rim1 = rim_at(face, 1)};
        survey(s, &tile);
        if (closely) look_closer(s, &tile);
    }
}

/* The upper half of a flat end is nearest level with the rod, as far as it can be. */
static void search_end(struct search *s, const struct outline *outline, double x) {
    struct section end = section_at(outline, x, 0);
    if (section_empty(end.half_width, end.half_height)) return;
    double centre = s->below ? -end.centre : end.centre;
    double level = greater(s->rod.mouth.z + 0.5 * s->rod.length * s->rod.u.z, centre);
    double aside = s->rod.mouth.y + 0.5 * s->rod.length * s->rod.u.y;
    double height = lesser(level, centre + end.half_height);
    double y = lesser(aside, section_half_width(&end, s->below ? -height : height));
    struct vector away, p = {x, y, height};
    look_at(s, p, &away);
}

/* All panels are looked at roughly before any is looked at closely: most are never near. */
static void search_half(struct search *s, const struct outline *outline, unsigned parts) {
    if (parts & PART_NOSE) search_end(s, outline, 0);
    if (parts & PART_TAIL) search_end(s, outline, outline->length);
    for (int pass = 0; pass < 2; pass++)
        for (int row = 0; row + 1 < outline->back.count; row++) {
            struct panel panels[PANELS_MOST];
            int count = panels_between(outline, row, 0, panels);
            for (int i = 0; i < count; i++) search_panel(s, &panels[i], pass == 1);
        }
}

static double least_to(const struct plug *plug, struct rod rod, unsigned parts) {
    struct search s = {.rod = rod,
                       .least = INFINITY,
                       .from = parts & PART_MIDDLE ? 1 : 0,
                       .widest = plug->bare.width / 2,
                       .highest = plug->bare.height / 2};
    if (parts & PART_ABOVE) search_half(&s, &plug->outline, parts);
    if (parts & PART_BELOW) {
        s.below = true;
        s.rod.mouth.z = -rod.mouth.z;
        s.rod.u.z = -rod.u.z;
        search_half(&s, &plug->outline, parts);
    }
    return s.least;
}

/* --- openings -------------------------------------------------------------------------------- */

/* Of an opening, from so far inward of its mouth on. */
static struct rod rod_of(const struct opening *o, double from) {
    const struct axis *axis = &o->axis;
    return (struct rod){{axis_x(axis, from), axis->y + axis->u_y * from, axis_z(axis, from)},
                        {axis->u_x, axis->u_y, axis->u_z},
                        o->depth - from,
                        o->width / 2};
}

static bool in_wood(const struct plug *plug, double x, double z) {
    const double slack = 1e-6;
    return x >= -slack && x <= plug->outline.length + slack && z <= plug_top(plug, x) + slack &&
           z >= plug_bottom(plug, x) - slack;
}

/* Where it needs wood around, and to the far end.  What breaks out crosses the surface, unless all
 * of it lies outside. */
static double wall_along(const struct plug *plug, const struct opening *o) {
    enum part far_end = o->axis.u_x > 0 ? PART_TAIL : PART_NOSE;
    if (!in_wood(plug, axis_x(&o->axis, o->depth), o->axis.z)) return 0;
    return least_to(plug, rod_of(o, o->outer), PART_ABOVE | PART_BELOW | far_end);
}

/* Upright, to the side that it is not bored from. */
static double wall_across(const struct plug *plug, const struct opening *o) {
    enum part ahead = o->axis.u_z > 0 ? PART_ABOVE : PART_BELOW;
    return least_to(plug, rod_of(o, 0), ahead | PART_NOSE | PART_TAIL);
}

/* All round its floor there has to be wood; its rim lies in the surface by nature. */
static bool floor_in_wood(const struct plug *plug, const struct opening *pair) {
    enum { ROUND = 72 };
    const double slack = 1e-6, circle = 6.28318530717958647693;
    for (int i = 0; i < ROUND; i++) {
        double x = pair->axis.x + pair->width / 2 * cos(circle * i / ROUND);
        double z = pair->axis.z + pair->width / 2 * sin(circle * i / ROUND);
        if (x < -slack || x > plug->outline.length + slack) return false;
        struct section section = section_at(&plug->outline, x, 0);
        if (fabs(z - section.centre) > section.half_height + slack ||
            opening_floor(pair) > section_half_width(&section, z) + slack)
            return false;
    }
    return true;
}

/* Around its floor, on its own side. */
static double wall_level(const struct plug *plug, const struct opening *o) {
    if (!floor_in_wood(plug, o)) return 0;
    if (o->kind == OPENING_SOCKETS) return INFINITY;
    return least_to(plug, rod_of(o, o->depth), PART_ABOVE | PART_BELOW | PART_NOSE | PART_TAIL);
}

double wall_of(const struct plug *plug, const struct opening *opening) {
    if (opening->kind == OPENING_SLOT)
        return least_to(plug, rod_of(opening, 0), PART_ABOVE | PART_TAIL | PART_MIDDLE);
    if (axis_level(&opening->axis)) return wall_level(plug, opening);
    return axis_along(&opening->axis) ? wall_along(plug, opening) : wall_across(plug, opening);
}

double wall_least(const struct plug *plug, const struct bore_fill *fill) {
    struct opening bore = opening_of_bore(0, fill);
    return wall_of(plug, &bore);
}

bool wall_short(double wood, double due) {
    const double micrometre = 1e-6;
    return wood <= 0 || wood < due - micrometre;
}

bool wall_enough(double wall) {
    return !wall_short(wall, reference_fact[FACT_WALL_LEAST].value);
}

bool wall_allows(const struct plug *plug, int bore, const struct bore_fill *fill) {
    if (!fill->fits || plug->recipe->ballast->bores[bore].depth.given) return fill->fits;
    return wall_enough(wall_least(plug, fill));
}

double wall_doubtful(const struct plug *plug) {
    bool low = wall_short(plug->bare.height, reference_fact[FACT_BODY_LOW].value);
    return reference_fact[low ? FACT_WALL_DOUBTFUL_LOW : FACT_WALL_DOUBTFUL].value;
}
