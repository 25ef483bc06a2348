/* The plan as Markdown. */
#include "compute/work/sitting.h"
#include "emit/plan/inner.h"
#include "emit/write/measure.h"

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
        md_cell(md, "%s", plan_when(v, v->plan->ends[k]));
        if (plan_late(v, k))
            md_cell(md, "**%s**", plan_span(v, plan_late(v, k)));
        else
            md_cell(md, "–");
    }
    md_table_end(md);
}

/* What is proven, and what is not. */
static void summary(struct md *md, const struct plan_view *v) {
    const struct plan *plan = v->plan;
    md_open_para(md);
    md_add(md, "All is done after **%s**, on %s; hands-on %s.", plan_span(v, plan->all.makespan),
           plan_when(v, plan->all.makespan), plan_span(v, plan->all.hands_on));
    if (plan->all.makespan == plan->all.lower_bound)
        md_add(md, " No plan ends earlier");
    else
        md_add(md, " No plan can end before %s; whether one ends before this is not known",
               plan_when(v, plan->all.lower_bound));
    if (plan->lots.count) md_add(md, ", where what is the same is worked together");
    md_add(md, ".");
    if (v->count > 1)
        md_add(md, " One run after the other would take %s.", plan_span(v, plan->in_turn));
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
    const struct lot *lot = plan_lot(v, run);
    const struct run *own = &v->plan->runs[run];
    int from = plan_step_number(own, lot->from), to = plan_step_number(own, lot->to - 1);
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
    int make = plan_recipe(v, run)->make;
    bool all = plugs.first == 1 && plugs.last == make;
    if (all && plan_lot(v, run))
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
    md_add(md, "%s **%s** %d. %s", plan_clock(v, stint->from), v->sheets[plan_order_of(v, number)],
           plan_step_number(run, step->operation), plan_title(v, number, step->operation));
    add_plugs(md, v, number, sitting_plugs(run, &own));
    md_add(md, ", %s", plan_span(v, stint->to - stint->from));
    if (step->spared) md_add(md, "; the airbrush holds this colour already");
    if (step->latest >= 0 && stint->from == step->start)
        md_add(md, ", **begin by %s**", plan_when(v, step->latest));
    md_end(md);
}

static void sittings(struct md *md, const struct plan_view *v) {
    const struct run *all = &v->plan->all;
    md_heading(md, 2, "Sitting by sitting");
    md_para(md, "Each line names the sheet of the order and the step on it.");
    for (int i = 0; i < all->stint_count;) {
        struct sitting sitting = sitting_from(v->recipes[0], all, i);
        md_heading(md, 3, "%s", plan_when(v, sitting.from));
        for (; i < sitting.end; i++) stint_line(md, v, &all->stints[i]);
        md_end_list(md);
    }
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
    md_cell(md, "%s", plan_item(v, row));
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
    lots(&md, v);
    md_figure(&md, "timeline.svg", "When each run is worked on and when it waits");
    sittings(&md, v);
    shopping_list(&md, v);
    plan_boards(&md, v);
}
