#include "emit/schema.h"

#include "emit/write/json.h"
#include "model/grammar.h"

static void put_reference(struct json *j, enum part_id part) {
    json_put_text(j, "$ref", arena_printf(j->arena, "#/definitions/%s", grammar_parts[part].id));
}

static void put_reference_item(struct json *j, enum part_id part) {
    json_open_object(j, NULL);
    put_reference(j, part);
    json_close(j);
}

static void put_word(struct json *j, const char *key, const char *word) {
    json_open_object(j, NULL);
    json_put_text(j, key, word);
    json_close(j);
}

/* Editors read a bare number as a number and a bare word as text: both are fine here. */
static void put_scalar(struct json *j) {
    json_open_list(j, "type");
    json_put_text(j, NULL, "string");
    json_put_text(j, NULL, "number");
    json_close(j);
}

static void put_words(struct json *j, const struct field *field) {
    const char *name;
    json_open_list(j, "enum");
    for (int row = 0; (name = grammar_word(field, row)); row++)
        if (*name) json_put_text(j, NULL, name);
    json_close(j);
}

static void put_list(struct json *j, const struct field *field) {
    json_put_text(j, "type", "array");
    json_open_object(j, "items");
    if (field->kind == FIELD_WORDS)
        json_put_text(j, "type", "string");
    else
        put_reference(j, field->part);
    json_close(j);
    json_put_whole(j, "minItems", (int)field->min);
    json_put_whole(j, "maxItems", (int)field->max);
}

/* draft-07 ignores what stands beside a $ref, so what else is said goes around it. */
static void put_part(struct json *j, const struct field *field) {
    bool required = grammar_required(field);
    json_open_list(j, required ? "allOf" : "anyOf");
    put_reference_item(j, field->part);
    if (!required) put_word(j, "const", "none");
    json_close(j);
}

static void put_load(struct json *j, const struct field *field) {
    json_open_list(j, "anyOf");
    put_word(j, "const", "solve");
    json_open_object(j, NULL);
    put_list(j, field);
    json_close(j);
    json_close(j);
}

static void put_value(struct json *j, const struct field *field) {
    switch (field->kind) {
    case FIELD_PART:
        put_part(j, field);
        break;
    case FIELD_LIST:
    case FIELD_WORDS:
        put_list(j, field);
        break;
    case FIELD_LOAD:
        put_load(j, field);
        break;
    case FIELD_CHOICE:
    case FIELD_ROW:
        put_words(j, field);
        break;
    case FIELD_INTEGER:
        json_put_text(j, "type", "integer");
        json_put_number(j, "minimum", field->min);
        json_put_number(j, "maximum", field->max);
        break;
    case FIELD_FLAG:
        json_put_text(j, "type", "boolean");
        break;
    case FIELD_HEX:
        json_put_text(j, "type", "string");
        json_put_text(j, "pattern", "^#[0-9A-Fa-f]{6}$");
        break;
    case FIELD_TEXT:
        put_scalar(j);
        json_put_whole(j, "maxLength", (int)field->max);
        break;
    case FIELD_HOURS:
        json_put_text(j, "type", "object");
        break;
    default:
        put_scalar(j);
    }
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
        json_put_text(j, "description", field->doc);
        if (field->fallback) json_put_text(j, "default", field->fallback);
        json_close(j);
    }
    json_close(j);
}

void schema_emit(struct buf *out) {
    struct json j = json_begin(out->arena);
    put_schema(&j, &grammar_parts[PART_recipe]);
    json_put_text(&j, "$schema", "http://json-schema.org/draft-07/schema#");
    json_open_object(&j, "definitions");
    for (int part = PART_recipe + 1; part < PART_COUNT; part++) {
        json_open_object(&j, grammar_parts[part].id);
        put_schema(&j, &grammar_parts[part]);
        json_close(&j);
    }
    json_close(&j);
    json_end(&j, out);
}
