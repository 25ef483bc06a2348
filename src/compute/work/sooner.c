/* Every closed day of the next weeks is tried with an opening like the others, and the rest planned
 * anew. */
#include "compute/work/sooner.h"

#include "base/clock.h"
#include "compute/work/resume.h"
#include "model/reference.h"

/* The hours are written out week by week, and looked through from the first: no longer runs. */
enum { MOST_DAYS = 42, MOST_WEEKS = 60, NODES_OF_DAY = 20000 };

/* An opening like those of the evenings, else the shortest: within its day. */
static struct period usual_opening(const struct hours *hours) {
    double evening = reference_fact[FACT_EVENING].value;
    struct period best = {0, SECONDS_OF_DAY};
    bool late = false;
    for (int k = 0; k < hours->count; k++) {
        int64_t of_day = hours->period[k].from % SECONDS_OF_DAY;
        struct period p = {of_day, of_day + hours->period[k].to - hours->period[k].from};
        bool is_late = (double)of_day >= evening;
        bool shorter = p.to - p.from < best.to - best.from;
        if ((is_late && !late) || (is_late == late && shorter)) best = p, late = is_late;
    }
    return best;
}

/* Whether the shop has no hours that begin or last on a day of the week. */
static bool is_closed(const struct hours *hours, int weekday) {
    int64_t from = weekday * (int64_t)SECONDS_OF_DAY, to = from + SECONDS_OF_DAY;
    for (int k = 0; k < hours->count; k++)
        if (hours->period[k].from < to && hours->period[k].to > from) return false;
    return true;
}

/* The hours, written out for so many weeks, with one more opening; `at` counts from the first
 * Monday. */
static struct hours with_opening(struct arena *arena, const struct hours *hours, int weeks,
                                 struct period at) {
    struct hours more = *hours;
    struct period *list = NEW(arena, struct period, weeks * hours->count + 1);
    bool put = false;
    more.count = 0;
    for (int n = 0; n < weeks * hours->count; n++) {
        int64_t base = n / hours->count * hours->cycle;
        const struct period *p = &hours->period[n % hours->count];
        if (!put && base + p->from >= at.to) list[more.count++] = at, put = true;
        list[more.count++] = (struct period){base + p->from, base + p->to};
    }
    if (!put) list[more.count++] = at;
    more.period = list;
    more.cycle = weeks * hours->cycle;
    return more;
}

/* The end of the rest with this opening, and a proven bound of it. */
static struct schedule tried(struct arena *arena, const struct recipe *recipe,
                             const struct run *run, struct period at, int weeks) {
    struct planner p = planner_of(arena, recipe, &run->route);
    resume_planner(&p);
    p.project.hours = with_opening(arena, &run->hours, weeks, at);
    return schedule_solve(arena, &p.project, NODES_OF_DAY);
}

static struct extra_opening extra_opening_of(const struct recipe *recipe, const struct run *run) {
    const struct hours *hours = &run->hours;
    struct extra_opening best = {.proven = true};
    if (!hours->count) return best;
    struct period like = usual_opening(hours);
    int64_t end = hours->origin + run->makespan;
    int weeks = (int)(end / hours->cycle) + 2;
    best.tried = weeks <= MOST_WEEKS;
    if (!best.tried) return best;
    int64_t today = hours->origin / SECONDS_OF_DAY;
    best.proven = end / SECONDS_OF_DAY < today + MOST_DAYS;
    for (int64_t day = today; day <= end / SECONDS_OF_DAY && day < today + MOST_DAYS; day++) {
        struct period at = {day * SECONDS_OF_DAY + like.from, day * SECONDS_OF_DAY + like.to};
        if (!is_closed(hours, (int)(day % WEEKDAYS)) || at.from < hours->origin) continue;
        struct arena scratch = {0};
        struct schedule s = tried(&scratch, recipe, run, at, weeks);
        best.proven &= s.feasible && s.lower_bound >= run->makespan;
        int64_t gain = s.feasible ? run->makespan - s.makespan : 0;
        arena_free(&scratch);
        if (gain <= best.gain) continue;
        best.gain = gain;
        best.opening = (struct period){at.from - hours->origin, at.to - hours->origin};
    }
    return best;
}

struct resumed resumed_of(const struct recipe *recipe, const struct run *run) {
    struct resumed resumed = {.given = true};
    if (!run->feasible) return resumed;
    resumed.closed = resume_last_open(&run->hours);
    resumed.extra = extra_opening_of(recipe, run);
    return resumed;
}
