#define _XOPEN_SOURCE 700 /* nftw */

#include <ftw.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

#include "close.h"

#include "base/buf.h"
#include "read/variant.h"

/* A folder of its own for every test, and what was read there. */
struct bench {
    char folder[64];
    struct arena arena;
    struct diags diags;
    struct document document;
    const char *failure;
};

static int set_up(void **state) {
    struct bench *bench = calloc(1, sizeof *bench);
    if (!bench) return -1;
    bench->diags.arena = &bench->arena;
    strcpy(bench->folder, "/tmp/plugwright_variant_XXXXXX");
    *state = bench;
    return mkdtemp(bench->folder) ? 0 : -1;
}

static int remove_one(const char *path, const struct stat *status, int type, struct FTW *ftw) {
    (void)status, (void)type, (void)ftw;
    return remove(path);
}

static int tear_down(void **state) {
    struct bench *bench = *state;
    int status = nftw(bench->folder, remove_one, 16, FTW_DEPTH | FTW_PHYS);
    arena_free(&bench->arena);
    free(bench);
    return status;
}

static const char *path_of(struct bench *bench, const char *name) {
    return arena_printf(&bench->arena, "%s/%s", bench->folder, name);
}

static void folder(struct bench *bench, const char *name) {
    assert_int_equal(mkdir(path_of(bench, name), 0700), 0);
}

static void file(struct bench *bench, const char *name, const char *text) {
    FILE *out = fopen(path_of(bench, name), "w");
    assert_non_null(out);
    assert_true(fputs(text, out) >= 0);
    assert_int_equal(fclose(out), 0);
}

static void link_to(struct bench *bench, const char *name, const char *target) {
    assert_int_equal(symlink(target, path_of(bench, name)), 0);
}

static void read_variant(struct bench *bench, const char *name) {
    bench->document =
        variant_read(&bench->arena, path_of(bench, name), &bench->diags, &bench->failure);
    diags_sort(&bench->diags);
}

/* Every diagnostic as "file:line:column severity rule: message; hint", files from the folder on. */
static const char *listed(struct bench *bench) {
    struct buf buf = {.arena = &bench->arena};
    buf_text(&buf, "");
    for (int i = 0; i < bench->diags.count; i++) {
        const struct diag *d = &bench->diags.items[i];
        const char *name = d->at.file->name;
        if (strncmp(name, bench->folder, strlen(bench->folder)) == 0)
            name += strlen(bench->folder) + 1;
        buf_printf(&buf, "%s:%d:%d %s: %s", name, d->at.line, d->at.column, d->rule, d->message);
        if (d->hint) buf_printf(&buf, "; %s", d->hint);
        buf_char(&buf, '\n');
    }
    return buf.data;
}

static void show(struct buf *buf, const struct node *node) {
    const char *comma = "";
    if (node->kind == NODE_SCALAR) buf_str(buf, node->text);
    if (node->kind == NODE_EMPTY) buf_char(buf, '~');
    if (node->kind == NODE_MAPPING) buf_char(buf, '{');
    if (node->kind == NODE_SEQUENCE) buf_char(buf, '[');
    for (const struct node *child = node->first; child; child = child->next) {
        buf_text(buf, comma);
        if (node->kind == NODE_MAPPING)
            buf_printf(buf, "%.*s: ", (int)child->key.size, child->key.data);
        show(buf, child);
        comma = ", ";
    }
    if (node->kind == NODE_MAPPING) buf_char(buf, '}');
    if (node->kind == NODE_SEQUENCE) buf_char(buf, ']');
}

static const char *shown(struct bench *bench) {
    if (!bench->document.root) return "nothing";
    struct buf buf = {.arena = &bench->arena};
    show(&buf, bench->document.root);
    return buf.data;
}

/* Reads recipe.yaml of the folder: its merged tree and the diagnostics. */
static void assert_reads(struct bench *bench, const char *tree, const char *diags) {
    read_variant(bench, "recipe.yaml");
    assert_null(bench->failure);
    assert_string_equal(listed(bench), diags);
    assert_string_equal(shown(bench), tree);
}

static void a_recipe_without_a_base_is_read_as_it_is(void **state) {
    struct bench *bench = *state;
    file(bench, "recipe.yaml", "name: Heron\nseal: none\nbase: none\n");
    assert_reads(bench, "{name: Heron, seal: none, base: none}", "");
    assert_int_equal(bench->document.source_count, 1);
}

static void mappings_merge_key_by_key_and_the_rest_is_replaced(void **state) {
    struct bench *bench = *state;
    file(bench, "base.yaml",
         "name: Heron\nbody: {length: 140 mm, section: {shape: oval}}\nlist: [1, 2]\nmake: 1\n");
    file(bench, "recipe.yaml",
         "base: base.yaml\nname: Heron green\nbody: {section: {radius: 1}, at: 2}\nlist: [3]\n");
    assert_reads(bench,
                 "{base: base.yaml, name: Heron green, body: {section: {radius: 1, shape: oval}, "
                 "at: 2, length: 140 mm}, list: [3], make: 1}",
                 "");
    assert_int_equal(bench->document.source_count, 2);
    assert_string_equal(bench->document.sources[0]->file.name, path_of(bench, "recipe.yaml"));
    assert_string_equal(bench->document.sources[1]->file.name, path_of(bench, "base.yaml"));
}

static void values_keep_the_file_in_which_they_stand(void **state) {
    struct bench *bench = *state;
    file(bench, "base.yaml", "\n\nbody: {length: 140 mm, width: 2}\n");
    file(bench, "recipe.yaml", "base: base.yaml\nbody: {width: 3}\n");
    assert_reads(bench, "{base: base.yaml, body: {width: 3, length: 140 mm}}", "");
    const struct node *body = tree_find(bench->document.root, "body");
    const struct node *length = tree_find(body, "length"), *width = tree_find(body, "width");
    assert_ptr_equal(body->at.file, &bench->document.sources[0]->file);
    assert_ptr_equal(width->at.file, &bench->document.sources[0]->file);
    assert_ptr_equal(length->at.file, &bench->document.sources[1]->file);
    assert_int_equal(length->key_at.line, 3);
}

static void none_drops_a_section_that_the_base_has(void **state) {
    struct bench *bench = *state;
    file(bench, "base.yaml", "seal: {coats: 2}\nlayers: [1]\nnote: text\n");
    file(bench, "recipe.yaml",
         "base: base.yaml\nseal: none\nlayers: none\nnote: none\nlip: none\n");
    assert_reads(bench, "{base: base.yaml, note: none, lip: none}", "");
}

static void a_value_that_is_not_given_leaves_the_base_and_warns(void **state) {
    struct bench *bench = *state;
    file(bench, "base.yaml", "seal: {coats: 2}\nmake: 3\ncure:\n");
    file(bench, "recipe.yaml", "base: base.yaml\nseal:\nmake: ~\ncure:\n");
    assert_reads(
        bench, "{base: base.yaml, seal: {coats: 2}, make: 3, cure: ~}",
        "recipe.yaml:2:6 empty: 'seal' is not given here, so what the base gives stands; "
        "`none` drops what the base gives\n"
        "recipe.yaml:3:7 empty: 'make' is not given here, so what the base gives stands\n");
    assert_int_equal(bench->diags.errors, 0);
}

static void a_base_may_have_a_base(void **state) {
    struct bench *bench = *state;
    folder(bench, "colours");
    file(bench, "colours/body.yaml", "a: 1\nb: 1\nc: 1\n");
    file(bench, "colours/paint.yaml", "base: body.yaml\nb: 2\nc: 2\n");
    file(bench, "recipe.yaml", "base: colours/paint.yaml\nc: 3\n");
    assert_reads(bench, "{base: colours/paint.yaml, c: 3, a: 1, b: 2}", "");
    assert_string_equal(bench->document.sources[2]->file.name, path_of(bench, "colours/body.yaml"));
}

static void eight_levels_are_read_and_nine_are_not(void **state) {
    struct bench *bench = *state;
    for (int i = 1; i <= VARIANT_MAX_DEPTH; i++) {
        const char *name = arena_printf(&bench->arena, "%d.yaml", i);
        const char *text = i < VARIANT_MAX_DEPTH
                               ? arena_printf(&bench->arena, "base: %d.yaml\nk%d: x\n", i + 1, i)
                               : "k8: x\n";
        file(bench, name, text);
    }
    file(bench, "recipe.yaml", "base: 1.yaml\n");
    assert_reads(bench, "{base: 1.yaml, k1: x, k2: x, k3: x, k4: x, k5: x, k6: x, k7: x, k8: x}",
                 "");
    file(bench, "8.yaml", "base: 9.yaml\n");
    file(bench, "9.yaml", "a: 1\n");
    assert_reads(bench, "nothing",
                 "8.yaml:1:7 base: a base may have a base, but not more than 8 levels\n");
}

static void a_loop_is_told_where_it_closes(void **state) {
    struct bench *bench = *state;
    file(bench, "a.yaml", "base: ./b.yaml\n");
    file(bench, "b.yaml", "base: a.yaml\n");
    file(bench, "recipe.yaml", "name: x\nbase: a.yaml\n");
    assert_reads(bench, "nothing",
                 "./b.yaml:1:7 base: the base leads back to a recipe that is built on this one; "
                 "follow base from file to file, and remove one\n");
}

static void a_recipe_cannot_be_its_own_base(void **state) {
    struct bench *bench = *state;
    link_to(bench, "other.yaml", "recipe.yaml");
    file(bench, "recipe.yaml", "base: other.yaml\n");
    assert_reads(bench, "nothing",
                 "recipe.yaml:1:7 base: the base leads back to a recipe that is built on this "
                 "one; follow base from file to file, and remove one\n");
}

static void without_a_repository_no_base_leaves_the_folder(void **state) {
    struct bench *bench = *state;
    folder(bench, "mine");
    folder(bench, "mine/deep");
    file(bench, "base.yaml", "a: 1\n");
    file(bench, "mine/base.yaml", "a: 2\n");
    file(bench, "mine/recipe.yaml", "base: ../base.yaml\n");
    read_variant(bench, "mine/recipe.yaml");
    assert_string_equal(listed(bench),
                        "mine/recipe.yaml:1:7 base: the base leads out of the folder tree of the "
                        "recipe; a base lies in the folder of the recipe or below it\n");
    assert_null(bench->document.root);
    bench->diags.count = 0;
    file(bench, "mine/recipe.yaml", "base: deep/../base.yaml\n");
    read_variant(bench, "mine/recipe.yaml");
    assert_string_equal(listed(bench), "");
    assert_string_equal(shown(bench), "{base: deep/../base.yaml, a: 2}");
}

static void in_a_repository_a_base_may_lie_anywhere_in_it(void **state) {
    struct bench *bench = *state;
    folder(bench, "repo");
    folder(bench, "repo/.git");
    folder(bench, "repo/a");
    folder(bench, "repo/b");
    file(bench, "outside.yaml", "a: 1\n");
    file(bench, "repo/.git/config", "a: 1\n");
    file(bench, "repo/b/base.yaml", "a: 2\n");
    file(bench, "repo/a/recipe.yaml", "base: ../b/base.yaml\n");
    read_variant(bench, "repo/a/recipe.yaml");
    assert_string_equal(listed(bench), "");
    assert_string_equal(shown(bench), "{base: ../b/base.yaml, a: 2}");
    static const char *const OUT[] = {"base: ../../outside.yaml\n", "base: ../.git/config\n"};
    for (size_t i = 0; i < 2; i++) {
        bench->diags.count = 0;
        file(bench, "repo/a/recipe.yaml", OUT[i]);
        read_variant(bench, "repo/a/recipe.yaml");
        assert_string_equal(listed(bench),
                            "repo/a/recipe.yaml:1:7 base: the base leads out of the folder tree "
                            "of the recipe; a base lies in the git repository of the recipe\n");
    }
}

/* A folder whose name only begins like that of the tree is not inside it. */
static void a_neighbour_with_a_longer_name_is_outside(void **state) {
    struct bench *bench = *state;
    folder(bench, "mine");
    folder(bench, "mine2");
    file(bench, "mine2/base.yaml", "a: 1\n");
    file(bench, "mine/recipe.yaml", "base: ../mine2/base.yaml\n");
    read_variant(bench, "mine/recipe.yaml");
    assert_int_equal(bench->diags.errors, 1);
    assert_null(bench->document.root);
}

static void links_are_followed_and_then_judged(void **state) {
    struct bench *bench = *state;
    folder(bench, "mine");
    folder(bench, "mine/deep");
    file(bench, "secret.yaml", "a: 1\n");
    file(bench, "mine/deep/base.yaml", "a: 2\n");
    link_to(bench, "mine/good.yaml", "deep/base.yaml");
    link_to(bench, "mine/bad.yaml", "../secret.yaml");
    link_to(bench, "mine/up", "..");
    file(bench, "mine/recipe.yaml", "base: good.yaml\n");
    read_variant(bench, "mine/recipe.yaml");
    assert_string_equal(listed(bench), "");
    assert_string_equal(shown(bench), "{base: good.yaml, a: 2}");
    static const char *const OUT[] = {"base: bad.yaml\n", "base: up/secret.yaml\n"};
    for (size_t i = 0; i < 2; i++) {
        bench->diags.count = 0;
        file(bench, "mine/recipe.yaml", OUT[i]);
        read_variant(bench, "mine/recipe.yaml");
        assert_string_equal(listed(bench),
                            "mine/recipe.yaml:1:7 base: the base leads out of the folder tree of "
                            "the recipe; a base lies in the folder of the recipe or below it\n");
    }
}

static void a_link_to_a_recipe_finds_the_base_beside_the_recipe(void **state) {
    struct bench *bench = *state;
    folder(bench, "real");
    file(bench, "real/base.yaml", "a: 1\n");
    file(bench, "base.yaml", "a: 2\n");
    file(bench, "real/recipe.yaml", "base: base.yaml\n");
    link_to(bench, "recipe.yaml", "real/recipe.yaml");
    assert_reads(bench, "{base: base.yaml, a: 1}", "");
}

static void a_base_that_cannot_be_read_is_an_error_at_its_name(void **state) {
    struct bench *bench = *state;
    folder(bench, "folder");
    assert_int_equal(mkfifo(path_of(bench, "pipe"), 0600), 0);
    static const struct {
        const char *base, *error;
    } CASES[] = {
        {"nowhere.yaml", "cannot read the base 'nowhere.yaml': No such file or directory\n"},
        {"folder", "cannot read the base 'folder': it is not a file\n"},
        {"pipe", "cannot read the base 'pipe': it is not a file\n"},
        {"/tmp/base.yaml", "a base is not named by an absolute path; "
                           "name it from the folder of this recipe, such as base: heron.yaml\n"},
        {"''", "a base is the name of another recipe; such as base: heron.yaml\n"},
        {"[a.yaml]", "a base is the name of another recipe; such as base: heron.yaml\n"},
        {"{a: b}", "a base is the name of another recipe; such as base: heron.yaml\n"},
    };
    for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
        bench->diags.count = 0;
        file(bench, "recipe.yaml", arena_printf(&bench->arena, "base: %s\n", CASES[i].base));
        const char *want = arena_printf(&bench->arena, "recipe.yaml:1:7 base: %s", CASES[i].error);
        assert_reads(bench, "nothing", want);
    }
}

static void errors_in_a_base_stand_in_the_base(void **state) {
    struct bench *bench = *state;
    file(bench, "base.yaml", "a: 1\na: 2\nb: !x 3\n");
    file(bench, "recipe.yaml", "base: base.yaml\nc: &x 1\n");
    assert_reads(bench, "{base: base.yaml, c: 1, a: 1, b: 3}",
                 "recipe.yaml:2:4 anchor: anchors are not part of the language; "
                 "write the value out, or use base\n"
                 "base.yaml:2:1 duplicate-key: the key 'a' is given twice; "
                 "it is given in line 1 already\n"
                 "base.yaml:3:4 tag: tags are not part of the language; "
                 "leave it out: the field decides what a value is\n");
    bench->diags.count = 0;
    file(bench, "base.yaml", "<<<<<<< ours\na: 1\n");
    file(bench, "recipe.yaml", "base: base.yaml\n");
    read_variant(bench, "recipe.yaml");
    assert_null(bench->document.root);
    assert_int_equal(bench->diags.count, 1);
    assert_int_equal(bench->document.source_count, 2);
}

static void a_recipe_that_cannot_be_read_is_a_failure(void **state) {
    struct bench *bench = *state;
    read_variant(bench, "nowhere.yaml");
    assert_non_null(strstr(bench->failure, "nowhere.yaml: No such file or directory"));
    assert_null(bench->document.root);
    assert_int_equal(bench->document.source_count, 0);
    assert_int_equal(bench->diags.count, 0);
}

static void a_recipe_from_a_pipe_has_no_base(void **state) {
    struct bench *bench = *state;
    int ends[2], saved = dup(STDIN_FILENO);
    assert_int_equal(pipe(ends), 0);
    assert_int_equal(write(ends[1], "base: base.yaml\n", 16), 16);
    close(ends[1]);
    dup2(ends[0], STDIN_FILENO);
    close(ends[0]);
    bench->document = variant_read(&bench->arena, "-", &bench->diags, &bench->failure);
    dup2(saved, STDIN_FILENO);
    close(saved);
    assert_null(bench->failure);
    assert_null(bench->document.root);
    assert_string_equal(listed(bench), "-:1:7 base: a recipe from a pipe has no folder, so it can "
                                       "have no base; give the recipe as a file\n");
}

/* A recipe given by a relative path names its base by a relative path too. */
static void names_are_shown_as_the_user_wrote_them(void **state) {
    struct bench *bench = *state;
    char before[4096];
    assert_non_null(getcwd(before, sizeof before));
    folder(bench, "recipes");
    file(bench, "base.yaml", "a: 1\n");
    file(bench, "recipe.yaml", "base: base.yaml\n");
    file(bench, "recipes/base.yaml", "a: 1\n");
    file(bench, "recipes/recipe.yaml", "base: base.yaml\n");
    assert_int_equal(chdir(bench->folder), 0);
    bench->document = variant_read(&bench->arena, "recipe.yaml", &bench->diags, &bench->failure);
    struct document inner =
        variant_read(&bench->arena, "recipes/recipe.yaml", &bench->diags, &bench->failure);
    assert_int_equal(chdir(before), 0);
    assert_string_equal(bench->document.sources[1]->file.name, "base.yaml");
    assert_string_equal(inner.sources[1]->file.name, "recipes/base.yaml");
}

/* A shelf of texts in memory. */
static const struct {
    const char *path, *text;
} shelved[] = {
    {"top.yaml", "name: Top\nmake: 1\n"},
    {"a/b/deep.yaml", "base: ../../top.yaml\nname: Deep\n"},
    {"a/out.yaml", "base: ../../top.yaml\n"},
    {"a/lost.yaml", "base: none.yaml\n"},
    {"a/loop.yaml", "base: ./b/../loop.yaml\n"},
};

static bool take_shelved(const struct shelf *shelf, struct arena *arena, const char *path,
                         struct str *bytes, const char **reason) {
    (void)shelf, (void)arena;
    for (size_t i = 0; i < sizeof shelved / sizeof *shelved; i++) {
        if (strcmp(path, shelved[i].path) != 0) continue;
        *bytes = str_of(shelved[i].text);
        return true;
    }
    *reason = "it is not on the shelf";
    return false;
}

static void a_shelf_has_the_same_rules_and_its_top_is_never_left(void **state) {
    static const struct shelf shelf = {take_shelved};
    static const struct {
        const char *path, *tree, *diags;
    } rows[] = {
        {"top.yaml", "{name: Top, make: 1}", ""},
        {"a/b/deep.yaml", "{base: ../../top.yaml, name: Deep, make: 1}", ""},
        {"a/out.yaml", "nothing",
         "a/out.yaml:1:7 base: the base leads out of the folder tree of the recipe; a base lies in "
         "the git repository of the recipe\n"},
        {"a/lost.yaml", "nothing",
         "a/lost.yaml:1:7 base: cannot read the base 'none.yaml': it is not on the shelf\n"},
        {"a/loop.yaml", "nothing",
         "a/loop.yaml:1:7 base: the base leads back to a recipe that is built on this one; follow "
         "base from file to file, and remove one\n"},
    };
    struct bench *bench = *state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        bench->diags = (struct diags){.arena = &bench->arena};
        bench->document =
            variant_take(&shelf, &bench->arena, rows[i].path, &bench->diags, &bench->failure);
        assert_null(bench->failure);
        assert_string_equal(listed(bench), rows[i].diags);
        assert_string_equal(shown(bench), rows[i].tree);
    }
    bench->document =
        variant_take(&shelf, &bench->arena, "none.yaml", &bench->diags, &bench->failure);
    assert_string_equal(bench->failure, "it is not on the shelf");
    assert_int_equal(bench->document.source_count, 0);
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, set_up, tear_down)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(a_recipe_without_a_base_is_read_as_it_is),
        TEST(mappings_merge_key_by_key_and_the_rest_is_replaced),
        TEST(values_keep_the_file_in_which_they_stand),
        TEST(none_drops_a_section_that_the_base_has),
        TEST(a_value_that_is_not_given_leaves_the_base_and_warns),
        TEST(a_base_may_have_a_base),
        TEST(eight_levels_are_read_and_nine_are_not),
        TEST(a_loop_is_told_where_it_closes),
        TEST(a_recipe_cannot_be_its_own_base),
        TEST(without_a_repository_no_base_leaves_the_folder),
        TEST(in_a_repository_a_base_may_lie_anywhere_in_it),
        TEST(a_neighbour_with_a_longer_name_is_outside),
        TEST(links_are_followed_and_then_judged),
        TEST(a_link_to_a_recipe_finds_the_base_beside_the_recipe),
        TEST(a_base_that_cannot_be_read_is_an_error_at_its_name),
        TEST(errors_in_a_base_stand_in_the_base),
        TEST(a_recipe_that_cannot_be_read_is_a_failure),
        TEST(a_recipe_from_a_pipe_has_no_base),
        TEST(names_are_shown_as_the_user_wrote_them),
        TEST(a_shelf_has_the_same_rules_and_its_top_is_never_left),
    };
    return cmocka_run_group_tests_name("variant", tests, NULL, NULL);
}
