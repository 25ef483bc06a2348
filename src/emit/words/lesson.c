#include "emit/words/lesson.h"

#include "base/unicode.h"
#include "emit/write/measure.h"

const double lesson_ninety = 1.6448536269514722;

static const struct {
    const char *says, *title;
} kinds[] = {
    [LESSON_WOOD] = {"density of", "Density of"}, [LESSON_SHAPING] = {"volume of", "Volume of"},
    [LESSON_SEALER] = {"a coat of", "A coat of"}, [LESSON_PAINT] = {"film of", "Film of"},
    [LESSON_TOPCOAT] = {"film of", "Film of"},    [LESSON_HOOK] = {"hook", "Hook"},
    [LESSON_LOADS] = {"mass of", "Mass of"},      [LESSON_TIME] = {"time for", "Time for"},
};

static const char *named(struct arena *arena, const char *what, struct str name) {
    return arena_printf(arena, "%s %s", what, unicode_clean(arena, name).data);
}

const char *lesson_name(struct arena *arena, const struct lesson_figure *figure) {
    return named(arena, kinds[figure->kind].says, figure->name);
}

const char *lesson_title(struct arena *arena, const struct lesson_figure *figure) {
    return named(arena, kinds[figure->kind].title, figure->name);
}

const char *lesson_value(struct arena *arena, const struct lesson_figure *figure, double ratio,
                         enum unit_system units) {
    double value = figure->stands * ratio;
    switch (figure->kind) {
    case LESSON_WOOD:
        return measure_density(arena, value, units);
    case LESSON_SEALER:
        return arena_printf(arena, "%s g/m²", measure_number(arena, value * 1e3, 0));
    case LESSON_PAINT:
    case LESSON_TOPCOAT:
        return measure_film(arena, value, units);
    case LESSON_HOOK:
        return arena_printf(arena, "%s g", measure_number(arena, value * 1e3, 2));
    default:
        return arena_printf(arena, "× %s", measure_number(arena, value, 2));
    }
}

static struct lesson_unit shown(enum shown_as what, enum unit_system units) {
    struct shown_form form = shown_form(what, units);
    return (struct lesson_unit){form.unit->scale, form.sign};
}

struct lesson_unit lesson_unit_of(const struct lesson_figure *figure, enum unit_system units) {
    switch (figure->kind) {
    case LESSON_WOOD:
        return shown(SHOWN_DENSITY, units);
    case LESSON_SEALER:
        return (struct lesson_unit){1e-3, "g/m²"};
    case LESSON_PAINT:
    case LESSON_TOPCOAT:
        return shown(SHOWN_FILM, units);
    case LESSON_HOOK:
        return (struct lesson_unit){1e-3, "g"};
    case LESSON_TIME:
        return (struct lesson_unit){1, "× as planned"};
    default:
        return (struct lesson_unit){1, "× as drawn"};
    }
}
