/* watch: a page that shows a recipe as it is now, renewed whenever it is saved.
 *
 * Three states are kept: the one that was read last, the last one without errors, and the one
 * before that whose design is another.  The page shows the first one's diagnostics, and of the
 * second what differs from the third.
 */
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "command/command.h"
#include "command/compare.h"
#include "command/origin.h"
#include "emit/drawing/difference.h"
#include "emit/drawing/drawing.h"
#include "emit/terminal.h"
#include "emit/view.h"
#include "system/path.h"
#include "system/renew.h"
#include "system/watch.h"

struct state {
    struct arena arena;
    struct compilation c;
    struct listing listing;
    struct str page; /* what the page shows of it, where it has no errors */
};

struct watching {
    struct arena *arena; /* lives as long as the program */
    const struct options *options;
    const char *path, *stem;
    struct file_watch watch;
    struct renewal place;
    struct state states[3];
    struct state *last, *good, *former; /* NULL: none yet */
    char shown[BLOB_ID_SIZE];           /* the state that the page shows; "": none yet */
};

/* --- states ---------------------------------------------------------------------------------- */

/* One that is none of those that are kept. */
static struct state *free_state(struct watching *w) {
    for (int i = 0; i < 3; i++)
        if (&w->states[i] != w->good && &w->states[i] != w->former) return &w->states[i];
    return NULL; /* there are three */
}

/* What the page shows of a state, beside another or alone. */
static void fill_page(struct state *state, const struct state *former,
                      const struct difference *difference) {
    struct arena *arena = &state->arena;
    struct figure_list drawn = drawing_all(arena, state->c.recipe, &state->c.results), overlays;
    struct buf out = {.arena = arena}, changes = {.arena = arena};
    struct view_good good = {.figures = &drawn, .listing = &state->listing, .changes = {"", 0}};
    if (former) {
        overlays = drawing_difference(arena, &former->c.results, &state->c.results);
        difference_page(&changes, difference);
        good.former = &former->listing;
        good.overlays = &overlays;
        good.changes = buf_whole(&changes);
    }
    view_good(&out, &good);
    state->page = buf_whole(&out);
}

/* Makes the state that was read last the good one.  One of the same design, written in another way,
 * leaves the former one what it is. */
static void take_good(struct watching *w) {
    struct state *now = w->last;
    struct difference d = {.parts = NULL};
    now->listing = terminal_listing(&now->arena, now->c.recipe, &now->c.results);
    if (w->good) d = compare(&now->arena, &w->good->c, &now->c);
    if (d.changes.count)
        w->former = w->good;
    else if (w->former)
        d = compare(&now->arena, &w->former->c, &now->c);
    w->good = now;
    fill_page(now, w->former, &d);
}

static const char *watched_files(const struct compilation *c, const char **paths, int *count) {
    for (int i = 0; i < c->document.source_count; i++)
        paths[(*count)++] = c->document.sources[i]->file.name;
    return c->document.missing;
}

/* Watches the recipe and its bases, those of the good state too; whether all of them were watched
 * before. */
static bool watch_sources(struct watching *w, const struct compilation *c) {
    const char *paths[2 * VARIANT_MAX_SOURCES + 2] = {w->path};
    int count = 1;
    const char *missing = watched_files(c, paths, &count);
    if (w->good) watched_files(&w->good->c, paths, &count);
    if (missing) paths[count++] = missing;
    bool all = true;
    for (int i = 0; i < count; i++) all &= watch_has(&w->watch, paths[i]);
    if (!all) watch_files(&w->watch, paths, count);
    return all;
}

/* Reads the recipe as it is; anew where it names bases that were not watched before, unless nothing
 * is waited for. */
static void read_state(struct watching *w) {
    w->last = free_state(w);
    for (bool watched = false; !watched;) {
        arena_free(&w->last->arena);
        w->last->c = compile_recipe(&w->last->arena, w->path);
        watched = w->options->once || watch_sources(w, &w->last->c);
    }
}

/* --- the page -------------------------------------------------------------------------------- */

static const char *put_state(struct watching *w, struct arena *arena, bool watched) {
    struct buf script = {.arena = arena};
    view_state(&script, w->shown, watched);
    return renew_file(&w->place, VIEW_STATE_FILE, buf_whole(&script));
}

/* Writes the page where it shows another state now.  The script comes last: what it names is there
 * by then.  NULL, or what could not be done. */
static const char *put_page(struct watching *w, struct arena *arena) {
    struct buf page = {.arena = arena};
    char state[BLOB_ID_SIZE];
    const struct compilation *last = &w->last->c;
    const struct recipe *recipe = w->good ? w->good->c.recipe : last->recipe;
    struct view_now view = {.file = w->path,
                            .name = recipe ? recipe->name : (struct str){"", 0},
                            .failure = last->failure,
                            .diags = &w->last->c.diags,
                            .good = w->good ? w->good->page : (struct str){"", 0}};
    view_page(&page, &view, state);
    if (strcmp(state, w->shown) == 0) return NULL;
    const char *failure = renew_file(&w->place, VIEW_FILE, buf_whole(&page));
    if (failure) return failure;
    memcpy(w->shown, state, sizeof state);
    return put_state(w, arena, true);
}

/* From the file as it is to the page; the status that this calls for. */
static int renew(struct watching *w) {
    struct arena arena = {0};
    read_state(w);
    if (!compilation_failed(&w->last->c)) take_good(w);
    const char *failure = put_page(w, &arena);
    int status = command_report(w->arena, &w->last->c, w->options);
    if (failure) status = command_trouble(w->arena, "%s", failure);
    arena_free(&arena);
    return status;
}

/* --- the command ----------------------------------------------------------------------------- */

/* Why nothing is watched, or NULL. */
static const char *refusal(struct watching *w) {
    if (strcmp(w->path, "-") == 0) return "watch takes a file: nobody saves to standard input";
    struct arena arena = {0};
    struct compilation c = compile_read(&arena, w->path);
    const char *failure = c.failure ? arena_printf(w->arena, "%s", c.failure) : NULL;
    if (!failure && !w->options->force)
        failure = origin_refusal(w->arena, &c, w->path, w->options->directory, w->stem);
    arena_free(&arena);
    return failure;
}

static int keep_on(struct watching *w) {
    int status = renew(w);
    if (!*w->shown) return status; /* no page could be written */
    printf("%s/" VIEW_FILE "\n",
           diag_clean(w->arena, arena_printf(w->arena, "%s/%s", w->options->directory, w->stem)));
    fflush(stdout);
    if (w->options->once) return status;
    while (watch_wait(&w->watch)) renew(w);
    struct arena arena = {0};
    const char *failure = put_state(w, &arena, false);
    if (failure) command_trouble(w->arena, "%s", failure);
    arena_free(&arena);
    return STATUS_FINE;
}

int command_watch(struct arena *arena, const struct options *options) {
    struct watching *w = NEW(arena, struct watching, 1);
    struct buf nothing = {.arena = arena};
    w->arena = arena;
    w->options = options;
    w->path = options->files[0];
    w->stem = path_stem(arena, w->path);
    if (!w->stem) w->stem = "order";
    const char *why = refusal(w);
    if (why) return command_trouble(arena, "%s", why);
    watch_open(&w->watch);
    why = renew_open(&w->place, arena, options->directory, w->stem);
    int status = why ? command_trouble(arena, "%s", why) : keep_on(w);
    renew_close(&w->place);
    watch_close(&w->watch);
    for (int i = 0; i < 3; i++) arena_free(&w->states[i].arena);
    return command_worse(status, command_print(&nothing));
}
