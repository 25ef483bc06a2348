/* The pipeline: read, bind, check, compute, judge.  One function from a path to everything known.
 */
#ifndef PLUGWRIGHT_COMPILE_H
#define PLUGWRIGHT_COMPILE_H

#include "base/arena.h"
#include "base/diag.h"
#include "compute/results.h"
#include "read/variant.h"

struct compilation {
    const char *path;
    const char *failure; /* the file cannot be read (exit status 2), or NULL */
    struct document document;
    const struct recipe *recipe;     /* NULL where nothing could be bound */
    const struct workshop *workshop; /* that the recipe names, or that was checked by itself */
    struct results results;          /* of use only without errors */
    enum results_extent extent;      /* of those */
    struct diags diags;
    bool hasty;   /* what hints offer is untried */
    bool partial; /* without its base or workshop: only what the recipe itself says is of use, */
    bool alone;   /* and the results, which do without the workshop */
};

/* Compiles the recipe at `path` ("-": standard input).  Everything lives in `arena`. */
struct compilation compile_recipe(struct arena *arena, const char *path);

/* The document alone, with its bases: nothing is bound. */
struct compilation compile_read(struct arena *arena, const char *path);

/* All of it as far as its diagnostics need it; the results are not for printing.  A workshop's file
 * is checked by itself, and `recipe` stays NULL. */
struct compilation compile_check(struct arena *arena, const char *path);

/* The recipe alone: a base or a workshop that it names is left unread.  Without its base nothing is
 * checked or computed; without its workshop it is where the tables have all that it needs. */
struct compilation compile_own(struct arena *arena, const char *path);

/* The recipe at `path` of a shelf. */
struct compilation compile_shelved(struct arena *arena, const struct shelf *shelf,
                                   const char *path);

/* The unsaved text of the recipe at `path` (NULL: it has none, so no base); its bases and its
 * workshop come from disk.  A workshop's own text is checked by itself.  Somebody types: what hints
 * offer is left untried, and the results are those for diagnostics. */
struct compilation compile_edited(struct arena *arena, const char *path, struct str bytes);

/* What is left of that: whether hints offer what is untried, tries it; and computes the rest of the
 * results of a recipe without errors. */
bool compilation_settled(const struct compilation *compilation);
void compile_settle(struct arena *arena, struct compilation *compilation);
void compile_complete(struct arena *arena, struct compilation *compilation);

/* A workshop's file by itself, checked. */
struct compilation compile_workshop(struct arena *arena, const char *path);

/* A recipe in memory, which has no base and no workshop. */
struct compilation compile_text(struct arena *arena, const char *name, struct str bytes);

bool compilation_failed(const struct compilation *compilation); /* unreadable, or errors */

#endif
