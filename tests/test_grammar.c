/* The rows of the language hold together: every key has an example, and each example is a value. */
#include <string.h>

#include "close.h"

#include "model/grammar.h"
#include "model/value.h"

static struct arena arena;

static int drop(void **state) {
    (void)state;
    arena_free(&arena);
    return 0;
}

static void every_key_has_an_example(void **state) {
    (void)state;
    for (int part = 0; part < PART_COUNT; part++)
        for (int i = 0; i < grammar_parts[part].field_count; i++) {
            const struct field *f = &grammar_parts[part].fields[i];
            if (!grammar_example(&arena, &grammar_parts[part], f))
                fail_msg("%s.%s has none", grammar_parts[part].id, f->key);
        }
}

/* Kinds of one scalar; what stands in brackets is tried by the schema's test and by recipes. */
static bool is_scalar(const struct field *f, const char *text) {
    return grammar_is_leaf(f) && f->kind != FIELD_LOAD && f->kind != FIELD_HOURS &&
           f->kind != FIELD_WORDS && f->kind != FIELD_MARKS && !strchr("[{", text[0]);
}

static struct str unquoted(const char *text) {
    size_t size = strlen(text);
    bool quoted = size > 1 && text[0] == '"';
    return (struct str){text + quoted, size - 2 * (size_t)quoted};
}

static void every_example_is_a_value_in_its_range(void **state) {
    (void)state;
    int tried = 0;
    for (int part = 0; part < PART_COUNT; part++)
        for (int i = 0; i < grammar_parts[part].field_count; i++) {
            const struct field *f = &grammar_parts[part].fields[i];
            const char *text = grammar_example(&arena, &grammar_parts[part], f);
            struct value_problem problem = {.rule = "value"};
            void *object = arena_alloc(&arena, grammar_parts[part].size);
            if (!is_scalar(f, text) || f->kind == FIELD_QUANTITIES) continue;
            if (!value_read(&arena, unquoted(text), f, object, &problem))
                fail_msg("%s.%s: %s: %s", grammar_parts[part].id, f->key, text, problem.error);
            tried++;
        }
    assert_true(tried > 200);
}

static void every_example_belongs_to_a_key(void **state) {
    (void)state;
    static const struct {
        enum part_id part;
        const char *key;
    } rows[] = {
#define EXAMPLE(part, key, text) {PART_##part, key},
#include "examples.def"
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        if (!grammar_field(&grammar_parts[rows[i].part], str_of(rows[i].key)))
            fail_msg("there is no %s.%s", grammar_parts[rows[i].part].id, rows[i].key);
        for (size_t k = 0; k < i; k++)
            assert_false(rows[k].part == rows[i].part && strcmp(rows[k].key, rows[i].key) == 0);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_key_has_an_example),
        cmocka_unit_test(every_example_is_a_value_in_its_range),
        cmocka_unit_test(every_example_belongs_to_a_key),
    };
    return cmocka_run_group_tests(tests, NULL, drop);
}
