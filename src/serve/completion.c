#include <string.h>

#include "emit/manual.h"
#include "model/workshop.h"
#include "serve/answer.h"
#include "serve/describe.h"
#include "serve/where.h"

/* Kinds of items of the protocol. */
enum { ITEM_FIELD = 5, ITEM_UNIT = 11, ITEM_VALUE = 12, ITEM_COLOUR = 16, ITEM_WORD = 20 };

struct offering {
    const struct answer *answer;
    struct where where;
    int count;
};

struct item {
    int kind;
    const char *label, *insert, *detail, *told; /* detail, told: NULL for none */
    size_t from, to;                            /* what it takes the place of */
};

/* --- items ------------------------------------------------------------------------------------ */

static void offer(struct offering *o, const struct item *item) {
    const struct answer *a = o->answer;
    struct json *json = a->json;
    json_open_object(json, NULL);
    json_put_text(json, "label", item->label);
    json_put_whole(json, "kind", item->kind);
    if (item->detail) json_put_text(json, "detail", item->detail);
    if (item->told) {
        json_open_object(json, "documentation");
        json_put_text(json, "kind", "markdown");
        json_put_text(json, "value", item->told);
        json_close(json);
    }
    json_put_text(json, "sortText", arena_printf(a->arena, "%04d", o->count++));
    json_put_text(json, "filterText",
                  item->kind == ITEM_UNIT || item->kind == ITEM_COLOUR ? item->insert
                                                                       : item->label);
    json_open_object(json, "textEdit");
    answer_range(a, "range", item->from, item->to);
    json_put_text(json, "newText", item->insert);
    json_close(json);
    json_close(json);
}

static void offer_value(struct offering *o, int kind, const char *text, const char *detail,
                        const char *told) {
    const struct item item = {kind, text, text, detail, told, o->where.from, o->where.to};
    offer(o, &item);
}

/* --- keys ------------------------------------------------------------------------------------- */

static bool is_given(const struct offering *o, const char *key) {
    struct str text = o->answer->document->text;
    struct str own = {text.data + o->where.from, o->where.to - o->where.from};
    for (int i = 0; i < o->where.given_count; i++)
        if (str_is(o->where.given[i], key) && !str_equal(o->where.given[i], own)) return true;
    return false;
}

/* A colon stands there already where a key is written anew. */
static const char *colon(const struct offering *o, const struct field *f) {
    struct str text = o->answer->document->text;
    if (o->where.to < text.size && text.data[o->where.to] == ':') return "";
    return grammar_is_leaf(f) || o->where.flow ? ": " : ":";
}

static void offer_keys(struct offering *o) {
    struct arena *arena = o->answer->arena;
    const struct part *part = o->where.part;
    for (int i = 0; part && i < part->field_count; i++) {
        const struct field *f = &part->fields[i];
        if (is_given(o, f->key)) continue;
        const struct item item = {.kind = ITEM_FIELD,
                                  .label = f->key,
                                  .insert = arena_printf(arena, "%s%s", f->key, colon(o, f)),
                                  .detail = manual_kind(f),
                                  .told = describe_field(arena, part, f),
                                  .from = o->where.from,
                                  .to = o->where.to};
        offer(o, &item);
    }
}

/* --- values ----------------------------------------------------------------------------------- */

static void offer_words(struct offering *o, const struct field *f) {
    const char *word;
    for (int row = 0; (f->row_name || f->words) && (word = grammar_word(f, row)); row++)
        if (*word)
            offer_value(o, ITEM_WORD, word, NULL,
                        describe_word(o->answer->arena, o->where.part, f, row));
}

/* A name of the recipe or the workshop, which is free text. */
static void offer_name(struct offering *o, struct str name, const char *detail) {
    struct arena *arena = o->answer->arena;
    if (!name.size) return;
    const char *plain = diag_clean(arena, arena_copy(arena, name.data, name.size));
    bool bare = !strpbrk(plain, ":#{}[],&*!|>'\"%@`?-") && strcmp(plain, "none") != 0;
    const struct item item = {.kind = ITEM_VALUE,
                              .label = plain,
                              .insert = bare ? plain : arena_printf(arena, "'%s'", plain),
                              .detail = detail,
                              .from = o->where.from,
                              .to = o->where.to};
    if (bare || !strchr(plain, '\'')) offer(o, &item);
}

#define OFFER_NAMES(list, count) \
    for (int i = 0; i < (count); i++) offer_name(o, (list)[i].name, "the workshop's")

static void offer_own(struct offering *o, const struct field *f) {
    const struct workshop *shop = o->answer->document->compilation.workshop;
    struct str key = str_of(f->key);
    if (!shop || str_is(str_of(o->where.part->id), "workshop")) return;
    if (f->kind == FIELD_SPECIES) OFFER_NAMES(shop->woods, shop->own_wood_count);
    if (str_is(key, "colour")) OFFER_NAMES(shop->paints, shop->own_paint_count);
    if (!str_is(key, "name")) return;
    if (o->where.part == &grammar_parts[PART_seal]) OFFER_NAMES(shop->sealers, shop->seal_count);
    if (o->where.part == &grammar_parts[PART_topcoat])
        OFFER_NAMES(shop->topcoats, shop->topcoat_count);
}

/* The colours that the recipe has already, as it wrote them. */
static void offer_colours(struct offering *o) {
    const struct recipe *recipe = o->answer->document->compilation.recipe;
    const struct paint *paint = recipe && recipe->finish ? recipe->finish->paint : NULL;
    for (int i = 0; paint && i < paint->layer_count; i++) {
        const struct layer *layer = &paint->layers[i];
        if (!layer->hex_given) continue;
        const char *hex = arena_printf(o->answer->arena, "\"#%06X\"", layer->hex);
        offer_value(o, ITEM_COLOUR, hex,
                    diag_clean(o->answer->arena, arena_copy(o->answer->arena, layer->colour.data,
                                                            layer->colour.size)),
                    NULL);
    }
}

/* Behind a number the units; what was begun of one gives way. */
static void offer_units(struct offering *o, const struct field *f) {
    struct arena *arena = o->answer->arena;
    const char *text = o->answer->document->text.data;
    size_t word = o->where.word, to = o->where.to;
    bool number =
        word < to && (strchr("0123456789", text[word]) || (unsigned char)text[word] >= 128);
    const struct unit *unit;
    for (int i = 0; (unit = dimension_unit_at(f->dimension, i)); i++) {
        const char *with =
            number ? arena_printf(arena, "%.*s %s", (int)(to - word), text + word, unit->name)
                   : unit->name;
        const struct item item = {ITEM_UNIT, unit->name, with, NULL, NULL, word, to};
        offer(o, &item);
    }
}

static bool has_number(const struct offering *o) {
    const char *text = o->answer->document->text.data;
    for (size_t i = o->where.from; i < o->where.to; i++)
        if (text[i] >= '0' && text[i] <= '9') return true;
    return false;
}

static bool is_quantity(const struct field *f) {
    return f->kind == FIELD_QUANTITY || f->kind == FIELD_OPT || f->kind == FIELD_QUANTITIES ||
           f->kind == FIELD_SOLVABLE || f->kind == FIELD_POSITION;
}

static void offer_values(struct offering *o) {
    const struct field *f = o->where.field;
    if (!f) return;
    offer_own(o, f);
    offer_words(o, f);
    if (f->kind == FIELD_HEX) offer_colours(o);
    if (f->kind == FIELD_FLAG) {
        offer_value(o, ITEM_WORD, "true", NULL, NULL);
        offer_value(o, ITEM_WORD, "false", NULL, NULL);
    }
    if (is_quantity(f) && has_number(o)) {
        offer_units(o, f);
        return;
    }
    if (f->kind == FIELD_SOLVABLE || f->kind == FIELD_LOAD)
        offer_value(o, ITEM_WORD, "solve", "left to the compiler", NULL);
    bool word = f->row_name || f->words || f->kind == FIELD_FLAG;
    if (f->fallback && !word) offer_value(o, ITEM_VALUE, f->fallback, "the default", NULL);
}

void answer_completion(const struct answer *a, size_t at) {
    document_compiled(a->document); /* for the names in it */
    struct offering o = {.answer = a, .where = where_find(a->arena, a->document->text, at)};
    json_open_object(a->json, "result");
    json_put_flag(a->json, "isIncomplete", true); /* units follow the number that is written */
    json_open_list(a->json, "items");
    if (o.where.value)
        offer_values(&o);
    else
        offer_keys(&o);
    json_close(a->json);
    json_close(a->json);
}
