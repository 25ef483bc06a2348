#include "compute/schedule/inner.h"

/* Conflict analysis: learning a nogood (Marques-Silva and Sakallah, IEEE Transactions on Computers
 * 48, 1999, 506-521).  The literals of the conflict are replaced by their reasons, the latest raise
 * first, until only one of the last level is left, the first unique implication point (Zhang,
 * Madigan, Moskewicz and Malik, International Conference on Computer-Aided Design 2001, 279-285).
 * Its opposite must hold as soon as the others do: that is the clause learned.  Literals that
 * follow from others in it are left out (Soerensson and Biere, Theory and Applications of
 * Satisfiability Testing 2009, 237-243; here one step deep).
 */

/* The literals of which a raise made `l` true, in the scratch space; returns their number. */
static int reasons_of(struct exact *s, int number, struct literal l) {
    const struct reason *reason = &s->trail[number].reason;
    int count = 0;
    if (reason->why == WHY_ARC) {
        s->scratch[count++] = propagate_arc_reason(s, reason->about, l);
    } else if (reason->why == WHY_STORED) {
        for (int k = 0; k < reason->size; k++) s->scratch[count++] = s->stored[reason->about + k];
    } else if (reason->why == WHY_NOGOOD) {
        const struct nogood *nogood = &s->nogoods.nogood[reason->about];
        for (int k = 0; k < nogood->size; k++) {
            struct literal other = s->nogoods.literal[nogood->first + k];
            if (other.bound != l.bound) s->scratch[count++] = literal_not(other);
        }
    }
    return count;
}

static void need(struct exact *s, struct literal l) {
    struct trace *trace = &s->trace;
    int raise = trail_raise_of(s, l);
    if (raise < 0 || s->trail[raise].level == 0) return;
    if (trace->raise[l.bound] < 0) {
        trace->bound[trace->count++] = l.bound;
        s->score[l.bound / 2] += s->bump;
    } else if (trace->least[l.bound] >= l.least) {
        return;
    }
    trace->least[l.bound] = l.least;
    trace->raise[l.bound] = raise;
}

/* The place in the trace of what was needed last, and how many needs its level has. */
static int latest_need(const struct exact *s, int *of_level) {
    const struct trace *trace = &s->trace;
    int latest = 0;
    for (int k = 1; k < trace->count; k++)
        if (trace->raise[trace->bound[k]] > trace->raise[trace->bound[latest]]) latest = k;
    *of_level = 0;
    int level = s->trail[trace->raise[trace->bound[latest]]].level;
    for (int k = 0; k < trace->count; k++)
        if (s->trail[trace->raise[trace->bound[k]]].level == level) ++*of_level;
    return latest;
}

static struct literal take_need(struct trace *trace, int place) {
    int bound = trace->bound[place];
    struct literal l = {bound, trace->least[bound]};
    trace->raise[bound] = -1;
    trace->bound[place] = trace->bound[--trace->count];
    return l;
}

/* Is this need a consequence of other needs?  Only of earlier ones: a later one might itself be
 * left out because of this. */
static bool needless(struct exact *s, int bound) {
    const struct trace *trace = &s->trace;
    int raise = trace->raise[bound];
    if (s->trail[raise].reason.why == WHY_DECISION) return false;
    int count = reasons_of(s, raise, (struct literal){bound, trace->least[bound]});
    for (int k = 0; k < count; k++) {
        struct literal l = s->scratch[k];
        int made = trail_raise_of(s, l), needed = trace->raise[l.bound];
        if (made < 0 || s->trail[made].level == 0) continue;
        if (needed < 0 || needed >= raise || trace->least[l.bound] < l.least) return false;
    }
    return true;
}

/* Traces the conflict back; false when it needs no decision at all.  Leaves the needs in the trace,
 * that of the latest level first. */
static bool trace_back(struct exact *s) {
    struct trace *trace = &s->trace;
    trace->count = 0;
    int first = 0;
    if (s->emptied) { /* the last raise left no start: its reasons stand for it from the outset */
        int count = reasons_of(s, s->raises - 1, s->conflict[first++]);
        for (int k = 0; k < count; k++) need(s, s->scratch[k]);
    }
    for (int k = first; k < s->conflict_size; k++) need(s, s->conflict[k]);
    if (trace->count == 0) return false;
    int of_level, latest = latest_need(s, &of_level);
    while (of_level > 1) {
        int raise = trace->raise[trace->bound[latest]];
        struct literal l = take_need(trace, latest);
        int count = reasons_of(s, raise, l);
        for (int k = 0; k < count; k++) need(s, s->scratch[k]);
        latest = latest_need(s, &of_level);
    }
    int bound = trace->bound[latest];
    trace->bound[latest] = trace->bound[0];
    trace->bound[0] = bound;
    return true;
}

static int level_of(const struct exact *s, int bound) {
    return s->trail[s->trace.raise[bound]].level;
}

/* The literal block distance: the number of levels that the learned literals come from. */
static int distance_of(struct exact *s, int size) {
    int distance = 0;
    s->conflicts++;
    for (int k = 0; k < size; k++) {
        struct level *level = &s->level[level_of(s, s->learned[k].bound ^ 1) - 1];
        if (level->seen == s->conflicts) continue;
        level->seen = s->conflicts;
        distance++;
    }
    return distance;
}

/* Turns the needs into a nogood: that of the latest level first, the next latest second. */
static int learn(struct exact *s, int *back, int *distance) {
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
    *distance = distance_of(s, size);
    for (int k = 0; k < trace->count; k++) trace->raise[trace->bound[k]] = -1;
    return size;
}

/* Scores grow as in MiniSat (Een and Soerensson, Theory and Applications of Satisfiability Testing
 * 2003, 502-518): what took part in late conflicts counts most. */
bool conflict_resolve(struct exact *s) {
    static const double GROWTH = 1 / 0.95, TOO_GREAT = 1e100;
    if (!trace_back(s)) return false;
    int back, distance;
    int size = learn(s, &back, &distance);
    trail_back_to(s, back);
    struct reason reason = {WHY_DECISION, 0, 0}; /* holds for good, at level 0 */
    if (size > 1)
        reason = (struct reason){WHY_NOGOOD, nogood_add(s, s->learned, size, distance), 0};
    s->bump *= GROWTH;
    if (s->bump > TOO_GREAT) {
        for (int i = 0; i < s->instance->count; i++) s->score[i] /= TOO_GREAT;
        s->bump /= TOO_GREAT;
    }
    return trail_raise(s, s->learned[0], reason);
}
