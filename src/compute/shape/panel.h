/* The body in panels: stretches along x over which every curve of the outline is one cubic and the
 * corner radius follows one rule, so that quadrature within a panel converges fast
 * (docs/physics.md, 2.4).  SI units.
 */
#ifndef PLUGWRIGHT_SHAPE_PANEL_H
#define PLUGWRIGHT_SHAPE_PANEL_H

#include "compute/shape/section.h"

enum { PANELS_MOST = 32 }; /* between two stations */

struct panel {
    double start, end;                            /* m from the nose */
    double origin;                                /* the station from which the cubics count */
    struct cubic half_height, centre, half_width; /* grown by the finish */
    enum section_shape shape;
    double radius; /* of the corners, bare, before the section limits it */
    double finish; /* already in the cubics; the corners' radius grows by it too */
    bool empty;    /* no section of it has an area */
};

/* The panels between stations `row` and `row` + 1. */
int panels_between(const struct outline *outline, int row, double finish,
                   struct panel panels[PANELS_MOST]);

struct section panel_section(const struct panel *panel, double x);
/* The section and how each of its measures changes along x. */
struct section panel_slopes(const struct panel *panel, double x, struct section *slopes);

struct panel_integrals {
    double volume, moment_x, moment_z; /* m3, m4 */
};

/* Over the whole sections from x0 to x1 within the panel: exact (the integrands are polynomials).
 */
struct panel_integrals panel_integrate(const struct panel *panel, double x0, double x1);

/* Gauss-Legendre nodes and weights on 0..1, for 1 to GAUSS_MOST points; row n - 1 has n points. */
enum { GAUSS_MOST = 6 };
struct gauss {
    double at[GAUSS_MOST], weight[GAUSS_MOST];
};
extern const struct gauss gauss_rule[GAUSS_MOST];

#endif
