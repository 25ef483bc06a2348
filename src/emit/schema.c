#include "emit/schema.h"

#include <jansson.h>

#include "model/grammar.h"

static void put(json_t *object, const char *key, json_t *value) {
    json_object_set_new(object, key, value);
}

/* Editors read a bare number as a number and a bare word as text: both are fine here. */
static json_t *scalar(void) {
    return json_pack("{s: [s, s]}", "type", "string", "number");
}

static json_t *words(const struct field *field) {
    json_t *list = json_array();
    const char *name;
    for (int row = 0; (name = grammar_word(field, row)); row++)
        if (*name) json_array_append_new(list, json_string(name));
    return json_pack("{s: o}", "enum", list);
}

static json_t *reference_to(enum part_id part) {
    return json_pack("{s: o}", "$ref", json_sprintf("#/definitions/part%d", (int)part));
}

static json_t *list_of(json_t *items, const struct field *field) {
    return json_pack("{s: s, s: o, s: i, s: i}", "type", "array", "items", items, "minItems",
                     (int)field->min, "maxItems", (int)field->max);
}

static json_t *value_of(const struct field *field) {
    switch (field->kind) {
    case FIELD_PART:
        if (grammar_required(field)) return reference_to(field->part);
        return json_pack("{s: [o, {s: s}]}", "anyOf", reference_to(field->part), "const", "none");
    case FIELD_LIST:
        return list_of(reference_to(field->part), field);
    case FIELD_LOAD:
        return json_pack("{s: [{s: s}, o]}", "anyOf", "const", "solve",
                         list_of(reference_to(field->part), field));
    case FIELD_WORDS:
        return list_of(json_pack("{s: s}", "type", "string"), field);
    case FIELD_CHOICE:
    case FIELD_ROW:
        return words(field);
    case FIELD_INTEGER:
        return json_pack("{s: s, s: f, s: f}", "type", "integer", "minimum", field->min, "maximum",
                         field->max);
    case FIELD_FLAG:
        return json_pack("{s: s}", "type", "boolean");
    case FIELD_HEX:
        return json_pack("{s: s, s: s}", "type", "string", "pattern", "^#[0-9A-Fa-f]{6}$");
    case FIELD_TEXT:
        return json_pack("{s: [s, s], s: i}", "type", "string", "number", "maxLength",
                         (int)field->max);
    case FIELD_OPENING:
        return json_pack("{s: s}", "type", "object");
    default:
        return scalar();
    }
}

static json_t *part_schema(const struct part *part) {
    json_t *properties = json_object(), *required = json_array();
    for (int i = 0; i < part->field_count; i++) {
        const struct field *field = &part->fields[i];
        json_t *value = value_of(field);
        /* draft-07 ignores what stands beside a $ref, so the sentence goes around it */
        if (json_object_get(value, "$ref")) value = json_pack("{s: [o]}", "allOf", value);
        put(value, "description", json_string(field->doc));
        if (field->fallback) put(value, "default", json_string(field->fallback));
        put(properties, field->key, value);
        if (grammar_required(field)) json_array_append_new(required, json_string(field->key));
    }
    return json_pack("{s: s, s: s, s: b, s: o, s: o}", "title", part->name, "type", "object",
                     "additionalProperties", 0, "required", required, "properties", properties);
}

static int write_bytes(const char *bytes, size_t size, void *out) {
    buf_bytes(out, bytes, size);
    return 0;
}

void schema_emit(struct buf *out) {
    json_t *definitions = json_object();
    for (int part = 1; part < PART_COUNT; part++) {
        struct buf name = {.arena = out->arena};
        buf_printf(&name, "part%d", part);
        put(definitions, name.data, part_schema(&grammar_parts[part]));
    }
    json_t *root = part_schema(&grammar_parts[PART_recipe]);
    put(root, "$schema", json_string("http://json-schema.org/draft-07/schema#"));
    put(root, "definitions", definitions);
    json_dump_callback(root, write_bytes, out, JSON_INDENT(2) | JSON_REAL_PRECISION(12));
    buf_char(out, '\n');
    json_decref(root);
}
