#include "emit/report.h"

#include <jansson.h>
#include <math.h>
#include <stdlib.h>

/* Enough digits to compare two programs by. */
enum { DIGITS = 12 };

static const double to_mm = 1e3, to_g = 1e3, to_cm2 = 1e4, to_cm3 = 1e6;
static const double to_deg = 57.29577951308232, to_min = 1.0 / 60, to_percent = 100;

static json_t *number(double value) {
    if (!isfinite(value)) return json_null();
    return json_real(value == 0 ? 0 : value); /* never -0 */
}

static json_t *maybe(bool given, double value) {
    return given ? number(value) : json_null();
}

static json_t *text(struct str value) {
    return json_stringn(value.data ? value.data : "", value.size);
}

static void put(json_t *object, const char *key, json_t *value) {
    json_object_set_new(object, key, value);
}

static json_t *point(double x, double y, double z) {
    return json_pack("[o, o, o]", number(x), number(y), number(z));
}

static json_t *recipe_part(const struct recipe *recipe, const struct results *r) {
    return json_pack("{s: o, s: i, s: s}", "name", text(recipe->name), "make", recipe->make,
                     "digest", r->digest);
}

static json_t *body_part(const struct results *r) {
    const struct solid *b = &r->plug.bare;
    const struct supply *s = &r->supply;
    json_t *body = json_object();
    put(body, "length_mm", number(r->plug.outline.length * to_mm));
    put(body, "volume_cm3", number(b->volume * to_cm3));
    put(body, "surface_cm2", number(b->surface * to_cm2));
    put(body, "centroid_mm", point(b->centroid_x * to_mm, 0, b->centroid_z * to_mm));
    put(body, "surface_centroid_mm", point(b->surface_x * to_mm, 0, b->surface_z * to_mm));
    put(body, "blank_mm",
        point(s->blank_length * to_mm, s->blank_height * to_mm, s->blank_width * to_mm));
    return body;
}

static json_t *mass_part(const struct results *r) {
    json_t *list = json_array();
    for (int i = 0; i < r->masses.count; i++) {
        const struct mass_row *row = &r->masses.rows[i];
        json_array_append_new(
            list, json_pack("{s: s, s: s, s: o, s: o, s: o, s: o}", "item", row->item, "stage",
                            stage_name(row->stage), "mass_g", number(row->mass * to_g), "x_mm",
                            number(row->x * to_mm), "z_mm", number(row->z * to_mm), "outside_cm3",
                            number(row->outside * to_cm3)));
    }
    return list;
}

static json_t *condition_part(const struct condition *c) {
    json_t *o = json_object(), *arms = json_array();
    for (int i = 0; i < RIGHTING_STEPS; i++)
        json_array_append_new(arms, number(c->righting.arm[i] * to_mm));
    put(o, "mass_g", number(c->burden.mass * to_g));
    put(o, "centre_of_gravity_mm",
        json_pack("[o, o]", number(c->burden.x * to_mm), number(c->burden.z * to_mm)));
    put(o, "displacement_g", number(c->rest.capacity * to_g));
    put(o, "reserve_percent", number(c->rest.reserve * to_percent));
    put(o, "state", json_string(float_state_name(c->state)));
    put(o, "attitude_deg", number(c->rest.attitude * to_deg));
    put(o, "waterline_nose_mm", maybe(c->waterline_given, c->waterline_nose * to_mm));
    put(o, "waterline_tail_mm", maybe(c->waterline_given, c->waterline_tail * to_mm));
    put(o, "gm_mm", number(c->rest.gm * to_mm));
    put(o, "righting_arm_mm", arms);
    put(o, "vanishing_deg", maybe(c->righting.vanishes, c->righting.vanishing * to_deg));
    put(o, "self_righting", json_boolean(c->righting.self_righting));
    put(o, "lean_deg_per_mm",
        maybe(c->lean_given,
              c->lean_given ? condition_lean(c, c->ballast_mass, 1 / to_mm) * to_deg : 0));
    put(o, "speed_mm_s", number(c->speed * to_mm));
    put(o, "stable", json_boolean(c->stable));
    return o;
}

static json_t *loads(const double *load, int count) {
    json_t *list = json_array();
    for (int i = 0; i < count; i++) json_array_append_new(list, number(load[i] * to_g));
    return list;
}

/* Of the bores that were solved. */
static json_t *solved_loads(const double *load, const struct bore_fill *fills, int count) {
    json_t *list = json_array();
    for (int i = 0; i < count; i++)
        if (fills[i].solved) json_array_append_new(list, number(load[i] * to_g));
    return list;
}

static json_t *spread_part(const struct spread_case *s, const struct bore_fill *fills, int count) {
    json_t *o = json_object();
    put(o, "density_kg_m3", number(s->wood_density));
    put(o, "loads_g", s->solvable ? solved_loads(s->load, fills, count) : json_null());
    put(o, "reserve_percent", number(s->as_built.reserve * to_percent));
    put(o, "attitude_deg", number(s->as_built.attitude * to_deg));
    return o;
}

static json_t *piece_name(const struct recipe *recipe, int piece) {
    const struct piece *p = &recipe->ballast->pieces[piece];
    struct str written = recipe_text(recipe, p->ball.given ? &p->ball : &p->mass);
    return json_sprintf("%.*s%s", (int)written.size, written.data, p->ball.given ? " ball" : "");
}

static json_t *pieces_part(const struct recipe *recipe, const struct results *r) {
    json_t *list = json_array();
    for (int i = 0; i < r->ballast.best_count; i++) {
        const struct piece_load *load = &r->ballast.best[i];
        json_t *bores = json_array();
        for (int bore = 0; bore < r->ballast.bore_count; bore++) {
            json_t *pieces = json_array();
            for (int k = 0; k < BALLAST_PIECES_PER_BORE; k++)
                if (r->ballast.fills[bore].solved && load->piece[bore][k] >= 0)
                    json_array_append_new(pieces, piece_name(recipe, load->piece[bore][k]));
            if (r->ballast.fills[bore].solved)
                json_array_append_new(bores, pieces);
            else
                json_decref(pieces);
        }
        json_t *o = json_object();
        put(o, "loads", bores);
        put(o, "loads_g", loads(load->load, r->ballast.bore_count));
        put(o, "reserve_percent", number(load->outcome.reserve * to_percent));
        put(o, "attitude_deg", number(load->outcome.attitude * to_deg));
        json_array_append_new(list, o);
    }
    return list;
}

static json_t *ballast_part(const struct recipe *recipe, const struct results *r) {
    const struct ballast_result *b = &r->ballast;
    json_t *o = json_object(), *bores = json_array(), *spread = json_object();
    for (int i = 0; i < b->bore_count; i++) {
        const struct bore_fill *f = &b->fills[i];
        json_t *bore = json_object();
        put(bore, "at_mm", number(f->at * to_mm));
        put(bore, "drill_mm", number(f->drill * to_mm));
        put(bore, "depth_mm", number(f->depth * to_mm));
        put(bore, "load_g", number(f->load * to_g));
        put(bore, "solved", json_boolean(f->solved));
        put(bore, "slug_mm", number(f->slug * to_mm));
        put(bore, "wall_mm", number(b->wall[i] * to_mm));
        json_array_append_new(bores, bore);
    }
    put(o, "bores", bores);
    put(spread, "light", spread_part(&b->light, b->fills, b->bore_count));
    put(spread, "heavy", spread_part(&b->heavy, b->fills, b->bore_count));
    put(o, "spread", spread);
    put(o, "pieces", pieces_part(recipe, r));
    return o;
}

static json_t *materials_part(const struct results *r) {
    static const char *const units[] = {"g", "mm", "cm2", "ml", "pieces"};
    static const double scales[] = {1e3, 1e3, 1e4, 1e6, 1};
    json_t *list = json_array();
    for (int i = 0; i < r->supply.count; i++) {
        const struct supply_row *row = &r->supply.rows[i];
        json_array_append_new(list,
                              json_pack("{s: s, s: o, s: o, s: s, s: o}", "item", row->item, "one",
                                        number(row->one * scales[row->unit]), "run",
                                        number(row->run * scales[row->unit]), "unit",
                                        units[row->unit], "cost", maybe(row->priced, row->cost)));
    }
    return list;
}

static json_t *steps_part(const struct results *r) {
    json_t *list = json_array();
    for (int i = 0; i < r->run.route.count; i++) {
        const struct operation *op = &r->run.route.operations[i];
        json_t *o = json_object(), *after = json_array();
        for (int k = 0; k < r->run.route.link_count; k++)
            if (r->run.route.links[k].after == i)
                json_array_append_new(
                    after, json_string(r->run.route.operations[r->run.route.links[k].before].id));
        put(o, "id", json_string(op->id));
        put(o, "hands_on_min", number((op->fixed + op->each) * to_min));
        put(o, "wait_min", number(op->wait * to_min));
        put(o, "after", after);
        put(o, "early_start_min", number(r->times[i].early_start * to_min));
        put(o, "late_start_min", number(r->times[i].late_start * to_min));
        put(o, "critical", json_boolean(r->times[i].critical));
        json_array_append_new(list, o);
    }
    return list;
}

/* ISO 8601: a date and time where the run has a start, else a duration from its beginning. */
static json_t *moment(const struct recipe *recipe, int64_t seconds) {
    if (!recipe->shop->start.given) {
        long long minutes = seconds / 60;
        return json_sprintf("P%lldDT%02lldH%02lldM", minutes / 1440, minutes / 60 % 24,
                            minutes % 60);
    }
    struct moment m = moment_after(recipe->shop->start, seconds);
    return json_sprintf("%04d-%02d-%02dT%02d:%02d", m.year, m.month, m.day, m.hour, m.minute);
}

static json_t *run_part(const struct recipe *recipe, const struct results *r) {
    json_t *o = json_object(), *steps = json_array();
    for (int i = 0; i < r->run.count; i++) {
        const struct run_step *s = &r->run.steps[i];
        json_t *step = json_object();
        put(step, "id", json_string(r->run.route.operations[s->operation].id));
        put(step, "load", json_integer(s->load));
        put(step, "plugs", json_integer(s->plugs));
        put(step, "start", moment(recipe, s->start));
        put(step, "work_end", moment(recipe, s->work_end));
        put(step, "end", moment(recipe, s->end));
        json_array_append_new(steps, step);
    }
    put(o, "makespan_min", number((double)r->run.makespan * to_min));
    put(o, "lower_bound_min", number((double)r->run.lower_bound * to_min));
    put(o, "optimal", json_boolean(r->run.optimal));
    put(o, "hands_on_min", number((double)r->run.hands_on * to_min));
    put(o, "steps", steps);
    return o;
}

static json_t *diagnostics_part(const struct diags *diags) {
    json_t *list = json_array();
    for (int i = 0; i < diags->count; i++) {
        const struct diag *d = &diags->items[i];
        json_t *o = json_object();
        put(o, "file",
            d->at.file ? json_string(diag_clean(diags->arena, d->at.file->name)) : json_null());
        put(o, "line", json_integer(d->at.line));
        put(o, "column", json_integer(d->at.column));
        put(o, "severity", json_string(d->severity == SEVERITY_ERROR ? "error" : "warning"));
        put(o, "rule", json_string(d->rule));
        put(o, "message", json_string(d->message));
        if (d->hint) put(o, "hint", json_string(d->hint));
        json_array_append_new(list, o);
    }
    return list;
}

static int write_bytes(const char *bytes, size_t size, void *out) {
    buf_bytes(out, bytes, size);
    return 0;
}

static void write_out(struct buf *out, json_t *root) {
    json_dump_callback(root, write_bytes, out, JSON_INDENT(2) | JSON_REAL_PRECISION(DIGITS));
    buf_char(out, '\n');
    json_decref(root);
}

void report_emit(struct buf *out, const struct recipe *recipe, const struct results *r,
                 const struct diags *diags) {
    json_t *root = json_object();
    put(root, "recipe", recipe_part(recipe, r));
    put(root, "body", body_part(r));
    put(root, "wood",
        json_pack("{s: o, s: s}", "density_kg_m3", number(r->plug.wood_density), "source",
                  wood_source_name(r->plug.wood_source)));
    put(root, "fat_side_lean_deg", maybe(r->fat_side_given, r->fat_side_lean * to_deg));
    put(root, "water", json_pack("{s: o}", "density_kg_m3", number(r->plug.water)));
    put(root, "masses", mass_part(r));
    put(root, "float",
        json_pack("{s: o, s: o}", "test", condition_part(&r->test), "finished",
                  condition_part(&r->finished)));
    put(root, "ballast", ballast_part(recipe, r));
    put(root, "materials", materials_part(r));
    put(root, "steps", steps_part(r));
    put(root, "run", run_part(recipe, r));
    put(root, "diagnostics", diagnostics_part(diags));
    write_out(out, root);
}

void report_diagnostics(struct buf *out, const struct diags *diags) {
    json_t *root = json_object();
    put(root, "diagnostics", diagnostics_part(diags));
    write_out(out, root);
}
