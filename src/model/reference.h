/* What the trade knows, as look-ups over the rows of grammar/tables/ and grammar/cautions.def.
 *
 * Every row carries its source, or says "common practice, no source" or "from memory".  SI units.
 */
#ifndef PLUGWRIGHT_REFERENCE_H
#define PLUGWRIGHT_REFERENCE_H

#include <stdbool.h>

#include "base/str.h"

struct wood_row {
    const char *name, *latin;
    double gravity; /* specific gravity at 12 % moisture, or the basic value where `basic` */
    bool basic;     /* only the basic value is published */
    bool hardwood;  /* for the dust caution */
    double spread;  /* of its density from board to board, one standard deviation, a share */
    const char *source;
    bool own; /* weighed in the workshop, and no row of the table */
};

struct metal_row {
    const char *name;
    double density;     /* kg/m3 */
    double least, most; /* as it is sold; both the density where that is one */
    bool ballast;       /* may be named as ballast */
    bool wire;          /* may be named as wire */
    bool soft;          /* driven home as a slug, whatever shape it had */
    unsigned cautions;  /* bits of enum caution that the metal itself brings */
    const char *source;
};

enum sheet_kind { SHEET_PLASTIC, SHEET_METAL, SHEET_LAMINATE };

struct sheet_row {
    const char *name;     /* lip material */
    double density;       /* kg/m3 */
    enum sheet_kind kind; /* how it is worked */
    double effort;        /* cutting a lip from it, against polycarbonate */
    const char *source;
};

struct hook_row {
    int kind; /* enum hook_kind */
    const char *size;
    double mass;   /* kg */
    double length; /* m, over all */
    const char *source;
};

struct cover_row {
    const char *where; /* key of `where`, in the order of enum layer_where */
    double cover;      /* share of the surface */
    bool round;        /* one of those that cover the whole plug together */
    const char *source;
};

struct layer_kind_row {
    const char *kind;  /* key of `kind`, in the order of enum layer_kind */
    bool ground;       /* hides what lies under it */
    bool needs_ground; /* shows its colour only over an opaque ground */
};

/* Kinds of sealer and of topcoat.  What a recipe may say is kept as it would say it: these are the
 * defaults of its fields (model/grammar.c); NULL: the kind has none. */
#define REFERENCE_SEAL_DEFAULTS(COLUMN) \
    COLUMN(coats) COLUMN(uptake) COLUMN(solids) COLUMN(dry) COLUMN(sand)

#define REFERENCE_TOPCOAT_DEFAULTS(COLUMN) \
    COLUMN(coats)                          \
    COLUMN(film)                           \
    COLUMN(density)                        \
    COLUMN(solids)                         \
    COLUMN(waste)                          \
    COLUMN(mix)                            \
    COLUMN(resin)                          \
    COLUMN(hardener)                       \
    COLUMN(pot_life) COLUMN(after) COLUMN(before) COLUMN(turn) COLUMN(cure) COLUMN(fish)

#define REFERENCE_TEXT(member) const char *member;

struct seal_row {
    const char *kind;       /* key of `kind`, in the order of enum seal_kind */
    bool hastened;          /* it cures by itself: the ten-degree rule holds */
    unsigned cautions;      /* bits of enum caution */
    const char *how, *with; /* texts of its step, with places */
    REFERENCE_SEAL_DEFAULTS(REFERENCE_TEXT)
    const char *source;
};

struct topcoat_row {
    const char *kind; /* key of `kind`, in the order of enum topcoat_kind */
    bool hastened, sprayed;
    unsigned cautions;
    const char *how, *with, *check, *ruins;
    REFERENCE_TOPCOAT_DEFAULTS(REFERENCE_TEXT)
    const char *source;
};

struct filler_row {
    const char *kind;    /* in the order of enum filler_kind */
    const char *density; /* default of `filler`, as a recipe would write it */
    bool dusty;          /* what is stirred in flies */
    const char *source;
};

extern const struct filler_row reference_filler[];
extern const int reference_filler_count;
extern const struct seal_row reference_seal[];
extern const int reference_seal_count;
extern const struct topcoat_row reference_topcoat[];
extern const int reference_topcoat_count;
extern const struct wood_row reference_wood[];
extern const int reference_wood_count;
extern const struct metal_row reference_metal[];
extern const int reference_metal_count;
extern const struct sheet_row reference_sheet[];
extern const int reference_sheet_count;
extern const struct hook_row reference_hook[];
extern const int reference_hook_count;
extern const struct cover_row reference_cover[];
extern const int reference_cover_count;
extern const struct layer_kind_row reference_layer_kind[];
extern const int reference_layer_kind_count;

/* Names by row: NULL past the end, "" for a metal that may not be chosen here.  Ballast and wire
 * metals are both rows of reference_metal. */
const char *reference_wood_name(int row);

/* Whether the trade may mean this wood by a word that its name does not have in it. */
bool reference_wood_meant(struct str word, const char *name);
const char *reference_ballast_name(int row);
const char *reference_wire_metal_name(int row);
const char *reference_sheet_name(int row);
struct ring_row {
    const char *size;
    double mass; /* kg */
    const char *source;
};
extern const struct ring_row reference_ring[];
extern const int reference_ring_count;

/* The row of a ring's size, or NULL. */
const struct ring_row *reference_ring_of(struct str size);

const char *reference_hook_name(int row);
const char *reference_caution_name(int row);

/* The row of a hook's kind (enum hook_kind) and size, or NULL. */
const struct hook_row *reference_hook_of(int kind, struct str size);

/* Density of wood at moisture `moisture` (fraction, 0..0.30), kg/m3: USDA Wood Handbook
 * FPL-GTR-190 chapter 4, equations 4-11 and 4-12 (docs/physics.md, 3.1). */
double reference_wood_density(const struct wood_row *wood, double moisture);

/* The basic gravity from which a wood has this density, kg/m3, at this moisture: the same equations
 * the other way round. */
double reference_wood_basic(double density, double moisture);

/* Specific gravity at 12 %, for fastener formulas. */
double reference_wood_gravity12(const struct wood_row *wood);

/* Single figures of the trade: FACT_ and the mark of a row of grammar/tables/fact.def. */
enum fact {
#define FACT(key, ...) FACT_##key,
#include "tables/fact.def"
    FACT_COUNT
};

struct fact_row {
    const char *name;
    double value;     /* SI; temperatures in degC */
    const char *unit; /* in which it is printed */
    double scale;     /* of that unit */
    const char *source;
};

extern const struct fact_row reference_fact[FACT_COUNT];

/* What a ball of this metal may be wider than its drill, m: soft metal is driven home, and hard
 * metal gives nothing. */
double reference_ball_give(int metal);

/* Where a formula of the program comes from. */
struct formula_row {
    const char *what, *source;
};

extern const struct formula_row reference_formula[];
extern const int reference_formula_count;

/* How much longer than written a cure takes in this shop, both in degC: the ten-degree rule,
 * 2^((at - shop) / 10), for times that hold at `at`. */
double reference_cure_factor(double at, double shop);

/* How one fitting may fail. */
enum joint {
#define JOINT(key, ...) JOINT_##key,
#include "tables/strength.def"
    JOINT_COUNT
};

enum strength_kind {
    STRENGTH_UNKNOWN, /* no published formula covers the joint */
    STRENGTH_FLOOR,   /* a formula for something weaker: printed, and not judged */
    STRENGTH_CEILING, /* one for something stronger: what it finds too little is too little */
    STRENGTH_KNOWN,   /* the nearest published formula: judged against the line */
};

struct joint_row {
    enum strength_kind kind;
    const char *failure; /* "the wire pulls out of the wood" */
    const char *formula; /* as printed; or why none is printed */
    double p, n;         /* withdrawal of a wire: p G^n D L; Pa, or 0 */
    const char *source;  /* of the formula, or NULL */
};

extern const struct joint_row reference_joint[JOINT_COUNT];

/* Least tensile strength of drawn wire, over a range of diameters. */
struct wire_strength_row {
    const char *metal;  /* a name of the metal table */
    double over, up_to; /* diameter, m */
    double least;       /* Pa */
    const char *source;
};

extern const struct wire_strength_row reference_wire_strengths[];
extern const int reference_wire_strength_count;

/* The row for a wire, or NULL where no strength is published. */
const struct wire_strength_row *reference_wire_strength(int metal, double diameter);

/* --- under tow: grammar/tables/running.def --------------------------------------------------- */

/* The numbers that the computation of running takes from a range, one member for each SPREAD row.
 */
struct coefficients {
#define SPREAD(member, ...) double member;
#include "tables/running.def"
};

enum { COEFFICIENTS = sizeof(struct coefficients) / sizeof(double) };

struct spread_row {
    const char *name;
    double low, high; /* in the unit */
    double one;       /* SI of the unit */
    const char *unit;
    double scale; /* SI of the unit too, as in a row of facts */
    const char *source;
    size_t offset; /* of the member of struct coefficients, a double */
};

/* Drag of a round cylinder across the flow. */
struct cylinder_row {
    double slenderness, drag; /* length over diameter; by length times diameter */
    const char *source;
};

/* Angles up to which the flow follows a plate, and from which it has left it; between them neither
 * law holds. */
struct stall_row {
    double aspect;
    double attached, stalled; /* rad */
    const char *source;
};

struct line_row {
    const char *name;
    double density; /* kg/m3 */
    const char *source;
};

/* Changes that are tried. */
enum tweak {
#define TWEAK(key, ...) TWEAK_##key,
#include "tables/running.def"
    TWEAKS
};

struct tweak_row {
    const char *name;
    double amount; /* SI */
    const char *unit;
    double scale;
};

extern const struct spread_row reference_spread[COEFFICIENTS];
extern const struct cylinder_row reference_cylinder[];
extern const int reference_cylinder_count;
extern const struct stall_row reference_stall[];
extern const int reference_stall_count;
extern const struct line_row reference_line[];
extern const int reference_line_count;
extern const struct tweak_row reference_tweak[TWEAKS];

extern const struct formula_row reference_tow_formula[];
extern const int reference_tow_formula_count;

/* What to do on the water, and what says by how much. */
enum {
#define TUNING(key, ...) TUNING_##key,
#include "tables/running.def"
    TUNINGS
};

enum tuning_by { TUNING_BY_TIE, TUNING_BY_HOLD, TUNING_BY_DEPTH };

struct tuning_row {
    const char *when, *what;
    enum tuning_by by;
};

extern const struct tuning_row reference_tuning[TUNINGS];

/* What is printed beside every number of running. */
extern const char *const reference_tow_note[];
extern const int reference_tow_note_count;

/* Dangers that an order warns of.  The bits of an operation's `cautions` are 1u << these. */
enum caution {
#define CAUTION(key, ...) CAUTION_##key,
#include "cautions.def"
    CAUTION_COUNT
};

struct caution_row {
    const char *id, *title;
    const char *brief; /* what matters most, half a line */
    const char *text;  /* usual precautions, a few sentences */
    const char *defer; /* which local rule, data sheet or licensed practice to follow */
    const char *source;
};

extern const struct caution_row reference_caution[CAUTION_COUNT];

/* How much longer the edge takes in wood of a density, against the wood that times are for. */
struct effort_row {
    double up_to; /* kg/m3; INFINITY: all that is heavier */
    double factor;
    const char *source;
};

extern const struct effort_row reference_effort[];
extern const int reference_effort_count;

double reference_effort_of(double density);

/* Tools that an added step may name, and the dangers that they bring. */
struct tool_row {
    const char *name;
    unsigned cautions;
    const char *source;
};

extern const struct tool_row reference_tool[];
extern const int reference_tool_count;

/* The dangers of all tools that are named in a text, as whole words, one or several of them, in
 * letters of either case: "lathe, two gouges".  Of names that hold each other the longer counts. */
unsigned reference_tool_cautions(struct str text);

#endif
