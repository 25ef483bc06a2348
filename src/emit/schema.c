#include "emit/schema.h"

#include <string.h>

#include "emit/write/json.h"
#include "emit/write/pattern.h"
#include "model/grammar.h"

/* --- values ----------------------------------------------------------------------------------- */

static void put_reference(struct json *j, const struct field *field) {
    const char *id = grammar_parts[field->part].id;
    json_put_text(j, "$ref", arena_printf(j->arena, "#/definitions/%s", id));
}

/* What must be given of a part stands by itself: a variant leaves it to its base. */
static const char *whole_id(struct arena *arena, enum part_id part) {
    return arena_printf(arena, "%s-whole", grammar_parts[part].id);
}

static void put_whole_reference(struct json *j, const char *key, enum part_id part) {
    json_open_object(j, key);
    json_put_text(j, "$ref", arena_printf(j->arena, "#/definitions/%s", whole_id(j->arena, part)));
    json_close(j);
}

static void put_const(struct json *j, const char *word) {
    json_open_object(j, NULL);
    json_put_text(j, "const", word);
    json_close(j);
}

static void put_pattern(struct json *j, const char *pattern) {
    json_put_text(j, "type", "string");
    json_put_text(j, "pattern", pattern);
}

/* Editors read a bare number as a number and a bare true as a truth; the compiler as text. */
static void put_types(struct json *j, bool truth) {
    json_open_list(j, "type");
    json_put_text(j, NULL, "string");
    json_put_text(j, NULL, "number");
    if (truth) json_put_text(j, NULL, "boolean");
    json_close(j);
}

/* Long patterns stand once, and what the rows say of a field beside them. */
static const char *measure_id(struct arena *arena, enum dimension dimension) {
    static const char *const ids[DIM_COUNT_] = {
#define DIMENSION(id, ...) [DIM_##id] = #id,
#include "units.def"
    };
    char *id = arena_printf(arena, "measure-%s", ids[dimension]);
    for (char *c = id; *c; c++)
        if (*c >= 'A' && *c <= 'Z') *c = (char)(*c - 'A' + 'a');
    return id;
}

static void put_measure(struct json *j, enum dimension dimension) {
    json_put_text(j, "$ref",
                  arena_printf(j->arena, "#/definitions/%s", measure_id(j->arena, dimension)));
}

/* One of several forms. */
static void open_forms(struct json *j) {
    json_open_list(j, "anyOf");
}

static void put_measure_form(struct json *j, enum dimension dimension) {
    json_open_object(j, NULL);
    put_measure(j, dimension);
    json_close(j);
}

static void schema_quantity(struct json *j, const struct field *field) {
    open_forms(j);
    put_measure_form(j, field->dimension);
    json_close(j);
}

static void schema_solvable(struct json *j, const struct field *field) {
    open_forms(j);
    put_measure_form(j, field->dimension);
    put_const(j, "solve");
    json_close(j);
}

static void schema_position(struct json *j, const struct field *field) {
    (void)field;
    open_forms(j);
    put_measure_form(j, DIM_LENGTH);
    put_measure_form(j, DIM_SHARE);
    put_const(j, "nose");
    put_const(j, "tail");
    json_close(j);
}

static void schema_integer(struct json *j, const struct field *field) {
    json_open_list(j, "type");
    json_put_text(j, NULL, "integer");
    json_put_text(j, NULL, "string");
    json_close(j);
    json_put_number(j, "minimum", field->min);
    json_put_number(j, "maximum", field->max);
    json_put_text(j, "pattern", pattern_whole_number(j->arena));
}

static void schema_flag(struct json *j, const struct field *field) {
    (void)field;
    json_open_list(j, "enum");
    json_put_flag(j, NULL, true);
    json_put_flag(j, NULL, false);
    json_put_text(j, NULL, "true");
    json_put_text(j, NULL, "false");
    json_put_text(j, NULL, "yes");
    json_put_text(j, NULL, "no");
    json_close(j);
}

static void schema_text(struct json *j, const struct field *field) {
    put_types(j, true);
    json_put_whole(j, "maxLength", (int)field->max);
    json_put_text(j, "pattern", "[^ \\t]");
}

static void schema_words(struct json *j, const struct field *field) {
    const char *name;
    json_open_list(j, "enum");
    for (int row = 0; (name = grammar_word(field, row)); row++)
        if (*name) json_put_text(j, NULL, name);
    json_close(j);
}

/* The words of the table for an editor to offer, and any other: the workshop may have woods of its
 * own. */
static void schema_species(struct json *j, const struct field *field) {
    open_forms(j);
    json_open_object(j, NULL);
    schema_words(j, field);
    json_close(j);
    json_open_object(j, NULL);
    json_put_text(j, "type", "string");
    json_close(j);
    json_close(j);
}

static void schema_parts(struct json *j, const struct field *field) {
    (void)field;
    put_pattern(j, pattern_parts(j->arena));
}

static void schema_hex(struct json *j, const struct field *field) {
    (void)field;
    put_pattern(j, "^#[0-9A-Fa-f]{6}$");
}

static void schema_moment(struct json *j, const struct field *field) {
    (void)field;
    put_pattern(j, "^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}(?::00)?$");
}

static void schema_date(struct json *j, const struct field *field) {
    (void)field;
    put_pattern(j, "^[0-9]{4}-[0-9]{2}-[0-9]{2}$");
}

static void put_period(struct json *j, const char *key) {
    json_open_object(j, key);
    put_pattern(j, "^[0-9]{2}:[0-9]{2}-[0-9]{2}:[0-9]{2}$");
    json_close(j);
}

static void schema_hours(struct json *j, const struct field *field) {
    (void)field;
    json_put_text(j, "type", "object");
    json_put_flag(j, "additionalProperties", false);
    json_open_object(j, "patternProperties");
    json_open_object(j, "^(?:mon|tue|wed|thu|fri|sat|sun)$");
    open_forms(j);
    put_period(j, NULL);
    json_open_object(j, NULL);
    json_put_text(j, "type", "array");
    put_period(j, "items");
    json_put_whole(j, "maxItems", 8);
    json_close(j);
    json_open_object(j, NULL);
    json_put_text(j, "type", "null");
    json_close(j);
    json_close(j);
    json_close(j);
    json_close(j);
}

static void open_items(struct json *j) {
    json_put_text(j, "type", "array");
    json_open_object(j, "items");
}

static void close_items(struct json *j, const struct field *field) {
    json_close(j);
    json_put_whole(j, "minItems", (int)field->min);
    json_put_whole(j, "maxItems", (int)field->max);
}

static void schema_ids(struct json *j, const struct field *field) {
    open_items(j);
    json_put_text(j, "type", "string");
    close_items(j, field);
}

/* A list that a variant names takes the place of its base's, so its items are whole; but the
 * workshop may have what a layer leaves out. */
static void put_items(struct json *j, const struct field *field) {
    open_items(j);
    json_open_list(j, "allOf");
    json_open_object(j, NULL);
    put_reference(j, field);
    json_close(j);
    if (field->part != PART_layer) put_whole_reference(j, NULL, field->part);
    json_close(j);
    close_items(j, field);
}

static void schema_list(struct json *j, const struct field *field) {
    open_forms(j);
    json_open_object(j, NULL);
    put_items(j, field);
    json_close(j);
    put_const(j, "none");
    json_close(j);
}

static void schema_quantities(struct json *j, const struct field *field) {
    open_forms(j);
    put_measure_form(j, field->dimension);
    json_open_object(j, NULL);
    open_items(j);
    put_measure(j, field->dimension);
    json_close(j);
    json_put_whole(j, "minItems", 1);
    json_put_whole(j, "maxItems", field->most);
    json_close(j);
    json_close(j);
}

static void schema_marks(struct json *j, const struct field *field) {
    open_items(j);
    schema_words(j, field);
    close_items(j, field);
}

static void schema_load(struct json *j, const struct field *field) {
    open_forms(j);
    put_const(j, "solve");
    json_open_object(j, NULL);
    put_items(j, field);
    json_close(j);
    json_close(j);
}

/* draft-07 ignores what stands beside a $ref, so what else is said goes around it. */
static void schema_part(struct json *j, const struct field *field) {
    bool required = grammar_required(field);
    json_open_list(j, required ? "allOf" : "anyOf");
    json_open_object(j, NULL);
    put_reference(j, field);
    json_close(j);
    if (!required) put_const(j, "none");
    json_close(j);
}

static const struct {
    enum field_kind kind;
    void (*put)(struct json *j, const struct field *field);
} kinds[FIELD_KINDS] = {
#define KIND(id, ...)    [FIELD_##id] = {.kind = FIELD_##id, __VA_ARGS__},
#define SCHEMA(function) .put = function,
#include "model/kind.def"
};

/* --- parts ------------------------------------------------------------------------------------ */

/* "of the cured film; by kind: epoxy 1.15 g/cm3, ..." */
static const char *description(struct arena *arena, const struct field *field) {
    struct buf out = {.arena = arena};
    buf_text(&out, field->doc);
    const char *join = "; by kind:";
    for (int kind = 0; field->kinds && field->kinds[kind]; kind++) {
        const char *text = field->by_kind(kind);
        if (text) buf_printf(&out, "%s %s %s", join, field->kinds[kind], text), join = ",";
    }
    return out.data;
}

/* Of single values: what stands in brackets or quotes is no text for a schema. */
static void put_example(struct json *j, const char *example) {
    if (strchr("[{\"", example[0])) return;
    json_open_list(j, "examples");
    json_put_text(j, NULL, example);
    json_close(j);
}

static void put_part(struct json *j, const struct part *part) {
    json_put_text(j, "title", part->name);
    json_put_text(j, "type", "object");
    json_put_flag(j, "additionalProperties", false);
    json_open_object(j, "properties");
    for (int i = 0; i < part->field_count; i++) {
        const struct field *field = &part->fields[i];
        json_open_object(j, field->key);
        kinds[field->kind].put(j, field);
        json_put_text(j, "description", description(j->arena, field));
        if (field->fallback) json_put_text(j, "default", field->fallback);
        put_example(j, grammar_example(j->arena, part, field));
        json_close(j);
    }
    json_close(j);
}

static bool leads_on(const struct field *field) {
    return !grammar_is_leaf(field) || field->kind == FIELD_LOAD;
}

/* What must be given of a part and of the parts in it. */
static void put_whole(struct json *j, const struct part *part) {
    json_open_list(j, "required");
    for (int i = 0; i < part->field_count; i++)
        if (grammar_required(&part->fields[i])) json_put_text(j, NULL, part->fields[i].key);
    json_close(j);
    json_open_object(j, "properties");
    for (int i = 0; i < part->field_count; i++) {
        const struct field *field = &part->fields[i];
        if (field->kind == FIELD_PART) put_whole_reference(j, field->key, field->part);
        if (field->kind != FIELD_LIST && field->kind != FIELD_LOAD) continue;
        json_open_object(j, field->key);
        put_whole_reference(j, "items", field->part);
        json_close(j);
    }
    json_close(j);
}

/* Marks the parts that values of this one hold. */
static void reach(enum part_id part, bool *reached) {
    if (reached[part]) return;
    reached[part] = true;
    for (int i = 0; i < grammar_parts[part].field_count; i++) {
        const struct field *field = &grammar_parts[part].fields[i];
        if (leads_on(field)) reach(field->part, reached);
    }
}

/* A bare number is one for editors too. */
static void put_quantity(struct json *j, enum dimension dimension) {
    const char *pattern = pattern_quantity(j->arena, dimension);
    if (dimension != DIM_NUMBER) {
        put_pattern(j, pattern);
        return;
    }
    put_types(j, false);
    json_put_text(j, "pattern", pattern);
}

static void put_definitions(struct json *j, enum part_id root) {
    bool reached[PART_COUNT] = {false};
    reach(root, reached);
    json_open_object(j, "definitions");
    for (int dimension = 0; dimension < DIM_COUNT_; dimension++) {
        json_open_object(j, measure_id(j->arena, (enum dimension)dimension));
        put_quantity(j, (enum dimension)dimension);
        json_close(j);
    }
    for (int part = 0; part < PART_COUNT; part++) {
        if (!reached[part]) continue;
        if (part != (int)root) {
            json_open_object(j, grammar_parts[part].id);
            put_part(j, &grammar_parts[part]);
            json_close(j);
        }
        json_open_object(j, whole_id(j->arena, (enum part_id)part));
        put_whole(j, &grammar_parts[part]);
        json_close(j);
    }
    json_close(j);
}

/* A recipe that names a file which may give the rest. */
static void put_named(struct json *j, const char *key) {
    json_open_object(j, NULL);
    json_open_list(j, "required");
    json_put_text(j, NULL, key);
    json_close(j);
    json_open_object(j, "properties");
    json_open_object(j, key);
    json_open_object(j, "not");
    json_open_list(j, "enum");
    json_put_text(j, NULL, "none");
    json_put_null(j, NULL);
    json_close(j);
    json_close(j);
    json_close(j);
    json_close(j);
    json_close(j);
}

static void put_need(struct json *j, enum part_id root) {
    if (root == PART_recipe) {
        json_open_object(j, "if");
        open_forms(j);
        put_named(j, "base");
        put_named(j, "workshop");
        json_close(j);
        json_close(j);
        json_open_object(j, "then");
        json_open_list(j, "required");
        json_put_text(j, NULL, "recipe");
        json_close(j);
        json_close(j);
        put_whole_reference(j, "else", root);
    } else {
        json_open_list(j, "allOf");
        put_whole_reference(j, NULL, root);
        json_close(j);
    }
}

void schema_emit(struct buf *out, enum part_id root) {
    struct json j = json_begin(out->arena);
    json_put_text(&j, "$schema", "http://json-schema.org/draft-07/schema#");
    json_put_text(&j, "$id", arena_printf(j.arena, "urn:plugwright:%s:1", grammar_parts[root].id));
    put_part(&j, &grammar_parts[root]);
    put_need(&j, root);
    put_definitions(&j, root);
    json_end(&j, out);
}
