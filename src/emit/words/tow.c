#include "emit/words/tow.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "emit/write/measure.h"
#include "model/name.h"
#include "model/reference.h"

/* Small forces have more decimals; `size` is one of those that stand together. */
static struct shown_form form_of(enum shown_as what, double size, enum unit_system units) {
    struct shown_form form = shown_form(what, units);
    double number = fabs(unit_number(form.unit, size));
    if (what == SHOWN_PULL) form.decimals = number < 1 ? 2 : number < 10 ? 1 : 0;
    return form;
}

static const char *bare(struct arena *arena, struct shown_form form, double value) {
    if (isinf(value)) return "no limit";
    return measure_number(arena, unit_number(form.unit, value), form.decimals);
}

static const char *with_unit(struct arena *arena, struct shown_form form, double value) {
    return isinf(value) ? "no limit" : measure_in(arena, value, form);
}

const char *tow_value(struct arena *arena, enum shown_as what, double value,
                      enum unit_system units) {
    return with_unit(arena, form_of(what, value, units), value);
}

const char *tow_band(struct arena *arena, enum shown_as what, const struct band *band,
                     enum unit_system units) {
    if (!band->given) return "-";
    struct shown_form form = form_of(what, band->median, units);
    const char *low = bare(arena, form, band->low);
    bool minus = strcmp(low, measure_number(arena, fabs(unit_number(form.unit, band->low)),
                                            form.decimals)) != 0; /* a dash would look like one */
    return arena_printf(arena, "%s (%s%s%s)", with_unit(arena, form, band->median), low,
                        minus ? " to " : "\xe2\x80\x93", bare(arena, form, band->high));
}

static const char *signed_number(struct arena *arena, struct shown_form form, double value) {
    const char *text = bare(arena, form, value);
    bool plus = value > 0 && strtod(text, NULL) > 0;
    return plus ? arena_printf(arena, "+%s", text) : text;
}

/* One decimal more than values have: small differences are what is told. */
const char *tow_change(struct arena *arena, enum shown_as what, const struct band *band,
                       enum unit_system units) {
    if (!band->given) return "-";
    if (band->low == 0 && band->high == 0) return "none";
    struct shown_form form = form_of(what, fmax(fabs(band->low), fabs(band->high)), units);
    form.decimals += what != SHOWN_PULL;
    const char *blank = form.unit->dimension == DIM_ANGLE ? "" : " ";
    const char *low = signed_number(arena, form, band->low);
    const char *high = signed_number(arena, form, band->high);
    if (band_unclear(band))
        return arena_printf(arena, "unclear (%s to %s%s%s)", low, high, blank, form.sign);
    return arena_printf(arena, "%s%s%s (%s to %s)", signed_number(arena, form, band->median), blank,
                        form.sign, low, high);
}

const char *tow_out(struct arena *arena, double out, enum unit_system units) {
    struct shown_form form = shown_form(SHOWN_OUT, units);
    double number = unit_number(form.unit, out);
    form.decimals = fabs(number - round(number)) < 0.05 ? 0 : 1;
    return measure_in(arena, out, form);
}

/* An aim may be written more closely than results are told. */
static struct shown_form aim_form(enum unit_system units) {
    struct shown_form form = shown_form(SHOWN_DEPTH, units);
    form.decimals++;
    return form;
}

const char *tow_beat(struct arena *arena, const struct running_speed *speed) {
    int decimals = speed->beat < 10 ? 1 : 0;
    return arena_printf(arena, "%s Hz (%s\xe2\x80\x93%s)",
                        measure_number(arena, speed->beat, decimals),
                        measure_number(arena, speed->beat - speed->beat_doubt, decimals),
                        measure_number(arena, speed->beat + speed->beat_doubt, decimals));
}

static const char *amount_of(struct arena *arena, const struct tweak_row *row,
                             enum unit_system units) {
    if (strcmp(row->unit, "deg") == 0) return measure_angle(arena, row->amount);
    if (strcmp(row->unit, "mm") == 0) return measure_length(arena, row->amount, units);
    if (strcmp(row->unit, "g") == 0) return measure_mass(arena, row->amount, units);
    return arena_printf(arena, "%s %%", measure_number(arena, row->amount * 100, 0));
}

const char *tow_tweak(struct arena *arena, enum tweak tweak, enum unit_system units) {
    static const char place[] = "{amount}";
    const struct tweak_row *row = &reference_tweak[tweak];
    const char *at = strstr(row->name, place);
    return arena_printf(arena, "%.*s%s%s", (int)(at - row->name), row->name,
                        amount_of(arena, row, units), at + strlen(place));
}

/* --- speeds ---------------------------------------------------------------------------------- */

static double slowest(void) {
    return reference_fact[FACT_TOW_SLOWEST].value;
}

static double fastest(void) {
    return reference_fact[FACT_TOW_FASTEST].value;
}

static const char *at_none(struct arena *arena, enum unit_system units) {
    return arena_printf(arena, "at no speed up to %s",
                        tow_value(arena, SHOWN_TOW, fastest(), units));
}

const char *tow_dives(struct arena *arena, const struct running_result *result,
                      enum unit_system units) {
    const struct band *band = &result->dives_from.band;
    if (!band->given || isinf(band->median)) return at_none(arena, units);
    if (band->high <= slowest())
        return arena_printf(arena, "from %s or less",
                            tow_value(arena, SHOWN_TOW, slowest(), units));
    return arena_printf(arena, "from %s", tow_band(arena, SHOWN_TOW, band, units));
}

const char *tow_rolls(struct arena *arena, const struct running_result *result,
                      enum unit_system units) {
    const struct band *band = &result->hold_speed.band;
    if (band->low >= fastest()) return at_none(arena, units);
    if (band->high <= slowest())
        return arena_printf(arena, "at %s or less", tow_value(arena, SHOWN_TOW, slowest(), units));
    return arena_printf(arena, "at %s", tow_band(arena, SHOWN_TOW, band, units));
}

const char *tow_runs(const struct running_speed *speed) {
    return speed->steady ? name_runs[speed->runs] : "no steady attitude";
}

const char *tow_holds(const struct running_speed *speed) {
    return speed->tie_aside.band.given ? name_holds[speed->holds] : "-";
}

const char *tow_solved(struct arena *arena, const struct recipe *recipe) {
    const struct lip *lip = recipe->lip;
    if (!lip || (!lip->length_solve && !lip->angle_solve)) return NULL;
    const struct tow_aim *aim = recipe->running->aim;
    enum unit_system units = recipe->shop->units;
    const char *figure = lip->angle_solve ? measure_angle(arena, lip->angle)
                                          : measure_length(arena, lip->length, units);
    return arena_printf(arena, "The lip's %s, %s, is the one that runs %s deep with %s out at %s.",
                        lip->angle_solve ? "angle" : "length", figure,
                        measure_in(arena, aim->depth, aim_form(units)),
                        tow_out(arena, aim->out, units),
                        tow_value(arena, SHOWN_TOW, aim->speed, units));
}

const char *tow_jointed(const struct recipe *recipe) {
    if (!recipe->joint_count) return NULL;
    return "The plug is jointed and was computed as if it were rigid: how its tail swings is not "
           "known, and all of this is doubtful.";
}

const char *tow_not_computed(void) {
    return "A plug that floats and has no lip is not computed: body and couple nearly cancel, and "
           "nothing determines its trim.";
}
