/* Slot and bores in the plane y = 0 are convex and the same on both sides of it.  So of a nearest
 * pair of points and its mirror image the middles are as near, and lie in that plane: the distance
 * is that of the two rectangles in which the plane cuts them.
 *
 * What comes in from the flank, a socket or a bore, is a disc in the side view from y = floor
 * outward; its twin is its mirror image.  Two of those are as far apart as their discs.  The slot
 * goes all the way across, so that only the side view counts.  A bore of radius R is cut at the
 * distance s from its axis by a plane that stands across it: there it reaches sqrt(R^2 - s^2) to
 * the side.  In s both the way along the side view and the way across are convex and never
 * negative, and so is the length that they make: its least is found by golden sections. */
#include "compute/plug/opening.h"

#include <math.h>

struct point {
    double x, z;
};

/* A rectangle in the side view: centre, unit axis, half length along it, half width across. */
struct rectangle {
    struct point centre, axis;
    double half_length, half_width;
};

struct opening opening_of_slot(const struct plug *plug) {
    const struct plate *plate = &plug->plate;
    return (struct opening){
        .kind = OPENING_SLOT,
        .axis = {.x = plate->mouth_x, .z = plate->mouth_z, .u_x = -plate->u_x, .u_z = -plate->u_z},
        .depth = plug->recipe->lip->slot,
        .width = plug->recipe->lip->thickness};
}

struct opening opening_of_sockets(const struct plug *plug) {
    const struct eyes *eyes = plug->recipe->eyes;
    return (struct opening){.kind = OPENING_SOCKETS,
                            .axis = axis_of(plug, SIDE_FLANK, eyes->at, eyes->up),
                            .depth = eyes->depth,
                            .width = eyes->size};
}

/* A wire along the body has its mouth in an end, which may be narrow: its inner half counts, where
 * it holds. */
struct opening opening_of_wire(const struct pilot *pilot, int fitting) {
    return (struct opening){
        .kind = OPENING_WIRE,
        .index = fitting,
        .screw = pilot->screw,
        .axis = {.x = pilot->mouth_x, .z = pilot->mouth_z, .u_x = pilot->u_x, .u_z = pilot->u_z},
        .depth = pilot->depth,
        .width = pilot->diameter,
        .outer = pilot->depth / 2};
}

struct opening opening_of_bore(int bore, const struct bore_fill *fill) {
    return (struct opening){.kind = OPENING_BORE,
                            .index = bore,
                            .axis = fill->axis,
                            .depth = fill->depth,
                            .width = fill->drill,
                            .outer = fmax(fill->depth - fill->slug, 0)};
}

struct opening opening_of_chamber(int chamber, const struct hollow *hollow) {
    return (struct opening){.kind = OPENING_CHAMBER,
                            .index = chamber,
                            .axis = hollow->axis,
                            .depth = hollow->depth,
                            .width = hollow->drill,
                            .outer = hollow->stopper};
}

int opening_of_chambers(const struct plug *plug, struct opening openings[MAX_CHAMBERS]) {
    int count = plug->recipe->chamber_count;
    for (int i = 0; i < count; i++) {
        struct hollow hollow = hollow_of(plug, i);
        openings[i] = opening_of_chamber(i, &hollow);
    }
    return count;
}

struct boring opening_boring(const struct recipe *recipe, const struct opening *opening) {
    if (opening->kind == OPENING_CHAMBER) {
        const struct chamber *c = &recipe->chambers[opening->index];
        return (struct boring){c, c->from, &c->from, &c->at, &c->up, &c->drill};
    }
    const struct bore *b = &recipe->ballast->bores[opening->index];
    return (struct boring){b, b->from, &b->from, &b->at, &b->up, &b->drill};
}

struct name opening_name(const struct opening *opening) {
    switch (opening->kind) {
    case OPENING_SLOT:
        return (struct name){.key = NAME_SLOT};
    case OPENING_SOCKETS:
        return (struct name){.key = NAME_SOCKETS};
    case OPENING_WIRE:
        return opening->screw
                   ? fitting_name(opening->index, NAME_SCREW_OF_TIE, NAME_SCREW_OF_HANGER)
                   : fitting_name(opening->index, NAME_WIRE_OF_TIE, NAME_WIRE_OF_HANGER);
    case OPENING_CHAMBER:
        return (struct name){NAME_CHAMBER, opening->index + 1, {0}};
    case OPENING_BORE:
    default:
        return (struct name){NAME_BORE, opening->index + 1, {0}};
    }
}

/* --- rectangles ------------------------------------------------------------------------------ */

static struct rectangle rectangle_of(const struct opening *o) {
    const struct axis *axis = &o->axis;
    double half = o->depth / 2;
    return (struct rectangle){
        {axis_x(axis, half), axis_z(axis, half)}, {axis->u_x, axis->u_z}, half, o->width / 2};
}

static struct point corner(const struct rectangle *r, int which) {
    double along = (which & 1 ? 1 : -1) * r->half_length;
    double across = (which & 2 ? 1 : -1) * r->half_width;
    return (struct point){r->centre.x + along * r->axis.x - across * r->axis.z,
                          r->centre.z + along * r->axis.z + across * r->axis.x};
}

/* Distance of a point from a rectangle; 0 inside. */
static double point_distance(const struct rectangle *r, struct point p) {
    double dx = p.x - r->centre.x, dz = p.z - r->centre.z;
    double along = fabs(dx * r->axis.x + dz * r->axis.z) - r->half_length;
    double across = fabs(-dx * r->axis.z + dz * r->axis.x) - r->half_width;
    return hypot(fmax(along, 0), fmax(across, 0));
}

/* Gap between the shadows of two rectangles on an axis; negative where they overlap. */
static double shadow_gap(const struct rectangle *a, const struct rectangle *b, struct point axis) {
    double span = 0, between = fabs((a->centre.x - b->centre.x) * axis.x +
                                    (a->centre.z - b->centre.z) * axis.z);
    const struct rectangle *both[] = {a, b};
    for (int i = 0; i < 2; i++) {
        const struct rectangle *r = both[i];
        span += r->half_length * fabs(r->axis.x * axis.x + r->axis.z * axis.z) +
                r->half_width * fabs(-r->axis.z * axis.x + r->axis.x * axis.z);
    }
    return between - span;
}

/* Separating axes: convex shapes are apart where some side's normal separates them.  Where they
 * overlap the answer is minus the least shift that parts them. */
static double rectangle_distance(const struct rectangle *a, const struct rectangle *b) {
    struct point axes[] = {a->axis, {-a->axis.z, a->axis.x}, b->axis, {-b->axis.z, b->axis.x}};
    double gap = -INFINITY, nearest = INFINITY;
    for (int i = 0; i < 4; i++) gap = fmax(gap, shadow_gap(a, b, axes[i]));
    if (gap <= 0) return gap;
    for (int i = 0; i < 4; i++) {
        nearest = fmin(nearest, point_distance(a, corner(b, i)));
        nearest = fmin(nearest, point_distance(b, corner(a, i)));
    }
    return nearest;
}

/* --- from the flank -----------------------------------------------------------------------------
 */

/* A pair and a bore in the middle plane, where that is cut `s` off its axis. */
static double slice_distance(const struct opening *pair, const struct opening *bore, double s) {
    const struct axis *u = &bore->axis;
    double dx = pair->axis.x - u->x, dz = pair->axis.z - u->z, radius = bore->width / 2;
    double along = dx * u->u_x + dz * u->u_z, off = -dx * u->u_z + dz * u->u_x - s;
    double beyond = fmax(fmax(along - bore->depth, -along), 0);
    double seen = fmax(hypot(beyond, off) - pair->width / 2, 0);
    double to_side = sqrt(fmax(radius * radius - s * s, 0));
    return hypot(seen, fmax(opening_inmost(pair) - to_side, 0));
}

/* Two pairs, of which one may lie between the halves and the other come from the flanks: then
 * there is wood between their floors too. */
static double pairs_distance(const struct opening *a, const struct opening *b) {
    double seen = hypot(a->axis.x - b->axis.x, a->axis.z - b->axis.z) - (a->width + b->width) / 2;
    if (axis_from_inside(&a->axis) == axis_from_inside(&b->axis)) return seen;
    bool a_inside = axis_from_inside(&a->axis);
    double between =
        a_inside ? opening_floor(b) - opening_floor(a) : opening_floor(a) - opening_floor(b);
    if (seen <= 0 || between <= 0) return fmax(seen, between);
    return hypot(seen, between);
}

static double pair_distance(const struct opening *pair, const struct opening *other) {
    const struct point eye = {pair->axis.x, pair->axis.z};
    if (other->kind == OPENING_SLOT) {
        struct rectangle slot = rectangle_of(other);
        return point_distance(&slot, eye) - pair->width / 2;
    }
    if (axis_level(&other->axis)) return pairs_distance(pair, other);
    enum { SECTIONS = 80 };
    const double golden = 0.61803398874989484820;
    double low = -other->width / 2, high = other->width / 2;
    double a = high - golden * (high - low), b = low + golden * (high - low);
    double at_a = slice_distance(pair, other, a), at_b = slice_distance(pair, other, b);
    for (int i = 0; i < SECTIONS && at_a > 0 && at_b > 0; i++) {
        if (at_a < at_b) {
            high = b, b = a, at_b = at_a;
            a = high - golden * (high - low);
            at_a = slice_distance(pair, other, a);
        } else {
            low = a, a = b, at_a = at_b;
            b = low + golden * (high - low);
            at_b = slice_distance(pair, other, b);
        }
    }
    return fmin(at_a, at_b);
}

double opening_between_floors(const struct opening *pair) {
    return 2 * opening_floor(pair);
}

double opening_distance(const struct opening *a, const struct opening *b) {
    if (axis_level(&a->axis)) return pair_distance(a, b);
    if (axis_level(&b->axis)) return pair_distance(b, a);
    struct rectangle one = rectangle_of(a), other = rectangle_of(b);
    return rectangle_distance(&one, &other);
}
