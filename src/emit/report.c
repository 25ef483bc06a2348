#include "emit/report.h"

#include "emit/words/tow.h"
#include "emit/write/json.h"
#include "model/reference.h"

/* Of lengths. */
static void put_point(struct json *j, const char *key, double x, double y, double z) {
    json_open_list(j, key);
    json_put_shown(j, NULL, SHOWN_LENGTH, x);
    json_put_shown(j, NULL, SHOWN_LENGTH, y);
    json_put_shown(j, NULL, SHOWN_LENGTH, z);
    json_close(j);
}

static void recipe_part(struct json *j, const struct recipe *recipe, const struct results *r) {
    json_open_object(j, "recipe");
    json_put_str(j, "name", recipe->name);
    json_put_whole(j, "make", recipe->make);
    json_put_text(j, "digest", r->digest);
    json_close(j);
}

static void body_part(struct json *j, const struct results *r) {
    const struct solid *b = &r->plug.bare;
    const struct supply *s = &r->supply;
    json_open_object(j, "body");
    json_put_shown(j, "length_mm", SHOWN_LENGTH, r->plug.outline.length);
    json_put_shown(j, "volume_cm3", SHOWN_SOLID, b->volume);
    json_put_shown(j, "surface_cm2", SHOWN_AREA, b->surface);
    put_point(j, "centroid_mm", b->centroid_x, 0, b->centroid_z);
    put_point(j, "surface_centroid_mm", b->surface_x, 0, b->surface_z);
    put_point(j, "blank_mm", s->blank_length, s->blank_height, s->blank_width);
    json_close(j);
}

static void wood_part(struct json *j, const struct results *r) {
    json_open_object(j, "wood");
    json_put_number(j, "density_kg_m3", r->plug.wood_density);
    json_put_text(j, "source", name_wood_sources[r->plug.wood_source]);
    json_put_shown(j, "blank_g", SHOWN_MASS, plug_body_mass(&r->plug));
    json_put_shown_if(j, "scatter_percent", r->ballast.scatter > 0, SHOWN_SHARE,
                      r->ballast.scatter);
    json_put_shown(j, "spread_percent", SHOWN_SHARE, r->ballast.spread);
    json_close(j);
}

static void mass_part(struct json *j, const struct results *r) {
    json_open_list(j, "masses");
    for (int i = 0; i < r->masses.count; i++) {
        const struct mass_row *row = &r->masses.rows[i];
        json_open_object(j, NULL);
        json_put_text(j, "item", name_text(j->arena, row->item));
        json_put_text(j, "stage", name_stages[row->stage].text);
        json_put_shown(j, "mass_g", SHOWN_MASS, row->mass);
        json_put_shown(j, "x_mm", SHOWN_LENGTH, row->x);
        json_put_shown(j, "z_mm", SHOWN_LENGTH, row->z);
        json_put_shown(j, "outside_cm3", SHOWN_SOLID, row->outside);
        json_close(j);
    }
    json_close(j);
}

static void put_righting(struct json *j, const struct condition *c) {
    json_open_list(j, "righting_arm_mm");
    for (int i = 0; i < RIGHTING_STEPS; i++)
        json_put_shown(j, NULL, SHOWN_LENGTH, c->righting.arm[i]);
    json_close(j);
    json_put_shown_if(j, "vanishing_deg", c->righting.vanishes, SHOWN_ANGLE, c->righting.vanishing);
    json_put_flag(j, "self_righting", c->righting.self_righting);
    double lean = c->lean_given ? condition_lean(c, c->ballast_mass, 1e-3) : 0;
    json_put_shown_if(j, "lean_deg_per_mm", c->lean_given, SHOWN_ANGLE, lean);
}

/* A place that can be marked: a height on nose or tail, a distance from the nose on back or belly.
 */
static void put_mark(struct json *j, const char *key, const struct water_mark *mark) {
    if (mark->on == MARK_NONE) {
        json_put_null(j, key);
        return;
    }
    json_open_object(j, key);
    json_put_text(j, "on", name_marks[mark->on]);
    json_put_shown(j, "at_mm", SHOWN_LENGTH, mark->at);
    json_close(j);
}

static void condition_part(struct json *j, const char *key, const struct condition *c) {
    json_open_object(j, key);
    json_put_shown(j, "mass_g", SHOWN_MASS, c->burden.mass);
    json_open_list(j, "centre_of_gravity_mm");
    json_put_shown(j, NULL, SHOWN_LENGTH, c->burden.x);
    json_put_shown(j, NULL, SHOWN_LENGTH, c->burden.z);
    json_close(j);
    json_put_shown(j, "displacement_g", SHOWN_MASS, c->rest.capacity);
    json_put_shown(j, "reserve_percent", SHOWN_SHARE, c->rest.reserve);
    json_put_text(j, "state", name_float_states[c->state]);
    json_put_shown(j, "attitude_deg", SHOWN_ANGLE, c->rest.attitude);
    json_put_shown_if(j, "waterline_nose_mm", c->waterline_given, SHOWN_LENGTH, c->waterline_nose);
    json_put_shown_if(j, "waterline_tail_mm", c->waterline_given, SHOWN_LENGTH, c->waterline_tail);
    put_mark(j, "water_fore", &c->marks.fore);
    put_mark(j, "water_aft", &c->marks.aft);
    json_put_shown_if(j, "water_flank_mm", c->marks.flank_given, SHOWN_LENGTH, c->marks.flank);
    json_put_shown(j, "gm_mm", SHOWN_LENGTH, c->rest.gm);
    put_righting(j, c);
    json_put_shown(j, "speed_mm_s", SHOWN_SPEED, c->speed);
    json_put_number_if(j, "sink_s_per_m", c->speed < 0, c->speed < 0 ? -1 / c->speed : 0);
    json_put_shown_if(j, "falling_deg", c->falling_given, SHOWN_ANGLE, c->falling);
    json_put_flag(j, "stable", c->stable);
    json_close(j);
}

static void float_part(struct json *j, const struct results *r) {
    json_open_object(j, "float");
    condition_part(j, "test", &r->test);
    condition_part(j, "finished", &r->finished);
    json_close(j);
}

/* --- ballast --------------------------------------------------------------------------------- */

/* Of one that is not bored from the belly: where it is. */
static void put_side(struct json *j, const struct bore *bore, const struct axis *axis) {
    if (bore->from == SIDE_BELLY) return;
    json_put_text(j, "from", name_sides[bore->from]);
    json_put_shown(j, "enters_mm", SHOWN_LENGTH, axis->z);
    json_put_number(j, "count", axis_count(axis));
}

static void bores_part(struct json *j, const struct results *r) {
    const struct ballast_result *b = &r->ballast;
    json_open_list(j, "bores");
    for (int i = 0; i < b->bore_count; i++) {
        const struct bore_fill *f = &b->fills[i];
        json_open_object(j, NULL);
        json_put_shown(j, "at_mm", SHOWN_LENGTH, f->axis.x);
        put_side(j, &r->plug.recipe->ballast->bores[i], &f->axis);
        json_put_shown(j, "drill_mm", SHOWN_LENGTH, f->drill);
        json_put_shown(j, "depth_mm", SHOWN_LENGTH, f->depth);
        json_put_shown(j, "load_g", SHOWN_MASS, f->load);
        json_put_flag(j, "solved", f->solved);
        json_put_shown(j, "slug_mm", SHOWN_LENGTH, f->slug);
        json_put_shown(j, "wall_mm", SHOWN_LENGTH, b->wall[i]);
        json_close(j);
    }
    json_close(j);
}

static void put_outcome(struct json *j, const struct outcome *outcome) {
    json_put_shown(j, "reserve_percent", SHOWN_SHARE, outcome->reserve);
    json_put_shown(j, "attitude_deg", SHOWN_ANGLE, outcome->attitude);
}

/* One entry for every solved bore, null where that load does not fit; null where none is found. */
static void put_solved(struct json *j, const char *key, enum shown_as what, const double *values,
                       const struct spread_case *s, const struct ballast_result *b) {
    if (!s->solvable) {
        json_put_null(j, key);
        return;
    }
    json_open_list(j, key);
    for (int i = 0; i < b->bore_count; i++)
        if (b->fills[i].solved) json_put_shown_if(j, NULL, s->fits[i], what, values[i]);
    json_close(j);
}

static void spread_case(struct json *j, const char *key, const struct spread_case *s,
                        const struct ballast_result *b) {
    json_open_object(j, key);
    json_put_number(j, "density_kg_m3", s->wood_density);
    put_solved(j, "loads_g", SHOWN_MASS, s->load, s, b);
    put_outcome(j, &s->as_built);
    json_close(j);
}

static void by_blank_part(struct json *j, const struct ballast_result *b) {
    json_open_list(j, "by_blank");
    for (int i = 0; i < b->by_blank_count; i++) {
        const struct spread_case *s = &b->by_blank[i];
        json_open_object(j, NULL);
        json_put_number_if(j, "plug", s->plug > 0, s->plug);
        json_put_shown(j, "blank_g", SHOWN_MASS, s->body);
        json_put_number(j, "density_kg_m3", s->wood_density);
        put_solved(j, "loads_g", SHOWN_MASS, s->load, s, b);
        put_solved(j, "depths_mm", SHOWN_LENGTH, s->depth, s, b);
        json_close(j);
    }
    json_close(j);
}

static void put_piece(struct json *j, const struct recipe *recipe, int piece) {
    const struct piece *p = &recipe->ballast->pieces[piece];
    struct str written = recipe_text(recipe, p->ball.given ? &p->ball : &p->mass);
    json_put_text(j, NULL,
                  arena_printf(j->arena, "%.*s%s", (int)written.size, written.data,
                               p->ball.given ? " ball" : ""));
}

static void put_piece_load(struct json *j, const struct recipe *recipe,
                           const struct ballast_result *b, const struct piece_load *load) {
    json_open_object(j, NULL);
    json_open_list(j, "loads");
    for (int bore = 0; bore < b->bore_count; bore++) {
        if (!b->fills[bore].solved) continue;
        json_open_list(j, NULL);
        for (int k = 0; k < BALLAST_PIECES_PER_BORE; k++)
            if (load->piece[bore][k] >= 0) put_piece(j, recipe, load->piece[bore][k]);
        json_close(j);
    }
    json_close(j);
    json_open_list(j, "loads_g");
    for (int bore = 0; bore < b->bore_count; bore++)
        json_put_shown(j, NULL, SHOWN_MASS, load->load[bore]);
    json_close(j);
    put_outcome(j, &load->outcome);
    json_close(j);
}

static void budget_part(struct json *j, const struct results *r) {
    static const char *const keys[DOUBT_COUNT] = {"wood_percent",   "loads_percent",
                                                  "sealer_percent", "hooks_percent",
                                                  "films_percent",  "reading_percent"};
    json_open_object(j, "budget");
    for (int i = 0; i < DOUBT_COUNT; i++)
        json_put_shown(j, keys[i], SHOWN_SHARE, r->budget.part[i]);
    json_put_shown(j, "built_percent", SHOWN_SHARE, r->budget.built);
    json_put_shown(j, "trimmed_percent", SHOWN_SHARE, r->budget.trimmed);
    json_close(j);
    json_open_list(j, "swaps");
    for (int i = 0; i < r->swap_count; i++) {
        const struct swap *s = &r->swaps[i];
        json_open_object(j, NULL);
        json_put_whole(j, "hanger", s->hanger);
        json_put_text(j, "hook", s->now);
        json_put_shown(j, "change_g", SHOWN_MASS, s->change);
        json_put_shown(j, "reserve_percent", SHOWN_SHARE, s->result.rest.reserve);
        json_put_shown(j, "attitude_deg", SHOWN_ANGLE, s->result.rest.attitude);
        json_close(j);
    }
    json_close(j);
}

static void chambers_part(struct json *j, const struct results *r) {
    const struct recipe *recipe = r->plug.recipe;
    if (!recipe->chamber_count) return;
    json_open_list(j, "chambers");
    for (int i = 0; i < r->clearances.count; i++) {
        const struct opening *o = &r->clearances.openings[i];
        if (o->kind != OPENING_CHAMBER) continue;
        struct hollow hollow = hollow_of(&r->plug, o->index);
        json_open_object(j, NULL);
        json_put_shown(j, "at_mm", SHOWN_LENGTH, hollow.axis.x);
        json_put_text(j, "from", name_sides[recipe->chambers[o->index].from]);
        json_put_shown(j, "enters_mm", SHOWN_LENGTH, hollow.axis.z);
        json_put_number(j, "count", axis_count(&hollow.axis));
        json_put_shown(j, "drill_mm", SHOWN_LENGTH, hollow.drill);
        json_put_shown(j, "depth_mm", SHOWN_LENGTH, hollow.depth);
        json_put_shown(j, "stopper_mm", SHOWN_LENGTH, hollow.stopper);
        json_put_shown(j, "content_g", SHOWN_MASS, hollow.content);
        json_put_shown(j, "stopper_g", SHOWN_MASS, hollow.stopper_mass);
        json_put_shown(j, "wall_mm", SHOWN_LENGTH, r->clearances.wall[i]);
        json_close(j);
    }
    json_close(j);
}

static void ballast_part(struct json *j, const struct recipe *recipe, const struct results *r) {
    const struct ballast_result *b = &r->ballast;
    json_open_object(j, "ballast");
    bores_part(j, r);
    json_open_object(j, "spread");
    spread_case(j, "light", &b->light, b);
    spread_case(j, "heavy", &b->heavy, b);
    json_close(j);
    by_blank_part(j, b);
    json_open_list(j, "pieces");
    for (int i = 0; i < b->best_count; i++) put_piece_load(j, recipe, b, &b->best[i]);
    json_close(j);
    json_close(j);
}

/* --- stuff and work -------------------------------------------------------------------------- */

static void materials_part(struct json *j, const struct results *r) {
    static const enum shown_as kinds[] = {SHOWN_MASS, SHOWN_LENGTH, SHOWN_AREA, SHOWN_VOLUME,
                                          SHOWN_PIECES};
    json_open_list(j, "materials");
    for (int i = 0; i < r->supply.count; i++) {
        const struct supply_row *row = &r->supply.rows[i];
        json_open_object(j, NULL);
        json_put_text(j, "item", name_text(j->arena, row->item));
        json_put_shown(j, "one", kinds[row->unit], row->one);
        json_put_shown(j, "run", kinds[row->unit], row->run);
        json_put_text(j, "unit",
                      row->unit == SUPPLY_PIECES ? "pieces"
                                                 : shown_exact(kinds[row->unit]).unit->name);
        json_put_number_if(j, "cost", row->priced, row->cost);
        json_put_shown_if(j, "on_hand", r->supply.stocked, kinds[row->unit], row->have);
        json_close(j);
    }
    json_close(j);
}

static void steps_part(struct json *j, const struct results *r) {
    const struct route *route = &r->run.route;
    json_open_list(j, "steps");
    for (int i = 0; i < route->count; i++) {
        const struct operation *op = &route->operations[i];
        json_open_object(j, NULL);
        json_put_text(j, "id", op->id);
        json_put_shown(j, "hands_on_min", SHOWN_TIME, op->fixed + op->each);
        json_put_shown(j, "wait_min", SHOWN_TIME, op->wait);
        json_open_list(j, "cautions");
        for (int k = 0; k < CAUTION_COUNT; k++)
            if (op->cautions & 1u << k) json_put_text(j, NULL, reference_caution[k].id);
        json_close(j);
        json_open_list(j, "after");
        for (int k = 0; k < route->link_count; k++)
            if (route->links[k].after == i)
                json_put_text(j, NULL, route->operations[route->links[k].before].id);
        json_close(j);
        json_put_shown(j, "early_start_min", SHOWN_TIME, r->times[i].early_start);
        json_put_shown(j, "late_start_min", SHOWN_TIME, r->times[i].late_start);
        json_put_flag(j, "critical", r->times[i].critical);
        json_close(j);
    }
    json_close(j);
}

/* ISO 8601: a date and time where the run has a start, else a duration from its beginning. */
static void put_moment(struct json *j, const char *key, const struct recipe *recipe,
                       int64_t seconds) {
    long long minutes = seconds / 60;
    struct moment m = moment_after(recipe->shop->start, seconds);
    json_put_text(j, key,
                  recipe->shop->start.given
                      ? arena_printf(j->arena, "%04d-%02d-%02dT%02d:%02d", m.year, m.month, m.day,
                                     m.hour, m.minute)
                      : arena_printf(j->arena, "P%lldDT%02lldH%02lldM", minutes / 1440,
                                     minutes / 60 % 24, minutes % 60));
}

static void run_part(struct json *j, const struct recipe *recipe, const struct results *r) {
    json_open_object(j, "run");
    json_put_shown(j, "makespan_min", SHOWN_TIME, (double)r->run.makespan);
    json_put_shown(j, "lower_bound_min", SHOWN_TIME, (double)r->run.lower_bound);
    json_put_flag(j, "optimal", r->run.optimal);
    json_put_shown(j, "hands_on_min", SHOWN_TIME, (double)r->run.hands_on);
    json_open_list(j, "steps");
    for (int i = 0; i < r->run.count; i++) {
        const struct run_step *s = &r->run.steps[i];
        json_open_object(j, NULL);
        json_put_text(j, "id", r->run.route.operations[s->operation].id);
        json_put_whole(j, "load", s->load);
        json_put_whole(j, "plugs", s->plugs);
        put_moment(j, "start", recipe, s->start);
        put_moment(j, "work_end", recipe, s->work_end);
        put_moment(j, "end", recipe, s->end);
        json_close(j);
    }
    json_close(j);
    json_close(j);
}

/* --- under tow ------------------------------------------------------------------------------- */

/* 5 %, median, 95 %; null: none, or no limit. */
static void put_band(struct json *j, const char *key, enum shown_as what, const struct band *band) {
    if (!band->given) {
        json_put_null(j, key);
        return;
    }
    json_open_list(j, key);
    json_put_shown(j, NULL, what, band->low);
    json_put_shown(j, NULL, what, band->median);
    json_put_shown(j, NULL, what, band->high);
    json_close(j);
}

static void put_speed(struct json *j, const struct recipe *recipe, const struct running_speed *s) {
    json_open_object(j, NULL);
    json_put_shown(j, "speed_m_s", SHOWN_TOW, s->speed);
    json_put_text(j, "state", tow_runs(s));
    json_put_text(j, "hold", s->tie_aside.band.given ? tow_holds(s) : NULL);
    put_band(j, "trim_deg", SHOWN_TRIM, &s->trim.band);
    put_band(j, "pull_N", SHOWN_PULL, &s->pull.band);
    put_band(j, "angle_deg", SHOWN_TRIM, &s->angle.band);
    put_band(j, "tie_off_mm", SHOWN_LENGTH, &s->tie_aside.band);
    json_open_list(j, "depths");
    for (int i = 0; i < recipe->running->out_count; i++) {
        json_open_object(j, NULL);
        json_put_shown(j, "out_m", SHOWN_OUT, recipe->running->out[i]);
        put_band(j, "depth_m", SHOWN_DEPTH, &s->depth[i].band);
        json_close(j);
    }
    json_close(j);
    json_put_number_if(j, "plate_wake_hz", s->beat > 0, s->beat);
    json_close(j);
}

static void put_tweaks(struct json *j, const struct recipe *recipe,
                       const struct running_result *r) {
    json_open_object(j, "changes");
    json_put_shown(j, "speed_m_s", SHOWN_TOW, recipe->running->speed[r->middle_speed]);
    json_put_shown(j, "out_m", SHOWN_OUT, recipe->running->out[r->middle_out]);
    json_open_list(j, "tried");
    for (int i = 0; i < TWEAKS; i++) {
        const struct running_tweak *t = &r->tweaks[i];
        json_open_object(j, NULL);
        json_put_text(j, "change", tow_tweak(j->arena, (enum tweak)i, UNITS_METRIC));
        json_put_flag(j, "possible", t->possible);
        put_band(j, "depth_m", SHOWN_DEPTH, &t->depth);
        json_put_flag(j, "unclear", t->possible && band_unclear(&t->depth));
        put_band(j, "trim_deg", SHOWN_TRIM, &t->trim);
        put_band(j, "pull_N", SHOWN_PULL, &t->pull);
        put_band(j, "tie_off_mm", SHOWN_LENGTH, &t->tie_aside);
        json_close(j);
    }
    json_close(j);
    json_close(j);
}

/* The lip with its solved figure, and what it was solved for. */
static void put_aim(struct json *j, const struct recipe *recipe) {
    const struct lip *lip = recipe->lip;
    const struct tow_aim *aim = recipe->running->aim;
    if (!aim) {
        json_put_null(j, "aim");
        return;
    }
    json_open_object(j, "aim");
    json_put_shown(j, "depth_m", SHOWN_DEPTH, aim->depth);
    json_put_shown(j, "out_m", SHOWN_OUT, aim->out);
    json_put_shown(j, "speed_m_s", SHOWN_TOW, aim->speed);
    json_put_shown_if(j, "length_mm", lip->length_solve, SHOWN_LENGTH, lip->length);
    json_put_shown_if(j, "angle_deg", lip->angle_solve, SHOWN_ANGLE, lip->angle);
    json_close(j);
}

static void put_reading(struct json *j, const struct sounding_result *s) {
    if (!s->given) {
        json_put_null(j, "measured");
        return;
    }
    json_open_object(j, "measured");
    put_band(j, "predicted_m", SHOWN_DEPTH, &s->predicted);
    json_put_whole(j, "points_left", s->left);
    json_close(j);
}

static void running_part(struct json *j, const struct recipe *recipe,
                         const struct running_result *r) {
    if (!r->given) return;
    json_open_object(j, "running");
    json_put_flag(j, "computed", r->kind != TOW_ON_TOP);
    put_band(j, "dives_from", SHOWN_TOW, &r->dives_from.band);
    put_band(j, "hold_speed", SHOWN_TOW, &r->hold_speed.band);
    json_open_list(j, "speeds");
    for (int i = 0; r->kind != TOW_ON_TOP && i < r->speed_count; i++)
        put_speed(j, recipe, &r->speeds[i]);
    json_close(j);
    if (r->kind != TOW_ON_TOP) put_tweaks(j, recipe, r);
    put_aim(j, recipe);
    put_reading(j, &r->sounding);
    json_open_list(j, "notes");
    for (int i = 0; i < reference_tow_note_count; i++)
        json_put_text(j, NULL, reference_tow_note[i]);
    if (tow_jointed(recipe)) json_put_text(j, NULL, tow_jointed(recipe));
    json_close(j);
    json_close(j);
}

static void put_diagnostics(struct json *j, const struct diags *diags) {
    for (int i = 0; i < diags->count; i++) {
        const struct diag *d = &diags->items[i];
        json_open_object(j, NULL);
        json_put_text(j, "file", d->at.file ? diag_clean(j->arena, d->at.file->name) : NULL);
        json_put_whole(j, "line", d->at.line);
        json_put_whole(j, "column", d->at.column);
        json_put_text(j, "severity", d->severity == SEVERITY_ERROR ? "error" : "warning");
        json_put_text(j, "rule", d->rule);
        json_put_text(j, "message", d->message);
        if (d->hint) json_put_text(j, "hint", d->hint);
        json_close(j);
    }
}

static void diagnostics_part(struct json *j, const struct diags *diags) {
    json_open_list(j, "diagnostics");
    put_diagnostics(j, diags);
    json_close(j);
}

void report_emit(struct buf *out, const struct recipe *recipe, const struct results *r,
                 const struct diags *diags) {
    struct json j = json_begin(out->arena);
    recipe_part(&j, recipe, r);
    body_part(&j, r);
    wood_part(&j, r);
    json_put_shown_if(&j, "fat_side_lean_deg", r->fat_side_given, SHOWN_ANGLE, r->fat_side_lean);
    json_open_object(&j, "water");
    json_put_number(&j, "density_kg_m3", r->plug.water);
    json_close(&j);
    mass_part(&j, r);
    float_part(&j, r);
    ballast_part(&j, recipe, r);
    chambers_part(&j, r);
    budget_part(&j, r);
    materials_part(&j, r);
    steps_part(&j, r);
    run_part(&j, recipe, r);
    running_part(&j, recipe, &r->running);
    diagnostics_part(&j, diags);
    json_end(&j, out);
}

void report_diagnostics(struct buf *out, const struct diags *diags) {
    struct json j = json_begin(out->arena);
    diagnostics_part(&j, diags);
    json_end(&j, out);
}

void report_all_diagnostics(struct buf *out, const struct diags *const *lists, int count) {
    struct json j = json_begin(out->arena);
    json_open_list(&j, "diagnostics");
    for (int i = 0; i < count; i++) put_diagnostics(&j, lists[i]);
    json_close(&j);
    json_end(&j, out);
}
