#include "compute/schedule/joint.h"

/* The shortest of all first, as if no setup were needed, by schedule_solve, which proves a bound
 * too; then lists, by which setups fall away: by due dates, and random ones around the best so far,
 * as in solve.c, each generated and justified.  Lateness has a bound of its own: every job alone,
 * as early as it can be. */

#include <string.h>

#include "compute/schedule/inner.h"

/* What is aimed at, the first first. */
struct worth {
    int64_t lateness, makespan, ends;
};

struct search {
    struct arena scratch;
    const struct instance *instance;
    const struct job *jobs;
    int job_count;
    struct lister *lister;
    struct serial *serial;
    int *list;
    int64_t *priority;
    struct slot *best;
    bool *follows_on; /* in the best */
    struct worth worth;
    uint64_t random;
};

static struct worth worth_of(const struct search *s, const struct slot *slot) {
    struct worth worth = {0, 0, 0};
    for (int j = 0; j < s->job_count; j++) {
        const struct job *job = &s->jobs[j];
        int64_t end = 0;
        for (int i = job->first; i < job->first + job->count; i++)
            if (slot[i].end > end) end = slot[i].end;
        if (job->due >= 0 && end > job->due) worth.lateness += (end - job->due) * job->weight;
        if (end > worth.makespan) worth.makespan = end;
        worth.ends += end;
    }
    return worth;
}

static bool better(struct worth a, struct worth b) {
    if (a.lateness != b.lateness) return a.lateness < b.lateness;
    if (a.makespan != b.makespan) return a.makespan < b.makespan;
    return a.ends <= b.ends;
}

static void keep(struct search *s) {
    size_t count = (size_t)s->instance->count;
    struct worth worth = worth_of(s, s->serial->slot);
    if (!better(worth, s->worth)) return;
    s->worth = worth;
    memcpy(s->best, s->serial->slot, count * sizeof *s->best);
    memcpy(s->follows_on, s->serial->follows_on, count * sizeof *s->follows_on);
}

static void keep_starts(struct search *s, const int64_t *start) {
    struct slot *slot = s->serial->slot;
    for (int i = 0; i < s->instance->count; i++) {
        slot[i] = slot_from(s->instance, i, start[i]);
        s->serial->follows_on[i] = false;
    }
    keep(s);
}

static bool generate(struct search *s) {
    enum { PATIENCE = 200 }; /* placings for each activity */
    list_by(s->lister, s->priority, s->list);
    long limit = s->serial->nodes + (long)PATIENCE * s->instance->count;
    if (!serial_generate(s->serial, s->list, limit)) return false;
    keep(s);
    return true;
}

static void generate_and_justify(struct search *s) {
    if (!generate(s)) return;
    serial_justify(s->serial);
    for (int i = 0; i < s->instance->count; i++) s->priority[i] = s->serial->slot[i].start;
    generate(s);
}

/* By latest ends, each job as if its due date were the end of all. */
static void generate_by_due_dates(struct search *s) {
    struct slot *tail = NEW(&s->scratch, struct slot, s->instance->count);
    instance_tails(s->instance, s->worth.makespan, tail);
    for (int j = 0; j < s->job_count; j++) {
        const struct job *job = &s->jobs[j];
        int64_t ahead = job->due >= 0 ? s->worth.makespan - job->due : 0;
        for (int i = job->first; i < job->first + job->count; i++)
            s->priority[i] = tail[i].end - ahead;
    }
    generate_and_justify(s);
}

/* xorshift64*, as in solve.c. */
static int64_t random_below(struct search *s, int64_t limit) {
    s->random ^= s->random >> 12;
    s->random ^= s->random << 25;
    s->random ^= s->random >> 27;
    return (int64_t)(s->random * UINT64_C(2685821657736338717) % (uint64_t)limit);
}

/* Starts of the best, each shifted a little, and those of one job all by the same besides; now and
 * then any list at all, which leads out of where small shifts end. */
static void sample(struct search *s, long nodes) {
    enum { WIDEST = 2, WIDTHS = 20, AFRESH = 4 };
    while (s->serial->nodes < nodes) {
        bool afresh = random_below(s, AFRESH) == 0;
        int64_t width = s->worth.makespan / (WIDEST + random_below(s, WIDTHS)) + 1;
        if (afresh) width = s->worth.makespan + 1;
        for (int j = 0; j < s->job_count; j++) {
            const struct job *job = &s->jobs[j];
            int64_t shift = random_below(s, 2 * width);
            for (int i = job->first; i < job->first + job->count; i++)
                s->priority[i] = (afresh ? 0 : s->best[i].start) + shift + random_below(s, width);
        }
        generate_and_justify(s);
    }
}

/* The project with its activities told apart by job: one that is due first must not wait for one
 * that is like it. */
static struct project by_job(struct arena *arena, const struct project *project,
                             const struct job *jobs, int count) {
    struct project own = *project;
    struct activity *activities = NEW(arena, struct activity, project->count);
    memcpy(activities, project->activities, (size_t)project->count * sizeof *activities);
    for (int j = 0; j < count; j++)
        for (int i = jobs[j].first; i < jobs[j].first + jobs[j].count; i++)
            activities[i].job = j + 1;
    own.activities = activities;
    return own;
}

/* In the order of the best: what begins right behind one of its kind loses its setup now. */
static void tidy(struct search *s) {
    for (int i = 0; i < s->instance->count; i++) s->priority[i] = s->best[i].start;
    generate(s);
}

static bool has_setups(const struct project *project) {
    for (int i = 0; i < project->count; i++)
        if (project->activities[i].setup > 0) return true;
    return false;
}

/* The project as if every setup fell away: nothing that is asked of it is less. */
static struct project without_setups(struct arena *arena, const struct project *project) {
    struct project own = *project;
    struct activity *activities = NEW(arena, struct activity, project->count);
    for (int i = 0; i < project->count; i++) {
        activities[i] = project->activities[i];
        activities[i].first -= activities[i].setup;
        activities[i].setup = 0;
    }
    own.activities = activities;
    return own;
}

static int64_t lateness_bound(const struct job *jobs, int count) {
    int64_t bound = 0;
    for (int j = 0; j < count; j++)
        if (jobs[j].due >= 0 && jobs[j].least > jobs[j].due)
            bound += (jobs[j].least - jobs[j].due) * jobs[j].weight;
    return bound;
}

/* `shortest` is one as if no setup were needed.  Where some are, lists by it; and where these are
 * longer, the shortest with all setups. */
static void take_up(struct search *s, const struct schedule *shortest, long nodes) {
    if (!s->serial->setups) keep_starts(s, shortest->start);
    if (!s->serial->setups) return;
    for (int i = 0; i < s->instance->count; i++) s->priority[i] = shortest->start[i];
    generate_and_justify(s);
    if (s->worth.makespan <= shortest->makespan) return;
    struct schedule whole = schedule_solve(&s->scratch, s->instance->project, nodes);
    if (whole.feasible) keep_starts(s, whole.start);
}

static void search(struct search *s, const struct schedule *shortest, const int64_t *start,
                   long nodes) {
    s->lister = lister_of(&s->scratch, s->instance);
    s->serial = serial_of(&s->scratch, s->instance);
    s->serial->setups = has_setups(s->instance->project);
    s->follows_on = NEW(&s->scratch, bool, s->instance->count);
    s->list = NEW(&s->scratch, int, s->instance->count);
    s->priority = NEW(&s->scratch, int64_t, s->instance->count);
    s->best = NEW(&s->scratch, struct slot, s->instance->count);
    s->worth = (struct worth){INT64_MAX, INT64_MAX, INT64_MAX};
    s->random = UINT64_C(0x9E3779B97F4A7C15); /* any number but zero */
    keep_starts(s, start);
    if (shortest->feasible) take_up(s, shortest, nodes);
    generate_by_due_dates(s);
    sample(s, nodes);
    tidy(s);
}

/* The best of the search, in place of what was the shortest. */
static void take_best(const struct search *s, struct arena *arena, struct schedule *out) {
    out->follows_on = NEW(arena, bool, s->instance->count);
    for (int i = 0; i < s->instance->count; i++) {
        out->start[i] = s->best[i].start;
        out->work_end[i] = s->best[i].work_end;
        out->end[i] = s->best[i].end;
        out->follows_on[i] = s->follows_on[i];
    }
    out->feasible = true;
    out->culprit = -1;
    out->makespan = s->worth.makespan;
    out->nodes += s->serial->nodes;
}

struct joint_schedule schedule_joint(struct arena *arena, const struct project *project,
                                     const struct job *jobs, int job_count, const int64_t *start,
                                     long node_limit) {
    struct search s = {.jobs = jobs, .job_count = job_count};
    struct project least = without_setups(&s.scratch, project);
    struct joint_schedule joint = {.schedule = schedule_solve(arena, &least, node_limit / 2)};
    struct schedule *out = &joint.schedule;
    struct project own = by_job(&s.scratch, project, jobs, job_count);
    int culprit;
    s.instance = instance_of(&s.scratch, &own, &culprit);
    if (s.instance) {
        search(&s, out, start, node_limit / 2);
        take_best(&s, arena, out);
        for (int j = 0; j < job_count; j++)
            if (jobs[j].least > out->lower_bound) out->lower_bound = jobs[j].least;
        joint.lateness = s.worth.lateness;
        joint.lateness_bound = lateness_bound(jobs, job_count);
        out->optimal = out->makespan == out->lower_bound && joint.lateness == joint.lateness_bound;
    }
    arena_free(&s.scratch);
    return joint;
}
