/* The rows of grammar/route.def as operations of one recipe: whether it needs them, how often, what
 * they say, how long they take.  What must come before what is only listed here; route.c applies
 * it.
 */
#ifndef PLUGWRIGHT_WORK_OPERATION_H
#define PLUGWRIGHT_WORK_OPERATION_H

#include "compute/work/route.h"

enum operation_key {
#define OPERATION(key, ...) OPERATION_##key,
#include "route.def"
    OPERATION_KEYS
};

/* The id without a number: "topcoat" for all topcoats. */
const char *operation_stem(enum operation_key key);

/* How many of it this recipe needs: 0 or 1, of the repeated ones as many as layers or coats.
 * Operations on demand are never needed of themselves. */
int operation_times(const struct recipe *recipe, enum operation_key key);

/* The operation as this recipe has it; `number` counts from 1, and is 0 where it is not repeated.
 */
struct operation operation_of(struct arena *arena, const struct recipe *recipe,
                              enum operation_key key, int number);

/* Whether its wait is epoxy curing, so that a cold shop spoils it. */
bool operation_cures_epoxy(const struct recipe *recipe, enum operation_key key);

/* Of the topcoat in this shop, s: until cured, and until the next coat is due at the latest. */
double operation_cure(const struct recipe *recipe);
double operation_window(const struct recipe *recipe);

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
