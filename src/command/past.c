#include "command/past.h"

#include <string.h>

#include "command/command.h"
#include "command/history.h"
#include "read/tree.h"

struct past_reader {
    struct arena *arena; /* lives as long as what is learned */
    struct past *past;
    const struct compilation *now;
    const struct history *history;
    const struct measured **newer; /* what counts of this recipe so far */
    int newer_count;
};

static const char *keep(struct arena *arena, const char *text) {
    return arena_copy(arena, text, strlen(text));
}

static void leave_out(struct past_reader *r, int index, const char *failure) {
    struct lesson_past *told = &r->past->told;
    const struct git_commit *commit = &r->history->log.commits[index];
    told->left_out[told->left_out_count++] =
        (struct lesson_version){r->now->path, commit->id, commit->date, keep(r->arena, failure)};
}

/* Whether a version that can be read says anything of a bench. */
static bool measures(const struct past_reader *r, int index) {
    struct arena own = {0};
    struct diags diags = {.arena = &own};
    const char *failure = NULL;
    struct document d = history_document(r->history, index, &own, &diags, &failure);
    bool read = !failure && !diags.errors && d.root;
    bool measures = !read || tree_find(d.root, "measured") != NULL;
    arena_free(&own);
    return measures;
}

/* Whether something of this version counts: then it is kept. */
static bool add_version(struct past_reader *r, int index, struct past_version *v) {
    v->c = history_version(r->history, index, &v->arena);
    const char *failure = history_failure(&v->c);
    if (failure) leave_out(r, index, failure);
    if (failure || !v->c.recipe->measured) return false;
    const struct measured *measured = v->c.recipe->measured;
    v->repeats = weighing_repeats_of(&v->arena, measured, r->newer, r->newer_count);
    if (!v->repeats.fresh) return false;
    r->newer[r->newer_count++] = measured;
    v->date = r->history->log.commits[index].date;
    *r->past->end = v;
    r->past->end = &v->next;
    r->past->count++;
    return true;
}

/* False where there are too many to learn from: none is kept beyond that. */
static bool read_versions(struct past_reader *r, int most) {
    int count = r->history->log.count;
    r->newer = NEW(r->arena, const struct measured *, count + 1);
    if (r->now->recipe->measured) r->newer[r->newer_count++] = r->now->recipe->measured;
    for (int i = 0; i < count; i++) {
        if (!measures(r, i)) continue;
        struct past_version *v = NEW(r->arena, struct past_version, 1);
        if (!add_version(r, i, v)) arena_free(&v->arena);
        if (r->past->count > most) return false;
    }
    return true;
}

const char *past_read(struct arena *arena, const struct compilation *const *recipes, int count,
                      struct past *past, int *status) {
    struct history *histories = NEW(arena, struct history, count);
    *past = (struct past){.end = &past->first};
    *status = STATUS_TROUBLE;
    for (int i = 0; i < count; i++) {
        const char *failure = history_open(arena, recipes[i], &histories[i]);
        if (failure) return failure;
        past->told.read += histories[i].log.count;
    }
    *status = STATUS_ERRORS;
    if (past->told.read > PAST_VERSIONS)
        return arena_printf(arena,
                            "these recipes have %d committed versions, and learn reads %d at most: "
                            "give it fewer recipes at a time",
                            past->told.read, PAST_VERSIONS);
    past->told.left_out = NEW(arena, struct lesson_version, past->told.read + 1);
    for (int i = 0; i < count; i++) {
        struct past_reader r = {
            .arena = arena, .past = past, .now = recipes[i], .history = &histories[i]};
        if (!read_versions(&r, LESSON_MOST_RECIPES - count))
            return arena_printf(arena,
                                "learn takes %d recipes and versions with plugs of their own at "
                                "most, and these are more: give it fewer recipes at a time",
                                LESSON_MOST_RECIPES);
    }
    past->told.count = past->count;
    *status = STATUS_FINE;
    return NULL;
}

void past_free(struct past *past) {
    for (struct past_version *v = past->first; v; v = v->next) arena_free(&v->arena);
}
