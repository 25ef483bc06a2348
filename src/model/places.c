#include "model/places.h"

#include <stdint.h>

#include "base/unicode.h"
#include "model/reference.h"

struct value_place {
    const void *member;
    struct span at;
};

struct value_default {
    const void *member;
    const char *text;
};

struct part_place {
    const void *part;
    size_t size;
    struct span at;
    bool broken;
};

struct places {
    struct arena *arena;
    struct value_place *values;
    struct value_default *defaults;
    struct part_place *parts;
    int value_count, default_count, part_count;
    size_t value_capacity, default_capacity, part_capacity;
};

struct places *places_new(struct arena *arena) {
    struct places *places = NEW(arena, struct places, 1);
    places->arena = arena;
    return places;
}

void places_value(struct places *places, const void *member, struct span at) {
    GROW(places->arena, places->values, places->value_count, places->value_capacity);
    places->values[places->value_count++] = (struct value_place){member, at};
}

void places_default(struct places *places, const void *member, const char *text) {
    GROW(places->arena, places->defaults, places->default_count, places->default_capacity);
    places->defaults[places->default_count++] = (struct value_default){member, text};
}

void places_part(struct places *places, const void *part, size_t size, struct span at) {
    GROW(places->arena, places->parts, places->part_count, places->part_capacity);
    places->parts[places->part_count++] = (struct part_place){part, size, at, false};
}

static struct part_place *part_at(const struct places *places, const void *part) {
    for (int i = places->part_count - 1; i >= 0; i--)
        if (places->parts[i].part == part) return &places->parts[i];
    return NULL;
}

void places_break(struct places *places, const void *part) {
    struct part_place *place = part_at(places, part);
    if (place) place->broken = true;
}

bool places_broken(const struct places *places, const void *part) {
    const struct part_place *place = part_at(places, part);
    return place && place->broken;
}

static const struct span *value_at(const struct places *places, const void *member) {
    for (int i = 0; i < places->value_count; i++)
        if (places->values[i].member == member) return &places->values[i].at;
    return NULL;
}

bool places_wrote(const struct places *places, const void *member) {
    return value_at(places, member) != NULL;
}

static bool inside(const struct part_place *place, const void *member) {
    uintptr_t start = (uintptr_t)place->part, at = (uintptr_t)member;
    return at >= start && at < start + place->size;
}

struct span recipe_place(const struct recipe *recipe, const void *member) {
    const struct places *places = recipe->places;
    const struct span *written = value_at(places, member);
    if (written) return *written;
    for (int i = places->part_count - 1; i >= 0; i--)
        if (inside(&places->parts[i], member) && places->parts[i].at.file)
            return places->parts[i].at;
    return places->parts[0].at; /* the document itself */
}

struct span recipe_part_place(const struct recipe *recipe, const void *part) {
    const struct part_place *place = part_at(recipe->places, part);
    return place ? place->at : (struct span){0};
}

bool recipe_wrote(const struct recipe *recipe, const void *member) {
    return places_wrote(recipe->places, member);
}

/* Bytes from `at` that `points` code points take up, not beyond `end`. */
static size_t bytes_of(const char *at, const char *end, int points) {
    const char *p = at;
    for (; p < end && points > 0; points--) {
        p++;
        while (p < end && unicode_continues(*p)) p++;
    }
    return (size_t)(p - at);
}

struct str recipe_text(const struct recipe *recipe, const void *member) {
    const struct span *at = value_at(recipe->places, member);
    if (!at || !at->file || at->line < 1 || at->line > at->file->line_count)
        return (struct str){"", 0};
    const char *end = at->file->text.data + at->file->text.size;
    const char *line = at->file->text.data + at->file->line_start[at->line - 1];
    const char *start = line + bytes_of(line, end, at->column - 1);
    size_t size = bytes_of(start, end, at->length);
    if (size > 1 && (*start == '"' || *start == '\'')) start++, size -= 2;
    return (struct str){start, size};
}

struct str recipe_default(const struct recipe *recipe, const void *member) {
    const struct places *places = recipe->places;
    for (int i = 0; i < places->default_count; i++)
        if (places->defaults[i].member == member) return str_of(places->defaults[i].text);
    return (struct str){"", 0};
}

double screw_shank_mass(const struct screw *screw) {
    const double pi = 3.14159265358979323846;
    return reference_fact[FACT_HOOK_DENSITY].value * pi / 4 * screw->diameter * screw->diameter *
           screw->shank;
}

double position_in(struct position position, double length) {
    return position.share ? position.value * length : position.value;
}
