/* What the files of the plan's emitter share; nobody else needs this header.  A run is told by its
 * place in the plan: the orders' first, then the lots'.
 */
#ifndef PLUGWRIGHT_EMIT_PLAN_INNER_H
#define PLUGWRIGHT_EMIT_PLAN_INNER_H

#include "emit/plan/plan.h"
#include "emit/write/markdown.h"

/* --- view.c ---------------------------------------------------------------------------------- */

/* Whether the shop's days are known. */
bool plan_dated(const struct plan_view *v);

/* "Sat 5 Dec, 09:00", or the hours since the beginning; the same inside a day whose date stands
 * above; how long. */
const char *plan_when(const struct plan_view *v, int64_t seconds);
const char *plan_clock(const struct plan_view *v, int64_t seconds);
const char *plan_span(const struct plan_view *v, int64_t seconds);

/* The step's number on the sheet of its order, and its title. */
int plan_step_number(const struct run *run, int operation);
const char *plan_title(const struct plan_view *v, int run, int operation);

/* The lot that a run is, or NULL: then it is that of an order; the order by whose sheet it goes;
 * what is made in it; how much an order is late, s. */
const struct lot *plan_lot(const struct plan_view *v, int run);
int plan_order_of(const struct plan_view *v, int run);
const struct recipe *plan_recipe(const struct plan_view *v, int run);
int64_t plan_late(const struct plan_view *v, int order);

const char *plan_item(const struct plan_view *v, const struct shopping_row *row);

/* Of a piece that is to be cut: the sheet of its order, and what is missing of it, m. */
const char *plan_sheet_cut(const struct plan_view *v, const struct sawing_wood *wood, int want);
double plan_length_missing(const struct sawing_wood *wood, int want);

/* --- boards.c -------------------------------------------------------------------------------- */

/* What is cut from which board, as a chapter; nothing where there is nothing to cut. */
void plan_boards(struct md *md, const struct plan_view *v);

#endif
