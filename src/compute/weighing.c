#include "compute/weighing.h"

#include <math.h>

struct weighing_list weighing_at(const struct measured *m, int stage) {
    const struct weighing_list lists[WEIGHING_STAGES] = {
        {m->blank, m->blank_count},      {m->hung, m->hung_count},
        {m->sealed, m->sealed_count},    {m->ballasted, m->ballasted_count},
        {m->painted, m->painted_count},  {m->topcoated, m->topcoated_count},
        {m->finished, m->finished_count}};
    return lists[stage];
}

/* The same value, whichever unit it was written in. */
static bool same(double a, double b) {
    return fabs(a - b) <= 1e-9 * fmax(fabs(a), fabs(b));
}

static bool same_end(const struct opt *a, const struct opt *b) {
    return a->given == b->given && (!a->given || same(a->value, b->value));
}

static bool same_list(const double *a, int a_count, const double *b, int b_count) {
    for (int i = 0; i < a_count && a_count == b_count; i++)
        if (!same(a[i], b[i])) return false;
    return a_count == b_count;
}

static bool same_waterline(const struct waterline *a, const struct waterline *b) {
    return same_end(&a->nose, &b->nose) && same_end(&a->tail, &b->tail) &&
           same_list(a->back, a->back_count, b->back, b->back_count) &&
           same_list(a->belly, a->belly_count, b->belly, b->belly_count);
}

static bool same_plug(const struct measured *a, const struct measured *b, int plug) {
    int both = 0, alike = 0;
    for (int stage = 0; stage < WEIGHING_STAGES; stage++) {
        struct weighing_list x = weighing_at(a, stage), y = weighing_at(b, stage);
        if (plug >= x.count || plug >= y.count) continue;
        both++;
        alike += same(x.values[plug], y.values[plug]);
    }
    if (plug == 0 && a->waterline && b->waterline) {
        both++;
        alike += same_waterline(a->waterline, b->waterline);
    }
    return both && 2 * alike >= both;
}

static bool has_time(const struct measured *m, const struct timing *timing) {
    for (int i = 0; i < m->timing_count; i++)
        if (str_equal(m->minutes[i].step, timing->step) && same(m->minutes[i].took, timing->took))
            return true;
    return false;
}

static int plugs_of(const struct measured *m) {
    int plugs = m->waterline ? 1 : 0;
    for (int stage = 0; stage < WEIGHING_STAGES; stage++) {
        int count = weighing_at(m, stage).count;
        if (count > plugs) plugs = count;
    }
    return plugs;
}

struct weighing_repeats weighing_repeats_of(struct arena *arena, const struct measured *older,
                                            const struct measured *const *newer, int count) {
    int plug_count = plugs_of(older), fresh = plug_count + older->timing_count;
    bool *plugs = NEW(arena, bool, plug_count + 1);
    bool *minutes = NEW(arena, bool, older->timing_count + 1);
    for (int k = 0; k < count; k++) {
        for (int i = 0; i < plug_count; i++) plugs[i] |= same_plug(older, newer[k], i);
        for (int i = 0; i < older->timing_count; i++)
            minutes[i] |= has_time(newer[k], &older->minutes[i]);
    }
    for (int i = 0; i < plug_count; i++) fresh -= plugs[i];
    for (int i = 0; i < older->timing_count; i++) fresh -= minutes[i];
    return (struct weighing_repeats){plugs, plug_count, minutes, fresh};
}
