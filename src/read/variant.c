/* Following `base` from file to file, then merging from the farthest base to the recipe.
 *
 * Whether a base may be read is judged by real path before it is opened; after that the open file
 * must still be the one that this path names, so that nobody can swap a link in between.
 */
#include "read/variant.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "system/path.h"

/* One recipe of the chain.  On a shelf a path and the real one are the same. */
struct link {
    const struct source *source;
    struct node *root;
    const char *folder; /* in which its base is looked for, as it is shown; NULL: standard input */
    const char *real;   /* its real path */
};

struct chain {
    struct arena *arena;
    struct diags *diags;
    const struct shelf *shelf; /* NULL: the file system */
    struct link links[VARIANT_MAX_DEPTH + 1];
    int count;
    const char *tree;    /* real path of the folder tree that no base leaves */
    bool repository;     /* it is a git repository's */
    const char *missing; /* a base that could not be read */
};

/* Paths */

/* The folder whose base names count from: as the user wrote it, unless the recipe is a link. */
static const char *naming_folder(struct arena *arena, const char *path, const char *real) {
    const char *written = path_folder(arena, path), *actual = path_folder(arena, real);
    const char *resolved = path_real(arena, *written ? written : ".");
    return resolved && strcmp(resolved, actual) == 0 ? written : actual;
}

/* Finds the folder tree of the first recipe: up to where `.git` lies, or else its own folder. */
static void find_tree(struct chain *chain, const char *real) {
    struct stat status;
    const char *own = path_folder(chain->arena, real), *folder = own;
    while (true) {
        chain->tree = folder;
        chain->repository = stat(path_join(chain->arena, folder, ".git"), &status) == 0;
        if (chain->repository || strcmp(folder, "/") == 0) break;
        folder = path_folder(chain->arena, folder);
    }
    if (!chain->repository) chain->tree = own;
}

/* Judging a base */

static void refuse(struct chain *chain, const struct node *name, const char *hint,
                   const char *message) {
    diag_add(chain->diags, SEVERITY_ERROR, name->at, "base", hint, "%s", message);
}

static void refuse_file(struct chain *chain, const struct node *name, const char *path,
                        const char *reason) {
    chain->missing = path;
    diag_add(chain->diags, SEVERITY_ERROR, name->at, "base", NULL, "cannot read the base %s: %s",
             diag_quote(chain->arena, name->text), reason);
}

/* Whether the recipe names a base in a form that can be followed. */
static bool check_name(struct chain *chain, const struct link *link, const struct node *name) {
    if (name->kind == NODE_FAULTY) return false;
    if (name->kind != NODE_SCALAR || name->text.size == 0)
        refuse(chain, name, "such as base: heron.yaml", "a base is the name of another recipe");
    else if (!link->folder)
        refuse(chain, name, "give the recipe as a file",
               "a recipe from a pipe has no folder, so it can have no base");
    else if (name->text.data[0] == '/')
        refuse(chain, name, "name it from the folder of this recipe, such as base: heron.yaml",
               "a base is not named by an absolute path");
    else if (chain->count > VARIANT_MAX_DEPTH)
        diag_add(chain->diags, SEVERITY_ERROR, name->at, "base", NULL,
                 "a base may have a base, but not more than %d levels", VARIANT_MAX_DEPTH);
    else
        return true;
    return false;
}

/* The file that a base is, as it is shown and by its real path; refused where it leads out. */
static bool find_base(struct chain *chain, const struct link *link, const struct node *name,
                      const char **path, const char **real) {
    struct arena *arena = chain->arena;
    const char *file = arena_copy(arena, name->text.data, name->text.size);
    bool inside;
    if (chain->shelf) {
        *path = *real = path_within(arena, link->folder, file);
        inside = *real != NULL;
    } else {
        *path = path_join(arena, link->folder, file);
        *real = path_real(arena, *path);
        if (!*real) {
            refuse_file(chain, name, *path, strerror(errno));
            return false;
        }
        inside = path_is_below(*real, chain->tree) &&
                 !path_is_below(*real, path_join(arena, chain->tree, ".git"));
    }
    if (inside) return true;
    refuse(chain, name,
           chain->repository ? "a base lies in the git repository of the recipe"
                             : "a base lies in the folder of the recipe or below it",
           "the base leads out of the folder tree of the recipe");
    return false;
}

static bool check_loop(struct chain *chain, const struct node *name, const char *real) {
    for (int i = 0; i < chain->count; i++) {
        if (strcmp(chain->links[i].real, real) != 0) continue;
        refuse(chain, name, "follow base from file to file, and remove one",
               "the base leads back to a recipe that is built on this one");
        return false;
    }
    return true;
}

/* Opens the file at a judged path, or returns -1 with a reason. */
static int open_judged(struct arena *arena, const char *real, const char **reason) {
    struct stat named, opened;
    *reason = "it is not a file";
    if (lstat(real, &named) != 0 || !S_ISREG(named.st_mode)) return -1;
    int fd = open(real, O_RDONLY | O_CLOEXEC | O_NOCTTY | O_NOFOLLOW | O_NONBLOCK);
    if (fd < 0) {
        *reason = strerror(errno);
        return -1;
    }
    const char *again = path_real(arena, real);
    bool same = again && strcmp(again, real) == 0 && lstat(real, &named) == 0 &&
                fstat(fd, &opened) == 0 && S_ISREG(opened.st_mode) &&
                named.st_dev == opened.st_dev && named.st_ino == opened.st_ino;
    if (same) return fd;
    *reason = "it changed while it was read";
    close(fd);
    return -1;
}

/* Following */

static const struct source *take(struct chain *chain, const char *path, const char **reason) {
    struct str bytes;
    if (!chain->shelf->fetch(chain->shelf, chain->arena, path, &bytes, reason)) return NULL;
    return source_of(chain->arena, path, bytes, chain->diags);
}

static const struct source *read_base(struct chain *chain, const char *path, const char *real,
                                      const char **reason) {
    if (chain->shelf) return take(chain, path, reason);
    int fd = open_judged(chain->arena, real, reason);
    if (fd < 0) return NULL;
    const struct source *source = source_read_open(chain->arena, path, fd, chain->diags, reason);
    close(fd);
    return source;
}

/* Puts a recipe that was read at the end of the chain.  Whether it can be followed from there.
 * Without a real path it came through a pipe, and has no folder. */
static bool add_link(struct chain *chain, const struct source *source, const char *path,
                     const char *real) {
    struct link *link = &chain->links[chain->count++];
    *link = (struct link){.source = source, .real = real ? real : ""};
    if (chain->shelf)
        link->folder = path_folder(chain->arena, path);
    else if (real)
        link->folder = naming_folder(chain->arena, path, real);
    link->root = tree_read(chain->arena, source, chain->diags);
    return link->root != NULL;
}

/* Reads the base that the last recipe of the chain names.  Whether that went well. */
static bool follow(struct chain *chain, const struct node *name) {
    const struct link *link = &chain->links[chain->count - 1];
    const char *path, *real, *reason = NULL;
    if (!check_name(chain, link, name) || !find_base(chain, link, name, &path, &real) ||
        !check_loop(chain, name, real))
        return false;
    const struct source *source = read_base(chain, path, real, &reason);
    if (source) return add_link(chain, source, path, real);
    refuse_file(chain, name, path, reason);
    return false;
}

static bool start(struct chain *chain, const char *path, const char **failure) {
    const struct source *source = source_read(chain->arena, path, chain->diags, failure);
    if (!source) return false;
    const char *real = strcmp(path, "-") == 0 ? NULL : path_real(chain->arena, path);
    if (real) find_tree(chain, real);
    return add_link(chain, source, path, real);
}

const struct node *variant_base(const struct node *root) {
    const struct node *name = tree_find(root, "base");
    bool given = name && name->kind != NODE_EMPTY && !str_is(name->text, "none");
    return given ? name : NULL;
}

/* Merging */

static int by_key(const void *left, const void *right) {
    const struct node *a = *(const struct node *const *)left;
    const struct node *b = *(const struct node *const *)right;
    return str_compare(a->key, b->key);
}

static bool is_section(const struct node *node) {
    return node->kind == NODE_MAPPING || node->kind == NODE_SEQUENCE;
}

/* What stands for a key that both give, or NULL if it is dropped. */
static struct node *merge_value(struct chain *chain, struct node *base, struct node *own) {
    if (own->kind == NODE_EMPTY && base->kind != NODE_EMPTY) {
        diag_add(chain->diags, SEVERITY_WARNING, own->at, "empty",
                 is_section(base) ? "`none` drops what the base gives" : NULL,
                 "%s is not given here, so what the base gives stands",
                 diag_quote(chain->arena, own->key));
        return base;
    }
    if (own->kind == NODE_SCALAR && str_is(own->text, "none") && is_section(base)) return NULL;
    return own;
}

static void append(struct node *mapping, struct node **last, struct node *child) {
    child->next = NULL;
    if (*last)
        (*last)->next = child;
    else
        mapping->first = child;
    *last = child;
    mapping->count++;
}

/* Merges a mapping over that of its base, key by key: first what it gives itself, then what is left
 * of the base, by name.  The base's own list of children is used up. */
static struct node *merge(struct chain *chain, struct node *base, struct node *own) {
    size_t count = 0;
    struct node **sorted = NEW(chain->arena, struct node *, base->count);
    bool *replaced = NEW(chain->arena, bool, base->count);
    for (struct node *child = base->first; child; child = child->next) sorted[count++] = child;
    qsort(sorted, count, sizeof *sorted, by_key);
    struct node *last = NULL, *next = own->first;
    own->first = NULL;
    own->count = 0;
    for (struct node *child = next; child; child = next) {
        next = child->next;
        struct node **found = bsearch(&child, sorted, count, sizeof *sorted, by_key);
        if (found) {
            replaced[found - sorted] = true;
            bool both = (*found)->kind == NODE_MAPPING && child->kind == NODE_MAPPING;
            child = both ? merge(chain, *found, child) : merge_value(chain, *found, child);
        }
        if (child) append(own, &last, child);
    }
    for (size_t i = 0; i < count; i++)
        if (!replaced[i]) append(own, &last, sorted[i]);
    return own;
}

/* All bases of what the chain begins with, merged; `sound`: whether it can be followed. */
static struct document finish(struct chain *chain, bool sound) {
    struct document document = {.source_count = 0};
    const struct node *name;
    while (sound && (name = variant_base(chain->links[chain->count - 1].root)))
        sound = follow(chain, name);
    for (int i = 0; i < chain->count; i++) document.sources[i] = chain->links[i].source;
    document.source_count = chain->count;
    document.missing = chain->missing;
    if (!sound) return document;
    document.root = chain->links[chain->count - 1].root;
    for (int i = chain->count - 2; i >= 0; i--)
        document.root = merge(chain, document.root, chain->links[i].root);
    return document;
}

struct document variant_read(struct arena *arena, const char *path, struct diags *diags,
                             const char **failure) {
    struct chain chain = {.arena = arena, .diags = diags};
    *failure = NULL;
    return finish(&chain, start(&chain, path, failure));
}

struct document variant_take(const struct shelf *shelf, struct arena *arena, const char *path,
                             struct diags *diags, const char **failure) {
    struct chain chain = {.arena = arena, .diags = diags, .shelf = shelf, .repository = true};
    const struct source *source = take(&chain, path, failure);
    if (!source) return (struct document){.source_count = 0};
    *failure = NULL;
    return finish(&chain, add_link(&chain, source, path, path));
}

const char *variant_digest(struct arena *arena, const struct document *document) {
    const char *digest = "";
    for (int i = 0; i < document->source_count; i++)
        digest = arena_printf(arena, "%s%s%s", digest, i ? " " : "", document->sources[i]->blob_id);
    return digest;
}
