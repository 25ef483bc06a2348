/* What is cut from which board. */
#include <math.h>

#include "emit/plan/inner.h"
#include "emit/write/measure.h"

static const char *length_text(const struct plan_view *v, double value) {
    return measure_length(v->arena, value, v->recipes[0]->shop->units);
}

static const char *wood_text(const struct plan_view *v, double value) {
    return measure_solid(v->arena, value, v->recipes[0]->shop->units);
}

/* "2 strips cut to 3 × 101.0 mm grebe, 1 × 96.0 mm dipper" */
static void add_strip(struct md *md, const struct plan_view *v, const struct sawing_wood *wood,
                      const struct cutting_strip *strip) {
    md_add(md, strip->alike == 1 ? " %d strip cut to" : " %d strips cut to", strip->alike);
    for (int i = 0; i < strip->count; i++) {
        const struct cutting_piece *piece = &strip->pieces[i];
        md_add(md, i ? ", %d × %s %s" : " %d × %s %s", piece->count,
               length_text(v, wood->task.wants[piece->want].length),
               plan_sheet_cut(v, wood, piece->want));
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
                plan_sheet_cut(v, wood, w), missing, length_text(v, plan_length_missing(wood, w)),
                length_text(v, fmax(want->width, want->thickness)),
                length_text(v, fmin(want->width, want->thickness)));
    }
    md_end_list(md);
}

void plan_boards(struct md *md, const struct plan_view *v) {
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
