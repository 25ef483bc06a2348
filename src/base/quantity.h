/* Quantities as the trade writes them: text to SI and back.
 *
 * The language of quantities is fixed in grammar/quantity.ebnf.  Units are rows of
 * grammar/units.def; gauges and drills are rows of grammar/tables/ (base/gauge.h).  Reading knows
 * no locale, allocates only messages, and takes time linear in the text.  A number has at most 15
 * digits and is rounded correctly, so nothing here can overflow.
 */
#ifndef PLUGWRIGHT_QUANTITY_H
#define PLUGWRIGHT_QUANTITY_H

#include <stdbool.h>

#include "base/arena.h"
#include "base/str.h"
#include "base/unit.h"

/* How a text was read: its unit (of a compound the first; NULL for a plain number, a gauge or a
 * drill), or what is wrong with it.  `error` is NULL when all is well; `hint` may be NULL in any
 * case. */
struct reading {
    double value;
    const struct unit *unit;
    const char *error, *hint;
    const char *example[2]; /* quantities that the hint says to write, likelier first, or NULL */
};

/* Reads one quantity.  A sign is read (ranges decide whether it is allowed).  NaN, infinities,
 * overflow, a decimal comma, a missing unit and a unit of another dimension are errors. */
struct reading quantity_parse(struct arena *arena, struct str text, enum dimension dimension);

/* Parts, `2:1` or `2:1 by mass`: each part positive and finite. */
struct parts {
    double first, second;
    bool by_mass;
};
const char *parts_parse(struct arena *arena, struct str text, struct parts *parts,
                        const char **hint); /* NULL, or what is wrong */

/* `value` (SI) in `unit`, at most `digits` significant digits, no trailing zeros: "152.4 mm".
 * A NULL unit means the dimension's own first unit in grammar/units.def. */
const char *quantity_show(struct arena *arena, double value, enum dimension dimension,
                          const struct unit *unit, int digits);

#endif
