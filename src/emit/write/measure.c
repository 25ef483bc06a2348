/* Rounding is done before anything else is decided: a length is a whole number of tenths of a
 * millimetre or of 32nds, a time a whole number of minutes.  So no unit ever reads "60 min" or
 * "32/32 in", and what rounds to zero has lost its sign.
 */
#include "emit/write/measure.h"

#include <math.h>
#include <stdint.h>

static const char minus[] = "\xe2\x88\x92"; /* U+2212 */
static const char unknown[] = "?";

/* Exact by definition: international inch, foot, avoirdupois ounce and pound-force; US fluid ounce.
 */
static const double inch = 0.0254, foot = 0.3048, ounce = 0.028349523125,
                    pound_force = 4.4482216152605, fluid_ounce = 29.5735295625e-6,
                    pound = 0.45359237;

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

static const char *with_unit(struct arena *arena, double value, int decimals, const char *unit) {
    return arena_printf(arena, "%s %s", measure_number(arena, value, decimals), unit);
}

/* The nearest 1/32 in: "6 1/2", "3/8", "0". */
static const char *fraction(struct arena *arena, double metres) {
    int64_t parts = (int64_t)round(fabs(metres) / inch * 32.0);
    int64_t whole = parts / 32, over = parts % 32, under = 32;
    for (; over && over % 2 == 0; over /= 2) under /= 2;

    const char *sign = metres < 0.0 && parts ? minus : "";
    if (!over) return arena_printf(arena, "%s%lld", sign, (long long)whole);
    const char *mixed = whole ? arena_printf(arena, "%lld ", (long long)whole) : "";
    return arena_printf(arena, "%s%s%lld/%lld", sign, mixed, (long long)over, (long long)under);
}

/* The fraction, with the decimals behind it where it is too coarse, or alone where it is nothing.
 */
static const char *inches_bare(struct arena *arena, double metres) {
    const char *decimals = measure_number(arena, metres / inch, 3);
    double off = remainder(metres / inch, 1.0 / 32.0);
    if (fabs(off) * inch <= 0.1e-3) return fraction(arena, metres);
    if (fabs(metres) < inch / 64.0) return decimals;
    return arena_printf(arena, "%s (%s)", fraction(arena, metres), decimals);
}

const char *measure_length_unit(enum unit_system units) {
    return units == UNITS_INCH ? "in" : "mm";
}

const char *measure_length_bare(struct arena *arena, double metres, enum unit_system units) {
    if (!sane(metres)) return unknown;
    if (units == UNITS_INCH) return inches_bare(arena, metres);
    return measure_number(arena, metres * 1e3, 1);
}

const char *measure_length_short(struct arena *arena, double metres, enum unit_system units) {
    if (!sane(metres)) return unknown;
    if (units == UNITS_INCH) return fraction(arena, metres);
    return measure_number(arena, metres * 1e3, 1);
}

const char *measure_length(struct arena *arena, double metres, enum unit_system units) {
    if (fabs(metres) >= 3.0) {
        return units == UNITS_INCH ? with_unit(arena, metres / foot, 1, "ft")
                                   : with_unit(arena, metres, 2, "m");
    }
    return arena_printf(arena, "%s %s", measure_length_bare(arena, metres, units),
                        measure_length_unit(units));
}

const char *measure_fine(struct arena *arena, double metres, enum unit_system units) {
    if (units == UNITS_INCH) return with_unit(arena, metres / inch, 3, "in");
    return with_unit(arena, metres * 1e3, 2, "mm");
}

const char *measure_film(struct arena *arena, double metres, enum unit_system units) {
    if (units == UNITS_INCH) return with_unit(arena, metres / inch * 1e3, 1, "thou");
    return with_unit(arena, metres * 1e6, 0, "\xc2\xb5m"); /* micro sign */
}

const char *measure_mass(struct arena *arena, double kg, enum unit_system units) {
    if (units == UNITS_INCH) {
        return kg < pound ? with_unit(arena, kg / ounce, 3, "oz")
                          : with_unit(arena, kg / pound, 2, "lb");
    }
    return kg < 1.0 ? with_unit(arena, kg * 1e3, 1, "g") : with_unit(arena, kg, 2, "kg");
}

const char *measure_volume(struct arena *arena, double m3, enum unit_system units) {
    const double little = 30e-6, drops = 1e-6; /* a large syringe, and a small one */
    if (m3 < drops) return with_unit(arena, m3 * 1e6, 2, "ml");
    if (m3 < little) return with_unit(arena, m3 * 1e6, 1, "ml");
    if (units == UNITS_INCH) return with_unit(arena, m3 / fluid_ounce, 2, "fl oz");
    return m3 < 1e-3 ? with_unit(arena, m3 * 1e6, 1, "ml") : with_unit(arena, m3 * 1e3, 2, "l");
}

const char *measure_solid(struct arena *arena, double m3, enum unit_system units) {
    if (units == UNITS_INCH) return with_unit(arena, m3 / (inch * inch * inch), 2, "in\xc2\xb3");
    return with_unit(arena, m3 * 1e6, 1, "cm\xc2\xb3");
}

const char *measure_area(struct arena *arena, double m2, enum unit_system units) {
    if (units == UNITS_INCH) return with_unit(arena, m2 / (inch * inch), 1, "in\xc2\xb2");
    return with_unit(arena, m2 * 1e4, 1, "cm\xc2\xb2");
}

const char *measure_density(struct arena *arena, double kg_m3, enum unit_system units) {
    if (units == UNITS_INCH) {
        return with_unit(arena, kg_m3 * foot * foot * foot / pound, 1, "lb/ft\xc2\xb3");
    }
    return with_unit(arena, kg_m3, 0, "kg/m\xc2\xb3");
}

const char *measure_speed(struct arena *arena, double metres_per_second, enum unit_system units) {
    if (units == UNITS_INCH) return with_unit(arena, metres_per_second / inch, 1, "in/s");
    return with_unit(arena, metres_per_second * 1e3, 0, "mm/s");
}

const char *measure_force(struct arena *arena, double newtons, enum unit_system units) {
    if (units == UNITS_INCH) return with_unit(arena, newtons / pound_force, 0, "lbf");
    return with_unit(arena, newtons, 0, "N");
}

const char *measure_temperature(struct arena *arena, double deg_c, enum unit_system units) {
    if (units == UNITS_INCH)
        return with_unit(arena, deg_c * 1.8 + 32.0, 0,
                         "\xc2\xb0"
                         "F");
    return with_unit(arena, deg_c, 0,
                     "\xc2\xb0"
                     "C");
}

const char *measure_angle(struct arena *arena, double radians) {
    double halves = round(radians * 360.0 / acos(-1.0));
    int decimals = fmod(halves, 2.0) != 0.0 ? 1 : 0;
    return arena_printf(arena, "%s\xc2\xb0", measure_number(arena, halves / 2.0, decimals));
}

const char *measure_attitude(struct arena *arena, double radians) {
    const double half_step = 0.25 * acos(-1.0) / 180.0; /* an angle goes in half degrees */
    if (!sane(radians)) return unknown;
    if (fabs(radians) < half_step) return "level";
    return arena_printf(arena, "%s %s", measure_angle(arena, fabs(radians)),
                        radians > 0.0 ? "nose down" : "tail down");
}

const char *measure_share(struct arena *arena, double share) {
    return with_unit(arena, share * 100.0, 1, "%");
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
