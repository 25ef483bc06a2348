/* The least wall by branch and bound.
 *
 * The surface above the sections' middle line is cut into tiles: a stretch along x within a panel
 * (panel.h), over which every measure of the section is one cubic, by a stretch around the section
 * from the side up to the middle plane: an oval's quarter, or a side, a corner and a flat.
 *
 * The bore is convex, so a point p of the surface is no nearer to it than n.p less the bore's reach
 * along n, whatever the unit vector n; with n from the bore to the tile's middle that is the
 * distance itself, but for what the tile is curved.  Around the section the upper curve is convex
 * and n points outward, or down: so n.p is least at one of the tile's rims u0 and u1.  There it is
 * a cubic in x, which does not fall below the least of its Bernstein coefficients.  A tile that
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

/* What is looked for, and the panel on which it is looked for just now. */
struct search {
    double at, radius, mouth, top; /* the bore */
    double least;                  /* distance found so far */
    const struct panel *panel;
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
    const struct panel *panel = s->panel;
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

/* --- the bore -------------------------------------------------------------------------------- */

/* Distance of a point from the bore, 0 inside it; `away` is the unit vector of the shortest way
 * from the bore to the point. */
static double distance(const struct search *s, struct vector p, struct vector *away) {
    double along = p.x - s->at, off = length_of(along, p.y);
    double side = greater(off - s->radius, 0);
    double end = p.z > s->top ? p.z - s->top : lesser(p.z - s->mouth, 0); /* below 0: below it */
    double length = length_of(side, end);
    *away = (struct vector){0, 0, 1};
    if (!(length > 0)) return 0;
    *away = (struct vector){0, 0, end / length};
    if (side > 0) away->x = side * along / (off * length), away->y = side * p.y / (off * length);
    return length;
}

/* How far the bore reaches along a unit vector. */
static double reach(const struct search *s, struct vector n) {
    return n.x * s->at + s->radius * length_of(n.x, n.y) + n.z * (n.z > 0 ? s->top : s->mouth);
}

static void look_at(struct search *s, struct vector p, struct vector *away) {
    s->least = lesser(s->least, distance(s, p, away));
}

/* --- branch and bound ------------------------------------------------------------------------ */

struct tile {
    enum face face;
    double x0, x1, u0, u1;
    struct rim rim0, middle, rim1;
    struct vector n; /* from the bore to its middle */
    double along;    /* how much n.p may change along x */
    double bound;    /* no point of it is nearer to the bore */
};

/* The least of n.p along a rim of a tile, or a value below it. */
static double least_along(struct search *s, struct tile *tile, const struct rim *rim) {
    const struct panel *panel = s->panel;
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

/* Looks at a few points of a tile and fills in what follows from its stretches. */
static void survey(struct search *s, struct tile *tile) {
    tile->middle = rim_at(tile->face, 0.5 * (tile->u0 + tile->u1));
    look_at(s, point_at(s, &tile->middle, 0.5 * (tile->x0 + tile->x1)), &tile->n);
    tile->along = 0;
    tile->bound = lesser(least_along(s, tile, &tile->rim0), least_along(s, tile, &tile->rim1)) -
                  reach(s, tile->n);
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
    bool oval = panel->shape == SECTION_OVAL;
    enum face first = oval ? FACE_OVAL : FACE_SIDE, last = oval ? FACE_OVAL : FACE_FLAT;
    s->panel = panel;
    s->corner = corner_of(panel);
    for (enum face face = first; face <= last; face++) {
        if (face == FACE_CORNER && panel->shape == SECTION_SQUARE) continue;
        struct tile tile = {.face = face,
                            .x0 = panel->start,
                            .x1 = panel->end,
                            .u1 = 1,
                            .rim0 = rim_at(face, 0),
                            .rim1 = rim_at(face, 1)};
        survey(s, &tile);
        if (closely) look_closer(s, &tile);
    }
}

/* The upper half of a flat end is nearest in the middle plane, level with the bore if it can be. */
static void search_end(struct search *s, const struct outline *outline, double x) {
    struct section end = section_at(outline, x, 0);
    if (section_empty(end.half_width, end.half_height)) return;
    double level = greater(0.5 * (s->mouth + s->top), end.centre);
    struct vector away, p = {x, 0, lesser(level, end.centre + end.half_height)};
    look_at(s, p, &away);
}

/* All panels are looked at roughly before any is looked at closely: most are never near. */
double wall_least(const struct plug *plug, const struct bore_fill *fill) {
    const struct outline *outline = &plug->outline;
    struct search s = {.at = fill->at,
                       .radius = fill->drill / 2,
                       .mouth = fill->mouth_z,
                       .top = fill->mouth_z + fill->depth,
                       .least = INFINITY};
    search_end(&s, outline, 0);
    search_end(&s, outline, outline->length);
    for (int pass = 0; pass < 2; pass++)
        for (int row = 0; row + 1 < outline->back.count; row++) {
            struct panel panels[PANELS_MOST];
            int count = panels_between(outline, row, 0, panels);
            for (int i = 0; i < count; i++) search_panel(&s, &panels[i], pass == 1);
        }
    return s.least;
}

bool wall_short(double wood, double due) {
    const double micrometre = 1e-6;
    return wood <= 0 || wood < due - micrometre;
}

bool wall_enough(double wall) {
    return !wall_short(wall, reference_fact[FACT_WALL_LEAST].value);
}

double wall_doubtful(const struct plug *plug) {
    bool low = wall_short(plug->bare.height, reference_fact[FACT_BODY_LOW].value);
    return reference_fact[low ? FACT_WALL_DOUBTFUL_LOW : FACT_WALL_DOUBTFUL].value;
}
