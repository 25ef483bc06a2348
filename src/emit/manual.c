#include "emit/manual.h"

#include <string.h>

#include "model/grammar.h"

/* The range in the dimension's own unit, or the words that may be chosen. */
static void put_range(struct buf *out, const struct field *f) {
    struct arena *a = out->arena;
    switch (f->kind) {
    case FIELD_QUANTITY:
    case FIELD_OPT:
        buf_printf(out, "%s to %s", quantity_show(a, f->min, f->dimension, NULL, 6),
                   quantity_show(a, f->max, f->dimension, NULL, 6));
        break;
    case FIELD_INTEGER:
        buf_printf(out, "%g to %g", f->min, f->max);
        break;
    case FIELD_TEXT:
        buf_printf(out, "up to %g characters", f->max);
        break;
    case FIELD_CHOICE:
    case FIELD_ROW:
        buf_text(out, grammar_words(a, f));
        break;
    case FIELD_LIST:
    case FIELD_LOAD:
    case FIELD_WORDS:
        buf_printf(out, "%g to %g items", f->min, f->max);
        break;
    case FIELD_POSITION:
        buf_text(out, "on the body");
        break;
    case FIELD_FLAG:
        buf_text(out, "true, false");
        break;
    default:
        break;
    }
}

static const char *kind_name(const struct field *f) {
    switch (f->kind) {
    case FIELD_QUANTITY:
    case FIELD_OPT:
        return dimension_name(f->dimension);
    case FIELD_POSITION:
        return "a length or a share";
    case FIELD_INTEGER:
        return "a whole number";
    case FIELD_FLAG:
        return "a flag";
    case FIELD_TEXT:
        return "text";
    case FIELD_CHOICE:
        return "a word";
    case FIELD_ROW:
        return "a row of a table";
    case FIELD_PARTS:
        return "parts";
    case FIELD_HEX:
        return "a colour";
    case FIELD_MOMENT:
        return "a local time";
    case FIELD_HOURS:
        return "hours by weekday";
    case FIELD_LOAD:
        return "pieces, or solve";
    case FIELD_WORDS:
        return "a list of ids";
    case FIELD_PART:
        return grammar_parts[f->part].name;
    case FIELD_LIST:
        return "a list";
    }
    return "";
}

static void put_part(struct buf *out, const struct part *part) {
    buf_printf(out,
               "\n## %s\n\n| key | is | range | default | what it says |\n"
               "| --- | --- | --- | --- | --- |\n",
               part->name);
    for (int i = 0; i < part->field_count; i++) {
        const struct field *f = &part->fields[i];
        buf_printf(out, "| `%s`%s | %s | ", f->key, grammar_required(f) ? " •" : "", kind_name(f));
        put_range(out, f);
        buf_printf(out, " | %s | %s |\n", f->fallback ? f->fallback : "", f->doc);
    }
}

void manual_emit(struct buf *out) {
    buf_text(out, "# The fields of a recipe\n\n"
                  "Written by `plugwright tables fields` from the rows that the program itself "
                  "reads. A • marks keys that must be given; a † marks defaults that are common "
                  "practice in the trade, not published.\n");
    for (int part = 0; part < PART_COUNT; part++) put_part(out, &grammar_parts[part]);
}
