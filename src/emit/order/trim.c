/* The second half of the float test: what to read in the water, what a little more or less in
 * a bore does, how well the reserve is known, and what can be changed when the topcoat is hard.
 */
#include "emit/order/inner.h"

#include <math.h>
#include <string.h>

/* --- where the waterline stands ------------------------------------------------------------- */

/* Whether there is a waterline to be read, in the test or when it is finished. */
bool order_read_afloat(const struct order *order) {
    return order->results->test.waterline_given || order->results->finished.waterline_given;
}

static double finish_on(const struct order *order, const struct condition *c) {
    return condition_finish(&order->results->plug,
                            c == &order->results->finished ? CONDITION_FINISHED : CONDITION_TEST);
}

/* How deep an end lies where the water covers it. */
static const char *depth_over(const struct order *order, const struct condition *c, double metres,
                              double x) {
    double over = metres - plug_top(&order->results->plug, x) - finish_on(order, c);
    return c->waterline_given && over > 0 ? order_length(order, over) : "\xe2\x80\x93";
}

/* What, in the test, finished. */
static void read_row(struct order *order, const char *what, const char *test,
                     const char *finished) {
    md_cell(&order->md, "%s", what);
    md_cell(&order->md, "**%s**", test);
    md_cell(&order->md, "%s", finished);
}

static const char *flank(const struct order *order, const struct condition *c) {
    return c->marks.flank_given ? order_length(order, c->marks.flank) : "\xe2\x80\x93";
}

static const char *nose_under(const struct order *order, const struct condition *c) {
    return depth_over(order, c, c->waterline_nose, 0);
}

static const char *tail_under(const struct order *order, const struct condition *c) {
    return depth_over(order, c, c->waterline_tail, order->results->plug.outline.length);
}

static const char *back_out(const struct order *order, const struct condition *c) {
    double out = plug_top(&order->results->plug, order->results->plug.outline.length / 2) +
                 finish_on(order, c) - bench_amidships(c);
    return c->waterline_given && out > 0 ? order_length(order, out) : "\xe2\x80\x93";
}

/* Only what is there to be read, in the test or when it is finished. */
static void waterline_rows(struct order *order) {
    static const struct {
        const char *what;
        const char *(*value)(const struct order *order, const struct condition *c);
    } rows[] = {
        {"Middle line of the flank, from the nose", flank},
        {"Back out of the water amidships", back_out},
        {"Nose under water by", nose_under},
        {"Tail under water by", tail_under},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const char *test = rows[i].value(order, &order->results->test);
        const char *finished = rows[i].value(order, &order->results->finished);
        if (strcmp(test, finished) == 0 && strcmp(test, "\xe2\x80\x93") == 0) continue;
        read_row(order, rows[i].what, test, finished);
    }
}

static const char *falls(const struct order *order, const struct condition *c) {
    if (!c->falling_given) return "\xe2\x80\x93";
    return measure_attitude(order->arena, c->falling);
}

static void sinking_rows(struct order *order) {
    const struct condition *t = &order->results->test, *f = &order->results->finished;
    read_row(order, "Let go (an estimate)", order_speed(order, t->speed),
             order_speed(order, f->speed));
    if (t->falling_given || f->falling_given)
        read_row(order, "On the way down", falls(order, t), falls(order, f));
}

static void read_table(struct order *order) {
    static const struct md_column columns[] = {
        {"", MD_LEFT}, {"Float test", MD_RIGHT}, {"Finished", MD_RIGHT}};
    const struct condition *t = &order->results->test, *f = &order->results->finished;
    md_table(&order->md, columns, 3);
    if (order_read_afloat(order))
        waterline_rows(order);
    else
        sinking_rows(order);
    read_row(order, "Attitude", measure_attitude(order->arena, t->rest.attitude),
             measure_attitude(order->arena, f->rest.attitude));
    md_table_end(&order->md);
}

/* --- a gram more or less -------------------------------------------------------------------- */

/* A plug that floats is read where the water meets it, another by the clock. */
static void reading_cells(struct order *order, const struct water_marks *marks, double speed) {
    if (!order_read_afloat(order)) {
        md_cell(&order->md, "%s",
                speed < 0 ? measure_pace(order->arena, speed, order->units) : "floats");
        return;
    }
    md_cell(&order->md, "%s", order_mark(order, &marks->fore));
    md_cell(&order->md, "%s", order_mark(order, &marks->aft));
}

static void outcome_cells(struct order *order, const struct outcome *test,
                          const struct water_marks *marks, const struct outcome *finished) {
    struct md *md = &order->md;
    reading_cells(order, marks, test->speed);
    md_cell(md, "%s", measure_attitude(order->arena, test->attitude));
    md_cell(md, "%s", measure_share(order->arena, finished->reserve));
    md_cell(md, "%s", measure_attitude(order->arena, finished->attitude));
}

static struct outcome outcome_of(const struct condition *c) {
    return (struct outcome){
        .reserve = c->rest.reserve, .attitude = c->rest.attitude, .speed = c->speed};
}

/* "bore 1, 0.5 g less"; "bore 2, 0.310 in ball more". */
static const char *move_name(const struct order *order, const struct trial *trial) {
    const char *what = trial->piece < 0
                           ? order_mass(order, fabs(trial->change))
                           : order_piece(order, &order->recipe->ballast->pieces[trial->piece]);
    bool pair = order->results->ballast.fills[trial->bore].axis.pair;
    return arena_printf(order->arena, "bore %d, %s %s%s", trial->bore + 1, what,
                        trial->change < 0 ? "less" : "more", pair ? " in each" : "");
}

static void trial_table(struct order *order) {
    static const struct md_column afloat[] = {{"Load", MD_LEFT},
                                              {"Test: forward", MD_RIGHT},
                                              {"Test: aft", MD_RIGHT},
                                              {"Test: attitude", MD_RIGHT},
                                              {"Finished: reserve", MD_RIGHT},
                                              {"Finished: attitude", MD_RIGHT}};
    static const struct md_column sinking[] = {{"Load", MD_LEFT},
                                               {"Test: sinks in", MD_RIGHT},
                                               {"Test: attitude", MD_RIGHT},
                                               {"Finished: reserve", MD_RIGHT},
                                               {"Finished: attitude", MD_RIGHT}};
    const struct ballast_result *ballast = &order->results->ballast;
    struct md *md = &order->md;
    struct outcome test = outcome_of(&order->results->test);
    struct outcome finished = outcome_of(&order->results->finished);
    if (order_read_afloat(order))
        md_table(md, afloat, 6);
    else
        md_table(md, sinking, 5);
    md_cell(md, "as computed");
    outcome_cells(order, &test, &order->results->test.marks, &finished);
    for (int i = 0; i < ballast->trial_count; i++) {
        const struct trial *trial = &ballast->trials[i];
        md_cell(md, "%s", move_name(order, trial));
        outcome_cells(order, &trial->test, &trial->marks, &trial->finished);
    }
    md_table_end(md);
}

/* --- how well it is known, and the last trim -------------------------------------------------- */

static void budget_words(struct order *order) {
    const struct results *r = order->results;
    const struct budget *b = &r->budget;
    struct arena *arena = order->arena;
    struct md *md = &order->md;
    double reserve = r->finished.rest.reserve;
    md_open_para(md);
    md_add(md,
           "Built by these numbers alone, the reserve comes out within %s (one standard deviation: "
           "wood %s, loads %s, sealer %s, hooks %s, paint and topcoat %s).",
           measure_share(arena, b->built), measure_share(arena, b->part[DOUBT_WOOD]),
           measure_share(arena, b->part[DOUBT_LOADS]), measure_share(arena, b->part[DOUBT_SEALER]),
           measure_share(arena, b->part[DOUBT_HOOKS]), measure_share(arena, b->part[DOUBT_FILMS]));
    md_add(md, " Trimmed by these rows, within %s: the films to come and %s of reading.",
           measure_share(arena, b->trimmed), measure_share(arena, b->part[DOUBT_READING]));
    if (fabs(reserve) < 2 * b->trimmed)
        md_add(
            md,
            " **%s of reserve is finer than that:** whether it floats or sinks is settled by the "
            "last trim, when the topcoat is hard.",
            measure_share(arena, reserve));
    md_end(md);
}

static const char *swap_name(const struct order *order, const struct swap *swap) {
    const char *change = arena_printf(order->arena, "%s %s", order_mass(order, fabs(swap->change)),
                                      swap->change < 0 ? "less" : "more");
    if (swap->kind == SWAP_RING)
        return arena_printf(order->arena, "hanger %d, a second ring, %s", swap->hanger, change);
    return arena_printf(order->arena, "hanger %d, hook %s for %s, %s", swap->hanger, swap->now,
                        swap->was, change);
}

static void swap_row(struct order *order, const char *what, const struct condition *c) {
    struct md *md = &order->md;
    md_cell(md, "%s", what);
    reading_cells(order, &c->marks, c->speed);
    md_cell(md, "%s", measure_share(order->arena, c->rest.reserve));
    md_cell(md, "%s", measure_attitude(order->arena, c->rest.attitude));
}

static void last_trim(struct order *order) {
    static const struct md_column afloat[] = {{"When the topcoat is hard", MD_LEFT},
                                              {"Forward", MD_RIGHT},
                                              {"Aft", MD_RIGHT},
                                              {"Reserve", MD_RIGHT},
                                              {"Attitude", MD_RIGHT}};
    static const struct md_column sinking[] = {{"When the topcoat is hard", MD_LEFT},
                                               {"Sinks in", MD_RIGHT},
                                               {"Reserve", MD_RIGHT},
                                               {"Attitude", MD_RIGHT}};
    const struct results *r = order->results;
    struct md *md = &order->md;
    if (!r->swap_count) return;
    md_heading(md, 3, "Last trim");
    md_para(md, "Hooks and rings are all that can still be changed then; hooks by the table, so "
                "weigh both.");
    if (order_read_afloat(order))
        md_table(md, afloat, 5);
    else
        md_table(md, sinking, 4);
    swap_row(order, "as computed", &r->finished);
    for (int i = 0; i < r->swap_count; i++)
        swap_row(order, swap_name(order, &r->swaps[i]), &r->swaps[i].result);
    md_table_end(md);
}

/* --- the whole ------------------------------------------------------------------------------ */

void order_trim(struct order *order) {
    bool loaded = order->results->ballast.bore_count > 0;
    struct md *md = &order->md;
    md_heading(md, 3, loaded ? "Read and trim" : "Read");
    read_table(order);
    if (loaded) {
        md_open_para(md);
        md_add(md, "Each line is the plug weighed anew; change one bore at a time.");
        if (order_read_afloat(order))
            md_add(md, " Nose and tail: height above the datum line; back and belly: along the "
                       "datum line from the nose.");
        md_end(md);
        trial_table(order);
    }
    budget_words(order);
    last_trim(order);
}
