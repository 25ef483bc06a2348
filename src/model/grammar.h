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
#define KIND(id, ...) FIELD_##id,
#include "model/kind.def"
    FIELD_KINDS
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
    size_t offset, size;             /* of the member, */
    size_t count_offset, count_size; /* and of its count or flag, where it has one */
    enum dimension dimension;
    double min, max;                  /* SI; of lists and loads: least and greatest count */
    int most;                         /* FIELD_QUANTITIES: greatest count */
    const char *fallback;             /* default, written as a recipe would write it; NULL: none */
    const char *const *kinds;         /* words of the choice that the default depends on instead, */
    const char *(*by_kind)(int kind); /* and the default of each, or NULL */
    const char *const *words;         /* FIELD_CHOICE, FIELD_USUAL; ended by NULL */
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

/* Whether it holds a value of its own, and not a part or a list of parts. */
bool grammar_is_leaf(const struct field *field);

/* The member of an object of the field's part, and its count or flag (`object` may be constant). */
void *grammar_member(const struct field *field, const void *object);
void *grammar_beside(const struct field *field, const void *object);

/* Choices and rows: the word of an index (NULL past the end, "" where it may not be chosen), the
 * index of a word (-1: none), and all words, comma-separated, for hints and the reference. */
const char *grammar_word(const struct field *field, int row);
int grammar_word_find(const struct field *field, struct str word);
const char *grammar_words(struct arena *arena, const struct field *field);

/* A value of the field of this part as a recipe may write it, from grammar/examples.def; of a part
 * or a list one of what must be given of it.  NULL where no row has one. */
const char *grammar_example(struct arena *arena, const struct part *part,
                            const struct field *field);

#endif
