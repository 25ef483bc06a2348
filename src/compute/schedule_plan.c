#include "compute/schedule_inner.h"

#include "compute/critical.h"

/* A project made ready for scheduling, or found impossible: limits of size, demands above their
 * capacity, pieces that fit no opening, loops, latest times that links and hours alone rule out.
 *
 * The horizon: in a schedule without needless gaps, some work or wait is in progress at all times
 * but for gaps of at most one cycle of the hours (over a longer one, all that lies behind it could
 * move a whole cycle earlier).  So the sum over all activities of the longest that each can last,
 * and a cycle, is enough for a shortest schedule, if there is any schedule.
 */

/* Far beyond any workshop, and small enough that no sum overflows. */
static const int64_t LONGEST = INT64_C(1) << 40;
enum { MOST_PIECES = 1 << 16, MOST_ACTIVITIES = 1 << 14 };

static bool within_limits(const struct project *project, const struct activity *a) {
    if (a->first < 0 || a->first > LONGEST || a->each < 0 || a->each > LONGEST) return false;
    if (a->wait < 0 || a->wait > LONGEST || a->pieces < 0 || a->pieces > MOST_PIECES) return false;
    if (work_length(a) > LONGEST || project->hours.cycle > LONGEST / MOST_PIECES) return false;
    for (int r = 0; r < project->resources; r++)
        if (a->work[r] > project->capacity[r] || a->rest[r] > project->capacity[r]) return false;
    return true;
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
    }
    return -1;
}

/* Links without windows that the horizon makes pointless, as rows of their ends. */
static void copy_links(struct arena *arena, struct plan *plan) {
    const struct project *project = plan->project;
    struct activity_link *links = NEW(arena, struct activity_link, project->link_count);
    for (int k = 0; k < project->link_count; k++) {
        links[k] = project->links[k];
        if (links[k].within >= plan->horizon) links[k].within = -1;
        if (links[k].within >= 0) plan->windows = true;
    }
    plan->links = links;
}

static const int *group_links(struct arena *arena, const struct plan *plan, bool by_after,
                              const int **first_of) {
    int *first = NEW(arena, int, plan->count + 1);
    int *grouped = NEW(arena, int, plan->project->link_count);
    int *next = NEW(arena, int, plan->count);
    for (int k = 0; k < plan->project->link_count; k++)
        first[(by_after ? plan->links[k].after : plan->links[k].before) + 1]++;
    for (int i = 0; i < plan->count; i++) first[i + 1] += first[i];
    for (int i = 0; i < plan->count; i++) next[i] = first[i];
    for (int k = 0; k < plan->project->link_count; k++)
        grouped[next[by_after ? plan->links[k].after : plan->links[k].before]++] = k;
    *first_of = first;
    return grouped;
}

static const int *order_of(struct arena *arena, const struct plan *plan) {
    int link_count = plan->project->link_count;
    struct critical_link *links = NEW(arena, struct critical_link, link_count);
    for (int k = 0; k < link_count; k++)
        links[k] = (struct critical_link){plan->links[k].before, plan->links[k].after};
    return critical_order(arena, plan->count, links, link_count);
}

/* An activity on a loop: what is left when all that nothing alive precedes has been struck out. */
static int find_loop(struct arena *arena, const struct plan *plan) {
    int *struck = NEW(arena, int, plan->count);
    for (bool changed = true; changed;) {
        changed = false;
        for (int i = 0; i < plan->count; i++) {
            int before = 0, after = 0;
            for (int k = plan->into_first[i]; k < plan->into_first[i + 1]; k++)
                before += !struck[plan->links[plan->into[k]].before];
            for (int k = plan->from_first[i]; k < plan->from_first[i + 1]; k++)
                after += !struck[plan->links[plan->from[k]].after];
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
static const unsigned char *followers_of(struct arena *arena, const struct plan *plan) {
    size_t row = ((size_t)plan->count + 7) / 8;
    unsigned char *follows = NEW(arena, unsigned char, row * (size_t)plan->count);
    for (int n = plan->count - 1; n >= 0; n--) {
        int i = plan->order[n];
        unsigned char *mine = &follows[(size_t)i * row];
        for (int k = plan->from_first[i]; k < plan->from_first[i + 1]; k++) {
            int after = plan->links[plan->from[k]].after;
            for (size_t byte = 0; byte < row; byte++)
                mine[byte] |= follows[(size_t)after * row + byte];
            mine[after / 8] |= (unsigned char)(1 << after % 8);
        }
    }
    return follows;
}

/* Moves the heads behind what they follow; true when one has moved. */
static bool push_heads(const struct plan *plan, struct slot *head) {
    bool moved = false;
    for (int n = 0; n < plan->count; n++) {
        int i = plan->order[n];
        int64_t earliest = head[i].start;
        for (int k = plan->into_first[i]; k < plan->into_first[i + 1]; k++) {
            int64_t end = head[plan->links[plan->into[k]].before].end;
            if (end > earliest) earliest = end;
        }
        if (earliest == head[i].start) continue;
        head[i] = slot_from(plan, i, earliest);
        moved = true;
    }
    return moved;
}

/* Moves heads that lie too far before a latest time; true when one has moved. */
static bool pull_heads(const struct plan *plan, struct slot *head) {
    bool moved = false;
    for (int n = plan->count - 1; n >= 0; n--) {
        int i = plan->order[n];
        for (int k = plan->from_first[i]; k < plan->from_first[i + 1]; k++) {
            const struct activity_link *link = &plan->links[plan->from[k]];
            if (link->within < 0) continue;
            int64_t due = head[link->after].start - link->within;
            if (head[i].work_end >= due) continue;
            head[i] = slot_ending_from(plan, i, due);
            moved = true;
        }
    }
    return moved;
}

/* The earliest places by links, windows and hours; returns an activity that is pushed beyond the
 * horizon, or -1.  Giving up early only leaves the heads too early, which is safe. */
static int find_heads(const struct plan *plan, struct slot *head) {
    enum { ROUNDS = 2000 };
    for (int i = 0; i < plan->count; i++) head[i] = slot_from(plan, i, 0);
    for (int round = 0; round < ROUNDS; round++) {
        bool moved = push_heads(plan, head);
        if (plan->windows && pull_heads(plan, head)) moved = true;
        if (!moved) return -1;
        for (int i = 0; i < plan->count; i++)
            if (head[i].start > plan->horizon) return i;
    }
    return -1;
}

const struct plan *schedule_plan_of(struct arena *arena, const struct project *project, int *culprit) {
    struct plan *plan = NEW(arena, struct plan, 1);
    plan->project = project;
    plan->count = project->count;
    *culprit = find_misfit(project, &plan->horizon);
    if (*culprit >= 0) return NULL;

    copy_links(arena, plan);
    plan->into = group_links(arena, plan, true, &plan->into_first);
    plan->from = group_links(arena, plan, false, &plan->from_first);
    plan->order = order_of(arena, plan);
    if (!plan->order) {
        *culprit = find_loop(arena, plan);
        return NULL;
    }
    plan->follows = followers_of(arena, plan);
    struct slot *head = NEW(arena, struct slot, plan->count);
    plan->head = head;
    *culprit = find_heads(plan, head);
    return *culprit < 0 ? plan : NULL;
}

void plan_tails(const struct plan *plan, int64_t deadline, struct slot *tail) {
    for (int n = plan->count - 1; n >= 0; n--) {
        int i = plan->order[n];
        int64_t latest = deadline;
        for (int k = plan->from_first[i]; k < plan->from_first[i + 1]; k++) {
            int64_t start = tail[plan->links[plan->from[k]].after].start;
            if (start < latest) latest = start;
        }
        tail[i] = slot_ending_until(plan, i, latest - plan->project->activities[i].wait);
    }
}
