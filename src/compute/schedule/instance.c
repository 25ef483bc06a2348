#include "compute/schedule/inner.h"

#include "compute/schedule/critical.h"

/* A project made ready for scheduling (arcs grouped, a topological order, the transitive closure,
 * heads), or found impossible: limits of size, demands above their capacity, pieces that fit no
 * opening, loops, maximal time lags that links and hours alone rule out.
 *
 * The horizon: in a schedule without needless gaps, some work or wait is in progress at all times
 * but for gaps of at most one cycle of the hours (over a longer one, all that lies behind it could
 * move a whole cycle earlier).  So the sum over all activities of the longest that each can last,
 * and a cycle, behind the last tick that one has to wait for, is enough for a shortest schedule, if
 * there is any schedule.
 */

int64_t instance_makespan(const struct instance *instance, const struct slot *slot) {
    int64_t makespan = 0;
    for (int i = 0; i < instance->count; i++)
        if (slot[i].end > makespan) makespan = slot[i].end;
    return makespan;
}

/* Far beyond any workshop, and small enough that no sum and no product overflows: the demands of
 * all activities together, over all of the longest project, stay below 2^62. */
static const int64_t LONGEST = INT64_C(1) << 36; /* seconds: two thousand years */
enum { MOST_ACTIVITIES = 1 << 14, MOST_PIECES = 1 << 16, MOST_DEMAND = 1 << 12 };

static bool demand_possible(int demand, int capacity) {
    return demand >= 0 && demand <= MOST_DEMAND && demand <= capacity;
}

static bool within_limits(const struct project *project, const struct activity *a) {
    if (a->first < 0 || a->first > LONGEST || a->each < 0 || a->each > LONGEST) return false;
    if (a->earliest < 0 || a->earliest > LONGEST) return false;
    if (a->setup < 0 || a->setup > a->first) return false;
    if (a->wait < 0 || a->wait > LONGEST || a->pieces < 0 || a->pieces > MOST_PIECES) return false;
    for (int r = 0; r < project->resources; r++)
        if (!demand_possible(a->work[r], project->capacity[r]) ||
            !demand_possible(a->rest[r], project->capacity[r]))
            return false;
    return project->hours.cycle <= LONGEST;
}

/* The first activity that can never be placed, or -1; sums up the horizon. */
static int find_misfit(const struct project *project, int64_t *horizon) {
    const struct hours *hours = &project->hours;
    int64_t last = 0; /* until then there may be gaps of any length */
    *horizon = 1;
    for (int i = 0; i < project->count; i++) {
        const struct activity *a = &project->activities[i];
        struct slot slot;
        if (i >= MOST_ACTIVITIES || !within_limits(project, a)) return i;
        if (!slot_fit(hours, a, 0, &slot)) return i;
        /* From any tick to its end, and a gap before it: a cycle at most each. */
        *horizon += slot.end + (hours->count > 0 ? 2 * hours->cycle : 0);
        if (a->earliest > last) last = a->earliest;
        if (*horizon + last > LONGEST) return i;
    }
    *horizon += last;
    return -1;
}

/* The links, without windows so long that they cannot bind. */
static void copy_links(struct arena *arena, struct instance *instance) {
    const struct project *project = instance->project;
    instance->arcs = NEW(arena, struct arc, project->link_count + project->count);
    instance->arc_count = project->link_count;
    for (int k = 0; k < project->link_count; k++) {
        const struct activity_link *link = &project->links[k];
        bool binds = link->within >= 0 && link->within < instance->horizon;
        instance->arcs[k] =
            (struct arc){link->before, link->after, binds ? link->within : -1, false};
        instance->windows = instance->windows || binds;
    }
}

static const int *group_arcs(struct arena *arena, const struct instance *instance, bool by_after,
                             const int **first_of) {
    int *first = NEW(arena, int, instance->count + 1);
    int *grouped = NEW(arena, int, instance->arc_count);
    int *next = NEW(arena, int, instance->count);
    for (int k = 0; k < instance->arc_count; k++)
        first[(by_after ? instance->arcs[k].after : instance->arcs[k].before) + 1]++;
    for (int i = 0; i < instance->count; i++) first[i + 1] += first[i];
    for (int i = 0; i < instance->count; i++) next[i] = first[i];
    for (int k = 0; k < instance->arc_count; k++)
        grouped[next[by_after ? instance->arcs[k].after : instance->arcs[k].before]++] = k;
    *first_of = first;
    return grouped;
}

static const int *order_of(struct arena *arena, const struct instance *instance) {
    struct critical_link *links = NEW(arena, struct critical_link, instance->arc_count);
    for (int k = 0; k < instance->arc_count; k++)
        links[k] = (struct critical_link){instance->arcs[k].before, instance->arcs[k].after};
    return critical_order(arena, instance->count, links, instance->arc_count);
}

/* An activity on a loop: what is left when all that nothing alive precedes has been struck out. */
static int find_loop(struct arena *arena, const struct instance *instance) {
    int *struck = NEW(arena, int, instance->count);
    for (bool changed = true; changed;) {
        changed = false;
        for (int i = 0; i < instance->count; i++) {
            int before = 0, after = 0;
            for (int k = instance->into_first[i]; k < instance->into_first[i + 1]; k++)
                before += !struck[instance->arcs[instance->into[k]].before];
            for (int k = instance->from_first[i]; k < instance->from_first[i + 1]; k++)
                after += !struck[instance->arcs[instance->from[k]].after];
            if (struck[i] || (before > 0 && after > 0)) continue;
            struck[i] = 1;
            changed = true;
        }
    }
    for (int i = 0; i < instance->count; i++)
        if (!struck[i]) return i;
    return -1;
}

/* Who follows whom, from the last activity to the first: all that follow those that follow. */
static const unsigned char *followers_of(struct arena *arena, const struct instance *instance) {
    size_t row = ((size_t)instance->count + 7) / 8;
    unsigned char *follows = NEW(arena, unsigned char, row *(size_t)instance->count);
    for (int n = instance->count - 1; n >= 0; n--) {
        int i = instance->order[n];
        unsigned char *mine = &follows[(size_t)i * row];
        for (int k = instance->from_first[i]; k < instance->from_first[i + 1]; k++) {
            int after = instance->arcs[instance->from[k]].after;
            for (size_t byte = 0; byte < row; byte++)
                mine[byte] |= follows[(size_t)after * row + byte];
            mine[after / 8] |= (unsigned char)(1 << after % 8);
        }
    }
    return follows;
}

/* Moves the heads behind what they follow: the forward pass of the critical path method. */
static void push_heads(const struct instance *instance, struct slot *head) {
    for (int n = 0; n < instance->count; n++) {
        int i = instance->order[n];
        int64_t earliest = head[i].start;
        for (int k = instance->into_first[i]; k < instance->into_first[i + 1]; k++) {
            const struct arc *arc = &instance->arcs[instance->into[k]];
            int64_t end = arc_end(arc, &head[arc->before]);
            if (end > earliest) earliest = end;
        }
        if (earliest > head[i].start) head[i] = slot_from(instance, i, earliest);
    }
}

/* Moves heads that lie too far before a latest time; returns one whose latest time did that, or
 * -1. */
static int pull_heads(const struct instance *instance, struct slot *head) {
    int late = -1;
    for (int n = instance->count - 1; n >= 0; n--) {
        int i = instance->order[n];
        for (int k = instance->from_first[i]; k < instance->from_first[i + 1]; k++) {
            const struct arc *arc = &instance->arcs[instance->from[k]];
            if (arc->within < 0) continue;
            int64_t due = head[arc->after].start - arc->within;
            if (head[i].work_end >= due) continue;
            head[i] = slot_ending_from(instance, i, due);
            late = arc->after;
        }
    }
    return late;
}

/* The earliest places by links, windows and hours, the heads: passes forward and back to a fixed
 * point, as longest paths are found in networks with time lags (Bartusch, Moehring and Radermacher,
 * Annals of Operations Research 16, 1988, 201-240); returns an activity whose latest time pushes
 * another beyond the horizon, or -1.  Giving up early leaves heads too early, which is safe. */
static int find_heads(const struct instance *instance, struct slot *head) {
    enum { ROUNDS = 2000 };
    for (int i = 0; i < instance->count; i++)
        head[i] = slot_from(instance, i, instance->project->activities[i].earliest);
    for (int round = 0; round < ROUNDS; round++) {
        push_heads(instance, head);
        int late = instance->windows ? pull_heads(instance, head) : -1;
        if (late < 0) return -1;
        if (instance_makespan(instance, head) > instance->horizon) return late;
    }
    return -1;
}

/* Groups and orders the arcs; false when they form a loop. */
static bool arrange_arcs(struct arena *arena, struct instance *instance) {
    instance->into = group_arcs(arena, instance, true, &instance->into_first);
    instance->from = group_arcs(arena, instance, false, &instance->from_first);
    instance->order = order_of(arena, instance);
    if (!instance->order) return false;
    instance->follows = followers_of(arena, instance);
    return true;
}

const struct instance *instance_of(struct arena *arena, const struct project *project,
                                   int *culprit) {
    struct instance *instance = NEW(arena, struct instance, 1);
    instance->project = project;
    instance->count = project->count;
    for (int r = 0; r < project->resources; r++) {
        int all = MOST_DEMAND * MOST_ACTIVITIES; /* more is never used */
        instance->capacity[r] = project->capacity[r] < all ? project->capacity[r] : all;
    }
    *culprit = find_misfit(project, &instance->horizon);
    if (*culprit >= 0) return NULL;

    copy_links(arena, instance);
    if (!arrange_arcs(arena, instance)) {
        *culprit = find_loop(arena, instance);
        return NULL;
    }
    if (symmetry_break(arena, instance) > 0) arrange_arcs(arena, instance);
    struct slot *head = NEW(arena, struct slot, instance->count);
    instance->head = head;
    *culprit = find_heads(instance, head);
    return *culprit < 0 ? instance : NULL;
}

/* The backward pass. */
void instance_tails(const struct instance *instance, int64_t deadline, struct slot *tail) {
    for (int n = instance->count - 1; n >= 0; n--) {
        int i = instance->order[n];
        int64_t wait = instance->project->activities[i].wait, work_end = deadline - wait;
        for (int k = instance->from_first[i]; k < instance->from_first[i + 1]; k++) {
            const struct arc *arc = &instance->arcs[instance->from[k]];
            int64_t due = tail[arc->after].start - (arc->by_work ? 0 : wait);
            if (due < work_end) work_end = due;
        }
        tail[i] = slot_ending_until(instance, i, work_end);
    }
}
