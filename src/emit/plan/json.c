/* The plan as JSON. */
#include "emit/plan/inner.h"
#include "emit/write/json.h"

static void json_runs(struct json *json, const struct plan_view *v) {
    json_open_list(json, "runs");
    for (int k = 0; k < v->count; k++) {
        json_open_object(json, NULL);
        json_put_str(json, "name", v->recipes[k]->name);
        json_put_text(json, "sheet", v->sheets[k]);
        json_put_whole(json, "plugs", v->recipes[k]->make);
        json_put_whole(json, "end_s", v->plan->ends[k]);
        json_put_number_if(json, "due_s", v->plan->due[k] >= 0, (double)v->plan->due[k]);
        json_put_whole(json, "late_s", plan_late(v, k));
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
        json_put_whole(json, "first_step", plan_step_number(run, lot->from));
        json_put_whole(json, "last_step", plan_step_number(run, lot->to - 1));
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
        json_put_text(json, "sheet", v->sheets[plan_order_of(v, number)]);
        if (plan_lot(v, number)) json_put_whole(json, "lot", number - v->count + 1);
        json_put_whole(json, "step", plan_step_number(run, operation));
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
        json_put_text(json, "item", plan_item(v, row));
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
            json_put_text(json, "sheet", plan_sheet_cut(v, wood, piece->want));
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
        json_put_text(json, "sheet", plan_sheet_cut(v, wood, w));
        json_put_whole(json, "blanks", blanks);
        json_put_number(json, "length", plan_length_missing(wood, w));
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
