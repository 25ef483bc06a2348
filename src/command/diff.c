/* diff: what was changed between two recipes or from version to version, and what that does. */
#include <stdio.h>
#include <string.h>

#include "command/command.h"
#include "command/compare.h"
#include "command/history.h"
#include "emit/drawing/difference.h"
#include "system/path.h"
#include "system/publish.h"

/* The page and its drawings go to DIR/OLD-to-NEW/. */
static int publish_difference(struct arena *arena, const struct options *options,
                              const struct difference *d) {
    const char *old = path_stem(arena, d->old.file), *new = path_stem(arena, d->new.file);
    const char *stem = arena_printf(arena, "%s-to-%s", old ? old : "old", new ? new : "new");
    struct figure_list figures = drawing_difference(arena, d->old.results, d->new.results);
    struct publish_file *files = command_files(arena, &figures, 1);
    struct buf page = {.arena = arena};
    difference_markdown(&page, d, &figures);
    files[figures.count] = (struct publish_file){"difference.md", buf_whole(&page)};
    struct publication page_with_drawings = {options->directory, stem,
                                             arena_printf(arena, "difference of %s and %s",
                                                          d->old.results->digest,
                                                          d->new.results->digest),
                                             files, figures.count + 1};
    const char *failure = publish_folder(arena, &page_with_drawings);
    if (failure) return command_trouble(arena, "%s", failure);
    printf("%s/difference.md\n",
           diag_clean(arena, arena_printf(arena, "%s/%s", options->directory, stem)));
    return STATUS_FINE;
}

static int show_history(struct arena *arena, const struct options *options) {
    struct buf out = {.arena = arena};
    struct difference_history history = {0};
    const char *failure = history_read(arena, options->files[0], &history);
    if (failure) return command_trouble(arena, "%s", failure);
    if (options->json)
        difference_history_json(&out, &history);
    else
        difference_history_terminal(&out, &history);
    return command_print(&out);
}

/* NULL, or why these two cannot be compared. */
static const char *misuse(const struct options *options) {
    if (options->count < 2) return "diff compares two recipes: OLD NEW";
    if (strcmp(options->files[0], "-") == 0 && strcmp(options->files[1], "-") == 0)
        return "only one of the two can be standard input";
    return NULL;
}

static struct compilation compile_side(struct arena *arena, const char *name) {
    return history_is_version(name) ? history_compile(arena, name) : compile_recipe(arena, name);
}

/* Statuses of diff as POSIX has them: 0 the same, 1 different, 2 trouble. */
int command_diff(struct arena *arena, const struct options *options) {
    if (options->history) return show_history(arena, options);
    if (misuse(options)) return command_trouble(arena, "%s", misuse(options));
    struct compilation old = compile_side(arena, options->files[0]);
    struct compilation new = compile_side(arena, options->files[1]);
    struct buf out = {.arena = arena};
    if (compilation_failed(&old)) command_report(arena, &old, options);
    if (compilation_failed(&new)) command_report(arena, &new, options);
    if (compilation_failed(&old) || compilation_failed(&new)) return STATUS_TROUBLE;
    struct difference d = compare(arena, &old, &new);
    int status = d.changes.count ? STATUS_ERRORS : STATUS_FINE;
    if (options->markdown) status = command_worse(status, publish_difference(arena, options, &d));
    if (options->json)
        difference_json(&out, &d);
    else if (!options->markdown)
        difference_terminal(&out, &d);
    return command_worse(status, command_print(&out));
}
