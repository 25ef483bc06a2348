/* Figures put into the text of a workshop, the difference that is shown, and the file that takes
 * its place. */
#include <fcntl.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cmocka.h>

#include "base/buf.h"
#include "emit/write/lines.h"
#include "read/amend.h"
#include "system/replace.h"

static const struct amendment lime = {
    "woods",
    {{"name", "garden lime"}},
    {{"density", "455 kg/m3"}, {"spread", "3 %"}, {"weighed", "7"}},
    false,
};
static const struct amendment hook = {
    "hooks", {{"size", "8"}, {"kind", "single"}}, {{"mass", "0.3 g"}, {"weighed", "4"}}, false};
static const struct amendment varnish = {
    "topcoats", {{"name", "varnish"}}, {{"film", "35 um"}}, true};

static void amended(const char *old, const struct amendment *rows, int count, const char *want) {
    struct arena arena = {0};
    struct diags diags = {.arena = &arena};
    const struct source *source = source_of(&arena, "shop.yaml", str_of(old), &diags);
    const struct node *root = tree_read(&arena, source, &diags);
    assert_non_null(root);
    struct str text = amend_text(&arena, source, root, rows, count);
    assert_string_equal(arena_copy(&arena, text.data, text.size), want);
    arena_free(&arena);
}

static void a_figure_that_is_there_is_written_over(void **state) {
    (void)state;
    amended(
        "workshop: 1\nwoods:\n  - {name: garden lime, density: 480 kg/m3} # felled\n", &lime, 1,
        "workshop: 1\nwoods:\n  - {name: garden lime, density: 455 kg/m3, spread: 3 %, weighed: "
        "7} # felled\n");
    amended(
        "woods: # mine\n  - density: 480 kg/m3 # old\n    weighed: 2\n    name: garden lime\n"
        "# end\n",
        &lime, 1,
        "woods: # mine\n  - density: 455 kg/m3 # old\n    spread: 3 %\n    weighed: 7\n    name: "
        "garden lime\n# end\n");
}

static void a_figure_that_is_not_there_follows_the_name(void **state) {
    (void)state;
    amended("woods:\r\n- name: \"garden lime\" # é\r\n  like: balsa\r\n", &lime, 1,
            "woods:\r\n- name: \"garden lime\" # é\r\n  density: 455 kg/m3\r\n  spread: 3 %\r\n  "
            "weighed: 7\r\n  like: balsa\r\n");
}

static void a_row_that_is_not_there_heads_its_list(void **state) {
    (void)state;
    amended("woods: # mine\n  # first\n  - {name: a}\n", &lime, 1,
            "woods: # mine\n  - {name: \"garden lime\", density: 455 kg/m3, spread: 3 %, weighed: "
            "7}\n  # first\n  - {name: a}\n");
    amended("woods: [{name: a}]\n", &lime, 1,
            "woods: [{name: \"garden lime\", density: 455 kg/m3, spread: 3 %, weighed: 7}, {name: "
            "a}]\n");
}

static void a_list_that_is_not_there_ends_the_file(void **state) {
    (void)state;
    const struct amendment rows[] = {lime, hook};
    amended("workshop: 1", rows, 2,
            "workshop: 1\n\nwoods:\n  - {name: \"garden lime\", density: 455 kg/m3, spread: 3 %, "
            "weighed: 7}\n\nhooks:\n  - {size: \"8\", kind: \"single\", mass: 0.3 g, weighed: "
            "4}\n");
}

/* The same size of another kind is another hook. */
static void a_row_is_told_by_all_that_it_says(void **state) {
    (void)state;
    amended("hooks:\n  - {size: \"8\", kind: treble, mass: 1 g}\n  - {size: \"8\", kind: single, "
            "mass: 1 g}\n",
            &hook, 1,
            "hooks:\n  - {size: \"8\", kind: treble, mass: 1 g}\n  - {size: \"8\", kind: single, "
            "mass: 0.3 g, weighed: 4}\n");
}

static void a_product_is_not_made_up(void **state) {
    (void)state;
    amended("workshop: 1\n", &varnish, 1, "workshop: 1\n");
}

static void differs(const char *old, const char *new, const char *want) {
    struct arena arena = {0};
    struct buf out = {.arena = &arena};
    lines_difference(&out, "f", str_of(old), str_of(new));
    struct str text = buf_whole(&out);
    assert_string_equal(arena_copy(&arena, text.data ? text.data : "", text.size), want);
    arena_free(&arena);
}

/* As POSIX diff -U 0 has it. */
static void a_difference_is_what_patch_reads(void **state) {
    (void)state;
    differs("a\nb\n", "a\nb\n", "");
    differs("a\nb\nc\n", "a\nx\nc\n", "--- f\n+++ f\n@@ -2,1 +2,1 @@\n-b\n+x\n");
    differs("a\nc\n", "a\nb\nc\n", "--- f\n+++ f\n@@ -1,0 +2,1 @@\n+b\n");
    differs("a\nb\nc\nd\n", "b\nc\nd\ne\n",
            "--- f\n+++ f\n@@ -1,1 +0,0 @@\n-a\n@@ -4,0 +4,1 @@\n+e\n");
}

static void a_file_is_replaced_with_its_rights_and_behind_its_link(void **state) {
    struct arena arena = {0};
    char root[] = "/tmp/plugwright-amend-XXXXXX";
    (void)state;
    assert_non_null(mkdtemp(root));
    const char *file = arena_printf(&arena, "%s/shop.yaml", root);
    const char *link = arena_printf(&arena, "%s/link.yaml", root);
    int fd = open(file, O_WRONLY | O_CREAT, 0640);
    assert_int_equal(write(fd, "old", 3), 3);
    close(fd);
    assert_int_equal(chmod(file, 0640), 0);
    assert_int_equal(symlink("shop.yaml", link), 0);
    assert_null(replace_file(&arena, link, str_of("new text")));
    char text[16] = "";
    fd = open(file, O_RDONLY);
    assert_int_equal(read(fd, text, sizeof text), 8);
    close(fd);
    assert_string_equal(text, "new text");
    struct stat info;
    assert_int_equal(lstat(link, &info), 0);
    assert_true(S_ISLNK(info.st_mode));
    assert_int_equal(stat(file, &info), 0);
    assert_int_equal(info.st_mode & 0777, 0640);
    assert_non_null(
        strstr(replace_file(&arena, arena_printf(&arena, "%s/none", root), str_of("x")), "none"));
    assert_int_equal(unlink(link), 0);
    assert_int_equal(unlink(file), 0);
    assert_int_equal(rmdir(root), 0); /* nothing is left beside */
    arena_free(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_figure_that_is_there_is_written_over),
        cmocka_unit_test(a_figure_that_is_not_there_follows_the_name),
        cmocka_unit_test(a_row_that_is_not_there_heads_its_list),
        cmocka_unit_test(a_list_that_is_not_there_ends_the_file),
        cmocka_unit_test(a_row_is_told_by_all_that_it_says),
        cmocka_unit_test(a_product_is_not_made_up),
        cmocka_unit_test(a_difference_is_what_patch_reads),
        cmocka_unit_test(a_file_is_replaced_with_its_rights_and_behind_its_link),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
