/* Publishing: a whole generation of files or none of it, and never outside the folder. */
#define _XOPEN_SOURCE 700 /* mkdtemp */

#include "close.h"

#include <dirent.h>
#include <signal.h>
#include <stdbool.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>
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

/* Without ".", ".." and the record. */
static int entries(const char *path) {
    DIR *list = opendir(path);
    assert_non_null(list);
    int count = 0;
    for (struct dirent *entry; (entry = readdir(list));)
        count += strcmp(entry->d_name, ".") != 0 && strcmp(entry->d_name, "..") != 0 &&
                 strcmp(entry->d_name, ".plugwright") != 0;
    closedir(list);
    return count;
}

static struct publish_file file(const char *name, const char *text) {
    return (struct publish_file){name, str_of(text ? text : "")};
}

static const char *publish_of(const char *of, const char *directory, const char *stem,
                              const struct publish_file *files, int count) {
    struct publication all = {directory, stem, of, files, count};
    return publish_folder(&arena, &all);
}

static const char *publish(const char *directory, const char *stem,
                           const struct publish_file *files, int count) {
    return publish_of("one recipe", directory, stem, files, count);
}

static void a_folder_is_made_with_its_parents_and_its_files(void **state) {
    (void)state;
    struct publish_file files[] = {file("side.svg", "<svg/>"), file("order.md", "# a\n")};
    assert_null(publish(in_root("a/b"), "heron", files, 2));
    assert_string_equal(read_back(in_root("a/b/heron/side.svg")), "<svg/>");
    assert_string_equal(read_back(in_root("a/b/heron/order.md")), "# a\n");
    assert_int_equal(entries(in_root("a/b/heron")), 2);
}

static void a_second_time_replaces_the_files_and_leaves_nothing_behind(void **state) {
    (void)state;
    struct publish_file before = file("order.md", "before"), after = file("order.md", "after");
    assert_null(publish(root, "twice", &before, 1));
    assert_null(publish(root, "twice", &after, 1));
    assert_string_equal(read_back(in_root("twice/order.md")), "after");
    assert_int_equal(entries(in_root("twice")), 1);
}

static void a_file_being_read_stays_whole_while_it_is_replaced(void **state) {
    (void)state;
    struct publish_file before = file("order.md", "before"), after = file("order.md", "after");
    char text[16] = "";
    assert_null(publish(root, "open", &before, 1));
    FILE *reader = fopen(in_root("open/order.md"), "r");
    assert_non_null(reader);
    assert_null(publish(root, "open", &after, 1));
    assert_int_equal(fread(text, 1, sizeof text - 1, reader), 6);
    assert_string_equal(text, "before");
    fclose(reader);
}

static void a_name_that_leaves_the_folder_is_refused_and_writes_nothing(void **state) {
    (void)state;
    const char *const names[] = {"../out.md", "/tmp/out.md", "a/b.md", ".hidden", "", ".."};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        struct publish_file files[] = {file("good.md", "x"), file(names[i], "x")};
        assert_non_null(publish(root, "names", files, 2));
        assert_int_equal(access(in_root("names"), F_OK), -1);
    }
    const char *const stems[] = {"..", ".", "", "a/b", ".git"};
    for (size_t i = 0; i < sizeof stems / sizeof *stems; i++) {
        struct publish_file one = file("order.md", "x");
        assert_non_null(publish(root, stems[i], &one, 1));
    }
}

static void a_link_in_the_folders_place_is_not_followed(void **state) {
    (void)state;
    struct publish_file one = file("order.md", "x");
    assert_int_equal(mkdir(in_root("elsewhere"), 0700), 0);
    assert_int_equal(symlink("elsewhere", in_root("link")), 0);
    assert_non_null(publish(root, "link", &one, 1));
    assert_int_equal(entries(in_root("elsewhere")), 0);
}

static void a_link_in_a_files_place_is_replaced_and_not_written_through(void **state) {
    (void)state;
    struct publish_file kept = file("kept.md", "kept"), one = file("order.md", "new");
    assert_null(publish(root, "links", &kept, 1));
    assert_int_equal(symlink("kept.md", in_root("links/order.md")), 0);
    assert_null(publish(root, "links", &one, 1));
    assert_string_equal(read_back(in_root("links/kept.md")), "kept");
    assert_string_equal(read_back(in_root("links/order.md")), "new");
}

static void a_failure_names_the_path_and_the_reason_and_leaves_the_old_file(void **state) {
    (void)state;
    struct publish_file before = file("order.md", "before");
    struct publish_file files[] = {file("order.md", "after"), file("taken", "x")};
    assert_null(publish(root, "fails", &before, 1));
    assert_int_equal(mkdir(in_root("fails/taken"), 0700), 0);
    const char *why = publish(root, "fails", &files[1], 1);
    assert_non_null(why);
    assert_non_null(strstr(why, "fails/taken"));
    assert_int_equal(entries(in_root("fails")), 2);
    assert_string_equal(read_back(in_root("fails/order.md")), "before");

    why = publish(in_root("fails/order.md"), "x", files, 1);
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

/* --- generations ----------------------------------------------------------------------------- */

static void what_an_earlier_design_left_is_gone(void **state) {
    (void)state;
    struct publish_file with_lip[] = {file("lip.svg", "<svg/>"), file("order.pdf", "%PDF"),
                                      file("order.md", "lipped")};
    struct publish_file without = file("order.md", "lipless");
    assert_null(publish_of("with lip", root, "lip", with_lip, 3));
    assert_null(publish_of("without", root, "lip", &without, 1));
    assert_string_equal(read_back(in_root("lip/order.md")), "lipless");
    assert_int_equal(entries(in_root("lip")), 1);
}

static void what_the_same_design_has_already_stays(void **state) {
    (void)state;
    struct publish_file pdf[] = {file("order.pdf", "%PDF"), file("order.md", "a")};
    struct publish_file html[] = {file("order.html", "<html>"), file("order.md", "a")};
    assert_null(publish_of("a", root, "same", pdf, 2));
    assert_null(publish_of("a", root, "same", html, 2));
    assert_int_equal(entries(in_root("same")), 3);
    assert_string_equal(read_back(in_root("same/order.pdf")), "%PDF");
    assert_null(publish_of("b", root, "same", html, 2)); /* it is still known whose it was */
    assert_int_equal(entries(in_root("same")), 2);
}

static void what_somebody_else_has_put_there_stays(void **state) {
    (void)state;
    struct publish_file order = file("order.md", "a");
    assert_null(publish_of("a", root, "own", &order, 1));
    FILE *photo = fopen(in_root("own/photo.jpg"), "w");
    assert_non_null(photo);
    fputs("photo", photo);
    fclose(photo);
    assert_int_equal(mkdir(in_root("own/photos"), 0700), 0);
    assert_int_equal(symlink("photo.jpg", in_root("own/best")), 0);
    assert_int_equal(chmod(in_root("own"), 0750), 0);
    assert_null(publish_of("b", root, "own", &order, 1));
    assert_int_equal(entries(in_root("own")), 4);
    assert_string_equal(read_back(in_root("own/best")), "photo");
    struct stat info;
    assert_int_equal(stat(in_root("own"), &info), 0);
    assert_int_equal(info.st_mode & 0777, 0750);
}

static void nothing_is_left_beside_the_folder(void **state) {
    (void)state;
    struct publish_file order = file("order.md", "a");
    assert_null(publish(in_root("beside"), "x", &order, 1));
    assert_null(publish(in_root("beside"), "x", &order, 1));
    assert_int_equal(entries(in_root("beside")), 1);
}

/* Killed at any moment, the folder is one whole generation or the other; and the next run clears
 * what was left.  The moment is that of the n-th millisecond-hundredth of a run. */
static void a_killed_run_leaves_one_whole_generation(void **state) {
    (void)state;
    enum { FILES = 20, KILLS = 60 };
    struct publish_file files[FILES];
    const char *shop = in_root("killed");
    for (int i = 0; i < FILES; i++) files[i].name = arena_printf(&arena, "%c.svg", 'a' + i);
    for (int run = 0; run < KILLS; run++) {
        const char *text = arena_printf(&arena, "%d", run);
        for (int i = 0; i < FILES; i++) files[i].bytes = str_of(text);
        if (run % 2 == 0) {
            assert_null(publish_of(text, shop, "x", files, FILES));
            assert_int_equal(entries(shop), 1); /* the next run has cleared all */
            continue;
        }
        pid_t pid = fork();
        if (pid == 0) _exit(publish_of(text, shop, "x", files, FILES) != NULL);
        struct timespec moment = {.tv_nsec = 20000L * run};
        nanosleep(&moment, NULL);
        kill(pid, SIGKILL);
        waitpid(pid, NULL, 0);
        const char *first = read_back(in_root("killed/x/a.svg"));
        assert_non_null(first);
        for (int i = 0; i < FILES; i++)
            assert_string_equal(read_back(arena_printf(&arena, "%s/x/%s", shop, files[i].name)),
                                first);
        assert_int_equal(entries(in_root("killed/x")), FILES);
    }
}

/* Two runs at once on one folder: each is whole, and the last to come has it. */
static void two_runs_at_once_do_not_mix(void **state) {
    (void)state;
    enum { FILES = 10, RUNS = 8 };
    struct publish_file files[FILES];
    for (int i = 0; i < FILES; i++) files[i].name = arena_printf(&arena, "%c.svg", 'a' + i);
    for (int run = 0; run < RUNS; run++) {
        if (fork()) continue;
        const char *text = arena_printf(&arena, "%d", run);
        for (int i = 0; i < FILES; i++) files[i].bytes = str_of(text);
        for (int i = 0; i < 5; i++)
            if (publish_of(text, in_root("both"), "x", files, FILES)) _exit(1);
        _exit(0);
    }
    for (int run = 0; run < RUNS; run++) {
        int status;
        wait(&status);
        assert_int_equal(status, 0);
    }
    const char *first = read_back(in_root("both/x/a.svg"));
    for (int i = 0; i < FILES; i++)
        assert_string_equal(read_back(arena_printf(&arena, "%s/both/x/%s", root, files[i].name)),
                            first);
    assert_int_equal(entries(in_root("both/x")), FILES);
    assert_int_equal(entries(in_root("both")), 1);
}

static void a_file_that_may_not_grow_is_a_failed_write(void **state) {
    (void)state;
    struct publish_file before = file("order.md", "before"), large = file("order.md", NULL);
    large.bytes = (struct str){arena_alloc(&arena, 1 << 16), 1 << 16};
    assert_null(publish(root, "limit", &before, 1));
    pid_t pid = fork();
    if (pid == 0) {
        struct rlimit limit = {4096, 4096};
        signal(SIGXFSZ, SIG_IGN);
        setrlimit(RLIMIT_FSIZE, &limit);
        const char *why = publish_of("larger", root, "limit", &large, 1);
        _exit(why && strstr(why, "limit/order.md: File too large") ? 0 : 1);
    }
    int status;
    assert_int_equal(waitpid(pid, &status, 0), pid);
    assert_int_equal(status, 0);
    assert_string_equal(read_back(in_root("limit/order.md")), "before");
    assert_int_equal(entries(in_root("limit")), 1);
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
        cmocka_unit_test(what_an_earlier_design_left_is_gone),
        cmocka_unit_test(what_the_same_design_has_already_stays),
        cmocka_unit_test(what_somebody_else_has_put_there_stays),
        cmocka_unit_test(nothing_is_left_beside_the_folder),
        cmocka_unit_test(a_killed_run_leaves_one_whole_generation),
        cmocka_unit_test(two_runs_at_once_do_not_mix),
        cmocka_unit_test(a_file_that_may_not_grow_is_a_failed_write),
    };
    return cmocka_run_group_tests_name("publish", tests, make_root, drop_root);
}
