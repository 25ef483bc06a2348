/* Several jobs on one bench, the least weighted lateness against every order of their activities:
 * two or three short jobs with due dates and weights.  Without latest times some order, with each
 * activity at its earliest in turn, is as little late as any schedule can be, so that all orders
 * are enough. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <cmocka.h>

#include "compute/schedule/joint.h"
#include "validate_schedule.h"

enum { MOST = 6, JOBS = 3, FAR = 400 };

struct chance {
    uint64_t state;
};

static int roll(struct chance *c, int below) {
    c->state = c->state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return (int)((c->state >> 33) % (uint64_t)below);
}

struct bench {
    struct project project;
    struct activity activities[MOST];
    struct activity_link links[MOST];
    struct period open[1];
    struct job jobs[JOBS];
    int job_count;
};

/* All orders of the activities `first` to `end`, one placed after the other at its earliest. */
struct orders {
    struct bench *bench;
    int first, end;
    bool falling; /* set-ups fall away where they can */
    bool placed[MOST];
    int order[MOST];
    int64_t start[MOST], work_end[MOST], finish[MOST];
    int64_t late, ends; /* the least so far; of the last end, the least */
};

/* Whether what is placed overuses nothing; what is not lies where it uses nothing. */
static bool fits(struct orders *o, int i, int64_t start) {
    const struct project *project = &o->bench->project;
    o->start[i] = start;
    if (!validate_start(project, i, start, &o->work_end[i])) return false;
    o->finish[i] = o->work_end[i] + project->activities[i].wait;
    return validate_resources(project, o->start, o->work_end, o->finish, project->count);
}

static void put_away(struct orders *o, int i) {
    o->placed[i] = false;
    o->start[i] = o->work_end[i] = o->finish[i] = -1;
}

static void judge(struct orders *o) {
    int64_t late = 0, last = 0;
    for (int j = 0; j < o->bench->job_count; j++) {
        const struct job *job = &o->bench->jobs[j];
        int64_t end = 0;
        for (int i = job->first; i < job->first + job->count; i++)
            if (o->finish[i] > end) end = o->finish[i];
        if (job->due >= 0 && end > job->due) late += (end - job->due) * job->weight;
        if (end > last) last = end;
    }
    if (late < o->late) o->late = late;
    if (last < o->ends) o->ends = last;
}

static void go_on(struct orders *o, int left);

/* With `i` where it is now, whatever may follow. */
static void go_on_with(struct orders *o, int i, int left) {
    o->placed[i] = true;
    go_on(o, left - 1);
    put_away(o, i);
}

/* Behind each of its kind, without its set-up. */
static void go_on_behind(struct orders *o, int i, int64_t earliest, int left) {
    struct activity *a = &o->bench->activities[i];
    for (int k = 0; k < o->bench->project.count; k++) {
        if (!o->placed[k] || k == i || o->bench->activities[k].kind != a->kind) continue;
        if (o->work_end[k] < earliest) continue;
        a->first -= a->setup;
        bool fit = fits(o, i, o->work_end[k]);
        a->first += a->setup;
        if (fit) go_on_with(o, i, left);
    }
    put_away(o, i);
}

static void go_on(struct orders *o, int left) {
    if (!left) judge(o);
    for (int i = o->first; left && i < o->end; i++) {
        int64_t start = 0;
        bool ready = !o->placed[i];
        for (int k = 0; k < o->bench->project.link_count; k++) {
            const struct activity_link *link = &o->bench->links[k];
            if (link->after != i) continue;
            ready = ready && o->placed[link->before];
            if (o->finish[link->before] > start) start = o->finish[link->before];
        }
        if (!ready) continue;
        if (o->falling && o->bench->activities[i].setup) go_on_behind(o, i, start, left);
        while (start < FAR && !fits(o, i, start)) start++;
        assert_true(start < FAR);
        go_on_with(o, i, left);
    }
}

static struct orders try_all(struct bench *b, int first, int count, bool falling) {
    struct orders o = {b, first, first + count, falling, .late = INT64_MAX, .ends = INT64_MAX};
    for (int i = 0; i < MOST; i++) put_away(&o, i);
    go_on(&o, count);
    return o;
}

/* The first resource is the builder, the second a wheel that holds one kind at a time. */
static void random_activity(struct chance *c, struct bench *b, int kind) {
    struct activity *a = &b->activities[b->project.count++];
    *a = (struct activity){
        .first = 1 + roll(c, 3), .pieces = 1, .in_hours = true, .wait = roll(c, 4), .kind = kind};
    a->work[0] = 1;
    if (roll(c, 2)) a->work[1] = a->rest[1] = 1 + roll(c, 2);
}

static void random_bench(struct chance *c, struct bench *b) {
    *b = (struct bench){.job_count = 2 + roll(c, 2)};
    b->open[0] = (struct period){2, 6 + roll(c, 4)};
    b->project = (struct project){.activities = b->activities,
                                  .links = b->links,
                                  .capacity = {1, 3},
                                  .one_kind = {false, true},
                                  .resources = 2};
    if (roll(c, 2)) b->project.hours = (struct hours){b->open, 1, 12, 0};
    for (int j = 0; j < b->job_count; j++) {
        struct job *job = &b->jobs[j];
        *job = (struct job){.first = b->project.count,
                            .count = MOST / b->job_count,
                            .due = roll(c, 4) ? roll(c, 25) : -1,
                            .weight = 1 + roll(c, 5)};
        int kind = 1 + roll(c, 2);
        for (int n = 0; n < job->count; n++) {
            random_activity(c, b, kind);
            int before = job->first + n - 1;
            if (n && roll(c, 3))
                b->links[b->project.link_count++] = (struct activity_link){before, before + 1, -1};
        }
    }
}

/* The jobs one after the other, each in a turn of its own: sound, and late. */
static void in_turn(const struct bench *b, int64_t *start) {
    int64_t from = 0, work_end;
    for (int i = 0; i < b->project.count; i++) {
        while (!validate_start(&b->project, i, from, &work_end)) from++;
        start[i] = from;
        from = work_end + b->activities[i].wait;
    }
}

static void no_order_is_less_late_than_what_is_found(void **state) {
    (void)state;
    struct chance chance = {11};
    int late = 0, proven = 0;
    for (int n = 0; n < 200; n++) {
        struct arena arena = {0};
        struct bench b;
        random_bench(&chance, &b);
        for (int j = 0; j < b.job_count; j++)
            b.jobs[j].least = try_all(&b, b.jobs[j].first, b.jobs[j].count, false).ends;
        int64_t start[MOST];
        in_turn(&b, start);
        struct joint_schedule joint =
            schedule_joint(&arena, &b.project, b.jobs, b.job_count, start, 20000);
        struct schedule *s = &joint.schedule;
        struct orders all = try_all(&b, 0, b.project.count, false);
        assert_true(s->feasible);
        for (int i = 0; i < b.project.count; i++) all.finish[i] = s->end[i];
        assert_true(validate_resources(&b.project, s->start, s->work_end, s->end, b.project.count));
        int64_t least = all.late;
        all.late = INT64_MAX;
        judge(&all); /* what it says of itself is so */
        assert_int_equal(all.late, joint.lateness);
        assert_int_equal(joint.lateness, least);
        assert_true(joint.lateness_bound <= least);
        assert_true(s->lower_bound <= all.ends);
        late += least > 0;
        proven += least > 0 && joint.lateness_bound == least;
        arena_free(&arena);
    }
    assert_true(late > 50);
    assert_true(proven > 0 && proven < late);
}

/* --- set-ups --------------------------------------------------------------------------------- */

/* Half of what needs no wheel is of one of two kinds, whose set-up falls away behind its like. */
static void random_setups(struct chance *c, struct bench *b) {
    for (int i = 0; i < b->project.count; i++) {
        struct activity *a = &b->activities[i];
        if (a->work[1] || roll(c, 3) == 0) continue;
        a->kind = 3 + roll(c, 2);
        a->setup = a->first < 3 ? 1 + roll(c, 2) : 1; /* an opening holds four ticks or more */
        a->first += a->setup;
    }
}

/* The bench without those set-ups; NULL: without any. */
static void without_setups(struct bench *own, const struct bench *b, const bool *which) {
    *own = *b;
    own->project.activities = own->activities;
    own->project.links = own->links;
    for (int i = 0; i < own->project.count; i++) {
        if (!which || which[i]) own->activities[i].first -= own->activities[i].setup;
        own->activities[i].setup = 0;
    }
}

/* What has no set-up begins as one of its kind ends. */
static bool falls_away(const struct bench *b, const struct schedule *s, int i) {
    for (int k = 0; k < b->project.count; k++)
        if (k != i && b->activities[k].kind == b->activities[i].kind &&
            s->work_end[k] == s->start[i])
            return true;
    return false;
}

static int64_t lateness_of(struct bench *b, const struct schedule *s) {
    struct orders o = {b, 0, b->project.count, false, .late = INT64_MAX, .ends = INT64_MAX};
    for (int i = 0; i < b->project.count; i++) o.finish[i] = s->end[i];
    judge(&o);
    return o.late;
}

/* Between what is least late with all set-ups and with none, and as it is said; every schedule
 * stands up to the judge of schedules without set-ups once those that fell away are taken out. */
static void set_ups_fall_away_where_something_is_gained(void **state) {
    (void)state;
    struct chance chance = {5};
    int fallen = 0, gained = 0, could = 0, best = 0;
    for (int n = 0; n < 200; n++) {
        struct arena arena = {0};
        struct bench b;
        random_bench(&chance, &b);
        random_setups(&chance, &b);
        struct bench shorter, as_planned;
        without_setups(&shorter, &b, NULL);
        for (int j = 0; j < b.job_count; j++)
            b.jobs[j].least = try_all(&shorter, b.jobs[j].first, b.jobs[j].count, false).ends;
        int64_t start[MOST];
        in_turn(&b, start);
        struct joint_schedule joint =
            schedule_joint(&arena, &b.project, b.jobs, b.job_count, start, 20000);
        struct schedule *s = &joint.schedule;
        assert_true(s->feasible);
        without_setups(&as_planned, &b, s->follows_on);
        struct schedule judged = *s;
        judged.optimal = s->lower_bound == s->makespan; /* of the end alone */
        assert_null(validate_schedule(&as_planned.project, &judged));
        for (int i = 0; i < b.project.count; i++) {
            if (s->follows_on[i]) assert_true(falls_away(&b, s, i));
            fallen += s->follows_on[i];
        }
        struct orders most = try_all(&b, 0, b.project.count, false);
        struct orders falling = try_all(&b, 0, b.project.count, true);
        struct orders least = try_all(&shorter, 0, b.project.count, false);
        assert_int_equal(lateness_of(&b, s), joint.lateness);
        assert_true(joint.lateness <= most.late && joint.lateness >= least.late);
        assert_true(joint.lateness_bound <= least.late);
        assert_true(s->lower_bound <= least.ends);
        gained += joint.lateness < most.late;
        could += falling.late < most.late;
        best += joint.lateness <= falling.late;
        arena_free(&arena);
    }
    assert_true(fallen > 40 && could > 15);
    assert_true(gained >= could - 1 && best >= 199); /* the search is not exact */
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_order_is_less_late_than_what_is_found),
        cmocka_unit_test(set_ups_fall_away_where_something_is_gained),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
