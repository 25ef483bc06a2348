/* What is told of a key and of a word that may stand there, from the grammar's rows alone: it may
 * be shown as Markdown, since no text of a recipe gets into it.
 */
#include "serve/describe.h"

#include "emit/manual.h"
#include "model/reference.h"

const char *describe_field(struct arena *arena, const struct part *part,
                           const struct field *field) {
    struct buf out = {.arena = arena}, range = {.arena = arena};
    buf_printf(&out, "%s.", field->doc);
    manual_range(&range, field);
    if (range.size) buf_printf(&out, "\n\nRange: %s.", range.data);
    if (*manual_fallback(field)) buf_printf(&out, "\n\nDefault: %s.", manual_fallback(field));
    if (grammar_required(field)) buf_text(&out, "\n\nIt must be given.");
    buf_printf(&out, "\n\nExample: `%s: %s`", field->key, grammar_example(arena, part, field));
    return out.data;
}

static const char *dense(struct arena *arena, double density, const char *source) {
    return arena_printf(arena, "%.3g g/cm³ (%s)", density / 1000, source);
}

static const char *of_wood(struct arena *arena, const struct wood_row *wood) {
    return arena_printf(arena, "*%s*, %s specific gravity %.2f, spread %.0f %% (%s)", wood->latin,
                        wood->basic ? "basic" : "at 12 % moisture", wood->gravity,
                        wood->spread * 100, wood->source);
}

const char *describe_word(struct arena *arena, const struct part *part, const struct field *field,
                          int row) {
    bool kind = field->kind == FIELD_CHOICE && str_is(str_of(field->key), "kind");
    if (field->row_name == reference_wood_name) return of_wood(arena, &reference_wood[row]);
    if (field->row_name == reference_ballast_name || field->row_name == reference_wire_metal_name)
        return dense(arena, reference_metal[row].density, reference_metal[row].source);
    if (field->row_name == reference_sheet_name)
        return dense(arena, reference_sheet[row].density, reference_sheet[row].source);
    if (kind && part == &grammar_parts[PART_seal])
        return arena_printf(arena, "its figures: %s", reference_seal[row].source);
    if (kind && part == &grammar_parts[PART_topcoat])
        return arena_printf(arena, "its figures: %s", reference_topcoat[row].source);
    return NULL;
}
