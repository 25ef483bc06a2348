#include "compute/schedule/inner.h"

#include "compute/schedule/critical.h"

/* A project made ready for scheduling, or found impossible: limits of size, demands above their
 * capacity, pieces that fit no opening, loops, latest times that links and hours alone rule out.
 *
 * The horizon: in a schedule without needless gaps, some work or wait is in progress at all times
 * but for gaps of at most one cycle of the hours (over a longer one, all that lies behind it could
 * move a whole cycle earlier).  So the sum over all activities of the longest that each can last,
 * and a cycle, is enough for a shortest schedule, if there is any schedule.
 */

int64_t schedule_makespan(const struct slot *slot, int count) {
    int64_t makespan = 0;
    for (int i = 0; i < count; i++)
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
    if (a->wait < 0 || a->wait > LONGEST || a->pieces < 0 || a->pieces > MOST_PIECES) return false;
    for (int r = 0; r < project->resources; r++)
        if (!demand_possible(a->work[r], project->capacity[r]) ||
            !demand_possible(a->rest[r], project->capacity[r]))
            return false;
    return project->hours.cycle <= LONGEST;
}

/* Longest time from any tick to the end of activity `a` if it takes the first slot from there. */
static int64_t longest(const struct opening_hours *hours, const struct activity *a,
                       int64_t work_end) {
    return work_end + a->wait + (hours->count > 0 ? hours->cycle : 0);
}

/* The first activity that can never be placed, or -1; sums up the horizon. */
static int find_misfit(const struct project *project, int64_t *horizon) {
    const struct opening_hours *hours = &project->hours;
    *horizon = 1;
    for (int i = 0; i < project->count; i++) {
        const struct activity *a = &project->activities[i];
        int64_t start, work_end;
        if (i >= MOST_ACTIVITIES || !within_limits(project, a)) return i;
        if (!hours_fit(hours, a, 0, &start, &work_end)) return i;
        *horizon += longest(hours, a, work_end) + (hours->count > 0 ? hours->cycle : 0);
        if (*horizon > LONGEST) return i;
    }
    return -1;
}

/* The links, without windows so long that they cannot bind. */
static void copy_links(struct arena *arena, struct schedule_plan *plan) {
    const struct project *project = plan->project;
    plan->ties = NEW(arena, struct tie, project->link_count + project->count);
    plan->tie_count = project->link_count;
    for (int k = 0; k < project->link_count; k++) {
        const struct activity_link *link = &project->links[k];
        bool binds = link->within >= 0 && link->within < plan->horizon;
        plan->ties[k] = (struct tie){link->before, link->after, binds ? link->within : -1, false};
        plan->windows = plan->windows || binds;
    }
}

static const int *group_ties(struct arena *arena, const struct schedule_plan *plan, bool by_after,
                             const int **first_of) {
    int *first = NEW(arena, int, plan->count + 1);
    int *grouped = NEW(arena, int, plan->tie_count);
    int *next = NEW(arena, int, plan->count);
    for (int k = 0; k < plan->tie_count; k++)
        first[(by_after ? plan->ties[k].after : plan->ties[k].before) + 1]++;
    for (int i = 0; i < plan->count; i++) first[i + 1] += first[i];
    for (int i = 0; i < plan->count; i++) next[i] = first[i];
    for (int k = 0; k < plan->tie_count; k++)
        grouped[next[by_after ? plan->ties[k].after : plan->ties[k].before]++] = k;
    *first_of = first;
    return grouped;
}

static const int *order_of(struct arena *arena, const struct schedule_plan *plan) {
    struct critical_link *links = NEW(arena, struct critical_link, plan->tie_count);
    for (int k = 0; k < plan->tie_count; k++)
        links[k] = (struct critical_link){plan->ties[k].before, plan->ties[k].after};
    return critical_order(arena, plan->count, links, plan->tie_count);
}

/* An activity on a loop: what is left when all that nothing alive precedes has been struck out. */
static int find_loop(struct arena *arena, const struct schedule_plan *plan) {
    int *struck = NEW(arena, int, plan->count);
    for (bool changed = true; changed;) {
        changed = false;
        for (int i = 0; i < plan->count; i++) {
            int before = 0, after = 0;
            for (int k = plan->into_first[i]; k < plan->into_first[i + 1]; k++)
                before += !struck[plan->ties[plan->into[k]].before];
            for (int k = plan->from_first[i]; k < plan->from_first[i + 1]; k++)
                after += !struck[plan->ties[plan->from[k]].after];
            if (struck[i] || (before > 0 && after > 0)) continue;
            struck[i] = 1;
            changed = true;
        }
    }
    for (int i = 0; i < plan->count; i++)
        if (!struck[i]) return i;
    return -1;
}

/* Who follows whom, from the last activity to the first: all that follow those that follow. */
static const unsigned char *followers_of(struct arena *arena, const struct schedule_plan *plan) {
    size_t row = ((size_t)plan->count + 7) / 8;
    unsigned char *follows = NEW(arena, unsigned char, row *(size_t)plan->count);
    for (int n = plan->count - 1; n >= 0; n--) {
        int i = plan->order[n];
        unsigned char *mine = &follows[(size_t)i * row];
        for (int k = plan->from_first[i]; k < plan->from_first[i + 1]; k++) {
            int after = plan->ties[plan->from[k]].after;
            for (size_t byte = 0; byte < row; byte++)
                mine[byte] |= follows[(size_t)after * row + byte];
            mine[after / 8] |= (unsigned char)(1 << after % 8);
        }
    }
    return follows;
}

/* Moves the heads behind what they follow. */
static void push_heads(const struct schedule_plan *plan, struct slot *head) {
    for (int n = 0; n < plan->count; n++) {
        int i = plan->order[n];
        int64_t earliest = head[i].start;
        for (int k = plan->into_first[i]; k < plan->into_first[i + 1]; k++) {
            const struct tie *tie = &plan->ties[plan->into[k]];
            int64_t end = tie_end(tie, &head[tie->before]);
            if (end > earliest) earliest = end;
        }
        if (earliest > head[i].start) head[i] = slot_from(plan, i, earliest);
    }
}

/* Moves heads that lie too far before a latest time; returns one whose latest time did that, or
 * -1. */
static int pull_heads(const struct schedule_plan *plan, struct slot *head) {
    int late = -1;
    for (int n = plan->count - 1; n >= 0; n--) {
        int i = plan->order[n];
        for (int k = plan->from_first[i]; k < plan->from_first[i + 1]; k++) {
            const struct tie *tie = &plan->ties[plan->from[k]];
            if (tie->within < 0) continue;
            int64_t due = head[tie->after].start - tie->within;
            if (head[i].work_end >= due) continue;
            head[i] = slot_ending_from(plan, i, due);
            late = tie->after;
        }
    }
    return late;
}

/* The earliest places by links, windows and hours; returns an activity whose latest time pushes
 * another beyond the horizon, or -1.  Giving up early leaves heads too early, which is safe. */
static int find_heads(const struct schedule_plan *plan, struct slot *head) {
    enum { ROUNDS = 2000 };
    for (int i = 0; i < plan->count; i++) head[i] = slot_from(plan, i, 0);
    for (int round = 0; round < ROUNDS; round++) {
        push_heads(plan, head);
        int late = plan->windows ? pull_heads(plan, head) : -1;
        if (late < 0) return -1;
        if (schedule_makespan(head, plan->count) > plan->horizon) return late;
    }
    return -1;
}

/* Groups and orders the ties; false when they form a loop. */
static bool arrange_ties(struct arena *arena, struct schedule_plan *plan) {
    plan->into = group_ties(arena, plan, true, &plan->into_first);
    plan->from = group_ties(arena, plan, false, &plan->from_first);
    plan->order = order_of(arena, plan);
    if (!plan->order) return false;
    plan->follows = followers_of(arena, plan);
    return true;
}

const struct schedule_plan *schedule_plan_of(struct arena *arena, const struct project *project,
                                             int *culprit) {
    struct schedule_plan *plan = NEW(arena, struct schedule_plan, 1);
    plan->project = project;
    plan->count = project->count;
    for (int r = 0; r < project->resources; r++) {
        int all = MOST_DEMAND * MOST_ACTIVITIES; /* more is never used */
        plan->capacity[r] = project->capacity[r] < all ? project->capacity[r] : all;
    }
    *culprit = find_misfit(project, &plan->horizon);
    if (*culprit >= 0) return NULL;

    copy_links(arena, plan);
    if (!arrange_ties(arena, plan)) {
        *culprit = find_loop(arena, plan);
        return NULL;
    }
    if (schedule_tie_twins(arena, plan) > 0) arrange_ties(arena, plan);
    struct slot *head = NEW(arena, struct slot, plan->count);
    plan->head = head;
    *culprit = find_heads(plan, head);
    return *culprit < 0 ? plan : NULL;
}

void schedule_tails(const struct schedule_plan *plan, int64_t deadline, struct slot *tail) {
    for (int n = plan->count - 1; n >= 0; n--) {
        int i = plan->order[n];
        int64_t wait = plan->project->activities[i].wait, work_end = deadline - wait;
        for (int k = plan->from_first[i]; k < plan->from_first[i + 1]; k++) {
            const struct tie *tie = &plan->ties[plan->from[k]];
            int64_t due = tail[tie->after].start - (tie->by_work ? 0 : wait);
            if (due < work_end) work_end = due;
        }
        tail[i] = slot_ending_until(plan, i, work_end);
    }
}
