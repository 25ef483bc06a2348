/* A bore is an upright cylinder in the middle plane; slot and wires are boxes and cylinders in the
 * same plane, so that their distance is that of two rectangles in the side view.  Eye sockets lie
 * across. */
#include "compute/plug/clearance.h"

#include <math.h>

#include "compute/shape/section.h"

struct point {
    double x, z;
};

/* A rectangle in the side view: centre, unit axis, half length along it, half width across. */
struct rectangle {
    struct point centre, axis;
    double half_length, half_width;
};

static struct rectangle bore_rectangle(const struct bore_fill *fill) {
    return (struct rectangle){
        {fill->at, fill->mouth_z + fill->depth / 2}, {0, 1}, fill->depth / 2, fill->drill / 2};
}

static struct rectangle pilot_rectangle(const struct pilot *pilot) {
    double half = pilot->depth / 2;
    return (struct rectangle){
        {pilot->mouth_x + pilot->u_x * half, pilot->mouth_z + pilot->u_z * half},
        {pilot->u_x, pilot->u_z},
        half,
        pilot->diameter / 2};
}

static struct rectangle slot_rectangle(const struct plug *plug) {
    const struct lip *lip = plug->recipe->lip;
    struct rectangle slot = {.axis = {-plug->plate.u_x, -plug->plate.u_z},
                             .half_length = lip->slot / 2,
                             .half_width = lip->thickness / 2};
    plug_slot_centre(plug, &slot.centre.x, &slot.centre.z);
    return slot;
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

/* A socket reaches in from the side; the bore's side is round, so the nearest pair is searched over
 * the bore's angle. */
static double socket_distance(const struct plug *plug, const struct bore_fill *fill) {
    enum { ANGLES = 90 };
    const struct eyes *eyes = plug->recipe->eyes;
    double x = position_in(eyes->at, plug->outline.length);
    struct section section = section_at(&plug->outline, x, 0);
    double inner = section_half_width(&section, eyes->up) - eyes->depth; /* y of its floor */
    double top = fill->mouth_z + fill->depth, nearest = INFINITY;
    double up = fmax(fmax(eyes->up - top, fill->mouth_z - eyes->up), 0);
    for (int i = 0; i <= ANGLES; i++) {
        double angle = 3.14159265358979323846 * i / ANGLES, r = fill->drill / 2;
        double along = fabs(fill->at + r * cos(angle) - x);
        double side = fmax(hypot(along, up) - eyes->size / 2, 0);
        nearest = fmin(nearest, hypot(side, fmax(inner - r * sin(angle), 0)));
    }
    return nearest;
}

/* --- all pairs ------------------------------------------------------------------------------- */

int clearance_all(struct arena *arena, const struct plug *plug, const struct bore_fill *fills,
                  struct clearance **clearances) {
    const struct recipe *recipe = plug->recipe;
    int bores = recipe->ballast ? recipe->ballast->bore_count : 0, count = 0;
    struct clearance *list = NEW(arena, struct clearance, bores * (bores + MAX_FITTINGS + 2) + 1);
    *clearances = list;
    for (int i = 0; i < bores; i++) {
        struct rectangle bore = bore_rectangle(&fills[i]);
        for (int k = i + 1; k < bores; k++) {
            struct rectangle other = bore_rectangle(&fills[k]);
            list[count++] =
                (struct clearance){i, {NAME_BORE, k + 1, {0}}, rectangle_distance(&bore, &other)};
        }
        if (recipe->lip) {
            struct rectangle slot = slot_rectangle(plug);
            list[count++] =
                (struct clearance){i, {.key = NAME_SLOT}, rectangle_distance(&bore, &slot)};
        }
        if (recipe->eyes)
            list[count++] =
                (struct clearance){i, {.key = NAME_SOCKETS}, socket_distance(plug, &fills[i])};
        for (int k = 0; k < plug->fitting_count; k++) {
            if (!plug->fittings[k].pilot.given) continue;
            struct rectangle wire = pilot_rectangle(&plug->fittings[k].pilot);
            list[count++] =
                (struct clearance){i, fitting_name(k, NAME_WIRE_OF_TIE, NAME_WIRE_OF_HANGER),
                                   rectangle_distance(&bore, &wire)};
        }
    }
    return count;
}
