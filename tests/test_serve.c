/* What a place in an unfinished recipe belongs to, how the protocol counts places, and what bounds
 * a message (Language Server Protocol, 3.17: Position, Base protocol). */
#define _DEFAULT_SOURCE

#include "close.h"

#include <glob.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "serve/document.h"
#include "serve/post.h"
#include "serve/where.h"

static struct arena arena;

static int drop(void **state) {
    (void)state;
    arena_free(&arena);
    return 0;
}

/* --- places in the language ------------------------------------------------------------------- */

/* Where the mark | stands, which is no part of the text. */
static struct where at_mark(const char *marked) {
    const char *mark = strchr(marked, '|');
    char *text = arena_printf(&arena, "%.*s%s", (int)(mark - marked), marked, mark + 1);
    return where_find(&arena, str_of(text), (size_t)(mark - marked));
}

static void assert_key(const char *marked, const char *part) {
    struct where where = at_mark(marked);
    if (where.value || !where.part || strcmp(where.part->id, part) != 0)
        fail_msg("%s\nis %s of %s", marked, where.value ? "a value" : "a key",
                 where.part ? where.part->id : "nothing");
}

static void assert_value(const char *marked, const char *part, const char *key) {
    struct where where = at_mark(marked);
    const char *found = where.field ? where.field->key : "nothing";
    if (!where.value || !where.part || strcmp(where.part->id, part) != 0 || strcmp(found, key) != 0)
        fail_msg("%s\nis %s of %s, %s", marked, where.value ? "a value" : "a key",
                 where.part ? where.part->id : "nothing", found);
}

static void a_new_line_belongs_to_its_indentation(void **state) {
    (void)state;
    assert_key("|", "recipe");
    assert_key("recipe: 1\n|", "recipe");
    assert_key("recipe: 1\nbody:\n  |", "body");
    assert_key("recipe: 1\nbody:\n  length: 95 mm\n  |", "body");
    assert_key("recipe: 1\nbody:\n  length: 95 mm\n|", "recipe");
    assert_key("recipe: 1\nbody:\n  section:\n    shape: oval\n  |\n", "body");
    assert_key("recipe: 1\nbody:\n  section:\n    shape: oval\n    |\n", "section");
    assert_key("recipe: 1\r\nbody:\r\n  |\r\n", "body");
    assert_key("workshop: 1\n|", "workshop");
    assert_key("recipe: 1\nworkshop: ../w.yaml\n|", "recipe");
}

static void so_does_an_item_of_a_list(void **state) {
    (void)state;
    assert_key("ballast:\n  bores:\n    - |", "bore");
    assert_key("ballast:\n  bores:\n  - |", "bore");
    assert_key("ballast:\n  bores:\n  - at: 30 mm\n    |", "bore");
    assert_key("ballast:\n  bores:\n  - at: 30 mm\n  - at: 40 mm\n    dr|", "bore");
    assert_key("ballast:\n  bores:\n  - at: 30 mm\n  |", "ballast");
    assert_key("joints:\n- at: 30 mm\n  hinge:\n    |", "hinge");
    assert_value("measured:\n  blank:\n    - 9.4 |g\n", "measured", "blank");
}

static void brackets_count_wherever_they_end(void **state) {
    (void)state;
    assert_key("wood: {|", "wood");
    assert_key("wood: {species: basswood, |}", "wood");
    assert_key("wood: {species: basswood,\n       |", "wood");
    assert_value("wood: {species: bass|wood}", "wood", "species");
    assert_value("wood: { species: |", "wood", "species");
    assert_key("ballast: {bores: [{at: 30 mm}, {|", "bore");
    assert_value("ballast: {bores: [{at: 30 mm}, {load: [{ball: |", "piece", "ball");
    assert_value("measured: {blank: [9.4 g, 9|", "measured", "blank");
    assert_value("finish: {seal: {name: 'a } in it', kind: |", "seal", "kind");
    assert_key("wood: {species: basswood} # a { in it\n|", "recipe");
}

static void a_bracket_that_was_forgotten_ends_with_its_line(void **state) {
    (void)state;
    assert_key("ballast:\n  bores:\n  - {at: 30 mm, load:\nfinish:\n  s|", "finish");
    assert_key("wood: {species: basswood\nbody:\n  |", "body");
}

static void text_is_no_key(void **state) {
    (void)state;
    assert_value("note: |x\nname: x", "recipe", "note");
    assert_value("name: a: b|", "recipe", "name");
    assert_key("note: >\n  body:\n    length: 3\nbo|", "recipe");
    struct where where = at_mark("odd:\n  |");
    assert_null(where.part);
    where = at_mark("odd: {a: {|");
    assert_null(where.part);
}

/* The tree that libyaml makes is what the same place must come to. */
static const char *checked; /* for messages */
static int places;

static void assert_given(const struct where *where, const struct node *mapping) {
    int count = 0;
    for (const struct node *child = mapping->first; child; child = child->next) {
        bool found = false;
        for (int i = 0; i < where->given_count; i++)
            found |= str_equal(where->given[i], child->key);
        if (!found) fail_msg("%s:%d: a key is not seen", checked, child->key_at.line);
        count++;
    }
    if (where->given_count != count)
        fail_msg("%s:%d: %d keys for %d", checked, mapping->at.line, where->given_count, count);
}

static void assert_tree(const struct document_open *d, const struct node *node,
                        const struct part *part) {
    for (const struct node *child = node->first; child; child = child->next) {
        const struct field *field = grammar_field(part, child->key);
        size_t from, to;
        assert_non_null(field);
        assert_true(document_bytes(d, child->key_at, &from, &to));
        struct where where = where_find(&arena, d->text, from + 1);
        if (where.value || where.field != field)
            fail_msg("%s:%d: key %s", checked, child->key_at.line, field->key);
        assert_int_equal(where.from, from);
        assert_int_equal(where.to, to);
        assert_given(&where, node);
        places++;
        bool parts = !grammar_is_leaf(field) || field->kind == FIELD_LOAD;
        const struct part *within = parts ? &grammar_parts[field->part] : NULL;
        if (child->kind == NODE_MAPPING && within) assert_tree(d, child, within);
        for (const struct node *item = child->first; child->kind == NODE_SEQUENCE && within && item;
             item = item->next)
            if (item->kind == NODE_MAPPING) assert_tree(d, item, within);
        if (child->kind != NODE_SCALAR || !document_bytes(d, child->at, &from, &to)) continue;
        if (d->text.data[from] == '|' || d->text.data[from] == '>') continue;
        where = where_find(&arena, d->text, to);
        if (!where.value || where.field != field)
            fail_msg("%s:%d: value of %s", checked, child->at.line, field->key);
    }
}

static void every_recipe_is_seen_as_its_tree_is(void **state) {
    (void)state;
    glob_t found;
    assert_int_equal(glob("recipes/*.yaml", 0, NULL, &found), 0);
    for (size_t i = 0; i < found.gl_pathc; i++) {
        struct document_open d;
        struct diags none = {.arena = &arena};
        const char *failure;
        checked = found.gl_pathv[i];
        const struct source *source = source_read(&arena, checked, &none, &failure);
        document_open(&d, str_of(arena_printf(&arena, "file:///%s", checked)), 1,
                      source->file.text);
        /* The text alone: what a base or a workshop says has its places in another. */
        document_compiled(&d);
        struct node *root = tree_read(&d.arena, d.compilation.document.sources[0], &none);
        if (!root) fail_msg("%s: nothing was read", checked);
        assert_tree(&d, root,
                    &grammar_parts[variant_is_workshop(root) ? PART_workshop : PART_recipe]);
        document_close(&d);
    }
    globfree(&found);
    assert_true(places > 1000);
}

/* Cut off anywhere, it is looked at and nothing goes wrong. */
static void every_place_of_a_recipe_has_an_answer(void **state) {
    (void)state;
    struct diags none = {.arena = &arena};
    const char *failure;
    const struct source *source = source_read(&arena, "recipes/grebe.yaml", &none, &failure);
    struct str text = source->file.text;
    for (size_t size = 0; size <= text.size; size++) {
        struct arena own = {0};
        struct str cut = {arena_copy(&own, text.data, size), size};
        struct where where = where_find(&own, cut, size);
        assert_true(where.from <= where.word && where.word <= where.to && where.to <= size);
        arena_free(&own);
    }
}

/* --- places in the text ------------------------------------------------------------------------
 */

static void places_count_as_the_protocol_does(void **state) {
    (void)state;
    /* "a", U+00E9 (two bytes, one unit), U+1F41F (four bytes, two units), then the second line. */
    static const char text[] = "a\xC3\xA9\xF0\x9F\x90\x9F!\r\nb\rc\n";
    static const struct {
        size_t byte;
        int line, utf16, utf8;
    } places_of[] = {{0, 0, 0, 0},  {1, 0, 1, 1},  {3, 0, 2, 3},  {7, 0, 4, 7}, {8, 0, 5, 8},
                     {10, 1, 0, 0}, {11, 1, 1, 1}, {12, 2, 0, 0}, {14, 3, 0, 0}};
    struct document_open d;
    document_open(&d, str_of("untitled:1"), 1, (struct str){text, sizeof text - 1});
    assert_null(d.path);
    for (size_t i = 0; i < sizeof places_of / sizeof *places_of; i++) {
        struct text_place wide = document_place(&d, places_of[i].byte, ENCODING_UTF16);
        struct text_place narrow = document_place(&d, places_of[i].byte, ENCODING_UTF8);
        assert_int_equal(wide.line, places_of[i].line);
        assert_int_equal(wide.character, places_of[i].utf16);
        assert_int_equal(narrow.character, places_of[i].utf8);
        assert_int_equal(document_byte(&d, wide, ENCODING_UTF16), places_of[i].byte);
        assert_int_equal(document_byte(&d, narrow, ENCODING_UTF8), places_of[i].byte);
    }
    assert_int_equal(document_byte(&d, (struct text_place){0, 99}, ENCODING_UTF16), 8);
    assert_int_equal(document_byte(&d, (struct text_place){99, 0}, ENCODING_UTF16), 14);
    assert_int_equal(document_byte(&d, (struct text_place){-1, 0}, ENCODING_UTF16), 0);
    document_close(&d);
}

/* RFC 8089, and RFC 3986, 2.1. */
static void files_are_named_by_uris(void **state) {
    (void)state;
    static const char path[] = "/home/a b/\xC3\xA9:%.yaml";
    const char *uri = document_uri(&arena, path);
    assert_string_equal(uri, "file:///home/a%20b/%C3%A9%3A%25.yaml");
    assert_string_equal(document_path(&arena, str_of(uri)), path);
    assert_string_equal(document_path(&arena, str_of("file://host/a")), "/a");
    assert_null(document_path(&arena, str_of("http://host/a")));
    assert_null(document_path(&arena, str_of("file:///a%00b")));
    assert_null(document_path(&arena, str_of("file:///a%zzb")));
}

/* --- messages -----------------------------------------------------------------------------------
 */

/* What comes of these bytes, all that there are. */
static enum post_state post(const char *bytes, struct str *body, const char **wrong) {
    int ends[2];
    assert_int_equal(pipe(ends), 0);
    assert_int_equal(write(ends[1], bytes, strlen(bytes)), (ssize_t)strlen(bytes));
    close(ends[1]);
    struct post p = {.in = ends[0]};
    enum post_state state = post_take(&p, &arena, body, wrong);
    close(ends[0]);
    return state;
}

static void a_message_has_a_length(void **state) {
    (void)state;
    struct str body;
    const char *wrong;
    assert_int_equal(post("Content-Length: 2\r\n\r\n{}", &body, &wrong), POST_MESSAGE);
    assert_true(str_is(body, "{}"));
    assert_int_equal(post("X: y\r\ncontent-length:3\r\n\r\n[1]", &body, &wrong), POST_MESSAGE);
    assert_true(str_is(body, "[1]"));
    assert_int_equal(post("", &body, &wrong), POST_END);
    static const char *const faults[] = {
        "Content-Length: 2\r\n\r\n{",
        "Content-Length: 2\r\n",
        "X: 2\r\n\r\n{}",
        "Content-Length: -2\r\n\r\n",
        "Content-Length: 99999999999\r\n\r\n",
        "Content-Length: 2x\r\n\r\n",
        "Content-Length: 8388609\r\n\r\n",
    };
    for (size_t i = 0; i < sizeof faults / sizeof *faults; i++)
        assert_int_equal(post(faults[i], &body, &wrong), POST_WRONG);
    struct buf endless = {.arena = &arena};
    for (int i = 0; i < 500; i++) buf_text(&endless, "X: aaaaaaaaaa\r\n");
    assert_int_equal(post(endless.data, &body, &wrong), POST_WRONG);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_new_line_belongs_to_its_indentation),
        cmocka_unit_test(so_does_an_item_of_a_list),
        cmocka_unit_test(brackets_count_wherever_they_end),
        cmocka_unit_test(a_bracket_that_was_forgotten_ends_with_its_line),
        cmocka_unit_test(text_is_no_key),
        cmocka_unit_test(every_recipe_is_seen_as_its_tree_is),
        cmocka_unit_test(every_place_of_a_recipe_has_an_answer),
        cmocka_unit_test(places_count_as_the_protocol_does),
        cmocka_unit_test(files_are_named_by_uris),
        cmocka_unit_test(a_message_has_a_length),
    };
    return cmocka_run_group_tests(tests, NULL, drop);
}
