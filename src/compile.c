#include "compile.h"

#include "compute/aim.h"
#include "compute/judge.h"
#include "hint.h"
#include "model/bind.h"
#include "model/check.h"
#include "read/source.h"
#include "read/tree.h"

static void compute(struct arena *arena, struct compilation *c) {
    c->recipe = bind_recipe(arena, c->document.root, &c->diags);
    if (c->partial) return;
    bool bound = !c->diags.errors;
    if (!check_recipe(c->recipe, &c->diags) || !bound) return;
    if (!judge_outline(arena, c->recipe, &c->diags)) return;
    if (!aim_meet(arena, c->recipe, &c->diags)) return;
    c->results = results_compute(arena, c->recipe, c->extent, &c->diags);
    c->results.digest = variant_digest(arena, &c->document);
    judge_afloat(arena, c->recipe, &c->results, &c->diags);
    judge_run(arena, c->recipe, &c->results.run, &c->diags);
}

/* All that follows from the document that was read. */
static struct compilation compiled(struct arena *arena, struct compilation c) {
    if (c.document.root) compute(arena, &c);
    if (c.document.root && !c.partial) hints_settle(arena, c.document.root, &c.diags);
    diags_sort(&c.diags);
    return c;
}

static struct compilation compiled_to(struct arena *arena, const char *path,
                                      enum results_extent extent) {
    struct compilation c = {.path = path, .extent = extent, .diags.arena = arena};
    c.document = variant_read(arena, path, &c.diags, &c.failure);
    return compiled(arena, c);
}

struct compilation compile_recipe(struct arena *arena, const char *path) {
    return compiled_to(arena, path, RESULTS_ALL);
}

struct compilation compile_check(struct arena *arena, const char *path) {
    return compiled_to(arena, path, RESULTS_FOR_DIAGNOSTICS);
}

struct compilation compile_shelved(struct arena *arena, const struct shelf *shelf,
                                   const char *path) {
    struct compilation c = {.path = path, .diags.arena = arena};
    c.document = variant_take(shelf, arena, path, &c.diags, &c.failure);
    return compiled(arena, c);
}

static void add_source(struct arena *arena, struct compilation *c, const struct source *source) {
    c->document.sources[c->document.source_count++] = source;
    c->document.root = tree_read(arena, source, &c->diags);
}

struct compilation compile_own(struct arena *arena, const char *path) {
    struct compilation c = {.path = path, .diags.arena = arena};
    const struct source *source = source_read(arena, path, &c.diags, &c.failure);
    if (source) add_source(arena, &c, source);
    c.partial = c.document.root && variant_base(c.document.root);
    return compiled(arena, c);
}

struct compilation compile_text(struct arena *arena, const char *name, struct str bytes) {
    struct compilation c = {.path = name, .diags.arena = arena};
    add_source(arena, &c, source_of(arena, name, bytes, &c.diags));
    return compiled(arena, c);
}

bool compilation_failed(const struct compilation *c) {
    return c->failure || c->diags.errors > 0;
}
