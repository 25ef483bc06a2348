/* The tables of grammar/units.def, and the reading of a unit against them. */
#include "base/unit.h"

#include <string.h>

#include "base/buf.h"

static const struct unit UNITS[] = {
#define UNIT(dimension, name, scale, offset, source) {DIM_##dimension, name, scale, offset},
#include "units.def"
};

struct word_row {
    const char *written, *name;
};

static const struct word_row SIGNS[] = {
#define UNIT_SIGN(name, sign) {name, sign},
#include "units.def"
};

static const struct word_row ALIASES[] = {
#define UNIT_ALIAS(written, name) {written, name},
#include "units.def"
};

static const struct word_row MEANT[] = {
#define UNIT_MEANT(written, name) {written, name},
#include "units.def"
};

static const struct {
    const char *name, *example;
} DIMENSIONS[DIM_COUNT_] = {
#define DIMENSION(id, name, example) [DIM_##id] = {name, example},
#include "units.def"
};

/* Of all but those that keep the usual decimals, one more than is said, so that 0 is not said. */
static const int CANONICAL_DECIMALS[DIM_COUNT_] = {
#define CANONICAL(dimension, decimals) [DIM_##dimension] = 1 + (decimals),
#include "units.def"
};

struct form_row {
    const char *unit;
    int decimals;
};

static const struct shown_row {
    struct form_row exact, bench[2];
} SHOWN_ROWS[] = {
#define SHOWN(key, exact, exact_decimals, metric, metric_decimals, inch, inch_decimals) \
    {{exact, exact_decimals},                                                           \
     {[UNITS_METRIC] = {metric, metric_decimals}, [UNITS_INCH] = {inch, inch_decimals}}},
#include "units.def"
};

#define COUNT(rows) (sizeof(rows) / sizeof *(rows))

const char *dimension_name(enum dimension dimension) {
    return DIMENSIONS[dimension].name;
}

const char *dimension_example(enum dimension dimension) {
    return DIMENSIONS[dimension].example;
}

/* Dimensions that are written in units of another. */
static const struct {
    enum dimension measured;
    const char *unit; /* NULL: a dimension of its own */
} WRITTEN[DIM_COUNT_] = {
#define DIMENSION_AS(id, measured, unit) [DIM_##id] = {DIM_##measured, unit},
#include "units.def"
};

enum dimension dimension_measured(enum dimension dimension) {
    return WRITTEN[dimension].unit ? WRITTEN[dimension].measured : dimension;
}

const struct unit *dimension_unit(enum dimension dimension) {
    const char *shown = WRITTEN[dimension].unit;
    for (size_t i = 0; i < COUNT(UNITS); i++)
        if (UNITS[i].dimension == dimension_measured(dimension) &&
            (!shown || strcmp(UNITS[i].name, shown) == 0))
            return &UNITS[i];
    return NULL;
}

const struct unit *dimension_unit_at(enum dimension dimension, int index) {
    for (size_t i = 0; i < COUNT(UNITS); i++)
        if (UNITS[i].dimension == dimension_measured(dimension) && index-- == 0) return &UNITS[i];
    return NULL;
}

bool dimension_is_compound(enum dimension dimension) {
    enum dimension measured = dimension_measured(dimension);
    return measured == DIM_LENGTH || measured == DIM_MASS || measured == DIM_VOLUME ||
           measured == DIM_TIME;
}

const char *unit_alias_at(const struct unit *unit, int index) {
    for (size_t i = 0; i < COUNT(ALIASES); i++)
        if (strcmp(ALIASES[i].name, unit->name) == 0 && index-- == 0) return ALIASES[i].written;
    return NULL;
}

int dimension_decimals(enum dimension dimension) {
    const int usual = 3;
    int decimals = CANONICAL_DECIMALS[dimension_measured(dimension)];
    return decimals ? decimals - 1 : usual;
}

double unit_number(const struct unit *unit, double si) {
    return (si - unit->offset) / unit->scale;
}

static struct shown_form form_of(struct form_row row) {
    static const struct unit plain = {DIM_NUMBER, "", 1, 0};
    struct shown_form form = {&plain, row.unit, row.decimals};
    for (size_t i = 0; i < COUNT(UNITS); i++)
        if (strcmp(UNITS[i].name, row.unit) == 0) form.unit = &UNITS[i];
    for (size_t i = 0; i < COUNT(SIGNS); i++)
        if (strcmp(SIGNS[i].written, row.unit) == 0) form.sign = SIGNS[i].name;
    return form;
}

struct shown_form shown_form(enum shown_as what, enum unit_system units) {
    return form_of(SHOWN_ROWS[what].bench[units]);
}

struct shown_form shown_exact(enum shown_as what) {
    return form_of(SHOWN_ROWS[what].exact);
}

static const char *pasted(struct scan *scan) {
    static const char *const PASTED[][2] = {
        {"\xC2\xB5", "u"},      {"\xCE\xBC", "u"},        {"\xC2\xB2", "2"},
        {"\xC2\xB3", "3"},      {"\xC2\xB0", "deg"},      {"\xE2\x80\xB3", "\""},
        {"\xE2\x80\x9D", "\""}, {"\xE2\x84\x83", "degC"}, {"\xE2\x84\x89", "degF"},
    };
    if ((unsigned char)scan_peek(scan) < 0x80) return NULL;
    for (size_t i = 0; i < COUNT(PASTED); i++)
        if (scan_take(scan, PASTED[i][0])) return PASTED[i][1];
    return NULL;
}

static struct unit_word take_word(struct scan *scan) {
    struct unit_word word = {.written = {scan->at, 0}};
    size_t size = 0;
    struct scan before = *scan;
    while (scan->at < scan->end && !scan_take_blank(&before)) {
        if (scan_is_digit(*scan->at) && !word.digit) word.digit = scan->at;
        const char *sign = pasted(scan);
        size_t length = sign ? strlen(sign) : 1;
        if (size + length < UNIT_NAME_MAX) memcpy(word.name + size, sign ? sign : scan->at, length);
        size += length;
        if (!sign) scan->at++;
        before = *scan;
    }
    if (size >= UNIT_NAME_MAX) size = 0;
    word.name[size] = '\0';
    word.written.size = (size_t)(scan->at - word.written.data);
    return word;
}

/* As written; else, for names of two letters or more, in any case: but m is milli, M is mega. */
static const struct unit *find_unit(const char *name) {
    for (size_t i = 0; i < COUNT(UNITS); i++)
        if (strcmp(UNITS[i].name, name) == 0) return &UNITS[i];
    for (size_t i = 0; i < COUNT(ALIASES); i++)
        if (strcmp(ALIASES[i].written, name) == 0) return find_unit(ALIASES[i].name);
    if (name[0] == '\0' || name[1] == '\0') return NULL;
    for (size_t i = 0; i < COUNT(UNITS); i++)
        if (UNITS[i].name[0] != 'm' && str_is_any_case(str_of(name), UNITS[i].name))
            return &UNITS[i];
    return NULL;
}

/* The unit that stands next.  In `1h30min` a word ends where the next number begins. */
const struct unit *unit_take(struct scan *scan, struct unit_word *word) {
    *word = take_word(scan);
    const struct unit *unit = find_unit(word->name);
    if (unit || !word->digit) return unit;
    struct scan first = {word->written.data, word->digit};
    struct unit_word cut = take_word(&first);
    unit = find_unit(cut.name);
    if (unit) {
        scan->at = word->digit;
        *word = cut;
    }
    return unit;
}

const char *unit_meant(const struct unit_word *word, enum dimension dimension) {
    const char *names[COUNT(UNITS)];
    size_t count = 0;
    for (size_t i = 0; i < COUNT(UNITS); i++)
        if (UNITS[i].dimension == dimension_measured(dimension)) names[count++] = UNITS[i].name;
    for (size_t i = 0; i < COUNT(MEANT); i++) {
        if (!str_is_any_case(str_of(word->name), MEANT[i].written)) continue;
        for (size_t j = 0; j < count; j++)
            if (strcmp(names[j], MEANT[i].name) == 0) return names[j];
    }
    return str_nearest(str_of(word->name), names, count);
}

const char *unit_list(struct arena *arena, enum dimension dimension) {
    struct buf list = {.arena = arena};
    buf_printf(&list, "%s is written in", dimension_name(dimension));
    const char *comma = "";
    for (size_t i = 0; i < COUNT(UNITS); i++) {
        if (UNITS[i].dimension != dimension_measured(dimension)) continue;
        buf_printf(&list, "%s %s", comma, UNITS[i].name);
        comma = ",";
    }
    return list.data;
}
