/* order: writes the work order with its drawings, and has it rendered. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "command/command.h"
#include "command/origin.h"
#include "command/print.h"
#include "command/resume.h"
#include "emit/calendar.h"
#include "emit/drawing/drawing.h"
#include "emit/order/order.h"
#include "emit/order/tablet.h"
#include "emit/solid.h"
#include "system/path.h"
#include "system/publish.h"

/* Prints of the templates that were asked for; 0: that is no such number. */
static int copies_of(const struct options *options) {
    enum { MOST = 500 };
    char *end;
    if (!options->copies) return 1;
    long copies = strtol(options->copies, &end, 10);
    return *end || copies < 1 || copies > MOST ? 0 : (int)copies;
}

enum { ASKED_FOR = 3 };

static const char *file_of(struct arena *arena, const char *page, const char *ending) {
    return arena_printf(arena, "%s.%s", page, ending);
}

/* Puts what the options ask for behind the first `count` files; returns how many there are then. */
static int files_asked_for(struct arena *arena, const struct compilation *c,
                           const struct options *options, const char *page,
                           struct publish_file *files, int count) {
    struct buf stl = {.arena = arena}, package = {.arena = arena};
    if (options->outlines) {
        struct buf outlines = drawing_outlines(arena, c->recipe, &c->results);
        files[count++] = (struct publish_file){"outlines.svg", buf_whole(&outlines)};
    }
    if (!options->solid) return count;
    const struct plug *plug = &c->results.plug;
    struct mesh mesh = mesh_of(arena, &plug->outline, plug->cup.volume > 0 ? &plug->cup : NULL);
    solid_stl(&stl, &mesh);
    solid_3mf(&package, &mesh, c->recipe->name);
    files[count++] = (struct publish_file){file_of(arena, page, "stl"), buf_whole(&stl)};
    files[count++] = (struct publish_file){file_of(arena, page, "3mf"), buf_whole(&package)};
    return count;
}

/* The order's files: its drawings, and the Markdown that refers to them last. */
static struct publish_file *order_files(struct arena *arena, const struct compilation *c,
                                        const struct options *options, const char *page,
                                        int *count) {
    struct figure_list figures = drawing_all(arena, c->recipe, &c->results);
    struct publish_file *files = command_files(arena, &figures, 2 + ASKED_FOR);
    struct order_style style = {.brief = options->brief, .copies = copies_of(options)};
    struct buf markdown = {.arena = arena}, calendar = {.arena = arena};
    int last = figures.count;
    calendar_emit(&calendar, c->recipe, &c->results);
    order_emit(&markdown, c->recipe, &c->results, &figures, &style);
    if (calendar.size)
        files[last++] = (struct publish_file){file_of(arena, page, "ics"), buf_whole(&calendar)};
    last = files_asked_for(arena, c, options, page, files, last);
    files[last++] = (struct publish_file){file_of(arena, page, "md"), buf_whole(&markdown)};
    *count = last;
    return files;
}

/* The card's files: the side view, and the Markdown. */
static struct publish_file *card_files(struct arena *arena, const struct compilation *c,
                                       const char *page, int *count) {
    struct figure_list figures = drawing_of_kind(arena, c->recipe, &c->results, FIGURE_SIDE);
    struct publish_file *files = command_files(arena, &figures, 1);
    struct buf markdown = {.arena = arena};
    order_card_emit(&markdown, c->recipe, &c->results, &figures);
    files[figures.count] = (struct publish_file){file_of(arena, page, "md"), buf_whole(&markdown)};
    *count = figures.count + 1;
    return files;
}

struct ordering {
    struct arena *arena;
    const struct options *options;
    const char **stems;
    int stem_count;
    struct print_job *jobs;
    int job_count;
};

static bool stem_taken(struct ordering *o, const char *stem) {
    for (int i = 0; i < o->stem_count; i++)
        if (strcmp(o->stems[i], stem) == 0) return true;
    o->stems[o->stem_count++] = stem;
    return false;
}

static struct str run_for_tablet(struct arena *arena, const struct compilation *c) {
    struct buf json = {.arena = arena};
    tablet_emit(&json, c->recipe, &c->results);
    return buf_whole(&json);
}

static int order_one(struct ordering *o, const char *path) {
    struct compilation c = compile_recipe(o->arena, path);
    int status = command_report(o->arena, &c, o->options), count;
    if (status != STATUS_FINE) return status;
    const char *wrong = resume_compiled(o->arena, &c, o->options->done, o->options->from);
    if (wrong) return command_trouble(o->arena, "%s", wrong);
    const char *stem = path_stem(o->arena, path);
    if (!stem) stem = "order";
    if (stem_taken(o, stem))
        return command_trouble(o->arena, "%s: another of these recipes already goes to %s/%s", path,
                               o->options->directory, stem);
    const char *directory = o->options->directory;
    const char *refusal =
        o->options->force ? NULL : origin_refusal(o->arena, &c, path, directory, stem);
    if (refusal) return command_trouble(o->arena, "%s", refusal);
    bool card = o->options->card;
    const char *page = card ? arena_printf(o->arena, "%s-card", stem) : stem;
    const struct publish_file *files = card ? card_files(o->arena, &c, page, &count)
                                            : order_files(o->arena, &c, o->options, page, &count);
    o->jobs[o->job_count++] = (struct print_job){
        .forms = (o->options->pdf ? PRINT_PDF : 0) | (o->options->html ? PRINT_TABLET : 0),
        .page = page,
        .kind = card ? "card" : "order",
        .order = {o->options->directory, stem, origin_words(o->arena, &c, path), files, count},
        .title = c.recipe->name,
        .paper = c.recipe->shop->paper,
        .run = o->options->html ? run_for_tablet(o->arena, &c) : (struct str){"", 0}};
    return STATUS_FINE;
}

static void tell_asked_for(const struct options *options, const char *folder, const char *page) {
    if (options->card) return;
    if (options->solid) printf("%s/%s.stl\n%s/%s.3mf\n", folder, page, folder, page);
    if (options->outlines) printf("%s/outlines.svg\n", folder);
}

/* Renders what is to be rendered, and tells what was written. */
static int print_jobs(struct ordering *o) {
    int failed;
    fflush(stdout);
    failed = print_orders(o->arena, o->jobs, o->job_count, PRINT_SECONDS,
                          isatty(STDERR_FILENO) ? stderr : NULL);
    for (int i = 0; i < o->job_count; i++) {
        const struct print_job *job = &o->jobs[i];
        const char *folder = diag_clean(
            o->arena, arena_printf(o->arena, "%s/%s", job->order.directory, job->order.stem));
        const char *page = diag_clean(o->arena, job->page);
        if (job->published) printf("%s/%s.md\n", folder, page);
        if (job->published) tell_asked_for(o->options, folder, page);
        if (job->made & PRINT_PDF) printf("%s/%s.pdf\n", folder, page);
        if (job->made & PRINT_TABLET) printf("%s/%s.html\n", folder, page);
        if (job->failure) command_trouble(o->arena, "%s", job->failure);
    }
    return failed ? STATUS_TROUBLE : STATUS_FINE;
}

int command_order(struct arena *arena, const struct options *asked) {
    const struct options own = command_recipes(arena, asked), *options = &own;
    struct ordering o = {.arena = arena,
                         .options = options,
                         .stems = NEW(arena, const char *, options->count),
                         .jobs = NEW(arena, struct print_job, options->count)};
    struct buf nothing = {.arena = arena};
    int status = STATUS_FINE;
    if (!copies_of(options))
        return command_trouble(arena, "--copies takes a whole number from 1 to 500, not '%s'",
                               options->copies);
    if (options->done && (!options->from || options->count > 1))
        return command_trouble(arena, options->from
                                          ? "--done is for one recipe, since it names steps"
                                          : "--done is due with --from, a date: when the rest of "
                                            "the run begins");
    for (int i = 0; i < options->count; i++)
        status = command_worse(status, order_one(&o, options->files[i]));
    if (o.job_count) status = command_worse(status, print_jobs(&o));
    return command_worse(status, command_print(&nothing));
}
