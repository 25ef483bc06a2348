/* The language as tables: one row a field, from grammar/recipe.def.
 *
 * Binding, range checks, defaults, hints, the schema and the reference page all read these rows; a
 * field is described nowhere else.
 */
#ifndef PLUGWRIGHT_GRAMMAR_H
#define PLUGWRIGHT_GRAMMAR_H

#include <stddef.h>

#include "base/quantity.h"
#include "model/recipe.h"

enum field_kind {
    FIELD_QUANTITY, /* double */
    FIELD_OPT,      /* struct opt: a quantity that may be left out */
    FIELD_POSITION, /* struct position */
    FIELD_INTEGER,  /* int */
    FIELD_FLAG,     /* bool */
    FIELD_TEXT,     /* struct str; `max` is its greatest number of characters */
    FIELD_CHOICE,   /* enum, the index of a word */
    FIELD_ROW,      /* int, a row of a trade table */
    FIELD_PARTS,    /* struct parts */
    FIELD_HEX,      /* unsigned and bool behind it */
    FIELD_MOMENT,   /* struct moment */
    FIELD_HOURS,    /* struct hours *, NULL: not given */
    FIELD_LOAD,     /* list of pieces, or the word `solve` (struct bore) */
    FIELD_WORDS,    /* struct str *, count */
    FIELD_PART,     /* pointer to another part */
    FIELD_LIST,     /* array of another part, count */
};

enum need {
    REQUIRED, /* missing: an error */
    OPTIONAL, /* missing: not given */
    ALWAYS,   /* missing: made from its defaults (parts), or the row's default text */
};

/* Marks of grammar/recipe.def. */
enum part_id {
#define PART(id, type, doc) PART_##id,
#include "recipe.def"
    PART_COUNT
};

struct field {
    const char *key;
    enum field_kind kind;
    enum need need;
    size_t offset, count_offset; /* of the member, and of its count or flag */
    enum dimension dimension;
    double min, max;                  /* SI; of lists and loads: least and greatest count */
    const char *fallback;             /* default, written as a recipe would write it; NULL: none */
    const char *const *words;         /* FIELD_CHOICE, ended by NULL */
    const char *(*row_name)(int row); /* FIELD_ROW: NULL past the end, "" where not to be chosen */
    enum part_id part;                /* FIELD_PART, FIELD_LIST, FIELD_LOAD: of the items */
    const char *doc;                  /* one sentence, no full stop */
};

struct part {
    const char *id;   /* "line_tie", as the rows name it */
    const char *name; /* for people: "the line tie" */
    size_t size;
    const struct field *fields;
    int field_count;
};

extern const struct part grammar_parts[PART_COUNT];

/* The field with this key, or NULL. */
const struct field *grammar_field(const struct part *part, struct str key);

/* Whether leaving the field out is an error. */
bool grammar_required(const struct field *field);

/* Choices and rows: the word of an index (NULL past the end, "" where it may not be chosen), the
 * index of a word (-1: none), and all words, comma-separated, for hints and the reference. */
const char *grammar_word(const struct field *field, int row);
int grammar_word_find(const struct field *field, struct str word);
const char *grammar_words(struct arena *arena, const struct field *field);

#endif
