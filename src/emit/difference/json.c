/* A difference as JSON (docs/git.md): millimetres, grams, degrees, minutes, as in the report; null
 * where a value does not exist. */
#include <jansson.h>
#include <math.h>

#include "emit/difference/inner.h"
#include "model/reference.h"

enum { DIGITS = 12 };

static json_t *number(double value) {
    if (!isfinite(value)) return json_null();
    return json_real(value == 0 ? 0 : value); /* never -0 */
}

static json_t *string(const char *text) {
    return text ? json_string(text) : json_null();
}

static void put(json_t *object, const char *key, json_t *value) {
    json_object_set_new(object, key, value);
}

static json_t *side(struct arena *arena, const struct difference_side *s) {
    json_t *o = json_object();
    put(o, "file", string(diag_clean(arena, s->file)));
    put(o, "name", json_stringn(s->recipe->name.data, s->recipe->name.size));
    put(o, "digest", string(s->results->digest));
    put(o, "state", json_string(float_state_name(s->results->finished.state)));
    put(o, "sittings", json_integer(s->sittings.all));
    return o;
}

static json_t *changes(const struct change_list *list) {
    static const char *const kinds[] = {"value", "shifted", "added", "removed", "reordered"};
    json_t *array = json_array();
    for (int i = 0; i < list->count; i++) {
        const struct change *c = &list->items[i];
        json_t *o = json_object();
        put(o, "path", string(c->path));
        put(o, "kind", json_string(kinds[c->kind]));
        if (c->item) put(o, "item", string(c->item));
        if (c->behind) put(o, "behind", string(c->behind));
        put(o, "old", string(c->old_value));
        put(o, "new", string(c->new_value));
        json_array_append_new(array, o);
    }
    return array;
}

static json_t *effects(const struct difference *d) {
    json_t *array = json_array();
    for (int i = 0; i < d->effects.count; i++) {
        const struct effect *e = &d->effects.items[i];
        struct effect_unit unit = effect_unit_of(e->any->kind);
        double before = e->before ? e->before->value / unit.scale : NAN;
        double after = e->after ? e->after->value / unit.scale : NAN;
        json_t *o = json_object();
        put(o, "result", string(e->any->path));
        put(o, "unit", string(unit.name));
        put(o, "old", number(before));
        put(o, "new", number(after));
        put(o, "difference", number(after - before));
        json_array_append_new(array, o);
    }
    return array;
}

static json_t *steps(double reserve, double attitude) {
    json_t *o = json_object();
    put(o, "reserve_percent", number(reserve * 100));
    put(o, "attitude_deg", number(attitude / effect_unit_of(EFFECT_ANGLE).scale));
    return o;
}

/* Differences from the old recipe: as its loads come out, and with the old loads left in. */
static json_t *parts(const struct difference *d) {
    const struct single *was = &d->old.afloat;
    json_t *array = json_array();
    for (int i = 0; i < d->part_count; i++) {
        const struct single *is = &d->parts[i].alone;
        bool kept = is->kept && !is->failure;
        json_t *o = is->failure ? json_object()
                                : steps(is->reserve - was->reserve, is->attitude - was->attitude);
        if (!is->failure) put(o, "ballast_g", number((is->ballast - was->ballast) * 1e3));
        put(o, "part", string(d->parts[i].name));
        put(o, "old_loads",
            kept ? steps(is->with_before.reserve - was->reserve,
                         is->with_before.attitude - was->attitude)
                 : json_null());
        put(o, "failure", string(is->failure));
        json_array_append_new(array, o);
    }
    return array;
}

static json_t *operations(const struct rework_list *list) {
    static const char *const kinds[] = {"comes", "goes", "moves", "retimed"};
    json_t *array = json_array();
    for (int i = 0; i < list->count; i++) {
        const struct rework *r = &list->items[i];
        const struct operation *before = r->before, *now = r->now, *any = now ? now : before;
        json_t *o = json_object();
        put(o, "id", string(any->id));
        put(o, "title", string(any->title));
        put(o, "kind", json_string(kinds[r->kind]));
        put(o, "behind", string(r->behind ? r->behind->title : NULL));
        put(o, "old_hands_on_min", before ? number(r->hands_before / 60) : json_null());
        put(o, "new_hands_on_min", now ? number(r->hands_now / 60) : json_null());
        put(o, "old_wait_min", before ? number(r->wait_before / 60) : json_null());
        put(o, "new_wait_min", now ? number(r->wait_now / 60) : json_null());
        json_array_append_new(array, o);
    }
    return array;
}

static json_t *caution_ids(unsigned bits) {
    json_t *array = json_array();
    for (int i = 0; i < CAUTION_COUNT; i++)
        if (bits & 1u << i) json_array_append_new(array, json_string(reference_caution[i].id));
    return array;
}

static json_t *warnings(const struct diag **list, int count) {
    json_t *array = json_array();
    for (int i = 0; i < count; i++) {
        json_t *o = json_object();
        put(o, "rule", string(list[i]->rule));
        put(o, "line", json_integer(list[i]->at.line));
        put(o, "message", string(list[i]->message));
        json_array_append_new(array, o);
    }
    return array;
}

static json_t *come_and_go(json_t *come, json_t *go) {
    json_t *o = json_object();
    put(o, "come", come);
    put(o, "go", go);
    return o;
}

static int write_bytes(const char *bytes, size_t size, void *out) {
    buf_bytes(out, bytes, size);
    return 0;
}

void difference_json(struct buf *out, const struct difference *d) {
    json_t *root = json_object();
    put(root, "old", side(out->arena, &d->old));
    put(root, "new", side(out->arena, &d->new));
    put(root, "changes", changes(&d->changes));
    put(root, "effects", effects(d));
    put(root, "alone", parts(d));
    put(root, "operations", operations(&d->rework));
    put(root, "cautions", come_and_go(caution_ids(d->cautions_come), caution_ids(d->cautions_go)));
    put(root, "warnings",
        come_and_go(warnings(d->warnings_come, d->warnings_come_count),
                    warnings(d->warnings_go, d->warnings_go_count)));
    put(root, "words", string(d->changes.count ? difference_words(out->arena, d) : ""));
    json_dump_callback(root, write_bytes, out, JSON_INDENT(2) | JSON_REAL_PRECISION(DIGITS));
    buf_char(out, '\n');
    json_decref(root);
}
