/* A section across the flow feels 1/2 rho v^2 C e b of it a metre, b its breadth across the flow, C
 * the drag of a cylinder as slender as the body and e the change that a flat or sharp-edged section
 * makes (Allen and Perkins 1951, NACA TR 1048; Jorgensen 1977, NASA TR R-474, equation 2.12).
 *
 * Munk's couple is that of a spheroid as slender as the body, shared out over its length by the
 * sections' breadth.  With E the eccentricity of a spheroid and l = ln((1 + E) / (1 - E))
 *     alpha = 2 (1 - E^2) (l / 2 - E) / E^3,  beta = 1 / E^2 - (1 - E^2) l / (2 E^3)
 *     k along = alpha / (2 - alpha),  k athwart = beta / (2 - beta)            (Lamb, article 114)
 */
#include "compute/running/across.h"

#include <math.h>

#include "compute/shape/panel.h"
#include "model/reference.h"

static const double PI = 3.14159265358979323846;

double across_cylinder(double slenderness) {
    const struct cylinder_row *row = reference_cylinder;
    const struct cylinder_row *last = &row[reference_cylinder_count - 1];
    if (slenderness <= row->slenderness) return row->drag;
    while (row < last && slenderness > row[1].slenderness) row++;
    if (row == last) return row->drag;
    double share = (slenderness - row->slenderness) / (row[1].slenderness - row->slenderness);
    return row->drag + share * (row[1].drag - row->drag);
}

double across_section(enum section_shape shape, double broad, double deep, double radius) {
    double least = reference_fact[FACT_SECTION_LEAST].value;
    double most = reference_fact[FACT_SECTION_MOST].value, edge = 1;
    if (shape != SECTION_OVAL)
        edge += reference_fact[FACT_CORNER_DRAG].value * (1 - radius / fmin(broad, deep));
    return fmin(fmax(edge * broad / deep, least), most);
}

void across_spheroid(double slenderness, double *along, double *athwart) {
    double rest = 1 / (slenderness * slenderness), square = 1 - rest; /* 1 - E^2, E^2 */
    double e = sqrt(square), l = log((1 + e) / (1 - e)), cube = e * square;
    double alpha = 2 * rest * (l / 2 - e) / cube;
    double beta = 1 / square - rest * l / (2 * cube);
    *along = alpha / (2 - alpha);
    *athwart = beta / (2 - beta);
}

static double girth_of(const struct outline *outline, double finish) {
    double girth = 0;
    for (int i = 0; i < outline->back.count; i++) {
        struct section section = section_at(outline, outline->back.x[i], finish);
        girth = fmax(girth, section_area(&section));
    }
    return girth;
}

/* Sums over the sections, the drag of the cylinder and Munk's share left out. */
struct sums {
    struct across across;
    double volume, moment_z;
};

static void add_section(struct sums *sums, const struct section *s, double x, double wide) {
    double a = s->half_width, h = s->half_height;
    struct across *c = &sums->across;
    if (section_empty(a, h)) return;
    double plan = wide * 2 * a * across_section(s->shape, a, h, s->radius);
    double side = wide * 2 * h * across_section(s->shape, h, a, s->radius);
    double volume = wide * section_area(s);
    c->plan += plan;
    c->plan_x += plan * x;
    c->side += side;
    c->side_x += side * x;
    c->side_z += side * s->centre;
    c->heave += wide * PI * a * a;
    c->sway += wide * PI * h * h;
    sums->volume += volume;
    sums->moment_z += volume * s->centre;
}

/* The change by a flat section has kinks where it meets its bounds: parts this fine keep what they
 * cost below two in ten thousand, while the coefficients are known to one in ten. */
static void add_panel(struct sums *sums, const struct panel *panel) {
    enum { PARTS = 2 };
    const struct gauss *gauss = &gauss_rule[GAUSS_MOST - 1];
    double wide = (panel->end - panel->start) / PARTS;
    for (int part = 0; part < PARTS; part++)
        for (int i = 0; i < GAUSS_MOST; i++) {
            double x = panel->start + wide * (part + gauss->at[i]);
            struct section section = panel_section(panel, x);
            add_section(sums, &section, x, wide * gauss->weight[i]);
        }
}

struct across across_of(const struct outline *outline, double finish) {
    const double round = 1.0001; /* a sphere has no couple */
    struct sums sums = {0};
    for (int row = 0; row + 1 < outline->back.count; row++) {
        struct panel panels[PANELS_MOST];
        int count = panels_between(outline, row, finish, panels);
        for (int i = 0; i < count; i++)
            if (!panels[i].empty) add_panel(&sums, &panels[i]);
    }
    struct across a = sums.across;
    a.girth = girth_of(outline, finish);
    a.slenderness = outline->length / (2 * sqrt(a.girth / PI));
    double drag = across_cylinder(a.slenderness), along = 0, athwart = 0;
    if (a.slenderness > round) across_spheroid(a.slenderness, &along, &athwart);
    a.plan *= drag, a.plan_x *= drag;
    a.side *= drag, a.side_x *= drag, a.side_z *= drag;
    a.heave *= athwart - along, a.sway *= athwart - along;
    a.z = sums.volume > 0 ? sums.moment_z / sums.volume : 0;
    return a;
}
