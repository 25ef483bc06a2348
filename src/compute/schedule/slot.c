#include "compute/schedule/inner.h"

/* Where an activity's work can lie in the opening hours (the calendar): its pieces follow each
 * other as early as an opening has room for the next one.  So a later start never ends earlier:
 * start and end are monotone functions of each other, which is all that the scheduler needs to know
 * about a calendar.  (Project scheduling with calendars: Franck, Neumann and Schwindt, OR Spektrum
 * 23, 2001, 325-334; from memory.  There an activity that is interrupted counts as one.)
 */

static bool bound_to_hours(const struct hours *hours, const struct activity *activity) {
    return activity->in_hours && activity->pieces > 0 && hours->count > 0;
}

static int64_t pieces_that_fit(int64_t room, int64_t each, int64_t left) {
    return each > 0 && room / each < left ? room / each : left;
}

static struct slot slot_of(const struct activity *activity, int64_t start, int64_t work_end) {
    return (struct slot){start, work_end, work_end + activity->wait};
}

bool slot_fit(const struct hours *hours, const struct activity *activity, int64_t earliest,
              struct slot *slot) {
    *slot = slot_of(activity, earliest, earliest + work_length(activity));
    if (!bound_to_hours(hours, activity)) return true;

    struct period room;
    if (!hours_room_from(hours, earliest, activity->first, &room)) return false;
    int64_t start = room.from, work_end = room.from + activity->first;
    int64_t left = activity->pieces - 1;
    while (left > 0) {
        int64_t now = pieces_that_fit(room.to - work_end, activity->each, left);
        work_end += now * activity->each;
        left -= now;
        if (left == 0) break;
        if (!hours_room_from(hours, work_end, activity->each, &room)) return false;
        work_end = room.from;
    }
    *slot = slot_of(activity, start, work_end);
    return true;
}

/* The latest start whose work ends by `latest`: the pieces laid from the last to the first. */
static bool latest_fit(const struct hours *hours, const struct activity *activity, int64_t latest,
                       int64_t *start) {
    *start = latest - work_length(activity);
    if (!bound_to_hours(hours, activity)) return true;

    struct period room = {latest, latest};
    int64_t begin = latest, left = activity->pieces - 1;
    while (left > 0) {
        if (!hours_room_until(hours, begin, activity->each, &room)) return false;
        int64_t now = pieces_that_fit(room.to - room.from, activity->each, left);
        begin = room.to - now * activity->each;
        left -= now;
    }
    if (!hours_room_until(hours, begin, activity->first, &room)) return false;
    *start = room.to - activity->first;
    return true;
}

struct slot slot_from(const struct instance *instance, int i, int64_t tick) {
    struct slot slot;
    slot_fit(&instance->project->hours, &instance->project->activities[i], tick, &slot);
    return slot;
}

bool slot_following_on(const struct instance *instance, int i, int64_t tick, struct slot *slot) {
    struct activity activity = instance->project->activities[i];
    activity.first -= activity.setup;
    return slot_fit(&instance->project->hours, &activity, tick, slot) && slot->start == tick;
}

struct slot slot_until(const struct instance *instance, int i, int64_t tick) {
    const struct hours *hours = &instance->project->hours;
    const struct activity *activity = &instance->project->activities[i];
    struct period room;
    if (bound_to_hours(hours, activity) &&
        hours_room_until(hours, tick + activity->first, activity->first, &room))
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
