#include "model/change.h"

#include <math.h>
#include <string.h>

#include "model/align.h"
#include "model/workshop.h"

struct changer {
    struct arena *arena;
    struct walk old, new;
    struct change_list out;
    struct change_group here; /* the way to what is being compared */
    int line;
};

enum {
    WRITTEN_SHOWN = 40
}; /* bytes of a value as written; longer ones are shown in their own form */

static const char *join(struct arena *arena, const char *a, const char *dot, const char *b) {
    return *a ? arena_printf(arena, "%s%s%s", a, dot, b) : b;
}

/* --- noting ---------------------------------------------------------------------------------- */

/* Opens a group for what stands at the end of the way; groups without a change are dropped. */
static void open_group(struct changer *c, bool whole) {
    struct change_list *o = &c->out;
    GROW(c->arena, o->groups, o->group_count, o->group_capacity);
    struct change_group *group = &o->groups[o->group_count++];
    *group = c->here;
    group->whole = whole;
    group->first = o->count;
    group->name = group->depth ? group->way[group->depth - 1]->key : "recipe";
}

static void close_group(struct changer *c) {
    struct change_group *group = &c->out.groups[c->out.group_count - 1];
    group->count = c->out.count - group->first;
    if (!group->count) c->out.group_count--;
}

static void note(struct changer *c, struct change change) {
    struct change_list *o = &c->out;
    GROW(c->arena, o->items, o->count, o->capacity);
    change.line = c->line;
    o->items[o->count++] = change;
}

/* --- values ---------------------------------------------------------------------------------- */

static const char *shown(const struct walk *w, const struct walk_fact *fact);

/* A load piece by piece: "ball 0.310 in, count 2; mass 1 g". */
static const char *load_shown(const struct walk *w, const struct walk_fact *load) {
    struct buf out = {.arena = w->arena};
    struct walk_items pieces = walk_items(load->field, load->object);
    for (int i = 0; i < pieces.count; i++) {
        const void *piece = pieces.first + (size_t)i * pieces.size;
        struct walk_facts facts = walk_part(w, load->field->part, piece);
        const char *join = i ? "; " : "";
        for (int k = 0; k < facts.count; k++, join = ", ")
            if (facts.items[k].written)
                buf_printf(&out, "%s%s %s", join, facts.items[k].path, shown(w, &facts.items[k]));
    }
    return out.size ? out.data : load->text;
}

/* A quantity as its author, or the grammar's default, wrote it; all else in its canonical form. */
static const char *shown(const struct walk *w, const struct walk_fact *fact) {
    struct str text = recipe_text(w->recipe, grammar_member(fact->field, fact->object));
    if (fact->field->kind == FIELD_LOAD) return load_shown(w, fact);
    struct str taken = recipe_default(w->recipe, grammar_member(fact->field, fact->object));
    if (taken.size) return taken.data;
    if (!fact->written || isnan(fact->number) || !text.size || text.size > WRITTEN_SHOWN)
        return fact->text;
    if (text.size > 1 && (text.data[0] == '"' || text.data[0] == '\'')) text.data++, text.size -= 2;
    return walk_plain(w->arena, text);
}

/* Two places are the same as lengths or, where both follow the length of the body, as shares. */
static bool same_position(const void *old, const void *new) {
    const struct position *p = old, *q = new;
    return p->share && q->share && fabs(p->value - q->value) < 1e-9;
}

static const struct {
    enum field_kind kind;
    bool (*same)(const void *old, const void *new);
} kinds[FIELD_KINDS] = {
#define KIND(id, ...)  [FIELD_##id] = {.kind = FIELD_##id, __VA_ARGS__},
#define SAME(function) .same = function,
#include "model/kind.def"
};

static bool is_same(const struct walk_fact *a, const struct walk_fact *b) {
    if (strcmp(a->text, b->text) == 0) return true;
    return kinds[a->field->kind].same &&
           kinds[a->field->kind].same(grammar_member(a->field, a->object),
                                      grammar_member(b->field, b->object));
}

/* Whether both recipes leave a figure of their wood to its row, and that of one workshop is
 * another: what was weighed anew is a change, though neither recipe says it. */
static bool weighed_anew(const struct changer *c, const struct field *field, const void *old,
                         const void *new) {
    const struct wood *a = c->old.recipe->wood, *b = c->new.recipe->wood;
    if (old != a || new != b || !a || !b || !str_equal(a->species, b->species)) return false;
    if (!workshop_wood(c->old.recipe->workshop, a->species) &&
        !workshop_wood(c->new.recipe->workshop, b->species))
        return false;
    if (grammar_member(field, a) == &a->density)
        return a->row->gravity != b->row->gravity || a->row->basic != b->row->basic;
    return grammar_member(field, a) == &a->spread && a->row->spread != b->row->spread;
}

/* Whether a leaf was changed; what both leave to the compiler was not, whatever follows from it,
 * unless a workshop weighed it anew. */
static bool leaf_changed(const struct changer *c, enum part_id part, const struct field *field,
                         const void *old, const void *new, struct walk_fact *a,
                         struct walk_fact *b) {
    bool before = walk_leaf(&c->old, part, field, old, a);
    bool after = walk_leaf(&c->new, part, field, new, b);
    if (!before) a->text = NULL;
    if (!after) b->text = NULL;
    if (!before || !after) return before != after;
    if (!a->written && !b->written && !weighed_anew(c, field, old, new)) return false;
    return !is_same(a, b);
}

/* "hook.size" to be read: "hook size". */
static const char *spaced(struct arena *arena, const char *way) {
    char *text = arena_copy(arena, way, strlen(way));
    for (char *c = text; *c; c++)
        if (*c == '.') *c = ' ';
    return text;
}

/* `way` leads from the part or the item to the value: "hook.size". */
static void compare_leaf(struct changer *c, enum part_id part, const struct field *field,
                         const void *old, const void *new, const char *item, const char *way) {
    struct walk_fact a, b;
    if (!leaf_changed(c, part, field, old, new, &a, &b)) return;
    note(c, (struct change){
                .kind = CHANGE_VALUE,
                .path = join(c->arena, c->here.path, ".", way),
                .item = item,
                .key = spaced(c->arena, way),
                .before = a.text ? shown(&c->old, &a) : NULL,
                .after = b.text ? shown(&c->new, &b) : NULL,
                .old_value = a.text,
                .new_value = b.text,
            });
}

/* --- whole parts ----------------------------------------------------------------------------- */

/* What a part or an item says for itself, `but` one field: "back 10 mm, belly 12 mm". */
static const char *summary(const struct walk *w, enum part_id part, const void *object,
                           const struct field *but) {
    struct buf out = {.arena = w->arena};
    struct walk_facts facts = walk_part(w, part, object);
    buf_text(&out, "");
    for (int i = 0; i < facts.count; i++) {
        const struct walk_fact *f = &facts.items[i];
        bool list = !grammar_is_leaf(f->field);
        if (!f->written || (but && f->field == but) || (!list && strchr(f->path, '['))) continue;
        buf_printf(&out, "%s%s %s", out.size ? ", " : "", spaced(w->arena, f->path),
                   list ? f->text : shown(w, f));
    }
    return out.data;
}

static void note_part(struct changer *c, const struct field *field, const void *old,
                      const void *new, const char *item, const char *way) {
    const char *before = old ? summary(&c->old, field->part, old, NULL) : NULL;
    const char *after = new ? summary(&c->new, field->part, new, NULL) : NULL;
    note(c, (struct change){
                .kind = old ? CHANGE_REMOVED : CHANGE_ADDED,
                .path = item ? join(c->arena, c->here.path, ".", way) : c->here.path,
                .item = item,
                .key = item ? spaced(c->arena, way) : NULL,
                .before = before,
                .after = after,
                .old_value = before,
                .new_value = after,
            });
}

/* --- items of lists -------------------------------------------------------------------------- */

/* Every item's facts, so that comparing all with all costs no formatting. */
struct bag {
    const struct walk_facts *old, *new;
};

/* 0 alike, 1 nothing in common; numbers that lie near each other are half the same. */
static double fact_distance(const struct walk_fact *a, const struct walk_fact *b) {
    if (is_same(a, b)) return 0;
    if (isnan(a->number) || isnan(b->number)) return 1;
    double most = fmax(fabs(a->number), fabs(b->number));
    return 0.3 + 0.7 * fmin(1, fabs(a->number - b->number) / most);
}

/* Four times the mean distance of what the two say, so that items of which half differs are two
 * items.  What one alone says counts in full, and the name twice. */
static double item_distance(const void *context, int old, int new) {
    const struct bag *bag = context;
    const struct walk_facts *a = &bag->old[old], *b = &bag->new[new];
    double sum = 0, weight = 0;
    int k = 0;
    for (int i = 0; i < a->count; i++) {
        int found = k;
        while (found < b->count && strcmp(b->items[found].path, a->items[i].path) != 0) found++;
        double w = i == 0 ? 2 : 1, alone = found < b->count ? found - k : 0;
        sum += alone + w * (found < b->count ? fact_distance(&a->items[i], &b->items[found]) : 1);
        weight += alone + w;
        if (found < b->count) k = found + 1;
    }
    sum += b->count - k;
    weight += b->count - k;
    return weight > 0 ? 4 * sum / weight : 0;
}

static const void *item_at(const struct walk_items *items, int index) {
    return items->first + (size_t)index * items->size;
}

static const struct walk_facts *facts_of(const struct walk *w, enum part_id part,
                                         const struct walk_items *items) {
    struct walk_facts *lists = NEW(w->arena, struct walk_facts, items->count);
    for (int i = 0; i < items->count; i++) lists[i] = walk_part(w, part, item_at(items, i));
    return lists;
}

/* "a bore": "bore". */
static const char *noun(enum part_id part) {
    const char *name = grammar_parts[part].name;
    return strncmp(name, "a ", 2) == 0 ? name + 2 : name;
}

/* How many of the items before have the same name. */
static int namesakes(const struct walk *w, enum part_id part, const struct walk_items *items,
                     int index, const char *name) {
    int count = 0;
    for (int i = 0; i < index; i++) {
        struct walk_fact other;
        count += walk_name(w, part, item_at(items, i), &other) && strcmp(other.text, name) == 0;
    }
    return count;
}

/* "station at 48 %", "belly hanger", "layer \"copper\"", "piece with mass 2 g". */
static const char *title(const struct walk *w, enum part_id part, const struct walk_items *items,
                         int index) {
    struct walk_fact name;
    if (!walk_name(w, part, item_at(items, index), &name)) return noun(part);
    int before = namesakes(w, part, items, index, name.text);
    const char *text = shown(w, &name), *again = "";
    if (before) again = arena_printf(w->arena, " (no %d)", before + 1);
    if (name.field->kind == FIELD_POSITION)
        return arena_printf(w->arena, "%s at %s%s", noun(part), text, again);
    if (name.field->kind == FIELD_CHOICE || name.field->kind == FIELD_USUAL)
        return arena_printf(w->arena, "%s %s%s", text, noun(part), again);
    if (name.field->kind == FIELD_TEXT && name.field == grammar_parts[part].fields)
        return arena_printf(w->arena, "%s \"%s\"%s", noun(part), text, again);
    return arena_printf(w->arena, "%s with %s %s%s", noun(part), name.field->key, text, again);
}

/* A list of which pairs are compared. */
struct lists {
    const struct field *field;
    struct walk_items old, new;
    const struct walk_facts *old_facts, *new_facts;
    const struct align_pair *pairs;
    int pair_count;
};

static void note_item(struct changer *c, const struct lists *l, const struct align_pair *pair) {
    bool gone = pair->new < 0;
    enum part_id part = l->field->part;
    const struct walk *w = gone ? &c->old : &c->new;
    const struct walk_items *items = gone ? &l->old : &l->new;
    int index = gone ? pair->old : pair->new;
    struct walk_fact name = {0};
    walk_name(w, part, item_at(items, index), &name);
    const char *says = summary(w, part, item_at(items, index), name.field);
    bool by_place = name.field && name.field->kind == FIELD_POSITION;
    const char *behind = !gone && index > 0 && !by_place ? title(w, part, items, index - 1) : NULL;
    c->line++;
    note(c, (struct change){
                .kind = gone ? CHANGE_REMOVED : CHANGE_ADDED,
                .path = c->here.path,
                .item = title(w, part, items, index),
                .before = gone ? says : NULL,
                .after = gone ? NULL : says,
                .old_value = gone ? says : NULL,
                .new_value = gone ? NULL : says,
                .behind = behind,
            });
}

/* Compares two items, or two parts of them, all under one title. */
static void compare_inside(struct changer *c, enum part_id part, const void *old, const void *new,
                           const char *item, const char *before) {
    const struct part *p = &grammar_parts[part];
    for (int i = 0; i < p->field_count; i++) {
        const struct field *field = &p->fields[i];
        const char *way = join(c->arena, before, ".", field->key);
        if (grammar_is_leaf(field)) {
            compare_leaf(c, part, field, old, new, item, way);
            continue;
        }
        if (field->kind == FIELD_LIST) continue; /* no item of a list has a list in it */
        const void *a = walk_sub(field, old), *b = walk_sub(field, new);
        if (a && b)
            compare_inside(c, field->part, a, b, item, way);
        else if (a || b)
            note_part(c, field, a, b, item, way);
    }
}

/* An item whose place along the body was changed has moved. */
static void mark_shift(struct changer *c, const struct lists *l, const struct align_pair *pair,
                       int first) {
    struct walk_fact name;
    if (!walk_name(&c->old, l->field->part, item_at(&l->old, pair->old), &name)) return;
    for (int i = first; i < c->out.count; i++)
        if (name.field->kind == FIELD_POSITION && strcmp(c->out.items[i].key, name.field->key) == 0)
            c->out.items[i].kind = CHANGE_SHIFTED;
}

static void compare_pair(struct changer *c, const struct lists *l, const struct align_pair *pair) {
    int first = c->out.count;
    c->line++;
    compare_inside(c, l->field->part, item_at(&l->old, pair->old), item_at(&l->new, pair->new),
                   title(&c->old, l->field->part, &l->old, pair->old), "");
    mark_shift(c, l, pair, first);
}

/* The same item, taken out here and put in there: where it was put in, or -1. */
static int reordered(const struct lists *l, const bool *told, int taken_out) {
    struct bag bag = {l->old_facts, l->new_facts};
    for (int i = 0; i < l->pair_count; i++)
        if (l->pairs[i].old < 0 && !told[i] &&
            item_distance(&bag, l->pairs[taken_out].old, l->pairs[i].new) == 0)
            return i;
    return -1;
}

static void note_reordered(struct changer *c, const struct lists *l, int old, int new) {
    const char *before = arena_printf(c->arena, "%d", old + 1);
    const char *after = arena_printf(c->arena, "%d", new + 1);
    c->line++;
    note(c, (struct change){
                .kind = CHANGE_REORDERED,
                .path = c->here.path,
                .item = title(&c->new, l->field->part, &l->new, new),
                .before = before,
                .after = after,
                .old_value = before,
                .new_value = after,
            });
}

static void remember_bores(struct changer *c, const struct lists *l) {
    for (int i = 0; i < l->pair_count; i++)
        if (l->pairs[i].new >= 0) c->out.bore_before[l->pairs[i].new] = l->pairs[i].old;
}

static void compare_list(struct changer *c, const struct field *field, const void *old,
                         const void *new) {
    struct lists l = {.field = field, .old = walk_items(field, old), .new = walk_items(field, new)};
    l.old_facts = facts_of(&c->old, field->part, &l.old);
    l.new_facts = facts_of(&c->new, field->part, &l.new);
    struct bag bag = {l.old_facts, l.new_facts};
    l.pairs = align(c->arena, l.old.count, l.new.count, item_distance, &bag, &l.pair_count);
    if (field->part == PART_bore) remember_bores(c, &l);
    bool *told = NEW(c->arena, bool, l.pair_count);
    open_group(c, true);
    for (int i = 0; i < l.pair_count; i++) {
        int to = l.pairs[i].new < 0 ? reordered(&l, told, i) : -1;
        if (to < 0) continue;
        told[i] = told[to] = true;
        note_reordered(c, &l, l.pairs[i].old, l.pairs[to].new);
    }
    for (int i = 0; i < l.pair_count; i++) {
        if (told[i]) continue;
        if (l.pairs[i].old >= 0 && l.pairs[i].new >= 0)
            compare_pair(c, &l, &l.pairs[i]);
        else
            note_item(c, &l, &l.pairs[i]);
    }
    close_group(c);
}

/* --- parts ----------------------------------------------------------------------------------- */

static void compare_part(struct changer *c, enum part_id part, const void *old, const void *new);

/* A part or a list: one step farther from the recipe. */
static void compare_branch(struct changer *c, const struct field *field, const void *old,
                           const void *new) {
    struct change_group before = c->here;
    c->here.path = join(c->arena, c->here.path, ".", field->key);
    c->here.way[c->here.depth++] = field;
    if (field->kind == FIELD_LIST) {
        compare_list(c, field, old, new);
    } else {
        const void *a = walk_sub(field, old), *b = walk_sub(field, new);
        if (a && b)
            compare_part(c, field->part, a, b);
        else if (a || b) {
            c->line++;
            open_group(c, true);
            note_part(c, field, a, b, NULL, NULL);
            close_group(c);
        }
    }
    c->here = before;
}

static void compare_part(struct changer *c, enum part_id part, const void *old, const void *new) {
    const struct part *p = &grammar_parts[part];
    open_group(c, false);
    for (int i = 0; i < p->field_count; i++) {
        if (!grammar_is_leaf(&p->fields[i])) continue;
        c->line++;
        compare_leaf(c, part, &p->fields[i], old, new, NULL, p->fields[i].key);
    }
    close_group(c);
    for (int i = 0; i < p->field_count; i++)
        if (!grammar_is_leaf(&p->fields[i]) && c->here.depth < CHANGE_DEPTH)
            compare_branch(c, &p->fields[i], old, new);
}

struct change_list change_between(struct walk old, struct walk new) {
    struct changer c = {.arena = old.arena, .old = old, .new = new, .here = {.path = ""}};
    for (int i = 0; i < MAX_BORES; i++) c.out.bore_before[i] = -1;
    compare_part(&c, PART_recipe, old.recipe, new.recipe);
    return c.out;
}
