#include "compile.h"

#include "compute/judge.h"
#include "model/bind.h"
#include "model/check.h"
#include "read/source.h"
#include "read/tree.h"

/* Blob ids of the recipe and its bases: `git log --find-object=ID` finds the commits. */
static const char *digest_of(struct arena *arena, const struct document *document) {
    const char *digest = "";
    for (int i = 0; i < document->source_count; i++)
        digest = arena_printf(arena, "%s%s%s", digest, i ? " " : "", document->sources[i]->blob_id);
    return digest;
}

static void compile_document(struct arena *arena, struct compilation *c) {
    if (!c->document.root) return;
    c->recipe = bind_recipe(arena, c->document.root, &c->diags);
    check_recipe(c->recipe, &c->diags);
    if (!c->diags.errors) judge_outline(arena, c->recipe, &c->diags);
    if (c->diags.errors) return;
    c->results = results_compute(arena, c->recipe, &c->diags);
    c->results.digest = digest_of(arena, &c->document);
    judge_results(arena, c->recipe, &c->results, &c->diags);
}

struct compilation compile_recipe(struct arena *arena, const char *path) {
    struct compilation c = {.path = path, .diags.arena = arena};
    c.document = variant_read(arena, path, &c.diags, &c.failure);
    if (!c.failure) compile_document(arena, &c);
    diags_sort(&c.diags);
    return c;
}

static bool names_base(const struct node *root) {
    const struct node *base = tree_find(root, "base");
    return base && base->kind != NODE_EMPTY && !str_is(base->text, "none");
}

struct compilation compile_own(struct arena *arena, const char *path) {
    struct compilation c = {.path = path, .diags.arena = arena};
    const struct source *source = source_read(arena, path, &c.diags, &c.failure);
    if (!source) return c;
    c.document.sources[c.document.source_count++] = source;
    c.document.root = tree_read(arena, source, &c.diags);
    c.partial = c.document.root && names_base(c.document.root);
    if (c.partial)
        c.recipe = bind_recipe(arena, c.document.root, &c.diags);
    else
        compile_document(arena, &c);
    diags_sort(&c.diags);
    return c;
}

struct compilation compile_text(struct arena *arena, const char *name, struct str bytes) {
    struct compilation c = {.path = name, .diags.arena = arena};
    const struct source *source = source_of(arena, name, bytes, &c.diags);
    c.document.sources[c.document.source_count++] = source;
    if (!c.diags.errors) c.document.root = tree_read(arena, source, &c.diags);
    compile_document(arena, &c);
    diags_sort(&c.diags);
    return c;
}

bool compilation_failed(const struct compilation *c) {
    return c->failure || c->diags.errors > 0;
}
