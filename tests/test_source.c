#include <fcntl.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

#include "close.h"

#include "read/source.h"
#include "read/text.h"

struct bench {
    struct arena arena;
    struct diags diags;
};

static struct bench *new_bench(void) {
    struct bench *bench = calloc(1, sizeof *bench);
    assert_non_null(bench);
    bench->diags.arena = &bench->arena;
    return bench;
}

static void bench_free(struct bench *bench) {
    arena_free(&bench->arena);
    free(bench);
}

static const struct source *source_from(struct bench *bench, const char *text) {
    return source_of(&bench->arena, "t", str_of(text), &bench->diags);
}

/* One text, refused with one diagnostic of this place and message. */
static void assert_refused(const char *text, size_t size, int line, int column,
                           const char *message) {
    struct bench *bench = new_bench();
    const struct source *source =
        source_of(&bench->arena, "t", (struct str){text, size}, &bench->diags);
    assert_false(source->readable);
    assert_int_equal(bench->diags.count, 1);
    const struct diag *diag = &bench->diags.items[0];
    assert_string_equal(diag->message, message);
    assert_int_equal(diag->at.line, line);
    assert_int_equal(diag->at.column, column);
    assert_ptr_equal(diag->at.file, &source->file);
    bench_free(bench);
}

/* `git hash-object --stdin` of git 2.39 for the same bytes. */
static void the_blob_id_is_what_git_gives(void **state) {
    (void)state;
    static const struct {
        const char *text, *id;
    } CASES[] = {
        {"", "e69de29bb2d1d6434b8b29ae775ad8c2e48c5391"},
        {"hello\n", "ce013625030ba8dba906f756967f9e9ca394464a"},
        {"recipe: 1\n", "5e8b7a339380499d30a4256344905e08a8f491ae"},
        {"\xEF\xBB\xBFname: Heron\r\n", "4383088ec5f731374201f4d446ec9483212099f2"},
    };
    struct bench *bench = new_bench();
    for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++)
        assert_string_equal(source_from(bench, CASES[i].text)->blob_id, CASES[i].id);
    bench_free(bench);
}

static void a_byte_order_mark_is_skipped(void **state) {
    (void)state;
    struct bench *bench = new_bench();
    const struct source *source = source_from(bench, "\xEF\xBB\xBFname: Heron\n");
    assert_true(source->readable);
    assert_true(str_is(source->file.text, "name: Heron\n"));
    assert_int_equal(bench->diags.count, 0);
    bench_free(bench);
}

static void lines_end_where_yaml_ends_them(void **state) {
    (void)state;
    struct bench *bench = new_bench();
    const struct source *source = source_from(bench, "a\nb\r\nc\rd\xC2\x85"
                                                     "e\xE2\x80\xA8"
                                                     "f\xE2\x80\xA9\n");
    static const size_t STARTS[] = {0, 2, 5, 7, 10, 14, 18, 19};
    assert_int_equal(source->file.line_count, 8);
    for (int i = 0; i < 8; i++) assert_int_equal(source->file.line_start[i], STARTS[i]);
    assert_int_equal(source_from(bench, "")->file.line_count, 1);
    assert_int_equal(source_from(bench, "a")->file.line_count, 1);
    assert_int_equal(bench->diags.count, 0);
    bench_free(bench);
}

static void a_byte_has_its_line_and_its_column_in_code_points(void **state) {
    (void)state;
    struct bench *bench = new_bench();
    const struct source *source = source_from(bench, "ab\n\xC2\xB5\xE2\x80\xB3x\n");
    struct span at = text_span_at(&source->file, 8);
    assert_int_equal(at.line, 2);
    assert_int_equal(at.column, 3);
    at = text_span_at(&source->file, 0);
    assert_int_equal(at.line, 1);
    assert_int_equal(at.column, 1);
    bench_free(bench);
}

static void the_first_byte_that_is_not_utf_8_is_told(void **state) {
    (void)state;
    static const char LATIN[] = "name: Heron\nnote: caf\xE9\nalso: \xE9\n";
    assert_refused(LATIN, sizeof LATIN - 1, 2, 10, "byte 0xE9 is not UTF-8");
    static const char SURROGATE[] = "\xC2\xB5: \xED\xA0\x80";
    assert_refused(SURROGATE, sizeof SURROGATE - 1, 1, 4, "byte 0xED is not UTF-8");
    assert_refused("a\xC3", 2, 1, 2, "byte 0xC3 is not UTF-8");
}

static void control_characters_are_refused(void **state) {
    (void)state;
    assert_refused("a\n b\033[31m", 9, 2, 3,
                   "the control character U+001B has no place in a recipe");
    assert_refused("a\0b", 3, 1, 2, "the control character U+0000 has no place in a recipe");
    assert_refused("\x7F", 1, 1, 1, "the control character U+007F has no place in a recipe");
    assert_refused("\xC2\x9B", 2, 1, 1, "the control character U+009B has no place in a recipe");
    assert_refused("\xEF\xBF\xBF", 3, 1, 1,
                   "the control character U+FFFF has no place in a recipe");
}

static void utf_16_is_named(void **state) {
    (void)state;
    assert_refused("\xFF\xFEn\0a\0", 6, 1, 1, "this is UTF-16, and a recipe is UTF-8");
    assert_refused("\xFE\xFF\0n\0a", 6, 1, 1, "this is UTF-16, and a recipe is UTF-8");
}

static void a_merge_conflict_is_one_error_at_its_first_line(void **state) {
    (void)state;
    static const char TEXT[] = "name: Heron\n<<<<<<< ours\nmake: 4\n=======\nmake: 5\n"
                               ">>>>>>> theirs\n<<<<<<< ours\n";
    assert_refused(TEXT, sizeof TEXT - 1, 2, 1, "a merge conflict stands open here");
    assert_refused("a: 1\n>>>>>>>", 12, 2, 1, "a merge conflict stands open here");
    struct bench *bench = new_bench();
    assert_true(source_from(bench, " <<<<<<< a\n<<<<<<<<< b\n<<: c\n")->readable);
    bench_free(bench);
}

static void a_mebibyte_is_read_and_one_byte_more_is_not(void **state) {
    (void)state;
    char *text = malloc(SOURCE_MAX_BYTES + 1);
    assert_non_null(text);
    memset(text, '#', SOURCE_MAX_BYTES + 1);
    struct bench *bench = new_bench();
    struct str most = {text, SOURCE_MAX_BYTES};
    assert_true(source_of(&bench->arena, "t", most, &bench->diags)->readable);
    bench_free(bench);
    assert_refused(text, SOURCE_MAX_BYTES + 1, 0, 0, "a recipe has at most 1048576 bytes");
    free(text);
}

/* Reads what a child process would write to standard input. */
static void pipes_and_standard_input_are_read(void **state) {
    (void)state;
    int ends[2], saved = dup(STDIN_FILENO);
    assert_int_equal(pipe(ends), 0);
    assert_int_equal(write(ends[1], "recipe: 1\n", 10), 10);
    close(ends[1]);
    dup2(ends[0], STDIN_FILENO);
    close(ends[0]);
    struct bench *bench = new_bench();
    const char *failure;
    const struct source *source = source_read(&bench->arena, "-", &bench->diags, &failure);
    dup2(saved, STDIN_FILENO);
    close(saved);
    assert_null(failure);
    assert_string_equal(source->file.name, "-");
    assert_true(str_is(source->file.text, "recipe: 1\n"));
    bench_free(bench);
}

static void files_are_read(void **state) {
    (void)state;
    char path[] = "/tmp/plugwright_source_XXXXXX";
    int fd = mkstemp(path);
    assert_true(fd >= 0);
    assert_int_equal(write(fd, "recipe: 1\n", 10), 10);
    struct bench *bench = new_bench();
    const char *failure;
    const struct source *source = source_read(&bench->arena, path, &bench->diags, &failure);
    assert_null(failure);
    assert_true(source->readable);
    assert_string_equal(source->file.name, path);
    assert_int_equal(ftruncate(fd, SOURCE_MAX_BYTES + 1), 0);
    source = source_read(&bench->arena, path, &bench->diags, &failure);
    assert_null(failure);
    assert_false(source->readable);
    assert_string_equal(source->blob_id, "");
    close(fd);
    unlink(path);
    bench_free(bench);
}

static void what_cannot_be_read_is_a_failure(void **state) {
    (void)state;
    static const struct {
        const char *path, *failure;
    } CASES[] = {
        {"/nowhere/\033[1m.yaml", "cannot read /nowhere/?[1m.yaml: No such file or directory"},
        {"/tmp", "cannot read /tmp: it is a folder"},
        {"/dev/zero", "cannot read /dev/zero: it is neither a file nor a pipe"},
    };
    for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
        struct bench *bench = new_bench();
        const char *failure;
        assert_null(source_read(&bench->arena, CASES[i].path, &bench->diags, &failure));
        assert_string_equal(failure, CASES[i].failure);
        assert_int_equal(bench->diags.count, 0);
        bench_free(bench);
    }
}

static void what_is_open_and_cannot_be_read_is_told_with_its_reason(void **state) {
    (void)state;
    struct bench *bench = new_bench();
    const char *reason = NULL;
    int folder = open(".", O_RDONLY);
    assert_true(folder >= 0);
    assert_null(source_read_open(&bench->arena, "folder", folder, &bench->diags, &reason));
    assert_string_equal(reason, "Is a directory");
    assert_int_equal(bench->diags.count, 0);
    close(folder);
    bench_free(bench);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_blob_id_is_what_git_gives),
        cmocka_unit_test(a_byte_order_mark_is_skipped),
        cmocka_unit_test(lines_end_where_yaml_ends_them),
        cmocka_unit_test(a_byte_has_its_line_and_its_column_in_code_points),
        cmocka_unit_test(the_first_byte_that_is_not_utf_8_is_told),
        cmocka_unit_test(control_characters_are_refused),
        cmocka_unit_test(utf_16_is_named),
        cmocka_unit_test(a_merge_conflict_is_one_error_at_its_first_line),
        cmocka_unit_test(a_mebibyte_is_read_and_one_byte_more_is_not),
        cmocka_unit_test(pipes_and_standard_input_are_read),
        cmocka_unit_test(files_are_read),
        cmocka_unit_test(what_cannot_be_read_is_a_failure),
        cmocka_unit_test(what_is_open_and_cannot_be_read_is_told_with_its_reason),
    };
    return cmocka_run_group_tests_name("source", tests, NULL, NULL);
}
