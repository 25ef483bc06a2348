/* A recipe as facts: every value that it gives, or that its defaults give, by path and in one
 * canonical form.
 *
 * Two recipes of the same design give the same facts however they are written: quantities stand in
 * the first unit of their dimension (grammar/units.def) with fixed decimals, places along the body
 * as lengths, choices by their words, and a default is a fact like any other.  What is walked are
 * the rows of the grammar, so a new row appears by itself.
 */
#ifndef PLUGWRIGHT_WALK_H
#define PLUGWRIGHT_WALK_H

#include "base/arena.h"
#include "model/grammar.h"
#include "model/implied.h"

struct walk {
    struct arena *arena;
    const struct recipe *recipe;
    const struct diags *diags; /* values with an error are left out; NULL: none has one */
    struct implied_list implied;
    bool own; /* only what was written */
};

struct walk_fact {
    const char *path; /* from where the walk began: "finish.paint.layers[white ground].coats" */
    const char *text;
    double number; /* in the unit that `text` has; NAN where it is no number */
    bool written;  /* not by default */
    const struct field *field;
    const void *object; /* that has the field's member */
};

struct walk_facts {
    struct walk_fact *items;
    int count;
    size_t capacity;
};

struct walk_items {
    const char *first;
    size_t size;
    int count;
};

/* The fact of one leaf, its path being its key; false where nothing is given. */
bool walk_leaf(const struct walk *walk, enum part_id part, const struct field *field,
               const void *object, struct walk_fact *fact);

/* The part of a SUB field, or NULL; the items of a LIST field. */
const void *walk_sub(const struct field *field, const void *object);
struct walk_items walk_items(const struct field *field, const void *object);

/* What tells an item of a list from its neighbours: its first leaf that is given.  False where
 * there is none. */
bool walk_name(const struct walk *walk, enum part_id part, const void *item,
               struct walk_fact *name);

/* All facts of a part with what it holds, in the order of the rows.  Nothing of `base`, which is a
 * way of writing. */
struct walk_facts walk_part(const struct walk *walk, enum part_id part, const void *object);

/* Those of the recipe, sorted by path, byte by byte; every path stands once. */
struct walk_facts walk_recipe(const struct walk *walk);

/* The text of the recipe on one line, so that no two texts read alike: what cannot be shown, and a
 * backslash, are escaped. */
const char *walk_plain(struct arena *arena, struct str text);

#endif
