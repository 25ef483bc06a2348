#include "emit/words/bore.h"

#include <math.h>

#include "emit/write/measure.h"
#include "model/name.h"

/* Of one that has a height of its own: ", 2.0 mm above the datum". */
static const char *height(struct arena *arena, const struct axis *axis, enum unit_system units) {
    const double hair = 5e-6; /* below what is printed */
    if (axis->u_z != 0) return "";
    if (fabs(axis->z) < hair) return ", on the datum";
    return arena_printf(arena, ", %s %s the datum", measure_length(arena, fabs(axis->z), units),
                        axis->z > 0 ? "above" : "below");
}

const char *bore_place(struct arena *arena, enum bore_side from, const struct axis *axis,
                       enum unit_system units) {
    const char *at = arena_printf(arena, " at %s", measure_length(arena, axis->x, units));
    if (from == SIDE_BELLY) return at + 1;
    return arena_printf(arena, "from %s%s%s", name_sides[from], axis_along(axis) ? "" : at,
                        height(arena, axis, units));
}
