/* A row of the workshop is copied, less what only the workshop has (its name, its note), and less
 * the count and spread of a figure that the recipe gives itself; then the two mappings are merged.
 */
#include "model/supplied.h"

#include "model/grammar.h"
#include "model/workshop.h"
#include "read/merge.h"

struct supplier {
    struct merge merge;
    const struct node *workshop;
};

/* Where the named rows of a list go. */
struct use {
    const char *list;   /* of the workshop */
    const char *name;   /* the key by which a row is called in the list, */
    const char *named;  /* and in the recipe */
    enum part_id part;  /* of the recipe that takes from it */
    const char *figure; /* what was weighed, and `weighed` and `spread` are of */
    bool size;          /* the name is a size: what stands round it on packets is no part of it */
    bool kind;          /* of hooks: the kind belongs to the name */
};

static const struct use hook_use = {"hooks", "size", "size", PART_hook, "mass", true, true};
static const struct use ring_use = {"rings", "size", "size", PART_ring, "mass", true, false};
static const struct use seal_use = {"sealers", "name", "name", PART_seal, "uptake", false, false};
static const struct use layer_use = {"paints", "name", "colour", PART_layer, "film", false, false};
static const struct use topcoat_use = {"topcoats", "name", "name", PART_topcoat,
                                       "film",     false,  false};

static struct node *child_of(const struct node *node, const char *key, enum node_kind kind) {
    struct node *child = node && node->kind == NODE_MAPPING ? tree_find(node, key) : NULL;
    return child && child->kind == kind ? child : NULL;
}

static struct str name_of(const struct node *node, const char *key, const struct use *use) {
    const struct node *name = child_of(node, key, NODE_SCALAR);
    struct str text = name ? name->text : (struct str){"", 0};
    if (use->size) workshop_plain_size(&text);
    return text;
}

/* The kind of hook that is meant, the first where none is said. */
static struct str kind_of(const struct node *node) {
    const struct field *field = grammar_field(&grammar_parts[PART_hook], str_of("kind"));
    const struct node *kind = child_of(node, field->key, NODE_SCALAR);
    return kind ? kind->text : str_of(field->fallback);
}

static const struct node *row_for(const struct supplier *s, const struct use *use,
                                  const struct node *own) {
    const struct node *list = child_of(s->workshop, use->list, NODE_SEQUENCE);
    struct str wanted = name_of(own, use->named, use);
    for (const struct node *row = list && wanted.size ? list->first : NULL; row; row = row->next)
        if (str_equal(name_of(row, use->name, use), wanted) &&
            (!use->kind || str_equal(kind_of(row), kind_of(own))))
            return row;
    return NULL;
}

static bool is_of_figure(struct str key) {
    return str_is(key, "weighed") || str_is(key, "spread");
}

/* Whether the recipe takes this key of a row. */
static bool takes(const struct use *use, const struct node *own, struct str key) {
    if (str_is(key, use->name) || !grammar_field(&grammar_parts[use->part], key)) return false;
    return !is_of_figure(key) || !tree_find(own, use->figure);
}

/* A mapping of copies of those children that `keep` tells. */
static struct node *taken(const struct supplier *s, const struct use *use, const struct node *row,
                          const struct node *own) {
    struct node *copy = NEW(s->merge.arena, struct node, 1), **last = &copy->first;
    *copy = (struct node){.kind = NODE_MAPPING, .at = row->at};
    for (const struct node *child = row->first; child; child = child->next) {
        if (child->kind == NODE_EMPTY || !takes(use, own, child->key)) continue;
        *last = tree_copy(s->merge.arena, child);
        last = &(*last)->next;
        copy->count++;
    }
    return copy;
}

static void supply(const struct supplier *s, const struct use *use, struct node *own) {
    if (!own || own->kind != NODE_MAPPING) return;
    const struct node *row = row_for(s, use, own);
    if (row) merge_trees(&s->merge, taken(s, use, row, own), own);
}

static void supply_hardware(const struct supplier *s, const struct node *root) {
    const struct node *hardware = child_of(root, "hardware", NODE_MAPPING);
    const struct node *hangers = child_of(hardware, "hangers", NODE_SEQUENCE);
    for (struct node *hanger = hangers ? hangers->first : NULL; hanger; hanger = hanger->next) {
        supply(s, &hook_use, child_of(hanger, "hook", NODE_MAPPING));
        supply(s, &ring_use, child_of(hanger, "ring", NODE_MAPPING));
    }
}

static void supply_finish(const struct supplier *s, const struct node *root) {
    const struct node *finish = child_of(root, "finish", NODE_MAPPING);
    const struct node *paint = child_of(finish, "paint", NODE_MAPPING);
    const struct node *layers = child_of(paint, "layers", NODE_SEQUENCE);
    supply(s, &seal_use, child_of(finish, "seal", NODE_MAPPING));
    for (struct node *layer = layers ? layers->first : NULL; layer; layer = layer->next)
        supply(s, &layer_use, layer);
    supply(s, &topcoat_use, child_of(finish, "topcoat", NODE_MAPPING));
}

/* What both files have under the same key. */
static struct node *shared(const struct supplier *s) {
    static const char *const keys[] = {"currency", "prices", "shop"};
    struct node *copy = NEW(s->merge.arena, struct node, 1), **last = &copy->first;
    *copy = (struct node){.kind = NODE_MAPPING, .at = s->workshop->at};
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++) {
        const struct node *child = tree_find(s->workshop, keys[i]);
        if (!child || child->kind == NODE_EMPTY) continue;
        *last = tree_copy(s->merge.arena, child);
        last = &(*last)->next;
        copy->count++;
    }
    return copy;
}

struct node *supplied_by(struct arena *arena, const struct node *workshop, struct node *recipe,
                         struct diags *diags) {
    const struct supplier s = {{arena, diags, "the workshop"}, workshop};
    supply_hardware(&s, recipe);
    supply_finish(&s, recipe);
    return merge_trees(&s.merge, shared(&s), recipe);
}
