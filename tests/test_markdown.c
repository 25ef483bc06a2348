/* The Markdown writer: what it sets, and that no text can become markup.
 *
 * Where Pandoc is installed, hostile texts are read back by its readers (the order's own and those
 * of the usual dialects), which must find nothing but plain words.  Our own bytes are checked in
 * any case.
 */
#include "close.h"

#include <stdbool.h>
#include <stdlib.h>
#include <unistd.h>

#include "base/unicode.h"
#include "emit/write/markdown.h"

static struct arena arena;

static int end_arena(void **state) {
    (void)state;
    arena_free(&arena);
    return 0;
}

static struct str slice(const char *text) {
    return (struct str){text, strlen(text)};
}

static const char *escaped(const char *text) {
    struct buf out = {.arena = &arena};
    buf_text(&out, "");
    md_escape(&out, slice(text), true);
    return out.data;
}

static void plain_words_and_numbers_stay_as_they_are(void **state) {
    (void)state;
    const char *const texts[] = {
        "Heron 140",    "1:1 by mass", "12.5 mm",          "a-b, c; d (e) f?", "50 % of it",
        "don't \"do\"", "x + y / z",   "K\xc3\xbcste 3.5", "Black & white",    "Wait! Now",
    };
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        assert_string_equal(escaped(texts[i]), texts[i]);
    }
}

static void what_can_open_markup_gets_a_backslash(void **state) {
    (void)state;
    const struct {
        const char *text, *want;
    } rows[] = {
        {"*a* _b_ `c`", "\\*a\\* \\_b\\_ \\`c\\`"},
        {"![x](file:///etc/passwd)", "!\\[x\\](file\\:///etc/passwd)"},
        {"<script>", "&lt;script\\>"},
        {"a | b", "a \\| b"},
        {"$x$", "\\$x\\$"},
        {"&lt; &#60;", "\\&lt; \\&\\#60;"},
        {"[^1]", "\\[\\^1\\]"},
        {"{=html}", "\\{=html\\}"},
        {"~~a~~", "\\~\\~a\\~\\~"},
        {"a\\b", "a\\\\b"},
        {"- a", "\\- a"},
        {"+ a", "\\+ a"},
        {"1. a", "1\\. a"},
        {"12) a", "12\\) a"},
        {"iv. a", "iv\\. a"},
        {"# a #", "\\# a \\#"},
        {"=== a", "\\=\\=\\= a"},
        {": a", "\\: a"},
        {"% a", "\\% a"},
        {"---", "\\---"},
        {"http://evil.example/", "http\\://evil\\.example/"},
        {"www.evil.example", "www\\.evil\\.example"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        assert_string_equal(escaped(rows[i].text), rows[i].want);
    }
}

static void an_at_sign_becomes_code_so_that_no_host_links_it(void **state) {
    (void)state;
    assert_string_equal(escaped("joe@evil.example"), "joe`@`evil\\.example");
    assert_string_equal(escaped("@@cite"), "`@@`cite");
    assert_string_equal(escaped("`@`"), "\\``@`\\`");
}

static void controls_and_direction_overrides_are_dropped(void **state) {
    (void)state;
    assert_string_equal(escaped("a\x01\x7f"
                                "b"),
                        "ab");
    assert_string_equal(escaped("a\xe2\x80\xae"
                                "b\xe2\x81\xa6"
                                "c\xe2\x80\x8f"),
                        "abc");
    assert_string_equal(escaped("a\xef\xbb\xbf"
                                "b\xe2\x80\x8b"
                                "c\xc2\x85"
                                "d"),
                        "abc d");
    assert_string_equal(escaped("a\xf3\xa0\x81\x81"
                                "b\xef\xb7\x90"
                                "c\xef\xbf\xbf"),
                        "abc");
    assert_string_equal(escaped("a\r\nb\tc\xe2\x80\xa8"
                                "d"),
                        "a  b c d");
}

static void bytes_that_are_not_utf8_read_as_replacement_characters(void **state) {
    (void)state;
    assert_string_equal(escaped("a\xff"
                                "b"),
                        "a\xef\xbf\xbd"
                        "b");
    assert_string_equal(escaped("\xed\xa0\x80"), "\xef\xbf\xbd\xef\xbf\xbd\xef\xbf\xbd");
}

static struct md writer(struct buf *out) {
    *out = (struct buf){.arena = &arena};
    return md_of(out);
}

static void blocks_stand_apart_and_list_items_together(void **state) {
    (void)state;
    struct buf out;
    struct md md = writer(&out);
    md_heading(&md, 2, "Seal %s", "*twice*");
    md_para(&md, "Wait **%d h**.", 2);
    md_task(&md, "one");
    md_task(&md, "two");
    md_para(&md, "100 %% done");
    md_item(&md, "three");
    assert_string_equal(out.data, "## Seal \\*twice\\*\n\nWait **2 h**.\n\n- [ ] one\n- [ ] two\n\n"
                                  "100 % done\n\n- three\n");
}

static void long_lines_break_where_no_block_can_begin(void **state) {
    (void)state;
    struct buf out;
    struct md md = writer(&out);
    md_item(&md, "%s",
            "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaa bbbbbbbbbbbbbbbbbbbbbbbbbbbbbb "
            "cccccccccccccccccccccccccccc - 1. # d");
    assert_string_equal(out.data, "- aaaaaaaaaaaaaaaaaaaaaaaaaaaaaa bbbbbbbbbbbbbbbbbbbbbbbbbbbbbb "
                                  "cccccccccccccccccccccccccccc - 1.\n  \\# d\n");
}

static void a_table_is_padded_and_closed(void **state) {
    (void)state;
    static const struct md_column columns[] = {
        {"Bore", MD_RIGHT}, {"Load", MD_LEFT}, {"", MD_CENTRE}};
    struct buf out;
    struct md md = writer(&out);
    md_table(&md, columns, 3);
    md_cell(&md, "%d", 1);
    md_cell(&md, "%s", "a|b");
    md_cell(&md, "\xe2\x98\x90");
    md_cell(&md, "10");
    md_table_end(&md);
    assert_string_equal(out.data, "| Bore | Load |     |\n"
                                  "| ---: | ---- | :-: |\n"
                                  "|    1 | a\\|b |  \xe2\x98\x90  |\n"
                                  "|   10 |      |     |\n");
}

static void a_note_keeps_its_lines_and_spaces(void **state) {
    (void)state;
    struct buf out;
    struct md md = writer(&out);
    md_quote(&md, slice("One *two*\n    - three  four\n\n\n1. five\n"));
    assert_string_equal(out.data, "> One \\*two\\*\\\n"
                                  "> \xc2\xa0\xc2\xa0\xc2\xa0\xc2\xa0- three \xc2\xa0"
                                  "four\n"
                                  ">\n"
                                  "> 1\\. five\n");
}

static void an_image_is_only_ever_a_plain_file_beside_the_order(void **state) {
    (void)state;
    const char *const refused[] = {"/etc/passwd", "../a.svg", "a b.svg", "http://x/a.svg",
                                   "a.svg)",      "",         ".hidden", "a.svg\n"};
    for (size_t i = 0; i < sizeof refused / sizeof *refused; i++) {
        struct buf out;
        struct md md = writer(&out);
        md_figure(&md, refused[i], "the plug");
        assert_string_equal(out.data, "the plug\n");
    }
    struct buf out;
    struct md md = writer(&out);
    md_figure(&md, "side.svg", "a] (b)");
    assert_string_equal(out.data, "![a\\] (b)](side.svg)\n");
}

static void code_cannot_be_left_by_its_text(void **state) {
    (void)state;
    struct buf out;
    struct md md = writer(&out);
    md_para(&md, "`%s` and `%s` %s", "a`b|c`", "", "`");
    assert_string_equal(out.data, "`a'b/c'` and ` ` \\`\n");
}

/* --- read back by Pandoc -------------------------------------------------------------------- */

static const char *const hostile[] = {
    "!\"#$%&'()*+,-./:;<=>?@[\\]^_`{|}~",
    "~}|{`_^]\\[@?>=<;:/.-,+*)('&%$#\"!",
    "![](file:///etc/passwd) ![x](http://evil.example/x.png \"t\")",
    "<script>alert(1)</script> <img src=x onerror=alert(1)> <!-- c --> <?p?> <![CDATA[x]]>",
    "$x$ $$y$$ \\(z\\) \\[w\\] \\begin{equation}e\\end{equation}",
    "@cite [@cite] -@cite [-@cite, p. 3] @{a}",
    "[^1] ^[inline] [^1]: note",
    "`raw`{=html} ```{=html} <b>x</b> ```",
    "--- title: x ---",
    "% title",
    "[a]: http://evil.example [a] [a][] [a][a] <http://evil.example> http://evil.example "
    "https://evil.example www.evil.example ftp://evil.example mailto:joe@evil.example "
    "joe@evil.example javascript:alert(1) data:text/html,x evil.example",
    "::: {.a #b} :::",
    "[span]{.a} *a*{.b} # h {#i}",
    "| a | b |",
    "+---+ |a| +---+",
    "1. one",
    "(1) one",
    "#. one",
    "(@) one",
    "a) one",
    "iv. one",
    "- one",
    "+ one",
    "* one",
    "> quote",
    "    code",
    "\tcode",
    "```",
    "~~~",
    "***",
    "---",
    "___",
    "===",
    ": def",
    "a\n===\n\n---\n\n# h\n\n    code\n\n- i\n\n<div>\n",
    "&amp; &#60; &copy; &NewLine;",
    "**bold** __bold__ *em* _em_ ~~s~~ ~sub~ ^sup^ ==mark== ++ins++ :smile: -- --- ...",
    "H~2~O x^2^ \\alpha \\\\ \\\n",
    "\xe2\x80\xaegpj.exe \xe2\x81\xa7 \x1b[31mred",
    "*[HTML]: x",
    "\\newcommand{\\x}{y}",
    "{{< include /etc/passwd >}}",
    "{% include x %}",
    "[[wiki]] [[a|b]]",
    "[ ] [x]",
    "- [x] done",
    "!include x",
    "<<< x >>>",
};

enum { HOSTILE = sizeof hostile / sizeof *hostile };

static char *run(const char *command) {
    FILE *pipe = popen(command, "r");
    assert_non_null(pipe);
    size_t size = 0, capacity = 1 << 20;
    char *text = arena_alloc(&arena, capacity + 1);
    size = fread(text, 1, capacity, pipe);
    text[size] = '\0';
    assert_int_equal(pclose(pipe), 0);
    return text;
}

/* The document with every hostile text in every place where an order puts text. */
static struct str document_of(bool with_tables) {
    static const struct md_column columns[] = {{"A", MD_LEFT}, {"B", MD_RIGHT}};
    struct buf out;
    struct md md = writer(&out);
    for (int i = 0; i < HOSTILE; i++) {
        md_heading(&md, 2, "%s", hostile[i]);
        md_para(&md, "%s", hostile[i]);
        md_para(&md, "Mask: %s", hostile[i]);
        md_item(&md, "%s", hostile[i]);
        md_item(&md, "**%s** %s", "x", hostile[i]);
        md_quote(&md, slice(hostile[i]));
        if (!with_tables) continue;
        md_table(&md, columns, 2);
        md_cell(&md, "%s", hostile[i]);
        md_cell(&md, "`%s`", hostile[i]);
        md_table_end(&md);
    }
    return (struct str){out.data, out.size};
}

/* What an order may consist of, in Pandoc's own names; anything else was smuggled in.  Emphasis is
 * ours; a code's attributes, "",[],[], are empty. */
static void assert_only_words(const char *json, const char *reader) {
    static const char *const allowed[] = {"Str",
                                          "Space",
                                          "SoftBreak",
                                          "LineBreak",
                                          "Code",
                                          "Strong",
                                          "Para",
                                          "Plain",
                                          "Header",
                                          "BulletList",
                                          "BlockQuote",
                                          "Table",
                                          "AlignLeft",
                                          "AlignRight",
                                          "AlignDefault",
                                          "ColWidth",
                                          "ColWidthDefault",
                                          "Quoted",
                                          "SingleQuote",
                                          "DoubleQuote"};
    for (const char *p = json; (p = strstr(p, "\"t\":\"")); p++) {
        const char *name = p + 5;
        size_t size = strcspn(name, "\"");
        bool known = false;
        for (size_t i = 0; i < sizeof allowed / sizeof *allowed; i++) {
            known = known || (strlen(allowed[i]) == size && !strncmp(allowed[i], name, size));
        }
        if (!known) fail_msg("%s reads a %.*s: %.200s", reader, (int)size, name, name);
    }
    if (strstr(json, "\"meta\":{}") == NULL) fail_msg("%s reads metadata", reader);
}

static void hostile_text_stays_text_in_every_reader(void **state) {
    (void)state;
    static const struct {
        const char *reader;
        bool tables;
    } readers[] = {
        {"commonmark+pipe_tables+task_lists+gfm_auto_identifiers-raw_html", true}, /* ours */
        {"commonmark", false},
        {"gfm", true},
        {"commonmark_x", true},
        {"markdown_strict", false},
        {"markdown", true},
        {"markdown_phpextra", true},
        {"markdown_mmd", true},
    };
    if (system("command -v pandoc >/dev/null 2>&1")) skip();
    char path[] = "/tmp/test_markdown-XXXXXX";
    int file = mkstemp(path);
    assert_true(file >= 0);
    close(file);
    for (size_t i = 0; i < sizeof readers / sizeof *readers; i++) {
        struct str text = document_of(readers[i].tables);
        FILE *out = fopen(path, "w");
        assert_non_null(out);
        assert_int_equal(fwrite(text.data, 1, text.size, out), text.size);
        assert_int_equal(fclose(out), 0);
        const char *command =
            arena_printf(&arena, "pandoc --quiet -f %s -t json %s", readers[i].reader, path);
        assert_only_words(run(command), readers[i].reader);
    }
    unlink(path);
}

/* The words themselves survive: what a reader shows is what was written, without what is dropped.
 */
static void the_orders_own_reader_shows_the_text_as_written(void **state) {
    (void)state;
    if (system("command -v pandoc >/dev/null 2>&1")) skip();
    char path[] = "/tmp/test_markdown-XXXXXX";
    int file = mkstemp(path);
    assert_true(file >= 0);
    close(file);
    struct buf want = {.arena = &arena}, text;
    struct md md = writer(&text);
    for (int i = 0; i < HOSTILE; i++) {
        struct str clean = str_trim(unicode_clean(&arena, slice(hostile[i])));
        md_para(&md, "%s", hostile[i]);
        for (size_t k = 0; k < clean.size; k++) { /* readers fold runs of spaces */
            if (clean.data[k] != ' ' || clean.data[k - 1] != ' ') buf_char(&want, clean.data[k]);
        }
        buf_text(&want, "\n\n");
    }
    FILE *out = fopen(path, "w");
    assert_non_null(out);
    fwrite(text.data, 1, text.size, out);
    fclose(out);
    /* Plain output marks code by nothing, and does not wrap. */
    char *got = run(arena_printf(&arena,
                                 "pandoc --wrap=none -t plain -f commonmark+pipe_tables+task_lists"
                                 "+gfm_auto_identifiers-raw_html %s",
                                 path));
    want.data[want.size - 1] = '\0';
    assert_string_equal(got, want.data);
    unlink(path);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(plain_words_and_numbers_stay_as_they_are),
        cmocka_unit_test(what_can_open_markup_gets_a_backslash),
        cmocka_unit_test(an_at_sign_becomes_code_so_that_no_host_links_it),
        cmocka_unit_test(controls_and_direction_overrides_are_dropped),
        cmocka_unit_test(bytes_that_are_not_utf8_read_as_replacement_characters),
        cmocka_unit_test(blocks_stand_apart_and_list_items_together),
        cmocka_unit_test(long_lines_break_where_no_block_can_begin),
        cmocka_unit_test(a_table_is_padded_and_closed),
        cmocka_unit_test(a_note_keeps_its_lines_and_spaces),
        cmocka_unit_test(an_image_is_only_ever_a_plain_file_beside_the_order),
        cmocka_unit_test(code_cannot_be_left_by_its_text),
        cmocka_unit_test(hostile_text_stays_text_in_every_reader),
        cmocka_unit_test(the_orders_own_reader_shows_the_text_as_written),
    };
    return cmocka_run_group_tests_name("markdown", tests, NULL, end_arena);
}
