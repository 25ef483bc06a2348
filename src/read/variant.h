/* `base:`, a recipe written as its difference from another (docs/language.md, Variants).
 *
 * Mappings merge key by key, everything else is replaced; `none` drops a mapping or list that the
 * base gives.  A merged mapping has the recipe's own keys first, then those of the base by name.
 * A base is named by a relative path, from the folder of the recipe that names it, and never leaves
 * the folder tree: that of the git repository that holds the first recipe or, without one, of its
 * folder.  Links are followed first and judged then, by real path.  Versions that git keeps lie on
 * a shelf: the same rules, without a file.
 *
 * The merged recipe may name a workshop, by the same rules from the folder of the file that says
 * so.  It is read here and merged nowhere: what a recipe takes from it, the grammar knows
 * (model/workshop.h).
 */
#ifndef PLUGWRIGHT_VARIANT_H
#define PLUGWRIGHT_VARIANT_H

#include "read/source.h"
#include "read/tree.h"

enum { VARIANT_MAX_DEPTH = 8, VARIANT_MAX_SOURCES = VARIANT_MAX_DEPTH + 2 };

/* `root` is the merged mapping, in which `base` is the recipe's own, or NULL after errors from
 * which none can follow.  `sources` are the recipe itself, then its bases, then its workshop. */
struct document {
    struct node *root;
    const struct node *workshop; /* that it names, or NULL */
    const char *missing; /* the path of a base or workshop that could not be read, or NULL */
    const struct source *sources[VARIANT_MAX_SOURCES];
    int source_count;
};

/* Reads the recipe at `path` ("-": standard input) and every base that it names.
 * If the recipe itself cannot be read, *failure is set (exit status 2) and the document is empty;
 * everything else is a diagnostic (rule `base`, at the value of `base`). */
struct document variant_read(struct arena *arena, const char *path, struct diags *diags,
                             const char **failure);

/* Recipes that do not lie in the file system; their paths count from the shelf's top, which no base
 * leaves.  `fetch` gets one file's bytes, or says in a few words why not. */
struct shelf {
    bool (*fetch)(const struct shelf *shelf, struct arena *arena, const char *path,
                  struct str *bytes, const char **reason);
};

/* The same from a shelf.  *failure is what `fetch` said of the recipe itself. */
struct document variant_take(const struct shelf *shelf, struct arena *arena, const char *path,
                             struct diags *diags, const char **failure);

/* A recipe whose text is in memory and not saved; its bases and its workshop are read as
 * ever.  `path` is where it would be saved, NULL where that is nowhere: then it can name neither.
 */
struct document variant_edited(struct arena *arena, const char *path, struct str bytes,
                               struct diags *diags);

/* Blob ids of the recipe, its bases and its workshop: `git log --find-object=ID` finds the commits.
 */
const char *variant_digest(struct arena *arena, const struct document *document);

/* The value of `base` in a recipe by itself, or NULL if none is given. */
const struct node *variant_base(const struct node *root);

/* The same of `workshop`. */
const struct node *variant_workshop(const struct node *root);

/* Whether it is no recipe but a workshop: it says `workshop: 1`, and not `recipe`. */
bool variant_is_workshop(const struct node *root);

#endif
