/* libyaml events to nodes with places.  The only module that knows libyaml.
 *
 * Every scalar stays text: the field that reads it decides what it means.  What the language does
 * not have (anchors, aliases, merge keys, tags, a second document, duplicate keys) is a diagnostic
 * here, after which reading goes on.  Depth and node count are bounded, since libyaml takes
 * quadratic time on deep nesting.
 */
#ifndef PLUGWRIGHT_TREE_H
#define PLUGWRIGHT_TREE_H

#include <stdbool.h>

#include "base/arena.h"
#include "base/diag.h"
#include "read/source.h"

/* Mappings and lists within each other, the document's own mapping being the first; and values,
 * mappings and lists in all (keys are not counted). */
enum { TREE_MAX_DEPTH = 16, TREE_MAX_NODES = 10000 };

enum node_kind {
    NODE_SCALAR,
    NODE_EMPTY, /* an unquoted empty value, `~` or `null`; `at` is where a value would stand, which
                 * is the `#` if a comment stands there */
    NODE_MAPPING,
    NODE_SEQUENCE,
    NODE_FAULTY, /* given, but a diagnostic has said already what is wrong with it (an alias) */
};

struct node {
    enum node_kind kind;
    struct span at;  /* of the scalar; of the first token of a mapping or sequence */
    struct str text; /* scalars: their text, escapes and folding undone */
    bool quoted;     /* scalars: written in quotes or as a block */
    struct str tail; /* scalars without quotes: the comment right behind, if it looks like a part of
                      * them: one blank before the #, or a word up against it */
    struct str key;  /* children of a mapping: their key, and its place */
    struct span key_at;
    struct node *first; /* children, in the order of writing (merged mappings: see variant.h) */
    struct node *next;
    int count; /* number of children */
};

/* Reads one document.  Returns its root mapping, or NULL after a diagnostic from which nothing
 * useful can follow (unreadable source, syntax error, no mapping at the top, too deep, too large).
 * Of keys that are given twice the first stands in the tree. */
struct node *tree_read(struct arena *arena, const struct source *source, struct diags *diags);

/* The child of a mapping with this key, or NULL. */
struct node *tree_find(const struct node *mapping, const char *key);

/* The same with all that it holds; its place among others is left behind. */
struct node *tree_copy(struct arena *arena, const struct node *node);

/* The comment that stands where an empty value would be written, `#FFD21E`, up to its first blank;
 * or an empty text. */
struct str tree_comment(const struct node *node);

#endif
