/* Two recipes side by side: what was changed, what that does, and which change did what.
 *
 * One value for all three forms: text for a terminal, Markdown with drawings
 * (drawing_difference.h), and JSON (docs/git.md, As JSON).
 */
#ifndef PLUGWRIGHT_DIFFERENCE_DIFFERENCE_H
#define PLUGWRIGHT_DIFFERENCE_DIFFERENCE_H

#include "compute/single.h"
#include "compute/effect.h"
#include "compute/rework.h"
#include "emit/drawing/figure.h"
#include "model/change.h"

struct difference_side {
    const char *file; /* as the user named it */
    const struct recipe *recipe;
    const struct results *results;
    const struct diags *diags;
    struct effect_values values;
    struct sittings sittings;
    struct single afloat;
};

/* One changed part in the old recipe, all else as it was; or, where that makes no plug, all changed
 * parts of its section. */
struct difference_part {
    const char *name; /* "hangers"; "body, stations" */
    struct single alone;
};

struct difference {
    struct difference_side old, new;
    struct change_list changes;
    struct difference_part *parts;
    int part_count;
    struct effect_list effects;
    struct rework_list rework;
    unsigned cautions_come, cautions_go; /* bits of enum caution */
    const struct diag **warnings_come, **warnings_go;
    int warnings_come_count, warnings_go_count;
};

void difference_terminal(struct buf *out, const struct difference *difference);
void difference_markdown(struct buf *out, const struct difference *difference,
                         const struct figure_list *figures);
void difference_json(struct buf *out, const struct difference *difference);

/* A chapter of the living page, as HTML (emit/view.h). */
void difference_page(struct buf *out, const struct difference *difference);

/* "floats 2.1 % lower and 3° more nose down, one evening longer". */
const char *difference_words(struct arena *arena, const struct difference *difference);

/* One committed version of a recipe with its main results. */
struct difference_version {
    int number;                      /* from 1, the oldest */
    const char *id, *date, *subject; /* of the commit; "" of what is not committed */
    const char *note;                /* the recipe's own */
    const char *failure;             /* why it makes no plug, or NULL: */
    enum float_state state;
    double mass, reserve, attitude, gm, ballast, hands_on;
    bool runs; /* it has a depth under tow: */
    double depth;
    bool priced;
    double cost; /* of the run */
};

struct difference_history {
    const char *file, *currency;
    enum unit_system units;
    const struct difference_version *versions; /* the oldest first */
    int count, omitted;                        /* older ones that are not shown */
};

void difference_history_terminal(struct buf *out, const struct difference_history *history);
void difference_history_json(struct buf *out, const struct difference_history *history);

#endif
