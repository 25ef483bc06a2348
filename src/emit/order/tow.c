/* How it runs: depth, trim, pull and hold with their bands, what would change them, what to do
 * where it runs wrong, and what these numbers are worth.  Nothing where the recipe does not ask.
 */
#include "emit/order/inner.h"

#include <math.h>

#include "emit/words/tow.h"

static const char *tow(const struct order *order, enum shown_as what, double value) {
    return tow_value(order->arena, what, value, order->units);
}

static double middle_speed(const struct order *order) {
    return order->recipe->running->speed[order->results->running.middle_speed];
}

static double middle_out(const struct order *order) {
    return order->recipe->running->out[order->results->running.middle_out];
}

/* "30 m out at 1.5 m/s" */
static const char *where(const struct order *order) {
    return arena_printf(order->arena, "%s out at %s",
                        tow_out(order->arena, middle_out(order), order->units),
                        tow(order, SHOWN_TOW, middle_speed(order)));
}

/* --- the table ------------------------------------------------------------------------------- */

static void band_cell(struct order *order, enum shown_as what, const struct estimate *estimate) {
    md_cell(&order->md, "%s", tow_band(order->arena, what, &estimate->band, order->units));
}

/* A row of answers of one kind; `of` is where they stand in a speed. */
static void band_row(struct order *order, const char *label, enum shown_as what, size_t of) {
    const struct running_result *r = &order->results->running;
    md_cell(&order->md, "%s", label);
    for (int i = 0; i < r->speed_count; i++)
        band_cell(order, what,
                  (const struct estimate *)(const void *)((const char *)&r->speeds[i] + of));
}

static void word_row(struct order *order, const char *label,
                     const char *(*word)(const struct running_speed *speed)) {
    const struct running_result *r = &order->results->running;
    md_cell(&order->md, "%s", label);
    for (int i = 0; i < r->speed_count; i++) md_cell(&order->md, "%s", word(&r->speeds[i]));
}

static void answer_rows(struct order *order) {
    const struct running_result *r = &order->results->running;
    bool lip = r->kind == TOW_BY_LIP;
    word_row(order, "Under tow", tow_runs);
    for (int i = 0; i < r->out_count; i++)
        band_row(order,
                 arena_printf(order->arena, "Depth with %s out",
                              tow_out(order->arena, order->recipe->running->out[i], order->units)),
                 SHOWN_DEPTH,
                 offsetof(struct running_speed, depth) + (size_t)i * sizeof(struct estimate));
    if (lip) band_row(order, "Trim, nose down", SHOWN_TRIM, offsetof(struct running_speed, trim));
    band_row(order, "Pull on the line", SHOWN_PULL, offsetof(struct running_speed, pull));
    if (!lip) return;
    word_row(order, "Hold", tow_holds);
    band_row(order, "Tie aside that rolls it out", SHOWN_LENGTH,
             offsetof(struct running_speed, tie_aside));
    md_cell(&order->md, "Beat of a plate's wake, not of the plug");
    for (int i = 0; i < r->speed_count; i++)
        md_cell(&order->md, "%s", tow_beat(order->arena, &r->speeds[i]));
}

static void answer_table(struct order *order) {
    const struct running_result *r = &order->results->running;
    struct md_column columns[1 + MAX_SPEEDS] = {{"", MD_LEFT}};
    for (int i = 0; i < r->speed_count; i++)
        columns[1 + i] = (struct md_column){tow(order, SHOWN_TOW, r->speeds[i].speed), MD_RIGHT};
    md_table(&order->md, columns, 1 + r->speed_count);
    answer_rows(order);
    md_table_end(&order->md);
}

/* --- what to change -------------------------------------------------------------------------- */

static void tweak_table(struct order *order) {
    static const struct md_column columns[] = {
        {"Change", MD_LEFT}, {"Deeper by", MD_RIGHT}, {"Trim", MD_RIGHT}, {"Tie aside", MD_RIGHT}};
    const struct running_result *r = &order->results->running;
    struct arena *arena = order->arena;
    int count = r->kind == TOW_BY_LIP ? 4 : 2;
    md_heading(&order->md, 3, "What would bring it up or down");
    md_para(&order->md, "With %s, each alone, the loads left as they are.", where(order));
    md_table(&order->md, columns, count);
    for (int i = 0; i < TWEAKS; i++) {
        const struct running_tweak *t = &r->tweaks[i];
        if (!t->possible) continue;
        md_cell(&order->md, "%s", tow_tweak(arena, (enum tweak)i, order->units));
        md_cell(&order->md, "%s", tow_change(arena, SHOWN_DEPTH, &t->depth, order->units));
        if (count < 4) continue;
        md_cell(&order->md, "%s", tow_change(arena, SHOWN_TRIM, &t->trim, order->units));
        md_cell(&order->md, "%s", tow_change(arena, SHOWN_LENGTH, &t->tie_aside, order->units));
    }
    md_table_end(&order->md);
}

/* The changes that clearly bring more of something: how much of it stands in the table above. */
static const char *what_helps(const struct order *order, bool hold) {
    const struct running_result *r = &order->results->running;
    struct buf out = {.arena = order->arena};
    for (int i = 0; i < TWEAKS; i++) {
        const struct band *band = hold ? &r->tweaks[i].tie_aside : &r->tweaks[i].depth;
        if (!band->given || band->median == 0 || band_unclear(band)) continue;
        if (hold && band->median < 0) continue;
        buf_printf(&out, "%s%s", out.size ? "; " : "",
                   tow_tweak(order->arena, (enum tweak)i, order->units));
    }
    return out.size ? out.data : "no change that was tried is clear";
}

/* A third of what rolls it out: small enough to be taken back. */
static const char *how_far(const struct order *order) {
    const struct running_result *r = &order->results->running;
    const struct band *aside = &r->speeds[r->middle_speed].tie_aside.band;
    if (!aside->given || isinf(aside->median)) return "-";
    return arena_printf(order->arena, "%s at a time; %s roll it out at %s",
                        tow(order, SHOWN_LENGTH, aside->median / 3),
                        tow(order, SHOWN_LENGTH, aside->median),
                        tow(order, SHOWN_TOW, middle_speed(order)));
}

static void tuning_table(struct order *order) {
    static const struct md_column columns[] = {
        {"When", MD_LEFT}, {"Do", MD_LEFT}, {"By how much", MD_LEFT}};
    md_heading(&order->md, 3, "Tuning");
    md_table(&order->md, columns, 3);
    for (int i = 0; i < TUNINGS; i++) {
        const struct tuning_row *row = &reference_tuning[i];
        md_cell(&order->md, "%s", row->when);
        md_cell(&order->md, "%s", row->what);
        md_cell(&order->md, "%s",
                row->by == TUNING_BY_TIE    ? how_far(order)
                : row->by == TUNING_BY_HOLD ? what_helps(order, true)
                                            : what_helps(order, false));
    }
    md_table_end(&order->md);
}

/* --- a reading ------------------------------------------------------------------------------- */

static void ask_depth(struct order *order) {
    struct md *md = &order->md;
    md_heading(md, 3, "One measured depth");
    md_para(
        md,
        "One depth closes these bands for all the others nearby, and needs no instrument. Find "
        "a bottom of known depth, level and free of snags: a chart's, or a weight let down on "
        "a marked line. Troll over it with ever more line until the plug just ticks the bottom. "
        "Speed: seconds that a leaf takes along the boat, into its length. Line out: count it in "
        "lengths of the rod. Note it on the card, and write it into the recipe as "
        "`measured: {running: {speed: …, out: …, depth: …}}`.");
}

static void say_reading(struct order *order) {
    const struct sounding_result *reading = &order->results->running.sounding;
    if (!reading->given || !reading->left) return;
    const struct sounding *read = order->recipe->measured->running;
    md_para(&order->md,
            "Corrected by a measured depth of **%s** with %s out at %s; %s was computed. Of %d "
            "points %d can be made to agree with it.",
            tow(order, SHOWN_DEPTH, read->depth), tow_out(order->arena, read->out, order->units),
            tow(order, SHOWN_TOW, read->speed),
            tow_band(order->arena, SHOWN_DEPTH, &reading->predicted, order->units), SPREAD_POINTS,
            reading->left);
}

void order_add_sounding(struct order *order) {
    const struct running_result *r = &order->results->running;
    if (!r->given || r->kind != TOW_BY_LIP) return;
    const struct band *depth = &r->speeds[r->middle_speed].depth[r->middle_out].band;
    md_add(&order->md,
           " With %s it runs **%s** deep: ticked at " ORDER_BLANK " with " ORDER_BLANK
           " out at " ORDER_BLANK ".",
           where(order), tow_band(order->arena, SHOWN_DEPTH, depth, order->units));
}

/* --- the chapter ----------------------------------------------------------------------------- */

void order_tow_notes(struct order *order) {
    const struct running_result *r = &order->results->running;
    if (!r->given || r->kind == TOW_ON_TOP) return;
    md_heading(&order->md, 3, "What the running depths are worth");
    for (int i = 0; i < reference_tow_note_count; i++)
        md_item(&order->md, "%s", reference_tow_note[i]);
    md_end_list(&order->md);
}

static void bounds(struct order *order) {
    const struct running_result *r = &order->results->running;
    md_open_para(&order->md);
    md_add(&order->md, "It dives %s.", tow_dives(order->arena, r, order->units));
    if (r->kind == TOW_BY_LIP)
        md_add(&order->md, " A tie %s off the middle rolls it out %s.",
               tow(order, SHOWN_LENGTH, reference_fact[FACT_TIE_ASIDE].value),
               tow_rolls(order->arena, r, order->units));
    md_end(&order->md);
}

void order_tow(struct order *order) {
    const struct running_result *r = &order->results->running;
    const struct running *running = order->recipe->running;
    if (!r->given) return;
    md_heading(&order->md, 2, "How it runs");
    if (r->kind == TOW_ON_TOP) {
        md_para(&order->md, "%s", tow_not_computed());
        return;
    }
    md_para(&order->md, "Trolled on %s of line, the rod's tip %s above the water.",
            order_fine(order, running->diameter),
            tow_out(order->arena, running->tip, order->units));
    const char *solved = tow_solved(order->arena, order->recipe);
    if (solved)
        md_para(&order->md,
                "%s It is the middle of the band below that meets it; the ballast was solved with "
                "it.",
                solved);
    if (tow_jointed(order->recipe)) md_para(&order->md, "%s", tow_jointed(order->recipe));
    say_reading(order);
    order_figures(order, FIGURE_DEPTHS);
    order_figures(order, FIGURE_TOW);
    answer_table(order);
    bounds(order);
    tweak_table(order);
    if (r->kind != TOW_BY_LIP) return;
    tuning_table(order);
    ask_depth(order);
}
