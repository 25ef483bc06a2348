/* A section of the body across x (docs/physics.md, 2.2 and 2.3).
 *
 * A section at x is centred at height `centre`, `half_height` high and `half_width` wide to either
 * side; `radius` rounds its corners.  A finish of dry thickness t grows every section that has an
 * area to half_width + t, half_height + t and radius + t; the length does not grow.  SI units.
 */
#ifndef PLUGWRIGHT_SHAPE_SECTION_H
#define PLUGWRIGHT_SHAPE_SECTION_H

#include "compute/shape/outline.h"

struct section {
    enum section_shape shape;                       /* oval, or square/rounded with `radius` */
    double half_height, centre, half_width, radius; /* m */
};

/* Whether a section has no area and so takes no finish: thinner than 1 pm either way, so that
 * rounding cannot make a point grow. */
static inline bool section_empty(double half_width, double half_height) {
    const double hair = 1e-12;
    return !(half_width > hair && half_height > hair);
}

struct section section_at(const struct outline *outline, double x, double finish);
/* Half-width of the section at height z above the datum; 0 beyond it. */
double section_half_width(const struct section *section, double z);
double section_area(const struct section *section);

#endif
