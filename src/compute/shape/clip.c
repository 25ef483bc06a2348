/* Everything is reckoned from the section's centre first and moved to the datum at the end.
 *
 * An oval is a unit circle drawn out by (a, h): the line p y + q z = t becomes the line at distance
 * u = t / k from the circle's centre, k = sqrt(a^2 p^2 + h^2 q^2), along N = (a p, h q) / k.  Of
 * the circle the area acos(-u) + u w lies below it, w = sqrt(1 - u^2), and the first moment of
 * that is -(2/3) w^3 N.
 *
 * A level line (p = 0) cuts a rounded section into a cap of circle and rectangle and a rectangle.
 * A slanting one leaves a polygon plus the segments that the corners' arcs bulge over its sides:
 * Green's theorem over the polygon's sides, with the segments added.
 */
#include "compute/shape/clip.h"

#include <math.h>

double clip_reach(const struct section *s, double p, double q) {
    if (s->shape != SECTION_OVAL)
        return (s->half_width - s->radius) * fabs(p) + (s->half_height - s->radius) * fabs(q) +
               s->radius;
    if (p == 0) return s->half_height;
    double across = s->half_width * p, up = s->half_height * q;
    return sqrt(across * across + up * up);
}

/* Area of the unit circle on the near side of a line at distance u, w = sqrt(1 - u^2). */
static double circle_below(double u, double w) {
    return acos(-u) + u * w;
}

static struct cut cut_oval(const struct section *s, double p, double q, double t, double k) {
    double a = s->half_width, h = s->half_height, box = a * h;
    double u = t / k, w = sqrt((1 - u) * (1 + u));
    double y = a * p / k, z = h * q / k; /* N */
    double moment = -2.0 / 3 * box * w * w * w;
    return (struct cut){
        .area = box * circle_below(u, w),
        .moment_y = moment * a * y,
        .moment_z = moment * h * z,
        .middle = u * (a * y * q - h * z * p),
        .half = w * box / k,
    };
}

/* The lower `depth` of a rounded section, no deeper than its middle; moment_z holds the moment. */
static struct cut cut_cap(const struct section *s, double depth) {
    double a = s->half_width, h = s->half_height, r = s->radius;
    struct cut cap = {.half = a};
    double round = fmin(depth, r), flat = 2 * (a - r) * round;
    cap.area = flat;
    cap.moment_z = flat * (0.5 * round - h);
    if (r > 0) {
        double u = (round - r) / r, w = sqrt(fmax((1 - u) * (1 + u), 0));
        double disc = r * r * circle_below(u, w);
        cap.area += disc;
        cap.moment_z -= disc * (h - r) + 2.0 / 3 * r * r * r * w * w * w;
        cap.half = a - r + r * w;
    }
    if (depth > r) {
        double wall = 2 * a * (depth - r);
        cap.area += wall;
        cap.moment_z += wall * (0.5 * (depth + r) - h);
    }
    return cap;
}

/* A level line at height t towards q = 1 or -1. */
static struct cut cut_level(const struct section *s, double q, double t) {
    struct cut cut = cut_cap(s, s->half_height - fabs(t));
    if (t > 0) cut.area = section_area(s) - cut.area; /* and the same moment: they sum to 0 */
    cut.moment_z *= q;
    return cut;
}

/* A line p y + q z = t with p, q > 0 and t < 0, and the rounded section that it cuts. */
struct slant {
    double p, q, t, a, h, r;
};

struct point {
    double y, z;
};

/* Sums of Green's theorem over sides that are walked with the inside to the left. */
struct sums {
    double area, moment_y, moment_z;
};

static void add_side(struct sums *sums, struct point from, struct point to) {
    double twice = from.y * to.z - to.y * from.z;
    sums->area += twice / 2;
    sums->moment_y += twice * (from.y + to.y) / 6;
    sums->moment_z += twice * (from.z + to.z) / 6;
}

/* The side along the chord of a corner's arc, and the segment that bulges over it. */
static void add_arc(struct sums *sums, struct point from, struct point to, struct point centre,
                    double r) {
    add_side(sums, from, to);
    double along_y = to.y - from.y, along_z = to.z - from.z;
    double square = along_y * along_y + along_z * along_z, chord = sqrt(square);
    double sine = chord < 2 * r ? chord / (2 * r) : 1; /* of half the angle */
    double area = r * r * (asin(sine) - sine * sqrt(1 - sine * sine));
    sums->area += area; /* its moment about the circle's centre: (2/3) (chord / 2)^3 outward */
    sums->moment_y += area * centre.y + square / 12 * along_z;
    sums->moment_z += area * centre.z - square / 12 * along_y;
}

/* The same for the whole quarter of a corner turned to (turn_y, turn_z), each 1 or -1. */
static void add_quarter(struct sums *sums, struct point from, struct point to, struct point centre,
                        double r, double turn_y, double turn_z) {
    add_side(sums, from, to);
    const double segment = 0.28539816339744831; /* pi/4 - 1/2 */
    double area = segment * r * r, moment = r * r * r / 6;
    sums->area += area;
    sums->moment_y += area * centre.y + moment * turn_y;
    sums->moment_z += area * centre.z + moment * turn_z;
}

/* Where the line leaves a corner's circle, going down and to the right. */
static struct point leaving(const struct slant *slant, struct point centre) {
    double r = slant->r, g = slant->p * centre.y + slant->q * centre.z - slant->t;
    double square = (r - g) * (r + g), w = square > 0 ? sqrt(square) : 0;
    return (struct point){centre.y - g * slant->p + w * slant->q,
                          centre.z - g * slant->q - w * slant->p};
}

/* The wet boundary from the lowest corner's arc to the right: where it begins and where it meets
 * the line. */
struct walk {
    struct sums sums;
    struct point begin, end;
    bool past; /* the lowest arc: all of its half towards this side is wet */
};

static struct walk walk_right(const struct slant *slant) {
    double p = slant->p, q = slant->q, t = slant->t, r = slant->r;
    double a = slant->a, h = slant->h, y = a - r, z = h - r;
    struct walk walk = {.begin = {-y, -h}, .past = true};
    if (t <= -p * y - q * h) { /* still on the lowest arc */
        walk.begin = walk.end = leaving(slant, (struct point){-y, -z});
        walk.past = false;
        return walk;
    }
    if (t <= p * y - q * h) { /* on the belly */
        walk.end = (struct point){(t + q * h) / p, -h};
        add_side(&walk.sums, walk.begin, walk.end);
        return walk;
    }
    struct point arc = {y, -h}, side = {a, -z}, centre = {y, -z};
    add_side(&walk.sums, walk.begin, arc);
    if (t <= p * a - q * z) { /* on the next arc */
        walk.end = leaving(slant, centre);
        if (r > 0) add_arc(&walk.sums, arc, walk.end, centre, r);
        return walk;
    }
    walk.end = (struct point){a, (t - p * a) / q};
    if (r > 0) add_quarter(&walk.sums, arc, side, centre, r, 1, -1);
    add_side(&walk.sums, side, walk.end);
    return walk;
}

/* Mirrored so that the line falls to the right (p, q > 0), and point-mirrored so that it passes
 * below the centre: the wet part is then the lowest arc with the boundary to its right, and upwards
 * the same with y and z exchanged. */
static struct cut cut_slanting(const struct section *s, double p, double q, double t) {
    struct slant slant = {fabs(p), fabs(q), -fabs(t), s->half_width, s->half_height, s->radius};
    struct slant swapped = {slant.q, slant.p, slant.t, slant.h, slant.a, slant.r};
    struct walk right = walk_right(&slant), up = walk_right(&swapped);
    struct point top = {up.end.z, up.end.y}, left = {up.begin.z, up.begin.y};
    struct sums sums = {right.sums.area + up.sums.area, right.sums.moment_y + up.sums.moment_z,
                        right.sums.moment_z + up.sums.moment_y};
    add_side(&sums, right.end, top);
    struct point centre = {slant.r - slant.a, slant.r - slant.h};
    if (right.past && up.past)
        add_quarter(&sums, left, right.begin, centre, slant.r, -1, -1);
    else if (slant.r > 0)
        add_arc(&sums, left, right.begin, centre, slant.r);
    double right_end = right.end.y * slant.q - right.end.z * slant.p;
    double top_end = top.y * slant.q - top.z * slant.p;
    double mirror_y = copysign(1, p), mirror_z = copysign(1, q);
    return (struct cut){
        .area = t > 0 ? section_area(s) - sums.area : sums.area,
        .moment_y = mirror_y * sums.moment_y,
        .moment_z = mirror_z * sums.moment_z,
        .middle = (t > 0 ? -0.5 : 0.5) * mirror_y * mirror_z * (right_end + top_end),
        .half = 0.5 * fabs(right_end - top_end),
    };
}

struct cut clip_section(const struct section *s, double p, double q, double level) {
    double t = level - q * s->centre, k = clip_reach(s, p, q);
    struct cut cut = {0};
    if (t <= -k || section_empty(s->half_width, s->half_height)) return cut;
    if (t >= k)
        cut.area = section_area(s);
    else if (s->shape == SECTION_OVAL)
        cut = cut_oval(s, p, q, t, k);
    else if (p == 0)
        cut = cut_level(s, q, t);
    else
        cut = cut_slanting(s, p, q, t);
    cut.moment_z += s->centre * cut.area;
    cut.middle -= p * s->centre;
    return cut;
}
