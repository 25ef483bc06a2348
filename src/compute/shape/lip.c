/* Widths over s: square, w; taper, from w at the mouth to tip at the end e, straight; round, w up
 * to e - w/2 and a half circle of radius w/2 from there.  All integrals in closed form.
 */
#include "compute/shape/lip.h"

#include <math.h>

double plate_width(const struct plate *plate, double s) {
    if (!plate->given || s < 0 || s > plate->extent) return 0;
    double radius = 0.5 * plate->width, beyond = s - (plate->extent - radius);
    switch (plate->shape) {
    case LIP_TAPER:
        return plate->width + (plate->tip - plate->width) * s / plate->extent;
    case LIP_ROUND:
        return beyond > 0 ? 2 * sqrt(fmax(radius * radius - beyond * beyond, 0)) : plate->width;
    case LIP_SQUARE:
    default:
        return plate->width;
    }
}

/* Integrals of the width, and of s times the width, from s = 0. */
struct reach {
    double area, moment;
};

static struct reach taper_reach(const struct plate *plate, double s) {
    double w = plate->width, change = (plate->tip - w) / plate->extent;
    return (struct reach){s * (w + s * change / 2), s * s * (w / 2 + s * change / 3)};
}

static struct reach round_reach(const struct plate *plate, double s) {
    double r = 0.5 * plate->width, centre = plate->extent - r, straight = fmin(s, centre);
    struct reach sum = {plate->width * straight, plate->width * straight * straight / 2};
    if (s <= centre || !(r > 0)) return sum;
    double t = fmin(s - centre, r), w = sqrt((r - t) * (r + t));
    double disc = t * w + r * r * asin(t / r);
    sum.area += disc;
    sum.moment += centre * disc + 2.0 / 3 * (r * r * r - w * w * w);
    return sum;
}

static struct reach reach_to(const struct plate *plate, double s) {
    switch (plate->shape) {
    case LIP_TAPER:
        return taper_reach(plate, s);
    case LIP_ROUND:
        return round_reach(plate, s);
    case LIP_SQUARE:
    default:
        return (struct reach){plate->width * s, plate->width * s * s / 2};
    }
}

void plate_area(const struct plate *plate, double s0, double s1, double *area, double *moment) {
    *area = *moment = 0;
    if (!plate->given || !(plate->extent > 0)) return;
    s0 = fmin(fmax(s0, 0), plate->extent);
    s1 = fmin(fmax(s1, 0), plate->extent);
    struct reach from = reach_to(plate, s0), to = reach_to(plate, s1);
    *area = to.area - from.area;
    *moment = to.moment - from.moment;
}

/* Adds the stretch from s0 to s1, `share` of it. */
static void add_stretch(struct plate_part *part, const struct plate *plate, double s0, double s1,
                        double share) {
    double area, moment, strength = share * plate->thickness;
    plate_area(plate, s0, s1, &area, &moment);
    part->volume += strength * area;
    part->moment_x += strength * (area * plate->mouth_x + moment * plate->u_x);
    part->moment_z += strength * (area * plate->mouth_z + moment * plate->u_z);
}

/* A plate that lies level would dip in all at once, mouth first or end first.  Below a slope of
 * 1e-7 it dips in over the height that it has at that slope, partly from the one end and partly
 * from the other, so that nothing jumps. */
struct plate_part plate_below(const struct plate *plate, double nx, double nz, double level) {
    struct plate_part part = {0};
    if (!plate->given || !(plate->extent > 0)) return part;
    const double level_enough = 1e-7;
    double slope = plate->u_x * nx + plate->u_z * nz, steep = fabs(slope);
    double mouth_first = steep < level_enough ? 0.5 + 0.5 * slope / level_enough : slope > 0;
    if (steep < level_enough) steep = level_enough;
    double middle = nx * plate->mouth_x + nz * plate->mouth_z + 0.5 * slope * plate->extent;
    double wet = 0.5 * plate->extent + (level - middle) / steep; /* how far down the plate */
    wet = fmin(fmax(wet, 0), plate->extent);
    double dry = plate->extent - wet, end_first = 1 - mouth_first;
    if (mouth_first > 0) add_stretch(&part, plate, 0, wet, mouth_first);
    if (end_first > 0) add_stretch(&part, plate, dry, plate->extent, end_first);
    if (wet == 0 || dry == 0) return part;
    double s = mouth_first * wet + end_first * dry;
    double width = mouth_first * plate_width(plate, wet) + end_first * plate_width(plate, dry);
    part.rate = plate->thickness * width / steep;
    part.trace_x = plate->mouth_x + s * plate->u_x;
    part.trace_z = plate->mouth_z + s * plate->u_z;
    return part;
}
