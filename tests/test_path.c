/* Paths as texts, and the folders that they name. */
#include "close.h"

#include <errno.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

#include "system/path.h"

static struct arena arena;
static char root[] = "/tmp/test_path-XXXXXX";

static int make_root(void **state) {
    (void)state;
    return mkdtemp(root) ? 0 : -1;
}

static int drop_root(void **state) {
    (void)state;
    int status = system(arena_printf(&arena, "rm -rf '%s'", root));
    arena_free(&arena);
    return status;
}

static void a_path_is_a_folder_and_a_name(void **state) {
    (void)state;
    static const char *const rows[][3] = {
        {"a/b/c", "a/b", "c"}, {"/c", "/", "c"}, {"c", "", "c"},      {"a/", "a", ""},
        {"", "", ""},          {"/", "/", ""},   {"a//b", "a/", "b"}, {"./c", ".", "c"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        assert_string_equal(path_folder(&arena, rows[i][0]), rows[i][1]);
        assert_string_equal(path_name(rows[i][0]), rows[i][2]);
    }
}

static void the_stem_is_the_files_name_without_folders_and_yaml(void **state) {
    (void)state;
    static const char *const rows[][2] = {
        {"recipes/heron.yaml", "heron"},
        {"heron.yml", "heron"},
        {"../a b.v2.yaml", "a b.v2"},
        {"heron", "heron"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        assert_string_equal(path_stem(&arena, rows[i][0]), rows[i][1]);
    static const char *const none[] = {"-", "..", "a/", ".yaml", "", "/", ".git/.yml"};
    for (size_t i = 0; i < sizeof none / sizeof *none; i++) assert_null(path_stem(&arena, none[i]));
}

static void a_name_is_joined_with_one_slash(void **state) {
    (void)state;
    assert_string_equal(path_join(&arena, "a", "b"), "a/b");
    assert_string_equal(path_join(&arena, "a/", "b"), "a/b");
    assert_string_equal(path_join(&arena, "/", "b"), "/b");
    assert_string_equal(path_join(&arena, "", "b"), "b");
}

static void within_a_tree_dots_are_resolved_and_none_leads_out(void **state) {
    (void)state;
    static const char *const rows[][3] = {
        {"", "a.yaml", "a.yaml"}, {"a/b", "c", "a/b/c"},    {"a/b", "../c", "a/c"},
        {"a/b", "../../c", "c"},  {"a", "./b//c", "a/b/c"}, {"a", "b/../../c", "c"},
        {"a", "..", ""},          {"a", "...", "a/..."},    {"a", "..b", "a/..b"},
        {"a", "b/.", "a/b"},      {"a", "b/", "a/b"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        assert_string_equal(path_within(&arena, rows[i][0], rows[i][1]), rows[i][2]);
    static const char *const out[][2] = {
        {"", ".."}, {"", "../a"}, {"a", "../../a"}, {"a", "/a"}, {"", "/"}, {"a", "b/../../../a"},
    };
    for (size_t i = 0; i < sizeof out / sizeof *out; i++)
        assert_null(path_within(&arena, out[i][0], out[i][1]));
}

static void below_a_folder_is_not_beside_it(void **state) {
    (void)state;
    assert_true(path_is_below("/a/b", "/a"));
    assert_true(path_is_below("/a", "/"));
    assert_false(path_is_below("/a", "/a"));
    assert_false(path_is_below("/ab", "/a"));
    assert_false(path_is_below("/", "/a"));
}

static void a_plain_name_is_one_visible_file(void **state) {
    (void)state;
    static const char *const others[] = {"", ".", "..", ".git", "a/b", "/"};
    assert_true(path_is_plain("order.md"));
    assert_true(path_is_plain("a..b"));
    for (size_t i = 0; i < sizeof others / sizeof *others; i++)
        assert_false(path_is_plain(others[i]));
}

static void the_real_path_follows_links(void **state) {
    (void)state;
    const char *folder = path_join(&arena, root, "there"), *link = path_join(&arena, root, "link");
    assert_int_equal(mkdir(folder, 0700), 0);
    assert_int_equal(symlink("there", link), 0);
    assert_string_equal(path_real(&arena, link), path_real(&arena, folder));
    assert_null(path_real(&arena, path_join(&arena, root, "none")));
    assert_int_equal(errno, ENOENT);
}

static void folders_are_made_with_their_parents_and_the_one_that_cannot_be_is_named(void **state) {
    (void)state;
    struct stat status;
    const char *deep = path_join(&arena, root, "a//b/c/");
    assert_null(path_make(&arena, deep, 0700));
    assert_null(path_make(&arena, deep, 0700));
    assert_int_equal(stat(deep, &status), 0);
    assert_true(S_ISDIR(status.st_mode));
    const char *file = path_join(&arena, root, "a/file");
    FILE *out = fopen(file, "w");
    assert_non_null(out);
    fclose(out);
    const char *unmade = path_make(&arena, path_join(&arena, file, "b/c"), 0700);
    assert_string_equal(unmade, path_join(&arena, file, "b"));
    assert_int_equal(errno, ENOTDIR);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_path_is_a_folder_and_a_name),
        cmocka_unit_test(the_stem_is_the_files_name_without_folders_and_yaml),
        cmocka_unit_test(a_name_is_joined_with_one_slash),
        cmocka_unit_test(within_a_tree_dots_are_resolved_and_none_leads_out),
        cmocka_unit_test(below_a_folder_is_not_beside_it),
        cmocka_unit_test(a_plain_name_is_one_visible_file),
        cmocka_unit_test(the_real_path_follows_links),
        cmocka_unit_test(folders_are_made_with_their_parents_and_the_one_that_cannot_be_is_named),
    };
    return cmocka_run_group_tests_name("path", tests, make_root, drop_root);
}
