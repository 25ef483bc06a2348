#include "compute/schedule/inner.h"

/* Symmetry breaking.  Loads of a run are alike: the same coats in the same order between the same
 * steps.  Two such threads of activities can change places in any schedule, so it loses nothing to
 * start the one with the lower numbers first.  Without that, a proof would go through every order
 * of the loads.
 *
 * A thread is what follows its head and nothing else of its kind: it ends where threads join.  Two
 * threads are twins when an exchange of the one for the other leaves the project as it is: an
 * automorphism of it.  Of all schedules that exchanges make of a shortest one, take that with the
 * earliest starts in the instance's order, the lexicographic leader (Crawford, Ginsberg, Luks and
 * Roy, Principles of Knowledge Representation and Reasoning 1996, 148-159): in it the first head of
 * any twins starts first.  Where heads cannot be in work at once, that is an arc like any other.
 */

#include <string.h>

/* An attempt to exchange two threads. */
struct exchange {
    const struct instance *instance;
    int *image; /* of each activity: what takes its place in the exchange, or itself */
    int *from, *to;
    int count;    /* pairs of activities that change places */
    int round;    /* of pairing what follows two activities */
    int *follows; /* of each activity: the last round in which it followed the first of the two, */
    int *follows_other; /* and the last in which it followed the second */
};

static bool same_activity(const struct instance *instance, int i, int j) {
    const struct activity *a = &instance->project->activities[i],
                          *b = &instance->project->activities[j];
    bool same = a->earliest == b->earliest && a->first == b->first && a->each == b->each &&
                a->pieces == b->pieces && a->wait == b->wait && a->in_hours == b->in_hours &&
                a->kind == b->kind && a->setup == b->setup && a->job == b->job;
    for (int r = 0; same && r < instance->project->resources; r++)
        same = a->work[r] == b->work[r] && a->rest[r] == b->rest[r];
    return same;
}

static int arcs_into(const struct instance *instance, int i) {
    return instance->into_first[i + 1] - instance->into_first[i];
}

static int arcs_from(const struct instance *instance, int i) {
    return instance->from_first[i + 1] - instance->from_first[i];
}

static bool alike(const struct instance *instance, int i, int j) {
    return same_activity(instance, i, j) && arcs_into(instance, i) == arcs_into(instance, j) &&
           arcs_from(instance, i) == arcs_from(instance, j);
}

static bool linked(const struct instance *instance, int before, int after, int64_t within) {
    for (int k = instance->from_first[before]; k < instance->from_first[before + 1]; k++) {
        const struct arc *arc = &instance->arcs[instance->from[k]];
        if (arc->after == after && arc->within == within && !arc->by_work) return true;
    }
    return false;
}

static void mark_followers(const struct instance *instance, int i, int *follows, int round) {
    for (int k = instance->from_first[i]; k < instance->from_first[i + 1]; k++)
        follows[instance->arcs[instance->from[k]].after] = round;
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
    const struct instance *instance = e->instance;
    int round = ++e->round;
    mark_followers(instance, i, e->follows, round);
    mark_followers(instance, j, e->follows_other, round);
    for (int k = instance->from_first[i]; k < instance->from_first[i + 1]; k++) {
        int next = instance->arcs[instance->from[k]].after, found = -1;
        if (e->image[next] != next || e->follows_other[next] == round) continue;
        for (int m = instance->from_first[j]; m < instance->from_first[j + 1] && found < 0; m++) {
            int other = instance->arcs[instance->from[m]].after;
            if (e->image[other] == other && other != next && e->follows[other] != round &&
                alike(instance, next, other))
                found = other;
        }
        if (found < 0) return false;
        pair_up(e, next, found);
    }
    return true;
}

/* Does the exchange map every arc of activity `i` to an arc? */
static bool arcs_kept(const struct exchange *e, int i) {
    const struct instance *instance = e->instance;
    for (int k = instance->into_first[i]; k < instance->into_first[i + 1]; k++) {
        const struct arc *arc = &instance->arcs[instance->into[k]];
        if (!linked(instance, e->image[arc->before], e->image[i], arc->within)) return false;
    }
    for (int k = instance->from_first[i]; k < instance->from_first[i + 1]; k++) {
        const struct arc *arc = &instance->arcs[instance->from[k]];
        if (!linked(instance, e->image[i], e->image[arc->after], arc->within)) return false;
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
        twins = arcs_kept(e, e->from[k]) && arcs_kept(e, e->to[k]);
    undo(e);
    return twins;
}

/* Can two activities like this one not be in work at once; nor one in work while the other waits?
 */
static bool exclusive(const struct instance *instance, int i, bool *in_wait) {
    const struct activity *a = &instance->project->activities[i];
    bool in_work = false;
    *in_wait = false;
    for (int r = 0; r < instance->project->resources; r++) {
        if (work_length(a) > 0 && 2 * a->work[r] > instance->capacity[r]) in_work = true;
        if (work_length(a) > 0 && a->wait > 0 && a->work[r] + a->rest[r] > instance->capacity[r])
            *in_wait = true;
    }
    return in_work;
}

/* The next activity, in the instance's order from place `n`, that could change places with `i`; or
 * -1.
 */
static int next_twin(struct exchange *e, int i, int n) {
    enum { MOST_ATTEMPTS = 8, MOST_ARCS = 128 };
    const struct instance *instance = e->instance;
    if (arcs_into(instance, i) > MOST_ARCS || arcs_from(instance, i) > MOST_ARCS) return -1;
    for (int attempts = 0; n < instance->count && attempts < MOST_ATTEMPTS; n++) {
        int j = instance->order[n];
        if (!alike(instance, i, j) || instance_follows(instance, i, j)) continue;
        if (are_twins(e, i, j)) return j;
        attempts++;
    }
    return -1;
}

int symmetry_break(struct arena *arena, struct instance *instance) {
    int count = instance->count, added = 0;
    struct exchange e = {.instance = instance,
                         .image = NEW(arena, int, count),
                         .from = NEW(arena, int, count),
                         .to = NEW(arena, int, count),
                         .follows = NEW(arena, int, count),
                         .follows_other = NEW(arena, int, count)};
    for (int i = 0; i < count; i++) e.image[i] = i;
    for (int n = 0; n < count; n++) {
        int i = instance->order[n];
        bool in_wait;
        if (!exclusive(instance, i, &in_wait)) continue;
        int twin = next_twin(&e, i, n + 1);
        if (twin >= 0)
            instance->arcs[instance->arc_count + added++] = (struct arc){i, twin, -1, !in_wait};
    }
    instance->arc_count += added;
    return added;
}
