#include "compute/shape/section.h"

#include <math.h>

static const double PI = 3.14159265358979323846;

struct section section_at(const struct outline *outline, double x, double finish) {
    double back = curve_at(&outline->back, x), belly = curve_at(&outline->belly, x);
    struct section section = {
        .shape = outline->shape,
        .half_height = fmax(0.5 * (back + belly), 0),
        .centre = 0.5 * (back - belly),
        .half_width = fmax(0.5 * curve_at(&outline->width, x), 0),
    };
    if (outline->shape == SECTION_ROUNDED)
        section.radius = fmin(outline->radius, fmin(section.half_width, section.half_height));
    if (section_empty(section.half_width, section.half_height)) return section;
    section.half_height += finish;
    section.half_width += finish;
    if (outline->shape != SECTION_OVAL) section.radius += finish;
    return section;
}

double section_half_width(const struct section *section, double z) {
    double up = fabs(z - section->centre);
    if (section->half_height <= 0 || up >= section->half_height) return 0;
    if (section->shape == SECTION_OVAL) {
        double t = up / section->half_height;
        return section->half_width * sqrt(1 - t * t);
    }
    double round = up - (section->half_height - section->radius), r = section->radius;
    if (round <= 0) return section->half_width;
    return section->half_width - r + sqrt(fmax(r * r - round * round, 0));
}

double section_area(const struct section *section) {
    double box = section->half_width * section->half_height;
    if (section->shape == SECTION_OVAL) return PI * box;
    return 4 * box - (4 - PI) * section->radius * section->radius;
}
