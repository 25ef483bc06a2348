/* What the figures that the bench taught are called, and how they read. */
#ifndef PLUGWRIGHT_WORDS_LESSON_H
#define PLUGWRIGHT_WORDS_LESSON_H

#include "base/unit.h"
#include "compute/lesson.h"

/* Half of an interval that holds nine times in ten, in standard deviations. */
extern const double lesson_ninety;

/* "density of basswood", and with a capital to begin with.  Cleaned, not escaped. */
const char *lesson_name(struct arena *arena, const struct lesson_figure *figure);
const char *lesson_title(struct arena *arena, const struct lesson_figure *figure);

/* A figure that is `ratio` times what stands, with its unit: "430 kg/m³", "× 1.12". */
const char *lesson_value(struct arena *arena, const struct lesson_figure *figure, double ratio,
                         enum unit_system units);

/* The unit of that: what one of it is in SI, and its sign. */
struct lesson_unit {
    double scale;
    const char *sign;
};
struct lesson_unit lesson_unit_of(const struct lesson_figure *figure, enum unit_system units);

#endif
