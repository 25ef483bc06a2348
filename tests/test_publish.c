/* Publishing: whole files or none, and never outside the folder. */
#include "close.h"

#include <dirent.h>
#include <stdbool.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

#include "system/publish.h"

static struct arena arena;
static char root[] = "/tmp/test_publish-XXXXXX";

static const char *in_root(const char *name) {
    return arena_printf(&arena, "%s/%s", root, name);
}

static int make_root(void **state) {
    (void)state;
    return mkdtemp(root) ? 0 : -1;
}

static int drop_root(void **state) {
    (void)state;
    int status = system(arena_printf(&arena, "chmod -R u+rwx '%s'; rm -rf '%s'", root, root));
    arena_free(&arena);
    return status;
}

static const char *read_back(const char *path) {
    FILE *file = fopen(path, "r");
    if (!file) return NULL;
    char *text = arena_alloc(&arena, 4096);
    size_t size = fread(text, 1, 4095, file);
    text[size] = '\0';
    fclose(file);
    return text;
}

static int entries(const char *path) {
    DIR *list = opendir(path);
    assert_non_null(list);
    int count = 0;
    while (readdir(list)) count++;
    closedir(list);
    return count - 2;
}

static struct publish_file file(const char *name, const char *text) {
    return (struct publish_file){name, str_of(text)};
}

static void a_folder_is_made_with_its_parents_and_its_files(void **state) {
    (void)state;
    struct publish_file files[] = {file("side.svg", "<svg/>"), file("order.md", "# a\n")};
    assert_null(publish_folder(&arena, in_root("a/b"), "heron", files, 2));
    assert_string_equal(read_back(in_root("a/b/heron/side.svg")), "<svg/>");
    assert_string_equal(read_back(in_root("a/b/heron/order.md")), "# a\n");
    assert_int_equal(entries(in_root("a/b/heron")), 2);
}

static void a_second_time_replaces_the_files_and_leaves_nothing_behind(void **state) {
    (void)state;
    struct publish_file before = file("order.md", "before"), after = file("order.md", "after");
    assert_null(publish_folder(&arena, root, "twice", &before, 1));
    assert_null(publish_folder(&arena, root, "twice", &after, 1));
    assert_string_equal(read_back(in_root("twice/order.md")), "after");
    assert_int_equal(entries(in_root("twice")), 1);
}

static void a_file_being_read_stays_whole_while_it_is_replaced(void **state) {
    (void)state;
    struct publish_file before = file("order.md", "before"), after = file("order.md", "after");
    char text[16] = "";
    assert_null(publish_folder(&arena, root, "open", &before, 1));
    FILE *reader = fopen(in_root("open/order.md"), "r");
    assert_non_null(reader);
    assert_null(publish_folder(&arena, root, "open", &after, 1));
    assert_int_equal(fread(text, 1, sizeof text - 1, reader), 6);
    assert_string_equal(text, "before");
    fclose(reader);
}

static void a_name_that_leaves_the_folder_is_refused_and_writes_nothing(void **state) {
    (void)state;
    const char *const names[] = {"../out.md", "/tmp/out.md", "a/b.md", ".hidden", "", ".."};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        struct publish_file files[] = {file("good.md", "x"), file(names[i], "x")};
        assert_non_null(publish_folder(&arena, root, "names", files, 2));
        assert_int_equal(entries(in_root("names")), 0);
    }
    const char *const stems[] = {"..", ".", "", "a/b", ".git"};
    for (size_t i = 0; i < sizeof stems / sizeof *stems; i++) {
        struct publish_file one = file("order.md", "x");
        assert_non_null(publish_folder(&arena, root, stems[i], &one, 1));
    }
}

static void a_link_in_the_folders_place_is_not_followed(void **state) {
    (void)state;
    struct publish_file one = file("order.md", "x");
    assert_int_equal(mkdir(in_root("elsewhere"), 0700), 0);
    assert_int_equal(symlink("elsewhere", in_root("link")), 0);
    assert_non_null(publish_folder(&arena, root, "link", &one, 1));
    assert_int_equal(entries(in_root("elsewhere")), 0);
}

static void a_link_in_a_files_place_is_replaced_and_not_written_through(void **state) {
    (void)state;
    struct publish_file kept = file("kept.md", "kept"), one = file("order.md", "new");
    assert_null(publish_folder(&arena, root, "links", &kept, 1));
    assert_int_equal(symlink("kept.md", in_root("links/order.md")), 0);
    assert_null(publish_folder(&arena, root, "links", &one, 1));
    assert_string_equal(read_back(in_root("links/kept.md")), "kept");
    assert_string_equal(read_back(in_root("links/order.md")), "new");
}

static void a_failure_names_the_path_and_the_reason_and_leaves_the_old_file(void **state) {
    (void)state;
    struct publish_file before = file("order.md", "before");
    struct publish_file files[] = {file("order.md", "after"), file("taken", "x")};
    assert_null(publish_folder(&arena, root, "fails", &before, 1));
    assert_int_equal(mkdir(in_root("fails/taken"), 0700), 0);
    const char *why = publish_folder(&arena, root, "fails", &files[1], 1);
    assert_non_null(why);
    assert_non_null(strstr(why, "fails/taken"));
    assert_int_equal(entries(in_root("fails")), 2);
    assert_string_equal(read_back(in_root("fails/order.md")), "before");

    why = publish_folder(&arena, in_root("fails/order.md"), "x", files, 1);
    assert_non_null(why);
    assert_non_null(strstr(why, "fails/order.md"));
    assert_non_null(strstr(why, "Not a directory"));
}

static void a_full_disk_is_noticed(void **state) {
    (void)state;
    if (access("/dev/full", W_OK)) skip();
    FILE *full = fopen("/dev/full", "w");
    assert_non_null(full);
    assert_false(publish_bytes(fileno(full), str_of("x")));
    fclose(full);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_folder_is_made_with_its_parents_and_its_files),
        cmocka_unit_test(a_second_time_replaces_the_files_and_leaves_nothing_behind),
        cmocka_unit_test(a_file_being_read_stays_whole_while_it_is_replaced),
        cmocka_unit_test(a_name_that_leaves_the_folder_is_refused_and_writes_nothing),
        cmocka_unit_test(a_link_in_the_folders_place_is_not_followed),
        cmocka_unit_test(a_link_in_a_files_place_is_replaced_and_not_written_through),
        cmocka_unit_test(a_failure_names_the_path_and_the_reason_and_leaves_the_old_file),
        cmocka_unit_test(a_full_disk_is_noticed),
    };
    return cmocka_run_group_tests_name("publish", tests, make_root, drop_root);
}
