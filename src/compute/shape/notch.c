#include "compute/shape/notch.h"

#include <math.h>

static const double pi = 3.14159265358979323846;

/* A cap of height h of a sphere with radius R has the volume pi h^2 (R - h / 3), and its centroid
 * lies 3 (2 R - h)^2 / (4 (3 R - h)) from the sphere's centre. */
struct notch notch_cup(double width, double depth, double up, double finish) {
    double radius = (width * width / 4 + depth * depth) / (2 * depth);
    double centre = depth - radius, inner = radius - finish, high = depth - finish;
    struct notch cup = {.x = centre, .z = up, .radius = inner, .at_z = up};
    if (high <= 0) return cup;
    cup.end = high;
    cup.volume = pi * high * high * (inner - high / 3);
    cup.at_x = centre + 3 * (2 * inner - high) * (2 * inner - high) / (4 * (3 * inner - high));
    return cup;
}

struct notch notch_cut(const struct section *section, double x, double length) {
    return (struct notch){.start = x - length / 2,
                          .end = x + length / 2,
                          .section = *section,
                          .volume = length > 0 ? section_area(section) * length : 0,
                          .at_x = x,
                          .at_z = section->centre};
}

struct section notch_section(const struct notch *notch, double x) {
    if (notch->radius <= 0) return notch->section;
    double off = x - notch->x, square = notch->radius * notch->radius - off * off;
    double round = square > 0 ? sqrt(square) : 0;
    return (struct section){SECTION_OVAL, round, notch->z, round, 0};
}
