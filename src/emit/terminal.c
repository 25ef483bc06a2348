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
    struct buf *out;
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

/* `text` padded to `width` columns; negative: flush right, and a wide one still stands apart. */
static void column(const struct screen *s, const char *text, int width) {
    if (width < 0 && unicode_width(str_of(text)) >= -width) buf_char(s->out, ' ');
    unicode_pad(s->out, text, width);
}

static void heading(const struct screen *s, const char *text) {
    buf_printf(s->out, "\n%s\n", text);
}

static void title(const struct screen *s) {
    const struct recipe *recipe = s->recipe;
    const struct plug *f = &s->r->plug;
    buf_printf(s->out, "%s, %d %s of %s (%s, %s)\n", plain(s, recipe->name), recipe->make,
               recipe->make == 1 ? "plug" : "plugs", recipe->wood->row->name,
               measure_density(s->arena, f->wood_density, s->units), plug_wood_source(f));
    buf_printf(s->out, "shaped body, %s: %s", name_text(s->arena, plug_shaped_name(s->recipe)),
               mass(s, plug_body_mass(f)));
    if (s->r->ballast.scatter > 0)
        buf_printf(s->out, ", the mean of %d that scatter by %s", recipe->measured->blank_count,
                   measure_share(s->arena, s->r->ballast.scatter));
    buf_printf(s->out, "\n%s long, %s high, %s wide; volume %s, surface %s\n",
               length(s, f->outline.length), length(s, f->bare.height), length(s, f->bare.width),
               measure_solid(s->arena, f->bare.volume, s->units),
               measure_area(s->arena, f->bare.surface, s->units));
}

static void masses(const struct screen *s) {
    heading(s, "What it weighs, from the nose aft and above the datum");
    for (int i = 0; i < s->r->masses.count; i++) {
        const struct mass_row *row = &s->r->masses.rows[i];
        buf_text(s->out, "  ");
        column(s, name_stages[row->stage].text, 11);
        column(s, name_text(s->arena, row->item), 18);
        column(s, mass(s, row->mass), -10);
        column(s, length(s, row->x), -18);
        column(s, length(s, row->z), -18);
        buf_char(s->out, '\n');
    }
}

/* --- floating -------------------------------------------------------------------------------- */

static void pair(const struct screen *s, const char *name, const char *test, const char *finished) {
    buf_text(s->out, "  ");
    column(s, name, 34);
    column(s, test, -16);
    column(s, finished, -16);
    buf_char(s->out, '\n');
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
    heading(s, "How it floats");
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

static void outcome(const struct screen *s, const struct outcome *o) {
    buf_printf(s->out, "reserve %s, %s\n", measure_share(s->arena, o->reserve),
               o->found
                   ? arena_printf(s->arena, "attitude %s", measure_angle(s->arena, o->attitude))
                   : "no rest");
}

static void spread(const struct screen *s, const char *name, const struct spread_case *c) {
    buf_printf(s->out, "  %s wood, %s: ", name,
               measure_density(s->arena, c->wood_density, s->units));
    for (int i = 0; c->solvable && i < s->r->ballast.bore_count; i++)
        if (s->r->ballast.fills[i].solved)
            buf_printf(s->out, "bore %d %s; ", i + 1,
                       c->fits[i] ? mass(s, c->load[i]) : "does not fit");
    if (!c->solvable) buf_text(s->out, "no load meets the aim; ");
    buf_text(s->out, "as built ");
    outcome(s, &c->as_built);
}

/* Load and depth of every solved bore, by the mass of the shaped body. */
static void by_body(const struct screen *s) {
    const struct ballast_result *b = &s->r->ballast;
    if (b->by_blank_count)
        heading(s, arena_printf(s->arena, "Loads by the mass of the shaped body, %s",
                                name_text(s->arena, plug_shaped_name(s->recipe))));
    for (int k = 0; k < b->by_blank_count; k++) {
        const struct spread_case *c = &b->by_blank[k];
        buf_text(s->out, "  ");
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
        buf_char(s->out, '\n');
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
        heading(s, arena_printf(s->arena,
                                b->best_proven
                                    ? "Best of the pieces on hand, up to %d a bore"
                                    : "Good loads of the pieces on hand, up to %d a bore: too many "
                                      "to try them all",
                                BALLAST_PIECES_PER_BORE));
    for (int i = 0; i < b->best_count; i++) {
        buf_printf(s->out, "  %d. ", i + 1);
        for (int bore = 0; bore < b->bore_count; bore++)
            if (b->fills[bore].solved)
                buf_printf(s->out, "bore %d: %s; ", bore + 1, pieces_in(s, b->best[i].piece[bore]));
        outcome(s, &b->best[i].outcome);
    }
}

static void ballast(const struct screen *s) {
    const struct ballast_result *b = &s->r->ballast;
    if (!b->bore_count) return;
    heading(s, "Ballast");
    for (int i = 0; i < b->bore_count; i++) {
        const struct bore_fill *f = &b->fills[i];
        buf_printf(s->out, "  bore %d %s, drill %s, %s deep: %s%s%s; wall %s\n", i + 1,
                   bore_place(s->arena, s->recipe->ballast->bores[i].from, &f->axis, s->units),
                   measure_fine(s->arena, f->drill, s->units), length(s, f->depth),
                   mass(s, f->load), f->axis.pair ? " in each" : "", f->solved ? " (solved)" : "",
                   length(s, b->wall[i]));
    }
    if (b->spread > 0) {
        spread(s, "light", &b->light);
        spread(s, "heavy", &b->heavy);
    }
    by_body(s);
    best_pieces(s);
}

static void chambers(const struct screen *s) {
    if (s->recipe->chamber_count) heading(s, "Chambers");
    for (int i = 0; i < s->recipe->chamber_count; i++) {
        const struct chamber *c = &s->recipe->chambers[i];
        struct hollow h = hollow_of(&s->r->plug, i);
        const char *closed = arena_printf(s->arena, ", %s of it closed", length(s, h.stopper));
        buf_printf(s->out, "  chamber %d %s, drill %s, %s deep%s: %s, %s%s\n", i + 1,
                   bore_place(s->arena, c->from, &h.axis, s->units),
                   measure_fine(s->arena, h.drill, s->units), length(s, h.depth),
                   h.stopper > 0 ? closed : "", plain(s, c->holds->name), mass(s, h.content),
                   h.axis.pair ? " in each" : "");
    }
}

static void corrections(const struct screen *s) {
    const struct correction *c = &s->r->correction;
    struct arena *a = s->arena;
    if (c->by == CORRECTED_BY_NOTHING) return;
    heading(s, c->by == CORRECTED_BY_SEALED ? "What the sealed body's mass says"
                                            : "What the waterline in the float test says");
    if (!c->told) {
        buf_printf(s->out, "  the body is as heavy as computed, give or take %s\n",
                   mass(s, c->doubt));
        return;
    }
    buf_printf(s->out, "  the body is %s %s than computed, give or take %s\n",
               mass(s, fabs(c->excess)), c->excess < 0 ? "lighter" : "heavier", mass(s, c->doubt));
    if (c->cause == CAUSE_WOOD)
        buf_printf(s->out, "  wood of %s, give or take %s, would explain it\n",
                   measure_density(a, c->wood_density, s->units),
                   measure_density(a, c->density_doubt, s->units));
    else
        buf_printf(s->out, "  %.0f g/m2 of sealer kept by each coat would explain it\n",
                   c->uptake * 1e3);
    buf_text(s->out, "  with the loads as they are: ");
    buf_printf(s->out, "reserve %s, attitude %s\n", measure_share(a, c->as_built.reserve),
               measure_angle(a, c->as_built.attitude));
    for (int i = 0; c->fits && !c->closed && i < s->r->ballast.bore_count; i++)
        if (s->r->ballast.fills[i].solved)
            buf_printf(s->out, "  bore %d: %s instead of %s\n", i + 1, mass(s, c->load[i]),
                       mass(s, s->r->ballast.fills[i].load));
    if (!c->solvable && !c->closed && s->r->ballast.solution.solved_count)
        buf_text(s->out, "  no loads meet the aim with that body\n");
    else if (!c->fits && !c->closed && s->r->ballast.solution.solved_count)
        buf_text(s->out, "  the loads that would meet the aim do not fit their bores\n");
}

/* --- under tow ------------------------------------------------------------------------------- */

enum { TOW_LABEL = 23, TOW_COLUMN = -18, TOW_WIDTH = 78 };

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
    buf_text(s->out, "  ");
    column(s, label, TOW_LABEL);
    for (int i = 0; i < r->speed_count; i++) column(s, cell(s, &r->speeds[i], out), TOW_COLUMN);
    buf_char(s->out, '\n');
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

/* Words broken at blanks, two columns in. */
static void paragraph(const struct screen *s, const char *text) {
    buf_char(s->out, ' ');
    for (int at = 1; *text;) {
        size_t size = strcspn(text, " ");
        int wide = unicode_width((struct str){text, size});
        bool fits = at == 1 || at + 1 + wide <= TOW_WIDTH;
        buf_text(s->out, fits ? " " : "\n  ");
        buf_bytes(s->out, text, size);
        at = (fits ? at : 1) + 1 + wide;
        text += size + strspn(text + size, " ");
    }
    buf_char(s->out, '\n');
}

static void tweaks(const struct screen *s) {
    const struct running_result *r = &s->r->running;
    const struct running *running = s->recipe->running;
    heading(
        s, arena_printf(s->arena, "What would bring it up or down, %s out at %s",
                        tow_out(s->arena, running->out[r->middle_out], s->units),
                        tow_value(s->arena, SHOWN_TOW, running->speed[r->middle_speed], s->units)));
    for (int i = 0; i < TWEAKS; i++) {
        const struct running_tweak *t = &r->tweaks[i];
        if (!t->possible) continue;
        buf_text(s->out, "  ");
        column(s, tow_tweak(s->arena, (enum tweak)i, s->units), 30);
        column(s, tow_change(s->arena, SHOWN_DEPTH, &t->depth, s->units), -26);
        if (r->kind == TOW_BY_LIP)
            buf_printf(s->out, "   trim %s", tow_change(s->arena, SHOWN_TRIM, &t->trim, s->units));
        buf_char(s->out, '\n');
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
    heading(s, arena_printf(s->arena, "How it runs on %s of line, the rod's tip %s up",
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
    heading(s, "What these numbers are worth");
    for (int i = 0; i < reference_tow_note_count; i++) paragraph(s, reference_tow_note[i]);
}

static void effort(const struct screen *s) {
    const struct run *run = &s->r->run;
    heading(s, "Time and cost");
    buf_printf(s->out, "  hands-on %s, the run takes %s%s\n",
               measure_time(s->arena, (double)run->hands_on),
               measure_time(s->arena, (double)run->makespan),
               run->optimal ? ""
                            : arena_printf(s->arena, " (not proven shortest; at least %s)",
                                           measure_time(s->arena, (double)run->lower_bound)));
    if (s->r->supply.priced)
        buf_printf(s->out, "  materials %.2f %s, %.2f a plug, as far as prices are given\n",
                   s->r->supply.cost, plain(s, s->recipe->currency),
                   s->r->supply.cost / s->recipe->make);
}

void terminal_emit(struct buf *out, const struct recipe *recipe, const struct results *results) {
    struct screen s = {out, out->arena, recipe, results, recipe->shop->units};
    title(&s);
    masses(&s);
    floating(&s);
    ballast(&s);
    chambers(&s);
    corrections(&s);
    under_tow(&s);
    effort(&s);
}
