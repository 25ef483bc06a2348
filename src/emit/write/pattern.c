#include "emit/write/pattern.h"

#include <string.h>

#include "base/gauge.h"

#define BLANK "[ \\t\\n\\r\\u00a0\\u2009\\u202f]"
#define SIGN  "[+\\u2212-]?"
#define GLYPH \
    "[\\u00bc\\u00bd\\u00be\\u2153\\u2154\\u215b\\u215c\\u215d\\u215e]" /* 1/4 and so on */
#define SIZE "(?:[0-9]|[1-9][0-9])"                                     /* of gauges and drills */

/* grammar/quantity.ebnf: decimal, fraction, and a whole number with a fraction behind it. */
#define NUMBER                                                                       \
    "(?:[0-9]*\\.[0-9]+|[0-9]+/[0-9]+|[0-9]+(?:" BLANK "*" GLYPH "|(?:" BLANK "+|-)" \
    "[0-9]+/[0-9]+)?|" GLYPH ")"

static bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

static void put_letter(struct buf *out, char c, bool any_case) {
    if (any_case && is_letter(c))
        buf_printf(out, "[%c%c]", c | 0x20, c & ~0x20);
    else
        buf_char(out, c);
}

/* Signs that are pasted for a unit, or for a part of it. */
static const struct {
    const char *part, *pattern;
} PASTED[] = {
    {"degC", "(?:[dD][eE][gG][cC]|\\u00b0[cC]|\\u2103)"},
    {"degF", "(?:[dD][eE][gG][fF]|\\u00b0[fF]|\\u2109)"},
    {"deg", "(?:[dD][eE][gG]|\\u00b0)"},
    {"u", "[u\\u00b5\\u03bc]"},
    {"2", "[2\\u00b2]"},
    {"3", "[3\\u00b3]"},
    {"\"", "[\"\\u2033\\u201d]"},
};

static const char *pasted(const char **name) {
    for (size_t i = 0; i < sizeof PASTED / sizeof *PASTED; i++) {
        size_t size = strlen(PASTED[i].part);
        if (strncmp(*name, PASTED[i].part, size) != 0) continue;
        *name += size;
        return PASTED[i].pattern;
    }
    return NULL;
}

/* As written; of two letters or more in any case, unless it begins with m. */
static void put_unit(struct buf *out, const char *name, bool exact) {
    bool any_case = !exact && name[0] != 'm' && name[1];
    while (*name) {
        const char *sign = pasted(&name);
        if (sign)
            buf_text(out, sign);
        else
            put_letter(out, *name++, any_case);
    }
}

static void put_units(struct buf *out, enum dimension dimension) {
    const struct unit *unit;
    const char *alias;
    buf_text(out, "(?:");
    for (int i = 0; (unit = dimension_unit_at(dimension, i)); i++) {
        if (i) buf_char(out, '|');
        put_unit(out, unit->name, false);
        for (int k = 0; (alias = unit_alias_at(unit, k)); k++) {
            buf_char(out, '|');
            put_unit(out, alias, true);
        }
    }
    buf_char(out, ')');
}

static void put_word(struct buf *out, const char *word) {
    for (; *word; word++) put_letter(out, *word, true);
}

static void put_gauges(struct buf *out) {
    const char *system;
    buf_text(out, "|" SIZE BLANK "*(?:");
    for (size_t i = 0; (system = gauge_system(i)); i++) {
        if (i) buf_char(out, '|');
        put_word(out, system);
    }
    buf_char(out, ')');
}

static void put_drills(struct buf *out) {
    buf_char(out, '|');
    put_word(out, "no");
    buf_text(out, BLANK "*" SIZE "|");
    put_word(out, "letter");
    buf_text(out, BLANK "*[A-Za-z]");
}

const char *pattern_quantity(struct arena *arena, enum dimension dimension) {
    struct buf out = {.arena = arena};
    buf_text(&out, "^" BLANK "*(?:" SIGN NUMBER);
    if (dimension != DIM_NUMBER) {
        buf_text(&out, BLANK "*");
        put_units(&out, dimension);
    }
    if (dimension_is_compound(dimension)) {
        buf_text(&out, "(?:" BLANK "*" NUMBER BLANK "*");
        put_units(&out, dimension);
        buf_text(&out, ")*");
    }
    if (dimension == DIM_WIRE) put_gauges(&out);
    if (dimension == DIM_DRILL) put_drills(&out);
    buf_text(&out, ")" BLANK "*$");
    return out.data;
}

const char *pattern_whole_number(struct arena *arena) {
    return arena_printf(arena, "%s", "^" BLANK "*[+]?[0-9]+(?:\\.0+)?" BLANK "*$");
}

const char *pattern_parts(struct arena *arena) {
    return arena_printf(arena, "%s",
                        "^" BLANK "*" NUMBER BLANK "*:" BLANK "*" NUMBER BLANK "*(?:by" BLANK
                        "+(?:mass|volume))?" BLANK "*$");
}
