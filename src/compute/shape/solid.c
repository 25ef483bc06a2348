/* Integrals over the bare or finished body, panel by panel (panel.h): volume exactly, surface by
 * Gauss-Legendre quadrature along x and, for an oval or a round corner, around the section.
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

static const double PI = 3.14159265358979323846;

/* Around a quarter: 12 Gauss points, which a section five times as wide as high needs for 1e-6. */
enum { AROUND = 12 };

struct around {
    double cosine[AROUND], sine[AROUND], weight[AROUND];
};

static struct around around_of_quarter(void) {
    static const double at[AROUND / 2] = {0.009219682876640378, 0.0479413718147626,
                                          0.1150486629028477,   0.2063410228566913,
                                          0.3160842505009099,   0.4373832957442655};
    static const double weight[AROUND / 2] = {0.02358766819325601, 0.05346966299765944,
                                              0.08003916427167306, 0.1015837133615328,
                                              0.1167462682691773,  0.1245735229067013};
    struct around around;
    for (int i = 0; i < AROUND / 2; i++) {
        int j = AROUND - 1 - i;
        double c = cos(0.5 * PI * at[i]), s = sin(0.5 * PI * at[i]);
        around.cosine[i] = around.sine[j] = c;
        around.sine[i] = around.cosine[j] = s;
        around.weight[i] = around.weight[j] = 0.5 * PI * weight[i];
    }
    return around;
}

/* Surface over a length along x, and its first moment of height. */
struct band {
    double surface, moment_z;
};

static struct band oval_band(const struct section *s, const struct section *slope,
                             const struct around *around) {
    double h = s->half_height, a = s->half_width;
    double rise = a * slope->centre, sum = 0, lift = 0;
    for (int i = 0; i < AROUND; i++) {
        double c2 = around->cosine[i] * around->cosine[i], sine = around->sine[i];
        double s2 = sine * sine, round = h * h * c2 + a * a * s2;
        double even = h * slope->half_width * c2 + a * slope->half_height * s2;
        double upper = even + rise * sine, lower = even - rise * sine;
        double above = around->weight[i] * sqrt(round + upper * upper);
        double below = around->weight[i] * sqrt(round + lower * lower);
        sum += above + below;
        lift += sine * (above - below);
    }
    return (struct band){2 * sum, 2 * (s->centre * sum + h * lift)};
}

/* The corners and the flat of the back (sign 1) or of the belly (sign -1). */
static struct band edge_band(const struct section *s, const struct section *slope, double sign,
                             const struct around *around) {
    double h = s->half_height, a = s->half_width, r = s->radius;
    double climb = slope->half_height + sign * slope->centre; /* outward, of the flat */
    double flat = 2 * (a - r) * sqrt(1 + climb * climb), sum = 0, lift = 0;
    for (int i = 0; r > 0 && i < AROUND; i++) {
        double spread = (slope->half_width - slope->radius) * around->cosine[i] +
                        (climb - slope->radius) * around->sine[i] + slope->radius;
        double part = 2 * r * around->weight[i] * sqrt(1 + spread * spread);
        sum += part;
        lift += part * around->sine[i];
    }
    double moment =
        flat * (s->centre + sign * h) + sum * (s->centre + sign * (h - r)) + sign * r * lift;
    return (struct band){flat + sum, moment};
}

static struct band band_of(const struct section *s, const struct section *slope,
                           const struct around *around) {
    if (s->shape == SECTION_OVAL) return oval_band(s, slope, around);
    struct band back = edge_band(s, slope, 1, around), belly = edge_band(s, slope, -1, around);
    double side =
        4 * (s->half_height - s->radius) * sqrt(1 + slope->half_width * slope->half_width);
    return (struct band){back.surface + belly.surface + side,
                         back.moment_z + belly.moment_z + side * s->centre};
}

/* Sums that the centroids are made of. */
struct sums {
    struct panel_integrals inside;
    double surface, surface_x, surface_z, plan_area;
};

static void add_surface(struct sums *sums, double surface, double x, double moment_z) {
    sums->surface += surface;
    sums->surface_x += surface * x;
    sums->surface_z += moment_z;
}

static void add_panel(struct sums *sums, const struct panel *panel, double length,
                      const struct around *around) {
    double wide = panel->end - panel->start;
    struct panel_integrals inside = panel_integrate(panel, panel->start, panel->end);
    sums->inside.volume += inside.volume;
    sums->inside.moment_x += inside.moment_x;
    sums->inside.moment_z += inside.moment_z;
    int points = wide > length / 24 ? 6 : wide > length / 60 ? 4 : wide > length / 120 ? 3 : 2;
    const struct gauss *gauss = &gauss_rule[points - 1];
    for (int i = 0; i < points; i++) {
        double x = panel->start + wide * gauss->at[i], weight = wide * gauss->weight[i];
        struct section slope, section = panel_slopes(panel, x, &slope);
        struct band band = band_of(&section, &slope, around);
        add_surface(sums, weight * band.surface, x, weight * band.moment_z);
        sums->plan_area += weight * 2 * section.half_width;
    }
}

static void add_face(struct sums *sums, const struct outline *outline, double x, double finish) {
    struct section face = section_at(outline, x, finish);
    double area = section_area(&face);
    add_surface(sums, area, x, area * face.centre);
}

static double highest(const struct curve *curve) {
    double value = curve->y[0]; /* between two points a curve rises or falls: no need to look */
    for (int i = 1; i < curve->count; i++) value = fmax(value, curve->y[i]);
    return value;
}

struct solid solid_of(const struct outline *outline, double finish) {
    struct around around = around_of_quarter();
    struct sums sums = {0};
    for (int row = 0; row + 1 < outline->back.count; row++) {
        struct panel panels[PANELS_MOST];
        int count = panels_between(outline, row, finish, panels);
        for (int i = 0; i < count; i++) add_panel(&sums, &panels[i], outline->length, &around);
    }
    add_face(&sums, outline, 0, finish);
    add_face(&sums, outline, outline->length, finish);
    struct solid solid = {
        .volume = sums.inside.volume,
        .surface = sums.surface,
        .plan_area = sums.plan_area,
        .width = highest(&outline->width) + 2 * finish,
        .top = highest(&outline->back) + finish,
        .bottom = -highest(&outline->belly) - finish,
    };
    solid.height = solid.top - solid.bottom;
    if (solid.volume > 0) {
        solid.centroid_x = sums.inside.moment_x / solid.volume;
        solid.centroid_z = sums.inside.moment_z / solid.volume;
    }
    if (solid.surface > 0) {
        solid.surface_x = sums.surface_x / solid.surface;
        solid.surface_z = sums.surface_z / solid.surface;
    }
    return solid;
}
