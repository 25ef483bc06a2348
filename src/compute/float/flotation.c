/* The level is found by Newton's method on the square root of the volume (a volume grows about as
 * the square of the depth of a keel or a hump), inside a bracket that is halved where a step leads
 * out of it or the volume stays far off.  The last, small miss is made good to first order: a sheet
 * of that volume at the waterplane, whose centre is the waterplane's.
 */
#include "compute/float/flotation.h"

#include <math.h>

enum { LEVEL_STEPS = 200 };

struct pose pose_of(double attitude, double heel) {
    const double right_angle = 1.57079632679489662, shy = 1e-6;
    double within = fmin(fmax(attitude, shy - right_angle), right_angle - shy);
    return (struct pose){sin(within), cos(within), heel != 0 ? sin(heel) : 0, cos(heel)};
}

void displacement_greatest(const struct hull *hull, const struct burden *burden, double *volume,
                           double *moment_x, double *moment_z) {
    const struct plate *plate = &hull->plate;
    double area, moment;
    plate_area(plate, 0, plate->extent, &area, &moment);
    double lip = plate->thickness * area, reach = plate->thickness * moment;
    *volume = hull->volume + lip + burden->hung_volume;
    *moment_x = hull->moment_x + lip * plate->mouth_x + reach * plate->u_x +
                burden->hung_volume * burden->hung_x;
    *moment_z = hull->moment_z + lip * plate->mouth_z + reach * plate->u_z +
                burden->hung_volume * burden->hung_z;
}

bool displacement_of(const struct hull *hull, const struct burden *burden, double volume,
                     struct displacement *d) {
    *d = (struct displacement){
        .hull = hull,
        .volume = volume,
        .hung = burden->hung_volume,
        .hung_x = burden->hung_x,
        .hung_z = burden->hung_z,
    };
    displacement_greatest(hull, burden, &d->all, &d->all_x, &d->all_z);
    double wet = volume - d->hung, dry = d->all - volume;
    if (!(wet > 0 && dry >= 0)) return false;
    d->dry = dry < wet;
    d->part = d->dry ? dry : wet;
    return true;
}

/* The plane in the pose that bounds the part: seen from the other side where that is the dry part.
 */
static struct plane plane_of(const struct displacement *d, const struct pose *pose, double level) {
    double side = d->dry ? -1 : 1;
    return (struct plane){side * pose->sine, pose->cosine, side * pose->p, side * pose->q,
                          side * level};
}

/* Levels between which the whole hull lies. */
static void level_range(const struct hull *hull, const struct pose *pose, double *low,
                        double *high) {
    double nx = pose->sine, ny = pose->cosine * pose->p, nz = pose->cosine * pose->q;
    double aside = hull->half_width * fabs(ny);
    *low = fmin(0, nx * hull->length) + fmin(nz * hull->top, nz * hull->bottom) - aside;
    *high = fmax(0, nx * hull->length) + fmax(nz * hull->top, nz * hull->bottom) + aside;
    const struct plate *lip = &hull->plate;
    if (!lip->given) return;
    double mouth = nx * lip->mouth_x + nz * lip->mouth_z;
    double end = mouth + lip->extent * (nx * lip->u_x + nz * lip->u_z);
    *low = fmin(*low, fmin(mouth, end));
    *high = fmax(*high, fmax(mouth, end));
}

static double along_normal(const struct pose *pose, struct point3 at) {
    return pose->sine * at.x + pose->cosine * (pose->p * at.y + pose->q * at.z);
}

/* The plane below which the part has its volume, very nearly, and that part. */
static struct hull_part part_found(const struct displacement *d, const struct pose *pose,
                                   double guess, enum fineness fineness, struct plane *plane) {
    double low, high, side = d->dry ? -1 : 1;
    level_range(d->hull, pose, &low, &high);
    *plane = plane_of(d, pose, guess);
    double from = side * (d->dry ? high : low), to = side * (d->dry ? low : high);
    double enough = (fineness == HULL_FINE ? 1e-7 : 1e-2) * d->part, last = INFINITY;
    if (!(plane->level > from && plane->level < to)) plane->level = 0.5 * (from + to);
    for (int i = 0; i < LEVEL_STEPS; i++) {
        struct hull_part part = hull_below(d->hull, plane, fineness);
        double miss = part.volume - d->part;
        if (fabs(miss) <= enough) return part;
        if (miss > 0)
            to = plane->level;
        else
            from = plane->level;
        double root = sqrt(fmax(part.volume, 0) * d->part);
        double next = part.area > 0 ? plane->level - 2 * (part.volume - root) / part.area : from;
        bool slow = fabs(miss) > 0.5 * last && i % 3 == 2;
        if (slow || !(next > from && next < to)) next = 0.5 * (from + to);
        last = fabs(miss);
        if (next == plane->level) return part;
        plane->level = next;
    }
    return hull_below(d->hull, plane, fineness);
}

/* From the plane's own directions to the body's frame: a point at (s, m) in the plane. */
static struct point3 in_body(const struct plane *plane, double s, double m) {
    double up = plane->level * plane->cosine - s * plane->sine;
    return (struct point3){plane->level * plane->sine + s * plane->cosine,
                           up * plane->p + m * plane->q, up * plane->q - m * plane->p};
}

struct flotation flotation_in(const struct displacement *d, const struct pose *pose,
                              const struct flotation *near, double turn, enum fineness fineness) {
    struct plane plane;
    double turned = near ? along_normal(pose, near->centre) : NAN;
    double guess = near ? turned + near->bend * turn * turn : NAN;
    struct hull_part part = part_found(d, pose, guess, fineness, &plane);
    double side = d->dry ? -1 : 1, miss = d->part - part.volume;
    struct flotation found = {.level = side * plane.level, .area = part.area};
    double s = 0, m = 0;
    if (part.area > 0) {
        s = part.area_s / part.area;
        m = part.area_m / part.area;
        found.along = fmax(part.area_ss - s * part.area_s, 0);
        found.across = fmax(part.area_mm - m * part.area_m, 0);
        if (fabs(miss) < 2e-2 * d->part) found.level += side * miss / part.area;
    }
    if (near) found.bend = fabs(turn) > 1e-2 ? (found.level - turned) / (turn * turn) : near->bend;
    found.centre = in_body(&plane, s, m);
    double x = part.moment_x + miss * found.centre.x, y = part.moment_y + miss * found.centre.y;
    double z = part.moment_z + miss * found.centre.z;
    double base_x = d->dry ? d->all_x : d->hung * d->hung_x;
    double base_z = d->dry ? d->all_z : d->hung * d->hung_z;
    found.buoyancy = (struct point3){(base_x + side * x) / d->volume, side * y / d->volume,
                                     (base_z + side * z) / d->volume};
    return found;
}
