#include "serve/answer.h"

/* Severities of the protocol. */
enum { SEVERITY_OF_ERROR = 1, SEVERITY_OF_WARNING = 2 };

void answer_range(const struct answer *a, const char *key, size_t from, size_t to) {
    const size_t bytes[] = {from, to};
    static const char *const ends[] = {"start", "end"};
    json_open_object(a->json, key);
    for (int i = 0; i < 2; i++) {
        struct text_place place = document_place(a->document, bytes[i], a->encoding);
        json_open_object(a->json, ends[i]);
        json_put_whole(a->json, "line", place.line);
        json_put_whole(a->json, "character", place.character);
        json_close(a->json);
    }
    json_close(a->json);
}

/* Where a base or a workshop is named that has a fault: the first line, where that is not known. */
static void find_name(const struct answer *a, size_t *from, size_t *to) {
    const struct node *root = a->document->compilation.document.root;
    const struct node *names[] = {root ? tree_find(root, "base") : NULL,
                                  root ? tree_find(root, "workshop") : NULL};
    *from = *to = 0;
    for (int i = 0; i < 2; i++)
        if (names[i] && document_bytes(a->document, names[i]->at, from, to)) return;
}

static void put_diagnostic(const struct answer *a, const struct diag *d) {
    size_t from, to;
    bool here = document_bytes(a->document, d->at, &from, &to);
    struct buf text = {.arena = a->arena};
    if (!here) {
        find_name(a, &from, &to);
        buf_printf(&text, "%s: ", diag_place(a->arena, d->at).words);
    }
    buf_text(&text, d->message);
    if (d->hint) buf_printf(&text, "\n%s", d->hint);
    json_open_object(a->json, NULL);
    answer_range(a, "range", from, to);
    json_put_whole(a->json, "severity",
                   d->severity == SEVERITY_ERROR ? SEVERITY_OF_ERROR : SEVERITY_OF_WARNING);
    json_put_text(a->json, "code", d->rule);
    json_put_text(a->json, "source", "plugwright");
    json_put_text(a->json, "message", text.data);
    json_close(a->json);
}

void answer_diagnostics(const struct answer *a) {
    int count;
    const struct diag **shown = diags_shown(&document_compiled(a->document)->diags, &count);
    json_open_list(a->json, "diagnostics");
    for (int i = 0; i < count; i++) put_diagnostic(a, shown[i]);
    json_close(a->json);
}
