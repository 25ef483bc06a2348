/* What the files of the scheduler share; nothing outside compute/schedule includes this.
 *
 * One section a file, from the ground up: a file uses its own section and those above it.  In the
 * words of the field: a project is prepared (heads and tails, symmetry breaking), scheduled by a
 * serial schedule generation scheme over activity lists, and searched by lazy clause generation
 * with time-table and disjunctive propagation; solve.c lets them take turns.
 */
#ifndef PLUGWRIGHT_SCHEDULE_INNER_H
#define PLUGWRIGHT_SCHEDULE_INNER_H

#include "compute/schedule/solve.h"

/* Where an activity lies in time.  Opening hours and all, each of the three determines the others,
 * and is a monotone function of them. */
struct slot {
    int64_t start, work_end, end;
};

/* A link as the scheduler sees it: an arc of the activity-on-node network. */
struct arc {
    int before, after;
    int64_t within; /* maximal time lag; -1: none, or one that cannot bind */
    bool by_work;   /* `after` waits for the work of `before` alone, not for its wait */
};

static inline int64_t arc_end(const struct arc *arc, const struct slot *before) {
    return arc->by_work ? before->work_end : before->end;
}

/* A project that has been found to be sound: links without loops, every piece fits somewhere,
 * every demand is within its capacity. */
struct instance {
    const struct project *project;
    int count;
    int capacity[SCHEDULE_MAX_RESOURCES];
    struct arc *arcs; /* the links, and those that break symmetry */
    int arc_count;
    bool windows;     /* there is a maximal time lag */
    const int *order; /* every activity behind all that it follows: a topological order */
    /* Arcs to i: into[into_first[i]] .. into[into_first[i + 1] - 1]; arcs from i likewise. */
    const int *into_first, *into, *from_first, *from;
    const unsigned char *follows; /* the transitive closure: a row of bits for each activity */
    const struct slot *head;      /* earliest by arcs, windows and hours alone */
    int64_t horizon;              /* if there is a schedule at all, one is no longer than this */
};

/* Does `after` follow `before`, directly or not? */
static inline bool instance_follows(const struct instance *instance, int before, int after) {
    size_t row = ((size_t)instance->count + 7) / 8;
    return instance->follows[(size_t)before * row + (size_t)after / 8] >> after % 8 & 1;
}

/* --- slot.c ---------------------------------------------------------------------------------- */

static inline int64_t work_length(const struct activity *activity) {
    return activity->pieces > 0 ? activity->first + (activity->pieces - 1) * activity->each : 0;
}

/* The first slot of an activity at `earliest` or later; false when a piece is longer than every
 * opening. */
bool slot_fit(const struct hours *hours, const struct activity *activity, int64_t earliest,
              struct slot *slot);

/* The slot of activity `i` that starts at a tick, without its setup; false when there is none. */
bool slot_following_on(const struct instance *instance, int i, int64_t tick, struct slot *slot);

/* The slots of activity `i` next to a tick: the earliest that starts at it or later, the latest
 * that starts by it; the earliest whose work ends at it or later, the latest whose work ends by it.
 */
struct slot slot_from(const struct instance *instance, int i, int64_t tick);
struct slot slot_until(const struct instance *instance, int i, int64_t tick);
struct slot slot_ending_from(const struct instance *instance, int i, int64_t tick);
struct slot slot_ending_until(const struct instance *instance, int i, int64_t tick);

/* --- symmetry.c ------------------------------------------------------------------------------ */

/* Adds arcs between activities that could change places with all that hangs on them; returns how
 * many.  There is room in `arcs` for one for each activity. */
int symmetry_break(struct arena *arena, struct instance *instance);

/* --- instance.c ------------------------------------------------------------------------------ */

/* NULL, with the activity to blame, when the project cannot be carried out. */
const struct instance *instance_of(struct arena *arena, const struct project *project,
                                   int *culprit);

/* The latest places if all is to end by `deadline`, by arcs and hours alone. */
void instance_tails(const struct instance *instance, int64_t deadline, struct slot *tail);

int64_t instance_makespan(const struct instance *instance, const struct slot *slot);

/* --- list.c: activity lists ------------------------------------------------------------------ */

/* What keeps the activities of one maximal time lag together in a list: those that should stand
 * ahead of the activity it counts from, and those that should follow it at once. */
struct chains {
    const int *ahead_first, *ahead; /* ahead of which i should stand */
    const int *ahead_count;         /* how many should stand ahead of i */
    const int *close_first, *close; /* what should follow i at once */
};

/* Makes lists: orders in which activities can be placed one by one. */
struct lister {
    const struct instance *instance;
    struct chains chains;
    int *missing;  /* arcs into i from activities not listed yet */
    int *pending;  /* activities that should stand ahead of i, not listed yet */
    bool *urgent;  /* i should follow at once */
    int *eligible; /* can be listed next */
};

struct lister *lister_of(struct arena *arena, const struct instance *instance);

/* The activities by priority (the least first, then the lowest index), each behind all that it
 * follows, and those that a maximal time lag holds together in one run where arcs allow it. */
void list_by(struct lister *lister, const int64_t *priority, int *list);

/* --- profile.c: resource profiles ------------------------------------------------------------ */

/* Use of one resource over time, and for what kind of activity where it holds one at a time. */
struct profile {
    int64_t *time;
    int *used, *kind; /* of a step that nothing is used in, the kind is 0 */
    int count, capacity;
    bool one_kind;
    long passed; /* steps that were looked at so far, a measure of the time that this took */
};

void profile_clear(struct profile *profile);
void profile_add(struct profile *profile, int64_t from, int64_t to, int amount, int kind);

/* Is there no room for `amount` throughout [from, to)?  Then also the first stretch without room
 * that reaches into it. */
bool profile_blocked(struct profile *profile, int64_t from, int64_t to, int amount, int kind,
                     int64_t *block_from, int64_t *block_to);

/* --- serial.c: the serial schedule generation scheme ----------------------------------------- */

/* The workplace of generation: used again for every schedule. */
struct serial {
    const struct instance *instance;
    struct profile profile[SCHEDULE_MAX_RESOURCES];
    struct slot *slot;     /* the schedule generated last */
    int64_t *release;      /* earliest starts, raised where a maximal time lag asks for it */
    int *place;            /* of each activity in the list */
    struct ending *ending; /* scratch of serial_justify */
    bool setups;           /* whether a setup falls away where it can, */
    bool *follows_on;      /* and has */
    int stuck;             /* the activity that could not be placed when generation failed */
    long nodes;            /* placings so far; a long way to a place counts for several */
};

struct serial *serial_of(struct arena *arena, const struct instance *instance);

/* One activity of the list after the other, each at its earliest.  Where a maximal time lag cannot
 * be kept, the activity that it counts from is put off and generation resumes there; false after
 * `node_limit` placings in all, or when an activity leaves the horizon. */
bool serial_generate(struct serial *s, const int *list, long node_limit);

/* Justification to the right: in the schedule generated last, every activity as late as the
 * makespan and all others allow, those that end last first. */
void serial_justify(struct serial *s);

/* --- exact search: what its files share ------------------------------------------------------ */

/* Every activity has an earliest and a latest start.  Both bounds are handled alike as "bound b is
 * at least v": bound 2 i is the earliest start of activity i, bound 2 i + 1 its latest start with
 * the sign turned.  The two are opposite: b ^ 1. */

/* A bound literal, "the bound is at least this": true, false or open at any moment. */
struct literal {
    int bound;
    int64_t least;
};

enum why { WHY_DECISION, WHY_ARC, WHY_NOGOOD, WHY_STORED };

/* What a raise of a bound follows from: its explanation. */
struct reason {
    enum why why;
    int about; /* number of the arc or nogood, or where its literals are stored */
    int size;  /* how many literals are stored */
};

/* One change of a bound: it is raised. */
struct raise {
    struct slot before; /* what the bound was */
    int bound, level;
    int previous; /* the raise of the same bound before this, or -1 */
    struct reason reason;
};

/* Where the raises and stored literals of a decision level begin; the last conflict that it took
 * part in. */
struct level {
    int raises, stored, seen;
};

/* The use of a resource by an activity, a task of the cumulative constraint: from its start or the
 * end of its work, to the end of its work or of its wait. */
struct task {
    int activity, demand;
    bool resting; /* begins with the wait */
    bool waiting; /* ends with the wait */
};

/* A disjunctive pair: two tasks that can never be in progress at once. */
struct disjunction {
    struct task a, b;
};

/* What the compulsory parts of all tasks use together: a piece of the time-table. */
struct stretch {
    int64_t from, to;
    int used;
};

/* Where a compulsory part begins or ends. */
struct edge {
    int64_t tick;
    int change;
};

struct resource {
    int capacity;
    struct task *task; /* by demand, the least first */
    int count;
    bool changed; /* a bound of a task has, since this was last looked at */
    struct stretch *stretch;
    int stretches;
    struct edge *edge; /* scratch */
};

/* A learned clause: at least one of the literals is true.  The first two are watched. */
struct nogood {
    int first, size; /* in `literal` */
    int distance;    /* literal block distance: how many levels it spanned when it was learned */
};

/* A nogood with a watched literal on some bound, that says "at least `least`". */
struct watch {
    int64_t least;
    int nogood;
};

struct watches {
    struct watch *watch;
    int count;
    size_t capacity;
};

struct nogoods {
    struct nogood *nogood;
    struct literal *literal;
    int count, literals;
    size_t capacity, literal_capacity;
    struct watches *watches; /* of each bound */
};

/* A conflict while it is traced back: what is needed to be true for it. */
struct trace {
    int64_t *least; /* of each bound */
    int *raise;     /* that made it true; -1: the bound is not needed */
    int *bound;     /* those that are needed */
    int count;
};

struct exact {
    struct arena *arena;
    const struct instance *instance;

    struct slot *bound;   /* of all bounds, as the slot that starts there */
    int *last_raise;      /* of each bound, or -1 */
    struct raise *trail;  /* all raises, in their order */
    int raises, examined; /* the first `examined` have been passed on */
    struct level *level;  /* level[k] is where level k + 1 begins */
    int depth;            /* the level now; 0 is what holds without any decision */
    struct literal *stored;
    int stored_count;
    size_t trail_capacity, level_capacity, stored_capacity;

    struct resource resource[SCHEDULE_MAX_RESOURCES];
    struct disjunction *disjunction;
    int *pair_first, *pair; /* numbers of the disjunctions that activity i is in */

    struct nogoods nogoods;
    struct literal *conflict; /* literals that cannot all be true, when propagation has failed */
    int conflict_size;
    bool emptied; /* the first of them is what the last raise made true */
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

/* --- trail.c --------------------------------------------------------------------------------- */

/* Makes a literal true; false, with the conflict, when that leaves the activity no start. */
bool trail_raise(struct exact *s, struct literal l, struct reason reason);

/* Keeps a literal for a WHY_STORED reason that begins at the stored_count before the first. */
void trail_store(struct exact *s, struct literal l);

/* Begins a decision level; takes back all raises of the levels above `depth`. */
void trail_open_level(struct exact *s);
void trail_back_to(struct exact *s, int depth);

/* The raise that made a true literal true; -1 when it has been true from the beginning. */
int trail_raise_of(const struct exact *s, struct literal l);

/* --- nogood.c -------------------------------------------------------------------------------- */

/* Keeps a nogood of two literals or more, and watches the first two; returns its number. */
int nogood_add(struct exact *s, const struct literal *literals, int size, int distance);

/* Draws the conclusions from a raise of `bound`; false on a conflict. */
bool nogood_propagate(struct exact *s, int bound);

/* At level 0, all propagated: forgets what is true for good and, of the rest, those that spanned
 * most levels, until no more than `most` are left. */
void nogood_reduce(struct exact *s, int most);

/* --- task.c ---------------------------------------------------------------------------------- */

/* Collects the tasks and disjunctive pairs of all resources. */
void task_collect(struct exact *s);

/* Whether kinds that are to be kept apart are.  A resource's capacity is seen to by the time-table,
 * kinds by disjunctive pairs alone, and there is not room for any number of these. */
bool task_kinds_apart(const struct exact *s, const struct slot *slot);

static inline int64_t task_begin(const struct task *task, const struct slot *slot) {
    return task->resting ? slot->work_end : slot->start;
}

static inline int64_t task_end(const struct task *task, const struct slot *slot) {
    return task->waiting ? slot->end : slot->work_end;
}

/* --- propagate.c ----------------------------------------------------------------------------- */

/* Draws all conclusions from the raises not examined yet; false on a conflict.  Stops early, and
 * says true, when the nodes are used up. */
bool propagate(struct exact *s);

/* The literal of which arc number `arc` made `l` true: the weakest that does. */
struct literal propagate_arc_reason(const struct exact *s, int arc, struct literal l);

/* --- conflict.c ------------------------------------------------------------------------------ */

/* Learns a nogood from the conflict and goes back to where it has something to say; false when
 * there is no schedule at all. */
bool conflict_resolve(struct exact *s);

/* --- exact.c --------------------------------------------------------------------------------- */

struct exact *exact_of(struct arena *arena, const struct instance *instance);

/* All is to end by `deadline`; false when that is impossible.  Deadlines only ever get earlier. */
bool exact_deadline(struct exact *s, int64_t deadline);

/* The same as a decision, until the next call of any of these; true says nothing. */
bool exact_assume(struct exact *s, int64_t deadline);

enum exact_end { EXACT_FOUND, EXACT_NONE, EXACT_LIMIT };

/* Looks for a schedule within the deadline until the nodes are used up: when one is found,
 * `bound[2 i]` are its slots.  Goes on with what it has learned when it is called again. */
enum exact_end exact_run(struct exact *s);

/* --- bound.c: lower bounds ------------------------------------------------------------------- */

/* No schedule is shorter.  By the sequence of activities on resources with room for one at a time.
 */
int64_t bound_by_sequence(struct arena *arena, const struct instance *instance);

/* By deadlines that are shown to be impossible (destructive improvement); `low` is a bound already,
 * no bound above `high` is looked for. */
int64_t bound_by_deadlines(struct arena *arena, struct exact *s, int64_t low, int64_t high);

#endif
