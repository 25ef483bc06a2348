/* A version is compiled from memory, with every base of its chain at the same commit, by the rules
 * that hold for any other recipe.
 */
#include "command/history.h"

#include <string.h>
#include <unistd.h>

#include "compile.h"
#include "system/git.h"
#include "system/path.h"

struct reader {
    struct arena *arena;
    struct git git;
    const char *real;   /* path of the recipe */
    const char *prefix; /* of its folder from the top of the repository */
};

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

static const char *first_failure(const struct compilation *c) {
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
    const struct running_result *running = &r->running;
    const struct band *depth =
        &running->speeds[running->middle_speed].depth[running->middle_out].band;
    v->runs = depth->given;
    v->depth = depth->median;
    v->priced = r->supply.priced;
    v->cost = r->supply.cost;
}

/* One commit's version in an arena of its own; its digest, "" where the file was not there. */
static const char *read_version(const struct reader *reader, const struct git_commit *commit,
                                struct difference_version *v) {
    struct arena own = {0};
    struct commit_shelf shelf = {{fetch}, &reader->git, commit->id};
    const char *path = commit->path;
    if (!path) path = path_join(&own, reader->prefix, path_name(reader->real));
    struct compilation c = compile_shelved(&own, &shelf.shelf, path);
    v->id = commit->id;
    v->date = commit->date;
    v->subject = commit->subject;
    tell(reader->arena, &c, v);
    const char *digest = keep(reader->arena, variant_digest(&own, &c.document));
    arena_free(&own);
    return digest;
}

/* A variant's bases may be older than it is: what came before its own first commit is no version of
 * it. */
static bool begin_with_itself(const struct reader *reader, struct git_log *log) {
    struct git_log own;
    const char *file = reader->real;
    if (!git_log(&reader->git, &file, 1, HISTORY_COMMITS, &own)) return false;
    if (!own.count) return true;
    const char *first = own.commits[own.count - 1].id;
    for (int i = 0; i < log->count; i++)
        if (strcmp(log->commits[i].id, first) == 0) log->count = i + 1;
    return true;
}

/* The recipe's own file and, of a variant, its bases: a base's change is a change of the variant.
 */
static bool read_log(const struct reader *reader, const struct compilation *now,
                     struct git_log *log) {
    const char *files[VARIANT_MAX_SOURCES] = {reader->real};
    int count = now->document.source_count;
    for (int i = 1; i < count; i++) {
        files[i] = path_real(reader->arena, now->document.sources[i]->file.name);
        if (!files[i]) return false;
    }
    if (!git_log(&reader->git, files, count > 1 ? count : 1, HISTORY_COMMITS, log)) return false;
    return count <= 1 || begin_with_itself(reader, log);
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
    if (strcmp(newest, variant_digest(reader->arena, &now->document)) == 0) return;
    struct difference_version *v = &versions[history->count++];
    *v = (struct difference_version){.number = log->count + 1, .id = "", .date = "", .subject = ""};
    tell(reader->arena, now, v);
}

const char *history_read(struct arena *arena, const char *path,
                         struct difference_history *history) {
    struct reader reader = {.arena = arena};
    struct git_log log;
    struct compilation now = compile_recipe(arena, path);
    if (now.failure) return now.failure;
    reader.real = path_real(arena, path);
    if (!reader.real) return arena_printf(arena, "%s: only a file has a history", path);
    reader.git = git_in(arena, path_folder(arena, reader.real));
    if (!reader.git.program)
        return "cannot read the history: git is not in PATH (it is in the Debian package git)";
    if (!git_prefix(&reader.git, &reader.prefix)) {
        const char *refusal = git_refusal(&reader.git);
        if (refusal) return arena_printf(arena, "%s: git does not read it:\n%s", path, refusal);
        return arena_printf(arena, "%s: not in the working tree of a git repository", path);
    }
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
