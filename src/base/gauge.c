/* Gauge sizes are looked up in the order in which they stand in the tables. */
#include "base/gauge.h"

#include <math.h>
#include <string.h>

static const double INCH = 0.0254; /* m, exact */

static const char *const SYSTEMS[] = {
#define WIRE_SYSTEM(key, name, source) key,
#include "tables/wire.def"
};

struct formula {
    const char *system;
    int first, last;
    double inches, at, ratio, steps; /* diameter of n = inches * ratio^((at - n) / steps) */
};

static const struct formula FORMULAS[] = {
#define WIRE_FORMULA(key, first, last, inches, at, ratio, steps) \
    {key, first, last, inches, at, ratio, steps},
#include "tables/wire.def"
};

static const struct {
    const char *system;
    int number;
    double inches;
} WIRES[] = {
#define WIRE(key, number, inches) {key, number, inches},
#include "tables/wire.def"
};

static const struct {
    int number;
    double inches;
} NUMBER_DRILLS[] = {
#define DRILL_NUMBER(number, inches) {number, inches},
#include "tables/drill.def"
};

static const struct {
    char letter;
    double inches;
} LETTER_DRILLS[] = {
#define DRILL_LETTER(letter, inches) {letter, inches},
#include "tables/drill.def"
};

static const struct {
    enum unit_system units;
    int first, last, parts;
} DRILL_SETS[] = {
#define DRILL_SET(units, first, last, parts) {UNITS_##units, first, last, parts},
#include "tables/drill.def"
};

#define COUNT(rows) (sizeof(rows) / sizeof *(rows))

const char *gauge_system(size_t index) {
    return index < COUNT(SYSTEMS) ? SYSTEMS[index] : NULL;
}

double gauge_wire(const char *system, int number) {
    for (size_t i = 0; i < COUNT(FORMULAS); i++) {
        const struct formula *f = &FORMULAS[i];
        if (strcmp(f->system, system) == 0 && number >= f->first && number <= f->last)
            return f->inches * pow(f->ratio, (f->at - number) / f->steps) * INCH;
    }
    for (size_t i = 0; i < COUNT(WIRES); i++)
        if (strcmp(WIRES[i].system, system) == 0 && WIRES[i].number == number)
            return WIRES[i].inches * INCH;
    return 0;
}

double gauge_drill_number(int number) {
    for (size_t i = 0; i < COUNT(NUMBER_DRILLS); i++)
        if (NUMBER_DRILLS[i].number == number) return NUMBER_DRILLS[i].inches * INCH;
    return 0;
}

double gauge_drill_letter(char letter) {
    for (size_t i = 0; i < COUNT(LETTER_DRILLS); i++)
        if (LETTER_DRILLS[i].letter == letter) return LETTER_DRILLS[i].inches * INCH;
    return 0;
}

/* A metric size in decimals, one in inches as a fraction in lowest terms. */
static const char *set_size(struct arena *arena, enum unit_system units, int count, int parts) {
    if (units == UNITS_METRIC) return arena_printf(arena, "%.4g mm", (double)count / parts);
    int whole = count / parts, rest = count % parts;
    if (!rest) return arena_printf(arena, "%d in", whole);
    while (rest % 2 == 0) rest /= 2, parts /= 2;
    return whole ? arena_printf(arena, "%d %d/%d in", whole, rest, parts)
                 : arena_printf(arena, "%d/%d in", rest, parts);
}

const char *gauge_set_drill(struct arena *arena, enum unit_system units, int index,
                            double *diameter) {
    for (size_t i = 0; i < COUNT(DRILL_SETS); i++) {
        int first = DRILL_SETS[i].first, more = DRILL_SETS[i].last - first;
        if (DRILL_SETS[i].units != units) continue;
        if (index > more) {
            index -= more + 1;
            continue;
        }
        int count = first + index, parts = DRILL_SETS[i].parts;
        *diameter = (double)count / parts * (units == UNITS_METRIC ? 1e-3 : INCH);
        return set_size(arena, units, count, parts);
    }
    return NULL;
}
