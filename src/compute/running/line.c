/* dT/ds = f + w sin a,  T da/ds = w cos a - n,  dz/ds = sin a,  dx/ds = cos a   (Pode 1951, DTMB
 * report 687) with w the line's weight in water and R = rho V d / mu, a piece of line feels
 *     across   n = 1/2 rho V^2 d (sin^2 a + 4 R^(-1/2) sin^(3/2) a)   Taylor 1952, Proc. R. Soc. A
 *              214, 158; both from memory; 1 + 4 / sqrt(R) is a cylinder's drag across the flow
 *              within 8 % from R = 20 to 500
 *     along    f = 1/2 rho V^2 d (2 pi / R) (0.3 + 0.556 sqrt(R sin a)) cos a   the velocity along
 * a yawed cylinder obeys the equation of heat at Prandtl number 1, so the friction is the heat
 * transfer of Churchill and Bernstein 1977, J. Heat Transfer 99, 300 A line lighter than water may
 * rise above the level of the flow: then the force across it turns.
 *
 * Fourth-order Runge-Kutta from the plug up, in steps that grow with the square of their number:
 * the line bends most near the plug.
 */
#include "compute/running/line.h"

#include <math.h>

#include "compute/running/root.h"

static const double PI = 3.14159265358979323846, GRAVITY = 9.80665;

double line_reynolds(double water, double viscosity, double diameter, double speed) {
    return water * speed * diameter / viscosity;
}

struct line line_of(double diameter, double density, double water, double viscosity, double speed) {
    double reynolds = line_reynolds(water, viscosity, diameter, speed);
    double push = 0.5 * water * speed * speed * diameter, rub = push * 2 * PI / reynolds;
    return (struct line){
        .across = push,
        .across_root = push * 4 / sqrt(reynolds),
        .along = rub * 0.3,
        .along_root = rub * 0.556 * sqrt(reynolds),
        .weight = (density - water) * GRAVITY * PI / 4 * diameter * diameter,
    };
}

struct line_force line_force_at(const struct line *line, double sine, double cosine) {
    double steep = fabs(sine), root = sqrt(steep);
    return (struct line_force){
        .across = sine * (line->across * steep + line->across_root * root),
        .along = (line->along + line->along_root * root) * cosine,
    };
}

struct heading {
    double sine, cosine;
};

static struct heading heading_at(double angle) {
    return (struct heading){sin(angle), cos(angle)};
}

/* By less than a tenth: the series' next terms are below 1e-15. */
static struct heading turned(struct heading from, double angle, double by) {
    if (!(fabs(by) < 0.1)) return heading_at(angle + by);
    double b = by * by;
    double sine = by * (1 - b * (1.0 / 6) * (1 - b * (1.0 / 20) * (1 - b * (1.0 / 42))));
    double cosine =
        1 - b * 0.5 * (1 - b * (1.0 / 12) * (1 - b * (1.0 / 30) * (1 - b * (1.0 / 56))));
    return (struct heading){from.sine * cosine + from.cosine * sine,
                            from.cosine * cosine - from.sine * sine};
}

/* One line being followed up. */
struct walk {
    const struct line_hung *hung;
    struct line_place from;
    struct heading heading; /* there */
    double out;
};

struct rates {
    double tension, angle, height, behind;
};

static struct rates rates_at(const struct line_hung *hung, double tension, struct heading heading) {
    struct line_force force = hung->force ? hung->force(hung->line, heading.sine, heading.cosine)
                                          : line_force_at(hung->line, heading.sine, heading.cosine);
    double weight = hung->line->weight;
    return (struct rates){force.along + weight * heading.sine,
                          (weight * heading.cosine - force.across) / tension, heading.sine,
                          heading.cosine};
}

static struct rates rates_after(const struct walk *walk, double step, const struct rates *rates) {
    return rates_at(walk->hung, walk->from.tension + step * rates->tension,
                    turned(walk->heading, walk->from.angle, step * rates->angle));
}

static struct line_place step_from(const struct walk *walk, double step) {
    const struct line_place *p = &walk->from;
    struct rates a = rates_at(walk->hung, p->tension, walk->heading);
    struct rates b = rates_after(walk, 0.5 * step, &a);
    struct rates c = rates_after(walk, 0.5 * step, &b);
    struct rates d = rates_after(walk, step, &c);
#define MEAN(m) (step / 6 * (a.m + 2 * (b.m + c.m) + d.m))
    return (struct line_place){p->s + step, p->tension + MEAN(tension), p->angle + MEAN(angle),
                               p->height + MEAN(height), p->behind + MEAN(behind)};
#undef MEAN
}

/* How much longer the line would be if it left the water at a place, than it is. */
static double spare_at(const struct walk *walk, double s, double sine) {
    double spare = s - walk->out, tip = walk->hung->tip;
    if (tip == 0) return spare;
    return sine > 0 ? spare + tip / sine : INFINITY;
}

static double spare_after(const void *context, double step) {
    const struct walk *walk = context;
    struct line_place place = step_from(walk, step);
    return spare_at(walk, place.s, sin(place.angle));
}

/* The end within a step after which the line is too long. */
static struct line_place end_within(const struct walk *walk, double step, double spare) {
    double close = 1e-12 * walk->out;
    struct bracket bracket = {0, step, spare_at(walk, walk->from.s, walk->heading.sine), spare};
    if (spare > 0) step = root_between(bracket, close, spare_after, walk);
    return step_from(walk, step);
}

void line_ends(const struct line_hung *hung, const double *out, int count,
               struct line_place *ends) {
    struct walk walk = {hung, {0, hung->tension, hung->angle, 0, 0}, heading_at(hung->angle), 0};
    double longest = out[count - 1];
    int i = 0;
    for (; i < count; i++) {
        walk.out = out[i];
        if (spare_at(&walk, 0, walk.heading.sine) < 0) break;
        ends[i] = walk.from;
    }
    for (int j = 1; j <= hung->steps && i < count; j++) {
        double share = (double)j / hung->steps, step = longest * share * share - walk.from.s;
        struct line_place to = step_from(&walk, step);
        struct heading heading = turned(walk.heading, walk.from.angle, to.angle - walk.from.angle);
        for (; i < count; i++) {
            walk.out = out[i];
            double spare = spare_at(&walk, to.s, heading.sine);
            if (j < hung->steps && spare < 0) break;
            ends[i] = end_within(&walk, step, spare);
        }
        walk.from = to;
        walk.heading = heading;
    }
}
