/* What the chapters of a work order share.  Private to this room.
 *
 * A chapter is one function; it writes nothing where the recipe gives it nothing to say.  The text
 * is written for somebody who stands at the bench with one hand full: short sentences, the number
 * first, blanks beside every number that can be measured.
 */
#ifndef PLUGWRIGHT_ORDER_INNER_H
#define PLUGWRIGHT_ORDER_INNER_H

#include "compute/bench.h"
#include "compute/results.h"
#include "compute/rework.h"
#include "emit/drawing/figure.h"
#include "emit/words/words.h"
#include "emit/write/markdown.h"
#include "emit/write/measure.h"
#include "model/reference.h"

struct order {
    struct md md;
    struct arena *arena;
    const struct recipe *recipe;
    const struct results *results;
    const struct figure_list *figures;
    const struct words *words; /* of the route's operations */
    enum unit_system units;
};

/* The chapters, in the order of the sheet. */
void order_name(struct order *order); /* alone: plug, run and digest */
void order_title(struct order *order);
void order_materials(struct order *order);
void order_card(struct order *order);
void order_templates(struct order *order, int copies);
void order_bores(struct order *order);
void order_glance(struct order *order);
void order_ballast(struct order *order);
void order_trim(struct order *order); /* its second half */
void order_measured(struct order *order);
void order_steps(struct order *order);
void order_brief(struct order *order); /* in their place, a line each */
void order_colours(struct order *order);
void order_stencils(struct order *order);
void order_topcoat(struct order *order);
void order_tow(struct order *order);
void order_appendix(struct order *order);

/* Whether what is to be cut and bought leaves room on the first page. */
bool order_is_short(const struct order *order);

/* Parts of the card. */
void order_bore_map(struct order *order);
void order_load_table(struct order *order);
int order_load_rows(const struct order *order);
void order_sittings(struct order *order, int most); /* the first of them */
void order_hours_note(struct order *order);
int order_mix_rows(const struct order *order);
void order_mixes(struct order *order, int level); /* of its heading */
/* In a paragraph: a plug's depth under tow, and blanks for one that is measured. */
void order_add_sounding(struct order *order);

/* Hands-on time of an operation for the run, s. */
double order_hands_on(const struct order *order, const struct operation *operation);

/* Paint and reducer of a layer for the run: "10.2 ml + 10.2 ml". */
const char *order_paint(const struct order *order, int layer);

/* Whether the card has room for these; else they stand in their chapters. */
bool order_loads_on_card(const struct order *order);
bool order_sittings_on_card(const struct order *order);
bool order_mixes_on_card(const struct order *order);

/* Parts of the appendix. */
void order_timeline(struct order *order);
void order_tow_notes(struct order *order);
void order_strength(struct order *order);
void order_sources(struct order *order);

/* Whether there is a waterline to be read, in the test or when it is finished. */
bool order_read_afloat(const struct order *order);

/* Every figure of this kind, in their order; whether there was one. */
bool order_figures(struct order *order, enum figure_kind kind);

/* Values in the shop's units. */
const char *order_length(const struct order *order, double metres);
const char *order_fine(const struct order *order, double metres);
const char *order_mass(const struct order *order, double kg);
/* Of wood: cubic measure, not fluid. */
const char *order_solid(const struct order *order, double m3);
const char *order_volume(const struct order *order, double m3);
const char *order_position(const struct order *order, struct position position);

/* A piece of ballast: "0.310 in ball", "0.5 g". */
const char *order_piece(const struct order *order, const struct piece *piece);

/* Where the water meets the plug: "back 22.0 mm" from the nose, "tail −3.0 mm" above the datum. */
const char *order_mark(const struct order *order, const struct water_mark *mark);

/* "rises at 225 mm/s", "sinks at 225 mm/s, 4.4 s/m". */
const char *order_speed(const struct order *order, double speed);

/* A wait to the precision of the bench, rounded up; a limit, rounded down. */
const char *order_wait(const struct order *order, double seconds);
const char *order_limit(const struct order *order, double seconds);

/* Whether the bench has told what the solved loads should be instead. */
bool order_corrected(const struct order *order);

/* "4 plugs", "1 plug". */
const char *order_count(const struct order *order, int count, const char *one, const char *many);

/* When `seconds` after the start of the run is: "Sat 5 Dec, 09:30"; "Sat of week 1, 09:30" where
 * only opening hours are known; "hour 14 1/2", counted from the start to the nearest quarter, where
 * not even these are.  The long form of a day has its names in full; days and clocks are for runs
 * whose days are known. */
bool order_has_days(const struct order *order);
const char *order_moment(const struct order *order, int64_t seconds);
const char *order_day(const struct order *order, int64_t seconds);
const char *order_day_long(const struct order *order, int64_t seconds);
const char *order_clock(const struct order *order, int64_t seconds);
/* Days since a Monday: two times with one number are on one day. */
int64_t order_day_number(const struct order *order, int64_t seconds);

/* Number of the step that an operation is on the sheet, from 1; 0: it is skipped. */
int order_step_number(const struct order *order, int operation);

/* What stands before a step, to be ticked or ticked already. */
#define ORDER_TICKED "\xe2\x98\x91"
const char *order_box(const struct operation *operation);

/* Of a run that goes on: what is done, what that means for the plan, and the one more opening that
 * would help most. */
void order_resumed(struct order *order);
void order_resumed_rows(struct order *order); /* the same in the title's table */
bool order_goes_on(const struct order *order);

/* Steps as they are read out: "step 3", "steps 2 to 5, 7 and 9".  `wanted` has a place for every
 * number up to the route's count. */
const char *order_steps_named(const struct order *order, const bool *wanted, const char *one,
                              const char *many);

/* The steps with this caution: "steps 2 to 10 and 12". */
const char *order_steps_with(const struct order *order, unsigned bit, const char *one,
                             const char *many);

/* Where something that is measured is written down. */
#define ORDER_BLANK "________"

#endif
