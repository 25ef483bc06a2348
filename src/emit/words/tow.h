/* What the computation of running found, in words and in measures of the water: metres, newtons and
 * metres a second, or feet, pounds and miles an hour.
 *
 * A band reads "2.6 m (2.1–3.3)": its median, and 5 and 95 % in brackets.
 */
#ifndef PLUGWRIGHT_WORDS_TOW_H
#define PLUGWRIGHT_WORDS_TOW_H

#include "base/quantity.h"
#include "compute/running/running.h"

/* A value with its unit: "2.6 m", "28°", "0.87 N"; infinite: "no limit". */
const char *tow_value(struct arena *arena, enum shown_as what, double value,
                      enum unit_system units);

const char *tow_band(struct arena *arena, enum shown_as what, const struct band *band,
                     enum unit_system units);

/* A band of differences: "+0.3 m (+0.1 to +0.4)", or "unclear (−0.1 m to +0.2 m)". */
const char *tow_change(struct arena *arena, enum shown_as what, const struct band *band,
                       enum unit_system units);

/* A length of line, without decimals that nobody wrote: "30 m". */
const char *tow_out(struct arena *arena, double out, enum unit_system units);

/* The beat of a plate's wake: "10 Hz (8–13)". */
const char *tow_beat(struct arena *arena, const struct running_speed *speed);

/* "lip 5° steeper" */
const char *tow_tweak(struct arena *arena, enum tweak tweak, enum unit_system units);

/* "from 0.5 m/s (0.5–0.6)", "from 0.2 m/s or less", "at no speed up to 4.0 m/s". */
const char *tow_dives(struct arena *arena, const struct running_result *result,
                      enum unit_system units);
/* "at 1.4 m/s (0.4–1.9)", "at no speed up to 4.0 m/s". */
const char *tow_rolls(struct arena *arena, const struct running_result *result,
                      enum unit_system units);

/* How it runs at a speed: "runs", or why nothing is said. */
const char *tow_runs(const struct running_speed *speed);
/* Whether it holds; "-" where nothing is said. */
const char *tow_holds(const struct running_speed *speed);

/* What of the lip was solved, and for which aim; NULL where nothing was. */
const char *tow_solved(struct arena *arena, const struct recipe *recipe);

/* What is doubtful of a jointed plug; NULL of one in one piece. */
const char *tow_jointed(const struct recipe *recipe);

/* What a plug that is not computed is told instead. */
const char *tow_not_computed(void);

#endif
