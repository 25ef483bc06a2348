/* What the forms of a difference share.  Private to this room. */
#ifndef PLUGWRIGHT_DIFFERENCE_INNER_H
#define PLUGWRIGHT_DIFFERENCE_INNER_H

#include "emit/difference/difference.h"

struct telling {
    struct arena *arena;
    const struct difference *d;
    enum unit_system units; /* those of the new recipe */
    const char *currency;   /* "" where none is given */
};

struct telling telling_of(struct arena *arena, const struct difference *difference);

/* A value as the bench reads it; the step from one to another, with its sign; and a difference,
 * which is an en dash where it does not show. */
const char *telling_value(const struct telling *t, enum shown_as kind, double value);
const char *telling_step(const struct telling *t, enum shown_as kind, double before, double after);
const char *telling_delta(const struct telling *t, enum shown_as kind, double delta);

/* A range of differences, and the step of an effect: "+0.1 to +0.4 m", "unclear" where even its
 * direction is; "" of what came or went.  The sizes of a clear one: "0.04 to 0.39". */
const char *telling_range(const struct telling *t, enum shown_as kind, const struct band *band);
const char *telling_sizes(const struct telling *t, enum shown_as kind, const struct band *band);
const char *telling_effect(const struct telling *t, const struct effect *effect);

/* Where results under tow hold, in a recipe that has them: "30 m out at 1.5 m/s". */
const char *telling_tow(const struct telling *t);

/* The changes of one line in words, beginning with change `first`; *next is the first of the next
 * line.  Plain text. */
const char *telling_change(const struct telling *t, const struct change_group *group, int first,
                           int *next);

/* The title of an operation that has come or changed, or gone; of the one that it stands behind, or
 * NULL. */
const char *telling_title(const struct telling *t, const struct rework *rework);
const char *telling_behind(const struct telling *t, const struct rework *rework);

/* What a machine and a reader call a value. */
const char *telling_path(const struct telling *t, const struct effect_value *value);
const char *telling_label(const struct telling *t, const struct effect_value *value);

/* One row of the materials, one operation, as plain text. */
const char *telling_material(const struct telling *t, const struct effect *effect);
const char *telling_rework(const struct telling *t, const struct rework *rework);

/* How a part alone changes what floats; false where it changes nothing worth telling. */
bool telling_matters(const struct telling *t, const struct difference_part *part);

/* Whether both run to a depth, and how much deeper a part alone brings it: "unclear" where even the
 * direction is. */
bool telling_sounds(const struct telling *t);
const char *telling_depth(const struct telling *t, const struct single *alone);

/* Whether any bore is solved, so that loads and attitude are told apart. */
bool telling_solved(const struct telling *t);

#endif
