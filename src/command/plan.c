/* plan: several runs on one bench. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "command/command.h"
#include "command/origin.h"
#include "command/print.h"
#include "compute/implied.h"
#include "emit/calendar.h"
#include "emit/plan/plan.h"
#include "emit/write/json.h"
#include "model/colourway.h"
#include "model/walk.h"
#include "system/path.h"

struct planning {
    struct arena *arena;
    const struct options *options;
    struct compilation *compilations; /* by due date, then by rank, else as they were named */
    int count;
};

static int refused(struct arena *arena, const char *message) {
    command_trouble(arena, "%s", message);
    return STATUS_ERRORS;
}

static int compile_all(struct planning *p) {
    int status = STATUS_FINE;
    for (int i = 0; i < p->options->count; i++) {
        p->compilations[i] = compile_recipe(p->arena, p->options->files[i]);
        status = command_worse(status, command_report(p->arena, &p->compilations[i], p->options));
        p->count++;
    }
    return status;
}

/* What is due first comes first. */
static bool goes_before(const struct recipe *a, const struct recipe *b) {
    if (a->due.given != b->due.given) return a->due.given;
    int64_t ahead = a->due.given ? moment_between(a->due, b->due) : 0;
    return ahead ? ahead > 0 : a->rank < b->rank;
}

static void sort_by_due(struct planning *p) {
    for (int i = 1; i < p->count; i++)
        for (int k = i;
             k > 0 && goes_before(p->compilations[k].recipe, p->compilations[k - 1].recipe); k--) {
            struct compilation c = p->compilations[k];
            p->compilations[k] = p->compilations[k - 1];
            p->compilations[k - 1] = c;
        }
}

static struct walk_facts shop_facts(struct arena *arena, const struct recipe *recipe) {
    struct walk walk = {.arena = arena, .recipe = recipe};
    return walk_part(&walk, PART_shop, recipe->shop);
}

/* The first field of the shop in which two recipes differ, or NULL. */
static const char *differing_field(struct arena *arena, const struct recipe *a,
                                   const struct recipe *b) {
    struct walk_facts x = shop_facts(arena, a), y = shop_facts(arena, b);
    for (int i = 0; i < x.count || i < y.count; i++) {
        if (i >= x.count) return y.items[i].path;
        if (i >= y.count) return x.items[i].path;
        bool same = strcmp(x.items[i].path, y.items[i].path) == 0 &&
                    strcmp(x.items[i].text, y.items[i].text) == 0;
        if (!same) return x.items[i].path;
    }
    return NULL;
}

static const char *stem_of(const struct planning *p, int i) {
    const char *stem = path_stem(p->arena, p->compilations[i].path);
    return stem ? stem : "order";
}

/* What keeps these recipes off one bench, or NULL. */
static const char *disagreement(struct planning *p) {
    const struct compilation *first = &p->compilations[0];
    int plugs = 0;
    for (int i = 0; i < p->count; i++) {
        const struct compilation *c = &p->compilations[i];
        const char *field = differing_field(p->arena, first->recipe, c->recipe);
        plugs += c->recipe->make;
        if (field)
            return arena_printf(p->arena,
                                "%s and %s differ in shop.%s: runs on one bench have the same shop",
                                first->path, c->path, field);
        if (!str_equal(first->recipe->currency, c->recipe->currency) && c->results.supply.priced)
            return arena_printf(p->arena, "%s and %s differ in currency", first->path, c->path);
        for (int k = 0; k < i; k++)
            if (strcmp(stem_of(p, k), stem_of(p, i)) == 0)
                return arena_printf(p->arena, "%s and %s have the same file name",
                                    p->compilations[k].path, c->path);
        for (int k = 0; k < i; k++)
            if (str_equal(p->compilations[k].recipe->name, c->recipe->name))
                return arena_printf(p->arena, "%s and %s have the same name",
                                    p->compilations[k].path, c->path);
    }
    if (plugs <= PLAN_MOST_PLUGS) return NULL;
    return arena_printf(p->arena, "a plan takes %d plugs at most, and these are %d",
                        PLAN_MOST_PLUGS, plugs);
}

static const char *made_of(struct planning *p) {
    struct buf of = {.arena = p->arena};
    buf_text(&of, "plan of");
    for (int i = 0; i < p->count; i++) buf_printf(&of, " %s", p->compilations[i].results.digest);
    return of.data;
}

static double *loads_of(struct arena *arena, const struct ballast_result *ballast) {
    double *loads = NEW(arena, double, MAX_BORES);
    for (int i = 0; i < ballast->bore_count; i++) loads[i] = ballast->fills[i].load;
    return loads;
}

static struct plan plan_compiled(struct planning *p) {
    struct plan_order *orders = NEW(p->arena, struct plan_order, p->count);
    for (int i = 0; i < p->count; i++) {
        const struct recipe *recipe = p->compilations[i].recipe;
        const struct results *results = &p->compilations[i].results;
        struct walk walk = {
            .arena = p->arena, .recipe = recipe, .implied = implied_values(p->arena, results)};
        orders[i] = (struct plan_order){.recipe = recipe,
                                        .alone = &results->run,
                                        .body = colourway_body(&walk),
                                        .floating = colourway_floating(&walk),
                                        .loads = loads_of(p->arena, &results->ballast)};
    }
    return plan_of(p->arena, orders, p->count);
}

static struct shopping shopping_compiled(struct planning *p) {
    const struct results **runs = NEW(p->arena, const struct results *, p->count);
    for (int i = 0; i < p->count; i++) runs[i] = &p->compilations[i].results;
    return shopping_of(p->arena, runs, p->count);
}

/* Of the lots too, under names of their own. */
static void plan_calendar(struct buf *calendar, struct planning *p, const struct plan_view *view) {
    const struct plan *plan = view->plan;
    int count = p->count + plan->lots.count;
    struct results *results = NEW(p->arena, struct results, count);
    const struct recipe **recipes = NEW(p->arena, const struct recipe *, count);
    for (int i = 0; i < count; i++) {
        results[i].run = plan->runs[i];
        recipes[i] = i < p->count ? view->recipes[i] : plan->lots.items[i - p->count].recipe;
    }
    calendar_emit_all(calendar, recipes, results, count);
}

/* The page keeps its ticks by what the plan was made of. */
static struct str plan_for_tablet(struct planning *p) {
    struct buf out = {.arena = p->arena};
    struct json json = json_begin(p->arena);
    json_put_text(&json, "digest", made_of(p));
    json_end(&json, &out);
    return buf_whole(&out);
}

static int print_plan(struct planning *p, const struct plan_view *view) {
    struct arena *arena = p->arena;
    const char *directory = p->options->directory;
    struct buf markdown = {.arena = arena}, calendar = {.arena = arena};
    struct buf timeline = plan_timeline(view);
    plan_calendar(&calendar, p, view);
    plan_markdown(&markdown, view);
    struct publish_file files[3] = {{"timeline.svg", buf_whole(&timeline)}};
    int count = 1;
    if (calendar.size) files[count++] = (struct publish_file){"plan.ics", buf_whole(&calendar)};
    files[count++] = (struct publish_file){"plan.md", buf_whole(&markdown)};
    struct print_job job = {.forms = (p->options->pdf ? PRINT_PDF : 0) |
                                     (p->options->html ? PRINT_TABLET : 0),
                            .page = "plan",
                            .kind = "plan",
                            .order = {directory, "plan", made_of(p), files, count},
                            .run = plan_for_tablet(p),
                            .title = str_of("Plan of the bench"),
                            .paper = view->recipes[0]->shop->paper};
    fflush(stdout);
    int failed = print_orders(arena, &job, 1, PRINT_SECONDS, isatty(STDERR_FILENO) ? stderr : NULL);
    const char *folder = diag_clean(arena, arena_printf(arena, "%s/plan", directory));
    if (job.published) printf("%s/plan.md\n", folder);
    if (job.made & PRINT_PDF) printf("%s/plan.pdf\n", folder);
    if (job.made & PRINT_TABLET) printf("%s/plan.html\n", folder);
    if (job.failure) command_trouble(arena, "%s", job.failure);
    struct buf nothing = {.arena = arena};
    return command_worse(failed ? STATUS_TROUBLE : STATUS_FINE, command_print(&nothing));
}

static int tell(struct planning *p, const struct plan *plan) {
    const struct recipe **recipes = NEW(p->arena, const struct recipe *, p->count);
    const char **sheets = NEW(p->arena, const char *, p->count);
    for (int i = 0; i < p->count; i++) {
        recipes[i] = p->compilations[i].recipe;
        sheets[i] = stem_of(p, i);
    }
    struct shopping shopping = shopping_compiled(p);
    struct plan_view view = {p->arena, plan, recipes, sheets, p->count, &shopping};
    if (!p->options->json) return print_plan(p, &view);
    struct buf json = {.arena = p->arena};
    plan_json(&json, &view);
    return command_print(&json);
}

int command_plan(struct arena *arena, const struct options *asked) {
    const struct options own = command_recipes(arena, asked), *options = &own;
    struct planning p = {arena, options, NEW(arena, struct compilation, options->count), 0};
    if (options->count > PLAN_MOST_RECIPES)
        return refused(arena,
                       arena_printf(arena, "a plan takes %d recipes at most, and these are %d",
                                    PLAN_MOST_RECIPES, options->count));
    int status = compile_all(&p);
    if (status != STATUS_FINE) return status;
    sort_by_due(&p);
    const char *wrong = disagreement(&p);
    if (wrong) return refused(arena, wrong);
    const char *taken = origin_order_refusal(arena, options->directory, "plan", "the plan");
    if (taken && !options->json && !options->force) return command_trouble(arena, "%s", taken);
    struct plan plan = plan_compiled(&p);
    if (!plan.feasible)
        return refused(arena, "these runs are too much for one plan: give it fewer at a time");
    return tell(&p, &plan);
}
