/* A difference as JSON (docs/git.md, As JSON): millimetres, grams, degrees, minutes, as in the
 * report; null where a value does not exist. */
#include <math.h>

#include "emit/difference/inner.h"
#include "emit/write/json.h"
#include "model/reference.h"

static void side(struct json *j, const char *key, const struct difference_side *s) {
    json_open_object(j, key);
    json_put_text(j, "file", diag_clean(j->arena, s->file));
    json_put_str(j, "name", s->recipe->name);
    json_put_text(j, "digest", s->results->digest);
    json_put_text(j, "state", name_float_states[s->results->finished.state]);
    json_put_whole(j, "sittings", s->sittings.all);
    json_close(j);
}

static void changes(struct json *j, const struct change_list *list) {
    static const char *const kinds[] = {"value", "shifted", "added", "removed", "reordered"};
    json_open_list(j, "changes");
    for (int i = 0; i < list->count; i++) {
        const struct change *c = &list->items[i];
        json_open_object(j, NULL);
        json_put_text(j, "path", c->path);
        json_put_text(j, "kind", kinds[c->kind]);
        if (c->item) json_put_text(j, "item", c->item);
        if (c->behind) json_put_text(j, "behind", c->behind);
        json_put_text(j, "old", c->old_value);
        json_put_text(j, "new", c->new_value);
        json_close(j);
    }
    json_close(j);
}

static void effects(struct json *j, const struct telling *t) {
    const struct difference *d = t->d;
    json_open_list(j, "effects");
    for (int i = 0; i < d->effects.count; i++) {
        const struct effect *e = &d->effects.items[i];
        const struct unit *unit = shown_exact(e->any->kind).unit;
        double before = e->before ? unit_number(unit, e->before->value) : NAN;
        double after = e->after ? unit_number(unit, e->after->value) : NAN;
        json_open_object(j, NULL);
        json_put_text(j, "result", telling_path(t, e->any));
        json_put_text(j, "unit", unit->name);
        json_put_number(j, "old", before);
        json_put_number(j, "new", after);
        json_put_number(j, "difference", after - before);
        if (e->change.given) {
            json_put_number(j, "low", unit_number(unit, e->change.low));
            json_put_number(j, "high", unit_number(unit, e->change.high));
            json_put_flag(j, "unclear", band_unclear(&e->change));
        }
        json_close(j);
    }
    json_close(j);
}

static void put_steps(struct json *j, double reserve, double attitude) {
    json_put_shown(j, "reserve_percent", SHOWN_SHARE, reserve);
    json_put_shown(j, "attitude_deg", SHOWN_ANGLE, attitude);
}

/* Differences from the old recipe: as its loads come out, and with the old loads left in. */
static void part(struct json *j, const struct difference_part *p, const struct single *was) {
    const struct single *is = &p->alone;
    json_open_object(j, NULL);
    if (!is->failure) {
        struct band depth = running_change(&was->depth, &is->depth);
        put_steps(j, is->reserve - was->reserve, is->attitude - was->attitude);
        json_put_shown(j, "ballast_g", SHOWN_MASS, is->ballast - was->ballast);
        if (depth.given) json_put_number(j, "depth_m", depth.median);
    }
    json_put_text(j, "part", p->name);
    if (is->kept && !is->failure) {
        json_open_object(j, "old_loads");
        put_steps(j, is->with_before.reserve - was->reserve,
                  is->with_before.attitude - was->attitude);
        json_close(j);
    } else {
        json_put_null(j, "old_loads");
    }
    json_put_text(j, "failure", is->failure);
    json_close(j);
}

static void parts(struct json *j, const struct difference *d) {
    json_open_list(j, "alone");
    for (int i = 0; i < d->part_count; i++) part(j, &d->parts[i], &d->old.afloat);
    json_close(j);
}

static void operations(struct json *j, const struct telling *t) {
    const struct rework_list *list = &t->d->rework;
    static const char *const kinds[] = {"comes", "goes", "moves", "retimed"};
    json_open_list(j, "operations");
    for (int i = 0; i < list->count; i++) {
        const struct rework *r = &list->items[i];
        const struct operation *before = r->before, *now = r->now, *any = now ? now : before;
        json_open_object(j, NULL);
        json_put_text(j, "id", any->id);
        json_put_text(j, "title", telling_title(t, r));
        json_put_text(j, "kind", kinds[r->kind]);
        json_put_text(j, "behind", telling_behind(t, r));
        json_put_shown_if(j, "old_hands_on_min", before, SHOWN_TIME, r->hands_before);
        json_put_shown_if(j, "new_hands_on_min", now, SHOWN_TIME, r->hands_now);
        json_put_shown_if(j, "old_wait_min", before, SHOWN_TIME, r->wait_before);
        json_put_shown_if(j, "new_wait_min", now, SHOWN_TIME, r->wait_now);
        json_close(j);
    }
    json_close(j);
}

static void caution_ids(struct json *j, const char *key, unsigned bits) {
    json_open_list(j, key);
    for (int i = 0; i < CAUTION_COUNT; i++)
        if (bits & 1u << i) json_put_text(j, NULL, reference_caution[i].id);
    json_close(j);
}

static void cautions(struct json *j, const struct difference *d) {
    json_open_object(j, "cautions");
    caution_ids(j, "come", d->cautions_come);
    caution_ids(j, "go", d->cautions_go);
    json_close(j);
}

static void warning_list(struct json *j, const char *key, const struct diag **list, int count) {
    json_open_list(j, key);
    for (int i = 0; i < count; i++) {
        json_open_object(j, NULL);
        json_put_text(j, "rule", list[i]->rule);
        json_put_whole(j, "line", list[i]->at.line);
        json_put_text(j, "message", list[i]->message);
        json_close(j);
    }
    json_close(j);
}

static void warnings(struct json *j, const struct difference *d) {
    json_open_object(j, "warnings");
    warning_list(j, "come", d->warnings_come, d->warnings_come_count);
    warning_list(j, "go", d->warnings_go, d->warnings_go_count);
    json_close(j);
}

void difference_json(struct buf *out, const struct difference *d) {
    struct telling t = telling_of(out->arena, d);
    struct json j = json_begin(out->arena);
    side(&j, "old", &d->old);
    side(&j, "new", &d->new);
    changes(&j, &d->changes);
    effects(&j, &t);
    parts(&j, d);
    operations(&j, &t);
    cautions(&j, d);
    warnings(&j, d);
    json_put_text(&j, "words", d->changes.count ? difference_words(out->arena, d) : "");
    json_end(&j, out);
}
