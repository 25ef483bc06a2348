#include "emit/lesson.h"

#include <math.h>
#include <string.h>

#include "base/unicode.h"
#include "emit/words/lesson.h"
#include "emit/write/json.h"
#include "emit/write/measure.h"
#include "model/workshop.h"

static const struct {
    const char *key, *unit; /* of the JSON */
    double scale;
} kinds[] = {
    [LESSON_WOOD] = {"wood", "kg/m3", 1},      [LESSON_SHAPING] = {"shaping", "ratio", 1},
    [LESSON_SEALER] = {"sealer", "g/m2", 1e3}, [LESSON_PAINT] = {"paint", "um", 1e6},
    [LESSON_TOPCOAT] = {"topcoat", "um", 1e6}, [LESSON_HOOK] = {"hook", "g", 1e3},
    [LESSON_LOADS] = {"loads", "ratio", 1},    [LESSON_TIME] = {"time", "ratio", 1},
};

struct pad {
    struct listing *listing;
    struct arena *arena;
    enum unit_system units;
};

static void head(const struct pad *p) {
    static const char *const heads[] = {"stands as", "is", "90 % from", "to", "readings", "tables"};
    static const int widths[] = {-12, -11, -11, -11, -9, -7};
    listing_row(p->listing);
    listing_cell(p->listing, "", 26);
    for (int i = 0; i < 6; i++) listing_cell(p->listing, heads[i], widths[i]);
}

static void figure(const struct pad *p, const struct lesson_figure *f) {
    listing_row(p->listing);
    listing_cell(p->listing, lesson_name(p->arena, f), 26);
    listing_cell(p->listing, lesson_value(p->arena, f, 1, p->units), -12);
    listing_cell(p->listing, lesson_value(p->arena, f, exp(f->mean), p->units), -11);
    listing_cell(p->listing,
                 lesson_value(p->arena, f, exp(f->mean - lesson_ninety * f->deviation), p->units),
                 -11);
    listing_cell(p->listing,
                 lesson_value(p->arena, f, exp(f->mean + lesson_ninety * f->deviation), p->units),
                 -11);
    listing_cell(p->listing, arena_printf(p->arena, "%d", f->readings), -9);
    listing_cell(p->listing, arena_printf(p->arena, "%.0f %%", f->prior_share * 100), -7);
}

static void figures(const struct pad *p, const struct lesson_task *task) {
    head(p);
    for (int i = 0; i < task->task.count; i++)
        if (task->figures[i].readings && task->figures[i].kind != LESSON_LOADS)
            figure(p, &task->figures[i]);
}

/* Figures that foretell no better are not worth writing anywhere. */
static const char *verdict(const struct lesson_trial *t, const char *better) {
    return t->after < t->before ? better : "So what stands is as good, and is better left.";
}

/* How far plugs differ is estimated of three or more. */
static void differ(const struct pad *p, const struct lesson_task *task, const char *what) {
    if (task->plugs >= 3)
        listing_line(p->listing,
                     arena_printf(p->arena, "%s differ about %s times as much as is usual.", what,
                                  measure_number(p->arena, task->estimate.scatter, 1)));
}

static void masses(const struct pad *p, const struct lesson *l) {
    const struct lesson_trial *t = &l->mass_trial;
    listing_heading(p->listing, "masses", "Masses");
    if (!t->plugs) {
        listing_line(p->listing, "Nothing of these recipes was weighed yet.");
        return;
    }
    figures(p, &l->masses);
    differ(p, &l->masses, "Plugs");
    if (t->plugs < 2) return;
    listing_paragraph(
        p->listing,
        arena_printf(
            p->arena,
            "Each plug foretold by the others: its last weighing is off by %s, its "
            "reserve by %s; by what stands, by %s and %s. %s",
            measure_mass(p->arena, t->after, p->units), measure_share(p->arena, t->reserve_after),
            measure_mass(p->arena, t->before, p->units), measure_share(p->arena, t->reserve_before),
            verdict(t, "So it pays to write these figures into the workshop's file.")));
}

static void times(const struct pad *p, const struct lesson *l) {
    const struct lesson_trial *t = &l->time_trial;
    if (!t->plugs) return;
    listing_heading(p->listing, "times", "Times");
    figures(p, &l->times);
    differ(p, &l->times, "Runs");
    if (t->plugs < 2) return;
    listing_paragraph(
        p->listing,
        arena_printf(p->arena,
                     "Each time foretold by the others is off by %s; by what stands, "
                     "by %s. %s",
                     measure_share(p->arena, t->reserve_after),
                     measure_share(p->arena, t->reserve_before),
                     verdict(t, "So it pays to give these steps their own `hands-on`.")));
}

static void next(const struct pad *p, const struct lesson_view *view) {
    const struct lesson_next *n = &view->lesson->next;
    listing_heading(p->listing, "next", "Weigh next");
    if (!n->given) {
        listing_line(p->listing, "No further weighing would tell more of the reserve.");
        return;
    }
    listing_paragraph(
        p->listing,
        arena_printf(p->arena,
                     "One more plug of %s, as `%s`: of all single weighings it takes most of the "
                     "doubt off the reserve, from %s to %s.",
                     unicode_clean(p->arena, str_of(view->files[n->recipe])).data,
                     lesson_stages[n->stage].key, measure_share(p->arena, n->before),
                     measure_share(p->arena, n->after)));
}

static void past(const struct pad *p, const struct lesson_past *past) {
    listing_heading(p->listing, "past", "Committed versions");
    listing_line(p->listing, arena_printf(p->arena, "%d %s read; %d %s plugs or times of %s own.",
                                          past->read, past->read == 1 ? "was" : "were", past->count,
                                          past->count == 1 ? "has" : "have",
                                          past->count == 1 ? "its" : "their"));
    for (int i = 0; i < past->left_out_count; i++) {
        const struct lesson_version *v = &past->left_out[i];
        listing_paragraph(p->listing,
                          arena_printf(p->arena, "%s of %s (%.10s) is left out: %s",
                                       unicode_clean(p->arena, str_of(v->file)).data, v->date,
                                       v->id, unicode_clean(p->arena, str_of(v->failure)).data));
    }
}

struct listing lesson_listing(struct arena *arena, const struct lesson_view *view) {
    const struct lesson *l = view->lesson;
    struct listing listing = {.arena = arena};
    struct pad p = {&listing, arena, view->recipes[0]->shop->units};
    listing_title(&listing, arena_printf(arena, "What %d %s of %d %s taught", l->mass_trial.plugs,
                                         l->mass_trial.plugs == 1 ? "plug" : "plugs", view->count,
                                         view->count == 1 ? "recipe" : "recipes"));
    if (view->past) past(&p, view->past);
    masses(&p, l);
    times(&p, l);
    next(&p, view);
    return listing;
}

void lesson_terminal(struct buf *out, const struct lesson_view *view) {
    struct listing listing = lesson_listing(out->arena, view);
    listing_text(out, &listing);
}

/* --- the workshop's file --------------------------------------------------------------------- */

/* What quotes would have to escape is left to the builder. */
static bool is_plain(struct str name) {
    for (size_t i = 0; i < name.size; i++)
        if (name.data[i] == '"' || name.data[i] == '\\') return false;
    return name.size > 0;
}

/* What the workshop says so far, of a wood at the moisture that it gives; else what stands. */
static double standing(const struct workshop *w, const struct lesson_figure *f) {
    for (int i = 0; i < w->own_wood_count && f->kind == LESSON_WOOD; i++)
        if (str_equal(w->woods[i].name, f->name) && w->woods[i].density.given)
            return w->woods[i].density.value;
    return f->stands;
}

static void set(struct amendment *m, int at, const char *key, const char *value) {
    m->values[at].key = key;
    m->values[at].value = value;
}

/* The row and its first figure; false where the workshop has no list for such. */
static bool begin_row(struct arena *arena, const struct workshop *w, const struct lesson_figure *f,
                      struct amendment *m) {
    double value = standing(w, f) * exp(f->mean);
    const char *name = arena_copy(arena, f->name.data, f->name.size);
    m->tells[0].key = "name", m->tells[0].value = name;
    m->there_only = true;
    switch (f->kind) {
    case LESSON_WOOD:
        m->list = "woods", m->there_only = false;
        set(m, 0, "density", arena_printf(arena, "%.0f kg/m3", value));
        return true;
    case LESSON_SEALER:
        m->list = "sealers";
        set(m, 0, "uptake", arena_printf(arena, "%.3g g/m2", value * 1e3));
        return true;
    case LESSON_PAINT:
    case LESSON_TOPCOAT:
        m->list = f->kind == LESSON_PAINT ? "paints" : "topcoats";
        set(m, 0, "film", arena_printf(arena, "%.3g um", value * 1e6));
        return true;
    case LESSON_HOOK: {
        const char *size = strchr(name, ' ');
        m->list = "hooks", m->there_only = false;
        m->tells[0].key = "size", m->tells[0].value = size + 1;
        m->tells[1].key = "kind";
        m->tells[1].value = arena_copy(arena, name, (size_t)(size - name));
        set(m, 0, "mass", arena_printf(arena, "%.3g g", value * 1e3));
        return true;
    }
    default:
        return false;
    }
}

/* The digits that a text begins with. */
static int whole_of(struct str text) {
    int value = 0;
    for (size_t i = 0; i < text.size && i < 6 && text.data[i] >= '0' && text.data[i] <= '9'; i++)
        value = value * 10 + text.data[i] - '0';
    return value;
}

/* Why a figure stays out, or NULL. */
static const char *objection(const struct lesson_figure *f, const struct amendment *m,
                             const struct node *root) {
    if (f->lone) return "it is the board of one recipe";
    if (!f->improves) return "plugs are foretold no nearer with it";
    if (!is_plain(f->name)) return "its name has quotes in it";
    const struct node *row = amend_row(root, m);
    if (m->there_only && !row) return "the workshop has no row of this name";
    const struct node *weighed = row ? tree_find(row, "weighed") : NULL;
    if (weighed && whole_of(weighed->text) >= f->readings)
        return "its row stands on as many weighings already";
    return NULL;
}

int lesson_amendments(const struct lesson_view *view, struct arena *arena, const struct node *root,
                      struct amendment *amendments, struct buf *untold) {
    const struct lesson_task *task = &view->lesson->masses;
    const struct workshop *workshop = view->recipes[0]->workshop;
    int count = 0;
    for (int kind = 0; kind < LESSON_LOADS; kind++)
        for (int i = 0; i < task->task.count; i++) {
            const struct lesson_figure *f = &task->figures[i];
            struct amendment m = {.list = NULL};
            if ((int)f->kind != kind || !f->readings) continue;
            if (!begin_row(arena, workshop, f, &m)) continue;
            const char *why = objection(f, &m, root);
            if (why) {
                buf_printf(untold, "not written: %s: %s\n", lesson_name(arena, f), why);
                continue;
            }
            int at = 1;
            if (f->kind == LESSON_WOOD && !amend_row(root, &m))
                set(&m, at++, "moisture", arena_printf(arena, "%.3g %%", f->moisture * 100));
            set(&m, at++, "spread", arena_printf(arena, "%.2g %%", f->deviation * 100));
            set(&m, at, "weighed", arena_printf(arena, "%d", f->readings));
            amendments[count++] = m;
        }
    return count;
}

/* --- JSON ------------------------------------------------------------------------------------ */

static void json_figures(struct json *json, const char *key, const struct lesson_task *task) {
    json_open_list(json, key);
    for (int i = 0; i < task->task.count; i++) {
        const struct lesson_figure *f = &task->figures[i];
        double stands = f->stands * kinds[f->kind].scale;
        if (f->kind == LESSON_LOADS) continue;
        json_open_object(json, NULL);
        json_put_text(json, "kind", kinds[f->kind].key);
        json_put_str(json, "name", f->name);
        json_put_text(json, "unit", kinds[f->kind].unit);
        json_put_number(json, "stands", stands);
        json_put_number(json, "is", stands * exp(f->mean));
        json_put_number(json, "from", stands * exp(f->mean - lesson_ninety * f->deviation));
        json_put_number(json, "to", stands * exp(f->mean + lesson_ninety * f->deviation));
        json_put_whole(json, "readings", f->readings);
        json_put_number(json, "prior_share", f->prior_share);
        json_close(json);
    }
    json_close(json);
}

static void json_past(struct json *json, const struct lesson_past *past) {
    json_open_object(json, "history");
    json_put_whole(json, "versions", past->read);
    json_put_whole(json, "counted", past->count);
    json_open_list(json, "left_out");
    for (int i = 0; i < past->left_out_count; i++) {
        const struct lesson_version *v = &past->left_out[i];
        json_open_object(json, NULL);
        json_put_text(json, "file", v->file);
        json_put_text(json, "commit", v->id);
        json_put_text(json, "date", v->date);
        json_put_text(json, "failure", v->failure);
        json_close(json);
    }
    json_close(json);
    json_close(json);
}

void lesson_json(struct buf *out, const struct lesson_view *view) {
    const struct lesson *l = view->lesson;
    const struct lesson_trial *m = &l->mass_trial, *t = &l->time_trial;
    struct json json = json_begin(out->arena);
    json_figures(&json, "figures", &l->masses);
    json_figures(&json, "times", &l->times);
    if (view->past) json_past(&json, view->past);
    json_open_object(&json, "left_out");
    json_put_whole(&json, "plugs", m->plugs);
    json_put_number(&json, "mass_before_g", m->before * 1e3);
    json_put_number(&json, "mass_after_g", m->after * 1e3);
    json_put_number(&json, "reserve_before", m->reserve_before);
    json_put_number(&json, "reserve_after", m->reserve_after);
    json_put_whole(&json, "times", t->plugs);
    json_put_number(&json, "time_before", t->reserve_before);
    json_put_number(&json, "time_after", t->reserve_after);
    json_close(&json);
    json_put_number(&json, "plugs_differ", l->masses.estimate.scatter);
    if (l->next.given) {
        json_open_object(&json, "next");
        json_put_text(&json, "file", view->files[l->next.recipe]);
        json_put_text(&json, "weigh", lesson_stages[l->next.stage].key);
        json_put_number(&json, "doubt_before", l->next.before);
        json_put_number(&json, "doubt_after", l->next.after);
        json_close(&json);
    } else {
        json_put_null(&json, "next");
    }
    json_end(&json, out);
}
