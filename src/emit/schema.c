#include "emit/schema.h"

#include "emit/write/json.h"
#include "model/grammar.h"

static void put_reference(struct json *j, const struct field *field) {
    const char *id = grammar_parts[field->part].id;
    json_put_text(j, "$ref", arena_printf(j->arena, "#/definitions/%s", id));
}

static void put_const(struct json *j, const char *word) {
    json_open_object(j, NULL);
    json_put_text(j, "const", word);
    json_close(j);
}

/* Editors read a bare number as a number and a bare word as text: both are fine here. */
static void put_scalar(struct json *j) {
    json_open_list(j, "type");
    json_put_text(j, NULL, "string");
    json_put_text(j, NULL, "number");
    json_close(j);
}

static void schema_integer(struct json *j, const struct field *field) {
    json_put_text(j, "type", "integer");
    json_put_number(j, "minimum", field->min);
    json_put_number(j, "maximum", field->max);
}

static void schema_flag(struct json *j, const struct field *field) {
    (void)field;
    json_put_text(j, "type", "boolean");
}

static void schema_text(struct json *j, const struct field *field) {
    put_scalar(j);
    json_put_whole(j, "maxLength", (int)field->max);
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
    json_open_list(j, "anyOf");
    json_open_object(j, NULL);
    schema_words(j, field);
    json_close(j);
    json_open_object(j, NULL);
    json_put_text(j, "type", "string");
    json_close(j);
    json_close(j);
}

static void schema_hex(struct json *j, const struct field *field) {
    (void)field;
    json_put_text(j, "type", "string");
    json_put_text(j, "pattern", "^#[0-9A-Fa-f]{6}$");
}

static void schema_hours(struct json *j, const struct field *field) {
    (void)field;
    json_put_text(j, "type", "object");
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

static void schema_list(struct json *j, const struct field *field) {
    open_items(j);
    put_reference(j, field);
    close_items(j, field);
}

static void schema_quantities(struct json *j, const struct field *field) {
    json_open_list(j, "anyOf");
    json_open_object(j, NULL);
    put_scalar(j);
    json_close(j);
    json_open_object(j, NULL);
    open_items(j);
    put_scalar(j);
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
    json_open_list(j, "anyOf");
    put_const(j, "solve");
    json_open_object(j, NULL);
    schema_list(j, field);
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

static void put_value(struct json *j, const struct field *field) {
    if (kinds[field->kind].put)
        kinds[field->kind].put(j, field);
    else
        put_scalar(j);
}

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

static void put_schema(struct json *j, const struct part *part) {
    json_put_text(j, "title", part->name);
    json_put_text(j, "type", "object");
    json_put_flag(j, "additionalProperties", false);
    json_open_list(j, "required");
    for (int i = 0; i < part->field_count; i++)
        if (grammar_required(&part->fields[i])) json_put_text(j, NULL, part->fields[i].key);
    json_close(j);
    json_open_object(j, "properties");
    for (int i = 0; i < part->field_count; i++) {
        const struct field *field = &part->fields[i];
        json_open_object(j, field->key);
        put_value(j, field);
        json_put_text(j, "description", description(j->arena, field));
        if (field->fallback) json_put_text(j, "default", field->fallback);
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
        if (!grammar_is_leaf(field) || field->kind == FIELD_LOAD) reach(field->part, reached);
    }
}

void schema_emit(struct buf *out, enum part_id root) {
    struct json j = json_begin(out->arena);
    bool reached[PART_COUNT] = {false};
    reach(root, reached);
    put_schema(&j, &grammar_parts[root]);
    json_put_text(&j, "$schema", "http://json-schema.org/draft-07/schema#");
    json_open_object(&j, "definitions");
    for (int part = 0; part < PART_COUNT; part++) {
        if (!reached[part] || part == (int)root) continue;
        json_open_object(&j, grammar_parts[part].id);
        put_schema(&j, &grammar_parts[part]);
        json_close(&j);
    }
    json_close(&j);
    json_end(&j, out);
}
