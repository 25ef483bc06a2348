/* The curve of a line that tows something through the water (docs/physics.md, 15.4).
 *
 * s runs along the line from the plug up, the angle is that of the line above the flow.  SI units.
 */
#ifndef PLUGWRIGHT_RUNNING_LINE_H
#define PLUGWRIGHT_RUNNING_LINE_H

/* What the water does to a metre of line, N/m, and what that weighs in it. */
struct line {
    double across, across_root; /* factors of sin^2 and of sin^(3/2) of the angle */
    double along, along_root;   /* factors of cos, and of sin^(1/2) cos */
    double weight;
};

struct line_force {
    double across, along;
};

/* Reynolds number by the diameter. */
double line_reynolds(double water, double viscosity, double diameter, double speed);

/* A round line of `diameter` and `density` in water of `water` and `viscosity`. */
struct line line_of(double diameter, double density, double water, double viscosity, double speed);

struct line_force line_force_at(const struct line *line, double sine, double cosine);

/* A place on the line. */
struct line_place {
    double s, tension, angle;
    double height, behind; /* above the plug, and how far the plug is behind it, m */
};

/* The steps in which a line is followed up: good to 1e-9 of the depth, and to 1e-7. */
enum { LINE_STEPS = 200, LINE_STRIDES = 50 };

/* A line with the pull at the plug. */
struct line_hung {
    const struct line *line;
    double tension, angle;
    double tip; /* height of the rod's tip above the water */
    int steps;
    /* Another law of force than line_force_at, or NULL. */
    struct line_force (*force)(const struct line *line, double sine, double cosine);
};

/* Where lines of some lengths leave the water.  `out` has their lengths from the rod's tip, rising;
 * what is above the water runs straight on to the tip.  A length too short for that has its end at
 * the plug. */
void line_ends(const struct line_hung *hung, const double *out, int count, struct line_place *ends);

#endif
