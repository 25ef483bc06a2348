/* At a height of its own a line along the body meets the outline where back or belly pass that
 * height.  Both are cubics between stations: their roots there, and the stations, cut the length
 * into stretches, each of which lies in the wood all of it or not at all. */
#include "compute/plug/axis.h"

#include <math.h>

#include "compute/shape/section.h"
#include "model/reference.h"

enum { CUTS = 7 * MAX_STATIONS }; /* between two stations three roots of either curve */

struct cuts {
    double x[CUTS];
    int count;
};

static void cut_at(struct cuts *cuts, double x) {
    int i = cuts->count++;
    for (; i > 0 && cuts->x[i - 1] > x; i--) cuts->x[i] = cuts->x[i - 1];
    cuts->x[i] = x;
}

static void cut_where(struct cuts *cuts, const struct curve *curve, int row, double height) {
    struct cubic cubic = curve_cubic(curve, row);
    double roots[3], start = curve->x[row];
    cubic.c[0] -= height;
    int count = cubic_roots(&cubic, curve->x[row + 1] - start, roots);
    for (int i = 0; i < count; i++) cut_at(cuts, start + roots[i]);
}

static void cut_outline(struct cuts *cuts, const struct outline *outline, double up) {
    cuts->count = 0;
    for (int row = 0; row < outline->back.count; row++) {
        cut_at(cuts, outline->back.x[row]);
        if (row + 1 == outline->back.count) break;
        cut_where(cuts, &outline->back, row, up);
        cut_where(cuts, &outline->belly, row, -up);
    }
}

static bool in_wood(const struct plug *plug, double x, double up) {
    const double slack = 1e-9;
    return up <= plug_top(plug, x) + slack && up >= plug_bottom(plug, x) - slack;
}

/* The first stretch of wood that a line at the height `up` meets, from the nose or from the tail;
 * its mouth, and how long it is. */
static double first_stretch(const struct plug *plug, double up, bool from_tail, double *room) {
    struct cuts cuts;
    cut_outline(&cuts, &plug->outline, up);
    double mouth = from_tail ? plug->outline.length : 0;
    *room = 0;
    for (int i = 0; i + 1 < cuts.count; i++) {
        int k = from_tail ? cuts.count - 1 - i : i, next = from_tail ? k - 1 : k + 1;
        bool inside = in_wood(plug, (cuts.x[k] + cuts.x[next]) / 2, up);
        if (!inside && *room > 0) break;
        if (!inside) continue;
        if (*room == 0) mouth = cuts.x[k];
        *room = fabs(cuts.x[next] - mouth);
    }
    return mouth;
}

struct axis axis_of(const struct plug *plug, enum bore_side from, struct position at, double up) {
    double x = position_in(at, plug->outline.length);
    double top = plug_top(plug, x), bottom = plug_bottom(plug, x);
    struct section section;
    struct axis axis = {.x = x, .room = top - bottom};
    switch (from) {
    case SIDE_BACK:
        axis.z = top, axis.u_z = -1;
        break;
    case SIDE_NOSE:
        axis.z = up, axis.u_x = 1;
        axis.x = first_stretch(plug, up, false, &axis.room);
        break;
    case SIDE_TAIL:
        axis.z = up, axis.u_x = -1;
        axis.x = first_stretch(plug, up, true, &axis.room);
        break;
    case SIDE_FLANK:
        section = section_at(&plug->outline, x, 0);
        axis.y = axis.room = section_half_width(&section, up);
        axis.z = up, axis.u_y = -1, axis.pair = true;
        break;
    case SIDE_INSIDE:
        section = section_at(&plug->outline, x, 0);
        axis.room = section_half_width(&section, up);
        axis.z = up, axis.u_y = 1, axis.pair = true;
        break;
    case SIDE_BELLY:
    default:
        axis.z = bottom, axis.u_z = 1;
        break;
    }
    return axis;
}

struct axis axis_of_bore(const struct plug *plug, const struct bore *bore) {
    return axis_of(plug, bore->from, bore->at, bore->up.given ? bore->up.value : 0);
}

double axis_breadth(const struct plug *plug, const struct axis *axis) {
    double width = curve_at(&plug->outline.width, axis->x);
    double height = plug_top(plug, axis->x) - plug_bottom(plug, axis->x);
    if (axis_along(axis)) return fmin(width, height);
    return axis_level(axis) ? height : width;
}

double axis_deepest(const struct axis *axis) {
    double due = axis->u_y < 0 ? reference_fact[FACT_CLEARANCE_DOUBTFUL].value / 2
                               : reference_fact[FACT_WALL_LEAST].value;
    return fmax(axis->room - due, 0);
}
