/* What the text is made of: the parts of the recipe, the colours in it, the files that it names. */
#include <string.h>

#include "model/grammar.h"
#include "serve/answer.h"
#include "system/path.h"

/* Kinds of symbols of the protocol. */
enum { SYMBOL_PROPERTY = 7, SYMBOL_ARRAY = 18, SYMBOL_OBJECT = 19 };

/* --- parts ------------------------------------------------------------------------------------ */

static const char *plain(const struct answer *a, struct str text) {
    return diag_clean(a->arena, arena_copy(a->arena, text.data, text.size));
}

/* The bytes of a value with all that it holds, of those that are written in this text. */
static bool extent(const struct answer *a, const struct node *node, size_t *from, size_t *to) {
    bool found = document_bytes(a->document, node->at, from, to);
    for (const struct node *child = node->first; child; child = child->next) {
        size_t first, last;
        if (!extent(a, child, &first, &last)) continue;
        if (!found || first < *from) *from = first;
        if (!found || last > *to) *to = last;
        found = true;
    }
    return found;
}

/* An item is called by what it says first, or by its number. */
static const char *item_name(const struct answer *a, const struct node *item, int number) {
    static const char *const keys[] = {"name", "colour", "place", "at", "size", "add", "change"};
    if (item->kind == NODE_SCALAR) return plain(a, item->text);
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++) {
        const struct node *child = item->kind == NODE_MAPPING ? tree_find(item, keys[i]) : NULL;
        if (child && child->kind == NODE_SCALAR && child->text.size)
            return arena_printf(a->arena, "%d: %s", number, plain(a, child->text));
    }
    return arena_printf(a->arena, "%d", number);
}

static void put_symbols(const struct answer *a, const struct node *of);

static void put_symbol(const struct answer *a, const struct node *node, const char *name) {
    size_t from, to, key_from, key_to;
    if (!extent(a, node, &from, &to)) return;
    bool keyed = node->key.size && document_bytes(a->document, node->key_at, &key_from, &key_to);
    if (!keyed) key_from = from, key_to = from;
    if (keyed && key_from < from) from = key_from;
    json_open_object(a->json, NULL);
    json_put_text(a->json, "name", name);
    json_put_whole(a->json, "kind",
                   node->kind == NODE_MAPPING    ? SYMBOL_OBJECT
                   : node->kind == NODE_SEQUENCE ? SYMBOL_ARRAY
                                                 : SYMBOL_PROPERTY);
    if (node->kind == NODE_SCALAR && node->key.size)
        json_put_text(a->json, "detail", plain(a, node->text));
    answer_range(a, "range", from, to < key_to ? key_to : to);
    answer_range(a, "selectionRange", key_from, key_to);
    json_open_list(a->json, "children");
    put_symbols(a, node);
    json_close(a->json);
    json_close(a->json);
}

static void put_symbols(const struct answer *a, const struct node *of) {
    int number = 0;
    for (const struct node *child = of->first; child; child = child->next) {
        number++;
        bool keyed = of->kind == NODE_MAPPING;
        put_symbol(a, child, keyed ? plain(a, child->key) : item_name(a, child, number));
    }
}

void answer_symbols(const struct answer *a) {
    const struct node *root = document_compiled(a->document)->document.root;
    json_open_list(a->json, "result");
    if (root) put_symbols(a, root);
    json_close(a->json);
}

/* --- colours ---------------------------------------------------------------------------------- */

static void put_colour(const struct answer *a, const struct node *node) {
    static const char *const channels[] = {"red", "green", "blue"};
    size_t from, to;
    unsigned value = 0;
    if (!str_is(node->key, "hex") || node->text.size != 7 || node->text.data[0] != '#') return;
    if (!document_bytes(a->document, node->at, &from, &to)) return;
    for (size_t i = 1; i < 7; i++) {
        static const char digits[] = "0123456789abcdef";
        const char *digit = strchr(digits, node->text.data[i] | 0x20);
        if (!digit || !*digit) return;
        value = value * 16 + (unsigned)(digit - digits);
    }
    json_open_object(a->json, NULL);
    answer_range(a, "range", from, to);
    json_open_object(a->json, "color");
    for (int i = 0; i < 3; i++)
        json_put_number(a->json, channels[i], (value >> (16 - 8 * i) & 255) / 255.0);
    json_put_whole(a->json, "alpha", 1);
    json_close(a->json);
    json_close(a->json);
}

static void put_colours(const struct answer *a, const struct node *of) {
    for (const struct node *child = of->first; child; child = child->next)
        if (child->kind == NODE_SCALAR)
            put_colour(a, child);
        else
            put_colours(a, child);
}

void answer_colours(const struct answer *a) {
    const struct node *root = document_compiled(a->document)->document.root;
    json_open_list(a->json, "result");
    if (root) put_colours(a, root);
    json_close(a->json);
}

/* --- files ------------------------------------------------------------------------------------ */

/* The file that a value names: it was read, so it is where it may be. */
static const char *named_file(const struct answer *a, const struct node *name) {
    const struct document *d = &a->document->compilation.document;
    struct str own = str_of(path_name(arena_copy(a->arena, name->text.data, name->text.size)));
    for (int i = 1; i < d->source_count; i++)
        if (str_is(own, path_name(d->sources[i]->file.name)))
            return path_real(a->arena, d->sources[i]->file.name);
    return NULL;
}

static void put_beginning(struct json *json) {
    static const char *const ends[] = {"start", "end"};
    json_open_object(json, "range");
    for (int i = 0; i < 2; i++) {
        json_open_object(json, ends[i]);
        json_put_whole(json, "line", 0);
        json_put_whole(json, "character", 0);
        json_close(json);
    }
    json_close(json);
}

void answer_definition(const struct answer *a, size_t at) {
    static const char *const keys[] = {"base", "workshop"};
    const struct node *root = document_compiled(a->document)->document.root;
    for (int i = 0; root && i < 2; i++) {
        const struct node *name = tree_find(root, keys[i]);
        size_t from, to, key_from, key_to;
        if (!name || name->kind != NODE_SCALAR) continue;
        if (!document_bytes(a->document, name->at, &from, &to)) continue;
        if (document_bytes(a->document, name->key_at, &key_from, &key_to)) from = key_from;
        const char *path = at >= from && at <= to ? named_file(a, name) : NULL;
        if (!path) continue;
        json_open_object(a->json, "result");
        json_put_text(a->json, "uri", document_uri(a->arena, path));
        put_beginning(a->json);
        json_close(a->json);
        return;
    }
    json_put_null(a->json, "result");
}
