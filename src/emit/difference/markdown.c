/* The same difference for a page: with its drawings, and tables instead of columns. */
#include "emit/difference/inner.h"

#include "emit/write/markdown.h"
#include "model/reference.h"

struct page {
    struct telling t;
    struct md md;
};

static void changes(struct page *p) {
    const struct change_list *list = &p->t.d->changes;
    md_heading(&p->md, 2, "What was changed");
    for (int g = 0; g < list->group_count; g++) {
        const struct change_group *group = &list->groups[g];
        for (int i = group->first, next; i < group->first + group->count; i = next)
            md_item(&p->md, "**%s:** %s", group->name, telling_change(&p->t, group, i, &next));
    }
    md_end_list(&p->md);
}

static void drawings(struct page *p, const struct figure_list *figures) {
    for (int i = 0; i < figures->count; i++)
        md_figure(&p->md, figures->figures[i].file, figures->figures[i].title);
}

/* A number with its sign; the plus is ours, so that it need not be escaped. */
static void step_cell(struct page *p, const char *step) {
    if (*step == '+')
        md_cell(&p->md, "+%s", step + 1);
    else
        md_cell(&p->md, "%s", step);
}

/* --- what it does ---------------------------------------------------------------------------- */

static void row(struct page *p, const char *label, const char *old, const char *new,
                const char *step) {
    md_cell(&p->md, "%s", label);
    md_cell(&p->md, "%s", old);
    md_cell(&p->md, "%s", new);
    step_cell(p, step);
}

static void effect_row(struct page *p, const struct effect *e) {
    const struct effect_value *a = e->before, *b = e->after;
    row(p, telling_label(&p->t, e->any), a ? telling_value(&p->t, a->kind, a->value) : "",
        b ? telling_value(&p->t, b->kind, b->value) : "",
        a && b ? telling_effect(&p->t, e)
        : a    ? "no more"
               : "new");
}

static bool is_material(const struct effect *e) {
    return e->any->group == EFFECT_MATERIAL;
}

/* Whether anything stands under the heading. */
static bool effect_table(struct page *p, const char *heading, bool material) {
    static const struct md_column columns[] = {
        {"", MD_LEFT}, {"Old", MD_RIGHT}, {"New", MD_RIGHT}, {"Difference", MD_RIGHT}};
    const struct effect_list *list = &p->t.d->effects;
    int rows = 0;
    for (int i = 0; i < list->count; i++) {
        if (is_material(&list->items[i]) != material) continue;
        if (!rows++) {
            md_heading(&p->md, 2, "%s", heading);
            md_table(&p->md, columns, 4);
        }
        effect_row(p, &list->items[i]);
    }
    if (rows) md_table_end(&p->md);
    return rows > 0;
}

/* --- which change did what ------------------------------------------------------------------- */

static void alone_row(struct page *p, const char *name, const struct single *is, bool solved) {
    const struct telling *t = &p->t;
    const struct single *was = &t->d->old.afloat;
    md_cell(&p->md, "%s", name);
    if (is->failure) {
        md_cell(&p->md, "makes no plug alone: %s", is->failure);
        for (int i = 0; i < (solved ? 4 : 1) + telling_sounds(t); i++) md_skip(&p->md);
        return;
    }
    if (solved && is->kept) {
        const struct outcome *kept = &is->with_before;
        step_cell(p, telling_delta(t, SHOWN_SHARE, kept->reserve - was->reserve));
        step_cell(p, telling_delta(t, SHOWN_ANGLE, kept->attitude - was->attitude));
    } else if (solved) {
        md_skip(&p->md);
        md_skip(&p->md);
    }
    step_cell(p, telling_delta(t, SHOWN_SHARE, is->reserve - was->reserve));
    step_cell(p, telling_delta(t, SHOWN_ANGLE, is->attitude - was->attitude));
    if (solved) step_cell(p, telling_delta(t, SHOWN_MASS, is->ballast - was->ballast));
    if (telling_sounds(t)) step_cell(p, telling_depth(t, is));
}

static void parts(struct page *p) {
    static const struct md_column solved_columns[] = {{"Change", MD_LEFT},
                                                      {"Reserve, old loads", MD_RIGHT},
                                                      {"Attitude, old loads", MD_RIGHT},
                                                      {"Reserve, solved", MD_RIGHT},
                                                      {"Attitude, solved", MD_RIGHT},
                                                      {"Ballast", MD_RIGHT},
                                                      {"Depth", MD_RIGHT}};
    static const struct md_column columns[] = {
        {"Change", MD_LEFT}, {"Reserve", MD_RIGHT}, {"Attitude", MD_RIGHT}, {"Depth", MD_RIGHT}};
    const struct difference *d = p->t.d;
    bool solved = telling_solved(&p->t);
    int rows = 0;
    for (int i = 0; i < d->part_count; i++) {
        if (!telling_matters(&p->t, &d->parts[i])) continue;
        if (!rows++) {
            md_heading(&p->md, 2, "Each change alone");
            md_table(&p->md, solved ? solved_columns : columns,
                     (solved ? 6 : 3) + telling_sounds(&p->t));
        }
        alone_row(p, d->parts[i].name, &d->parts[i].alone, solved);
    }
    if (rows > 1) alone_row(p, "all together", &d->new.afloat, solved);
    if (rows) md_table_end(&p->md);
}

/* --- work ------------------------------------------------------------------------------------ */

static void work(struct page *p) {
    const struct rework_list *list = &p->t.d->rework;
    if (list->count) md_heading(&p->md, 2, "The work");
    for (int i = 0; i < list->count; i++)
        md_item(&p->md, "%s", telling_rework(&p->t, &list->items[i]));
    md_end_list(&p->md);
}

static void cautions(struct page *p) {
    const struct difference *d = p->t.d;
    unsigned all = d->cautions_come | d->cautions_go;
    if (!all && !d->warnings_come_count && !d->warnings_go_count) return;
    md_heading(&p->md, 2, "To mind");
    for (int i = 0; i < CAUTION_COUNT; i++) {
        if (d->cautions_come & 1u << i)
            md_item(&p->md, "New caution: %s", reference_caution[i].title);
        if (d->cautions_go & 1u << i)
            md_item(&p->md, "No more caution: %s", reference_caution[i].title);
    }
    for (int i = 0; i < d->warnings_come_count; i++)
        md_item(&p->md, "New warning, line %d: %s", d->warnings_come[i]->at.line,
                d->warnings_come[i]->message);
    for (int i = 0; i < d->warnings_go_count; i++)
        md_item(&p->md, "Settled: %s", d->warnings_go[i]->message);
    md_end_list(&p->md);
}

static void side_row(struct page *p, const char *which, const struct difference_side *s) {
    md_cell(&p->md, "%s", which);
    md_cell(&p->md, "%.*s", MD_STR(s->recipe->name));
    md_cell(&p->md, "`%s`", s->file);
    md_cell(&p->md, "`%s`", s->results->digest);
}

void difference_markdown(struct buf *out, const struct difference *d,
                         const struct figure_list *figures) {
    static const struct md_column columns[] = {
        {"", MD_LEFT}, {"Name", MD_LEFT}, {"Recipe", MD_LEFT}, {"Digest (git blob)", MD_LEFT}};
    struct page p = {telling_of(out->arena, d), md_of(out)};
    md_heading(&p.md, 1, "What changed: %.*s", MD_STR(d->new.recipe->name));
    md_table(&p.md, columns, 4);
    side_row(&p, "Old", &d->old);
    side_row(&p, "New", &d->new);
    md_table_end(&p.md);
    if (!d->changes.count) {
        md_para(&p.md, "The same design: nothing differs but the writing.");
        return;
    }
    md_para(&p.md, "In short: **%s**.", difference_words(out->arena, d));
    changes(&p);
    drawings(&p, figures);
    if (!effect_table(&p, "What it does", false))
        md_para(&p.md, "Nothing differs by more than the bench can tell.");
    parts(&p);
    effect_table(&p, "Materials for one plug", true);
    work(&p);
    cautions(&p);
}
