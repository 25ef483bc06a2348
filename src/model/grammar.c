/* The rows of grammar/recipe.def become tables: read once for the structs of the parts, once for
 * their fields, once for the list of parts. */
#include "model/grammar.h"

#include "base/buf.h"
#include "model/reference.h"
#include "model/workshop.h"

#include "si.def"
#define MUST NULL

/* Words of choices, in the order of their enums (model/recipe.h).  An empty word keeps the place of
 * one that may not be chosen here: tie and hangers share one enum. */
static const char *const section_words[] = {
#define SECTION_SHAPE(key, word) word,
#include "choices.def"
    NULL};
static const char *const lip_words[] = {
#define LIP_SHAPE(key, word) word,
#include "choices.def"
    NULL};
static const char *const tie_words[] = {
#define FITTING_PLACE(key, word, tie, hanger) (tie) ? (word) : "",
#include "choices.def"
    NULL};
static const char *const hanger_words[] = {
#define FITTING_PLACE(key, word, tie, hanger) (hanger) ? (word) : "",
#include "choices.def"
    NULL};
static const char *const hook_words[] = {
#define HOOK_KIND(key, word) word,
#include "choices.def"
    NULL};
static const char *const kerf_side_words[] = {
#define KERF_SIDE(key, word) word,
#include "choices.def"
    NULL};
static const char *const kerf_close_words[] = {
#define KERF_CLOSE(key, word) word,
#include "choices.def"
    NULL};
static const char *const extra_words[] = {
#define EXTRA_STAGE(key, word, stage) word,
#include "choices.def"
    NULL};
static const char *const layer_words[] = {
#define LAYER_KIND(key, word, ...) word,
#include "tables/finish.def"
    NULL};
static const char *const where_words[] = {
#define COVER(key, word, ...) word,
#include "tables/finish.def"
    NULL};
static const char *const seal_words[] = {
#define SEAL_KIND(key, word, ...) word,
#include "tables/finish.def"
    NULL};
static const char *const filler_words[] = {
#define FILLER_KIND(key, word, ...) word,
#include "tables/filler.def"
    NULL};
static const char *const topcoat_words[] = {
#define TOPCOAT_KIND(key, word, ...) word,
#include "tables/finish.def"
    NULL};
static const char *const bore_side_words[] = {
#define BORE_SIDE(key, word, ...) word,
#include "choices.def"
    NULL};
static const char *const stopper_words[] = {
#define STOPPER(key, word) word,
#include "choices.def"
    NULL};
static const char *const bore_time_words[] = {
#define BORE_TIME(key, word) word,
#include "choices.def"
    NULL};
static const char *const paper_words[] = {
#define PAPER(key, word) word,
#include "choices.def"
    NULL};
static const char *const units_words[] = {"metric", "inch", NULL};

/* Defaults by kind: the columns of the rows of kinds that are written as a recipe would. */
#define SEAL_COLUMN(member)                         \
    static const char *seal_by_##member(int kind) { \
        return reference_seal[kind].member;         \
    }
#define TOPCOAT_COLUMN(member)                         \
    static const char *topcoat_by_##member(int kind) { \
        return reference_topcoat[kind].member;         \
    }
static const char *filler_by_density(int kind) {
    return reference_filler[kind].density;
}
REFERENCE_SEAL_DEFAULTS(SEAL_COLUMN)
REFERENCE_TOPCOAT_DEFAULTS(TOPCOAT_COLUMN)
#define BY(kind, member) NULL, .kinds = kind##_words, .by_kind = kind##_by_##member

#define PART(id, type, doc) typedef type owner_##id;
#include "recipe.def"

#define PART(id, type, doc) static const struct field id##_fields[] = {
#define END(id) \
    }           \
    ;
#define SIZE(part, member) sizeof(((owner_##part *)NULL)->member)
#define AT(part, member)   .offset = offsetof(owner_##part, member), .size = SIZE(part, member)
#define COUNT(part, member) \
    .count_offset = offsetof(owner_##part, member), .count_size = SIZE(part, member)
#define QTY(p, m, k, dim, lo, hi, def, text) \
    {.key = k,                               \
     .kind = FIELD_QUANTITY,                 \
     .need = ALWAYS,                         \
     AT(p, m),                               \
     .dimension = DIM_##dim,                 \
     .min = lo,                              \
     .max = hi,                              \
     .fallback = def,                        \
     .doc = text},
#define SOLVABLE(p, m, k, dim, lo, hi, text) \
    {.key = k,                               \
     .kind = FIELD_SOLVABLE,                 \
     .need = ALWAYS,                         \
     AT(p, m),                               \
     COUNT(p, m##_solve),                    \
     .dimension = DIM_##dim,                 \
     .min = lo,                              \
     .max = hi,                              \
     .doc = text},
#define OPT(p, m, k, dim, lo, hi, text) \
    {.key = k,                          \
     .kind = FIELD_OPT,                 \
     .need = OPTIONAL,                  \
     AT(p, m),                          \
     .dimension = DIM_##dim,            \
     .min = lo,                         \
     .max = hi,                         \
     .doc = text},
#define QTYS(p, m, k, dim, lo, hi, count, def, text) \
    {.key = k,                                       \
     .kind = FIELD_QUANTITIES,                       \
     .need = OPTIONAL,                               \
     AT(p, m),                                       \
     COUNT(p, m##_count),                            \
     .dimension = DIM_##dim,                         \
     .min = lo,                                      \
     .max = hi,                                      \
     .most = count,                                  \
     .fallback = def,                                \
     .doc = text},
#define OPT_BY(p, m, k, dim, lo, hi, def, text) \
    {.key = k,                                  \
     .kind = FIELD_OPT,                         \
     .need = OPTIONAL,                          \
     AT(p, m),                                  \
     .dimension = DIM_##dim,                    \
     .min = lo,                                 \
     .max = hi,                                 \
     .fallback = def,                           \
     .doc = text},
#define POS(p, m, k, n, text) \
    {.key = k,                \
     .kind = FIELD_POSITION,  \
     .need = n,               \
     AT(p, m),                \
     .dimension = DIM_LENGTH, \
     .max = LONGEST,          \
     .doc = text},
#define INT(p, m, k, lo, hi, def, text) \
    {.key = k,                          \
     .kind = FIELD_INTEGER,             \
     .need = ALWAYS,                    \
     AT(p, m),                          \
     .dimension = DIM_NUMBER,           \
     .min = lo,                         \
     .max = hi,                         \
     .fallback = def,                   \
     .doc = text},
#define FLAG(p, m, k, def, text) \
    {.key = k, .kind = FIELD_FLAG, .need = ALWAYS, AT(p, m), .fallback = def, .doc = text},
#define TEXT(p, m, k, most, n, text) \
    {.key = k, .kind = FIELD_TEXT, .need = n, AT(p, m), .max = most, .doc = text},
#define CHOICE(p, m, k, list, def, text) \
    {.key = k,                           \
     .kind = FIELD_CHOICE,               \
     .need = ALWAYS,                     \
     AT(p, m),                           \
     .words = list,                      \
     .fallback = def,                    \
     .doc = text},
#define SIDE(p, m, k, list, text) \
    {.key = k, .kind = FIELD_USUAL, .need = OPTIONAL, AT(p, m), .words = list, .doc = text},
#define ROW(p, m, k, names, def, text) \
    {.key = k,                         \
     .kind = FIELD_ROW,                \
     .need = ALWAYS,                   \
     AT(p, m),                         \
     .row_name = names,                \
     .fallback = def,                  \
     .doc = text},
#define ROW_OR(p, m, k, names, text) \
    {.key = k, .kind = FIELD_ROW, .need = OPTIONAL, AT(p, m), .row_name = names, .doc = text},
#define SPECIES(p, m, k, text)        \
    {.key = k,                        \
     .kind = FIELD_SPECIES,           \
     .need = ALWAYS,                  \
     AT(p, m),                        \
     COUNT(p, row),                   \
     .row_name = reference_wood_name, \
     .doc = text},
#define RATIO(p, m, k, def, text) \
    {.key = k, .kind = FIELD_PARTS, .need = OPTIONAL, AT(p, m), .fallback = def, .doc = text},
#define HEX(p, m, k, text) \
    {.key = k, .kind = FIELD_HEX, .need = OPTIONAL, AT(p, m), COUNT(p, m##_given), .doc = text},
#define MOMENT(p, m, k, text) \
    {.key = k, .kind = FIELD_MOMENT, .need = OPTIONAL, AT(p, m), .doc = text},
#define DATE(p, m, k, text) {.key = k, .kind = FIELD_DATE, .need = OPTIONAL, AT(p, m), .doc = text},
#define HOURS(p, m, k, text) \
    {.key = k, .kind = FIELD_HOURS, .need = OPTIONAL, AT(p, m), .doc = text},
#define LOAD(p, m, k, item, lo, hi, n, text) \
    {.key = k,                               \
     .kind = FIELD_LOAD,                     \
     .need = n,                              \
     AT(p, m),                               \
     COUNT(p, m##_count),                    \
     .part = PART_##item,                    \
     .min = lo,                              \
     .max = hi,                              \
     .doc = text},
#define WORDS(p, m, k, lo, hi, text) \
    {.key = k,                       \
     .kind = FIELD_WORDS,            \
     .need = OPTIONAL,               \
     AT(p, m),                       \
     COUNT(p, m##_count),            \
     .min = lo,                      \
     .max = hi,                      \
     .doc = text},
#define MARKS(p, m, k, names, most, text) \
    {.key = k,                            \
     .kind = FIELD_MARKS,                 \
     .need = OPTIONAL,                    \
     AT(p, m),                            \
     .row_name = names,                   \
     .min = 1,                            \
     .max = most,                         \
     .doc = text},
#define SUB(p, m, k, other, n, text) \
    {.key = k, .kind = FIELD_PART, .need = n, AT(p, m), .part = PART_##other, .doc = text},
#define LIST(p, m, k, item, lo, hi, n, text) \
    {.key = k,                               \
     .kind = FIELD_LIST,                     \
     .need = n,                              \
     AT(p, m),                               \
     COUNT(p, item##_count),                 \
     .part = PART_##item,                    \
     .min = lo,                              \
     .max = hi,                              \
     .doc = text},
#include "recipe.def"

const struct part grammar_parts[PART_COUNT] = {
#define PART(key, type, doc)                \
    [PART_##key] = {.id = #key,             \
                    .name = doc,            \
                    .size = sizeof(type),   \
                    .fields = key##_fields, \
                    .field_count = (int)(sizeof key##_fields / sizeof *key##_fields)},
#include "recipe.def"
};

const struct field *grammar_field(const struct part *part, struct str key) {
    for (int i = 0; i < part->field_count; i++)
        if (str_is(key, part->fields[i].key)) return &part->fields[i];
    return NULL;
}

bool grammar_required(const struct field *field) {
    if (field->need == REQUIRED) return true;
    return field->need == ALWAYS && field->kind != FIELD_PART && !field->fallback &&
           !field->by_kind;
}

bool grammar_is_leaf(const struct field *field) {
    return field->kind != FIELD_PART && field->kind != FIELD_LIST;
}

void *grammar_member(const struct field *field, const void *object) {
    return (char *)object + field->offset;
}

void *grammar_beside(const struct field *field, const void *object) {
    return (char *)object + field->count_offset;
}

const char *grammar_word(const struct field *field, int row) {
    return field->row_name ? field->row_name(row) : field->words[row];
}

int grammar_word_find(const struct field *field, struct str word) {
    const char *name;
    for (int row = 0; (name = grammar_word(field, row)); row++)
        if (*name && str_is(word, name)) return row;
    return -1;
}

const char *grammar_words(struct arena *arena, const struct field *field) {
    struct buf list = {.arena = arena};
    const char *name;
    for (int row = 0; (name = grammar_word(field, row)); row++)
        if (*name) buf_printf(&list, "%s%s", list.size ? ", " : "", name);
    return list.data;
}

static const struct {
    enum part_id part;
    const char *key, *text;
} examples[] = {
#define EXAMPLE(part, key, text) {PART_##part, key, text},
#include "examples.def"
};

static const char *example_row(const struct part *part, const char *key) {
    for (size_t i = 0; i < sizeof examples / sizeof *examples; i++)
        if (&grammar_parts[examples[i].part] == part && str_is(str_of(key), examples[i].key))
            return examples[i].text;
    return NULL;
}

static bool is_shown(const struct part *part, const struct field *field, bool any_required) {
    if (any_required) return grammar_required(field);
    for (const struct field *f = part->fields; f < field; f++)
        if (grammar_is_leaf(f)) return false;
    return grammar_is_leaf(field); /* the first one, where none must be given */
}

/* "{size: 6 mm, at: 13 mm}".  No part holds itself, so this ends. */
static const char *example_part(struct arena *arena, const struct part *part) {
    struct buf out = {.arena = arena};
    bool required = false;
    for (int i = 0; i < part->field_count; i++) required |= grammar_required(&part->fields[i]);
    buf_char(&out, '{');
    for (int i = 0; i < part->field_count; i++) {
        const struct field *f = &part->fields[i];
        const char *text = is_shown(part, f, required) ? grammar_example(arena, part, f) : NULL;
        if (text) buf_printf(&out, "%s%s: %s", out.size > 1 ? ", " : "", f->key, text);
    }
    buf_char(&out, '}');
    return out.data;
}

const char *grammar_example(struct arena *arena, const struct part *part,
                            const struct field *field) {
    if (field->kind == FIELD_PART) return example_part(arena, &grammar_parts[field->part]);
    if (field->kind != FIELD_LIST) return example_row(part, field->key);
    return arena_printf(arena, "[%s]", example_part(arena, &grammar_parts[field->part]));
}
