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

/* Whether any bore is solved, so that loads and attitude are told apart. */
bool telling_solved(const struct telling *t);

#endif
