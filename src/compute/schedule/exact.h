/* Exact search: conflict-driven, over the earliest and latest starts of all activities.
 *
 * Every activity has an earliest and a latest start.  Ties, latest times, hours and resources
 * narrow them (schedule_propagate.c); where that is not enough, an activity is tried in the earlier
 * half of what it has left.  A dead end is traced back to the few bounds that made it, and that
 * combination is kept as a clause, so that it is never entered again (schedule_exact.c).
 *
 * Both bounds are handled alike as "bound b is at least v": bound 2 i is the earliest start of
 * activity i, bound 2 i + 1 its latest start with the sign turned.  The two are opposite: b ^ 1.
 */
#ifndef PLUGWRIGHT_SCHEDULE_EXACT_H
#define PLUGWRIGHT_SCHEDULE_EXACT_H

#include "compute/schedule/inner.h"

/* "The bound is at least this": true, false or open at any moment. */
struct literal {
    int bound;
    int64_t least;
};

enum why { WHY_TRIED, WHY_TIE, WHY_CLAUSE, WHY_STORED };

/* What a change of a bound follows from. */
struct reason {
    enum why why;
    int about; /* number of the tie or clause, or where its literals are stored */
    int size;  /* how many literals are stored */
};

/* One change of a bound: a step of the search. */
struct raise {
    struct slot before; /* what the bound was */
    int bound, level;
    int previous; /* the step that changed the same bound last, or -1 */
    struct reason reason;
};

/* Where the steps and stored literals of a level begin; the last conflict that it took part in. */
struct level {
    int steps, stored, seen;
};

/* The stretch in which an activity uses a resource: from its start or the end of its work, to the
 * end of its work or of its wait. */
struct usage {
    int activity, demand;
    bool resting; /* begins with the wait */
    bool waiting; /* ends with the wait */
};

/* Two parts that can never be in progress at once. */
struct rivals {
    struct usage a, b;
};

/* What all parts together use for certain. */
struct stretch {
    int64_t from, to;
    int used;
};

/* Where certain use changes. */
struct edge {
    int64_t tick;
    int change;
};

struct resource {
    int capacity;
    struct usage *part; /* by demand, the least first */
    int count;
    bool changed; /* a bound of a part has, since this was last looked at */
    struct stretch *stretch;
    int stretches;
    struct edge *edge; /* scratch */
};

/* At least one of the literals is true.  The first two are watched. */
struct clause {
    int first, size; /* in `literal` */
    int spread;      /* how many levels it spanned when it was learned */
};

/* A clause with a watched literal on some bound, that says "at least `least`". */
struct watch {
    int64_t least;
    int clause;
};

struct watches {
    struct watch *watch;
    int count;
    size_t capacity;
};

struct clauses {
    struct clause *clause;
    struct literal *literal;
    int count, literals;
    size_t capacity, literal_capacity;
    struct watches *watches; /* of each bound */
};

/* A conflict while it is traced back: what is needed to be true for it. */
struct trace {
    int64_t *least; /* of each bound */
    int *step;      /* that made it true; -1: the bound is not needed */
    int *bound;     /* those that are needed */
    int count;
};

struct exact {
    struct arena *arena;
    const struct instance *instance;

    struct slot *bound; /* of all bounds, as the slot that starts there */
    int *last_step;     /* of each bound, or -1 */
    struct raise *step;
    int steps, examined; /* the first `examined` have been passed on */
    struct level *level; /* level[k] is where level k + 1 begins */
    int depth;           /* the level now; 0 is what holds without any trial */
    struct literal *stored;
    int stored_count;
    size_t step_capacity, level_capacity, stored_capacity;

    struct resource resource[SCHEDULE_MAX_RESOURCES];
    struct rivals *rivals;
    int *rival_first, *rival; /* numbers of those that activity i is in */

    struct clauses clauses;
    struct literal *conflict; /* literals that cannot all be true, when propagation has failed */
    int conflict_size;
    struct literal *scratch, *learned;
    struct trace trace;
    double *score, bump; /* of each activity: how much it took part in late conflicts */
    int conflicts;
    long nodes, node_limit;
};

static inline int64_t bound_value(const struct exact *s, int bound) {
    return bound & 1 ? -s->bound[bound].start : s->bound[bound].start;
}

static inline bool literal_true(const struct exact *s, struct literal l) {
    return bound_value(s, l.bound) >= l.least;
}

static inline struct literal literal_not(struct literal l) {
    return (struct literal){l.bound ^ 1, 1 - l.least};
}

/* Makes a literal true; false when that leaves the activity no start. */
bool exact_raise(struct exact *s, struct literal l, struct reason reason);

/* Keeps a literal for a WHY_STORED reason that begins at the stored_count before the first. */
void exact_store(struct exact *s, struct literal l);

/* --- schedule_parts.c ------------------------------------------------------------------------ */

/* Collects parts and rivals of all resources. */
void exact_prepare(struct exact *s);

/* --- schedule_propagate.c -------------------------------------------------------------------- */

/* Draws all conclusions from the steps not examined yet; false on a conflict.  Stops early, and
 * says true, when the nodes are used up. */
bool exact_propagate(struct exact *s);

/* The literal of which tie number `tie` made `l` true: the weakest that does. */
struct literal exact_tie_reason(const struct exact *s, int tie, struct literal l);

/* --- schedule_clauses.c ---------------------------------------------------------------------- */

/* Keeps a clause of two literals or more, and watches the first two; returns its number. */
int exact_clauses_add(struct exact *s, const struct literal *literals, int size, int spread);

/* Draws the conclusions from a change of `bound`; false on a conflict. */
bool exact_clauses_propagate(struct exact *s, int bound);

/* At level 0, all propagated: forgets what is true for good and, of the rest, those that spanned
 * most levels, until no more than `most` are left. */
void exact_clauses_reduce(struct exact *s, int most);

/* --- schedule_exact.c ------------------------------------------------------------------------ */

struct exact *exact_of(struct arena *arena, const struct instance *instance);

/* All is to end by `deadline`; false when that is impossible.  Deadlines only ever get earlier. */
bool exact_deadline(struct exact *s, int64_t deadline);

/* The same as a trial, until the next call of any of these; true says nothing. */
bool exact_assume(struct exact *s, int64_t deadline);

enum exact_end { EXACT_FOUND, EXACT_NONE, EXACT_LIMIT };

/* Looks for a schedule within the deadline until the nodes are used up: when one is found,
 * `bound[2 i]` are its slots.  Goes on with what it has learned when it is called again. */
enum exact_end exact_run(struct exact *s);

#endif
