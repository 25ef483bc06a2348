#include <stdlib.h>
#include <time.h>

#include "close.h"

#include "base/buf.h"
#include "read/tree.h"

struct bench {
    struct arena arena;
    struct diags diags;
    struct node *root;
};

static struct bench *bench_of(struct str text) {
    struct bench *bench = calloc(1, sizeof *bench);
    assert_non_null(bench);
    bench->diags.arena = &bench->arena;
    const struct source *source = source_of(&bench->arena, "t", text, &bench->diags);
    bench->root = tree_read(&bench->arena, source, &bench->diags);
    diags_sort(&bench->diags);
    return bench;
}

static void bench_free(struct bench *bench) {
    arena_free(&bench->arena);
    free(bench);
}

/* Every diagnostic as "line:column+length rule: message; hint", one a line. */
static const char *listed(struct bench *bench) {
    struct buf buf = {.arena = &bench->arena};
    buf_text(&buf, "");
    for (int i = 0; i < bench->diags.count; i++) {
        const struct diag *d = &bench->diags.items[i];
        buf_printf(&buf, "%d:%d+%d %s: %s", d->at.line, d->at.column, d->at.length, d->rule,
                   d->message);
        if (d->hint) buf_printf(&buf, "; %s", d->hint);
        buf_char(&buf, '\n');
    }
    return buf.data;
}

/* The tree on one line: {key: 'scalar', key: [~, !]}. */
static void show(struct buf *buf, const struct node *node) {
    static const char *const OPEN[] = {"'", "~", "{", "[", "!"};
    static const char *const CLOSE[] = {"'", "", "}", "]", ""};
    buf_text(buf, OPEN[node->kind]);
    if (node->kind == NODE_SCALAR) buf_str(buf, node->text);
    int count = 0;
    for (const struct node *child = node->first; child; child = child->next, count++) {
        if (count) buf_text(buf, ", ");
        if (node->kind == NODE_MAPPING) buf_str(buf, child->key);
        if (node->kind == NODE_MAPPING) buf_text(buf, ": ");
        show(buf, child);
    }
    assert_int_equal(count, node->count);
    buf_text(buf, CLOSE[node->kind]);
}

static const char *shown(struct bench *bench) {
    if (!bench->root) return "nothing";
    struct buf buf = {.arena = &bench->arena};
    show(&buf, bench->root);
    return buf.data;
}

struct tree_case {
    const char *text, *tree, *diags;
};

static void assert_trees(const struct tree_case *cases, size_t count) {
    for (size_t i = 0; i < count; i++) {
        struct bench *bench = bench_of(str_of(cases[i].text));
        assert_string_equal(listed(bench), cases[i].diags);
        assert_string_equal(shown(bench), cases[i].tree);
        bench_free(bench);
    }
}

#define ASSERT_TREES(cases) assert_trees(cases, sizeof(cases) / sizeof *(cases))

static void every_scalar_stays_text(void **state) {
    (void)state;
    static const struct tree_case CASES[] = {
        {"a: no\nb: 1:1\nc: 010\nd: 1e3\ne: 0x1F\nf: 2026-12-05\n",
         "{a: 'no', b: '1:1', c: '010', d: '1e3', e: '0x1F', f: '2026-12-05'}", ""},
        {"a: \"x\\ty\"\nb: 'it''s'\nc: |\n  one\n  two\nd: >\n  one\n  two\n",
         "{a: 'x\ty', b: 'it's', c: 'one\ntwo\n', d: 'one two\n'}", ""},
        {"a: {b: [1, 2], c: }\n", "{a: {b: ['1', '2'], c: ~}}", ""},
        {"---\na: 1\n...\n", "{a: '1'}", ""},
        {"%YAML 1.2\n# note\n---\na: 1\n", "{a: '1'}", ""},
        {"\xEF\xBB\xBF"
         "a: \xC2\xB5\n",
         "{a: '\xC2\xB5'}", ""},
        {"a: 1\r\nb:\r\n  - 2\r\n", "{a: '1', b: ['2']}", ""},
        {"{}\n", "{}", ""},
        {"\"line tie\": {\"place\": \"nose\"}", "{line tie: {place: 'nose'}}", ""},
        {"? a\n: 1\n", "{a: '1'}", ""},
    };
    ASSERT_TREES(CASES);
}

static void an_unquoted_nothing_is_empty_and_a_quoted_one_is_text(void **state) {
    (void)state;
    static const struct tree_case CASES[] = {
        {"a:\nb: ~\nc: null\nd: \"\"\ne: 'null'\nf: '~'\ng: Null\n",
         "{a: ~, b: ~, c: ~, d: '', e: 'null', f: '~', g: 'Null'}", ""},
        {"- a\n", "nothing",
         "1:1+1 top: a recipe is made of keys with their values, one a line; such as name: Heron "
         "140\n"},
        {"a:\n  -\n  - x\n", "{a: [~, 'x']}", ""},
    };
    ASSERT_TREES(CASES);
}

/* A node's place, and that of its key, as line:column+length. */
static void assert_place(struct span at, int line, int column, int length) {
    assert_int_equal(at.line, line);
    assert_int_equal(at.column, column);
    assert_int_equal(at.length, length);
}

static void every_node_keeps_its_place(void **state) {
    (void)state;
    struct bench *bench = bench_of(str_of("name: \"Heron \xC2\xB5\"  # note\n"
                                          "body:\n"
                                          "  length: 140 mm\n"
                                          "  rows: [1, {at: 2}]\n"
                                          "  list:\n"
                                          "    - x\n"
                                          "note: |\n"
                                          "  some text\n"
                                          "folded: one\n"
                                          "  two\n"));
    assert_string_equal(listed(bench), "");
    assert_place(bench->root->at, 1, 1, 4);
    const struct node *name = tree_find(bench->root, "name");
    assert_place(name->at, 1, 7, 9);
    assert_place(name->key_at, 1, 1, 4);
    assert_true(name->quoted);
    const struct node *body = tree_find(bench->root, "body");
    assert_place(body->at, 3, 3, 6);
    assert_place(body->key_at, 2, 1, 4);
    const struct node *length = tree_find(body, "length");
    assert_place(length->at, 3, 11, 6);
    assert_false(length->quoted);
    const struct node *rows = tree_find(body, "rows");
    assert_place(rows->at, 4, 9, 1);
    assert_place(rows->first->next->at, 4, 13, 1);
    assert_place(tree_find(rows->first->next, "at")->at, 4, 18, 1);
    assert_place(tree_find(body, "list")->at, 6, 5, 1);
    assert_place(tree_find(bench->root, "note")->at, 7, 7, 1);
    assert_place(tree_find(bench->root, "folded")->at, 9, 9, 3);
    assert_null(tree_find(bench->root, "nam"));
    bench_free(bench);
}

static void an_empty_value_stands_where_it_would_be_written(void **state) {
    (void)state;
    struct bench *bench = bench_of(str_of("hex: #FFD21E, gold\n"
                                          "body:\n"
                                          "a: {hex:   #123\n  }\n"
                                          "tilde: ~ # note\n"));
    const struct node *hex = tree_find(bench->root, "hex");
    assert_int_equal(hex->kind, NODE_EMPTY);
    assert_place(hex->at, 1, 6, 7);
    assert_true(str_is(tree_comment(hex), "#FFD21E"));
    const struct node *body = tree_find(bench->root, "body");
    assert_place(body->at, 2, 6, 1);
    assert_true(str_is(tree_comment(body), ""));
    const struct node *tilde = tree_find(bench->root, "tilde");
    assert_place(tilde->at, 5, 8, 1);
    assert_true(str_is(tree_comment(tilde), ""));
    bench_free(bench);
}

static void duplicate_keys_are_told_and_the_first_stands(void **state) {
    (void)state;
    static const struct tree_case CASES[] = {
        {"a: 1\nb: 2\na: 3\nc: {x: 1, x: 2}\na: 4\n", "{a: '1', b: '2', c: {x: '1'}}",
         "3:1+1 duplicate-key: the key 'a' is given twice; it is given in line 1 already\n"
         "4:11+1 duplicate-key: the key 'x' is given twice; it is given in line 4 already\n"
         "5:1+1 duplicate-key: the key 'a' is given twice; it is given in line 1 already\n"},
        {"a: 1\n\"a\": 2\n", "{a: '1'}",
         "2:1+3 duplicate-key: the key 'a' is given twice; it is given in line 1 already\n"},
        {"a: 1\nA: 2\n", "{a: '1', A: '2'}", ""},
    };
    ASSERT_TREES(CASES);
}

static void what_the_language_has_not_is_told_and_reading_goes_on(void **state) {
    (void)state;
    static const struct tree_case CASES[] = {
        {"a: &x 1\nb: *x\nc: 2\n", "{a: '1', b: !, c: '2'}",
         "1:4+2 anchor: anchors are not part of the language; write the value out, or use base\n"
         "2:4+2 alias: aliases are not part of the language; write the value out, or use base\n"},
        {"a: &x {b: 1}\nc: &y [*x]\n", "{a: {b: '1'}, c: [!]}",
         "1:4+2 anchor: anchors are not part of the language; write the value out, or use base\n"
         "2:4+2 anchor: anchors are not part of the language; write the value out, or use base\n"
         "2:8+2 alias: aliases are not part of the language; write the value out, or use base\n"},
        {"a: 1\n<<: {b: *x}\nc: 2\n", "{a: '1', c: '2'}",
         "2:1+2 merge-key: merge keys are not part of the language; "
         "write the value out, or use base\n"
         "2:9+2 alias: aliases are not part of the language; write the value out, or use base\n"},
        {"&k a: 1\n*k : 2\nb: 3\n", "{a: '1', b: '3'}",
         "1:1+2 anchor: anchors are not part of the language; write the value out, or use base\n"
         "2:1+2 alias: aliases are not part of the language; write the value out, or use base\n"},
        {"a: !!str 1\nb: ! 2\nc: !mine {x: !!int 1}\nd: ! [1]\ne: ! \"x\"\nf: !!str\n",
         "{a: '1', b: '2', c: {x: '1'}, d: ['1'], e: 'x', f: ~}",
         "1:4+5 tag: tags are not part of the language; "
         "leave it out: the field decides what a value is\n"
         "2:4+1 tag: tags are not part of the language; "
         "leave it out: the field decides what a value is\n"
         "3:4+5 tag: tags are not part of the language; "
         "leave it out: the field decides what a value is\n"
         "3:14+5 tag: tags are not part of the language; "
         "leave it out: the field decides what a value is\n"
         "4:4+1 tag: tags are not part of the language; "
         "leave it out: the field decides what a value is\n"
         "5:4+1 tag: tags are not part of the language; "
         "leave it out: the field decides what a value is\n"
         "6:4+5 tag: tags are not part of the language; "
         "leave it out: the field decides what a value is\n"},
        {"! a: 1\n", "{a: '1'}",
         "1:1+1 tag: tags are not part of the language; "
         "leave it out: the field decides what a value is\n"},
        {"%TAG !x! tag:x\n---\na: 1\n", "nothing",
         "1:1+4 tag: tags are not part of the language; "
         "leave it out: the field decides what a value is\n"},
        {"[a, b]: 1\nc: 2\n? {d: 3, d: 4}\n: 5\n\"\": 6\n", "{c: '2'}",
         "1:1+1 key: a key is a word, without braces or brackets; such as length: 140 mm\n"
         "3:3+1 key: a key is a word, without braces or brackets; such as length: 140 mm\n"
         "3:10+1 duplicate-key: the key 'd' is given twice; it is given in line 3 already\n"
         "5:1+2 key: a key is missing\n"},
    };
    ASSERT_TREES(CASES);
}

static void escapes_bring_in_no_control_characters(void **state) {
    (void)state;
    struct bench *bench =
        bench_of(str_of("a: \"x\\0y\"\nb: \"\\e[31m\"\nc: \"\\N\"\nd: \"\\t\\n\\_\"\n"));
    assert_string_equal(
        listed(bench),
        "1:4+6 control-character: the control character U+0000 has no place in a recipe\n"
        "2:4+8 control-character: the control character U+001B has no place in a recipe\n"
        "3:4+4 control-character: the control character U+0085 has no place in a recipe\n");
    assert_int_equal(bench->root->count, 4);
    bench_free(bench);
}

static void a_second_document_is_told_and_not_read(void **state) {
    (void)state;
    static const char SECOND[] = "second-document: a recipe is one document, and a second one "
                                 "begins here; write it to a file of its own\n";
    static const struct {
        const char *text, *place;
    } CASES[] = {
        {"a: 1\n---\nb: [\n", "2:1+3 "},
        {"a: 1\n...\n# note\n--- {b: 2}\n", "4:1+3 "},
        {"a: 1\n...\n%YAML 1.2\n---\nb: 2\n", "3:1+5 "},
        {"a: 1\n...\n%TAG ! tag:x\n", "3:1+4 "},
    };
    for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
        struct bench *bench = bench_of(str_of(CASES[i].text));
        const char *want = arena_printf(&bench->arena, "%s%s", CASES[i].place, SECOND);
        assert_string_equal(listed(bench), want);
        assert_string_equal(shown(bench), "{a: '1'}");
        bench_free(bench);
    }
    struct bench *bench = bench_of(str_of("a: 1\n...\n\n# note\n...\n  \n"));
    assert_string_equal(listed(bench), "");
    bench_free(bench);
}

static void a_recipe_is_a_map_at_the_top(void **state) {
    (void)state;
    static const char TOP[] =
        "top: a recipe is made of keys with their values, one a line; such as name: Heron 140\n";
    static const struct {
        const char *text, *place;
    } CASES[] = {{"Heron\n", "1:1+5 "},
                 {"# note\n- a\n- &x b\n", "2:1+1 "},
                 {"[a: 1]\n", "1:1+1 "},
                 {"--- ~\n", "1:5+1 "},
                 {"*x\n", "1:1+2 "}};
    for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
        struct bench *bench = bench_of(str_of(CASES[i].text));
        const char *want = arena_printf(&bench->arena, "%s%s", CASES[i].place, TOP);
        assert_string_equal(listed(bench), want);
        assert_null(bench->root);
        bench_free(bench);
    }
    static const struct tree_case EMPTY[] = {
        {"", "nothing", "1:1+1 top: the recipe is empty; such as name: Heron 140\n"},
        {"# note\n\n", "nothing", "1:1+1 top: the recipe is empty; such as name: Heron 140\n"},
    };
    ASSERT_TREES(EMPTY);
}

static void syntax_errors_stand_at_the_slip(void **state) {
    (void)state;
    static const struct tree_case CASES[] = {
        {"a: [1, 2\nb: 3\n", "nothing",
         "1:4+1 syntax: the [ that opens here is not closed; put ] behind its last value\n"},
        {"body:\n\tlength: 1\n", "nothing",
         "2:1+1 syntax: a tab stands before this line; indent with blanks, not with tabs\n"},
        {"a: @x\n", "nothing",
         "1:4+1 syntax: a text cannot begin with @; put it in quotes: \"@x\"\n"},
        {"note: water: cold\n", "nothing",
         "1:12+1 syntax: a second colon in this line; put the text in quotes: \"water: cold\"\n"},
        {"a: 1\nlength 140\nwidth: 3\n", "nothing",
         "2:1+6 syntax: a colon is missing behind this key; write length: 140\n"},
        {"a: 1\nb: \"open\n", "nothing",
         "2:4+1 syntax: the quotes that open here are not closed; put the same sign, \", behind "
         "the "
         "text\n"},
        {"a: 'open", "nothing",
         "1:4+1 syntax: the quotes that open here are not closed; put the same sign, ', behind the "
         "text\n"},
        {"a: {b: c", "nothing",
         "1:4+1 syntax: the { that opens here is not closed; put } behind its last value\n"},
        {"  a: 1\nb: 2\n", "nothing",
         "2:1+2 syntax: this line stands further left than those it belongs to; it has no blank "
         "before it; the line that it follows has 2 blanks\n"},
        {"{a: 1} b\n", "nothing",
         "1:8+1 syntax: text goes on behind the closing brace; put it before the brace, or remove "
         "it\n"},
    };
    ASSERT_TREES(CASES);
}

/* What somebody writes who knows no YAML, and what is said to it. */
static void slips_are_told_in_the_words_of_a_builder(void **state) {
    (void)state;
    static const struct tree_case CASES[] = {
        {"a: {name: \xE2\x80\x9C"
         "Bob: x\xE2\x80\x9D}\n",
         "nothing",
         "1:11+1 syntax: curly quotes do not hold a text together; write straight ones: \"\n"},
        {"a: {b: (1, 2)]\n", "nothing",
         "1:8+1 syntax: round brackets hold nothing together; write { and } instead\n"},
        {"a: {b: 1\"x\": 2}\n", "nothing",
         "1:8+4 syntax: a comma is missing before this key; write , 1\"x\":\n"},
        {"a: {\"b\":1 c: 2}\n", "nothing",
         "1:8+1 syntax: a blank is missing behind this colon; write \"b\": 1\n"},
        {"a: {b:{c: 1} d: 2}\n", "nothing",
         "1:6+1 syntax: a blank is missing behind this colon; write b: {\n"},
        {"a: {b: 1; c: 2}\n", "nothing",
         "1:9+1 syntax: a semicolon does not part one key from the next; write a comma\n"},
        {"a: {b: 1 c: 2}\n", "nothing",
         "1:10+1 syntax: a comma is missing before this key; write , c:\n"},
        {"a: [1] {b: 2}\n", "nothing",
         "1:8+6 syntax: text goes on behind the closing brace; put it before the brace, or remove "
         "it\n"},
        {"a: [}\n", "nothing", "1:5+1 syntax: } does not close [; write ] here, or ] before it\n"},
        {"a: {hex: #fff}\n", "nothing",
         "1:10+4 syntax: an unquoted # begins a comment, so the rest of the line is not read; put "
         "it in quotes, such as hex: \"#FFD21E\"\n"},
        {"a: {b: x #fff}\n", "nothing",
         "1:10+4 syntax: an unquoted # begins a comment, so the rest of the line is not read; put "
         "it in quotes, such as hex: \"#FFD21E\"\n"},
        {"a: {\n b: 1\nc: 2\n", "nothing",
         "1:4+1 syntax: the { that opens here is not closed; put } behind its last value\n"},
        {"a: [\n 1,\n- 2\n", "nothing",
         "3:1+1 syntax: this does not follow from the lines before it; is it indented like its "
         "neighbours?\n"},
        {"a: {\n  b: 'it''s' # fine\n  ,c: 1 d: 2}\n", "nothing",
         "3:9+1 syntax: a comma is missing before this key; write , d:\n"},
        {"a: 1\nb\xC2\xA0: 2: 3\n", "nothing",
         "2:2+1 syntax: a no-break space stands here; write an ordinary blank\n"},
        {"a: x\xC2\xA0y: z\n", "nothing",
         "1:5+1 syntax: a no-break space stands here; write an ordinary blank\n"},
        {"a: (b: c)\n", "nothing",
         "1:4+1 syntax: round brackets hold nothing together; write { and } instead\n"},
        {"\xC2\xA0"
         "a: 1\nb: 2: 3\n",
         "nothing",
         "1:1+1 syntax: a no-break space stands before this line; write ordinary blanks\n"},
        {"b: 1\na:\xC2\xA0"
         "1\n",
         "nothing",
         "2:3+1 syntax: a no-break space stands behind this colon; write an ordinary blank\n"},
        {"note: |\n  text: [\n\nb: [1\n", "nothing",
         "4:4+1 syntax: the [ that opens here is not closed; put ] behind its last value\n"},
        {"note: >\n  text: [\n\nb: [1\n", "nothing",
         "4:4+1 syntax: the [ that opens here is not closed; put ] behind its last value\n"},
        {"a:\n- 1\nb: 2\n  c: 3\n", "nothing",
         "4:3+2 syntax: this line stands too far to the right; it has 2 blanks before it; the line "
         "that it follows has no blank\n"},
        {"a:\n- 1\nb: {\n", "nothing",
         "3:4+1 syntax: the { that opens here is not closed; put } behind its last value\n"},
        {"a: 1\n- 2\n", "nothing",
         "2:1+1 syntax: an entry of a list stands among keys; put it below the key of its list, "
         "such as stations:\n"},
        {"a:\n  - b: 1\n  c: 2\n", "nothing",
         "3:3+2 syntax: this line stands further left than those it belongs to; it has 2 blanks "
         "before it; the line that it follows has 4 blanks\n"},
        {"a:\n    b: 1\n   c: 2\n", "nothing",
         "3:4+2 syntax: this line stands further left than those it belongs to; it has 3 blanks "
         "before it; the line that it follows has 4 blanks\n"},
        {"a:\n    b: 1\n   - c\n", "nothing",
         "3:4+1 syntax: this line stands further left than those it belongs to; it has 3 blanks "
         "before it; the line that it follows has 4 blanks\n"},
        {"a:\n  - - b\n  - - c: [\n", "nothing",
         "3:10+1 syntax: the [ that opens here is not closed; put ] behind its last value\n"},
        {"a: 1\n// hello\n", "nothing",
         "2:1+2 syntax: this is not how a comment begins; write # before it\n"},
        {"a: 1\n-- hello\n", "nothing",
         "2:1+2 syntax: this is not how a comment begins; write # before it\n"},
        {"a: 1\n/* x\n", "nothing",
         "2:1+2 syntax: this is not how a comment begins; write # before it\n"},
        {"a: 1\n; x\n", "nothing",
         "2:1+2 syntax: this is not how a comment begins; write # before it\n"},
        {"a: 1\nb = 2\n", "nothing",
         "2:3+1 syntax: a colon is due here, not an equals sign; such as length: 100 mm\n"},
        {"a: 1\nb\xEF\xBC\x9A 2\n", "nothing",
         "2:2+1 syntax: this is not the colon of a recipe, but a wide one; write an ordinary colon "
         "and a blank\n"},
        {"b: 1\na:1\n", "nothing",
         "2:2+1 syntax: a blank is missing behind this colon; write a: 1\n"},
        {"a: b\n c\nd e\n", "nothing",
         "3:1+3 syntax: this line has no key with its colon; write a colon and a blank behind its "
         "key; a text over several lines begins with note: | and stands further in than its key\n"},
        {"a: 1\nb {c: 1}\n", "{a: '1', b {c: '1}'}", ""},
        {"a: 1\n\"b\" 2\n", "nothing",
         "2:1+3 syntax: a colon is missing behind this key; write \"b\":\n"},
        {"a: 1\n'b'\nc: 2\n", "nothing",
         "2:1+3 syntax: a colon is missing behind this key; write 'b':\n"},
        {"a:\n  - b\n  - c\nd\n", "nothing",
         "4:1+1 syntax: a colon is missing behind this key; write d:\n"},
        {"a: 1\n}\n", "nothing", "2:1+1 syntax: this } closes nothing; remove it\n"},
        {"a: 1\n]\nb: 2\n", "nothing", "2:1+1 syntax: this ] closes nothing; remove it\n"},
        {"a: 1\n{b: 2}\n", "nothing",
         "2:1+1 syntax: a key or a dash is missing before this; an entry of a list begins with a "
         "dash and a blank: - {\n"},
        {"a:\n  - b: 1\n -{c: 2}\n", "nothing",
         "3:2+1 syntax: a blank is missing behind this dash; write - {\n"},
        {"a:\n  - 1\n  \xE2\x80\xA2 2\n  b: [\n", "nothing",
         "3:3+1 syntax: an entry of a list begins with a plain dash; write - here\n"},
        {"a: 1\n* b\n", "nothing",
         "2:1+1 syntax: an entry of a list begins with a plain dash; write - here\n"},
        {"a: \xE2\x80\x98"
         "b: c\xE2\x80\x99\n",
         "nothing",
         "1:6+1 syntax: a second colon in this line; put the text in quotes: \"\xE2\x80\x98"
         "b: c\xE2\x80\x99\"\n"},
        {"a: 'it's'\n", "nothing",
         "1:8+2 syntax: an apostrophe closes these quotes; put the text between double quotes, "
         "such as name: \"Bob's heron\"\n"},
        {"a: \"x \"big\" y\"\n", "nothing",
         "1:8+7 syntax: a quote inside the text closes these quotes; put the text between single "
         "quotes, such as name: 'the \"big\" heron'\n"},
        {"a: \"x\" y\n", "nothing",
         "1:8+1 syntax: text goes on behind the closing quotes; quotes go around the whole text\n"},
        {"a: \"b\",\n", "nothing",
         "1:7+1 syntax: a comma too many; outside of braces each key has a line of its own: remove "
         "the comma\n"},
        {"a: 'b'}\n", "nothing", "1:7+1 syntax: this } closes nothing; remove it\n"},
        {"a: [b]: c\n", "nothing",
         "1:7+3 syntax: text goes on behind the closing brace; put it before the brace, or remove "
         "it\n"},
        {"a: \"x\n\ny: \"z\"\n", "nothing",
         "1:4+1 syntax: the quotes that open here are not closed; put the same sign, \", behind "
         "the text\n"},
        {"a: {b: 'x\n  y', c: 1 d: 2}\n", "nothing",
         "2:12+1 syntax: a comma is missing before this key; write , d:\n"},
        {"a: \"b\\\" c\" d\n", "nothing",
         "1:12+1 syntax: text goes on behind the closing quotes; quotes go around the whole "
         "text\n"},
        {"a: [@x]\n", "nothing",
         "1:5+1 syntax: a text cannot begin with this sign; put the text in quotes\n"},
        {"a: \"x\\q\"\n", "nothing",
         "1:6+1 syntax: a backslash has no place between double quotes; put the text between "
         "single quotes\n"},
        {"a: |\n\tx\n", "nothing",
         "2:1+1 syntax: a tab stands where only blanks may; indent with blanks, not with tabs\n"},
        {"a: ,b\n", "nothing",
         "1:4+1 syntax: this does not follow from the lines before it; is it indented like its "
         "neighbours?\n"},
        {"a: |x\n  y\n", "nothing",
         "1:5+1 syntax: this does not follow from the lines before it; is it indented like its "
         "neighbours?\n"},
        {"a: [1,,2]\n", "nothing",
         "1:7+1 syntax: this does not follow from the lines before it; is it indented like its "
         "neighbours?\n"},
        {"a: \"x\\xZZ\"\n", "nothing",
         "1:8+1 syntax: this does not follow from the lines before it; is it indented like its "
         "neighbours?\n"},
        {"a: - b\n", "nothing",
         "1:4+1 syntax: this does not follow from the lines before it; is it indented like its "
         "neighbours?\n"},
        {"a: 1\n- b\n- c\n", "nothing",
         "2:1+1 syntax: an entry of a list stands among keys; put it below the key of its list, "
         "such as stations:\n"},
        {"---\na: [1\n", "nothing",
         "2:4+1 syntax: the [ that opens here is not closed; put ] behind its last value\n"},
    };
    ASSERT_TREES(CASES);
}

/* Flow mappings and lists within each other, `depth` in all with the document's own mapping. */
static struct str nested(struct arena *arena, int depth) {
    struct buf buf = {.arena = arena};
    buf_text(&buf, "a: ");
    for (int i = 1; i < depth; i++) buf_text(&buf, i % 2 ? "[" : "{b: ");
    for (int i = depth - 1; i > 0; i--) buf_char(&buf, i % 2 ? ']' : '}');
    return (struct str){buf.data, buf.size};
}

static void sixteen_levels_are_read_and_seventeen_are_not(void **state) {
    (void)state;
    struct arena arena = {0};
    struct bench *bench = bench_of(nested(&arena, TREE_MAX_DEPTH));
    assert_string_equal(listed(bench), "");
    assert_non_null(bench->root);
    bench_free(bench);
    bench = bench_of(nested(&arena, TREE_MAX_DEPTH + 1));
    assert_string_equal(listed(bench),
                        "1:40+1 depth: a recipe does not go so deep; at most 16 levels are read\n");
    assert_null(bench->root);
    bench_free(bench);
    arena_free(&arena);
}

static struct str repeated(struct arena *arena, const char *start, const char *part, int times) {
    struct buf buf = {.arena = arena};
    buf_text(&buf, start);
    for (int i = 0; i < times; i++) buf_text(&buf, part);
    return (struct str){buf.data, buf.size};
}

static void ten_thousand_values_are_read_and_one_more_is_not(void **state) {
    (void)state;
    struct arena arena = {0};
    struct bench *bench = bench_of(repeated(&arena, "a:\n", "- x\n", TREE_MAX_NODES - 2));
    assert_string_equal(listed(bench), "");
    assert_int_equal(bench->root->first->count, TREE_MAX_NODES - 2);
    bench_free(bench);
    bench = bench_of(repeated(&arena, "a:\n", "- x\n", TREE_MAX_NODES - 1));
    assert_string_equal(listed(bench), "10000:3+1 nodes: a recipe does not have so many values; "
                                       "at most 10000 are read\n");
    assert_null(bench->root);
    bench_free(bench);
    arena_free(&arena);
}

static double seconds(void) {
    struct timespec now;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return (double)now.tv_sec + (double)now.tv_nsec * 1e-9;
}

/* Each of these takes minutes where the time grows with the square of the size. */
static void a_hostile_megabyte_stops_at_once(void **state) {
    (void)state;
    static const char *const PARTS[][2] = {
        {"", "["},
        {"", "{a: "},
        {"", "- "},
        {"", "? "},
        {"a: ", "["},
        {"", "!a "},
        {"a: [", "x,"},
        {"a: {", "x,"},
        {"a: [", "*a,"},
        {"a: [", "&a b,"},
        {"a: \"", "\\0"},
        {"a: '", "''"},
        {"a: ", "\xC2\xB5"},
        {"", "#\n"},
        {"", "\n"},
        {"", "%TAG !a! b\n"},
        {"a: b\n...\n", "%TAG !a! b\n"},
        {"a: b\n", "---\n"},
        {"a: >\n", " x\n\n"},
        {"a: [", "{x: 1, x: 2},"},
        {"a: ", "b "},
        {"", "a: b\n"},
    };
    struct arena arena = {0};
    for (size_t i = 0; i < sizeof PARTS / sizeof *PARTS; i++) {
        int room = SOURCE_MAX_BYTES - (int)strlen(PARTS[i][0]);
        struct str text =
            repeated(&arena, PARTS[i][0], PARTS[i][1], room / (int)strlen(PARTS[i][1]));
        double before = seconds();
        bench_free(bench_of(text));
        if (seconds() - before > 2) fail_msg("%s: %g s", PARTS[i][1], seconds() - before);
        arena_free(&arena);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_scalar_stays_text),
        cmocka_unit_test(an_unquoted_nothing_is_empty_and_a_quoted_one_is_text),
        cmocka_unit_test(every_node_keeps_its_place),
        cmocka_unit_test(an_empty_value_stands_where_it_would_be_written),
        cmocka_unit_test(duplicate_keys_are_told_and_the_first_stands),
        cmocka_unit_test(what_the_language_has_not_is_told_and_reading_goes_on),
        cmocka_unit_test(escapes_bring_in_no_control_characters),
        cmocka_unit_test(a_second_document_is_told_and_not_read),
        cmocka_unit_test(a_recipe_is_a_map_at_the_top),
        cmocka_unit_test(syntax_errors_stand_at_the_slip),
        cmocka_unit_test(slips_are_told_in_the_words_of_a_builder),
        cmocka_unit_test(sixteen_levels_are_read_and_seventeen_are_not),
        cmocka_unit_test(ten_thousand_values_are_read_and_one_more_is_not),
        cmocka_unit_test(a_hostile_megabyte_stops_at_once),
    };
    return cmocka_run_group_tests_name("tree", tests, NULL, NULL);
}
