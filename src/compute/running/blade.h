/* The lip as a plate that stands askew in the flow.  The force is square to the plate
 * (docs/physics.md, 15.2). */
#ifndef PLUGWRIGHT_RUNNING_BLADE_H
#define PLUGWRIGHT_RUNNING_BLADE_H

/* A plate by its aspect ratio, kept within those of grammar/tables/running.def. */
struct blade {
    double aspect;            /* width squared over area */
    double lift;              /* Polhamus' K, of the potential flow */
    double suction;           /* Hoerner's share that the ends let in */
    double attached, stalled; /* rad: where the flow follows the plate, and where it has left it */
    double at_attached, at_stalled; /* coefficients there */
};

struct blade blade_of(double aspect);

/* Force over 1/2 rho V^2 area at an angle between plate and flow, rad; negative where the flow
 * comes from the other side. */
double blade_force(const struct blade *blade, double incidence);

/* The same where the flow has left a plate of any aspect ratio, 0 to 90 degrees. */
double blade_stalled(double aspect, double incidence);

/* How far before the middle of the area the force acts, over the plate's length along the flow;
 * before is outward. */
double blade_centre(double incidence);

#endif
