#include "compute/schedule/inner.h"

/* Opening hours: where the pieces of an activity's work can lie.
 *
 * Periods that touch (18:00-24:00 and 00:00-02:00 of the next day) are one opening, also across the
 * cycle's end.  The pieces of one activity follow each other as early as an opening has room for
 * the next one.  So a later start never ends earlier: start and end are monotone functions of each
 * other, which is all that the scheduler needs to know about a calendar.
 */

static const int64_t FOREVER = INT64_MAX / 4;

struct opening {
    int64_t from, to;
};

/* One period of the calendar: number `index` of the cycle that begins at tick `base`. */
struct period {
    int index;
    int64_t base;
};

static int64_t cycle_begin(const struct opening_hours *hours, int64_t tick) {
    int64_t inside = (tick + hours->origin) % hours->cycle;
    return tick - (inside < 0 ? inside + hours->cycle : inside);
}

static struct period next_period(const struct opening_hours *hours, struct period p) {
    if (p.index + 1 < hours->count) return (struct period){p.index + 1, p.base};
    return (struct period){0, p.base + hours->cycle};
}

static struct period period_before(const struct opening_hours *hours, struct period p) {
    if (p.index > 0) return (struct period){p.index - 1, p.base};
    return (struct period){hours->count - 1, p.base - hours->cycle};
}

static struct opening opening_of(const struct opening_hours *hours, struct period p) {
    return (struct opening){p.base + hours->from[p.index], p.base + hours->to[p.index]};
}

/* The opening that begins with period `p`, with all that touches its end. */
static struct opening joined_ahead(const struct opening_hours *hours, struct period p) {
    struct opening whole = opening_of(hours, p);
    for (int n = 0; n < hours->count; n++) {
        p = next_period(hours, p);
        struct opening next = opening_of(hours, p);
        if (next.from != whole.to) return whole;
        whole.to = next.to;
    }
    whole.to = FOREVER;
    return whole;
}

/* The opening that ends with period `p`, with all that touches its beginning. */
static struct opening joined_behind(const struct opening_hours *hours, struct period p) {
    struct opening whole = opening_of(hours, p);
    for (int n = 0; n < hours->count; n++) {
        p = period_before(hours, p);
        struct opening last = opening_of(hours, p);
        if (last.to != whole.from) return whole;
        whole.from = last.from;
    }
    whole.from = -FOREVER;
    return whole;
}

/* The first place of `length` ticks in one opening at `earliest` or later. */
static bool room_after(const struct opening_hours *hours, int64_t earliest, int64_t length,
                       struct opening *room) {
    struct period p = {0, cycle_begin(hours, earliest)};
    while (p.index < hours->count - 1 && p.base + hours->to[p.index] < earliest) p.index++;
    for (int n = 0; n <= hours->count + 1; n++, p = next_period(hours, p)) {
        *room = joined_ahead(hours, p);
        if (room->from < earliest) room->from = earliest;
        if (room->to - room->from >= length) return true;
    }
    return false;
}

/* The last place of `length` ticks in one opening that ends at `latest` or earlier. */
static bool room_before(const struct opening_hours *hours, int64_t latest, int64_t length,
                        struct opening *room) {
    struct period p = {hours->count - 1, cycle_begin(hours, latest)};
    while (p.index > 0 && p.base + hours->from[p.index] > latest) p.index--;
    for (int n = 0; n <= hours->count + 1; n++, p = period_before(hours, p)) {
        *room = joined_behind(hours, p);
        if (room->to > latest) room->to = latest;
        if (room->to - room->from >= length) return true;
    }
    return false;
}

static bool bound_to_hours(const struct opening_hours *hours, const struct activity *activity) {
    return activity->in_hours && activity->pieces > 0 && hours->count > 0;
}

static int64_t pieces_that_fit(int64_t room, int64_t each, int64_t left) {
    return each > 0 && room / each < left ? room / each : left;
}

bool hours_fit(const struct opening_hours *hours, const struct activity *activity, int64_t earliest,
               int64_t *start, int64_t *work_end) {
    *start = earliest;
    *work_end = earliest + work_length(activity);
    if (!bound_to_hours(hours, activity)) return true;

    struct opening room;
    if (!room_after(hours, earliest, activity->first, &room)) return false;
    *start = room.from;
    *work_end = room.from + activity->first;
    int64_t left = activity->pieces - 1;
    while (left > 0) {
        int64_t now = pieces_that_fit(room.to - *work_end, activity->each, left);
        *work_end += now * activity->each;
        left -= now;
        if (left == 0) break;
        if (!room_after(hours, *work_end, activity->each, &room)) return false;
        *work_end = room.from;
    }
    return true;
}

/* The latest start whose work ends by `latest`: the pieces laid from the last to the first. */
static bool latest_fit(const struct opening_hours *hours, const struct activity *activity,
                       int64_t latest, int64_t *start) {
    *start = latest - work_length(activity);
    if (!bound_to_hours(hours, activity)) return true;

    struct opening room = {latest, latest};
    int64_t begin = latest, left = activity->pieces - 1;
    while (left > 0) {
        if (!room_before(hours, begin, activity->each, &room)) return false;
        int64_t now = pieces_that_fit(room.to - room.from, activity->each, left);
        begin = room.to - now * activity->each;
        left -= now;
    }
    if (!room_before(hours, begin, activity->first, &room)) return false;
    *start = room.to - activity->first;
    return true;
}

int64_t hours_open_until(const struct opening_hours *hours, int64_t tick) {
    int64_t base = cycle_begin(hours, tick), in_cycle = 0, open = 0;
    for (int k = 0; k < hours->count; k++) {
        int64_t from = base + hours->from[k], to = base + hours->to[k];
        in_cycle += to - from;
        if (tick > from) open += (tick < to ? tick : to) - from;
    }
    return (base + hours->origin) / hours->cycle * in_cycle + open;
}

static struct slot slot_at(const struct instance *instance, int i, int64_t start,
                           int64_t work_end) {
    return (struct slot){start, work_end, work_end + instance->project->activities[i].wait};
}

struct slot slot_from(const struct instance *instance, int i, int64_t tick) {
    int64_t start = tick, work_end = tick;
    hours_fit(&instance->project->hours, &instance->project->activities[i], tick, &start,
              &work_end);
    return slot_at(instance, i, start, work_end);
}

struct slot slot_until(const struct instance *instance, int i, int64_t tick) {
    const struct opening_hours *hours = &instance->project->hours;
    const struct activity *activity = &instance->project->activities[i];
    struct opening room;
    if (bound_to_hours(hours, activity) &&
        room_before(hours, tick + activity->first, activity->first, &room))
        tick = room.to - activity->first;
    return slot_from(instance, i, tick);
}

struct slot slot_ending_until(const struct instance *instance, int i, int64_t tick) {
    int64_t start = tick;
    latest_fit(&instance->project->hours, &instance->project->activities[i], tick, &start);
    return slot_from(instance, i, start);
}

struct slot slot_ending_from(const struct instance *instance, int i, int64_t tick) {
    return slot_from(instance, i, slot_ending_until(instance, i, tick - 1).start + 1);
}
