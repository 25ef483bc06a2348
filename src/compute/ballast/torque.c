#include "compute/ballast/torque.h"

#include <math.h>

static const double pi = 3.14159265358979323846;

/* --- levers between masses -------------------------------------------------------------------- */

static double lever_at(const struct torque_band *band, int edge, double mass) {
    double sum = band->newton[edge][band->nodes - 1];
    for (int i = band->nodes - 2; i >= 0; i--)
        sum = band->newton[edge][i] + (mass - band->node[i]) * sum;
    return sum;
}

/* Newton's polynomial through levers at the nodes: their divided differences. */
static void fit(struct torque_band *band, int edge, const double lever[TORQUE_NODES]) {
    double *c = band->newton[edge];
    for (int i = 0; i < band->nodes; i++) c[i] = lever[i];
    for (int order = 1; order < band->nodes; order++)
        for (int i = band->nodes - 1; i >= order; i--)
            c[i] = (c[i] - c[i - 1]) / (band->node[i] - band->node[i - order]);
}

static bool lever_of(const struct torque_fan *fan, const struct weighing *w, int edge, double mass,
                     double *lever) {
    double x, z, level;
    ++*w->evaluations;
    if (!hydro_at(&w->plug->finished_hull, &w->hung, mass / w->plug->water, fan->attitude[edge], &x,
                  &z, &level))
        return false;
    *lever = x * fan->cosine[edge] - z * fan->sine[edge];
    return true;
}

/* How far the lever t of a torque may lie off the straight line between two edges, `apart` radians
 * from each other: an eighth of apart^2 times its second derivative.  That of a weight's lever is
 * the lever itself with the sign turned, so that of t is -t - (b + b''), b being the buoyancy's
 * lever.  b + b'' is zero for a sunk plug; afloat it is taken to be no more than four times what it
 * is about any edge.  Of t a centimetre is allowed for: what is more is no near balance. */
static double bend_of(const struct torque_fan *fan, double lever[][TORQUE_NODES], int nodes,
                      double apart) {
    const double near = 0.01, hair = 1e-9;
    double bend = fan->edges < 3 ? apart * apart : 0; /* m: nothing is known of it */
    for (int e = 1; e + 1 < fan->edges; e++) {
        const double *attitude = &fan->attitude[e];
        if (attitude[0] - attitude[-1] < apart - hair || attitude[1] - attitude[0] < apart - hair)
            continue; /* cut off at a right angle */
        for (int i = 0; i < nodes; i++) {
            double chord = (lever[e - 1][i] + lever[e + 1][i]) / 2;
            bend = fmax(bend, 2 * fabs(chord - lever[e][i] * cos(apart)));
        }
    }
    return (4 * bend + near * apart * apart) / 8;
}

/* --- bands of masses -------------------------------------------------------------------------- */

/* The nodes of Chebyshev, at which interpolation does not ring; two have to do for masses that are
 * nearly the same, and one for those that sink. */
static void place_nodes(struct torque_band *band, double capacity) {
    const double narrow = 0.05, almost = (1 - 1e-6) * capacity, hardly = 0.02 * capacity;
    double least = fmax(band->mass.least, hardly);
    double most = fmax(fmin(band->mass.most, almost), least * (1 + 1e-6));
    double middle = (least + most) / 2, half = (most - least) / 2;
    band->nodes = half < narrow * middle ? 2 : TORQUE_NODES;
    for (int i = 0; i < band->nodes; i++)
        band->node[i] = middle + half * cos(pi * (2 * i + 1) / (2.0 * band->nodes));
    if (band->mass.least < capacity) return;
    band->nodes = 1;
    band->node[0] = capacity;
}

/* Computes the levers, and what the interpolation is off half-way between the nodes. */
static bool open_band(struct torque_fan *fan, struct torque_band *band, const struct weighing *w,
                      double apart, double capacity) {
    const double hair = 1e-7;
    double lever[TORQUE_EDGES][TORQUE_NODES] = {{0}}, between, off = 0;
    place_nodes(band, capacity);
    double middle = (band->node[0] + band->node[band->nodes - 1]) / 2;
    for (int e = 0; e < fan->edges; e++) {
        for (int i = 0; i < band->nodes; i++)
            if (!lever_of(fan, w, e, band->node[i], &lever[e][i])) return false;
        fit(band, e, lever[e]);
        if (band->nodes == 1) continue;
        if (!lever_of(fan, w, e, middle, &between)) return false;
        off = fmax(off, fabs(between - lever_at(band, e, middle)));
    }
    band->doubt = hair + bend_of(fan, lever, band->nodes, apart) + 10 * off;
    return true;
}

bool torque_fan_open(struct torque_fan *fan, const struct weighing *w, double middle, double half,
                     struct range mass) {
    const double step = 2 * pi / 180, wide = 1.3;
    int side = (int)fmax(ceil(fmin(half, pi) / step - 1e-9), 1);
    double apart = fmin(half, pi) / side, capacity = weighing_capacity(w, CONDITION_FINISHED);
    fan->edges = fan->bands = 0;
    for (int i = -side; i <= side; i++) {
        double attitude = middle + apart * i;
        if (fabs(attitude) >= pi / 2 + apart || fan->edges == TORQUE_EDGES) continue;
        attitude = fmin(fmax(attitude, -pi / 2), pi / 2);
        fan->attitude[fan->edges] = attitude;
        fan->sine[fan->edges] = sin(attitude), fan->cosine[fan->edges++] = cos(attitude);
    }
    for (double at = fmax(mass.least, 0.02 * capacity); at <= mass.most;) {
        if (fan->bands == TORQUE_BANDS) return false;
        struct torque_band *band = &fan->band[fan->bands++];
        double end = at < capacity ? fmin(wide * at, capacity) : INFINITY;
        band->mass = (struct range){at, fmin(end, fmax(mass.most, at))};
        if (!open_band(fan, band, w, apart, capacity)) return false;
        at = end;
    }
    return fan->bands > 0;
}

/* --- many plugs at once ----------------------------------------------------------------------- */

static const struct torque_band *band_for(const struct torque_fan *fan, double mass) {
    int i = 0;
    while (i + 1 < fan->bands && mass >= fan->band[i + 1].mass.least) i++;
    return &fan->band[i];
}

static double moment_at(const struct torque_fan *fan, int edge, double mass) {
    return mass * lever_at(band_for(fan, mass), edge, mass);
}

/* Between the lightest and the heaviest, which differ by a few steps of a scale, the moment may go
 * beyond those at both ends and in the middle by what these three bend. */
struct range torque_buoyancy(const struct torque_fan *fan, int edge, struct range mass) {
    double light = moment_at(fan, edge, mass.least);
    if (!(mass.most > mass.least)) return (struct range){light, light};
    double heavy = moment_at(fan, edge, mass.most);
    double middle = moment_at(fan, edge, (mass.least + mass.most) / 2);
    double bend = fabs(light + heavy - 2 * middle);
    return (struct range){fmin(light, heavy) - bend, fmax(light, heavy) + bend};
}

double torque_doubt(const struct torque_fan *fan, struct range mass) {
    double doubt = 0;
    if (mass.least < fan->band[0].mass.least || mass.most > fan->band[fan->bands - 1].mass.most)
        return INFINITY;
    for (int i = 0; i < fan->bands; i++)
        if (mass.most >= fan->band[i].mass.least && mass.least <= fan->band[i].mass.most)
            doubt = fmax(doubt, fan->band[i].doubt);
    return doubt * mass.most;
}
