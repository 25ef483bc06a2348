/* Rounding is done before anything else is decided: a length is a whole number of tenths of a
 * millimetre or of 32nds, a time a whole number of minutes.  So no unit ever reads "60 min" or
 * "32/32 in", and what rounds to zero has lost its sign.
 */
#include "emit/write/measure.h"

#include <math.h>
#include <stdint.h>

static const char minus[] = "\xe2\x88\x92"; /* U+2212 */
static const char unknown[] = "?";

static const double longest = 3.0;                /* m, up to which lengths go in small units */
static const double little = 30e-6, drops = 1e-6; /* m3, a large syringe and a small one */

/* Beyond this nothing on a bench is measured, and a double no longer counts in tenths. */
static bool sane(double value) {
    return isfinite(value) && fabs(value) < 1e12;
}

const char *measure_number(struct arena *arena, double value, int decimals) {
    if (!sane(value)) return unknown;
    long long scale = 1;
    for (int i = 0; i < decimals; i++) scale *= 10;
    long long parts = llround(fabs(value) * (double)scale);
    const char *sign = value < 0.0 && parts ? minus : "";
    if (!decimals) return arena_printf(arena, "%s%lld", sign, parts);
    return arena_printf(arena, "%s%lld.%0*lld", sign, parts / scale, decimals, parts % scale);
}

const char *measure_in(struct arena *arena, double value, struct shown_form form) {
    const char *number = measure_number(arena, unit_number(form.unit, value), form.decimals);
    const char *blank = form.unit->dimension == DIM_ANGLE || !*form.sign ? "" : " ";
    return arena_printf(arena, "%s%s%s", number, blank, form.sign);
}

static bool reaches(double value, enum shown_as larger, enum unit_system units) {
    return fabs(value) >= shown_form(larger, units).unit->scale;
}

struct shown_form measure_form(enum shown_as what, double value, enum unit_system units) {
    if (what == SHOWN_LENGTH && fabs(value) >= longest) what = SHOWN_LONG;
    if (what == SHOWN_MASS && reaches(value, SHOWN_HEAVY, units)) what = SHOWN_HEAVY;
    if (what == SHOWN_VOLUME)
        what = fabs(value) < drops                 ? SHOWN_DROPS
               : fabs(value) < little              ? SHOWN_LITTLE
               : reaches(value, SHOWN_MUCH, units) ? SHOWN_MUCH
                                                   : SHOWN_VOLUME;
    return shown_form(what, units);
}

static const char *measure_shown(struct arena *arena, double value, enum shown_as what,
                                 enum unit_system units) {
    return measure_in(arena, value, measure_form(what, value, units));
}

static double inch(void) {
    return shown_form(SHOWN_LENGTH, UNITS_INCH).unit->scale;
}

/* The nearest 1/32 in: "6 1/2", "3/8", "0". */
static const char *fraction(struct arena *arena, double metres) {
    int64_t parts = (int64_t)round(fabs(metres) / inch() * 32.0);
    int64_t whole = parts / 32, over = parts % 32, under = 32;
    for (; over && over % 2 == 0; over /= 2) under /= 2;

    const char *sign = metres < 0.0 && parts ? minus : "";
    if (!over) return arena_printf(arena, "%s%lld", sign, (long long)whole);
    const char *mixed = whole ? arena_printf(arena, "%lld ", (long long)whole) : "";
    return arena_printf(arena, "%s%s%lld/%lld", sign, mixed, (long long)over, (long long)under);
}

/* The fraction, with the decimals behind it where it is too coarse; decimals alone below 1/4 in,
 * where the nearest fraction would be another drill. */
static const char *inches_bare(struct arena *arena, double metres) {
    const char *decimals = measure_number(arena, metres / inch(), 3);
    double off = remainder(metres / inch(), 1.0 / 32.0);
    if (fabs(off) * inch() <= 0.1e-3) return fraction(arena, metres);
    if (fabs(metres) < inch() / 4.0) return decimals;
    return arena_printf(arena, "%s (%s)", fraction(arena, metres), decimals);
}

const char *measure_length_unit(enum unit_system units) {
    return shown_form(SHOWN_LENGTH, units).sign;
}

static const char *millimetres(struct arena *arena, double metres) {
    struct shown_form form = shown_form(SHOWN_LENGTH, UNITS_METRIC);
    return measure_number(arena, unit_number(form.unit, metres), form.decimals);
}

const char *measure_length_bare(struct arena *arena, double metres, enum unit_system units) {
    if (!sane(metres)) return unknown;
    return units == UNITS_INCH ? inches_bare(arena, metres) : millimetres(arena, metres);
}

const char *measure_length_short(struct arena *arena, double metres, enum unit_system units) {
    if (!sane(metres)) return unknown;
    return units == UNITS_INCH ? fraction(arena, metres) : millimetres(arena, metres);
}

const char *measure_length(struct arena *arena, double metres, enum unit_system units) {
    if (fabs(metres) >= longest) return measure_shown(arena, metres, SHOWN_LENGTH, units);
    return arena_printf(arena, "%s %s", measure_length_bare(arena, metres, units),
                        measure_length_unit(units));
}

const char *measure_fine(struct arena *arena, double metres, enum unit_system units) {
    return measure_shown(arena, metres, SHOWN_FINE, units);
}

const char *measure_film(struct arena *arena, double metres, enum unit_system units) {
    return measure_shown(arena, metres, SHOWN_FILM, units);
}

const char *measure_mass(struct arena *arena, double kg, enum unit_system units) {
    return measure_shown(arena, kg, SHOWN_MASS, units);
}

const char *measure_volume(struct arena *arena, double m3, enum unit_system units) {
    return measure_shown(arena, m3, SHOWN_VOLUME, units);
}

const char *measure_solid(struct arena *arena, double m3, enum unit_system units) {
    return measure_shown(arena, m3, SHOWN_SOLID, units);
}

const char *measure_area(struct arena *arena, double m2, enum unit_system units) {
    return measure_shown(arena, m2, SHOWN_AREA, units);
}

const char *measure_density(struct arena *arena, double kg_m3, enum unit_system units) {
    return measure_shown(arena, kg_m3, SHOWN_DENSITY, units);
}

const char *measure_speed(struct arena *arena, double metres_per_second, enum unit_system units) {
    struct shown_form form = measure_form(SHOWN_SPEED, metres_per_second, units);
    double number = fabs(unit_number(form.unit, metres_per_second));
    if (!sane(number) || number < 10.0) return measure_in(arena, metres_per_second, form);
    double step = pow(10.0, floor(log10(number)) - 1.0) * form.unit->scale;
    form.decimals = 0;
    return measure_in(arena, round(metres_per_second / step) * step, form);
}

const char *measure_pace(struct arena *arena, double metres_per_second, enum unit_system units) {
    double pace = 1 / fabs(metres_per_second);
    return measure_in(arena, pace, measure_form(SHOWN_PACE, pace, units));
}

const char *measure_force(struct arena *arena, double newtons, enum unit_system units) {
    return measure_shown(arena, newtons, SHOWN_FORCE, units);
}

const char *measure_temperature(struct arena *arena, double deg_c, enum unit_system units) {
    return measure_shown(arena, deg_c, SHOWN_TEMPERATURE, units);
}

const char *measure_angle(struct arena *arena, double radians) {
    struct shown_form form = shown_form(SHOWN_ANGLE, UNITS_METRIC);
    double halves = round(2.0 * unit_number(form.unit, radians));
    form.decimals = fmod(halves, 2.0) != 0.0 ? 1 : 0;
    return measure_in(arena, halves / 2.0 * form.unit->scale, form);
}

const char *measure_attitude(struct arena *arena, double radians) {
    const double half_step = 0.25 * acos(-1.0) / 180.0; /* an angle goes in half degrees */
    if (!sane(radians)) return "without rest";
    if (fabs(radians) < half_step) return "level";
    return arena_printf(arena, "%s %s", measure_angle(arena, fabs(radians)),
                        radians > 0.0 ? "nose down" : "tail down");
}

const char *measure_share(struct arena *arena, double share) {
    struct shown_form form = shown_form(SHOWN_SHARE, UNITS_METRIC);
    if (share > 0.9995 - 1e-9 && share < 1.0005) share = 1.0, form.decimals = 0;
    return measure_in(arena, share, form);
}

const char *measure_parts(struct arena *arena, struct parts parts) {
    return arena_printf(arena, "%g:%g%s", parts.first, parts.second,
                        parts.by_mass ? " by mass" : " by volume");
}

const char *measure_time(struct arena *arena, double seconds) {
    if (!sane(seconds) || seconds < 0.0) return unknown;
    long long minutes = (long long)round(seconds / 60.0);
    if (minutes == 0 && seconds > 0.0) return "under 1 min";
    if (minutes < 60) return arena_printf(arena, "%lld min", minutes);
    long long hours = minutes / 60;
    minutes %= 60;
    if (hours < 48) {
        return minutes ? arena_printf(arena, "%lld h %lld min", hours, minutes)
                       : arena_printf(arena, "%lld h", hours);
    }
    hours += minutes >= 30; /* days and hours: the minutes no longer matter */
    return hours % 24 ? arena_printf(arena, "%lld d %lld h", hours / 24, hours % 24)
                      : arena_printf(arena, "%lld d", hours / 24);
}

const char *measure_hour(struct arena *arena, double seconds) {
    static const char *const quarters[] = {"", " 1/4", " 1/2", " 3/4"};
    if (!sane(seconds) || seconds < 0.0) return unknown;
    long long count = (long long)round(seconds / 900.0);
    if (count > 0 && count < 4) return quarters[count] + 1;
    return arena_printf(arena, "%lld%s", count / 4, quarters[count % 4]);
}

const char *measure_clock(struct arena *arena, struct moment moment) {
    return arena_printf(arena, "%02d:%02d", moment.hour, moment.minute);
}

/* The first three letters are the short forms. */
static const char *const weekdays[WEEKDAYS] = {"Monday", "Tuesday",  "Wednesday", "Thursday",
                                               "Friday", "Saturday", "Sunday"};
static const char *const months[] = {"January",   "February", "March",    "April",
                                     "May",       "June",     "July",     "August",
                                     "September", "October",  "November", "December"};

const char *measure_weekday(int weekday) {
    return weekdays[weekday];
}

const char *measure_date(struct arena *arena, struct moment moment) {
    return arena_printf(arena, "%.3s %d %.3s", weekdays[moment_weekday(moment)], moment.day,
                        months[moment.month - 1]);
}

const char *measure_date_long(struct arena *arena, struct moment moment) {
    return arena_printf(arena, "%s %d %s", weekdays[moment_weekday(moment)], moment.day,
                        months[moment.month - 1]);
}
