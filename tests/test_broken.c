/* Every line of the shipped recipes that gives a key, with a value that it cannot have: what is
 * wrong is told, whatever else looks at what is not there then. */
#include "recipe_text.h"

#include <glob.h>

#include "compile.h"
#include "read/source.h"

static const char *line_end(const char *line) {
    const char *end = strchr(line, '\n');
    return end ? end + 1 : line + strlen(line);
}

static size_t indent_of(const char *line) {
    return strspn(line, " ");
}

/* Where the value of a line that gives a key begins: behind the colon; NULL: it gives none. */
static const char *value_of(const char *line) {
    const char *word = line + indent_of(line);
    const char *colon = word + strspn(word, "abcdefghijklmnopqrstuvwxyz ");
    return colon > word && *colon == ':' ? colon + 1 : NULL;
}

/* The first line behind this one that is not within it. */
static const char *block_end(const char *line) {
    const char *next = line_end(line);
    while (*next && (*next == '\n' || indent_of(next) > indent_of(line))) next = line_end(next);
    return next;
}

static void compile_broken(const char *path, const char *text, const char *line,
                           const char *value) {
    struct arena arena = {0};
    struct buf changed = {.arena = &arena};
    buf_bytes(&changed, text, (size_t)(value_of(line) - text));
    buf_printf(&changed, " %s\n%s", value, block_end(line));
    struct compilation c = compile_text(&arena, path, buf_whole(&changed));
    if (!c.diags.errors) print_error("%s: %.*s\n", path, (int)(line_end(line) - line), line);
    assert_true(c.diags.errors > 0);
    arena_free(&arena);
}

static void each_line(const char *path) {
    static const char *const values[] = {"[[1]]", "{no such key: 1}"};
    struct arena arena = {0};
    struct diags diags = {.arena = &arena};
    const char *failure;
    const struct source *source = source_read(&arena, path, &diags, &failure);
    assert_non_null(source);
    const char *text = arena_copy(&arena, source->file.text.data, source->file.text.size);
    for (const char *line = text; *line; line = line_end(line))
        for (size_t i = 0; value_of(line) && i < sizeof values / sizeof *values; i++)
            compile_broken(path, text, line, values[i]);
    arena_free(&arena);
}

static void a_part_that_cannot_be_read_breaks_nothing(void **state) {
    (void)state;
    glob_t found;
    assert_int_equal(glob("recipes/*.yaml", 0, NULL, &found), 0);
    for (size_t i = 0; i < found.gl_pathc; i++) each_line(found.gl_pathv[i]);
    globfree(&found);
}

/* The rules that look at the shop, which may be no shop. */
static void no_rule_needs_what_may_be_missing(void **state) {
    struct bench *b = *state;
    static const char *const shops[] = {"shop: [1]\n", "shop: 1\n",
                                        "shop: {bore: square, open: 1}\n"};
    for (size_t i = 0; i < sizeof shops / sizeof *shops; i++) {
        const char *text = arena_printf(
            &b->arena,
            "recipe: 1\nname: x\ndue: 2027-03-01\n%sballast: {bores: [{at: 20 mm, drill: 6 mm}]}\n",
            shops[i]);
        struct compilation c = compile_text(&b->arena, "test", str_of(text));
        assert_true(c.diags.errors > 0);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_part_that_cannot_be_read_breaks_nothing),
        BENCH_TEST(no_rule_needs_what_may_be_missing),
    };
    return cmocka_run_group_tests_name("broken", tests, NULL, NULL);
}
