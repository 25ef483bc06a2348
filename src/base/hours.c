#include "base/hours.h"

static const int64_t FOREVER = INT64_MAX / 4;

/* One period of the calendar: number `index` of the cycle that begins at tick `base`. */
struct place {
    int index;
    int64_t base;
};

static int64_t cycle_begin(const struct hours *hours, int64_t tick) {
    int64_t inside = (tick + hours->origin) % hours->cycle;
    return tick - (inside < 0 ? inside + hours->cycle : inside);
}

static struct place place_after(const struct hours *hours, struct place p) {
    if (p.index + 1 < hours->count) return (struct place){p.index + 1, p.base};
    return (struct place){0, p.base + hours->cycle};
}

static struct place place_before(const struct hours *hours, struct place p) {
    if (p.index > 0) return (struct place){p.index - 1, p.base};
    return (struct place){hours->count - 1, p.base - hours->cycle};
}

static struct period period_at(const struct hours *hours, struct place p) {
    const struct period *period = &hours->period[p.index];
    return (struct period){p.base + period->from, p.base + period->to};
}

/* The opening that begins with the period at `p`, with all that touches its end. */
static struct period joined_ahead(const struct hours *hours, struct place p) {
    struct period whole = period_at(hours, p);
    for (int n = 0; n < hours->count; n++) {
        p = place_after(hours, p);
        struct period next = period_at(hours, p);
        if (next.from != whole.to) return whole;
        whole.to = next.to;
    }
    whole.to = FOREVER;
    return whole;
}

/* The opening that ends with the period at `p`, with all that touches its beginning. */
static struct period joined_behind(const struct hours *hours, struct place p) {
    struct period whole = period_at(hours, p);
    for (int n = 0; n < hours->count; n++) {
        p = place_before(hours, p);
        struct period last = period_at(hours, p);
        if (last.to != whole.from) return whole;
        whole.from = last.from;
    }
    whole.from = -FOREVER;
    return whole;
}

bool hours_room_from(const struct hours *hours, int64_t earliest, int64_t length,
                     struct period *room) {
    *room = (struct period){earliest, FOREVER};
    if (hours->count == 0) return true;
    struct place p = {0, cycle_begin(hours, earliest)};
    while (p.index < hours->count - 1 && period_at(hours, p).to < earliest) p.index++;
    for (int n = 0; n <= hours->count + 1; n++, p = place_after(hours, p)) {
        *room = joined_ahead(hours, p);
        if (room->from < earliest) room->from = earliest;
        if (room->to - room->from >= length) return true;
    }
    return false;
}

bool hours_room_until(const struct hours *hours, int64_t latest, int64_t length,
                      struct period *room) {
    *room = (struct period){-FOREVER, latest};
    if (hours->count == 0) return true;
    struct place p = {hours->count - 1, cycle_begin(hours, latest)};
    while (p.index > 0 && period_at(hours, p).from > latest) p.index--;
    for (int n = 0; n <= hours->count + 1; n++, p = place_before(hours, p)) {
        *room = joined_behind(hours, p);
        if (room->to > latest) room->to = latest;
        if (room->to - room->from >= length) return true;
    }
    return false;
}

int64_t hours_longest(const struct hours *hours) {
    int64_t longest = 0;
    for (int k = 0; k < hours->count; k++) {
        struct period opening = joined_ahead(hours, (struct place){k, 0});
        int64_t length = opening.to - opening.from;
        if (length > longest) longest = length;
    }
    return longest < hours->cycle ? longest : hours->cycle;
}

int64_t hours_open_until(const struct hours *hours, int64_t tick) {
    int64_t base = cycle_begin(hours, tick), in_cycle = 0, open = 0;
    for (int k = 0; k < hours->count; k++) {
        struct period p = period_at(hours, (struct place){k, base});
        in_cycle += p.to - p.from;
        if (tick > p.from) open += (tick < p.to ? tick : p.to) - p.from;
    }
    return (base + hours->origin) / hours->cycle * in_cycle + open;
}

struct period hours_period_after(const struct hours *hours, int64_t tick) {
    struct place p = {0, cycle_begin(hours, tick)};
    while (period_at(hours, p).to <= tick) p = place_after(hours, p);
    return period_at(hours, p);
}
