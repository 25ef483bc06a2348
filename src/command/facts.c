/* facts: a recipe as lines `path = value`, also one with errors, so that git can show each version.
 */
#include <string.h>

#include "command/command.h"
#include "compute/implied.h"
#include "emit/facts.h"

enum { NONES_MOST = 64 };

/* The sections that a variant drops from its base: `none` says nothing to the model. */
struct nones {
    struct arena *arena;
    struct facts_extra items[NONES_MOST];
    int count;
};

static void find_nones(struct nones *nones, const struct node *mapping, const char *prefix) {
    for (const struct node *child = mapping->first; child; child = child->next) {
        const char *key = walk_plain(nones->arena, child->key);
        const char *path = *prefix ? arena_printf(nones->arena, "%s.%s", prefix, key) : key;
        if (child->kind == NODE_MAPPING) find_nones(nones, child, path);
        if (child->kind != NODE_SCALAR || child->quoted || !str_is(child->text, "none")) continue;
        if (nones->count < NONES_MOST)
            nones->items[nones->count++] = (struct facts_extra){path, "none"};
    }
}

/* What a variant leaves to its base is not missing. */
static struct diags without_missing(struct arena *arena, const struct diags *diags) {
    struct diags kept = *diags;
    kept.items = NEW(arena, struct diag, diags->count);
    kept.count = kept.errors = 0;
    for (int i = 0; i < diags->count; i++) {
        if (strcmp(diags->items[i].rule, "missing-key") == 0) continue;
        kept.errors += diags->items[i].severity == SEVERITY_ERROR;
        kept.items[kept.count++] = diags->items[i];
    }
    return kept;
}

/* A variant by itself: no defaults, which its base may have set, and no results; or a recipe
 * without its workshop, with results where the tables have what it needs. */
static void own_facts(struct buf *out, const struct compilation *c) {
    struct nones nones = {.arena = out->arena};
    struct diags diags = without_missing(out->arena, &c->diags);
    struct walk walk = {.arena = out->arena, .recipe = c->recipe, .diags = &diags, .own = true};
    find_nones(&nones, c->document.root, "");
    const struct node *base = tree_find(c->document.root, "base");
    if (nones.count < NONES_MOST && base)
        nones.items[nones.count++] =
            (struct facts_extra){"base", walk_plain(out->arena, base->text)};
    const struct node *workshop = variant_workshop(c->document.root);
    if (nones.count < NONES_MOST && workshop)
        nones.items[nones.count++] =
            (struct facts_extra){"workshop", walk_plain(out->arena, workshop->text)};
    facts_emit(out, &walk, nones.items, nones.count, c->alone ? &c->results : NULL, &diags);
}

/* A recipe with its bases and results. */
static void whole_facts(struct buf *out, const struct compilation *c) {
    struct walk walk = {.arena = out->arena, .recipe = c->recipe, .diags = &c->diags};
    if (!c->diags.errors) walk.implied = implied_values(out->arena, &c->results);
    facts_emit(out, &walk, NULL, 0, c->diags.errors ? NULL : &c->results, &c->diags);
}

int command_facts(struct arena *arena, const struct options *options) {
    const char *path = options->files[0];
    struct compilation c = options->own ? compile_own(arena, path) : compile_recipe(arena, path);
    struct buf out = {.arena = arena};
    if (c.failure) return command_trouble(arena, "%s", c.failure);
    if (c.partial)
        own_facts(&out, &c);
    else
        whole_facts(&out, &c);
    return command_print(&out);
}
