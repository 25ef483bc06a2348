/* Waiting for files to change: told by the system, and looked at where it does not tell. */
#define _DEFAULT_SOURCE /* mkdtemp, usleep */

#include "close.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/wait.h>
#include <unistd.h>

#include "system/path.h"
#include "system/watch.h"

static struct arena arena;
static const char *folder;

static int make_folder(void **state) {
    (void)state;
    char name[] = "/tmp/plugwright-test-XXXXXX";
    assert_non_null(mkdtemp(name));
    folder = arena_printf(&arena, "%s", name);
    return 0;
}

static int drop(void **state) {
    (void)state;
    unlink(path_join(&arena, folder, "plug.yaml"));
    unlink(path_join(&arena, folder, "new.yaml"));
    rmdir(folder);
    arena_free(&arena);
    return 0;
}

static const char *write_file(const char *name, const char *text) {
    const char *path = path_join(&arena, folder, name);
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    fputs(text, file);
    fclose(file);
    return path;
}

/* In another process, a little later. */
static pid_t later(void (*act)(void)) {
    pid_t child = fork();
    if (child) return child;
    usleep(100000);
    act();
    _exit(0);
}

static void save_in_place(void) {
    write_file("plug.yaml", "two, longer");
}

static void save_by_rename(void) {
    const char *new = write_file("new.yaml", "two");
    rename(new, path_join(&arena, folder, "plug.yaml"));
}

static void ask_for_the_end(void) {
    kill(getppid(), SIGTERM);
}

static bool sees(bool polls, void (*act)(void)) {
    struct file_watch watch = {.polls = polls};
    const char *path = write_file("plug.yaml", "one");
    watch_open(&watch);
    watch_files(&watch, &path, 1);
    assert_true(watch_has(&watch, path));
    alarm(10); /* what is not seen fails */
    pid_t child = later(act);
    bool changed = watch_wait(&watch);
    alarm(0);
    waitpid(child, NULL, 0);
    watch_close(&watch);
    return changed;
}

static void a_save_is_told(void **state) {
    (void)state;
    assert_true(sees(false, save_in_place));
    assert_true(sees(false, save_by_rename));
}

static void a_save_is_seen_where_nothing_is_told(void **state) {
    (void)state;
    assert_true(sees(true, save_in_place));
    assert_true(sees(true, save_by_rename));
}

static void a_signal_ends_the_waiting_and_nothing_else(void **state) {
    (void)state;
    assert_false(sees(false, ask_for_the_end));
    assert_false(sees(true, ask_for_the_end));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(a_save_is_told, make_folder, drop),
        cmocka_unit_test_setup_teardown(a_save_is_seen_where_nothing_is_told, make_folder, drop),
        cmocka_unit_test_setup_teardown(a_signal_ends_the_waiting_and_nothing_else, make_folder,
                                        drop),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
