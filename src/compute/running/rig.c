#include "compute/running/rig.h"

#include <stddef.h>

#include "compute/float/water.h"

struct rig rig_of(const struct plug *plug, const struct mass_list *masses,
                  const struct rest *rest) {
    const struct water *water = plug->recipe->water;
    const struct running *running = plug->recipe->running;
    return (struct rig){
        .tow = tow_of(plug, masses, rest),
        .viscosity = water_viscosity(water->temperature, water->salinity),
        .diameter = running->diameter,
        .density = running->density,
        .tip = running->tip,
    };
}

struct line rig_line(const struct rig *rig, const struct coefficients *k, double speed) {
    struct line line = line_of(rig->diameter * k->line_diameter, rig->density, rig->tow.water,
                               rig->viscosity, speed);
    line.across *= k->line_across;
    line.across_root *= k->line_across;
    line.along *= k->line_along;
    line.along_root *= k->line_along;
    return line;
}

void rig_depths(const struct rig *rig, const struct coefficients *k, const struct pull *pull,
                int steps, const double *out, int count, double *depth) {
    struct line_place ends[MAX_OUTS];
    for (int i = 0; i < count; i++) depth[i] = 0;
    if (!(pull->line_down > 0)) return;
    struct line line = rig_line(rig, k, pull->speed);
    struct line_hung hung = {&line, pull->tension, pull->angle, rig->tip, steps, NULL};
    line_ends(&hung, out, count, ends);
    for (int i = 0; i < count; i++) depth[i] = ends[i].height;
}
