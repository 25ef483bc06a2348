/* Numbers as the bench reads them: in the recipe's units, to the precision that tools can keep.
 * Units and decimals are rows of grammar/units.def (base/unit.h).
 *
 * Lengths go to 0.1 mm or to the nearest 1/32 in, with decimals in brackets where the fraction is
 * off by more than 0.1 mm (below 1/4 in decimals alone: 0.070 in is no drill of 1/16 in); masses to
 * 0.1 g or 0.001 oz; angles to half a degree.  Liquids under 30 ml read in millilitres in every
 * shop, since cups and syringes know nothing else; under 1 ml to 0.01 ml.  Zero never has a sign, a
 * minus is U+2212, and a value that is not finite reads "?". Values are SI, as everywhere.
 */
#ifndef PLUGWRIGHT_WRITE_MEASURE_H
#define PLUGWRIGHT_WRITE_MEASURE_H

#include "base/arena.h"
#include "base/clock.h"
#include "base/quantity.h"

/* A plain number with fixed decimals: "12.50", "−0.3", "0". */
const char *measure_number(struct arena *arena, double value, int decimals);

/* The unit and the decimals for a value, and a value in them: "12.50 fl oz".  A length is in
 * fractions of an inch where the functions below write it. */
struct shown_form measure_form(enum shown_as what, double value, enum unit_system units);
const char *measure_in(struct arena *arena, double value, struct shown_form form);

const char *measure_length(struct arena *arena, double metres, enum unit_system units);
/* The same without its unit, for ladders and tables whose head names the unit. */
const char *measure_length_bare(struct arena *arena, double metres, enum unit_system units);
/* Shorter still, for crowded drawings: "12.5", or the nearest 1/32 alone, "15/32". */
const char *measure_length_short(struct arena *arena, double metres, enum unit_system units);
const char *measure_length_unit(enum unit_system units); /* "mm" or "in" */

/* Wire, sheet and other small sizes: 0.01 mm or 0.001 in. */
const char *measure_fine(struct arena *arena, double metres, enum unit_system units);
/* Dry films: whole micrometres, or tenths of a thou. */
const char *measure_film(struct arena *arena, double metres, enum unit_system units);

const char *measure_mass(struct arena *arena, double kg, enum unit_system units);
const char *measure_volume(struct arena *arena, double m3, enum unit_system units); /* liquids */
const char *measure_solid(struct arena *arena, double m3, enum unit_system units);  /* wood */
const char *measure_area(struct arena *arena, double m2, enum unit_system units);
const char *measure_density(struct arena *arena, double kg_m3, enum unit_system units);
/* Two figures: it is an estimate, or read off a watch. */
const char *measure_speed(struct arena *arena, double metres_per_second, enum unit_system units);
/* Of a speed up or down, the time that a metre or a foot takes: "4.4 s/m". */
const char *measure_pace(struct arena *arena, double metres_per_second, enum unit_system units);
const char *measure_force(struct arena *arena, double newtons, enum unit_system units);
const char *measure_temperature(struct arena *arena, double deg_c, enum unit_system units);

const char *measure_angle(struct arena *arena, double radians); /* "12.5°" */
/* How a plug lies, by its nose-down angle: "3.5° nose down", "12° tail down", "level". */
const char *measure_attitude(struct arena *arena, double radians);
const char *measure_share(struct arena *arena, double share);       /* "12.3 %", "100 %" */
const char *measure_parts(struct arena *arena, struct parts parts); /* "2:1 by volume" */
const char *measure_time(struct arena *arena, double seconds);      /* "1 h 30 min", "2 d 4 h" */
/* Hours since the run began, to the quarter that is nearest: "14 1/2". */
const char *measure_hour(struct arena *arena, double seconds);
const char *measure_clock(struct arena *arena, struct moment moment); /* "09:00" */
const char *measure_date(struct arena *arena, struct moment moment);  /* "Sat 5 Dec" */
const char *measure_date_long(struct arena *arena,
                              struct moment moment); /* "Saturday 5 December" */
const char *measure_weekday(int weekday);            /* 0: "Monday" */

#endif
