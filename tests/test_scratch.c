/* The scratch folder: private, bounded, and gone whatever ends the program. */
#define _XOPEN_SOURCE 700 /* mkdtemp */

#include "close.h"

#include <errno.h>
#include <stdbool.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "system/path.h"
#include "system/scratch.h"

static struct arena arena;
static char root[] = "/tmp/test_scratch-XXXXXX";

static int make_root(void **state) {
    (void)state;
    return mkdtemp(root) ? setenv("TMPDIR", root, 1) : -1;
}

static int drop_root(void **state) {
    (void)state;
    int status = rmdir(root); /* fails where anything is left */
    arena_free(&arena);
    return status;
}

static bool there(const char *path) {
    struct stat info;
    return lstat(path, &info) == 0;
}

static const char *in(const struct scratch *scratch, const char *name) {
    return path_join(&arena, scratch->folder, name);
}

static void it_is_private_and_lies_in_tmpdir(void **state) {
    (void)state;
    struct scratch scratch;
    struct stat info;
    assert_true(scratch_open(&scratch, &arena));
    assert_string_equal(path_folder(&arena, scratch.folder), root);
    assert_int_equal(stat(scratch.folder, &info), 0);
    assert_int_equal(info.st_mode & 07777, 0700);
    scratch_close(&scratch);
    assert_false(there(scratch.folder));

    setenv("TMPDIR", "tmp", 1);
    assert_true(scratch_open(&scratch, &arena));
    assert_string_equal(path_folder(&arena, scratch.folder), "/tmp");
    scratch_close(&scratch);
    setenv("TMPDIR", root, 1);
}

static void where_none_can_be_made_nothing_is_held(void **state) {
    (void)state;
    struct scratch scratch;
    sigset_t before, after;
    sigprocmask(SIG_BLOCK, NULL, &before);
    setenv("TMPDIR", path_join(&arena, root, "none"), 1);
    assert_false(scratch_open(&scratch, &arena));
    assert_int_equal(errno, ENOENT);
    sigprocmask(SIG_BLOCK, NULL, &after);
    assert_int_equal(sigismember(&after, SIGTERM), sigismember(&before, SIGTERM));
    setenv("TMPDIR", root, 1);
}

static void files_are_written_with_their_folders_and_read_back(void **state) {
    (void)state;
    struct scratch scratch;
    struct str bytes = {NULL, 0};
    assert_true(scratch_open(&scratch, &arena));
    assert_true(scratch_write(&scratch, "a/b/c", (struct str){"x\0y", 3}));
    assert_true(scratch_write(&scratch, "empty", (struct str){"", 0}));
    assert_true(scratch_read(&scratch, "a/b/c", 1 << 20, &bytes));
    assert_int_equal(bytes.size, 3);
    assert_memory_equal(bytes.data, "x\0y", 3);
    assert_true(scratch_read(&scratch, "empty", 1 << 20, &bytes));
    assert_int_equal(bytes.size, 0);
    scratch_drop(&scratch, "a");
    assert_false(there(in(&scratch, "a")));
    assert_true(there(in(&scratch, "empty")));
    scratch_close(&scratch);
    assert_false(there(scratch.folder));
}

static void nothing_is_written_beside_it_or_twice(void **state) {
    (void)state;
    struct scratch scratch;
    struct str text = {"x", 1};
    assert_true(scratch_open(&scratch, &arena));
    assert_false(scratch_write(&scratch, "../beside", text));
    assert_false(scratch_write(&scratch, "a/../../beside", text));
    assert_false(scratch_write(&scratch, "/tmp/beside", text));
    assert_false(scratch_write(&scratch, "", text));
    assert_true(scratch_write(&scratch, "once", text));
    assert_false(scratch_write(&scratch, "once", text));
    assert_int_equal(errno, EEXIST);
    scratch_close(&scratch);
}

static void only_a_regular_file_is_read(void **state) {
    (void)state;
    struct scratch scratch;
    struct str bytes;
    assert_true(scratch_open(&scratch, &arena));
    assert_int_equal(mkfifo(in(&scratch, "pipe"), 0600), 0);
    assert_int_equal(symlink("/etc/passwd", in(&scratch, "link")), 0);
    assert_int_equal(mkdir(in(&scratch, "folder"), 0700), 0);
    const char *const names[] = {"pipe", "link", "folder", "none"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        assert_false(scratch_read(&scratch, names[i], 1 << 20, &bytes));
    assert_int_equal(errno, ENOENT);
    scratch_close(&scratch);
}

static void links_are_removed_and_not_followed(void **state) {
    (void)state;
    struct scratch outer, inner;
    assert_true(scratch_open(&outer, &arena));
    assert_true(scratch_write(&outer, "kept/file", (struct str){"x", 1}));
    assert_true(scratch_open(&inner, &arena));
    assert_int_equal(symlink(in(&outer, "kept"), in(&inner, "link")), 0);
    scratch_close(&inner);
    assert_true(there(in(&outer, "kept/file")));
    scratch_close(&outer);
}

/* --- signals --------------------------------------------------------------------------------- */

/* What becomes of a child that opens a folder, tells its name and does `act`. */
static int fate_of(void (*act)(struct scratch *), const char **folder) {
    int ends[2], status;
    assert_int_equal(pipe(ends), 0);
    pid_t pid = fork();
    if (pid == 0) {
        struct scratch scratch;
        if (!scratch_open(&scratch, &arena)) _exit(99);
        scratch_write(&scratch, "deep/file", (struct str){"x", 1});
        if (write(ends[1], scratch.folder, strlen(scratch.folder)) < 0) _exit(98);
        act(&scratch);
        _exit(0);
    }
    assert_true(pid > 0);
    close(ends[1]);
    char *name = arena_alloc(&arena, 256);
    assert_true(read(ends[0], name, 255) > 0);
    close(ends[0]);
    assert_int_equal(waitpid(pid, &status, 0), pid);
    *folder = name;
    return status;
}

static int number;

static void be_signalled(struct scratch *scratch) {
    raise(number);
    if (!there(scratch->folder)) _exit(97); /* it waits */
    scratch_close(scratch);
}

static void be_signalled_while_waiting(struct scratch *scratch) {
    kill(getpid(), number);
    if (scratch_wait(scratch) || scratch_wait(scratch)) _exit(96);
    scratch_close(scratch);
}

static void ignore_it(struct scratch *scratch) {
    scratch_close(scratch);
    signal(number, SIG_IGN);
    if (!scratch_open(scratch, &arena)) _exit(95);
    raise(number);
    if (!scratch_wait(scratch)) _exit(94);
    scratch_close(scratch);
}

static void have_a_child(struct scratch *scratch) {
    pid_t pid = fork();
    if (pid == 0) _exit(0);
    bool child = scratch_wait(scratch) && waitpid(pid, NULL, WNOHANG) == pid;
    scratch_close(scratch);
    _exit(child ? 0 : 93);
}

static void a_signal_ends_the_program_when_the_folder_is_gone(void **state) {
    (void)state;
    static const int ending[] = {SIGINT, SIGTERM, SIGHUP, SIGPIPE, SIGQUIT, SIGXCPU, SIGXFSZ};
    for (size_t i = 0; i < sizeof ending / sizeof *ending; i++) {
        const char *folder;
        number = ending[i];
        int status = fate_of(be_signalled, &folder);
        assert_true(WIFSIGNALED(status));
        assert_int_equal(WTERMSIG(status), number);
        assert_false(there(folder));
        status = fate_of(be_signalled_while_waiting, &folder);
        assert_true(WIFSIGNALED(status));
        assert_int_equal(WTERMSIG(status), number);
        assert_false(there(folder));
    }
}

static void be_killed(struct scratch *scratch) {
    if (!scratch_write(scratch, "a/b", str_of("x"))) _exit(92);
    raise(SIGKILL);
}

static void what_a_killed_run_has_left_is_cleared_by_the_next(void **state) {
    (void)state;
    const char *folder;
    struct scratch living, next;
    assert_true(scratch_open(&living, &arena));
    assert_true(WIFSIGNALED(fate_of(be_killed, &folder)));
    assert_true(there(folder));
    assert_true(scratch_open(&next, &arena));
    assert_false(there(folder));
    assert_true(there(living.folder)); /* its owner lives */
    scratch_close(&next);
    scratch_close(&living);
}

static void what_is_ignored_ends_nothing(void **state) {
    (void)state;
    const char *folder;
    number = SIGHUP;
    int status = fate_of(ignore_it, &folder);
    assert_true(WIFEXITED(status));
    assert_int_equal(WEXITSTATUS(status), 0);
    assert_false(there(folder));
}

static void the_end_of_a_child_is_waited_for(void **state) {
    (void)state;
    const char *folder;
    int status = fate_of(have_a_child, &folder);
    assert_true(WIFEXITED(status));
    assert_int_equal(WEXITSTATUS(status), 0);
    assert_false(there(folder));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(it_is_private_and_lies_in_tmpdir),
        cmocka_unit_test(where_none_can_be_made_nothing_is_held),
        cmocka_unit_test(files_are_written_with_their_folders_and_read_back),
        cmocka_unit_test(nothing_is_written_beside_it_or_twice),
        cmocka_unit_test(only_a_regular_file_is_read),
        cmocka_unit_test(links_are_removed_and_not_followed),
        cmocka_unit_test(a_signal_ends_the_program_when_the_folder_is_gone),
        cmocka_unit_test(what_a_killed_run_has_left_is_cleared_by_the_next),
        cmocka_unit_test(what_is_ignored_ends_nothing),
        cmocka_unit_test(the_end_of_a_child_is_waited_for),
    };
    return cmocka_run_group_tests_name("scratch", tests, make_root, drop_root);
}
