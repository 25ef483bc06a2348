/* A version without a base is compiled from memory.  One with a base is laid out in a temporary
 * folder as it stood in the repository, with every base of its chain at the same commit, so that
 * the rules for bases are those of any other recipe.
 */
#define _XOPEN_SOURCE 700 /* realpath, mkdtemp */

#include "history.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "compile.h"
#include "system/git.h"
#include "system/publish.h"
#include "read/source.h"
#include "read/tree.h"
#include "system/tool.h"

struct reader {
    struct arena *arena;
    struct git git;
    const char *path, *real; /* as the user named it, and its real path */
    const char *prefix;      /* of its folder from the top of the repository */
};

/* --- laying out a variant -------------------------------------------------------------------- */

static const char *folder_of(struct arena *arena, const char *path) {
    const char *slash = strrchr(path, '/');
    return slash ? arena_copy(arena, path, (size_t)(slash - path)) : "";
}

static const char *name_of(const char *path) {
    const char *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

/* `name` from `folder`, both from the top, without "." and ".."; NULL where it leads out. */
static const char *resolved(struct arena *arena, const char *folder, const char *name) {
    const char *rest = arena_printf(arena, "%s/%s", folder, name);
    const char *path = "";
    if (*name == '/') return NULL;
    while (*rest) {
        size_t size = strcspn(rest, "/");
        bool up = size == 2 && memcmp(rest, "..", 2) == 0;
        bool stay = size == 0 || (size == 1 && *rest == '.');
        if (up && !*path) return NULL;
        if (up)
            path = folder_of(arena, path);
        else if (!stay)
            path = arena_printf(arena, "%s%s%.*s", path, *path ? "/" : "", (int)size, rest);
        rest += size + (rest[size] == '/');
    }
    return path;
}

/* Writes a file below `top` with the folders that it needs. */
static bool lay_out(struct arena *arena, const char *top, const char *path, struct str bytes) {
    const char *whole = arena_printf(arena, "%s/%s", top, path);
    char *folder = arena_copy(arena, whole, strlen(whole));
    for (char *c = folder + strlen(top) + 1; *c; c++) {
        if (*c != '/') continue;
        *c = '\0';
        if (mkdir(folder, 0700) && errno != EEXIST) return false;
        *c = '/';
    }
    int file = open(whole, O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0600);
    if (file < 0) return false;
    bool written = publish_bytes(file, bytes);
    return close(file) == 0 && written;
}

/* The name of the base, or NULL. */
static const char *base_in(struct arena *arena, struct str bytes) {
    struct diags diags = {.arena = arena};
    const struct source *source = source_of(arena, "", bytes, &diags);
    const struct node *root = tree_read(arena, source, &diags);
    const struct node *base = root ? tree_find(root, "base") : NULL;
    if (!base || base->kind != NODE_SCALAR || !base->text.size || str_is(base->text, "none"))
        return NULL;
    return arena_copy(arena, base->text.data, base->text.size);
}

/* The recipe and its bases; what is missing is for the compiler to tell. */
static void lay_out_chain(const struct git *git, const char *top, const char *commit,
                          const char *path, struct str bytes) {
    for (int level = 0; level <= VARIANT_MAX_DEPTH; level++) {
        if (!lay_out(git->arena, top, path, bytes)) return;
        const char *base = base_in(git->arena, bytes);
        if (!base) return;
        path = resolved(git->arena, folder_of(git->arena, path), base);
        if (!path || !git_blob(git, commit, path, SOURCE_MAX_BYTES, &bytes)) return;
    }
}

static struct compilation compile_variant(const struct git *git, const char *commit,
                                          const char *path, struct str bytes) {
    const char *tmp = getenv("TMPDIR");
    char *top = arena_printf(git->arena, "%s/plugwright-XXXXXX", tmp && *tmp == '/' ? tmp : "/tmp");
    if (!mkdtemp(top))
        return (struct compilation){
            .failure = arena_printf(git->arena, "cannot make %s: %s", top, strerror(errno))};
    if (mkdir(arena_printf(git->arena, "%s/.git", top), 0700) ==
        0) /* the tree that bases stay in */
        lay_out_chain(git, top, commit, path, bytes);
    struct compilation c = compile_recipe(git->arena, arena_printf(git->arena, "%s/%s", top, path));
    tool_remove_folder(top);
    return c;
}

/* --- versions -------------------------------------------------------------------------------- */

static const char *first_failure(const struct compilation *c) {
    if (c->failure) return "it cannot be read";
    for (int i = 0; i < c->diags.count; i++)
        if (c->diags.items[i].severity == SEVERITY_ERROR) return c->diags.items[i].message;
    return NULL;
}

static const char *keep(struct arena *arena, const char *text) {
    return text ? arena_copy(arena, text, strlen(text)) : NULL;
}

/* What is shown of a version; nothing of it points into the compilation. */
static void tell(struct arena *arena, const struct compilation *c, struct difference_version *v) {
    const struct results *r = &c->results;
    v->failure = keep(arena, first_failure(c));
    v->note = c->recipe ? arena_copy(arena, c->recipe->note.data ? c->recipe->note.data : "",
                                     c->recipe->note.size)
                        : "";
    if (v->failure) return;
    v->state = r->finished.state;
    v->mass = r->finished.burden.mass;
    v->reserve = r->finished.rest.reserve;
    v->attitude = r->finished.rest.attitude;
    v->gm = r->finished.rest.gm;
    v->ballast = r->finished.ballast_mass;
    v->hands_on = (double)r->run.hands_on;
    v->priced = r->supply.priced;
    v->cost = r->supply.cost;
}

static const char *digest_of(struct arena *arena, const struct document *document) {
    const char *digest = "";
    for (int i = 0; i < document->source_count; i++)
        digest = arena_printf(arena, "%s%s ", digest, document->sources[i]->blob_id);
    return digest;
}

/* One commit's version in an arena of its own; its digest, "" where the file was not there. */
static const char *read_version(const struct reader *reader, const struct git_commit *commit,
                                struct difference_version *v) {
    struct arena own = {0};
    struct git git = reader->git;
    struct str bytes;
    const char *digest = "", *path = commit->path;
    git.arena = &own;
    if (!path) path = arena_printf(&own, "%s%s", reader->prefix, name_of(reader->real));
    v->id = commit->id;
    v->date = commit->date;
    v->subject = commit->subject;
    if (git_blob(&git, commit->id, path, SOURCE_MAX_BYTES, &bytes)) {
        struct compilation c = base_in(&own, bytes) ? compile_variant(&git, commit->id, path, bytes)
                                                    : compile_text(&own, reader->path, bytes);
        tell(reader->arena, &c, v);
        digest = keep(reader->arena, digest_of(&own, &c.document));
    } else {
        v->failure = "it was not there, or is no recipe";
        v->note = "";
    }
    arena_free(&own);
    return digest;
}

static const char *real_path(struct arena *arena, const char *path) {
    char *real = realpath(path, NULL);
    const char *copy = keep(arena, real);
    free(real);
    return copy;
}

/* The recipe's own file and, of a variant, its bases: a base's change is a change of the variant.
 */
static bool read_log(const struct reader *reader, const struct compilation *now,
                     struct git_log *log) {
    const char *files[VARIANT_MAX_DEPTH + 1] = {reader->real};
    int count = now->document.source_count;
    for (int i = 1; i < count; i++) {
        files[i] = real_path(reader->arena, now->document.sources[i]->file.name);
        if (!files[i]) return false;
    }
    return git_log(&reader->git, files, count > 1 ? count : 1, HISTORY_COMMITS, log);
}

static void read_versions(const struct reader *reader, const struct git_log *log,
                          const struct compilation *now, struct difference_history *history) {
    int shown = log->count < HISTORY_VERSIONS ? log->count : HISTORY_VERSIONS;
    struct difference_version *versions = NEW(reader->arena, struct difference_version, shown + 1);
    const char *newest = "";
    for (int i = 0; i < shown; i++) {
        struct difference_version *v = &versions[shown - 1 - i];
        const char *digest = read_version(reader, &log->commits[i], v);
        v->number = log->count - i;
        if (i == 0) newest = digest;
    }
    history->versions = versions;
    history->count = shown;
    history->omitted = log->count - shown;
    if (strcmp(newest, digest_of(reader->arena, &now->document)) == 0) return;
    struct difference_version *v = &versions[history->count++];
    *v = (struct difference_version){.number = log->count + 1, .id = "", .date = "", .subject = ""};
    tell(reader->arena, now, v);
}

const char *history_read(struct arena *arena, const char *path,
                         struct difference_history *history) {
    struct reader reader = {.arena = arena, .path = path};
    struct git_log log;
    struct compilation now = compile_recipe(arena, path);
    if (now.failure) return now.failure;
    reader.real = real_path(arena, path);
    if (!reader.real) return arena_printf(arena, "%s: only a file has a history", path);
    reader.git = git_in(arena, arena_printf(arena, "%s/", folder_of(arena, reader.real)));
    if (!reader.git.program)
        return "cannot read the history: git is not in PATH (it is in the Debian package git)";
    if (!git_prefix(&reader.git, &reader.prefix))
        return arena_printf(arena, "%s: not in the working tree of a git repository", path);
    if (!read_log(&reader, &now, &log) || !log.count)
        return arena_printf(arena, "%s: git knows no commit of this file", path);
    bool known = now.recipe && !now.diags.errors;
    struct str currency = known ? now.recipe->currency : (struct str){"", 0};
    history->file = path;
    history->units = known ? now.recipe->shop->units : UNITS_METRIC;
    history->currency = arena_copy(arena, currency.data ? currency.data : "", currency.size);
    read_versions(&reader, &log, &now, history);
    return NULL;
}
