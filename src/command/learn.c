/* learn: what the bench taught, by the measured values of many recipes. */
#include <stdio.h>
#include <string.h>

#include "command/command.h"
#include "command/origin.h"
#include "command/past.h"
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

struct learning {
    struct arena *arena;
    const struct options *options;
    const struct compilation **compilations;
    int count;
    struct past past;
    struct lesson_source *sources; /* the recipes, then what their past adds */
    int source_count;
    struct lesson lesson;
    struct lesson_view view;
};

static int compile_all(struct learning *l) {
    int status = STATUS_FINE;
    for (int i = 0; i < l->count; i++) {
        struct compilation *c = NEW(l->arena, struct compilation, 1);
        *c = compile_recipe(l->arena, l->options->files[i]);
        status = command_worse(status, command_report(l->arena, c, l->options));
        l->compilations[i] = c;
    }
    return status;
}

static const char *made_of(const struct learning *l) {
    struct buf of = {.arena = l->arena};
    buf_text(&of, "lesson of");
    for (int i = 0; i < l->source_count; i++) buf_printf(&of, " %s", l->sources[i].results->digest);
    return of.data;
}

static void take_sources(struct learning *l) {
    l->sources = NEW(l->arena, struct lesson_source, l->count + l->past.count);
    for (int i = 0; i < l->count; i++)
        l->sources[l->source_count++] = (struct lesson_source){
            .recipe = l->compilations[i]->recipe, .results = &l->compilations[i]->results};
    for (const struct past_version *v = l->past.first; v; v = v->next)
        l->sources[l->source_count++] =
            (struct lesson_source){v->c.recipe, &v->c.results, v->date, &v->repeats};
}

static void take_view(struct learning *l) {
    const struct recipe **recipes = NEW(l->arena, const struct recipe *, l->count);
    for (int i = 0; i < l->count; i++) recipes[i] = l->compilations[i]->recipe;
    l->view = (struct lesson_view){.lesson = &l->lesson,
                                   .recipes = recipes,
                                   .files = (const char *const *)l->options->files,
                                   .count = l->count,
                                   .past = l->options->history ? &l->past.told : NULL};
}

/* The page goes to DIR/learn/. */
static int publish_page(const struct learning *l) {
    struct arena *arena = l->arena;
    const char *directory = l->options->directory;
    const struct lesson *lesson = &l->lesson;
    struct listing listing = lesson_listing(arena, &l->view);
    enum unit_system units = l->view.recipes[0]->shop->units;
    struct lesson_page shown = {.lesson = lesson,
                                .listing = &listing,
                                .masses =
                                    drawing_learned(arena, &lesson->masses, l->sources, units),
                                .times = drawing_learned(arena, &lesson->times, l->sources, units),
                                .units = units};
    struct buf page = {.arena = arena};
    lesson_page(&page, &shown);
    struct publish_file file = {"learn.html", buf_whole(&page)};
    struct publication place = {directory, "learn", made_of(l), &file, 1};
    const char *failure = origin_order_refusal(arena, directory, "learn", "the page");
    if (!failure || l->options->force) failure = publish_folder(arena, &place);
    if (failure) return command_trouble(arena, "%s", failure);
    printf("%s/learn/learn.html\n", diag_clean(arena, directory));
    return STATUS_FINE;
}

/* As a page, as JSON, or as text; a page beside JSON. */
static int tell(const struct learning *l) {
    struct buf out = {.arena = l->arena};
    int status = l->options->html ? publish_page(l) : STATUS_FINE;
    if (l->options->json)
        lesson_json(&out, &l->view);
    else if (!l->options->html)
        lesson_terminal(&out, &l->view);
    return command_worse(status, command_print(&out));
}

static int learn(struct learning *l) {
    take_sources(l);
    l->lesson = lesson_of(l->arena, l->sources, l->source_count, l->count);
    if (l->lesson.too_many)
        return refused(l->arena, arena_printf(l->arena,
                                              "these recipes have more than %d woods, products, "
                                              "hooks and operations: give it fewer at a time",
                                              LESSON_MOST_FIGURES));
    if (l->options->html) lesson_claims(l->arena, &l->lesson);
    take_view(l);
    int status = tell(l);
    return l->options->write && status == STATUS_FINE ? write_workshop(l->arena, &l->view) : status;
}

int command_learn(struct arena *arena, const struct options *asked) {
    const struct options own = command_recipes(arena, asked), *options = &own;
    struct learning l = {.arena = arena, .options = options, .count = options->count};
    if (options->write && options->json)
        return command_trouble(arena, "--write shows what it changes, so it goes without --json");
    if (l.count > LESSON_MOST_RECIPES)
        return refused(arena,
                       arena_printf(arena, "learn takes %d recipes at most, and these are %d",
                                    LESSON_MOST_RECIPES, l.count));
    l.compilations = NEW(arena, const struct compilation *, l.count);
    int status = compile_all(&l);
    if (status != STATUS_FINE) return status;
    const char *failure = NULL;
    if (options->history) failure = past_read(arena, l.compilations, l.count, &l.past, &status);
    if (failure)
        command_trouble(arena, "%s", failure);
    else
        status = learn(&l);
    past_free(&l.past);
    return status;
}
