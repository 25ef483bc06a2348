#include "compute/plug/through.h"

#include <math.h>

static const double pi = 3.14159265358979323846;

/* The eye of the tie at the nose, and that of the tail's hanger, or another such, at the tail. */
static double tail_eye(const struct hardware *hardware) {
    for (int i = 0; i < hardware->hanger_count; i++)
        if (hardware->hangers[i].place == PLACE_TAIL) return hardware->hangers[i].eye;
    return hardware->line_tie->eye;
}

/* L + for each end pi (eye + d), and wraps turns of the wire round itself, each 2 pi d long. */
static double wire_length(const struct plug *plug) {
    const struct hardware *hardware = plug->recipe->hardware;
    double d = hardware->wire->diameter, wraps = hardware->through->wraps * pi * 2 * d;
    return plug->outline.length + pi * (hardware->line_tie->eye + d) + wraps +
           pi * (tail_eye(hardware) + d) + wraps;
}

struct slice {
    double volume, x, z; /* of the kerf, and its first moments */
};

/* The kerf from its floor to the surface, at one place. */
static double depth_at(const struct plug *plug, const struct through *through, double x) {
    return through->from == KERF_BACK ? plug_top(plug, x) - through->up
                                      : through->up - plug_bottom(plug, x);
}

/* Four points of Gauss and Legendre between two stations, where the curves are cubics: exact for
 * polynomials of degree 7, and z times the depth has degree 6. */
static void add_row(const struct plug *plug, const struct through *through, double from, double to,
                    struct slice *sum) {
    static const double place[] = {0.8611363115940526, 0.3399810435848563};
    static const double weight[] = {0.3478548451374538, 0.6521451548625461};
    double half = (to - from) / 2, middle = (from + to) / 2;
    for (int i = 0; i < 4; i++) {
        double x = middle + (i & 1 ? half : -half) * place[i / 2];
        double depth = depth_at(plug, through, x);
        double area = half * weight[i / 2] * through->kerf * depth;
        double z = through->up + (through->from == KERF_BACK ? depth : -depth) / 2;
        sum->volume += area;
        sum->x += area * x;
        sum->z += area * z;
    }
}

static void find_least(const struct plug *plug, const struct through *through,
                       struct through_fit *fit) {
    enum { SAMPLES = 400 };
    fit->least = INFINITY;
    for (int i = 0; i <= SAMPLES; i++) {
        double x = plug->outline.length * i / SAMPLES;
        double back = plug_top(plug, x) - through->up, belly = through->up - plug_bottom(plug, x);
        double least = fmin(back, belly);
        if (least < fit->least) fit->least = least, fit->least_x = x;
    }
}

/* The kerf, a cubic's height over each row. */
static struct slice kerf_of(const struct plug *plug, const struct through *through) {
    const struct curve *curve = &plug->outline.back;
    struct slice sum = {0};
    for (int row = 0; row + 1 < curve->count; row++)
        add_row(plug, through, curve->x[row], curve->x[row + 1], &sum);
    return sum;
}

/* As wide as high, half of it in each half. */
static struct slice groove_of(const struct plug *plug, const struct through *through) {
    double length = plug->outline.length, volume = through->kerf * through->kerf * length;
    return (struct slice){volume, volume * length / 2, volume * through->up};
}

struct through_fit through_of(const struct plug *plug) {
    const struct through *through = plug->recipe->hardware->through;
    struct through_fit fit = {.given = through != NULL};
    if (!fit.given) return fit;
    fit.groove = plug->recipe->body->halves;
    fit.strip = !fit.groove && through->close == CLOSED_BY_STRIP;
    struct slice sum = fit.groove ? groove_of(plug, through) : kerf_of(plug, through);
    double d = plug->recipe->hardware->wire->diameter;
    fit.z = through->up;
    fit.wire = wire_length(plug);
    fit.kerf = sum.volume;
    fit.kerf_x = sum.volume > 0 ? sum.x / sum.volume : 0;
    fit.kerf_z = sum.volume > 0 ? sum.z / sum.volume : 0;
    fit.closed = fmax(sum.volume - pi / 4 * d * d * plug->outline.length, 0);
    find_least(plug, through, &fit);
    return fit;
}

/* Lowest and highest point of an opening that lies in the plane y = 0, or of a disc in the side
 * view. */
static void heights(const struct opening *o, double *low, double *high) {
    double half = o->width / 2;
    double inner = axis_z(&o->axis, o->depth), mouth = o->axis.z;
    if (axis_level(&o->axis)) inner = mouth;
    double across = axis_level(&o->axis) ? half : half * fabs(o->axis.u_x);
    *low = fmin(inner, mouth) - across;
    *high = fmax(inner, mouth) + across;
}

/* Between halves: a bar along the body, as wide as high. */
static double groove_distance(const struct through *through, const struct opening *opening) {
    double half = through->kerf / 2, low, high;
    heights(opening, &low, &high);
    double clear = fmax(low - (through->up + half), through->up - half - high);
    if (!axis_level(&opening->axis)) return clear;
    double beside = opening_inmost(opening) - half;
    if (clear <= 0 || beside <= 0) return fmax(clear, beside);
    return hypot(clear, beside);
}

/* The kerf is a slab in the plane y = 0 that reaches from beyond the wire out of the body. */
double through_distance(const struct plug *plug, const struct opening *opening) {
    const struct through *through = plug->recipe->hardware->through;
    if (plug->recipe->body->halves) return groove_distance(through, opening);
    double half = plug->recipe->hardware->wire->diameter / 2, low, high;
    heights(opening, &low, &high);
    double above = low - (through->up + half), below = through->up - half - high;
    if (opening->kind == OPENING_SLOT) return fmax(above, below);
    double clear = through->from == KERF_BACK ? below : above;
    if (!axis_level(&opening->axis)) return clear;
    double beside = opening_floor(opening) - through->kerf / 2;
    if (clear <= 0 || beside <= 0) return fmax(clear, beside);
    return hypot(clear, beside);
}
