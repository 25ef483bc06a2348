#include "compute/schedule/exact.h"

/* Conflict-driven search with clause learning (Marques-Silva and Sakallah, IEEE Transactions on
 * Computers 48, 1999, 506-521) over bounds instead of yes-or-no variables (lazy clause generation:
 * Ohrimenko, Stuckey and Codish, Constraints 14, 2009, 357-391).
 *
 * Each trial opens a level.  When propagation fails, the literals of the conflict are replaced by
 * their reasons, the latest step first, until only one of the last level is left.  Its opposite
 * must hold as soon as the others do: that is the clause learned, and search goes on at the level
 * where the clause first has something to say.
 */

#include <string.h>

static const struct reason TRIED = {WHY_TRIED, 0, 0};

/* --- steps ----------------------------------------------------------------------------------- */

void exact_store(struct exact *s, struct literal l) {
    GROW(s->arena, s->stored, s->stored_count, s->stored_capacity);
    s->stored[s->stored_count++] = l;
}

static void note_change(struct exact *s, int i) {
    const struct activity *a = &s->instance->project->activities[i];
    for (int r = 0; r < s->instance->project->resources; r++)
        if (a->work[r] > 0 || a->rest[r] > 0) s->resource[r].changed = true;
}

/* The literals of which the step made `l` true, in the scratch space; returns their number. */
static int reasons_of(struct exact *s, int number, struct literal l) {
    const struct reason *reason = &s->step[number].reason;
    int count = 0;
    if (reason->why == WHY_TIE) {
        s->scratch[count++] = exact_tie_reason(s, reason->about, l);
    } else if (reason->why == WHY_STORED) {
        for (int k = 0; k < reason->size; k++) s->scratch[count++] = s->stored[reason->about + k];
    } else if (reason->why == WHY_CLAUSE) {
        const struct clause *clause = &s->clauses.clause[reason->about];
        for (int k = 0; k < clause->size; k++) {
            struct literal other = s->clauses.literal[clause->first + k];
            if (other.bound != l.bound) s->scratch[count++] = literal_not(other);
        }
    }
    return count;
}

bool exact_raise(struct exact *s, struct literal l, struct reason reason) {
    if (literal_true(s, l)) return true;
    GROW(s->arena, s->step, s->steps, s->step_capacity);
    s->step[s->steps] =
        (struct raise){s->bound[l.bound], l.bound, s->depth, s->last_step[l.bound], reason};
    s->last_step[l.bound] = s->steps++;
    int i = l.bound / 2;
    s->bound[l.bound] =
        l.bound & 1 ? slot_until(s->instance, i, -l.least) : slot_from(s->instance, i, l.least);
    note_change(s, i);

    int64_t opposite = bound_value(s, l.bound ^ 1);
    if (bound_value(s, l.bound) + opposite <= 0) return true;
    s->conflict_size = reasons_of(s, s->steps - 1, (struct literal){l.bound, 1 - opposite});
    memcpy(s->conflict, s->scratch, (size_t)s->conflict_size * sizeof *s->conflict);
    s->conflict[s->conflict_size++] = (struct literal){l.bound ^ 1, opposite};
    return false;
}

static void open_level(struct exact *s) {
    GROW(s->arena, s->level, s->depth, s->level_capacity);
    s->level[s->depth++] = (struct level){s->steps, s->stored_count, 0};
}

static void back_to(struct exact *s, int depth) {
    if (depth >= s->depth) return;
    s->depth = depth;
    while (s->steps > s->level[depth].steps) {
        const struct raise *step = &s->step[--s->steps];
        s->bound[step->bound] = step->before;
        s->last_step[step->bound] = step->previous;
    }
    s->stored_count = s->level[depth].stored;
    s->examined = s->steps;
}

/* --- conflicts ------------------------------------------------------------------------------- */

/* The step that made a true literal true; -1 when it has been true from the beginning. */
static int step_of(const struct exact *s, struct literal l) {
    int k = s->last_step[l.bound];
    while (k >= 0) {
        const struct raise *step = &s->step[k];
        int64_t before = l.bound & 1 ? -step->before.start : step->before.start;
        if (before < l.least) return k;
        k = step->previous;
    }
    return -1;
}

static void need(struct exact *s, struct literal l) {
    struct trace *trace = &s->trace;
    int step = step_of(s, l);
    if (step < 0 || s->step[step].level == 0) return;
    if (trace->step[l.bound] < 0) {
        trace->bound[trace->count++] = l.bound;
        s->score[l.bound / 2] += s->bump;
    } else if (trace->least[l.bound] >= l.least) {
        return;
    }
    trace->least[l.bound] = l.least;
    trace->step[l.bound] = step;
}

/* The place in the trace of what was needed last, and how many needs its level has. */
static int latest_need(const struct exact *s, int *of_level) {
    const struct trace *trace = &s->trace;
    int latest = 0;
    for (int k = 1; k < trace->count; k++)
        if (trace->step[trace->bound[k]] > trace->step[trace->bound[latest]]) latest = k;
    *of_level = 0;
    int level = s->step[trace->step[trace->bound[latest]]].level;
    for (int k = 0; k < trace->count; k++)
        if (s->step[trace->step[trace->bound[k]]].level == level) ++*of_level;
    return latest;
}

static struct literal take_need(struct trace *trace, int place) {
    int bound = trace->bound[place];
    struct literal l = {bound, trace->least[bound]};
    trace->step[bound] = -1;
    trace->bound[place] = trace->bound[--trace->count];
    return l;
}

/* Is this need a consequence of other needs?  Only of earlier ones: a later one might itself be
 * left out because of this. */
static bool needless(struct exact *s, int bound) {
    const struct trace *trace = &s->trace;
    int step = trace->step[bound];
    if (s->step[step].reason.why == WHY_TRIED) return false;
    int count = reasons_of(s, step, (struct literal){bound, trace->least[bound]});
    for (int k = 0; k < count; k++) {
        struct literal l = s->scratch[k];
        int made = step_of(s, l), needed = trace->step[l.bound];
        if (made < 0 || s->step[made].level == 0) continue;
        if (needed < 0 || needed >= step || trace->least[l.bound] < l.least) return false;
    }
    return true;
}

/* Traces the conflict back; false when it needs no trial at all.  Leaves the needs in the trace,
 * that of the latest level first. */
static bool trace_back(struct exact *s) {
    struct trace *trace = &s->trace;
    trace->count = 0;
    for (int k = 0; k < s->conflict_size; k++) need(s, s->conflict[k]);
    if (trace->count == 0) return false;
    int of_level, latest = latest_need(s, &of_level);
    while (of_level > 1) {
        int step = trace->step[trace->bound[latest]];
        struct literal l = take_need(trace, latest);
        int count = reasons_of(s, step, l);
        for (int k = 0; k < count; k++) need(s, s->scratch[k]);
        latest = latest_need(s, &of_level);
    }
    int bound = trace->bound[latest];
    trace->bound[latest] = trace->bound[0];
    trace->bound[0] = bound;
    return true;
}

static int level_of(const struct exact *s, int bound) {
    return s->step[s->trace.step[bound]].level;
}

/* The number of levels that the learned literals come from. */
static int spread_of(struct exact *s, int size) {
    int spread = 0;
    s->conflicts++;
    for (int k = 0; k < size; k++) {
        struct level *level = &s->level[level_of(s, s->learned[k].bound ^ 1) - 1];
        if (level->seen == s->conflicts) continue;
        level->seen = s->conflicts;
        spread++;
    }
    return spread;
}

/* Turns the needs into a clause: that of the latest level first, the next latest second. */
static int learn(struct exact *s, int *back, int *spread) {
    struct trace *trace = &s->trace;
    int size = 0;
    *back = 0;
    for (int k = 0; k < trace->count; k++) {
        int bound = trace->bound[k];
        if (k > 0 && needless(s, bound)) continue;
        s->learned[size++] = literal_not((struct literal){bound, trace->least[bound]});
        if (k == 0 || level_of(s, bound) <= *back) continue;
        *back = level_of(s, bound);
        struct literal latest = s->learned[size - 1];
        s->learned[size - 1] = s->learned[1];
        s->learned[1] = latest;
    }
    *spread = spread_of(s, size);
    for (int k = 0; k < trace->count; k++) trace->step[trace->bound[k]] = -1;
    return size;
}

/* Learns from the conflict and goes back; false when there is no schedule at all. */
static bool resolve(struct exact *s) {
    static const double GROWTH = 1 / 0.95, TOO_GREAT = 1e100;
    if (!trace_back(s)) return false;
    int back, spread;
    int size = learn(s, &back, &spread);
    back_to(s, back);
    struct reason reason = TRIED;
    if (size > 1)
        reason = (struct reason){WHY_CLAUSE, exact_clauses_add(s, s->learned, size, spread), 0};
    s->bump *= GROWTH;
    if (s->bump > TOO_GREAT) {
        for (int i = 0; i < s->instance->count; i++) s->score[i] /= TOO_GREAT;
        s->bump /= TOO_GREAT;
    }
    return exact_raise(s, s->learned[0], reason);
}

/* --- search ---------------------------------------------------------------------------------- */

struct exact *exact_of(struct arena *arena, const struct instance *instance) {
    struct exact *s = NEW(arena, struct exact, 1);
    int bounds = 2 * instance->count;
    s->arena = arena;
    s->instance = instance;
    s->bound = NEW(arena, struct slot, bounds);
    s->last_step = NEW(arena, int, bounds);
    s->conflict = NEW(arena, struct literal, 4 * bounds + 4);
    s->scratch = NEW(arena, struct literal, 4 * bounds + 4);
    s->learned = NEW(arena, struct literal, bounds);
    s->trace.least = NEW(arena, int64_t, bounds);
    s->trace.step = NEW(arena, int, bounds);
    s->trace.bound = NEW(arena, int, bounds);
    s->clauses.watches = NEW(arena, struct watches, bounds);
    s->score = NEW(arena, double, instance->count);
    s->bump = 1;
    for (int b = 0; b < bounds; b++) {
        s->bound[b] =
            b & 1 ? slot_until(instance, b / 2, instance->horizon) : instance->head[b / 2];
        s->last_step[b] = s->trace.step[b] = -1;
    }
    exact_prepare(s);
    return s;
}

static bool lower_all(struct exact *s, int64_t deadline) {
    for (int i = 0; i < s->instance->count; i++) {
        int64_t work_end = deadline - s->instance->project->activities[i].wait;
        struct literal l = {2 * i + 1, -slot_ending_until(s->instance, i, work_end).start};
        if (!exact_raise(s, l, TRIED)) return false;
    }
    return exact_propagate(s);
}

bool exact_deadline(struct exact *s, int64_t deadline) {
    back_to(s, 0);
    return lower_all(s, deadline);
}

bool exact_assume(struct exact *s, int64_t deadline) {
    back_to(s, 0);
    open_level(s);
    return lower_all(s, deadline);
}

static bool fixed(const struct exact *s, int i) {
    return s->bound[2 * i].start == s->bound[2 * i + 1].start;
}

/* Of all that are not fixed, the activity that took most part in late conflicts; of equals that
 * which can start first.  -1: all are fixed. */
static int choose(const struct exact *s) {
    int best = -1;
    for (int i = 0; i < s->instance->count; i++) {
        if (fixed(s, i)) continue;
        if (best < 0 || s->score[i] > s->score[best] ||
            (s->score[i] == s->score[best] && s->bound[2 * i].start < s->bound[2 * best].start))
            best = i;
    }
    return best;
}

/* The i-th of 1 1 2 1 1 2 4 1 1 2 1 1 2 4 8 ... (Luby, Sinclair and Zuckerman, Information
 * Processing Letters 47, 1993, 173-180). */
static int restart_length(int i) {
    int whole = 1;
    while (whole < i + 1) whole = 2 * whole + 1;
    while (whole > i + 1) {
        whole /= 2;
        if (i >= whole) i -= whole;
    }
    return (whole + 1) / 2;
}

/* Tries the earlier half of what an activity has left. */
static void try_early(struct exact *s, int i) {
    int64_t from = s->bound[2 * i].start, to = s->bound[2 * i + 1].start;
    open_level(s);
    exact_raise(s, (struct literal){2 * i + 1, -(from + (to - from) / 2)}, TRIED);
}

enum exact_end exact_run(struct exact *s) {
    enum { RESTART = 100, FEW_CLAUSES = 2000, MANY_CLAUSES = 4000 };
    int restarts = 0, until = s->conflicts + RESTART;
    while (s->nodes < s->node_limit) {
        if (!exact_propagate(s)) {
            if (!resolve(s)) return EXACT_NONE;
            continue;
        }
        if (s->nodes >= s->node_limit) break; /* not propagated to the end */
        if (s->conflicts >= until) {
            until = s->conflicts + RESTART * restart_length(++restarts);
            back_to(s, 0);
            if (s->clauses.count > MANY_CLAUSES) exact_clauses_reduce(s, FEW_CLAUSES);
            continue;
        }
        int i = choose(s);
        if (i < 0) return EXACT_FOUND;
        try_early(s, i);
    }
    return EXACT_LIMIT;
}
