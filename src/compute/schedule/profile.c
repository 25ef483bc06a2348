#include "compute/schedule/inner.h"

/* Resource profiles: how much of a resource is used over time, in steps that each begin at time[k]
 * and last until the next; the first begins before everything, the last has no end. */

#include <string.h>

void profile_clear(struct profile *profile) {
    profile->time[0] = INT64_MIN;
    profile->used[0] = profile->kind[0] = 0;
    profile->count = 1;
}

/* The step that contains `tick`. */
static int step_at(const struct profile *profile, int64_t tick) {
    int low = 0, high = profile->count;
    while (high - low > 1) {
        int middle = low + (high - low) / 2;
        if (profile->time[middle] <= tick)
            low = middle;
        else
            high = middle;
    }
    return low;
}

static void move_steps(struct profile *profile, int from, int to) {
    size_t moved = (size_t)(profile->count - from);
    memmove(&profile->time[to], &profile->time[from], moved * sizeof *profile->time);
    memmove(&profile->used[to], &profile->used[from], moved * sizeof *profile->used);
    memmove(&profile->kind[to], &profile->kind[from], moved * sizeof *profile->kind);
    profile->count += to - from;
}

/* The step that begins at `tick`, made by splitting one where there was none. */
static int split_at(struct profile *profile, int64_t tick) {
    int k = step_at(profile, tick);
    if (profile->time[k] == tick) return k;
    move_steps(profile, k, k + 1);
    profile->time[k + 1] = tick;
    return k + 1;
}

static void join_at(struct profile *profile, int k) {
    bool same = k > 0 && profile->used[k] == profile->used[k - 1] &&
                profile->kind[k] == profile->kind[k - 1];
    if (same) move_steps(profile, k + 1, k);
}

void profile_add(struct profile *profile, int64_t from, int64_t to, int amount, int kind) {
    if (from >= to || amount == 0) return;
    int begin = split_at(profile, from), end = split_at(profile, to);
    for (int k = begin; k < end; k++) {
        profile->used[k] += amount;
        profile->kind[k] = profile->one_kind && profile->used[k] > 0 ? kind : 0;
    }
    join_at(profile, end);
    join_at(profile, begin);
}

static bool step_free(const struct profile *profile, int k, int amount, int kind) {
    if (profile->used[k] == 0) return true; /* no demand is above the capacity */
    if (profile->one_kind && profile->kind[k] != kind) return false;
    return profile->used[k] <= profile->capacity - amount;
}

bool profile_blocked(struct profile *profile, int64_t from, int64_t to, int amount, int kind,
                     int64_t *block_from, int64_t *block_to) {
    if (from >= to || amount == 0) return false;
    int first = step_at(profile, from), k = first;
    while (k < profile->count && profile->time[k] < to && step_free(profile, k, amount, kind)) k++;
    bool blocked = k < profile->count && profile->time[k] < to;
    int last = k;
    while (blocked && !step_free(profile, last, amount, kind))
        last++; /* the endless last step is free */
    profile->passed += last - first;
    if (!blocked) return false;
    *block_from = profile->time[k];
    *block_to = profile->time[last];
    return true;
}
