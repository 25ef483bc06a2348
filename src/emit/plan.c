#include "emit/plan.h"

#include <math.h>

#include "compute/work/sitting.h"
#include "emit/words/words.h"
#include "emit/write/json.h"
#include "emit/write/markdown.h"
#include "emit/write/measure.h"
#include "emit/write/svg.h"

static bool dated(const struct plan_view *v) {
    return v->recipes[0]->shop->start.given;
}

/* "Sat 5 Dec, 09:00", or the hours since the beginning. */
static const char *when(const struct plan_view *v, int64_t seconds) {
    if (!dated(v))
        return arena_printf(v->arena, "hour %s", measure_hour(v->arena, (double)seconds));
    struct moment moment = moment_after(v->recipes[0]->shop->start, seconds);
    return arena_printf(v->arena, "%s, %s", measure_date(v->arena, moment),
                        measure_clock(v->arena, moment));
}

/* The same inside a day whose date stands above. */
static const char *clock_at(const struct plan_view *v, int64_t seconds) {
    if (!dated(v)) return when(v, seconds);
    return measure_clock(v->arena, moment_after(v->recipes[0]->shop->start, seconds));
}

static const char *span(const struct plan_view *v, int64_t seconds) {
    return measure_time(v->arena, (double)seconds);
}

/* The step's number on the sheet of its order. */
static int step_number(const struct run *run, int operation) {
    int number = 0;
    for (int i = 0; i <= operation; i++) number += !run->route.operations[i].skipped;
    return number;
}

/* The lot that one of the plan's runs is, or NULL: then it is that of an order. */
static const struct lot *lot_of(const struct plan_view *v, int run) {
    return run < v->count ? NULL : &v->plan->lots.items[run - v->count];
}

static int order_of(const struct plan_view *v, int run) {
    return run < v->count ? run : lot_of(v, run)->orders[0];
}

static const struct recipe *recipe_of(const struct plan_view *v, int run) {
    return run < v->count ? v->recipes[run] : lot_of(v, run)->recipe;
}

static const char *title_of(const struct plan_view *v, int run, int operation) {
    return words_title(v->arena, recipe_of(v, run),
                       &v->plan->runs[run].route.operations[operation]);
}

static int64_t late(const struct plan_view *v, int order) {
    const struct plan *plan = v->plan;
    bool is = plan->due[order] >= 0 && plan->ends[order] > plan->due[order];
    return is ? plan->ends[order] - plan->due[order] : 0;
}

/* --- Markdown -------------------------------------------------------------------------------- */

static void runs_table(struct md *md, const struct plan_view *v) {
    static const struct md_column columns[] = {{"Run", MD_LEFT},   {"Plugs", MD_RIGHT},
                                               {"Sheet", MD_LEFT}, {"Due", MD_LEFT},
                                               {"Done", MD_LEFT},  {"Late", MD_RIGHT}};
    md_table(md, columns, 6);
    for (int k = 0; k < v->count; k++) {
        const struct recipe *recipe = v->recipes[k];
        md_cell(md, "%.*s", MD_STR(recipe->name));
        md_cell(md, "%d", recipe->make);
        md_cell(md, "%s", v->sheets[k]);
        if (recipe->due.given)
            md_cell(md, "%s", measure_date(v->arena, recipe->due));
        else
            md_cell(md, "–");
        md_cell(md, "%s", when(v, v->plan->ends[k]));
        if (late(v, k))
            md_cell(md, "**%s**", span(v, late(v, k)));
        else
            md_cell(md, "–");
    }
    md_table_end(md);
}

/* What is proven, and what is not. */
static void summary(struct md *md, const struct plan_view *v) {
    const struct plan *plan = v->plan;
    md_open_para(md);
    md_add(md, "All is done after **%s**, on %s; hands-on %s.", span(v, plan->all.makespan),
           when(v, plan->all.makespan), span(v, plan->all.hands_on));
    if (plan->all.makespan == plan->all.lower_bound)
        md_add(md, " No plan ends earlier");
    else
        md_add(md, " No plan can end before %s; whether one ends before this is not known",
               when(v, plan->all.lower_bound));
    if (plan->lots.count) md_add(md, ", where what is the same is worked together");
    md_add(md, ".");
    if (v->count > 1) md_add(md, " One run after the other would take %s.", span(v, plan->in_turn));
    md_end(md);
    if (plan->lateness <= 0) return;
    md_para(md,
            plan->least_late_proven
                ? "Not all runs are done when they are due; no plan is less late, by hours late "
                  "each through its rank: %s."
                : "Not all runs are done when they are due. Hours late, each through its rank: %s. "
                  "No plan has less than %s.",
            measure_number(v->arena, plan->lateness, 1),
            measure_number(v->arena, plan->least_late, 1));
}

/* "grebe, grebe-dusk and grebe-perch" */
static void add_sheets(struct md *md, const struct plan_view *v, const struct lot *lot) {
    for (int i = 0; i < lot->order_count; i++) {
        if (i && i == lot->order_count - 1)
            md_add(md, " and ");
        else if (i)
            md_add(md, ", ");
        md_add(md, "**%s**", v->sheets[lot->orders[i]]);
    }
}

/* Which of the lot's plugs stand on which card. */
static void add_cards(struct md *md, const struct plan_view *v, const struct lot *lot) {
    int first = 1;
    for (int i = 0; i < lot->order_count; i++) {
        int make = v->recipes[lot->orders[i]]->make, last = first + make - 1;
        if (i) md_add(md, ", ");
        if (make == 1)
            md_add(md, "plug %d on the card of **%s**", first, v->sheets[lot->orders[i]]);
        else
            md_add(md, "plugs %d to %d on the card of **%s**", first, last,
                   v->sheets[lot->orders[i]]);
        first = last + 1;
    }
}

static void lot_line(struct md *md, const struct plan_view *v, int run) {
    const struct lot *lot = lot_of(v, run);
    const struct run *own = &v->plan->runs[run];
    int from = step_number(own, lot->from), to = step_number(own, lot->to - 1);
    md_open_item(md);
    add_sheets(md, v, lot);
    md_add(md, ": steps %d to %d for all %d plugs, by the sheet of **%s**. Write down ", from, to,
           lot->plugs, v->sheets[lot->orders[0]]);
    add_cards(md, v, lot);
    md_add(md, ".");
    md_end(md);
}

static void lots(struct md *md, const struct plan_view *v) {
    const struct plan *plan = v->plan;
    if (plan->parted)
        md_para(md, "Some bodies are the same; worked together they would be done later, so each "
                    "run is worked by itself.");
    if (!plan->lots.count) return;
    md_heading(md, 2, "Worked together");
    md_para(md, "These bodies are the same up to where they part. Set up once, take all the plugs "
                "through each step, and go on by each sheet from the next step on.");
    for (int i = 0; i < plan->lots.count; i++) lot_line(md, v, v->count + i);
    md_end_list(md);
}

static void add_plugs(struct md *md, const struct plan_view *v, int run, struct plug_range plugs) {
    int make = recipe_of(v, run)->make;
    bool all = plugs.first == 1 && plugs.last == make;
    if (all && lot_of(v, run))
        md_add(md, ", all %d plugs", make);
    else if (plugs.first == plugs.last && make > 1)
        md_add(md, ", plug %d", plugs.first);
    else if (!all)
        md_add(md, ", plugs %d to %d", plugs.first, plugs.last);
}

static void stint_line(struct md *md, const struct plan_view *v, const struct stint *stint) {
    const struct plan *plan = v->plan;
    int number = plan->owner[stint->step];
    const struct run *run = &plan->runs[number];
    const struct run_step *step = &run->steps[plan->own[stint->step]];
    struct stint own = *stint;
    own.step = plan->own[stint->step];
    md_open_task(md);
    md_add(md, "%s **%s** %d. %s", clock_at(v, stint->from), v->sheets[order_of(v, number)],
           step_number(run, step->operation), title_of(v, number, step->operation));
    add_plugs(md, v, number, sitting_plugs(run, &own));
    md_add(md, ", %s", span(v, stint->to - stint->from));
    if (step->spared) md_add(md, "; the airbrush holds this colour already");
    if (step->latest >= 0 && stint->from == step->start)
        md_add(md, ", **begin by %s**", when(v, step->latest));
    md_end(md);
}

static void sittings(struct md *md, const struct plan_view *v) {
    const struct run *all = &v->plan->all;
    md_heading(md, 2, "Sitting by sitting");
    md_para(md, "Each line names the sheet of the order and the step on it.");
    for (int i = 0; i < all->stint_count;) {
        struct sitting sitting = sitting_from(v->recipes[0], all, i);
        md_heading(md, 3, "%s", when(v, sitting.from));
        for (; i < sitting.end; i++) stint_line(md, v, &all->stints[i]);
        md_end_list(md);
    }
}

static const char *item_text(const struct plan_view *v, const struct shopping_row *row) {
    const char *item = name_text(v->arena, row->item);
    if (!row->of.size) return item;
    return arena_printf(v->arena, "%s (%.*s)", item, (int)row->of.size, row->of.data);
}

static const char *amount(const struct plan_view *v, const struct shopping_row *row, double value) {
    enum unit_system units = v->recipes[0]->shop->units;
    switch (row->unit) {
    case SUPPLY_MASS:
        return measure_mass(v->arena, value, units);
    case SUPPLY_LENGTH:
        return measure_length(v->arena, value, units);
    case SUPPLY_AREA:
        return measure_area(v->arena, value, units);
    case SUPPLY_VOLUME:
        return row->group == SUPPLY_WOOD ? measure_solid(v->arena, value, units)
                                         : measure_volume(v->arena, value, units);
    case SUPPLY_PIECES:
        break;
    }
    return measure_number(v->arena, value, 0);
}

static void amount_cell(struct md *md, const struct plan_view *v, const struct shopping_row *row,
                        double value) {
    if (value > 0)
        md_cell(md, "%s", amount(v, row, value));
    else
        md_cell(md, "–");
}

static void shopping_row(struct md *md, const struct plan_view *v, const struct shopping_row *row) {
    md_cell(md, "☐");
    md_cell(md, "%s", item_text(v, row));
    md_cell(md, "%s", amount(v, row, row->amount));
    if (v->shopping->stocked) {
        amount_cell(md, v, row, row->have);
        amount_cell(md, v, row, row->amount - row->have);
    }
    if (v->shopping->priced && row->priced)
        md_cell(md, "%s", measure_number(v->arena, row->to_pay, 2));
    else if (v->shopping->priced)
        md_cell(md, "–");
}

static void shopping_list(struct md *md, const struct plan_view *v) {
    static const struct md_column bought[] = {
        {"", MD_CENTRE}, {"Material", MD_LEFT}, {"All runs", MD_RIGHT}, {"Cost", MD_RIGHT}};
    static const struct md_column stocked[] = {{"", MD_CENTRE},        {"Material", MD_LEFT},
                                               {"All runs", MD_RIGHT}, {"On hand", MD_RIGHT},
                                               {"To buy", MD_RIGHT},   {"Cost", MD_RIGHT}};
    const struct shopping *list = v->shopping;
    md_heading(md, 2, "Shopping list");
    if (list->stocked)
        md_para(md, "What is on hand is taken off once, whichever run uses it; the cost is that of "
                    "what is to buy.");
    md_table(md, list->stocked ? stocked : bought, (list->stocked ? 5 : 3) + list->priced);
    for (int i = 0; i < list->count; i++) shopping_row(md, v, &list->rows[i]);
    md_table_end(md);
    if (list->priced)
        md_para(md, "%s: **%s %.*s**. A dash means that a run that needs it gives no price.",
                list->stocked ? "To pay" : "Priced materials",
                measure_number(v->arena, list->to_pay, 2), MD_STR(v->recipes[0]->currency));
}

/* --- what is cut from which board ------------------------------------------------------------ */

static const char *length_text(const struct plan_view *v, double value) {
    return measure_length(v->arena, value, v->recipes[0]->shop->units);
}

static const char *wood_text(const struct plan_view *v, double value) {
    return measure_solid(v->arena, value, v->recipes[0]->shop->units);
}

static const char *sheet_of(const struct plan_view *v, const struct sawing_wood *wood, int want) {
    return v->sheets[wood->runs[want]];
}

/* "2 strips cut to 3 × 101.0 mm grebe, 1 × 96.0 mm dipper" */
static void add_strip(struct md *md, const struct plan_view *v, const struct sawing_wood *wood,
                      const struct cutting_strip *strip) {
    md_add(md, strip->alike == 1 ? " %d strip cut to" : " %d strips cut to", strip->alike);
    for (int i = 0; i < strip->count; i++) {
        const struct cutting_piece *piece = &strip->pieces[i];
        md_add(md, i ? ", %d × %s %s" : " %d × %s %s", piece->count,
               length_text(v, wood->task.wants[piece->want].length),
               sheet_of(v, wood, piece->want));
    }
}

static void add_stretch(struct md *md, const struct plan_view *v, const struct sawing_wood *wood,
                        const struct cutting_stretch *stretch) {
    md_break(md);
    md_add(md, "%s, ripped to %s × %s:", length_text(v, stretch->length),
           length_text(v, stretch->width), length_text(v, stretch->thickness));
    for (int i = 0; i < stretch->count; i++) {
        if (i) md_add(md, ";");
        add_strip(md, v, wood, &stretch->strips[i]);
    }
}

/* Of one board, or of those that are cut like it. */
static void board_item(struct md *md, const struct plan_view *v, const struct sawing_wood *wood,
                       const struct cutting_begun *begun, int number) {
    const struct cutting_board *board = &wood->task.boards[begun->board];
    md_open_task(md);
    if (begun->alike > 1)
        md_add(md, "**Boards %d to %d**, each ", number, number + begun->alike - 1);
    else
        md_add(md, "**Board %d**, ", number);
    md_add(md, "%s × %s × %s: %s waste", length_text(v, board->length),
           length_text(v, board->width), length_text(v, board->thickness),
           measure_share(v->arena, begun->waste));
    if (begun->left > 0) md_add(md, ", %s left over", length_text(v, begun->left));
    for (int i = 0; i < begun->count; i++) add_stretch(md, v, wood, &begun->stretches[i]);
    md_end(md);
}

static void board_items(struct md *md, const struct plan_view *v, const struct sawing_wood *wood) {
    int number = 1;
    for (int i = 0; i < wood->cutting.count; i++) {
        board_item(md, v, wood, &wood->cutting.begun[i], number);
        number += wood->cutting.begun[i].alike;
    }
    md_end_list(md);
}

/* How good that is, and what one run after the other would take. */
static void cutting_words(struct md *md, const struct plan_view *v, const struct cutting *c) {
    const struct cutting_wood *in_turn = &c->run_by_run;
    md_open_para(md);
    md_add(md,
           "**%s of what is cut off is waste.** The blanks hold %s, the boards that are begun %s",
           measure_share(v->arena, c->waste), wood_text(v, c->blanks), wood_text(v, c->wood.begun));
    if (c->least)
        md_add(md, ", and no boards that hold less give these blanks.");
    else
        md_add(md,
               ". Boards that give these blanks hold %s at least; whether any hold less than those "
               "here is not known.",
               wood_text(v, c->bound));
    double fewer = in_turn->missing - c->wood.missing, further = in_turn->begun - c->wood.begun,
           more = in_turn->taken - c->wood.taken;
    if (fewer > 0)
        md_add(md, " Cut run by run, the boards on hand would give %s less in blanks.",
               wood_text(v, fewer));
    else if (further > 0)
        md_add(md, " Cut run by run, boards that hold %s more would be begun.",
               wood_text(v, further));
    else if (more > 0)
        md_add(md, " Cut run by run, %s more would be taken of them.", wood_text(v, more));
    md_end(md);
}

/* Of a strip that gives all blanks of a want that are missing, with the cuts between them. */
static double missing_length(const struct sawing_wood *wood, int want) {
    const struct cutting_want *w = &wood->task.wants[want];
    int parts = (w->count - wood->cutting.got[want]) * w->set;
    return parts > 0 ? parts * (w->length + wood->task.kerf) - wood->task.kerf : 0;
}

static void missing_blanks(struct md *md, const struct plan_view *v,
                           const struct sawing_wood *wood) {
    const struct cutting *c = &wood->cutting;
    if (c->wood.missing <= 0) return;
    if (!wood->on_hand)
        md_para(md, "**Some blanks come out of no such board.** Missing are:");
    else
        md_para(md,
                c->most
                    ? "**Not all blanks come out of the boards on hand**, however they are cut. "
                      "Missing are:"
                    : "**Not all blanks come out of the boards on hand**; whether they give more "
                      "when cut otherwise is not known. Missing are:");
    for (int w = 0; w < wood->task.want_count; w++) {
        const struct cutting_want *want = &wood->task.wants[w];
        int missing = want->count - c->got[w];
        if (missing <= 0) continue;
        md_item(md,
                missing == 1 ? "%s: %d blank, %s of a strip of %s × %s, cuts and all"
                             : "%s: %d blanks, %s of a strip of %s × %s, cuts and all",
                sheet_of(v, wood, w), missing, length_text(v, missing_length(wood, w)),
                length_text(v, fmax(want->width, want->thickness)),
                length_text(v, fmin(want->width, want->thickness)));
    }
    md_end_list(md);
}

static void cutting_plan(struct md *md, const struct plan_view *v) {
    const struct sawing *sawing = &v->shopping->sawing;
    if (!sawing->count) return;
    md_heading(md, 2, "What is cut from which board");
    md_para(md,
            "Cut a board across into the stretches that stand below it, rip each into its strips, "
            "and cut the "
            "strips to length; a cut takes %s. Ends and edges are taken as sound and square. What "
            "is left over is the board's end, whole; waste is what is cut from the board and is no "
            "blank.",
            length_text(v, v->recipes[0]->shop->kerf));
    for (int i = 0; i < sawing->count; i++) {
        const struct sawing_wood *wood = &sawing->woods[i];
        md_heading(md, 3, "%.*s", MD_STR(wood->species));
        if (!wood->on_hand)
            md_para(md, "No boards of it are in stock: these are boards like the one that the "
                        "shop has.");
        if (wood->cutting.count) {
            board_items(md, v, wood);
            cutting_words(md, v, &wood->cutting);
        }
        missing_blanks(md, v, wood);
    }
}

void plan_markdown(struct buf *out, const struct plan_view *v) {
    struct md md = md_of(out);
    md_heading(&md, 1, "Plan of the bench");
    summary(&md, v);
    runs_table(&md, v);
    lots(&md, v);
    md_figure(&md, "timeline.svg", "When each run is worked on and when it waits");
    sittings(&md, v);
    shopping_list(&md, v);
    cutting_plan(&md, v);
}

/* --- the drawing ----------------------------------------------------------------------------- */

static const double sheet_width = 180, lane_left = 46, lane_height = 8, lanes_top = 12;

static double place(const struct plan_view *v, int64_t seconds) {
    double all = fmax((double)v->plan->all.makespan, 1);
    return lane_left + (sheet_width - lane_left) * (double)seconds / all;
}

static void day_lines(struct svg *svg, const struct plan_view *v, double bottom) {
    enum { MOST_LINES = 8 };
    static const struct svg_font font = {.size = 2.6};
    const struct moment *start = &v->recipes[0]->shop->start;
    int64_t back = dated(v) ? start->hour * 3600 + start->minute * 60 : 0;
    int64_t days = (v->plan->all.makespan + back) / SECONDS_OF_DAY + 1;
    int64_t every = (days + MOST_LINES - 1) / MOST_LINES;
    for (int64_t day = 0; day < days; day += every) {
        int64_t seconds = day * SECONDS_OF_DAY - back;
        if (seconds < 0) seconds = 0;
        double x = place(v, seconds);
        svg_group(svg, &(struct svg_style){.stroke = "#888", .width = 0.13});
        svg_line(svg, x, lanes_top - 3, x, bottom);
        svg_group_end(svg);
        const char *label =
            dated(v) ? measure_date(v->arena, moment_after(*start, seconds)) : when(v, seconds);
        if (x < sheet_width - 12 && (day == 0 || x > lane_left + 10))
            svg_text(svg, x, lanes_top - 4, &font, label);
    }
}

/* Waits pale, work with the hands solid, the due date a thick line. */
static void lane(struct svg *svg, const struct plan_view *v, int number, double y) {
    static const struct svg_font font = {.size = 3};
    const struct run *run = &v->plan->runs[number];
    struct str name = recipe_of(v, number)->name;
    const char *text = arena_copy(v->arena, name.data, name.size);
    svg_text(svg, 0, y + 5, &font, svg_text_fit(v->arena, text, &font, lane_left - 2));
    svg_group(svg, &(struct svg_style){.fill = "#ccc"});
    for (int i = 0; i < run->count; i++) {
        double from = place(v, run->steps[i].work_end), to = place(v, run->steps[i].end);
        if (to > from) svg_rect(svg, from, y + 3, to - from, 2, 0);
    }
    svg_group_end(svg);
    svg_group(svg, &(struct svg_style){.fill = "#000"});
    for (int i = 0; i < run->stint_count; i++) {
        double from = place(v, run->stints[i].from), to = place(v, run->stints[i].to);
        svg_rect(svg, from, y + 1.5, fmax(to - from, 0.3), 5, 0);
    }
    svg_group_end(svg);
    int64_t due = lot_of(v, number) ? -1 : v->plan->due[number];
    if (due < 0 || due > v->plan->all.makespan) return;
    svg_group(svg, &(struct svg_style){.stroke = "#000", .width = 0.6, .dash = "1 0.6"});
    svg_line(svg, place(v, due), y, place(v, due), y + lane_height);
    svg_group_end(svg);
}

/* Lots first: what they are worked into goes on below. */
struct buf plan_timeline(const struct plan_view *v) {
    static const struct svg_font font = {.size = 2.6};
    struct svg svg;
    int lanes = v->count + v->plan->lots.count;
    double bottom = lanes_top + lanes * lane_height;
    svg_begin(&svg, v->arena, "plan", "When each run is worked on and when it waits", sheet_width,
              bottom + 7);
    day_lines(&svg, v, bottom);
    for (int k = 0; k < lanes; k++)
        lane(&svg, v, (v->count + k) % lanes, lanes_top + k * lane_height);
    svg_text(&svg, 0, bottom + 5, &font,
             "black: hands-on; grey: unattended wait; broken line: the end of the day it is due");
    svg_end(&svg);
    return svg.out;
}

/* --- JSON ------------------------------------------------------------------------------------ */

static void json_runs(struct json *json, const struct plan_view *v) {
    json_open_list(json, "runs");
    for (int k = 0; k < v->count; k++) {
        json_open_object(json, NULL);
        json_put_str(json, "name", v->recipes[k]->name);
        json_put_text(json, "sheet", v->sheets[k]);
        json_put_whole(json, "plugs", v->recipes[k]->make);
        json_put_whole(json, "end_s", v->plan->ends[k]);
        json_put_number_if(json, "due_s", v->plan->due[k] >= 0, (double)v->plan->due[k]);
        json_put_whole(json, "late_s", late(v, k));
        json_close(json);
    }
    json_close(json);
}

static void json_lots(struct json *json, const struct plan_view *v) {
    json_open_list(json, "lots");
    for (int i = 0; i < v->plan->lots.count; i++) {
        const struct lot *lot = &v->plan->lots.items[i];
        const struct run *run = &v->plan->runs[v->count + i];
        json_open_object(json, NULL);
        json_put_whole(json, "plugs", lot->plugs);
        json_put_whole(json, "first_step", step_number(run, lot->from));
        json_put_whole(json, "last_step", step_number(run, lot->to - 1));
        json_open_list(json, "sheets");
        for (int k = 0; k < lot->order_count; k++)
            json_put_text(json, NULL, v->sheets[lot->orders[k]]);
        json_close(json);
        json_close(json);
    }
    json_close(json);
}

static void json_steps(struct json *json, const struct plan_view *v) {
    const struct plan *plan = v->plan;
    json_open_list(json, "stints");
    for (int i = 0; i < plan->all.stint_count; i++) {
        const struct stint *stint = &plan->all.stints[i];
        int number = plan->owner[stint->step];
        const struct run *run = &plan->runs[number];
        int operation = plan->all.steps[stint->step].operation;
        json_open_object(json, NULL);
        json_put_text(json, "sheet", v->sheets[order_of(v, number)]);
        if (lot_of(v, number)) json_put_whole(json, "lot", number - v->count + 1);
        json_put_whole(json, "step", step_number(run, operation));
        json_put_text(json, "id", run->route.operations[operation].id);
        json_put_whole(json, "from_s", stint->from);
        json_put_whole(json, "to_s", stint->to);
        int64_t spared = plan->all.steps[stint->step].spared;
        json_put_number_if(json, "cleaning_spared_s", spared > 0, (double)spared);
        json_close(json);
    }
    json_close(json);
}

static void json_shopping(struct json *json, const struct plan_view *v) {
    static const char *const units[] = {"kg", "m", "m2", "m3", "pieces"};
    json_open_list(json, "shopping");
    for (int i = 0; i < v->shopping->count; i++) {
        const struct shopping_row *row = &v->shopping->rows[i];
        json_open_object(json, NULL);
        json_put_text(json, "item", item_text(v, row));
        json_put_number(json, "amount", row->amount);
        json_put_number(json, "on_hand", row->have);
        json_put_number(json, "to_buy", row->amount - row->have);
        json_put_text(json, "unit", units[row->unit]);
        json_put_number_if(json, "cost", row->priced, row->to_pay);
        json_close(json);
    }
    json_close(json);
}

static void json_stretch(struct json *json, const struct plan_view *v,
                         const struct sawing_wood *wood, const struct cutting_stretch *stretch) {
    json_open_object(json, NULL);
    json_put_number(json, "length", stretch->length);
    json_put_number(json, "width", stretch->width);
    json_put_number(json, "thickness", stretch->thickness);
    json_open_list(json, "strips");
    for (int i = 0; i < stretch->count; i++) {
        json_open_object(json, NULL);
        json_put_whole(json, "alike", stretch->strips[i].alike);
        json_open_list(json, "pieces");
        for (int k = 0; k < stretch->strips[i].count; k++) {
            const struct cutting_piece *piece = &stretch->strips[i].pieces[k];
            json_open_object(json, NULL);
            json_put_text(json, "sheet", sheet_of(v, wood, piece->want));
            json_put_number(json, "length", wood->task.wants[piece->want].length);
            json_put_whole(json, "count", piece->count);
            json_close(json);
        }
        json_close(json);
        json_close(json);
    }
    json_close(json);
    json_close(json);
}

static void json_boards(struct json *json, const struct plan_view *v,
                        const struct sawing_wood *wood) {
    json_open_list(json, "boards");
    for (int i = 0; i < wood->cutting.count; i++) {
        const struct cutting_begun *begun = &wood->cutting.begun[i];
        const struct cutting_board *board = &wood->task.boards[begun->board];
        json_open_object(json, NULL);
        json_put_whole(json, "alike", begun->alike);
        json_put_number(json, "length", board->length);
        json_put_number(json, "width", board->width);
        json_put_number(json, "thickness", board->thickness);
        json_put_number(json, "left_over", begun->left);
        json_put_number(json, "waste", begun->waste);
        json_open_list(json, "stretches");
        for (int k = 0; k < begun->count; k++) json_stretch(json, v, wood, &begun->stretches[k]);
        json_close(json);
        json_close(json);
    }
    json_close(json);
}

static void json_missing(struct json *json, const struct plan_view *v,
                         const struct sawing_wood *wood) {
    json_open_list(json, "missing");
    for (int w = 0; w < wood->task.want_count; w++) {
        int blanks = wood->task.wants[w].count - wood->cutting.got[w];
        if (blanks <= 0) continue;
        json_open_object(json, NULL);
        json_put_text(json, "sheet", sheet_of(v, wood, w));
        json_put_whole(json, "blanks", blanks);
        json_put_number(json, "length", missing_length(wood, w));
        json_close(json);
    }
    json_close(json);
}

/* Lengths in m, wood in m3, as in the shopping list. */
static void json_cutting(struct json *json, const struct plan_view *v) {
    const struct sawing *sawing = &v->shopping->sawing;
    json_open_list(json, "cutting");
    for (int i = 0; i < sawing->count; i++) {
        const struct sawing_wood *wood = &sawing->woods[i];
        const struct cutting *c = &wood->cutting;
        json_open_object(json, NULL);
        json_put_str(json, "wood", wood->species);
        json_put_flag(json, "on_hand", wood->on_hand);
        json_put_number(json, "kerf", wood->task.kerf);
        json_put_number(json, "begun", c->wood.begun);
        json_put_number(json, "blanks", c->blanks);
        json_put_number_if(json, "waste", c->count > 0, c->waste);
        json_put_number(json, "begun_at_least", c->bound);
        json_put_flag(json, "least", c->least);
        json_put_number(json, "taken", c->wood.taken);
        json_put_number(json, "begun_run_by_run", c->run_by_run.begun);
        json_put_number(json, "taken_run_by_run", c->run_by_run.taken);
        json_put_number(json, "missing_run_by_run", c->run_by_run.missing);
        json_put_flag(json, "most", c->most);
        json_boards(json, v, wood);
        json_missing(json, v, wood);
        json_close(json);
    }
    json_close(json);
}

void plan_json(struct buf *out, const struct plan_view *v) {
    struct json json = json_begin(v->arena);
    json_put_whole(&json, "end_s", v->plan->all.makespan);
    json_put_whole(&json, "no_plan_before_s", v->plan->all.lower_bound);
    json_put_whole(&json, "one_after_the_other_s", v->plan->in_turn);
    json_put_number(&json, "lateness_h", v->plan->lateness);
    json_put_number(&json, "least_lateness_h", v->plan->least_late);
    json_put_flag(&json, "shortest", v->plan->all.optimal);
    json_runs(&json, v);
    json_lots(&json, v);
    json_steps(&json, v);
    json_shopping(&json, v);
    json_cutting(&json, v);
    json_end(&json, out);
}
