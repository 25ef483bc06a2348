/* Integrals over the bare or finished body, panel by panel (panel.h): volume exactly, surface by
 * Gauss-Legendre quadrature along x and, for an oval or a round corner, around the section.  Where
 * a lower rule does not agree with the higher one, the stretch is halved both ways: a steep short
 * step needs that, a fair body almost nowhere.
 *
 * With the surface as r(x, f) its element is |dr/dx x dr/df| dx df.
 * - An oval (a cos f, zc + h sin f):
 *   sqrt(h^2 cos^2 f + a^2 sin^2 f + (h a' cos^2 f + a h' sin^2 f + a zc' sin f)^2).
 * - A flat side: its length times sqrt(1 + slope^2).
 * - A corner of radius r: r sqrt(1 + ((a - r)' cos f + (z - r)' sin f + r')^2), with z the edge of
 *   back or belly that it rounds.
 */
#include "compute/shape/solid.h"

#include <math.h>

#include "compute/shape/panel.h"
#include "compute/shape/section.h"

/* --- surface --------------------------------------------------------------------------------- */

/* A part of the surface, with its first moments. */
struct patch {
    double surface, moment_x, moment_z;
};

static void add_patch(struct patch *sum, double weight, struct patch part) {
    sum->surface += weight * part.surface;
    sum->moment_x += weight * part.moment_x;
    sum->moment_z += weight * part.moment_z;
}

/* Faces of a panel: an oval's; or the corners and flats of back and belly, and both sides. */
enum face { FACE_OVAL, FACE_BACK, FACE_BELLY, FACE_FLATS };

/* A stretch of a face: along x, and around a quarter by the angle f from the side (0) upward. */
struct stretch {
    const struct panel *panel;
    enum face face;
    double x0, x1, f0, f1;
};

struct around {
    double cosine[GAUSS_MOST], sine[GAUSS_MOST], weight[GAUSS_MOST];
    int count;
};

static struct around around_of(double f0, double f1, int points) {
    const struct gauss *gauss = &gauss_rule[points - 1];
    struct around around = {.count = points};
    for (int i = 0; i < points; i++) {
        double f = f0 + (f1 - f0) * gauss->at[i];
        around.cosine[i] = cos(f);
        around.sine[i] = sin(f);
        around.weight[i] = (f1 - f0) * gauss->weight[i];
    }
    return around;
}

static struct patch oval_rim(const struct section *s, const struct section *slope,
                             const struct around *around) {
    double h = s->half_height, a = s->half_width;
    double rise = a * slope->centre, sum = 0, lift = 0;
    for (int i = 0; i < around->count; i++) {
        double c2 = around->cosine[i] * around->cosine[i], sine = around->sine[i];
        double s2 = sine * sine, round = h * h * c2 + a * a * s2;
        double even = h * slope->half_width * c2 + a * slope->half_height * s2;
        double upper = even + rise * sine, lower = even - rise * sine;
        double above = around->weight[i] * sqrt(round + upper * upper);
        double below = around->weight[i] * sqrt(round + lower * lower);
        sum += above + below;
        lift += sine * (above - below);
    }
    return (struct patch){2 * sum, 0, 2 * (s->centre * sum + h * lift)};
}

/* The corners of the back (sign 1) or of the belly (sign -1). */
static struct patch corner_rim(const struct section *s, const struct section *slope, double sign,
                               const struct around *around) {
    double r = s->radius, climb = slope->half_height + sign * slope->centre, sum = 0, lift = 0;
    for (int i = 0; i < around->count; i++) {
        double spread = (slope->half_width - slope->radius) * around->cosine[i] +
                        (climb - slope->radius) * around->sine[i] + slope->radius;
        double part = 2 * r * around->weight[i] * sqrt(1 + spread * spread);
        sum += part;
        lift += part * around->sine[i];
    }
    return (struct patch){sum, 0,
                          sum * (s->centre + sign * (s->half_height - r)) + sign * r * lift};
}

/* The flats of back and belly and both sides. */
static struct patch flat_rim(const struct section *s, const struct section *slope) {
    double up = slope->half_height + slope->centre, down = slope->half_height - slope->centre;
    double back = 2 * (s->half_width - s->radius) * sqrt(1 + up * up);
    double belly = 2 * (s->half_width - s->radius) * sqrt(1 + down * down);
    double side =
        4 * (s->half_height - s->radius) * sqrt(1 + slope->half_width * slope->half_width);
    double sum = back + belly + side;
    return (struct patch){sum, 0, sum * s->centre + (back - belly) * s->half_height};
}

static struct patch rim_of(enum face face, const struct section *s, const struct section *slope,
                           const struct around *around) {
    if (face == FACE_OVAL) return oval_rim(s, slope, around);
    if (face == FACE_FLATS) return flat_rim(s, slope);
    return corner_rim(s, slope, face == FACE_BACK ? 1 : -1, around);
}

static struct patch stretch_sum(const struct stretch *stretch, int along, int round) {
    const struct gauss *gauss = &gauss_rule[along - 1];
    struct around around = around_of(stretch->f0, stretch->f1, round);
    struct patch sum = {0};
    for (int i = 0; i < along; i++) {
        double wide = stretch->x1 - stretch->x0, x = stretch->x0 + wide * gauss->at[i];
        struct section slope, section = panel_slopes(stretch->panel, x, &slope);
        struct patch rim = rim_of(stretch->face, &section, &slope, &around);
        rim.moment_x = x * rim.surface;
        add_patch(&sum, wide * gauss->weight[i], rim);
    }
    return sum;
}

/* Adds a stretch, halved both ways until a lower rule agrees with the higher to `allowed` (m2; a
 * moment is compared by the body's length). */
static void add_stretch(struct patch *sum, const struct stretch *stretch, double allowed,
                        double length, int halvings) {
    bool flat = stretch->face == FACE_FLATS;
    struct patch whole = stretch_sum(stretch, 6, flat ? 1 : 6);
    struct patch lower = stretch_sum(stretch, 4, flat ? 1 : 5);
    double off =
        fabs(whole.surface - lower.surface) +
        (fabs(whole.moment_x - lower.moment_x) + fabs(whole.moment_z - lower.moment_z)) / length;
    if (!(off > allowed) || halvings == 0) {
        add_patch(sum, 1, whole);
        return;
    }
    double x[] = {stretch->x0, 0.5 * (stretch->x0 + stretch->x1), stretch->x1};
    double f[] = {stretch->f0, 0.5 * (stretch->f0 + stretch->f1), stretch->f1};
    for (int i = 0; i < (flat ? 2 : 4); i++) {
        struct stretch part = *stretch;
        part.x0 = x[i % 2], part.x1 = x[i % 2 + 1];
        if (!flat) part.f0 = f[i / 2], part.f1 = f[i / 2 + 1];
        add_stretch(sum, &part, allowed, length, halvings - 1);
    }
}

/* Sums that the centroids are made of. */
struct sums {
    struct panel_integrals inside;
    struct patch outside;
    double plan_area, plan_x, plan_z; /* and its moments */
};

static void add_outside(struct sums *sums, const struct panel *panel, const struct outline *outline,
                        double allowed) {
    enum { HALVINGS = 12 };
    const double eighth = 0.78539816339744831; /* of a turn */
    enum face first = panel->shape == SECTION_OVAL ? FACE_OVAL : FACE_BACK;
    enum face last = panel->shape == SECTION_OVAL ? FACE_OVAL : FACE_FLATS;
    if (panel->shape != SECTION_OVAL && !(panel->radius + panel->finish > 0)) first = FACE_FLATS;
    for (enum face face = first; face <= last; face++)
        for (int half = 0; half < (face == FACE_FLATS ? 1 : 2); half++) {
            struct stretch stretch = {.panel = panel,
                                      .face = face,
                                      .x0 = panel->start,
                                      .x1 = panel->end,
                                      .f0 = eighth * half,
                                      .f1 = eighth * (half + 1)};
            add_stretch(&sums->outside, &stretch, allowed, outline->length, HALVINGS);
        }
}

static void add_panel(struct sums *sums, const struct panel *panel) {
    struct panel_integrals inside = panel_integrate(panel, panel->start, panel->end);
    sums->inside.volume += inside.volume;
    sums->inside.moment_x += inside.moment_x;
    sums->inside.moment_z += inside.moment_z;
    const struct gauss *gauss = &gauss_rule[3]; /* exact to degree 7: that of width times centre */
    double wide = panel->end - panel->start;
    for (int i = 0; i < 4; i++) {
        double x = panel->start + wide * gauss->at[i];
        struct section section = panel_section(panel, x);
        double area = wide * gauss->weight[i] * 2 * section.half_width;
        sums->plan_area += area;
        sums->plan_x += area * x;
        sums->plan_z += area * section.centre;
    }
}

static void add_face(struct sums *sums, const struct outline *outline, double x, double finish) {
    struct section face = section_at(outline, x, finish);
    add_patch(&sums->outside, section_area(&face), (struct patch){1, x, face.centre});
}

static double highest(const struct curve *curve) {
    double value = curve->y[0]; /* between two points a curve rises or falls: no need to look */
    for (int i = 1; i < curve->count; i++) value = fmax(value, curve->y[i]);
    return value;
}

struct solid solid_of(const struct outline *outline, double finish) {
    struct sums sums = {0};
    struct solid solid = {
        .width = highest(&outline->width) + 2 * finish,
        .top = highest(&outline->back) + finish,
        .bottom = -highest(&outline->belly) - finish,
    };
    solid.height = solid.top - solid.bottom;
    /* For one stretch; the true error lies far below the difference of the two rules. */
    double allowed = 1e-7 * outline->length * (solid.width + solid.height);
    for (int row = 0; row + 1 < outline->back.count; row++) {
        struct panel panels[PANELS_MOST];
        int count = panels_between(outline, row, finish, panels);
        for (int i = 0; i < count; i++) {
            add_panel(&sums, &panels[i]);
            add_outside(&sums, &panels[i], outline, allowed);
        }
    }
    add_face(&sums, outline, 0, finish);
    add_face(&sums, outline, outline->length, finish);
    solid.volume = sums.inside.volume;
    solid.surface = sums.outside.surface;
    solid.plan_area = sums.plan_area;
    if (solid.plan_area > 0) {
        solid.plan_x = sums.plan_x / solid.plan_area;
        solid.plan_z = sums.plan_z / solid.plan_area;
    }
    if (solid.volume > 0) {
        solid.centroid_x = sums.inside.moment_x / solid.volume;
        solid.centroid_z = sums.inside.moment_z / solid.volume;
    }
    if (solid.surface > 0) {
        solid.surface_x = sums.outside.moment_x / solid.surface;
        solid.surface_z = sums.outside.moment_z / solid.surface;
    }
    return solid;
}
