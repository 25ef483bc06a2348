/* A version is compiled from memory, with every base of its chain at the same commit, by the rules
 * that hold for any other recipe.
 */
#include "command/history.h"

#include <string.h>
#include <unistd.h>

#include "system/path.h"

/* The files of one commit. */
struct commit_shelf {
    struct shelf shelf; /* the first, so that fetch finds the rest */
    const struct git *git;
    const char *commit;
};

static bool fetch(const struct shelf *shelf, struct arena *arena, const char *path,
                  struct str *bytes, const char **reason) {
    const struct commit_shelf *own = (const struct commit_shelf *)shelf;
    struct git git = *own->git;
    git.arena = arena;
    *reason = "it was not there, or is no recipe";
    return git_blob(&git, own->commit, path, SOURCE_MAX_BYTES, bytes);
}

/* --- versions -------------------------------------------------------------------------------- */

const char *history_failure(const struct compilation *c) {
    if (c->failure) return c->failure;
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
    v->failure = keep(arena, history_failure(c));
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
    const struct running_result *running = &r->running;
    const struct band *depth =
        &running->speeds[running->middle_speed].depth[running->middle_out].band;
    v->runs = depth->given;
    v->depth = depth->median;
    v->priced = r->supply.priced;
    v->cost = r->supply.cost;
}

static struct commit_shelf shelf_of(const struct history *h, int index) {
    return (struct commit_shelf){{fetch}, &h->git, h->log.commits[index].id};
}

static const char *path_then(const struct history *h, int index, struct arena *arena) {
    const char *path = h->log.commits[index].path;
    return path ? path : path_join(arena, h->prefix, path_name(h->real));
}

struct document history_document(const struct history *h, int index, struct arena *arena,
                                 struct diags *diags, const char **failure) {
    struct commit_shelf shelf = shelf_of(h, index);
    return variant_take(&shelf.shelf, arena, path_then(h, index, arena), diags, failure);
}

struct compilation history_version(const struct history *h, int index, struct arena *arena) {
    struct commit_shelf shelf = shelf_of(h, index);
    return compile_shelved(arena, &shelf.shelf, path_then(h, index, arena));
}

/* One commit's version in an arena of its own; its digest, "" where the file was not there. */
static const char *read_version(const struct history *h, int index, struct difference_version *v) {
    struct arena own = {0};
    const struct git_commit *commit = &h->log.commits[index];
    struct compilation c = history_version(h, index, &own);
    v->id = commit->id;
    v->date = commit->date;
    v->subject = commit->subject;
    tell(h->arena, &c, v);
    const char *digest = keep(h->arena, variant_digest(&own, &c.document));
    arena_free(&own);
    return digest;
}

/* A variant's bases may be older than it is: what came before its own first commit is no version of
 * it. */
static bool begin_with_itself(const struct history *h, struct git_log *log) {
    struct git_log own;
    const char *file = h->real;
    if (!git_log(&h->git, &file, 1, HISTORY_COMMITS, &own)) return false;
    if (!own.count) return true;
    const char *first = own.commits[own.count - 1].id;
    for (int i = 0; i < log->count; i++)
        if (strcmp(log->commits[i].id, first) == 0) log->count = i + 1;
    return true;
}

/* The recipe's own file and, of a variant, its bases: a base's change is a change of the variant.
 */
static bool read_log(struct history *h, const struct compilation *now) {
    const char *files[VARIANT_MAX_SOURCES] = {h->real};
    int count = now->document.source_count;
    for (int i = 1; i < count; i++) {
        files[i] = path_real(h->arena, now->document.sources[i]->file.name);
        if (!files[i]) return false;
    }
    if (!git_log(&h->git, files, count > 1 ? count : 1, HISTORY_COMMITS, &h->log)) return false;
    return count <= 1 || begin_with_itself(h, &h->log);
}

static void read_versions(const struct history *h, const struct compilation *now,
                          struct difference_history *history) {
    int shown = h->log.count < HISTORY_VERSIONS ? h->log.count : HISTORY_VERSIONS;
    struct difference_version *versions = NEW(h->arena, struct difference_version, shown + 1);
    const char *newest = "";
    for (int i = 0; i < shown; i++) {
        struct difference_version *v = &versions[shown - 1 - i];
        const char *digest = read_version(h, i, v);
        v->number = h->log.count - i;
        if (i == 0) newest = digest;
    }
    history->versions = versions;
    history->count = shown;
    history->omitted = h->log.count - shown;
    if (strcmp(newest, variant_digest(h->arena, &now->document)) == 0) return;
    struct difference_version *v = &versions[history->count++];
    *v = (struct difference_version){
        .number = h->log.count + 1, .id = "", .date = "", .subject = ""};
    tell(h->arena, now, v);
}

const char *history_open(struct arena *arena, const struct compilation *now,
                         struct history *history) {
    struct history *h = history;
    const char *path = now->path;
    *h = (struct history){.arena = arena, .real = path_real(arena, path)};
    if (!h->real) return arena_printf(arena, "%s: only a file has a history", path);
    h->git = git_in(arena, path_folder(arena, h->real));
    if (!h->git.program)
        return "cannot read the history: git is not in PATH (it is in the Debian package git)";
    if (!git_prefix(&h->git, &h->prefix)) {
        const char *refusal = git_refusal(&h->git);
        if (refusal) return arena_printf(arena, "%s: git does not read it:\n%s", path, refusal);
        return arena_printf(arena, "%s: not in the working tree of a git repository", path);
    }
    if (!read_log(h, now) || !h->log.count)
        return arena_printf(arena, "%s: git knows no commit of this file", path);
    return NULL;
}

const char *history_read(struct arena *arena, const char *path,
                         struct difference_history *history) {
    struct history h;
    struct compilation now = compile_recipe(arena, path);
    const char *failure = now.failure ? now.failure : history_open(arena, &now, &h);
    if (failure) return failure;
    bool known = now.recipe && !now.diags.errors;
    struct str currency = known ? now.recipe->currency : (struct str){"", 0};
    history->file = path;
    history->units = known ? now.recipe->shop->units : UNITS_METRIC;
    history->currency = arena_copy(arena, currency.data ? currency.data : "", currency.size);
    read_versions(&h, &now, history);
    return NULL;
}

/* --- one version ------------------------------------------------------------------------------ */

bool history_is_version(const char *name) {
    const char *colon = strchr(name, ':');
    return colon && colon > name && colon[1] && access(name, F_OK) != 0;
}

static struct compilation no_version(const char *name, const char *failure) {
    return (struct compilation){.path = name, .failure = failure};
}

struct compilation history_compile(struct arena *arena, const char *name) {
    const char *colon = strchr(name, ':'), *path = colon + 1, *prefix, *id;
    struct git git = git_in(arena, ".");
    if (!git.program)
        return no_version(name, arena_printf(arena,
                                             "%s: git is not in PATH (it is in the Debian package "
                                             "git)",
                                             name));
    if (!git_prefix(&git, &prefix)) {
        const char *refusal = git_refusal(&git);
        return no_version(name,
                          arena_printf(arena, "%s: %s%s", name,
                                       refusal ? "git does not read it:\n"
                                               : "not in the working tree of a git repository",
                                       refusal ? refusal : ""));
    }
    if (!git_commit_id(&git, arena_copy(arena, name, (size_t)(colon - name)), &id))
        return no_version(name, arena_printf(arena, "%s: git knows no such version", name));
    if (strncmp(path, "./", 2) == 0) path = path_join(arena, prefix, path + 2);
    struct commit_shelf shelf = {{fetch}, &git, id};
    struct compilation c = compile_shelved(arena, &shelf.shelf, path);
    if (c.failure) c.failure = arena_printf(arena, "%s: %s", name, c.failure);
    c.path = name;
    return c;
}
