/* Operations: the rows of grammar/route.def, and what they are for one recipe: whether it needs
 * them, how often, how long they take (docs/physics.md, 11.1 and 11.2).  What must come before what
 * is only listed here; route.c applies it.
 *
 * Rows hold texts with {places}; an operation holds none.  What it says is filled in by the
 * emitters (emit/words).  Times of operations in seconds, of rows in minutes.
 */
#ifndef PLUGWRIGHT_WORK_OPERATION_H
#define PLUGWRIGHT_WORK_OPERATION_H

#include "base/arena.h"
#include "compute/work/trait.h"

enum operation_key {
#define OPERATION(key, ...) OPERATION_##key,
#include "route.def"
    OPERATION_KEYS,
    OPERATION_OWN = OPERATION_KEYS /* a step that the recipe adds: its row says nothing */
};

enum phase {
#define PHASE(key, title) PHASE_##key,
#include "route.def"
    PHASE_COUNT
};

/* Where an operation happens: a resource of the run. */
enum station_used {
    AT_NONE,
#define PLACE(key, ...) AT_##key,
#include "route.def"
    AT_COUNT
};

struct place_row {
    const char *word, *title; /* NULL for AT_NONE */
    bool laid;
};

extern const struct place_row operation_places[AT_COUNT];

/* What the plug is when it is weighed after an operation. */
enum weighed { WEIGHED_NOT, WEIGHED_SHAPED, WEIGHED_SEALED, WEIGHED_IN_TEST, WEIGHED_FINISHED };

/* Marks of route.def. */
/* Bores are counted one by one, of a pair both. */
enum per {
    PER_PLUG,
    PER_BORE,
    PER_BELLY_BORE,
    PER_SIDE_BORE,
    PER_END_BORE,
    PER_CHAMBER, /* as bores */
    PER_BODY_CHAMBER,
    PER_END_CHAMBER,
    PER_INSIDE_CHAMBER,
    PER_PILOT,
    PER_WIRE,
    PER_SCREW,
    PER_LAST_SCREW,
    PER_HOOK,
    PER_JOINT,
    PER_LAYER_COAT
};
enum wait { NO_WAIT, DRYING, EPOXY_CURE, SEAL_DRYING, LAYER_DRYING, COAT_CURE, HARDENING };
enum times {
    ONCE,
    EACH_SEAL_COAT,
    EACH_LAYER,
    EACH_TOPCOAT,
    EACH_EARLY, /* fitting, by when it is fitted */
    EACH_ON_PAINT,
    EACH_LAST,
    ON_DEMAND
};

struct operation_row {
    const char *title, *what, *again, *with, *check, *ruins, *risk;
    uint64_t needs; /* traits */
    enum phase phase;
    enum station_used place;
    enum weighed weighed;
    enum times times;
    bool laid, by_wheel, passing, shaped;
    bool by_surface, by_wood, by_sheet; /* what `each` grows with */
    double fixed, each;                 /* min */
    enum per per;
    enum wait wait;
    double minutes;
    unsigned cautions;
};

extern const struct operation_row operation_rows[OPERATION_KEYS + 1];

/* What a recipe's steps call an operation: its key with hyphens, and its number unless 0. */
const char *operation_id(struct arena *arena, enum operation_key key, int number);

/* Whether an id without its number is that of this key. */
bool operation_called(enum operation_key key, struct str stem);

/* A skipped operation keeps its place in the order, takes no time and uses nothing. */
struct operation {
    enum operation_key key;
    int number;         /* of a layer, a coat or a scuffing, from 1; else 0 */
    const char *id;     /* what the recipe's steps call it */
    uint64_t traits;    /* of the recipe, and of the layer or coat in hand */
    unsigned cautions;  /* bits of enum caution (model/reference.h) */
    double fixed, each; /* hands-on time for the load, and for every plug */
    double wait;        /* unattended after it, */
    double held;        /* and how much of it the plug stays at its place at most */
    enum weighed weighed;
    enum station_used station;
    bool coat;     /* laid on a whole load in one go */
    bool done;     /* before the run begins: it keeps its number and its place in the order */
    bool anew;     /* a run that goes on has it, and the run before had not */
    bool by_wheel; /* done load by load when the wheel is too small */
    const struct step *added, *changed, *skipped; /* the recipe's step that did so, or NULL */
};

/* The fitting that an operation of this key and number is about, or NULL. */
const struct extra *operation_extra(const struct recipe *recipe, enum operation_key key,
                                    int number);

/* How many of it this recipe needs: 0 or 1, of the repeated ones as many as layers or coats.
 * Operations on demand are never needed of themselves. */
int operation_times(const struct recipe *recipe, enum operation_key key);

/* The operation as this recipe has it, its bare body having this surface, m2. */
struct operation operation_of(struct arena *arena, const struct recipe *recipe, double surface,
                              enum operation_key key, int number);

/* Whether the wait that its row gives it is epoxy curing, so that a cold shop spoils it. */
bool operation_cures_epoxy(const struct recipe *recipe, enum operation_key key);

/* Of the topcoat in this shop: until it may be handled, until the next coat is due at the latest
 * (0: at any time), how long a mix can be worked (0: it is none), and how long the wheel turns. */
double operation_cure(const struct recipe *recipe);
double operation_window(const struct recipe *recipe);
double operation_pot_life(const struct recipe *recipe);
double operation_turn(const struct recipe *recipe);

/* Why one comes before the other, and how much that weighs. */
enum link_weight {
    RULE,  /* any other order spoils the work */
    NEED,  /* it cannot be done otherwise */
    OWN,   /* from the recipe's steps */
    HABIT, /* usual; yields to the builder's own order */
};

struct operation_rule {
    enum link_weight weight;
    enum operation_key before, after; /* the last of the one, the first of the other */
    const char *reason;
};

extern const struct operation_rule operation_rules[];
extern const int operation_rule_count;

/* Why a repeated operation keeps the order of its numbers. */
extern const struct operation_rule operation_chains[];
extern const int operation_chain_count;

extern const char *const operation_ground_reason;

/* The place that `needs` of an added step names, or AT_NONE: then it names tools. */
enum station_used operation_place(struct str needs);

#endif
