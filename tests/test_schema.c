#include <jansson.h>
#include <stdlib.h>

#include "close.h"

#include "emit/schema.h"
#include "model/grammar.h"

static json_t *schema_of(enum part_id id) {
    struct arena arena = {0};
    struct buf out = {.arena = &arena};
    json_error_t error;
    schema_emit(&out, id);
    json_t *root = json_loadb(out.data, out.size, JSON_REJECT_DUPLICATES, &error);
    assert_non_null(root);
    arena_free(&arena);
    return root;
}

static json_t *schema(void) {
    return schema_of(PART_recipe);
}

static const json_t *definition(const json_t *root, const char *id) {
    return json_object_get(json_object_get(root, "definitions"), id);
}

/* Counts what is referred to; a name without a definition fails. */
static int follow_references(const json_t *root, json_t *value) {
    int count = 0;
    const char *key;
    json_t *inner;
    size_t index;
    if (json_is_array(value))
        json_array_foreach(value, index, inner) count += follow_references(root, inner);
    if (!json_is_object(value)) return count;
    json_object_foreach(value, key, inner) {
        if (strcmp(key, "$ref") == 0) {
            static const char prefix[] = "#/definitions/";
            const char *to = json_string_value(inner);
            assert_memory_equal(to, prefix, strlen(prefix));
            assert_non_null(definition(root, to + strlen(prefix)));
            count += !strchr(to, '-'); /* "measure-mass" and "lip-whole" are no parts */
        }
        count += follow_references(root, inner);
    }
    return count;
}

/* What leads to other parts, in those parts that the schema has. */
static int references_due(const json_t *root, enum part_id first) {
    int due = 0;
    for (int part = 0; part < PART_COUNT; part++) {
        if (part != (int)first && !definition(root, grammar_parts[part].id)) continue;
        for (int i = 0; i < grammar_parts[part].field_count; i++) {
            enum field_kind kind = grammar_parts[part].fields[i].kind;
            due += kind == FIELD_PART || kind == FIELD_LIST || kind == FIELD_LOAD;
        }
    }
    return due;
}

static void every_reference_leads_to_a_part_by_its_name(void **state) {
    (void)state;
    static const enum part_id roots[] = {PART_recipe, PART_workshop};
    for (int i = 0; i < 2; i++) {
        json_t *root = schema_of(roots[i]);
        assert_int_equal(follow_references(root, root), references_due(root, roots[i]));
        assert_null(definition(root, "part1"));
        json_decref(root);
    }
}

static void each_root_has_what_it_leads_to_and_no_more(void **state) {
    (void)state;
    json_t *recipe = schema(), *workshop = schema_of(PART_workshop);
    assert_non_null(definition(recipe, "line_tie"));
    assert_null(definition(recipe, "own_wood"));
    assert_non_null(definition(workshop, "own_wood"));
    assert_non_null(definition(workshop, "allowance"));
    assert_null(definition(workshop, "line_tie"));
    for (int part = 0; part < PART_COUNT; part++) {
        const char *id = grammar_parts[part].id;
        bool root = part == PART_recipe || part == PART_workshop;
        assert_true(root || definition(recipe, id) || definition(workshop, id));
    }
    json_decref(recipe);
    json_decref(workshop);
}

static void check_keys(const json_t *object, const struct part *p) {
    const json_t *properties = json_object_get(object, "properties");
    assert_int_equal(json_object_size(properties), p->field_count);
    assert_true(json_is_false(json_object_get(object, "additionalProperties")));
    for (int i = 0; i < p->field_count; i++) {
        const json_t *value = json_object_get(properties, p->fields[i].key);
        const char *says = json_string_value(json_object_get(value, "description"));
        assert_non_null(says);
        assert_memory_equal(says, p->fields[i].doc, strlen(p->fields[i].doc));
        if (p->fields[i].kinds)
            assert_non_null(strstr(says, "; by kind: "));
        else
            assert_string_equal(says, p->fields[i].doc);
    }
}

static void every_key_of_every_part_stands_in_it(void **state) {
    (void)state;
    static const enum part_id roots[] = {PART_recipe, PART_workshop};
    for (int i = 0; i < 2; i++) {
        json_t *root = schema_of(roots[i]);
        check_keys(root, &grammar_parts[roots[i]]);
        for (int part = 0; part < PART_COUNT; part++) {
            const json_t *object = definition(root, grammar_parts[part].id);
            if (object) check_keys(object, &grammar_parts[part]);
        }
        json_decref(root);
    }
}

static void values_have_the_form_that_their_kind_has(void **state) {
    (void)state;
    json_t *root = schema();
    static const struct {
        const char *part, *key, *says;
    } CASES[] = {
        {"recipe", "make",
         "{\"type\": [\"integer\", \"string\"], \"minimum\": 1.0, \"maximum\": 500.0"},
        {"recipe", "name", "{\"type\": [\"string\", \"number\", \"boolean\"], \"maxLength\": 80"},
        {"recipe", "wood", "{\"allOf\": [{\"$ref\": \"#/definitions/wood\"}]"},
        {"recipe", "lip", "{\"anyOf\": [{\"$ref\": \"#/definitions/lip\"}, {\"const\": \"none\"}]"},
        {"wood", "species", "{\"anyOf\": [{\"enum\": [\"basswood\", "},
        {"lip", "shape", "{\"enum\": [\"square\", \"round\", \"taper\"]"},
        {"lip", "angle",
         "{\"anyOf\": [{\"$ref\": \"#/definitions/measure-angle\"}, {\"const\": \"solve\"}]"},
        {"bore", "load", "{\"anyOf\": [{\"const\": \"solve\"}, {\"type\": \"array\""},
        {"layer", "hex", "{\"type\": \"string\", \"pattern\": \"^#[0-9A-Fa-f]{6}$\""},
        {"seal", "sand", "{\"enum\": [true, false, \"true\", "},
        {"shop", "open", "{\"type\": \"object\""},
        {"step", "order", "{\"type\": \"array\", \"items\": {\"type\": \"string\"}"},
    };
    for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
        bool whole = strcmp(CASES[i].part, "recipe") == 0;
        const json_t *part = whole ? root : definition(root, CASES[i].part);
        json_t *value = json_object_get(json_object_get(part, "properties"), CASES[i].key);
        char *text = json_dumps(value, 0);
        if (strncmp(text, CASES[i].says, strlen(CASES[i].says)) != 0)
            fail_msg("%s is %s", CASES[i].key, text);
        free(text);
    }
    json_decref(root);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_reference_leads_to_a_part_by_its_name),
        cmocka_unit_test(each_root_has_what_it_leads_to_and_no_more),
        cmocka_unit_test(every_key_of_every_part_stands_in_it),
        cmocka_unit_test(values_have_the_form_that_their_kind_has),
    };
    return cmocka_run_group_tests_name("schema", tests, NULL, NULL);
}
