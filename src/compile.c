#include "compile.h"

#include "compute/aim.h"
#include "compute/judge.h"
#include "hint.h"
#include "model/bind.h"
#include "model/check.h"
#include "model/supplied.h"
#include "model/workshop.h"
#include "read/source.h"
#include "read/tree.h"

static void compute(struct arena *arena, struct compilation *c) {
    c->recipe = bind_recipe(arena, c->document.root, c->workshop, &c->diags);
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

static void take_workshop(struct arena *arena, struct compilation *c, const struct node *root) {
    c->workshop = bind_workshop(arena, root, &c->diags);
    check_workshop(arena, c->workshop, &c->diags);
}

/* A workshop where a recipe is due. */
static void refuse_workshop(struct compilation *c) {
    diag_add(&c->diags, SEVERITY_ERROR, tree_find(c->document.root, "workshop")->at, "workshop",
             "a recipe begins with recipe: 1, and may name this file by workshop",
             "this is a workshop and no recipe");
}

/* All that follows from the document that was read. */
static struct compilation compiled(struct arena *arena, struct compilation c) {
    struct document *d = &c.document;
    bool recipe = d->root && !variant_is_workshop(d->root);
    if (d->root && !recipe) refuse_workshop(&c);
    if (recipe && d->workshop) {
        take_workshop(arena, &c, d->workshop);
        d->root = supplied_by(arena, d->workshop, d->root, &c.diags);
    }
    if (recipe) compute(arena, &c);
    if (recipe && !c.partial && !c.hasty)
        hints_settle(arena, d->root, c.workshop, c.recipe, &c.diags);
    diags_sort(&c.diags);
    if (d->workshop) diags_once(&c.diags); /* its own values are read twice */
    return c;
}

/* A workshop that was read by itself. */
static struct compilation workshop_compiled(struct arena *arena, struct compilation c) {
    take_workshop(arena, &c, c.document.root);
    diags_sort(&c.diags);
    return c;
}

static struct compilation compiled_to(struct arena *arena, const char *path,
                                      enum results_extent extent) {
    struct compilation c = {.path = path, .extent = extent, .diags.arena = arena};
    c.document = variant_read(arena, path, &c.diags, &c.failure);
    bool workshop = c.document.root && variant_is_workshop(c.document.root);
    if (workshop && extent == RESULTS_FOR_DIAGNOSTICS) return workshop_compiled(arena, c);
    return compiled(arena, c);
}

struct compilation compile_read(struct arena *arena, const char *path) {
    struct compilation c = {.path = path, .diags.arena = arena};
    c.document = variant_read(arena, path, &c.diags, &c.failure);
    return c;
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

struct compilation compile_edited(struct arena *arena, const char *path, struct str bytes) {
    struct compilation c = {
        .path = path, .extent = RESULTS_FOR_DIAGNOSTICS, .hasty = true, .diags.arena = arena};
    c.document = variant_edited(arena, path, bytes, &c.diags);
    const struct node *root = c.document.root;
    return root && variant_is_workshop(root) ? workshop_compiled(arena, c) : compiled(arena, c);
}

bool compilation_settled(const struct compilation *c) {
    bool offered = false;
    for (int i = 0; i < c->diags.count; i++) offered |= c->diags.items[i].offer_count > 0;
    return !c->hasty || !offered || !c->recipe;
}

void compile_settle(struct arena *arena, struct compilation *c) {
    if (!compilation_settled(c))
        hints_settle(arena, c->document.root, c->workshop, c->recipe, &c->diags);
    c->hasty = false;
}

void compile_complete(struct arena *arena, struct compilation *c) {
    if (c->extent == RESULTS_FOR_DIAGNOSTICS) results_complete(arena, c->recipe, &c->results);
    c->extent = RESULTS_ALL;
}

static void add_source(struct arena *arena, struct compilation *c, const struct source *source) {
    c->document.sources[c->document.source_count++] = source;
    c->document.root = tree_read(arena, source, &c->diags);
}

/* Stands for a workshop that is left unread: the recipe's wood may be one of its own. */
static const struct workshop *unread_workshop(struct arena *arena, const struct node *root) {
    struct workshop *workshop = NEW(arena, struct workshop, 1);
    const struct node *wood = tree_find(root, "wood");
    bool given = wood && wood->kind == NODE_MAPPING;
    const struct node *species = given ? tree_find(wood, "species") : NULL;
    if (!species || species->kind != NODE_SCALAR) return workshop;
    workshop->woods = NEW(arena, struct own_wood, 1);
    workshop->woods[0].name = species->text;
    workshop->woods[0].row = reference_wood[0];
    workshop->own_wood_count = 1;
    return workshop;
}

struct compilation compile_own(struct arena *arena, const char *path) {
    struct compilation c = {.path = path, .diags.arena = arena};
    const struct source *source = source_read(arena, path, &c.diags, &c.failure);
    if (source) add_source(arena, &c, source);
    if (!c.document.root) return compiled(arena, c);
    bool based = variant_base(c.document.root) != NULL;
    bool supplied = variant_workshop(c.document.root) != NULL;
    if (supplied && !based && !c.diags.errors) {
        struct compilation alone = compiled(arena, c);
        alone.partial = alone.alone = true;
        if (!alone.diags.errors) return alone;
        c.diags = (struct diags){.arena = arena};
        c.document.root = tree_read(arena, source, &c.diags);
    }
    c.partial = based || supplied;
    if (supplied) c.workshop = unread_workshop(arena, c.document.root);
    return compiled(arena, c);
}

struct compilation compile_workshop(struct arena *arena, const char *path) {
    struct compilation c = {.path = path, .diags.arena = arena};
    const struct source *source = source_read(arena, path, &c.diags, &c.failure);
    if (source) add_source(arena, &c, source);
    return c.document.root ? workshop_compiled(arena, c) : c;
}

struct compilation compile_text(struct arena *arena, const char *name, struct str bytes) {
    struct compilation c = {.path = name, .diags.arena = arena};
    add_source(arena, &c, source_of(arena, name, bytes, &c.diags));
    return compiled(arena, c);
}

bool compilation_failed(const struct compilation *c) {
    return c->failure || c->diags.errors > 0;
}
