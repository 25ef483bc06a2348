/* learn: what the bench taught, by the measured values of many recipes. */
#include <stdio.h>
#include <string.h>

#include "command/command.h"
#include "command/origin.h"
#include "emit/drawing/learned.h"
#include "emit/lesson.h"
#include "emit/lesson_page.h"
#include "emit/write/lines.h"
#include "model/workshop.h"
#include "system/path.h"
#include "system/replace.h"

static int refused(struct arena *arena, const char *message) {
    command_trouble(arena, "%s", message);
    return STATUS_ERRORS;
}

/* The file that all these recipes have their workshop from; NULL with `*why` set. */
static const char *shared_workshop(struct arena *arena, const struct lesson_view *view,
                                   const char **why) {
    const char *path = NULL, *real = NULL;
    for (int i = 0; i < view->count; i++) {
        const struct workshop *w = view->recipes[i]->workshop;
        if (!w) {
            *why = arena_printf(arena,
                                "%s names no workshop: --write has no file to write into "
                                "(`plugwright new --workshop` makes one)",
                                view->files[i]);
            return NULL;
        }
        const char *own = path_real(arena, w->file->name);
        if (real && own && strcmp(real, own) != 0) {
            *why = arena_printf(arena,
                                "%s and %s name different workshops: give --write the "
                                "recipes of one",
                                view->files[0], view->files[i]);
            return NULL;
        }
        path = w->file->name, real = own;
    }
    return path;
}

/* The amended text with the byte order mark that stood before it. */
static const char *replace_text(struct arena *arena, const struct source *source, const char *path,
                                struct str text) {
    struct buf whole = {.arena = arena};
    if (str_equal(text, source->file.text)) return NULL;
    buf_bytes(&whole, source->file.text.data - source->mark, (size_t)source->mark);
    buf_str(&whole, text);
    return replace_file(arena, path, buf_whole(&whole));
}

/* Puts what has proved itself into the workshop's file: shown first, then read again as a workshop,
 * then written. */
static int write_workshop(struct arena *arena, const struct lesson_view *view) {
    const char *why = NULL, *path = shared_workshop(arena, view, &why);
    if (!path) return refused(arena, why);
    struct compilation old = compile_workshop(arena, path);
    if (compilation_failed(&old)) return command_trouble(arena, "%s cannot be read again", path);
    const struct source *source = old.document.sources[0];
    struct amendment *rows = NEW(arena, struct amendment, view->lesson->masses.task.count);
    struct buf out = {.arena = arena}, untold = {.arena = arena};
    int count = lesson_amendments(view, arena, old.document.root, rows, &untold);
    struct str text = amend_text(arena, source, old.document.root, rows, count);
    lines_difference(&out, path, source->file.text, text);
    buf_str(&out, buf_whole(&untold));
    struct compilation new = compile_edited(arena, path, text);
    if (compilation_failed(&new))
        return command_trouble(arena,
                               "%s is laid out so that the new rows would spoil it: put them "
                               "in by hand",
                               path);
    const char *failure = replace_text(arena, source, path, text);
    if (!failure && count)
        buf_printf(&out, "%s: %d %s written\n", diag_clean(arena, path), count,
                   count == 1 ? "row" : "rows");
    else if (!failure)
        buf_printf(&out, "%s: nothing to write\n", diag_clean(arena, path));
    int status = command_print(&out);
    return failure ? command_trouble(arena, "%s", failure) : status;
}

static const char *made_of(struct arena *arena, const struct results *const *results, int count) {
    struct buf of = {.arena = arena};
    buf_text(&of, "lesson of");
    for (int i = 0; i < count; i++) buf_printf(&of, " %s", results[i]->digest);
    return of.data;
}

/* The page goes to DIR/learn/. */
static int publish_page(struct arena *arena, const struct options *options,
                        const struct lesson_view *view, const char *of) {
    const struct lesson *l = view->lesson;
    struct listing listing = lesson_listing(arena, view);
    enum unit_system units = view->recipes[0]->shop->units;
    struct lesson_page shown = {.lesson = l,
                                .listing = &listing,
                                .masses = drawing_learned(arena, &l->masses, view->recipes, units),
                                .times = drawing_learned(arena, &l->times, view->recipes, units),
                                .units = units};
    struct buf page = {.arena = arena};
    lesson_page(&page, &shown);
    struct publish_file file = {"learn.html", buf_whole(&page)};
    struct publication place = {options->directory, "learn", of, &file, 1};
    const char *failure = origin_order_refusal(arena, options->directory, "learn", "the page");
    if (!failure || options->force) failure = publish_folder(arena, &place);
    if (failure) return command_trouble(arena, "%s", failure);
    printf("%s/learn/learn.html\n", diag_clean(arena, options->directory));
    return STATUS_FINE;
}

/* As a page, as JSON, or as text; a page beside JSON. */
static int tell(struct arena *arena, const struct options *options, const struct lesson_view *view,
                const char *of) {
    struct buf out = {.arena = arena};
    int status = options->html ? publish_page(arena, options, view, of) : STATUS_FINE;
    if (options->json)
        lesson_json(&out, view);
    else if (!options->html)
        lesson_terminal(&out, view);
    return command_worse(status, command_print(&out));
}

int command_learn(struct arena *arena, const struct options *options) {
    int count = options->count, status = STATUS_FINE;
    const struct recipe **recipes = NEW(arena, const struct recipe *, count);
    const struct results **results = NEW(arena, const struct results *, count);
    if (options->write && options->json)
        return command_trouble(arena, "--write shows what it changes, so it goes without --json");
    if (count > LESSON_MOST_RECIPES)
        return refused(arena,
                       arena_printf(arena, "learn takes %d recipes at most, and these are %d",
                                    LESSON_MOST_RECIPES, count));
    for (int i = 0; i < count; i++) {
        struct compilation *c = NEW(arena, struct compilation, 1);
        *c = compile_recipe(arena, options->files[i]);
        status = command_worse(status, command_report(arena, c, options));
        recipes[i] = c->recipe;
        results[i] = &c->results;
    }
    if (status != STATUS_FINE) return status;
    struct lesson lesson = lesson_of(arena, recipes, results, count);
    if (lesson.too_many)
        return refused(arena, arena_printf(arena,
                                           "these recipes have more than %d woods, products, "
                                           "hooks and operations: give it fewer at a time",
                                           LESSON_MOST_FIGURES));
    if (options->html) lesson_claims(arena, &lesson);
    struct lesson_view view = {&lesson, recipes, (const char *const *)options->files, count};
    status = tell(arena, options, &view, made_of(arena, results, count));
    return options->write && status == STATUS_FINE ? write_workshop(arena, &view) : status;
}
