#include "compute/schedule/inner.h"

/* Loads of a run are alike: the same coats in the same order between the same steps.  Two such
 * threads of activities can change places in any schedule, so it loses nothing to start the one
 * with the lower numbers first.  Without that, a proof would go through every order of the loads.
 *
 * A thread is what follows its head and nothing else of its kind: it ends where threads join.  Two
 * threads are twins when an exchange of the one for the other leaves the project as it is.  Of all
 * schedules that exchanges make of a shortest one, take that with the earliest starts in the plan's
 * order: in it the first head of any twins starts first.  Where heads cannot be in work at once,
 * that is a tie like any other.
 */

#include <string.h>

/* An attempt to exchange two threads. */
struct exchange {
    const struct schedule_plan *plan;
    int *image; /* of each activity: what takes its place in the exchange, or itself */
    int *from, *to;
    int count; /* pairs of activities that change places */
};

static bool same_activity(const struct schedule_plan *plan, int i, int j) {
    const struct activity *a = &plan->project->activities[i], *b = &plan->project->activities[j];
    bool same = a->first == b->first && a->each == b->each && a->pieces == b->pieces &&
                a->wait == b->wait && a->in_hours == b->in_hours;
    for (int r = 0; same && r < plan->project->resources; r++)
        same = a->work[r] == b->work[r] && a->rest[r] == b->rest[r];
    return same;
}

static int ties_into(const struct schedule_plan *plan, int i) {
    return plan->into_first[i + 1] - plan->into_first[i];
}

static int ties_from(const struct schedule_plan *plan, int i) {
    return plan->from_first[i + 1] - plan->from_first[i];
}

static bool alike(const struct schedule_plan *plan, int i, int j) {
    return same_activity(plan, i, j) && ties_into(plan, i) == ties_into(plan, j) &&
           ties_from(plan, i) == ties_from(plan, j);
}

static bool tied(const struct schedule_plan *plan, int before, int after, int64_t within) {
    for (int k = plan->from_first[before]; k < plan->from_first[before + 1]; k++) {
        const struct tie *tie = &plan->ties[plan->from[k]];
        if (tie->after == after && tie->within == within && !tie->by_work) return true;
    }
    return false;
}

static bool follows_at_once(const struct schedule_plan *plan, int before, int after) {
    for (int k = plan->from_first[before]; k < plan->from_first[before + 1]; k++)
        if (plan->ties[plan->from[k]].after == after) return true;
    return false;
}

static void pair_up(struct exchange *e, int i, int j) {
    e->image[i] = j;
    e->image[j] = i;
    e->from[e->count] = i;
    e->to[e->count++] = j;
}

/* Pairs what follows `i` with what follows `j`, but for what follows both; false where something
 * has no counterpart. */
static bool pair_followers(struct exchange *e, int i, int j) {
    const struct schedule_plan *plan = e->plan;
    for (int k = plan->from_first[i]; k < plan->from_first[i + 1]; k++) {
        int next = plan->ties[plan->from[k]].after, found = -1;
        if (e->image[next] != next || follows_at_once(plan, j, next)) continue;
        for (int m = plan->from_first[j]; m < plan->from_first[j + 1] && found < 0; m++) {
            int other = plan->ties[plan->from[m]].after;
            if (e->image[other] == other && other != next && alike(plan, next, other) &&
                !follows_at_once(plan, i, other))
                found = other;
        }
        if (found < 0) return false;
        pair_up(e, next, found);
    }
    return true;
}

/* Does the exchange map every tie of activity `i` to a tie? */
static bool ties_kept(const struct exchange *e, int i) {
    const struct schedule_plan *plan = e->plan;
    for (int k = plan->into_first[i]; k < plan->into_first[i + 1]; k++) {
        const struct tie *tie = &plan->ties[plan->into[k]];
        if (!tied(plan, e->image[tie->before], e->image[i], tie->within)) return false;
    }
    for (int k = plan->from_first[i]; k < plan->from_first[i + 1]; k++) {
        const struct tie *tie = &plan->ties[plan->from[k]];
        if (!tied(plan, e->image[i], e->image[tie->after], tie->within)) return false;
    }
    return true;
}

static void undo(struct exchange *e) {
    while (e->count > 0) {
        e->count--;
        e->image[e->from[e->count]] = e->from[e->count];
        e->image[e->to[e->count]] = e->to[e->count];
    }
}

static bool are_twins(struct exchange *e, int i, int j) {
    bool twins = true;
    pair_up(e, i, j);
    for (int k = 0; twins && k < e->count; k++) twins = pair_followers(e, e->from[k], e->to[k]);
    for (int k = 0; twins && k < e->count; k++)
        twins = ties_kept(e, e->from[k]) && ties_kept(e, e->to[k]);
    undo(e);
    return twins;
}

/* Can two activities like this one not be in work at once; nor one in work while the other waits?
 */
static bool exclusive(const struct schedule_plan *plan, int i, bool *in_wait) {
    const struct activity *a = &plan->project->activities[i];
    bool in_work = false;
    *in_wait = false;
    for (int r = 0; r < plan->project->resources; r++) {
        if (work_length(a) > 0 && 2 * a->work[r] > plan->capacity[r]) in_work = true;
        if (work_length(a) > 0 && a->wait > 0 && a->work[r] + a->rest[r] > plan->capacity[r])
            *in_wait = true;
    }
    return in_work;
}

/* The next activity, in the plan's order from place `n`, that could change places with `i`; or -1.
 */
static int next_twin(struct exchange *e, int i, int n) {
    enum { MOST_ATTEMPTS = 8, MOST_TIES = 128 };
    const struct schedule_plan *plan = e->plan;
    if (ties_into(plan, i) > MOST_TIES || ties_from(plan, i) > MOST_TIES) return -1;
    for (int attempts = 0; n < plan->count && attempts < MOST_ATTEMPTS; n++) {
        int j = plan->order[n];
        if (!alike(plan, i, j) || schedule_follows(plan, i, j)) continue;
        if (are_twins(e, i, j)) return j;
        attempts++;
    }
    return -1;
}

int schedule_tie_twins(struct arena *arena, struct schedule_plan *plan) {
    int count = plan->count, added = 0;
    struct exchange e = {plan, NEW(arena, int, count), NEW(arena, int, count),
                         NEW(arena, int, count), 0};
    for (int i = 0; i < count; i++) e.image[i] = i;
    for (int n = 0; n < count; n++) {
        int i = plan->order[n];
        bool in_wait;
        if (!exclusive(plan, i, &in_wait)) continue;
        int twin = next_twin(&e, i, n + 1);
        if (twin >= 0) plan->ties[plan->tie_count + added++] = (struct tie){i, twin, -1, !in_wait};
    }
    plan->tie_count += added;
    return added;
}
