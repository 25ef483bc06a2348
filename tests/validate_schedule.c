#include "validate_schedule.h"

/* --- opening hours --------------------------------------------------------------------------- */

/* Index of the period that contains `tick`, or -1. */
static int period_at(const struct hours *hours, int64_t tick) {
    int64_t inside = ((tick + hours->origin) % hours->cycle + hours->cycle) % hours->cycle;
    for (int k = 0; k < hours->count; k++)
        if (inside >= hours->period[k].from && inside < hours->period[k].to) return k;
    return -1;
}

static int64_t ticks_into_cycle(const struct hours *hours, int64_t tick) {
    return ((tick + hours->origin) % hours->cycle + hours->cycle) % hours->cycle;
}

/* The tick at or after `tick` at which the shop is open. */
static int64_t opens(const struct hours *hours, int64_t tick) {
    if (period_at(hours, tick) >= 0) return tick;
    int64_t inside = ticks_into_cycle(hours, tick), least = hours->cycle;
    for (int k = 0; k < hours->count; k++) {
        int64_t ahead = (hours->period[k].from - inside + hours->cycle) % hours->cycle;
        if (ahead < least) least = ahead;
    }
    return tick + least;
}

/* The tick after `tick` at which an open shop closes; two cycles later if it never does. */
static int64_t closes(const struct hours *hours, int64_t tick) {
    int64_t begin = tick;
    int k;
    while (tick - begin < 2 * hours->cycle && (k = period_at(hours, tick)) >= 0)
        tick += hours->period[k].to - ticks_into_cycle(hours, tick);
    return tick;
}

/* Where a piece of `length` begins that may begin at `tick`. */
static int64_t piece_begin(const struct hours *hours, int64_t tick, int64_t length) {
    int64_t last = tick + 2 * hours->cycle;
    for (tick = opens(hours, tick); closes(hours, tick) - tick < length && tick < last;)
        tick = opens(hours, closes(hours, tick));
    return tick;
}

bool validate_start(const struct project *project, int i, int64_t start, int64_t *work_end) {
    const struct activity *a = &project->activities[i];
    bool bound = a->in_hours && project->hours.count > 0;
    *work_end = start;
    for (int piece = 0; piece < a->pieces; piece++) {
        int64_t length = piece == 0 ? a->first : a->each;
        int64_t begin = bound ? piece_begin(&project->hours, *work_end, length) : *work_end;
        if (piece == 0 && begin != start) return false;
        *work_end = begin + length;
    }
    return true;
}

/* --- resources ------------------------------------------------------------------------------- */

static int use_at(const struct project *project, const int64_t *start, const int64_t *work_end,
                  const int64_t *end, int count, int resource, int64_t tick) {
    int use = 0;
    for (int i = 0; i < count; i++) {
        const struct activity *a = &project->activities[i];
        if (tick >= start[i] && tick < work_end[i]) use += a->work[resource];
        if (tick >= work_end[i] && tick < end[i]) use += a->rest[resource];
    }
    return use;
}

/* Whether a resource that holds one kind at a time holds two. */
static bool kinds_mix(const struct project *project, const int64_t *start, const int64_t *work_end,
                      const int64_t *end, int count, int resource, int64_t tick) {
    int kind = -1;
    for (int i = 0; project->one_kind[resource] && i < count; i++) {
        const struct activity *a = &project->activities[i];
        bool working = tick >= start[i] && tick < work_end[i] && a->work[resource] > 0;
        bool waiting = tick >= work_end[i] && tick < end[i] && a->rest[resource] > 0;
        if (!working && !waiting) continue;
        if (kind >= 0 && kind != a->kind) return true;
        kind = a->kind;
    }
    return false;
}

/* Use rises, and another kind comes in, only where work or a wait begins. */
bool validate_resources(const struct project *project, const int64_t *start,
                        const int64_t *work_end, const int64_t *end, int count) {
    for (int r = 0; r < project->resources; r++)
        for (int i = 0; i < count; i++) {
            if (use_at(project, start, work_end, end, count, r, start[i]) > project->capacity[r])
                return false;
            if (use_at(project, start, work_end, end, count, r, work_end[i]) > project->capacity[r])
                return false;
            if (kinds_mix(project, start, work_end, end, count, r, start[i]) ||
                kinds_mix(project, start, work_end, end, count, r, work_end[i]))
                return false;
        }
    return true;
}

/* --- all of it ------------------------------------------------------------------------------- */

const char *validate_schedule(const struct project *project, const struct schedule *s) {
    int64_t makespan = 0, work_end;
    for (int i = 0; i < project->count; i++) {
        if (s->start[i] < 0) return "a start before the beginning";
        if (!validate_start(project, i, s->start[i], &work_end)) return "a start while closed";
        if (work_end != s->work_end[i]) return "work does not end where its pieces do";
        if (s->end[i] != work_end + project->activities[i].wait) return "a wait of another length";
        if (s->end[i] > makespan) makespan = s->end[i];
    }
    for (int k = 0; k < project->link_count; k++) {
        const struct activity_link *link = &project->links[k];
        if (s->start[link->after] < s->end[link->before]) return "a link is broken";
        if (link->within >= 0 && s->start[link->after] > s->work_end[link->before] + link->within)
            return "a latest time is missed";
    }
    if (!validate_resources(project, s->start, s->work_end, s->end, project->count))
        return "a resource is overused";
    if (makespan != s->makespan) return "the makespan is another";
    if (s->lower_bound > s->makespan) return "the lower bound is above the makespan";
    if (s->optimal != (s->lower_bound == s->makespan)) return "optimal is not what the bound says";
    if (s->culprit != -1) return "a culprit without a fault";
    return NULL;
}
