/* One scalar of a recipe, read as its field says. */
#ifndef PLUGWRIGHT_VALUE_H
#define PLUGWRIGHT_VALUE_H

#include "base/arena.h"
#include "model/grammar.h"
#include "read/tree.h"

/* What is wrong with a value: `rule` is "value", or "range" for one that was understood but is not
 * allowed; `hint` may be NULL. */
struct value_problem {
    struct span at;
    const char *rule, *error, *hint;
};

/* Reads a scalar into the member of `object` of a field that is a single word (a READ row of
 * kind.def); false, and the problem, where that fails. */
bool value_read(struct arena *arena, struct str text, const struct field *field, void *object,
                struct value_problem *problem);

/* Opening hours: `{mon: "18:00-21:30", sat: ["09:00-12:00", "13:00-17:00"]}`; none given: NULL. */
bool value_hours(struct arena *arena, const struct node *node, struct hours **hours,
                 struct value_problem *problem);

#endif
