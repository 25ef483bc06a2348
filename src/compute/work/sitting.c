#include "compute/work/sitting.h"

enum { QUARTER = 15 * 60 }; /* of an hour, s */

int64_t sitting_day(const struct run *run, int64_t seconds) {
    return (run->hours.origin + seconds) / SECONDS_OF_DAY;
}

bool sitting_has_days(const struct recipe *recipe) {
    return recipe->shop->start.given || recipe->shop->open;
}

/* The opening that holds this second of the run. */
static struct period opening_at(const struct run *run, int64_t seconds) {
    return run->hours.count ? hours_period_after(&run->hours, seconds) : (struct period){0, 0};
}

/* Whether the work goes on after a stint as it does within a sitting.  What no hour on the sheet
 * could tell apart is no pause. */
static bool goes_on(const struct recipe *recipe, const struct run *run, const struct stint *last,
                    const struct stint *next) {
    if (!sitting_has_days(recipe)) return next->from - last->to < QUARTER;
    return sitting_day(run, next->from) == sitting_day(run, last->from) &&
           opening_at(run, next->from).from == opening_at(run, last->from).from;
}

struct sitting sitting_from(const struct recipe *recipe, const struct run *run, int first) {
    const struct stint *stints = run->stints;
    struct sitting s = {.first = first,
                        .end = first,
                        .from = stints[first].from,
                        .to = stints[first].to,
                        .opening = opening_at(run, stints[first].from)};
    while (s.end < run->stint_count) {
        const struct stint *next = &stints[s.end];
        if (s.end > first && !goes_on(recipe, run, next - 1, next)) break;
        s.hands_on += next->to - next->from;
        if (next->to > s.to) s.to = next->to;
        s.end++;
    }
    return s;
}

int sitting_count(const struct recipe *recipe, const struct run *run) {
    int count = 0;
    for (int i = 0; i < run->stint_count; count++) i = sitting_from(recipe, run, i).end;
    return count;
}

/* How many plugs stand in the loads before this step's. */
static int plugs_before(const struct run *run, const struct run_step *step) {
    int plugs = 0;
    for (int i = 0; step->load && i < run->count; i++) {
        const struct run_step *other = &run->steps[i];
        if (other->operation == step->operation && other->load < step->load) plugs += other->plugs;
    }
    return plugs;
}

struct plug_range sitting_plugs(const struct run *run, const struct stint *stint) {
    int before = plugs_before(run, &run->steps[stint->step]);
    return (struct plug_range){before + stint->first_plug, before + stint->last_plug};
}
