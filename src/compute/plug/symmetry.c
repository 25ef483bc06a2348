/* One side's half-width y(z) grows to y k, k = (a + extra) / a, with a the section's half-width.
 * What that side gains, water displaced below the waterline and wood everywhere, has the moments
 *     S = integral over x of (k^2 - 1) integral over z of y^2 / 2
 * about the middle plane.  The fat side is lifted by rho_water S_wet and pulled down by rho_wood
 * S_all; the plug resists with M GM tan(heel) (small angles: any text of naval architecture). */
#include "compute/plug/symmetry.h"

#include <math.h>

#include "compute/shape/section.h"

enum { SLICES = 48, LAYERS = 32 };

/* Integral of y^2 / 2 over the section below height `level`, by the midpoint rule. */
static double half_moment(const struct section *s, double level) {
    double bottom = s->centre - s->half_height, top = fmin(s->centre + s->half_height, level);
    double sum = 0, step = (top - bottom) / LAYERS;
    for (int i = 0; i < LAYERS && step > 0; i++) {
        double y = section_half_width(s, bottom + (i + 0.5) * step);
        sum += y * y / 2 * step;
    }
    return sum;
}

double symmetry_lean(const struct plug *plug, const struct condition *finished, double extra) {
    double wet = 0, all = 0, step = plug->outline.length / SLICES;
    for (int i = 0; i < SLICES; i++) {
        double x = (i + 0.5) * step;
        struct section bare = section_at(&plug->outline, x, 0);
        if (bare.half_width <= 0 || bare.half_height <= 0) continue;
        double k = (bare.half_width + extra) / bare.half_width, gain = (k * k - 1) * step;
        double level = finished->rest.afloat ? rest_waterline(&finished->rest, x) : INFINITY;
        all += gain * half_moment(&bare, INFINITY);
        wet += gain * half_moment(&bare, level);
    }
    double moment = plug->water * wet - plug->wood_density * all;
    return atan(moment / (finished->burden.mass * finished->rest.gm));
}
