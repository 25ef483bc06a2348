/* What results are called: keys and numbers in compute, words from the rows of grammar/names.def
 * wherever somebody reads them.
 */
#ifndef PLUGWRIGHT_NAME_H
#define PLUGWRIGHT_NAME_H

#include <stdbool.h>

#include "base/arena.h"
#include "base/str.h"

enum name_key {
#define NAME(key, text) NAME_##key,
#include "names.def"
};

/* A row, with the number (from 1) and the thing's own name that the row asks for.  All zero: "". */
struct name {
    enum name_key key;
    int number;
    struct str own;
};

const char *name_text(struct arena *arena, struct name name);
bool name_equal(struct name a, struct name b);

/* Stages in the order of the build. */
enum stage {
#define STAGE(key, text, in_test) STAGE_##key,
#include "names.def"
    STAGE_COUNT
};

struct stage_row {
    const char *text;
    bool in_test; /* what it brings is on the plug in the float test */
};

extern const struct stage_row name_stages[STAGE_COUNT];

enum float_state {
#define FLOAT_STATE(key, text) STATE_##key,
#include "names.def"
    STATE_COUNT
};

extern const char *const name_float_states[STATE_COUNT];

/* What pulls and pushes at a plug under tow. */
enum tow_force {
#define TOW_FORCE(key, text) FORCE_##key,
#include "names.def"
    FORCES
};

extern const char *const name_tow_forces[FORCES];

/* Over the spread of coefficients. */
enum tow_verdict {
#define VERDICT(key, runs, holds) VERDICT_##key,
#include "names.def"
    VERDICT_COUNT
};

extern const char *const name_runs[VERDICT_COUNT];  /* whether a plug under tow stays under */
extern const char *const name_holds[VERDICT_COUNT]; /* whether it does not roll out */

/* How the density of the wood came to be known. */
enum wood_source {
#define WOOD_SOURCE(key, text) WOOD_##key,
#include "names.def"
    WOOD_SOURCE_COUNT
};

extern const char *const name_wood_sources[WOOD_SOURCE_COUNT];

/* Where the water meets the plug, seen from the side. */
enum mark_on {
#define WATER_MARK(key, text) MARK_##key,
#include "names.def"
    MARK_COUNT
};

extern const char *const name_marks[MARK_COUNT];

/* "both flanks", by enum bore_side (model/recipe.h). */
extern const char *const name_sides[];

/* By enum place and enum paper (model/recipe.h). */
extern const char *const name_places[], *const name_papers[];

#endif
