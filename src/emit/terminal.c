#include "emit/terminal.h"

#include <math.h>
#include <string.h>

#include "base/unicode.h"
#include "compute/bench.h"
#include "emit/words/bore.h"
#include "emit/words/tow.h"
#include "emit/write/measure.h"
#include "model/reference.h"

struct screen {
    struct listing *listing;
    struct arena *arena;
    const struct recipe *recipe;
    const struct results *r;
    enum unit_system units;
};

static const char *length(const struct screen *s, double metres) {
    return measure_length(s->arena, metres, s->units);
}

static const char *mass(const struct screen *s, double kg) {
    return measure_mass(s->arena, kg, s->units);
}

/* What the recipe says, fit to be shown. */
static const char *plain(const struct screen *s, struct str text) {
    return unicode_clean(s->arena, text).data;
}

static void row(const struct screen *s) {
    listing_row(s->listing);
}

static void column(const struct screen *s, const char *text, int width) {
    listing_cell(s->listing, text, width);
}

static void heading(const struct screen *s, const char *chapter, const char *text) {
    listing_heading(s->listing, chapter, text);
}

static void line(const struct screen *s, const char *text) {
    listing_line(s->listing, text);
}

static void title(const struct screen *s) {
    const struct recipe *recipe = s->recipe;
    const struct plug *f = &s->r->plug;
    struct buf shaped = {.arena = s->arena};
    listing_title(
        s->listing,
        arena_printf(s->arena, "%s, %d %s of %s (%s, %s)", plain(s, recipe->name), recipe->make,
                     recipe->make == 1 ? "plug" : "plugs", recipe->wood->row->name,
                     measure_density(s->arena, f->wood_density, s->units), plug_wood_source(f)));
    buf_printf(&shaped, "shaped body, %s: %s", name_text(s->arena, plug_shaped_name(s->recipe)),
               mass(s, plug_body_mass(f)));
    if (s->r->ballast.scatter > 0)
        buf_printf(&shaped, ", the mean of %d that scatter by %s", recipe->measured->blank_count,
                   measure_share(s->arena, s->r->ballast.scatter));
    listing_title(s->listing, shaped.data);
    listing_title(s->listing,
                  arena_printf(s->arena, "%s long, %s high, %s wide; volume %s, surface %s",
                               length(s, f->outline.length), length(s, f->bare.height),
                               length(s, f->bare.width),
                               measure_solid(s->arena, f->bare.volume, s->units),
                               measure_area(s->arena, f->bare.surface, s->units)));
}

static void masses(const struct screen *s) {
    heading(s, "weights", "What it weighs, from the nose aft and above the datum");
    for (int i = 0; i < s->r->masses.count; i++) {
        const struct mass_row *part = &s->r->masses.rows[i];
        row(s);
        column(s, name_stages[part->stage].text, 11);
        column(s, name_text(s->arena, part->item), 18);
        column(s, mass(s, part->mass), -10);
        column(s, length(s, part->x), -18);
        column(s, length(s, part->z), -18);
    }
}

/* --- floating -------------------------------------------------------------------------------- */

static void pair(const struct screen *s, const char *name, const char *test, const char *finished) {
    row(s);
    column(s, name, 34);
    column(s, test, -16);
    column(s, finished, -16);
}

static const char *waterline(const struct screen *s, const struct condition *c, double height) {
    return c->waterline_given ? length(s, height) : "-";
}

/* "back 22.0 mm": from the nose; "tail −3.0 mm": above the datum. */
static const char *mark(const struct screen *s, const struct water_mark *m) {
    if (m->on == MARK_NONE) return "-";
    return arena_printf(s->arena, "%s %s", name_marks[m->on], length(s, m->at));
}

static const char *vanishing(const struct screen *s, const struct condition *c) {
    if (c->righting.self_righting) return "rights itself";
    return c->righting.vanishes ? measure_angle(s->arena, c->righting.vanishing) : "-";
}

static const char *off_middle(const struct screen *s, const struct condition *c) {
    if (!c->lean_given || c->ballast_mass <= 0) return "-";
    return length(s, bench_tolerance(c, reference_fact[FACT_LEAN_ALLOWED].value));
}

static void floating(const struct screen *s) {
    const struct condition *t = &s->r->test, *f = &s->r->finished;
    struct arena *a = s->arena;
    heading(s, "floating", "How it floats");
    pair(s, "", "float test", "finished");
    pair(s, "mass", mass(s, t->burden.mass), mass(s, f->burden.mass));
    pair(s, "greatest displacement", mass(s, t->rest.capacity), mass(s, f->rest.capacity));
    pair(s, "reserve", measure_share(a, t->rest.reserve), measure_share(a, f->rest.reserve));
    pair(s, "state", name_float_states[t->state], name_float_states[f->state]);
    pair(s, "attitude, nose down", measure_angle(a, t->rest.attitude),
         measure_angle(a, f->rest.attitude));
    pair(s, "waterline at the nose", waterline(s, t, t->waterline_nose),
         waterline(s, f, f->waterline_nose));
    pair(s, "waterline at the tail", waterline(s, t, t->waterline_tail),
         waterline(s, f, f->waterline_tail));
    pair(s, "water meets it forward", mark(s, &t->marks.fore), mark(s, &f->marks.fore));
    pair(s, "water meets it aft", mark(s, &t->marks.aft), mark(s, &f->marks.aft));
    pair(s, "metacentric height", length(s, t->rest.gm), length(s, f->rest.gm));
    pair(s, "rights itself up to", vanishing(s, t), vanishing(s, f));
    pair(s,
         arena_printf(a, "ballast off the middle for %s lean",
                      measure_angle(a, reference_fact[FACT_LEAN_ALLOWED].value)),
         off_middle(s, t), off_middle(s, f));
    pair(s, "lean for one side 1 mm fatter", "-",
         s->r->fat_side_given ? measure_angle(a, fabs(s->r->fat_side_lean)) : "-");
    pair(s, f->speed < 0 ? "sinks at about" : "rises at about",
         measure_speed(a, fabs(t->speed), s->units), measure_speed(a, fabs(f->speed), s->units));
    if (f->speed < 0) {
        pair(s, "sinks in", t->speed < 0 ? measure_pace(a, t->speed, s->units) : "-",
             measure_pace(a, f->speed, s->units));
        pair(s, "attitude on the way down", t->falling_given ? measure_angle(a, t->falling) : "-",
             f->falling_given ? measure_angle(a, f->falling) : "-");
    }
    pair(s, "reserve known within, built, trimmed", measure_share(a, s->r->budget.built),
         measure_share(a, s->r->budget.trimmed));
}

/* --- ballast --------------------------------------------------------------------------------- */

static const char *outcome(const struct screen *s, const struct outcome *o) {
    const char *attitude =
        o->found ? arena_printf(s->arena, "attitude %s", measure_angle(s->arena, o->attitude))
                 : "no rest";
    return arena_printf(s->arena, "reserve %s, %s", measure_share(s->arena, o->reserve), attitude);
}

static void spread(const struct screen *s, const char *name, const struct spread_case *c) {
    struct buf text = {.arena = s->arena};
    buf_printf(&text, "%s wood, %s: ", name, measure_density(s->arena, c->wood_density, s->units));
    for (int i = 0; c->solvable && i < s->r->ballast.bore_count; i++)
        if (s->r->ballast.fills[i].solved)
            buf_printf(&text, "bore %d %s; ", i + 1,
                       c->fits[i] ? mass(s, c->load[i]) : "does not fit");
    if (!c->solvable) buf_text(&text, "no load meets the aim; ");
    buf_printf(&text, "as built %s", outcome(s, &c->as_built));
    line(s, text.data);
}

/* Load and depth of every solved bore, by the mass of the shaped body. */
static void by_body(const struct screen *s) {
    const struct ballast_result *b = &s->r->ballast;
    if (b->by_blank_count)
        heading(s, "loads",
                arena_printf(s->arena, "Loads by the mass of the shaped body, %s",
                             name_text(s->arena, plug_shaped_name(s->recipe))));
    for (int k = 0; k < b->by_blank_count; k++) {
        const struct spread_case *c = &b->by_blank[k];
        row(s);
        if (c->plug) column(s, arena_printf(s->arena, "plug %d", c->plug), 10);
        column(s, mass(s, c->body), -10);
        for (int i = 0; i < b->bore_count; i++) {
            if (!b->fills[i].solved) continue;
            column(s, arena_printf(s->arena, "bore %d:", i + 1), -11);
            column(s,
                   c->fits[i]    ? mass(s, c->load[i])
                   : c->solvable ? "does not fit"
                                 : "no load",
                   -13);
            column(s, c->fits[i] ? length(s, c->depth[i]) : "-", -16);
        }
    }
}

static const char *piece_text(const struct screen *s, int piece) {
    const struct piece *p = &s->recipe->ballast->pieces[piece];
    struct str text = recipe_text(s->recipe, p->ball.given ? &p->ball : &p->mass);
    return arena_printf(s->arena, "%s%s", plain(s, text), p->ball.given ? " ball" : "");
}

/* "2 × 0.440 in ball + 3 g", "nothing". */
static const char *pieces_in(const struct screen *s, const int *piece) {
    struct buf text = {.arena = s->arena};
    buf_text(&text, "");
    for (int i = 0, count; i < BALLAST_PIECES_PER_BORE && piece[i] >= 0; i += count) {
        for (count = 1; i + count < BALLAST_PIECES_PER_BORE && piece[i + count] == piece[i];)
            count++;
        if (text.size) buf_text(&text, " + ");
        if (count > 1) buf_printf(&text, "%d \xc3\x97 ", count);
        buf_text(&text, piece_text(s, piece[i]));
    }
    return text.size ? text.data : "nothing";
}

static void best_pieces(const struct screen *s) {
    const struct ballast_result *b = &s->r->ballast;
    if (b->best_count)
        heading(s, "pieces",
                arena_printf(s->arena,
                             b->best_proven
                                 ? "Best of the pieces on hand, up to %d a bore"
                                 : "Good loads of the pieces on hand, up to %d a bore: too many "
                                   "to try them all",
                             BALLAST_PIECES_PER_BORE));
    for (int i = 0; i < b->best_count; i++) {
        struct buf text = {.arena = s->arena};
        buf_printf(&text, "%d. ", i + 1);
        for (int bore = 0; bore < b->bore_count; bore++)
            if (b->fills[bore].solved)
                buf_printf(&text, "bore %d: %s; ", bore + 1, pieces_in(s, b->best[i].piece[bore]));
        buf_text(&text, outcome(s, &b->best[i].outcome));
        line(s, text.data);
    }
}

static void ballast(const struct screen *s) {
    const struct ballast_result *b = &s->r->ballast;
    if (!b->bore_count) return;
    heading(s, "ballast", "Ballast");
    for (int i = 0; i < b->bore_count; i++) {
        const struct bore_fill *f = &b->fills[i];
        line(s, arena_printf(
                    s->arena, "bore %d %s, drill %s, %s deep: %s%s%s; wall %s", i + 1,
                    bore_place(s->arena, s->recipe->ballast->bores[i].from, &f->axis, s->units),
                    measure_fine(s->arena, f->drill, s->units), length(s, f->depth),
                    mass(s, f->load), f->axis.pair ? " in each" : "", f->solved ? " (solved)" : "",
                    length(s, b->wall[i])));
    }
    if (b->spread > 0) {
        spread(s, "light", &b->light);
        spread(s, "heavy", &b->heavy);
    }
    by_body(s);
    best_pieces(s);
}

static void chambers(const struct screen *s) {
    if (s->recipe->chamber_count) heading(s, "chambers", "Chambers");
    for (int i = 0; i < s->recipe->chamber_count; i++) {
        const struct chamber *c = &s->recipe->chambers[i];
        struct hollow h = hollow_of(&s->r->plug, i);
        const char *closed = arena_printf(s->arena, ", %s of it closed", length(s, h.stopper));
        line(s, arena_printf(s->arena, "chamber %d %s, drill %s, %s deep%s: %s, %s%s", i + 1,
                             bore_place(s->arena, c->from, &h.axis, s->units),
                             measure_fine(s->arena, h.drill, s->units), length(s, h.depth),
                             h.stopper > 0 ? closed : "", plain(s, c->holds->name),
                             mass(s, h.content), h.axis.pair ? " in each" : ""));
    }
}

static void as_they_are(const struct screen *s, const struct correction *c) {
    const struct ballast_result *b = &s->r->ballast;
    line(s, arena_printf(s->arena, "with the loads as they are: reserve %s, attitude %s",
                         measure_share(s->arena, c->as_built.reserve),
                         measure_angle(s->arena, c->as_built.attitude)));
    for (int i = 0; c->fits && !c->closed && i < b->bore_count; i++)
        if (b->fills[i].solved)
            line(s, arena_printf(s->arena, "bore %d: %s instead of %s", i + 1, mass(s, c->load[i]),
                                 mass(s, b->fills[i].load)));
    if (!c->solvable && !c->closed && b->solution.solved_count)
        line(s, "no loads meet the aim with that body");
    else if (!c->fits && !c->closed && b->solution.solved_count)
        line(s, "the loads that would meet the aim do not fit their bores");
}

static void corrections(const struct screen *s) {
    const struct correction *c = &s->r->correction;
    struct arena *a = s->arena;
    if (c->by == CORRECTED_BY_NOTHING) return;
    heading(s, "measured",
            c->by == CORRECTED_BY_SEALED ? "What the sealed body's mass says"
                                         : "What the waterline in the float test says");
    if (!c->told) {
        line(s, arena_printf(a, "the body is as heavy as computed, give or take %s",
                             mass(s, c->doubt)));
        return;
    }
    line(s, arena_printf(a, "the body is %s %s than computed, give or take %s",
                         mass(s, fabs(c->excess)), c->excess < 0 ? "lighter" : "heavier",
                         mass(s, c->doubt)));
    if (c->cause == CAUSE_WOOD)
        line(s, arena_printf(a, "wood of %s, give or take %s, would explain it",
                             measure_density(a, c->wood_density, s->units),
                             measure_density(a, c->density_doubt, s->units)));
    else
        line(s, arena_printf(a, "%.0f g/m2 of sealer kept by each coat would explain it",
                             c->uptake * 1e3));
    as_they_are(s, c);
}

/* --- under tow ------------------------------------------------------------------------------- */

enum { TOW_LABEL = 23, TOW_COLUMN = -18 };

static const char *tow_cell(const struct screen *s, enum shown_as what,
                            const struct estimate *estimate) {
    return tow_band(s->arena, what, &estimate->band, s->units);
}

/* One row over all speeds; `cell` says what stands in each. */
static void tow_row(const struct screen *s, const char *label,
                    const char *(*cell)(const struct screen *s, const struct running_speed *speed,
                                        int out),
                    int out) {
    const struct running_result *r = &s->r->running;
    row(s);
    column(s, label, TOW_LABEL);
    for (int i = 0; i < r->speed_count; i++) column(s, cell(s, &r->speeds[i], out), TOW_COLUMN);
}

static const char *speed_cell(const struct screen *s, const struct running_speed *speed, int out) {
    (void)out;
    return tow_value(s->arena, SHOWN_TOW, speed->speed, s->units);
}

static const char *runs_cell(const struct screen *s, const struct running_speed *speed, int out) {
    (void)s, (void)out;
    return tow_runs(speed);
}

static const char *trim_cell(const struct screen *s, const struct running_speed *speed, int out) {
    (void)out;
    return tow_cell(s, SHOWN_TRIM, &speed->trim);
}

static const char *pull_cell(const struct screen *s, const struct running_speed *speed, int out) {
    (void)out;
    return tow_cell(s, SHOWN_PULL, &speed->pull);
}

static const char *angle_cell(const struct screen *s, const struct running_speed *speed, int out) {
    (void)out;
    return tow_cell(s, SHOWN_TRIM, &speed->angle);
}

static const char *depth_cell(const struct screen *s, const struct running_speed *speed, int out) {
    return tow_cell(s, SHOWN_DEPTH, &speed->depth[out]);
}

static const char *holds_cell(const struct screen *s, const struct running_speed *speed, int out) {
    (void)s, (void)out;
    return tow_holds(speed);
}

static const char *aside_cell(const struct screen *s, const struct running_speed *speed, int out) {
    (void)out;
    return tow_cell(s, SHOWN_LENGTH, &speed->tie_aside);
}

static const char *beat_cell(const struct screen *s, const struct running_speed *speed, int out) {
    (void)out;
    return tow_beat(s->arena, speed);
}

static void paragraph(const struct screen *s, const char *text) {
    listing_paragraph(s->listing, text);
}

static void tweaks(const struct screen *s) {
    const struct running_result *r = &s->r->running;
    const struct running *running = s->recipe->running;
    heading(
        s, "tweaks",
        arena_printf(s->arena, "What would bring it up or down, %s out at %s",
                     tow_out(s->arena, running->out[r->middle_out], s->units),
                     tow_value(s->arena, SHOWN_TOW, running->speed[r->middle_speed], s->units)));
    for (int i = 0; i < TWEAKS; i++) {
        const struct running_tweak *t = &r->tweaks[i];
        if (!t->possible) continue;
        row(s);
        column(s, tow_tweak(s->arena, (enum tweak)i, s->units), 30);
        column(s, tow_change(s->arena, SHOWN_DEPTH, &t->depth, s->units), -26);
        if (r->kind == TOW_BY_LIP)
            column(s,
                   arena_printf(s->arena, "  trim %s",
                                tow_change(s->arena, SHOWN_TRIM, &t->trim, s->units)),
                   -1);
    }
}

static void sounded(const struct screen *s) {
    const struct sounding_result *reading = &s->r->running.sounding;
    if (!reading->given || !reading->left) return;
    const struct sounding *read = s->recipe->measured->running;
    paragraph(s, arena_printf(s->arena,
                              "corrected by a measured depth of %s, %s out at %s; %s was computed; "
                              "%d of %d points agree with it",
                              tow_value(s->arena, SHOWN_DEPTH, read->depth, s->units),
                              tow_out(s->arena, read->out, s->units),
                              tow_value(s->arena, SHOWN_TOW, read->speed, s->units),
                              tow_band(s->arena, SHOWN_DEPTH, &reading->predicted, s->units),
                              reading->left, SPREAD_POINTS));
}

static void tow_table(const struct screen *s) {
    const struct running_result *r = &s->r->running;
    const struct running *running = s->recipe->running;
    bool lip = r->kind == TOW_BY_LIP;
    tow_row(s, "", speed_cell, 0);
    tow_row(s, "it", runs_cell, 0);
    if (lip) tow_row(s, "trim, nose down", trim_cell, 0);
    tow_row(s, "pull on the line", pull_cell, 0);
    tow_row(s, "line at the plug, up", angle_cell, 0);
    for (int i = 0; i < r->out_count; i++)
        tow_row(
            s,
            arena_printf(s->arena, "depth, %s out", tow_out(s->arena, running->out[i], s->units)),
            depth_cell, i);
    if (!lip) return;
    tow_row(s, "it", holds_cell, 0);
    tow_row(s, "tie aside, rolls it out", aside_cell, 0);
    tow_row(s, "beat of a plate's wake", beat_cell, 0);
}

static void under_tow(const struct screen *s) {
    const struct running_result *r = &s->r->running;
    const struct running *running = s->recipe->running;
    if (!r->given) return;
    heading(s, "running",
            arena_printf(s->arena, "How it runs on %s of line, the rod's tip %s up",
                         measure_fine(s->arena, running->diameter, s->units),
                         tow_out(s->arena, running->tip, s->units)));
    if (r->kind == TOW_ON_TOP) {
        paragraph(s, tow_not_computed());
        return;
    }
    const char *solved = tow_solved(s->arena, s->recipe);
    if (solved) paragraph(s, solved);
    if (tow_jointed(s->recipe)) paragraph(s, tow_jointed(s->recipe));
    tow_table(s);
    paragraph(s, arena_printf(s->arena, "dives %s", tow_dives(s->arena, r, s->units)));
    if (r->kind == TOW_BY_LIP)
        paragraph(s, arena_printf(s->arena, "a tie %s off the middle rolls it out %s",
                                  tow_value(s->arena, SHOWN_LENGTH,
                                            reference_fact[FACT_TIE_ASIDE].value, s->units),
                                  tow_rolls(s->arena, r, s->units)));
    sounded(s);
    tweaks(s);
    heading(s, "worth", "What these numbers are worth");
    for (int i = 0; i < reference_tow_note_count; i++) paragraph(s, reference_tow_note[i]);
}

static void effort(const struct screen *s) {
    const struct run *run = &s->r->run;
    struct buf hours = {.arena = s->arena};
    heading(s, "effort", "Time and cost");
    buf_printf(&hours, "hands-on %s, the run takes %s",
               measure_time(s->arena, (double)run->hands_on),
               measure_time(s->arena, (double)run->makespan));
    if (!run->optimal)
        buf_printf(&hours, " (not proven shortest; at least %s)",
                   measure_time(s->arena, (double)run->lower_bound));
    line(s, hours.data);
    if (s->r->supply.priced)
        line(s, arena_printf(s->arena, "materials %.2f %s, %.2f a plug, as far as prices are given",
                             s->r->supply.cost, plain(s, s->recipe->currency),
                             s->r->supply.cost / s->recipe->make));
}

struct listing terminal_listing(struct arena *arena, const struct recipe *recipe,
                                const struct results *results) {
    struct listing listing = {.arena = arena};
    struct screen s = {&listing, arena, recipe, results, recipe->shop->units};
    title(&s);
    masses(&s);
    floating(&s);
    ballast(&s);
    chambers(&s);
    corrections(&s);
    under_tow(&s);
    effort(&s);
    return listing;
}

void terminal_emit(struct buf *out, const struct recipe *recipe, const struct results *results) {
    struct listing listing = terminal_listing(out->arena, recipe, results);
    listing_text(out, &listing);
}
