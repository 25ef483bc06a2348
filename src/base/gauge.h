/* Wire gauges and drill sizes: what the trade numbers and letters, as diameters in m.
 *
 * The sizes are rows of grammar/tables/wire.def and grammar/tables/drill.def.
 */
#ifndef PLUGWRIGHT_GAUGE_H
#define PLUGWRIGHT_GAUGE_H

#include <stddef.h>

#include "base/unit.h"

/* The gauge systems by name ("awg"), and NULL past the last. */
const char *gauge_system(size_t index);

/* Diameter of a wire, or 0 if the system or the number is not in the table. */
double gauge_wire(const char *system, int number);

/* Diameter of a number or letter drill (`letter` is a capital), or 0 if there is none. */
double gauge_drill_number(int number);
double gauge_drill_letter(char letter);

/* The drills of a set for a bench in such units, by rising size: a size as a recipe would write it,
 * "9.5 mm" or "27/64 in", and its diameter; NULL past the last. */
const char *gauge_set_drill(struct arena *arena, enum unit_system units, int index,
                            double *diameter);

#endif
