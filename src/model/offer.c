#include "model/offer.h"

#include <math.h>
#include <stdarg.h>

#include "base/buf.h"
#include "model/reference.h"

/* What results are shown in; NULL is the unit that its dimension is shown in everywhere. */
static const struct unit *unit_of(const struct recipe *recipe, enum dimension dimension) {
    static const enum shown_as shown[DIM_COUNT_] = {
        [DIM_LENGTH] = SHOWN_LENGTH, [DIM_MASS] = SHOWN_MASS,   [DIM_DENSITY] = SHOWN_DENSITY,
        [DIM_ANGLE] = SHOWN_ANGLE,   [DIM_SHARE] = SHOWN_SHARE,
    };
    if (dimension != DIM_LENGTH && !shown[dimension]) return NULL;
    return shown_form(shown[dimension], recipe->shop ? recipe->shop->units : UNITS_METRIC).unit;
}

const char *offer_quantity(struct arena *arena, const struct recipe *recipe, double value,
                           enum dimension dimension) {
    return quantity_show(arena, value, dimension, unit_of(recipe, dimension), 4);
}

double offer_step(const struct recipe *recipe) {
    const double slack = 1 + 1e-9;
    double unit = unit_of(recipe, DIM_LENGTH)->scale;
    double most = reference_fact[FACT_RULE_DOUBT].value / unit;
    double decimal = pow(10, floor(log10(most * slack)));
    double times = 5 * decimal <= most * slack ? 5 : 2 * decimal <= most * slack ? 2 : 1;
    return times * decimal * unit;
}

void offer(const struct offering *o, const char *format, ...) {
    struct span at = recipe_part_place(o->recipe, o->part);
    if (o->diags->trial || !at.file) return;
    struct buf text = {.arena = o->diags->arena};
    va_list args;
    va_start(args, format);
    buf_vprintf(&text, format, args);
    va_end(args);
    diag_offer(o->diags, o->choice, o->otherwise,
               o->whose ? arena_printf(o->diags->arena, "%s for %s", text.data, o->whose)
                        : text.data);
    diag_edit(o->diags, at, text.data);
}

void offer_length(const struct offering *o, const char *key, double value, enum offer_round round) {
    const double slack = 1e-6;
    double step = offer_step(o->recipe), steps = value / step;
    if (round == OFFER_AT_MOST)
        steps = floor(steps + slack);
    else
        steps = round == OFFER_AT_LEAST ? ceil(steps - slack) : nearbyint(steps);
    offer(o, "%s: %s", key, offer_quantity(o->diags->arena, o->recipe, steps * step, DIM_LENGTH));
}
