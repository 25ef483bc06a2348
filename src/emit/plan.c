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

static const char *title_of(const struct plan_view *v, int order, int operation) {
    return words_title(v->arena, v->recipes[order],
                       &v->plan->runs[order].route.operations[operation]);
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
        md_add(md, " No plan ends earlier.");
    else
        md_add(md, " No plan can end before %s; whether one ends before this is not known.",
               when(v, plan->all.lower_bound));
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

static void stint_line(struct md *md, const struct plan_view *v, const struct stint *stint) {
    const struct plan *plan = v->plan;
    int order = plan->owner[stint->step];
    const struct run *run = &plan->runs[order];
    const struct run_step *step = &run->steps[plan->own[stint->step]];
    struct stint own = *stint;
    own.step = plan->own[stint->step];
    struct plug_range plugs = sitting_plugs(run, &own);
    md_open_task(md);
    md_add(md, "%s **%s** %d. %s", clock_at(v, stint->from), v->sheets[order],
           step_number(run, step->operation), title_of(v, order, step->operation));
    if (plugs.first == plugs.last && v->recipes[order]->make > 1)
        md_add(md, ", plug %d", plugs.first);
    else if (plugs.first != 1 || plugs.last != v->recipes[order]->make)
        md_add(md, ", plugs %d to %d", plugs.first, plugs.last);
    md_add(md, ", %s", span(v, stint->to - stint->from));
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

void plan_markdown(struct buf *out, const struct plan_view *v) {
    struct md md = md_of(out);
    md_heading(&md, 1, "Plan of the bench");
    summary(&md, v);
    runs_table(&md, v);
    md_figure(&md, "timeline.svg", "When each run is worked on and when it waits");
    sittings(&md, v);
    shopping_list(&md, v);
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
static void lane(struct svg *svg, const struct plan_view *v, int order, double y) {
    static const struct svg_font font = {.size = 3};
    const struct run *run = &v->plan->runs[order];
    struct str name = v->recipes[order]->name;
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
    int64_t due = v->plan->due[order];
    if (due < 0 || due > v->plan->all.makespan) return;
    svg_group(svg, &(struct svg_style){.stroke = "#000", .width = 0.6, .dash = "1 0.6"});
    svg_line(svg, place(v, due), y, place(v, due), y + lane_height);
    svg_group_end(svg);
}

struct buf plan_timeline(const struct plan_view *v) {
    static const struct svg_font font = {.size = 2.6};
    struct svg svg;
    double bottom = lanes_top + v->count * lane_height;
    svg_begin(&svg, v->arena, "plan", "When each run is worked on and when it waits", sheet_width,
              bottom + 7);
    day_lines(&svg, v, bottom);
    for (int k = 0; k < v->count; k++) lane(&svg, v, k, lanes_top + k * lane_height);
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

static void json_steps(struct json *json, const struct plan_view *v) {
    const struct plan *plan = v->plan;
    json_open_list(json, "stints");
    for (int i = 0; i < plan->all.stint_count; i++) {
        const struct stint *stint = &plan->all.stints[i];
        int order = plan->owner[stint->step];
        const struct run *run = &plan->runs[order];
        int operation = plan->all.steps[stint->step].operation;
        json_open_object(json, NULL);
        json_put_text(json, "sheet", v->sheets[order]);
        json_put_whole(json, "step", step_number(run, operation));
        json_put_text(json, "id", run->route.operations[operation].id);
        json_put_whole(json, "from_s", stint->from);
        json_put_whole(json, "to_s", stint->to);
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

void plan_json(struct buf *out, const struct plan_view *v) {
    struct json json = json_begin(v->arena);
    json_put_whole(&json, "end_s", v->plan->all.makespan);
    json_put_whole(&json, "no_plan_before_s", v->plan->all.lower_bound);
    json_put_whole(&json, "one_after_the_other_s", v->plan->in_turn);
    json_put_number(&json, "lateness_h", v->plan->lateness);
    json_put_number(&json, "least_lateness_h", v->plan->least_late);
    json_put_flag(&json, "shortest", v->plan->all.optimal);
    json_runs(&json, v);
    json_steps(&json, v);
    json_shopping(&json, v);
    json_end(&json, out);
}
