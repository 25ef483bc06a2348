/* Foreign programs, with a shell as the one that is called. */
#define _XOPEN_SOURCE 700 /* mkdtemp */

#include "close.h"

#include <signal.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "system/path.h"
#include "system/scratch.h"
#include "system/tool.h"

static struct arena arena;

static int drop(void **state) {
    (void)state;
    arena_free(&arena);
    return 0;
}

static struct tool_call shell(const char *script) {
    const char **list = NEW(&arena, const char *, 4);
    list[0] = "sh";
    list[1] = "-c";
    list[2] = script;
    return (struct tool_call){.program = "/bin/sh", .arguments = list};
}

static const char *said_by(const struct tool_call *call, size_t most) {
    struct str said;
    if (!tool_capture(&arena, call, most, &said)) return NULL;
    return arena_copy(&arena, said.data, said.size);
}

static const char *said(const char *script) {
    struct tool_call call = shell(script);
    return said_by(&call, 1 << 20);
}

static void what_it_prints_is_taken(void **state) {
    (void)state;
    assert_string_equal(said("echo one; echo two"), "one\ntwo\n");
    assert_string_equal(said(":"), "");
    assert_string_equal(said("echo error >&2; echo fine"), "fine\n");
    assert_string_equal(said("cat"), ""); /* there is nothing to read */
}

static void what_fails_is_not_taken(void **state) {
    (void)state;
    assert_null(said("echo half; exit 3"));
    assert_null(said("echo half; kill -KILL $$"));
    struct tool_call call = shell(":");
    call.program = "/nowhere/sh";
    assert_null(said_by(&call, 1));
    call = shell(":");
    call.folder = "/nowhere";
    assert_null(said_by(&call, 1));
}

static void more_than_the_most_is_refused(void **state) {
    (void)state;
    struct tool_call call = shell("printf 12345");
    assert_string_equal(said_by(&call, 5), "12345");
    assert_null(said_by(&call, 4));
    call = shell("exec yes"); /* has always more to print */
    assert_null(said_by(&call, 100000));
}

static void what_hangs_is_ended(void **state) {
    (void)state;
    static const char *const scripts[] = {"sleep 60", "exec >&-; sleep 60",
                                          "trap '' TERM; sleep 60"};
    for (size_t i = 0; i < sizeof scripts / sizeof *scripts; i++) {
        struct tool_call call = shell(scripts[i]);
        call.seconds = 1;
        assert_null(said_by(&call, 100));
    }
}

static void of_the_environment_it_may_get_path_alone(void **state) {
    (void)state;
    static const char *const settings[] = {"TEST_B=b", NULL};
    struct tool_call call = shell("echo $TEST_A,$TEST_B,${PATH:+path},$HOME");
    call.settings = settings;
    call.bare = true;
    setenv("TEST_A", "a", 1);
    assert_string_equal(said_by(&call, 100), ",b,path,\n");
}

static void its_end_is_known_where_children_are_ignored(void **state) {
    (void)state;
    signal(SIGCHLD, SIG_IGN);
    assert_string_equal(said("echo fine"), "fine\n");
    signal(SIGCHLD, SIG_IGN);
    assert_null(said("exit 1"));
}

static void settings_go_over_the_environment(void **state) {
    (void)state;
    static const char *const settings[] = {"TEST_A=new", "TEST_C=more=1", NULL};
    setenv("TEST_A", "old", 1);
    setenv("TEST_AB", "kept", 1);
    struct tool_call call = shell("echo $TEST_A,$TEST_AB,$TEST_C; env | grep -c '^TEST_A='");
    call.settings = settings;
    assert_string_equal(said_by(&call, 100), "new,kept,more=1\n1\n");
}

static void it_runs_in_its_folder_and_we_stay(void **state) {
    (void)state;
    char before[4096], after[4096];
    assert_non_null(getcwd(before, sizeof before));
    struct tool_call call = shell("pwd");
    call.folder = "/";
    assert_string_equal(said_by(&call, 100), "/\n");
    assert_non_null(getcwd(after, sizeof after));
    assert_string_equal(before, after);
}

static void one_that_is_started_leads_a_group_and_reports_in_its_folder(void **state) {
    (void)state;
    struct scratch scratch;
    struct str report;
    int status;
    pid_t pid;
    assert_true(scratch_open(&scratch, &arena));
    struct tool_call call = shell("echo out; echo err >&2; ps -o pgid= -p $$ 2>/dev/null ||"
                                  " cut -d ' ' -f 5 /proc/$$/stat; kill -TERM $$");
    call.folder = scratch.folder;
    assert_int_equal(tool_start(&arena, &call, "report", &scratch.before, &pid), 0);
    assert_int_equal(waitpid(pid, &status, 0), pid);
    assert_true(WIFSIGNALED(status)); /* what waits here does not wait there */
    assert_true(scratch_read(&scratch, "report", 1 << 20, &report));
    const char *text = arena_copy(&arena, report.data, report.size);
    assert_memory_equal(text, "out\nerr\n", 8);
    assert_int_equal(strtol(text + 8, NULL, 10), pid);
    scratch_close(&scratch);
}

static void programs_are_found_in_absolute_folders_of_path(void **state) {
    (void)state;
    struct scratch scratch;
    char *path = strdup(getenv("PATH"));
    assert_true(scratch_open(&scratch, &arena));
    const char *file = path_join(&arena, scratch.folder, "bin/tool");
    assert_true(scratch_write(&scratch, "bin/tool", str_of("#!/bin/sh\n")));
    assert_true(scratch_write(&scratch, "plain/tool", str_of("#!/bin/sh\n")));
    assert_true(scratch_write(&scratch, "folder/tool/file", str_of("")));
    assert_int_equal(chmod(file, 0700), 0);
    setenv("PATH",
           arena_printf(&arena, "bin::%s/folder:%s/plain:%s/bin", scratch.folder, scratch.folder,
                        scratch.folder),
           1);
    assert_int_equal(chdir(scratch.folder), 0);
    assert_string_equal(tool_find(&arena, "tool"), file);
    assert_null(tool_find(&arena, "none"));
    setenv("PATH", "", 1);
    assert_null(tool_find(&arena, "tool"));
    setenv("PATH", path, 1);
    free(path);
    scratch_close(&scratch);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_it_prints_is_taken),
        cmocka_unit_test(what_fails_is_not_taken),
        cmocka_unit_test(more_than_the_most_is_refused),
        cmocka_unit_test(what_hangs_is_ended),
        cmocka_unit_test(of_the_environment_it_may_get_path_alone),
        cmocka_unit_test(its_end_is_known_where_children_are_ignored),
        cmocka_unit_test(settings_go_over_the_environment),
        cmocka_unit_test(it_runs_in_its_folder_and_we_stay),
        cmocka_unit_test(one_that_is_started_leads_a_group_and_reports_in_its_folder),
        cmocka_unit_test(programs_are_found_in_absolute_folders_of_path),
    };
    return cmocka_run_group_tests_name("tool", tests, NULL, drop);
}
