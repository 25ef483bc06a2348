/* Printing: with stand-ins for Pandoc that tell how they were called, and with the real tools where
 * they are installed.
 */
#include "close.h"

#include <dirent.h>
#include <fcntl.h>
#include <signal.h>
#include <stdbool.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#include "emit/print/style.h"
#include "command/print.h"

static struct arena arena;
static char root[] = "/tmp/test_print-XXXXXX";
static char *real_path;

static const char *in_root(const char *name) {
    return arena_printf(&arena, "%s/%s", root, name);
}

static int make_root(void **state) {
    (void)state;
    const char *path = getenv("PATH");
    real_path = strdup(path ? path : "/usr/bin:/bin");
    if (!real_path || !mkdtemp(root)) return -1;
    return mkdir(in_root("tools"), 0700) || mkdir(in_root("tmp"), 0700) ||
           setenv("TMPDIR", in_root("tmp"), 1);
}

static int drop_root(void **state) {
    (void)state;
    setenv("PATH", real_path, 1);
    int status = system(arena_printf(&arena, "rm -rf '%s'", root));
    free(real_path);
    arena_free(&arena);
    return status;
}

static void write_text(const char *path, const char *text, mode_t mode) {
    int file = open(path, O_WRONLY | O_CREAT | O_TRUNC, mode);
    assert_true(file >= 0);
    assert_true(publish_bytes(file, str_of(text)));
    close(file);
}

static const char *read_back(const char *path) {
    FILE *file = fopen(path, "r");
    if (!file) return NULL;
    char *text = arena_alloc(&arena, 1 << 20);
    text[fread(text, 1, (1 << 20) - 1, file)] = '\0';
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

/* A stand-in for Pandoc in a PATH where it and WeasyPrint are found first. */
static void stand_in(const char *script) {
    write_text(in_root("tools/pandoc"), arena_printf(&arena, "#!/bin/sh\n%s", script), 0700);
    write_text(in_root("tools/weasyprint"), "#!/bin/sh\n", 0700);
    setenv("PATH", arena_printf(&arena, "%s:%s", in_root("tools"), real_path), 1);
}

static struct publish_file files[] = {
    {"side.svg", {"<svg xmlns='http://www.w3.org/2000/svg' width='100mm' height='5mm'/>", 0}},
    {"order.md", {"# Work order: x\n\nRun of 1 plug\n\n![s](side.svg)\n", 0}},
};

static struct print_job job(enum print_form form, const char *stem) {
    for (int i = 0; i < 2; i++) files[i].bytes.size = strlen(files[i].bytes.data);
    return (struct print_job){.forms = form,
                              .page = "order",
                              .kind = "order",
                              .order = {in_root("out"), stem, "a recipe", files, 2},
                              .title = str_of("<H\xc3\xa9ron> & $x$"),
                              .paper = PAPER_LETTER};
}

static void a_missing_tool_is_named_with_its_debian_package(void **state) {
    (void)state;
    struct print_job jobs[] = {job(PRINT_PDF, "none"), job(PRINT_TABLET, "none")};
    setenv("PATH", in_root("tools"), 1);
    assert_int_equal(print_orders(&arena, jobs, 2, 60, NULL), 2);
    assert_non_null(strstr(jobs[0].failure, "pandoc is not in PATH"));
    assert_non_null(strstr(jobs[0].failure, "Debian package pandoc"));

    write_text(in_root("tools/pandoc"), "#!/bin/sh\necho '<!DOCTYPE html></html>' >page.html\n",
               0700);
    assert_int_equal(print_orders(&arena, jobs, 2, 60, NULL), 1);
    assert_non_null(strstr(jobs[0].failure, "Debian package weasyprint"));
    assert_null(jobs[1].failure);
    assert_int_equal(entries(in_root("tmp")), 0);
}

static void the_tool_sees_a_private_folder_and_a_fixed_date(void **state) {
    (void)state;
    stand_in("{ echo %PDF-1; printf '%s\\n' \"$@\"; ls; "
             "echo $SOURCE_DATE_EPOCH $LC_ALL $HOME $TEST_SECRET $TMPDIR; pwd; "
             "echo %%EOF; } >page.pdf");
    setenv("TEST_SECRET", "secret", 1);
    struct print_job one = job(PRINT_PDF, "heron");
    unsetenv("SOURCE_DATE_EPOCH");
    assert_int_equal(print_orders(&arena, &one, 1, 60, NULL), 0);
    const char *said = read_back(in_root("out/heron/order.pdf"));
    assert_non_null(said);
    assert_non_null(strstr(said, "-raw_html\n"));
    assert_non_null(strstr(said, "--variable=paper:letter\n"));
    assert_non_null(strstr(said, "pagetitle:&#60;H&#233;ron&#62; &#38; &#36;x&#36;\n"));
    assert_non_null(strstr(said, "\npage.md\npage.pdf\nreport\nside.svg\nstyle.css\nstyle.html\n"));
    assert_non_null(strstr(said, "\n0 C.UTF-8 /"));
    assert_null(strstr(said, "secret"));
    assert_non_null(strstr(said, in_root("tmp/plugwright-")));
    assert_int_equal(entries(in_root("tmp")), 0);
    assert_int_equal(entries(in_root("out/heron")), 4); /* with its record */
}

static void a_date_that_is_set_is_kept(void **state) {
    (void)state;
    stand_in("echo \"%PDF- $SOURCE_DATE_EPOCH %%EOF\" >page.pdf");
    struct print_job one = job(PRINT_PDF, "dated");
    setenv("SOURCE_DATE_EPOCH", "86400", 1);
    assert_int_equal(print_orders(&arena, &one, 1, 60, NULL), 0);
    assert_string_equal(read_back(in_root("out/dated/order.pdf")), "%PDF- 86400 %%EOF\n");
    unsetenv("SOURCE_DATE_EPOCH");
}

static void what_a_failing_tool_says_is_handed_on(void **state) {
    (void)state;
    stand_in("echo half >page.pdf; echo 'no such font' >&2; exit 43");
    struct print_job one = job(PRINT_PDF, "fails");
    assert_int_equal(print_orders(&arena, &one, 1, 60, NULL), 1);
    assert_string_equal(one.failure,
                        "cannot make order.pdf: pandoc ended with status 43\nno such font");
    assert_null(read_back(in_root("out/fails/order.pdf")));

    stand_in("kill -KILL $$");
    assert_int_equal(print_orders(&arena, &one, 1, 60, NULL), 1);
    assert_string_equal(one.failure, "cannot make order.pdf: pandoc was stopped by signal 9");
    assert_int_equal(entries(in_root("tmp")), 0);
}

static void a_sheet_that_is_not_whole_replaces_nothing(void **state) {
    (void)state;
    static const char *const junk[] = {"", "junk %%EOF", "%PDF-1.7 half", "%PDF%%EOF"};
    stand_in("echo %PDF- good %%EOF >page.pdf");
    struct print_job one = job(PRINT_PDF, "junk");
    assert_int_equal(print_orders(&arena, &one, 1, 60, NULL), 0);
    assert_true(one.published && one.made == PRINT_PDF);
    for (size_t i = 0; i < sizeof junk / sizeof *junk; i++) {
        stand_in(arena_printf(&arena, "echo '%s' >page.pdf", junk[i]));
        assert_int_equal(print_orders(&arena, &one, 1, 60, NULL), 1);
        assert_non_null(strstr(one.failure, "order.pdf that pandoc made: it is not whole"));
        assert_true(one.published && one.made == 0); /* the order itself is there */
        assert_string_equal(read_back(in_root("out/junk/order.pdf")), "%PDF- good %%EOF\n");
    }
    stand_in("mkfifo page.pdf");
    assert_int_equal(print_orders(&arena, &one, 1, 60, NULL), 1);
    assert_non_null(strstr(one.failure, "cannot read the order.pdf that pandoc made"));
}

static void the_sheet_of_another_design_is_gone(void **state) {
    (void)state;
    stand_in("echo %PDF- good %%EOF >page.pdf");
    struct print_job one = job(PRINT_PDF, "other");
    assert_int_equal(print_orders(&arena, &one, 1, 60, NULL), 0);
    stand_in("exit 1");
    one.order.of = "another recipe";
    assert_int_equal(print_orders(&arena, &one, 1, 60, NULL), 1);
    assert_null(read_back(in_root("out/other/order.pdf")));
    assert_non_null(read_back(in_root("out/other/order.md")));
}

static void a_tool_that_hangs_is_stopped_with_all_that_it_has_started(void **state) {
    (void)state;
    stand_in(arena_printf(&arena,
                          "trap '' TERM; sh -c 'trap \"\" TERM; echo $$ >%s; sleep 60' & wait; "
                          "sleep 60",
                          in_root("pid")));
    struct print_job one = job(PRINT_PDF, "hangs");
    assert_int_equal(print_orders(&arena, &one, 1, 1, NULL), 1);
    assert_string_equal(one.failure, "cannot make order.pdf: pandoc took longer than 1 s");
    pid_t grandchild = (pid_t)strtol(read_back(in_root("pid")), NULL, 10);
    assert_true(grandchild > 1);
    for (int i = 0; i < 100 && kill(grandchild, 0) == 0; i++) {
        struct timespec moment = {.tv_nsec = 20000000};
        const char *stat = arena_printf(&arena, "/proc/%d/stat", (int)grandchild);
        const char *text = read_back(stat);
        if (text && strstr(text, ") Z ")) break; /* dead, and nobody waits for it */
        nanosleep(&moment, NULL);
        assert_true(i < 99);
    }
    assert_int_equal(entries(in_root("tmp")), 0);
}

static void both_forms_are_one_order(void **state) {
    (void)state;
    stand_in("case \"$*\" in *page.pdf*) echo %PDF- %%EOF >page.pdf ;; "
             "*) echo '<!DOCTYPE html></html>' >page.html ;; esac");
    struct print_job one = job(PRINT_PDF, "both");
    one.forms = PRINT_PDF | PRINT_TABLET;
    assert_int_equal(print_orders(&arena, &one, 1, 60, NULL), 0);
    assert_int_equal(one.made, PRINT_PDF | PRINT_TABLET);
    assert_int_equal(entries(in_root("out/both")), 5);
}

static void many_jobs_are_all_done_and_counted_on_a_terminal(void **state) {
    (void)state;
    enum { MANY = 9 };
    struct print_job jobs[MANY];
    stand_in("echo %PDF- %%EOF >page.pdf");
    for (int i = 0; i < MANY; i++) jobs[i] = job(PRINT_PDF, arena_printf(&arena, "many-%d", i));
    FILE *terminal = fopen(in_root("progress"), "w");
    assert_non_null(terminal);
    assert_int_equal(print_orders(&arena, jobs, MANY, 60, terminal), 0);
    fclose(terminal);
    for (int i = 0; i < MANY; i++) {
        assert_non_null(read_back(arena_printf(&arena, "%s/out/many-%d/order.pdf", root, i)));
    }
    const char *shown = read_back(in_root("progress"));
    assert_non_null(strstr(shown, "printed 0 of 9"));
    assert_non_null(strstr(shown, "printed 9 of 9"));
}

static bool installed(void) {
    setenv("PATH", real_path, 1);
    return !system("command -v pandoc >/dev/null 2>&1 && command -v weasyprint >/dev/null 2>&1");
}

static void the_real_tools_give_the_same_bytes_twice(void **state) {
    (void)state;
    if (!installed()) skip();
    struct print_job one = job(PRINT_PDF, "real");
    int failed = print_orders(&arena, &one, 1, 60, NULL);
    if (failed) fail_msg("%s", one.failure);
    const char *command =
        arena_printf(&arena, "cp %s %s", in_root("out/real/order.pdf"), in_root("before.pdf"));
    assert_int_equal(system(command), 0);
    assert_int_equal(print_orders(&arena, &one, 1, 60, NULL), 0);
    command =
        arena_printf(&arena, "cmp %s %s", in_root("out/real/order.pdf"), in_root("before.pdf"));
    assert_int_equal(system(command), 0);
    assert_memory_equal(read_back(in_root("before.pdf")), "%PDF-", 5);
    assert_int_equal(entries(in_root("tmp")), 0);
}

static void the_tablets_page_needs_nothing_beside_it(void **state) {
    (void)state;
    if (!installed()) skip();
    struct print_job one = job(PRINT_TABLET, "tablet");
    int failed = print_orders(&arena, &one, 1, 60, NULL);
    if (failed) fail_msg("%s", one.failure);
    const char *page = read_back(in_root("out/tablet/order.html"));
    assert_non_null(strstr(page, "src=\"data:image/svg+xml;"));
    assert_null(strstr(page, "side.svg"));
    assert_null(strstr(page, "src=\"http"));
    assert_non_null(strstr(page, "<title>&lt;H\xc3\xa9ron&gt; &amp; $x$</title>"));
    assert_non_null(strstr(page, "localStorage"));
}

static void the_style_is_built_in(void **state) {
    (void)state;
    const struct str *styles[] = {&style_order_html, &style_order_css,  &style_tablet_html,
                                  &style_tablet_css, &style_tablet_lua, &style_tablet_js};
    for (size_t i = 0; i < sizeof styles / sizeof *styles; i++) {
        assert_true(styles[i]->size > 100);
        assert_int_equal(styles[i]->data[styles[i]->size - 1], '\n');
        assert_null(memchr(styles[i]->data, '\0', styles[i]->size));
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_missing_tool_is_named_with_its_debian_package),
        cmocka_unit_test(the_tool_sees_a_private_folder_and_a_fixed_date),
        cmocka_unit_test(a_date_that_is_set_is_kept),
        cmocka_unit_test(what_a_failing_tool_says_is_handed_on),
        cmocka_unit_test(a_sheet_that_is_not_whole_replaces_nothing),
        cmocka_unit_test(the_sheet_of_another_design_is_gone),
        cmocka_unit_test(a_tool_that_hangs_is_stopped_with_all_that_it_has_started),
        cmocka_unit_test(both_forms_are_one_order),
        cmocka_unit_test(many_jobs_are_all_done_and_counted_on_a_terminal),
        cmocka_unit_test(the_real_tools_give_the_same_bytes_twice),
        cmocka_unit_test(the_tablets_page_needs_nothing_beside_it),
        cmocka_unit_test(the_style_is_built_in),
    };
    return cmocka_run_group_tests_name("print", tests, make_root, drop_root);
}
