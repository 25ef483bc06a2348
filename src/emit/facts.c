#include "emit/facts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "emit/words/tow.h"
#include "model/workshop.h"

struct lines {
    struct arena *arena;
    struct facts_extra *items;
    int count;
    size_t capacity;
};

static void add(struct lines *lines, const char *path, const char *value) {
    GROW(lines->arena, lines->items, lines->count, lines->capacity);
    lines->items[lines->count++] = (struct facts_extra){path, value};
}

/* By path, then by value: the order of finding is not part of a design. */
static int by_path(const void *a, const void *b) {
    const struct facts_extra *x = a, *y = b;
    int order = strcmp(x->path, y->path);
    return order ? order : strcmp(x->value, y->value);
}

static void print(struct buf *out, const struct lines *lines) {
    if (lines->count) qsort(lines->items, (size_t)lines->count, sizeof *lines->items, by_path);
    for (int i = 0; i < lines->count; i++)
        buf_printf(out, "%s = %s\n", lines->items[i].path, lines->items[i].value);
}

/* --- results --------------------------------------------------------------------------------- */

static const char *number(struct arena *arena, double value, int decimals) {
    double scale = pow(10, decimals), rounded = round(value * scale) / scale;
    return arena_printf(arena, "%.*f", decimals, rounded == 0 ? 0 : rounded); /* never -0 */
}

static const char *value_text(struct arena *arena, const struct effect_value *value,
                              struct str currency) {
    struct shown_form form = shown_exact(value->kind);
    const char *text = number(arena, unit_number(form.unit, value->value), form.decimals);
    if (value->kind == SHOWN_MONEY)
        return arena_printf(arena, "%s %s", text, walk_plain(arena, currency));
    return *form.unit->name ? arena_printf(arena, "%s %s", text, form.unit->name) : text;
}

static void add_speed(struct lines *lines, const struct running_speed *speed) {
    const char *path =
        arena_printf(lines->arena, "result.running[%s m/s]", number(lines->arena, speed->speed, 2));
    add(lines, arena_printf(lines->arena, "%s.state", path), tow_runs(speed));
    if (speed->tie_aside.band.given)
        add(lines, arena_printf(lines->arena, "%s.hold", path), tow_holds(speed));
}

/* Materials follow from the values above too closely to be worth their lines. */
static void add_results(struct lines *lines, const struct results *r) {
    struct effect_values values = effect_values_of(lines->arena, r);
    for (int i = 0; i < values.count; i++)
        if (values.items[i].group != EFFECT_MATERIAL)
            add(lines,
                arena_printf(lines->arena, "result.%s",
                             name_text(lines->arena, values.items[i].path)),
                value_text(lines->arena, &values.items[i], r->plug.recipe->currency));
    for (int i = 0; r->running.kind != TOW_ON_TOP && i < r->running.speed_count; i++)
        add_speed(lines, &r->running.speeds[i]);
    add(lines, "result.float.finished.state", name_float_states[r->finished.state]);
}

/* Of an error the line tells where to look; a warning belongs to the design, wherever it stands. */
static void add_diags(struct lines *lines, const struct diags *diags) {
    for (int i = 0; i < diags->count && i < DIAGS_SHOWN; i++) {
        const struct diag *d = &diags->items[i];
        if (d->severity == SEVERITY_WARNING && !diags->errors)
            add(lines, arena_printf(lines->arena, "result.warning[%s]", d->rule), d->message);
        else if (d->severity == SEVERITY_ERROR)
            add(lines, arena_printf(lines->arena, "error[%s]", d->rule),
                arena_printf(lines->arena, "line %d: %s", d->at.line, d->message));
    }
}

/* Which values are the workshop's, and where its wood comes from. */
static void add_workshop(struct lines *lines, const struct recipe *recipe,
                         const struct walk_facts *list) {
    const struct wood_row *own =
        recipe->wood ? workshop_wood(recipe->workshop, recipe->wood->species) : NULL;
    for (int i = 0; i < list->count; i++) {
        const struct walk_fact *fact = &list->items[i];
        const char *path = arena_printf(lines->arena, "workshop.%s", fact->path);
        if (!fact->field || !fact->object) continue;
        if (workshop_gave(recipe, grammar_member(fact->field, fact->object)))
            add(lines, path, "own workshop");
        if (own && fact->field->kind == FIELD_SPECIES && fact->object == recipe->wood)
            add(lines, path, own->source);
    }
}

void facts_emit(struct buf *out, const struct walk *walk, const struct facts_extra *extra,
                int extra_count, const struct results *results, const struct diags *diags) {
    struct lines facts = {.arena = out->arena}, found = {.arena = out->arena};
    if (walk->recipe) {
        struct walk_facts list = walk_recipe(walk);
        for (int i = 0; i < list.count; i++) add(&facts, list.items[i].path, list.items[i].text);
        if (!walk->own) add_workshop(&facts, walk->recipe, &list);
    }
    for (int i = 0; i < extra_count; i++) add(&facts, extra[i].path, extra[i].value);
    if (results) add_results(&found, results);
    add_diags(&found, diags);
    print(out, &facts);
    print(out, &found);
}
