/* Following `base` from file to file, then merging from the farthest base to the recipe; then the
 * workshop that the merged recipe names.
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

#include "read/merge.h"
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
    const char *what;          /* is being followed, and its key: base, workshop */
    struct link links[VARIANT_MAX_SOURCES];
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

/* Of two texts the one for a base, or the one for a workshop. */
static const char *word(const struct chain *chain, const char *base, const char *workshop) {
    return strcmp(chain->what, "base") == 0 ? base : workshop;
}

static void refuse(struct chain *chain, const struct node *name, const char *hint,
                   const char *message) {
    diag_add(chain->diags, SEVERITY_ERROR, name->at, chain->what, hint, "%s", message);
}

static void refuse_file(struct chain *chain, const struct node *name, const char *path,
                        const char *reason) {
    chain->missing = path;
    diag_add(chain->diags, SEVERITY_ERROR, name->at, chain->what, NULL, "cannot read the %s %s: %s",
             chain->what, diag_quote(chain->arena, name->text), reason);
}

/* Whether the recipe names a file in a form that can be followed. */
static bool check_name(struct chain *chain, const struct link *link, const struct node *name) {
    const char *example =
        word(chain, "such as base: heron.yaml", "such as workshop: workshop.yaml");
    if (name->kind == NODE_FAULTY) return false;
    if (name->kind != NODE_SCALAR || name->text.size == 0)
        refuse(chain, name, example,
               word(chain, "a base is the name of another recipe",
                    "a workshop is the name of a file"));
    else if (!link->folder)
        refuse(chain, name, "give the recipe as a file",
               word(chain, "a recipe from a pipe has no folder, so it can have no base",
                    "a recipe from a pipe has no folder, so it can have no workshop"));
    else if (name->text.data[0] == '/')
        refuse(chain, name,
               arena_printf(chain->arena, "name it from the folder of this recipe, %s", example),
               word(chain, "a base is not named by an absolute path",
                    "a workshop is not named by an absolute path"));
    else
        return true;
    return false;
}

static bool check_depth(struct chain *chain, const struct node *name) {
    if (chain->count <= VARIANT_MAX_DEPTH) return true;
    diag_add(chain->diags, SEVERITY_ERROR, name->at, "base", NULL,
             "a base may have a base, but not more than %d levels", VARIANT_MAX_DEPTH);
    return false;
}

/* The file that is named, as it is shown and by its real path; refused where it leads out. */
static bool find_file(struct chain *chain, const struct link *link, const struct node *name,
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
           arena_printf(arena,
                        chain->repository ? "a %s lies in the git repository of the recipe"
                                          : "a %s lies in the folder of the recipe or below it",
                        chain->what),
           arena_printf(arena, "the %s leads out of the folder tree of the recipe", chain->what));
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

static const struct source *read_named(struct chain *chain, const char *path, const char *real,
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

/* Puts the file that one recipe of the chain names at its end.  Whether that went well. */
static bool add_named(struct chain *chain, const struct link *link, const struct node *name) {
    const char *path, *real, *reason = NULL;
    if (!find_file(chain, link, name, &path, &real)) return false;
    if (strcmp(chain->what, "base") == 0 && !check_loop(chain, name, real)) return false;
    const struct source *source = read_named(chain, path, real, &reason);
    if (source) return add_link(chain, source, path, real);
    refuse_file(chain, name, path, reason);
    return false;
}

/* Reads the base that the last recipe of the chain names.  Whether that went well. */
static bool follow(struct chain *chain, const struct node *name) {
    const struct link *link = &chain->links[chain->count - 1];
    return check_name(chain, link, name) && check_depth(chain, name) &&
           add_named(chain, link, name);
}

static bool start(struct chain *chain, const char *path, const char **failure) {
    const struct source *source = source_read(chain->arena, path, chain->diags, failure);
    if (!source) return false;
    const char *real = strcmp(path, "-") == 0 ? NULL : path_real(chain->arena, path);
    if (real) find_tree(chain, real);
    return add_link(chain, source, path, real);
}

/* A file that is not saved yet lies where its folder does. */
static const char *real_place(struct arena *arena, const char *path) {
    const char *real = path_real(arena, path);
    if (real) return real;
    const char *folder = path_folder(arena, path);
    folder = path_real(arena, *folder ? folder : ".");
    return folder ? path_join(arena, folder, path_name(path)) : NULL;
}

static const struct node *named(const struct node *root, const char *key) {
    const struct node *name = tree_find(root, key);
    bool given = name && name->kind != NODE_EMPTY && !str_is(name->text, "none");
    return given ? name : NULL;
}

const struct node *variant_base(const struct node *root) {
    return named(root, "base");
}

const struct node *variant_workshop(const struct node *root) {
    return named(root, "workshop");
}

bool variant_is_workshop(const struct node *root) {
    const struct node *version = tree_find(root, "workshop");
    bool number = version && version->kind == NODE_SCALAR && version->text.size > 0;
    for (size_t i = 0; number && i < version->text.size; i++)
        number = version->text.data[i] >= '0' && version->text.data[i] <= '9';
    return number && !tree_find(root, "recipe");
}

/* Whose file the name was written in. */
static const struct link *link_of(const struct chain *chain, const struct node *name) {
    for (int i = 0; i < chain->count; i++)
        if (&chain->links[i].source->file == name->at.file) return &chain->links[i];
    return &chain->links[0];
}

/* Reads the workshop that the merged recipe names.  Whether that went well. */
static bool follow_workshop(struct chain *chain, const struct node *name) {
    const struct link *link = link_of(chain, name);
    chain->what = "workshop";
    if (!check_name(chain, link, name) || !add_named(chain, link, name)) return false;
    if (variant_is_workshop(chain->links[chain->count - 1].root)) return true;
    refuse(chain, name, "a workshop's file begins with workshop: 1",
           arena_printf(chain->arena, "%s is no workshop", diag_quote(chain->arena, name->text)));
    return false;
}

/* All bases of what the chain begins with, merged; `sound`: whether it can be followed. */
static struct node *merged(struct chain *chain, bool sound) {
    const struct merge merge = {chain->arena, chain->diags, "the base"};
    const struct node *name;
    while (sound && (name = variant_base(chain->links[chain->count - 1].root)))
        sound = follow(chain, name);
    if (!sound) return NULL;
    struct node *root = chain->links[chain->count - 1].root;
    for (int i = chain->count - 2; i >= 0; i--)
        root = merge_trees(&merge, root, chain->links[i].root);
    return root;
}

static struct document finish(struct chain *chain, bool sound) {
    struct document document = {.root = merged(chain, sound)};
    const struct node *name = document.root ? variant_workshop(document.root) : NULL;
    if (name && !variant_is_workshop(document.root)) {
        if (follow_workshop(chain, name))
            document.workshop = chain->links[chain->count - 1].root;
        else
            document.root = NULL;
    }
    for (int i = 0; i < chain->count; i++) document.sources[i] = chain->links[i].source;
    document.source_count = chain->count;
    document.missing = chain->missing;
    return document;
}

struct document variant_read(struct arena *arena, const char *path, struct diags *diags,
                             const char **failure) {
    struct chain chain = {.arena = arena, .diags = diags, .what = "base"};
    *failure = NULL;
    return finish(&chain, start(&chain, path, failure));
}

struct document variant_take(const struct shelf *shelf, struct arena *arena, const char *path,
                             struct diags *diags, const char **failure) {
    struct chain chain = {
        .arena = arena, .diags = diags, .shelf = shelf, .what = "base", .repository = true};
    const struct source *source = take(&chain, path, failure);
    if (!source) return (struct document){.source_count = 0};
    *failure = NULL;
    return finish(&chain, add_link(&chain, source, path, path));
}

struct document variant_edited(struct arena *arena, const char *path, struct str bytes,
                               struct diags *diags) {
    struct chain chain = {.arena = arena, .diags = diags, .what = "base"};
    const char *real = path ? real_place(arena, path) : NULL;
    const struct source *source = source_of(arena, path ? path : "-", bytes, diags);
    if (real) find_tree(&chain, real);
    return finish(&chain, add_link(&chain, source, path, real));
}

const char *variant_digest(struct arena *arena, const struct document *document) {
    const char *digest = "";
    for (int i = 0; i < document->source_count; i++)
        digest = arena_printf(arena, "%s%s%s", digest, i ? " " : "", document->sources[i]->blob_id);
    return digest;
}
