#include "compute/schedule/inner.h"

/* Resource profiles: how much of a resource is used over time, in steps that each begin at time[k]
 * and last until the next; the first begins before everything, the last has no end. */

#include <string.h>

void profile_clear(struct profile *profile) {
    profile->time[0] = INT64_MIN;
    profile->used[0] = 0;
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
    if (k > 0 && profile->used[k] == profile->used[k - 1]) move_steps(profile, k + 1, k);
}

void profile_add(struct profile *profile, int64_t from, int64_t to, int amount) {
    if (from >= to || amount == 0) return;
    int begin = split_at(profile, from), end = split_at(profile, to);
    for (int k = begin; k < end; k++) profile->used[k] += amount;
    join_at(profile, end);
    join_at(profile, begin);
}

bool profile_blocked(struct profile *profile, int64_t from, int64_t to, int amount,
                     int64_t *block_from, int64_t *block_to) {
    if (from >= to || amount == 0) return false;
    int most = profile->capacity - amount;
    int first = step_at(profile, from), k = first;
    while (k < profile->count && profile->time[k] < to && profile->used[k] <= most) k++;
    bool blocked = k < profile->count && profile->time[k] < to;
    int last = k;
    while (blocked && profile->used[last] > most) last++; /* the endless last step is free */
    profile->passed += last - first;
    if (!blocked) return false;
    *block_from = profile->time[k];
    *block_to = profile->time[last];
    return true;
}
