/* What a change does by itself is found by grafting it into the old recipe and weighing that anew.
 */
#include "command/compare.h"

#include <math.h>
#include <string.h>

#include "compute/implied.h"
#include "model/graft.h"

struct comparer {
    struct arena *arena;
    const struct compilation *old, *new;
    struct difference d;
};

static struct walk walk_of(struct arena *arena, const struct compilation *c) {
    return (struct walk){
        .arena = arena, .recipe = c->recipe, .implied = implied_values(arena, &c->results)};
}

/* --- each change alone ----------------------------------------------------------------------- */

/* The load that every bore of a recipe had in the old one; its bores are those of one of the two.
 */
static void loads_before(const struct comparer *c, const struct recipe *recipe,
                         double load[MAX_BORES]) {
    const struct ballast_result *old = &c->old->results.ballast;
    const struct ballast *new = c->new->recipe->ballast;
    bool from_new = recipe->ballast && new && recipe->ballast->bores == new->bores;
    for (int i = 0; i < MAX_BORES; i++) {
        int before = from_new ? c->d.changes.bore_before[i] : i;
        load[i] = before >= 0 && before < old->bore_count ? old->fills[before].load : NAN;
    }
}

static struct single afloat(const struct comparer *c, const struct compilation *side) {
    double load[MAX_BORES];
    loads_before(c, side->recipe, load);
    return single_in(c->arena, &side->results, load);
}

static struct single weigh(const struct comparer *c, const struct recipe *recipe) {
    double load[MAX_BORES];
    loads_before(c, recipe, load);
    return single_of(c->arena, recipe, load);
}

static bool same_section(const struct change_group *a, const struct change_group *b) {
    return a->depth && b->depth && a->way[0] == b->way[0];
}

static struct difference_part whole_section(const struct comparer *c,
                                            const struct change_group *group, bool *told) {
    const struct recipe *recipe = c->old->recipe;
    const char *name = "";
    for (int i = 0; i < c->d.changes.group_count; i++) {
        const struct change_group *other = &c->d.changes.groups[i];
        if (!same_section(other, group)) continue;
        recipe = graft(c->arena, recipe, c->new->recipe, other);
        name = arena_printf(c->arena, "%s%s%s", name, *name ? ", " : "", other->name);
        told[i] = true;
    }
    return (struct difference_part){name, weigh(c, recipe)};
}

static struct difference_part one_part(const struct comparer *c, int index, bool *told) {
    const struct change_group *group = &c->d.changes.groups[index];
    const struct recipe *recipe = graft(c->arena, c->old->recipe, c->new->recipe, group);
    struct difference_part part = {group->name, weigh(c, recipe)};
    told[index] = true;
    return part.alone.failure ? whole_section(c, group, told) : part;
}

/* The recipe's own values (its name, its note) have no weight. */
static void weigh_parts(struct comparer *c) {
    const struct change_list *list = &c->d.changes;
    bool *told = NEW(c->arena, bool, list->group_count);
    c->d.parts = NEW(c->arena, struct difference_part, list->group_count);
    for (int i = 0; i < list->group_count; i++)
        if (list->groups[i].depth && !told[i]) c->d.parts[c->d.part_count++] = one_part(c, i, told);
}

/* --- warnings -------------------------------------------------------------------------------- */

static bool has_warning(const struct diags *diags, const struct diag *wanted) {
    for (int i = 0; i < diags->count; i++)
        if (strcmp(diags->items[i].rule, wanted->rule) == 0 &&
            strcmp(diags->items[i].message, wanted->message) == 0)
            return true;
    return false;
}

/* Warnings of the one that the other has not. */
static const struct diag **warnings_beyond(struct arena *arena, const struct diags *diags,
                                           const struct diags *others, int *count) {
    const struct diag **list = NEW(arena, const struct diag *, diags->count);
    for (int i = 0; i < diags->count && i < DIAGS_SHOWN; i++)
        if (!has_warning(others, &diags->items[i])) list[(*count)++] = &diags->items[i];
    return list;
}

/* --- all of it ------------------------------------------------------------------------------- */

static struct difference_side side_of(struct arena *arena, const struct compilation *c) {
    return (struct difference_side){
        .file = c->path,
        .recipe = c->recipe,
        .results = &c->results,
        .diags = &c->diags,
        .values = effect_values_of(arena, &c->results),
        .sittings = rework_sittings(arena, &c->results),
    };
}

/* Costs in two currencies cannot be compared. */
static void drop_cost(struct effect_list *effects) {
    int kept = 0;
    for (int i = 0; i < effects->count; i++) {
        const struct effect *e = &effects->items[i];
        if (e->any->kind != SHOWN_MONEY) effects->items[kept++] = *e;
    }
    effects->count = kept;
}

struct difference compare(struct arena *arena, const struct compilation *old,
                          const struct compilation *new) {
    struct comparer c = {.arena = arena, .old = old, .new = new};
    struct difference *d = &c.d;
    d->old = side_of(arena, old);
    d->new = side_of(arena, new);
    d->changes = change_between(walk_of(arena, old), walk_of(arena, new));
    d->old.afloat = afloat(&c, old);
    d->new.afloat = afloat(&c, new);
    weigh_parts(&c);
    d->effects = effect_between(arena, &d->old.values, &d->new.values);
    if (!str_equal(old->recipe->currency, new->recipe->currency)) drop_cost(&d->effects);
    d->rework = rework_between(arena, &old->results, &new->results);
    unsigned before = rework_cautions(&old->results), after = rework_cautions(&new->results);
    d->cautions_come = after & ~before;
    d->cautions_go = before & ~after;
    d->warnings_come = warnings_beyond(arena, &new->diags, &old->diags, &d->warnings_come_count);
    d->warnings_go = warnings_beyond(arena, &old->diags, &new->diags, &d->warnings_go_count);
    return c.d;
}
