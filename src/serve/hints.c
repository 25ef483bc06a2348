/* Beside a key what follows from it: blank, mass and reserve, solved loads, running depth. */
#include "emit/words/tow.h"
#include "emit/write/measure.h"
#include "serve/answer.h"

struct hinting {
    const struct answer *answer;
    const struct recipe *recipe;
    const struct results *results;
    int first_line, last_line;
};

/* Behind these bytes of the text, if they lie in it and on a line that was asked for. */
static void put_hint(const struct hinting *h, struct span at, const char *text) {
    const struct answer *a = h->answer;
    size_t from, to;
    if (!text || !document_bytes(a->document, at, &from, &to)) return;
    struct text_place place = document_place(a->document, to, a->encoding);
    if (place.line < h->first_line || place.line > h->last_line) return;
    json_open_object(a->json, NULL);
    json_open_object(a->json, "position");
    json_put_whole(a->json, "line", place.line);
    json_put_whole(a->json, "character", place.character);
    json_close(a->json);
    json_put_text(a->json, "label", text);
    json_put_flag(a->json, "paddingLeft", true);
    json_close(a->json);
}

/* --- what is told ------------------------------------------------------------------------------
 */

static const char *blank(const struct hinting *h) {
    const struct supply *s = &h->results->supply;
    struct arena *arena = h->answer->arena;
    enum unit_system units = h->recipe->shop->units;
    return arena_printf(arena, "blank %s × %s × %s",
                        measure_length_bare(arena, s->blank_length, units),
                        measure_length_bare(arena, s->blank_height, units),
                        measure_length(arena, s->blank_width, units));
}

static const char *finished(const struct hinting *h) {
    const struct condition *f = &h->results->finished;
    struct arena *arena = h->answer->arena;
    return arena_printf(arena, "finished %s, reserve %s",
                        measure_mass(arena, f->burden.mass, h->recipe->shop->units),
                        measure_share(arena, f->rest.reserve));
}

static const char *load(const struct hinting *h, int bore) {
    const struct ballast *b = h->recipe->ballast;
    struct arena *arena = h->answer->arena;
    if (!b || bore >= b->bore_count || !b->bores[bore].solve) return NULL;
    return measure_mass(arena, h->results->ballast.solution.load[bore], h->recipe->shop->units);
}

static const char *running(const struct hinting *h) {
    const struct running_result *r = &h->results->running;
    const struct running_speed *speed = &r->speeds[r->middle_speed];
    struct arena *arena = h->answer->arena;
    enum unit_system units = h->recipe->shop->units;
    if (!r->given || r->kind == TOW_ON_TOP || !speed->steady ||
        !speed->depth[r->middle_out].band.given)
        return NULL;
    return arena_printf(arena, "runs at %s, %s out at %s",
                        tow_band(arena, SHOWN_DEPTH, &speed->depth[r->middle_out].band, units),
                        tow_out(arena, h->recipe->running->out[r->middle_out], units),
                        tow_value(arena, SHOWN_TOW, speed->speed, units));
}

static const char *solved_lip(const struct hinting *h, bool length) {
    const struct lip *lip = h->recipe->lip;
    struct arena *arena = h->answer->arena;
    return length ? measure_length(arena, lip->length, h->recipe->shop->units)
                  : measure_angle(arena, lip->angle);
}

/* --- where --------------------------------------------------------------------------------------
 */

/* Behind a key; a colon is no part of it. */
static void at_key(const struct hinting *h, const struct node *node, const char *text) {
    if (!node) return;
    struct span behind = node->key_at;
    behind.length++;
    put_hint(h, behind, text);
}

static void at_solve(const struct hinting *h, const struct node *value, const char *text) {
    if (value && value->kind == NODE_SCALAR && str_is(value->text, "solve"))
        put_hint(h, value->at, text);
}

static void put_loads(const struct hinting *h, const struct node *ballast) {
    const struct node *bores = ballast ? tree_find(ballast, "bores") : NULL;
    int index = 0;
    for (const struct node *bore = bores ? bores->first : NULL; bore; bore = bore->next, index++)
        if (bore->kind == NODE_MAPPING) at_solve(h, tree_find(bore, "load"), load(h, index));
}

static void put_lip(const struct hinting *h, const struct node *lip) {
    if (!lip || lip->kind != NODE_MAPPING || !h->recipe->lip) return;
    at_key(h, lip, running(h));
    at_solve(h, tree_find(lip, "length"), solved_lip(h, true));
    at_solve(h, tree_find(lip, "angle"), solved_lip(h, false));
}

/* Mass and reserve stand at `ballast`; a variant that leaves that to its base has them at `base`.
 */
static void put_finished(const struct hinting *h, const struct node *root) {
    const struct node *ballast = tree_find(root, "ballast"), *base = tree_find(root, "base");
    size_t from, to;
    bool own = ballast && document_bytes(h->answer->document, ballast->key_at, &from, &to);
    if (own)
        at_key(h, ballast, finished(h));
    else if (base)
        put_hint(h, base->at, finished(h));
}

static void put_hints(const struct hinting *h, const struct node *root) {
    at_key(h, tree_find(root, "body"), blank(h));
    put_finished(h, root);
    put_loads(h, tree_find(root, "ballast"));
    put_lip(h, tree_find(root, "lip"));
}

void answer_hints(const struct answer *a, int first_line, int last_line) {
    const struct compilation *c = document_completed(a->document);
    const struct hinting h = {a, c->recipe, &c->results, first_line, last_line};
    json_open_list(a->json, "result");
    if (c->recipe && !compilation_failed(c)) put_hints(&h, c->document.root);
    json_close(a->json);
}
