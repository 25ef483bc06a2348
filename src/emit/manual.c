#include "emit/manual.h"

#include "emit/write/roff.h"
#include "model/grammar.h"

/* What may be written. */

static void range_quantity(struct buf *out, const struct field *f) { /* in the dimension's unit */
    buf_printf(out, "%s to %s", quantity_show(out->arena, f->min, f->dimension, NULL, 6),
               quantity_show(out->arena, f->max, f->dimension, NULL, 6));
}

static void range_solvable(struct buf *out, const struct field *f) {
    range_quantity(out, f);
    buf_text(out, ", or `solve`");
}

static void range_quantities(struct buf *out, const struct field *f) {
    range_quantity(out, f);
    buf_printf(out, ", or a list of up to %d", f->most);
}

static void range_position(struct buf *out, const struct field *f) {
    (void)f;
    buf_text(out, "on the body");
}

static void range_integer(struct buf *out, const struct field *f) {
    buf_printf(out, "%g to %g", f->min, f->max);
}

static void range_flag(struct buf *out, const struct field *f) {
    (void)f;
    buf_text(out, "true, false");
}

static void range_text(struct buf *out, const struct field *f) {
    buf_printf(out, "up to %g characters", f->max);
}

static void range_words(struct buf *out, const struct field *f) {
    buf_text(out, grammar_words(out->arena, f));
}

static void range_items(struct buf *out, const struct field *f) {
    buf_printf(out, "%g to %g items", f->min, f->max);
}

static const struct {
    enum field_kind kind;
    const char *name; /* NULL: of the dimension, or of the part */
    void (*put_range)(struct buf *out, const struct field *field);
} kinds[FIELD_KINDS] = {
#define KIND(id, ...)   [FIELD_##id] = {.kind = FIELD_##id, __VA_ARGS__},
#define IS(text)        .name = text,
#define RANGE(function) .put_range = function,
#include "model/kind.def"
};

const char *manual_kind(const struct field *f) {
    if (kinds[f->kind].name) return kinds[f->kind].name;
    return grammar_is_leaf(f) ? dimension_name(f->dimension) : grammar_parts[f->part].name;
}

void manual_range(struct buf *out, const struct field *f) {
    if (kinds[f->kind].put_range) kinds[f->kind].put_range(out, f);
}

const char *manual_fallback(const struct field *f) {
    return f->fallback ? f->fallback : f->kinds ? "by kind" : "";
}

/* What may be left out, and stands in the row of the kind then. */
static void put_kinds(struct buf *out, const struct part *part) {
    const char *const *words = NULL;
    for (int i = 0; i < part->field_count; i++)
        if (part->fields[i].kinds) words = part->fields[i].kinds;
    if (!words) return;
    struct buf rule = {.arena = out->arena};
    buf_text(out, "\n| by kind |");
    buf_text(&rule, "| --- |");
    for (int i = 0; i < part->field_count; i++) {
        if (!part->fields[i].kinds) continue;
        buf_printf(out, " %s |", part->fields[i].key);
        buf_text(&rule, " --- |");
    }
    buf_printf(out, "\n%s\n", rule.data);
    for (int kind = 0; words[kind]; kind++) {
        buf_printf(out, "| %s |", words[kind]);
        for (int i = 0; i < part->field_count; i++) {
            const struct field *f = &part->fields[i];
            const char *text = f->kinds ? f->by_kind(kind) : NULL;
            if (f->kinds) buf_printf(out, " %s |", text ? text : "-");
        }
        buf_char(out, '\n');
    }
}

static void put_part(struct buf *out, const struct part *part) {
    buf_printf(out,
               "\n## %s\n\n| key | is | range | default | what it says | example |\n"
               "| --- | --- | --- | --- | --- | --- |\n",
               part->name);
    for (int i = 0; i < part->field_count; i++) {
        const struct field *f = &part->fields[i];
        buf_printf(out, "| `%s`%s | %s | ", f->key, grammar_required(f) ? " •" : "",
                   manual_kind(f));
        manual_range(out, f);
        buf_printf(out, " | %s | %s | `%s: %s` |\n", manual_fallback(f), f->doc, f->key,
                   grammar_example(out->arena, part, f));
    }
    put_kinds(out, part);
}

void manual_emit(struct buf *out) {
    buf_text(out, "# The fields of a recipe\n\n"
                  "Written by `plugwright tables fields` from the rows that the program itself "
                  "reads. A • marks keys that must be given; a † marks defaults that are common "
                  "practice in the trade, not published. A workshop's file, which recipes name by "
                  "`workshop`, has its fields behind those of a recipe.\n");
    for (int part = 0; part < PART_COUNT; part++) put_part(out, &grammar_parts[part]);
}

/* --- plugwright-recipe(5) ------------------------------------------------------------------- */

static void man_field(struct buf *out, const struct part *part, const struct field *f) {
    struct buf range = {.arena = out->arena};
    buf_printf(out, ".It Cm %s :", f->key);
    roff_argument(out, manual_kind(f));
    buf_text(out, grammar_required(f) ? " Pq must be given\n" : "\n");
    roff_line(out, arena_printf(out->arena, "%s.", f->doc));
    manual_range(&range, f);
    if (range.size) roff_line(out, arena_printf(out->arena, "Range: %s.", range.data));
    const char *fallback = manual_fallback(f);
    if (*fallback) roff_line(out, arena_printf(out->arena, "Default: %s.", fallback));
    roff_line(out, arena_printf(out->arena, "Example: %s: %s", f->key,
                                grammar_example(out->arena, part, f)));
}

void manual_man(struct buf *out) {
    buf_text(out,
             ".Dd " MANUAL_DATE "\n.Dt PLUGWRIGHT-RECIPE 5\n.Os\n.Sh NAME\n"
             ".Nm plugwright-recipe\n.Nd recipe of a wooden plug\n.Sh DESCRIPTION\n"
             "A recipe is a file in YAML that begins with\n.Ql recipe: 1 .\n"
             "Its fields and those of the parts that it is made of follow; a workshop's file,\n"
             "which recipes name by\n.Cm workshop ,\nhas its own behind them.\n"
             "Quantities are written with their unit, such as\n.Ql 95 mm\nor\n"
             ".Ql 3 3/4 in .\nA\n.Sq †\nmarks defaults that are common practice in the\n"
             "trade, not published.\n");
    for (int i = 0; i < PART_COUNT; i++) {
        const struct part *part = &grammar_parts[i];
        buf_text(out, ".Ss");
        roff_argument(out, part->name);
        buf_text(out, "\n.Bl -tag -width Ds\n");
        for (int k = 0; k < part->field_count; k++) man_field(out, part, &part->fields[k]);
        buf_text(out, ".El\n");
    }
    buf_text(out, ".Sh SEE ALSO\n.Xr plugwright 1\n");
}
