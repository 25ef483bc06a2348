#include "emit/words/size.h"

#include <math.h>
#include <string.h>

#include "emit/write/measure.h"

/* Two readings of one size differ by less than this share of it. */
static const double hair = 1e-9;

static struct str written_at(const struct recipe *recipe, const void *member) {
    struct str text = recipe_text(recipe, member);
    return text.size ? text : recipe_default(recipe, member);
}

/* A fraction says what decimals do not: it is a name. */
static bool is_fraction(struct str text) {
    return memchr(text.data, '/', text.size) != NULL;
}

/* The number of "1/16in" or `1/16"`, with its unit as units are printed. */
static const char *with_unit(struct arena *arena, struct str text, const struct unit *unit) {
    size_t size = text.size;
    while (size && !(text.data[size - 1] >= '0' && text.data[size - 1] <= '9')) size--;
    return arena_printf(arena, "%.*s %s", (int)size, text.data, unit->name);
}

/* What was written and what it measures, in the form in which the shop reads it.  `named` sizes
 * are fractions that need no measure beside them: it is what stands on the tool. */
static const char *as_written(struct arena *arena, struct str text, enum dimension dimension,
                              double value, const struct unit *own, bool named,
                              const char *measure) {
    if (!text.size) return measure;
    struct reading reading = quantity_parse(arena, text, dimension);
    if (reading.error || !(fabs(reading.value - value) <= hair * fabs(value))) return measure;
    bool fraction = is_fraction(text);
    if (!reading.unit) return arena_printf(arena, "%.*s (%s)", (int)text.size, text.data, measure);
    if (reading.unit == own && !fraction) return measure;
    const char *written = with_unit(arena, text, reading.unit);
    if (reading.unit == own && named) return written;
    return arena_printf(arena, "%s (%s)", written, measure);
}

static const char *length_written(struct arena *arena, const struct recipe *recipe,
                                  const void *member, enum dimension dimension, double metres) {
    enum unit_system units = recipe->shop->units;
    return as_written(arena, written_at(recipe, member), dimension, metres,
                      shown_form(SHOWN_FINE, units).unit, true, measure_fine(arena, metres, units));
}

const char *size_of_drill(struct arena *arena, const struct recipe *recipe, const void *member,
                          double metres) {
    return length_written(arena, recipe, member, DIM_DRILL, metres);
}

const char *size_of_wire(struct arena *arena, const struct recipe *recipe, const void *member,
                         double metres) {
    return length_written(arena, recipe, member, DIM_WIRE, metres);
}

const char *size_of_pilot(struct arena *arena, const struct recipe *recipe,
                          const struct fitting *fitting, double metres) {
    return size_of_drill(arena, recipe, &fitting->pilot, metres);
}

const char *size_of_piece(struct arena *arena, const struct recipe *recipe,
                          const struct piece *piece) {
    enum unit_system units = recipe->shop->units;
    double ball = piece->ball.value, mass = piece->mass.value;
    struct str text = written_at(recipe, piece->ball.given ? &piece->ball : &piece->mass);
    if (!piece->ball.given)
        return as_written(arena, text, DIM_MASS, mass, measure_form(SHOWN_MASS, mass, units).unit,
                          false, measure_mass(arena, mass, units));
    struct reading reading = quantity_parse(arena, text, DIM_LENGTH);
    bool named = text.size && !reading.error && fabs(reading.value - ball) <= hair * ball;
    return arena_printf(arena, "%s ball",
                        named ? with_unit(arena, text, reading.unit)
                              : measure_fine(arena, ball, units));
}
