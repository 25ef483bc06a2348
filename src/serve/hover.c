#include "emit/manual.h"
#include "serve/answer.h"
#include "serve/describe.h"
#include "serve/where.h"

static struct str between(const struct answer *a, const struct where *where) {
    return str_trim((struct str){a->document->text.data + where->from, where->to - where->from});
}

void answer_hover(const struct answer *a, size_t at) {
    struct where where = where_find(a->arena, a->document->text, at);
    struct buf text = {.arena = a->arena};
    const struct field *field = where.field;
    if (!field) {
        json_put_null(a->json, "result");
        return;
    }
    buf_printf(&text, "**%s**, %s\n\n%s", field->key, manual_kind(field),
               describe_field(a->arena, where.part, field));
    bool words = where.value && (field->row_name || field->words);
    int row = words ? grammar_word_find(field, between(a, &where)) : -1;
    const char *told = row < 0 ? NULL : describe_word(a->arena, where.part, field, row);
    if (told) buf_printf(&text, "\n\n%s: %s.", grammar_word(field, row), told);
    json_open_object(a->json, "result");
    json_open_object(a->json, "contents");
    json_put_text(a->json, "kind", "markdown");
    json_put_text(a->json, "value", text.data);
    json_close(a->json);
    answer_range(a, "range", where.from, where.to);
    json_close(a->json);
}
