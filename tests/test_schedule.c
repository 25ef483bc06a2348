/* The scheduler: opening hours and latest times worked out by hand, a published instance, and
 * random projects against the complete enumeration of all schedules.  Every schedule is judged by
 * validate_schedule, which shares nothing with the scheduler. */
#include "close.h"

#include "compute/schedule/inner.h"
#include "validate_schedule.h"
#include "workshop.h"

enum { MINUTE = 60 };

static struct schedule solve(struct arena *arena, const struct project *project) {
    struct schedule s = schedule_solve(arena, project, SCHEDULE_NODE_LIMIT);
    if (!s.feasible) return s;
    const char *fault = validate_schedule(project, &s);
    if (fault) print_error("%s\n", fault);
    assert_null(fault);
    return s;
}

/* --- opening hours --------------------------------------------------------------------------- */

static int64_t at(int day, int hour, int minute) {
    return day * DAY + hour * HOUR + minute * MINUTE;
}

static struct activity work_of(int pieces, int64_t minutes_each) {
    return (struct activity){.first = minutes_each * MINUTE,
                             .each = minutes_each * MINUTE,
                             .pieces = pieces,
                             .in_hours = true};
}

static void check_fit(const struct hours *hours, const struct activity *activity, int64_t earliest,
                      int64_t start, int64_t work_end) {
    struct slot slot;
    assert_true(slot_fit(hours, activity, earliest, &slot));
    assert_int_equal(slot.start, start);
    assert_int_equal(slot.work_end, work_end);
}

/* Monday to Friday 18:00 to 21:30; Monday is day 0. */
static struct hours evenings(void) {
    static struct period evening[5];
    for (int day = 0; day < 5; day++)
        evening[day] = (struct period){at(day, 18, 0), at(day, 21, 30)};
    return (struct hours){evening, 5, WEEK, 0};
}

static void pieces_pause_over_the_night_and_the_weekend(void **state) {
    (void)state;
    struct hours hours = evenings();
    /* Three hours fit into an evening, the fourth and fifth wait for the next. */
    struct activity five = work_of(5, 60);
    check_fit(&hours, &five, 0, at(0, 18, 0), at(1, 20, 0));
    /* 20:31 leaves no room for an hour. */
    check_fit(&hours, &five, at(0, 20, 30), at(0, 20, 30), at(2, 19, 0));
    check_fit(&hours, &five, at(0, 20, 31), at(1, 18, 0), at(2, 20, 0));
    /* From Friday on to Monday; from Saturday on Monday. */
    check_fit(&hours, &five, at(4, 19, 0), at(4, 19, 0), at(7, 21, 0));
    check_fit(&hours, &five, at(5, 0, 0), at(7, 18, 0), at(8, 20, 0));
    /* A first piece that is longer than the others. */
    struct activity uneven = work_of(2, 90);
    uneven.first = 180 * MINUTE;
    check_fit(&hours, &uneven, 0, at(0, 18, 0), at(1, 19, 30));
    /* The whole evening to its last minute, and one minute more. */
    struct activity whole = work_of(1, 210), longer = work_of(1, 211);
    check_fit(&hours, &whole, 1, at(0, 18, 0), at(0, 21, 30));
    struct slot slot;
    assert_false(slot_fit(&hours, &longer, 0, &slot));
}

static void a_day_without_opening_is_passed_over(void **state) {
    (void)state;
    const struct period open[] = {
        {at(1, 9, 0), at(1, 12, 0)}, {at(1, 13, 0), at(1, 17, 0)}, {at(3, 9, 0), at(3, 10, 0)}};
    struct hours hours = {open, 3, WEEK, 0};
    struct activity six = work_of(3, 120);
    check_fit(&hours, &six, 0, at(1, 9, 0), at(1, 17, 0));             /* 9-11, 13-15, 15-17 */
    check_fit(&hours, &six, at(1, 15, 0), at(1, 15, 0), at(8, 15, 0)); /* Thursday is too short */
}

static void openings_that_touch_at_midnight_are_one(void **state) {
    (void)state;
    const struct period open[] = {{at(0, 0, 0), at(0, 1, 0)},
                                  {at(5, 18, 0), at(6, 0, 0)},
                                  {at(6, 0, 0), at(6, 2, 0)},
                                  {at(6, 22, 0), at(7, 0, 0)}};
    struct hours hours = {open, 4, WEEK, 0};
    struct activity three = work_of(1, 180);
    check_fit(&hours, &three, at(5, 22, 30), at(5, 22, 30), at(6, 1, 30));
    check_fit(&hours, &three, at(6, 23, 0), at(12, 18, 0), at(12, 21, 0));
    check_fit(&hours, &three, at(6, 21, 0), at(6, 22, 0), at(7, 1, 0)); /* across the week's end */
    struct activity eight = work_of(2, 240);
    check_fit(&hours, &eight, at(5, 12, 0), at(5, 18, 0), at(6, 2, 0));
}

static void a_week_that_is_open_throughout_never_closes(void **state) {
    (void)state;
    struct period open[7];
    for (int day = 0; day < 7; day++) open[day] = (struct period){at(day, 0, 0), at(day + 1, 0, 0)};
    struct hours hours = {open, 7, WEEK, 0};
    struct activity long_one = work_of(2, 10 * 24 * 60);
    check_fit(&hours, &long_one, at(3, 5, 0), at(3, 5, 0), at(23, 5, 0));
    struct hours none = {0};
    check_fit(&none, &long_one, at(3, 5, 0), at(3, 5, 0), at(23, 5, 0));
}

static void the_run_begins_where_the_origin_says(void **state) {
    (void)state;
    struct hours hours = evenings();
    hours.origin = at(4, 20, 0); /* tick 0 is Friday 20:00 */
    struct activity two = work_of(2, 60);
    check_fit(&hours, &two, 0, 0, 2 * DAY + 23 * HOUR);
    check_fit(&hours, &two, 45 * MINUTE, 2 * DAY + 22 * HOUR, 3 * DAY);
}

static void work_outside_hours_and_no_work_start_at_once(void **state) {
    (void)state;
    struct hours hours = evenings();
    struct activity outside = work_of(3, 60), none = work_of(0, 60);
    outside.in_hours = false;
    check_fit(&hours, &outside, at(5, 3, 0), at(5, 3, 0), at(5, 6, 0));
    check_fit(&hours, &none, at(5, 3, 0), at(5, 3, 0), at(5, 3, 0));
}

/* --- waits and latest times ------------------------------------------------------------------ */

enum { BUILDER, WHEEL };

/* A coat: 20 minutes of work, wheel taken until the wait is over. */
static struct activity coat_of(int64_t wait) {
    struct activity coat = work_of(1, 20);
    coat.wait = wait;
    coat.work[BUILDER] = coat.work[WHEEL] = coat.rest[WHEEL] = 1;
    return coat;
}

static void waits_run_on_while_the_shop_is_closed(void **state) {
    (void)state;
    struct arena arena = {0};
    const struct activity activities[] = {coat_of(4 * HOUR), coat_of(24 * HOUR)};
    const struct activity_link links[] = {{0, 1, -1}};
    struct project project = {.activities = activities,
                              .count = 2,
                              .links = links,
                              .link_count = 1,
                              .capacity = {1, 1},
                              .resources = 2,
                              .hours = evenings()};
    struct schedule s = solve(&arena, &project);
    assert_int_equal(s.start[0], at(0, 18, 0));
    assert_int_equal(s.end[0], at(0, 22, 20)); /* closed since 21:30 */
    assert_int_equal(s.start[1], at(1, 18, 0));
    assert_int_equal(s.makespan, at(2, 18, 20));
    assert_true(s.optimal);
    arena_free(&arena);
}

/* Three coats, each within 24 hours of the last.  What comes before is over on Thursday evening:
 * coats on Thursday, Friday and Saturday would miss Saturday, so all three go to the next week. */
static void a_chain_of_coats_waits_until_all_of_it_fits(void **state) {
    (void)state;
    struct arena arena = {0};
    struct activity before = work_of(1, 30);
    before.work[BUILDER] = 1;
    const struct activity activities[] = {before, coat_of(4 * HOUR), coat_of(4 * HOUR),
                                          coat_of(24 * HOUR)};
    const struct activity_link links[] = {{0, 1, -1}, {1, 2, DAY}, {2, 3, DAY}};
    struct project project = {.activities = activities,
                              .count = 4,
                              .links = links,
                              .link_count = 3,
                              .capacity = {1, 1},
                              .resources = 2,
                              .hours = evenings()};
    project.hours.origin = at(3, 0, 0);
    struct schedule s = solve(&arena, &project);
    assert_int_equal(s.start[0], 18 * HOUR);
    assert_int_equal(s.start[1], 4 * DAY + 18 * HOUR); /* Monday */
    assert_int_equal(s.start[2], 5 * DAY + 18 * HOUR);
    assert_int_equal(s.start[3], 6 * DAY + 18 * HOUR);
    assert_true(s.optimal);
    arena_free(&arena);
}

/* A latest time counts from the end of the work, not of the wait: 18:20 on the next day and not a
 * minute less is enough when the first coat begins at 18:00. */
static void latest_times_count_from_the_end_of_the_work(void **state) {
    (void)state;
    struct arena arena = {0};
    const struct activity activities[] = {coat_of(4 * HOUR), coat_of(0)};
    struct activity_link link = {0, 1, 23 * HOUR + 40 * MINUTE};
    struct project project = {.activities = activities,
                              .count = 2,
                              .links = &link,
                              .link_count = 1,
                              .capacity = {1, 1},
                              .resources = 2,
                              .hours = evenings()};
    struct schedule s = solve(&arena, &project);
    assert_int_equal(s.start[0], at(0, 18, 0));
    link.within -= 60 * MINUTE; /* the first coat must begin an hour later */
    s = solve(&arena, &project);
    assert_int_equal(s.start[0], at(0, 19, 0));
    assert_int_equal(s.start[1], at(1, 18, 0));
    arena_free(&arena);
}

/* The second of the chain needs a place that is taken from tick 2 to 12: the first is put off. */
static void a_chain_waits_for_its_resources(void **state) {
    (void)state;
    struct arena arena = {0};
    struct activity activities[4] = {{.first = 2, .pieces = 1},
                                     {.first = 10, .pieces = 1},
                                     {.first = 3, .pieces = 1},
                                     {.first = 1, .pieces = 1}};
    activities[1].work[0] = activities[3].work[0] = 1;
    const struct activity_link links[] = {{0, 1, 0}, {2, 3, 1}};
    struct project project = {.activities = activities,
                              .count = 4,
                              .links = links,
                              .link_count = 2,
                              .capacity = {1},
                              .resources = 1,
                              .hours = {0}};
    struct schedule s = solve(&arena, &project);
    assert_int_equal(s.makespan, 13);
    assert_int_equal(s.start[1], 2);
    assert_int_equal(s.start[2], 8); /* ends at 11, 12 is one tick later */
    assert_int_equal(s.start[3], 12);
    arena_free(&arena);
}

/* 1 has to follow close behind 0 and needs 2 too: so 2 is listed ahead of 0, and 1 at once behind
 * it, whatever the priorities are; between them there is only what arcs allow. */
static void what_a_chain_needs_is_listed_ahead_of_it(void **state) {
    (void)state;
    static const struct {
        int64_t priority[4];
        int list[4];
    } cases[] = {
        {{0, 1, 2, 3}, {2, 0, 1, 3}},
        {{0, 9, 8, 3}, {3, 2, 0, 1}},
        {{5, 9, 1, 6}, {2, 0, 1, 3}},
        {{7, 0, 1, 6}, {2, 3, 0, 1}},
    };
    struct arena arena = {0};
    struct activity activities[4] = {{.first = 1, .pieces = 1},
                                     {.first = 1, .pieces = 1},
                                     {.first = 1, .pieces = 1},
                                     {.first = 1, .pieces = 1}};
    const struct activity_link links[] = {{0, 1, 1}, {2, 1, -1}};
    struct project project = {
        .activities = activities, .count = 4, .links = links, .link_count = 2, .hours = {0}};
    int culprit;
    const struct instance *instance = instance_of(&arena, &project, &culprit);
    assert_non_null(instance);
    struct lister *lister = lister_of(&arena, instance);
    for (size_t n = 0; n < sizeof cases / sizeof *cases; n++) {
        int list[4];
        list_by(lister, cases[n].priority, list);
        for (int i = 0; i < 4; i++) assert_int_equal(list[i], cases[n].list[i]);
    }
    arena_free(&arena);
}

static void a_latest_time_that_no_week_can_keep_is_told(void **state) {
    (void)state;
    struct arena arena = {0};
    const struct period saturday = {at(5, 9, 0), at(5, 12, 0)}; /* the morning alone */
    const struct activity activities[] = {work_of(1, 30), coat_of(4 * HOUR), coat_of(DAY)};
    const struct activity_link links[] = {{0, 1, -1}, {1, 2, DAY}};
    struct project project = {.activities = activities,
                              .count = 3,
                              .links = links,
                              .link_count = 2,
                              .capacity = {1, 1},
                              .resources = 2,
                              .hours = {&saturday, 1, WEEK, 0}};
    struct schedule s = solve(&arena, &project);
    assert_false(s.feasible);
    assert_true(s.culprit == 1 || s.culprit == 2);
    assert_false(schedule_serial(&arena, &project).feasible);
    arena_free(&arena);
}

static void impossible_work_is_told_by_its_culprit(void **state) {
    (void)state;
    struct arena arena = {0};
    struct activity activities[] = {work_of(1, 30), work_of(2, 30), work_of(1, 30)};
    const struct activity_link loop[] = {{0, 1, -1}, {1, 2, -1}, {2, 1, -1}};
    struct project project = {.activities = activities,
                              .count = 3,
                              .links = loop,
                              .link_count = 2,
                              .capacity = {1},
                              .resources = 1,
                              .hours = evenings()};
    assert_true(solve(&arena, &project).feasible);

    activities[1].each = 211 * MINUTE; /* longer than any evening */
    assert_int_equal(solve(&arena, &project).culprit, 1);
    activities[1].each = 0;
    activities[2].work[0] = 2; /* more than there is */
    assert_int_equal(solve(&arena, &project).culprit, 2);
    activities[2].work[0] = 0;
    project.link_count = 3;
    assert_int_equal(solve(&arena, &project).culprit, 1); /* the first on the loop */
    project.link_count = 2;
    activities[0].wait = INT64_MAX; /* beyond all sense */
    assert_int_equal(solve(&arena, &project).culprit, 0);
    arena_free(&arena);
}

static void nothing_to_do_takes_no_time(void **state) {
    (void)state;
    struct arena arena = {0};
    struct project project = {0};
    struct schedule s = solve(&arena, &project);
    assert_true(s.feasible && s.optimal);
    assert_int_equal(s.makespan, 0);
    arena_free(&arena);
}

/* --- a published instance -------------------------------------------------------------------- */

/* The resource-constrained instance j301_1 of PSPLIB (Kolisch and Sprecher 1997) as a table: 32
 * jobs, the first and the last without length; each uses one of four resources of 12, 13, 4 and 12.
 * Length by precedence alone 38; shortest makespan 43, and 42 proved impossible by an integer
 * programme (scipy 1.10.1, HiGHS). */
static const struct {
    int duration, resource, demand;
    int after[3]; /* jobs that follow, 0: none */
} published[] = {
    {0, 0, 0, {2, 3, 4}}, {8, 0, 4, {6, 11, 15}}, {4, 0, 10, {7, 8, 13}}, {6, 3, 3, {5, 9, 10}},
    {3, 0, 3, {20}},      {8, 3, 8, {30}},        {5, 0, 4, {27}},        {9, 1, 1, {12, 19, 27}},
    {2, 0, 6, {14}},      {7, 3, 1, {16, 25}},    {9, 1, 5, {20, 26}},    {2, 1, 7, {14}},
    {6, 0, 4, {17, 18}},  {3, 1, 8, {17}},        {9, 0, 3, {25}},        {10, 3, 5, {21, 22}},
    {6, 3, 8, {22}},      {5, 3, 7, {20, 22}},    {3, 1, 1, {24, 29}},    {7, 1, 10, {23, 25}},
    {2, 3, 6, {28}},      {7, 0, 2, {23}},        {2, 0, 3, {24}},        {3, 1, 9, {30}},
    {3, 0, 4, {30}},      {7, 2, 4, {31}},        {8, 3, 7, {28}},        {3, 1, 8, {31}},
    {7, 1, 7, {32}},      {2, 1, 7, {32}},        {2, 2, 2, {32}},        {0, 0, 0, {0}},
};
enum { JOBS = sizeof published / sizeof *published };

static struct project published_project(struct arena *arena) {
    struct activity *activities = NEW(arena, struct activity, JOBS);
    struct activity_link *links = NEW(arena, struct activity_link, 3 * JOBS);
    struct project project = {.activities = activities,
                              .count = JOBS,
                              .links = links,
                              .link_count = 0,
                              .capacity = {12, 13, 4, 12},
                              .resources = 4,
                              .hours = {0}};
    for (int i = 0; i < JOBS; i++) {
        activities[i].first = published[i].duration;
        activities[i].pieces = 1;
        activities[i].work[published[i].resource] = published[i].demand;
        for (int k = 0; k < 3 && published[i].after[k]; k++)
            links[project.link_count++] = (struct activity_link){i, published[i].after[k] - 1, -1};
    }
    return project;
}

static void published_instance_has_its_published_makespan(void **state) {
    (void)state;
    struct arena arena = {0};
    struct project project = published_project(&arena);
    struct schedule s = solve(&arena, &project);
    assert_int_equal(s.makespan, 43);
    assert_true(s.optimal);
    assert_true(schedule_serial(&arena, &project).makespan >= 43);
    for (int r = 0; r < 4; r++) project.capacity[r] = 1000;
    assert_int_equal(solve(&arena, &project).makespan, 38);
    arena_free(&arena);
}

/* A known schedule of that length passes the judge, and fails it as soon as it is spoilt. */
static void the_judge_knows_right_from_wrong(void **state) {
    (void)state;
    struct arena arena = {0};
    struct project project = published_project(&arena);
    int64_t start[JOBS] = {0,  4,  0,  0,  12, 32, 5,  5,  10, 6,  13, 15, 4,  17, 23, 13,
                           23, 10, 14, 28, 30, 29, 36, 38, 37, 22, 15, 35, 20, 41, 38, 43};
    int64_t end[JOBS];
    for (int i = 0; i < JOBS; i++) end[i] = start[i] + published[i].duration;
    struct schedule s = {.feasible = true,
                         .start = start,
                         .work_end = end,
                         .end = end,
                         .makespan = 43,
                         .lower_bound = 38,
                         .culprit = -1};
    assert_null(validate_schedule(&project, &s));
    start[1]--, end[1]--; /* job 2 beside job 3: 14 of 12 */
    assert_string_equal(validate_schedule(&project, &s), "a resource is overused");
    start[1]++, end[1]++;
    start[3]++, end[3]++; /* job 10 starts before it has ended */
    assert_string_equal(validate_schedule(&project, &s), "a link is broken");
    start[3]--, end[3]--;
    s.makespan--;
    assert_string_equal(validate_schedule(&project, &s), "the makespan is another");
    s.makespan++;
    project.capacity[0]--;
    assert_non_null(validate_schedule(&project, &s));
    arena_free(&arena);
}

/* --- random projects ------------------------------------------------------------------------- */

enum { MOST = 24 };

struct chance {
    uint64_t state;
};

static int roll(struct chance *c, int below) {
    c->state = c->state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return (int)((c->state >> 33) % (uint64_t)below);
}

struct random_project {
    struct project project;
    struct activity activities[MOST];
    struct activity_link links[MOST * MOST];
    struct period open[3];
};

static void random_hours(struct chance *c, struct random_project *p) {
    int64_t tick = roll(c, 3);
    int count = 1 + roll(c, 3);
    for (int k = 0; k < count; k++) {
        p->open[k] = (struct period){tick, tick + 2 + roll(c, 4)};
        tick = p->open[k].to + roll(c, 4); /* touching now and then */
    }
    p->project.hours = (struct hours){p->open, count, tick, roll(c, (int)tick)};
}

static void random_activity(struct chance *c, struct random_project *p, bool hours) {
    struct activity *a = &p->activities[p->project.count++];
    *a = (struct activity){.first = 1 + roll(c, 3), .each = 1 + roll(c, 2), .pieces = 1};
    if (hours) {
        a->pieces = 1 + roll(c, 2);
        a->wait = roll(c, 3) ? 0 : roll(c, 5);
        a->in_hours = roll(c, 4) > 0;
    }
    for (int r = 0; r < p->project.resources; r++) {
        if (roll(c, 2)) a->work[r] = 1 + roll(c, p->project.capacity[r]);
        if (roll(c, 3) == 0) a->rest[r] = 1 + roll(c, p->project.capacity[r]);
    }
}

static void random_project(struct chance *c, struct random_project *p, int count, bool hours,
                           bool windows) {
    *p = (struct random_project){0};
    p->project.activities = p->activities;
    p->project.links = p->links;
    p->project.resources = 1 + roll(c, 3);
    for (int r = 0; r < p->project.resources; r++) p->project.capacity[r] = 1 + roll(c, 3);
    if (hours) random_hours(c, p);
    while (p->project.count < count) random_activity(c, p, hours);
    for (int after = 1; after < count; after++)
        for (int before = 0; before < after; before++) {
            if (roll(c, 4)) continue;
            int64_t within = windows && roll(c, 2) ? p->activities[before].wait + roll(c, 5) : -1;
            p->links[p->project.link_count++] = (struct activity_link){before, after, within};
        }
}

/* Complete enumeration of starts, activity by activity (links lead from lower to higher numbers).
 */
struct enumeration {
    const struct project *project;
    int64_t limit; /* all is to end by it */
    int64_t start[MOST], work_end[MOST], end[MOST];
};

/* The first and the last start that links leave to activity `i`. */
static void narrow(const struct enumeration *e, int i, int64_t *first, int64_t *last) {
    *first = 0;
    *last = e->limit;
    for (int k = 0; k < e->project->link_count; k++) {
        const struct activity_link *link = &e->project->links[k];
        if (link->after != i) continue;
        int64_t due = e->work_end[link->before] + link->within;
        if (e->end[link->before] > *first) *first = e->end[link->before];
        if (link->within >= 0 && due < *last) *last = due;
    }
}

static bool schedule_exists(struct enumeration *e, int i) {
    if (i == e->project->count) return true;
    int64_t first, last;
    narrow(e, i, &first, &last);
    for (int64_t start = first; start <= last; start++) {
        e->start[i] = start;
        if (!validate_start(e->project, i, start, &e->work_end[i])) continue;
        e->end[i] = e->work_end[i] + e->project->activities[i].wait;
        if (e->end[i] > e->limit) return false; /* a later start never ends earlier */
        if (validate_resources(e->project, e->start, e->work_end, e->end, i + 1) &&
            schedule_exists(e, i + 1))
            return true;
    }
    return false;
}

/* Whether the scheduler finds a shortest schedule; counts what cannot be done. */
static void check_case(const struct random_project *p, int64_t far, int *infeasible) {
    struct arena arena = {0};
    struct schedule s = solve(&arena, &p->project);
    struct enumeration e = {.project = &p->project, .limit = far};
    struct slot slot;
    if (s.feasible) {
        assert_true(s.optimal); /* so small that there is always a proof */
        e.limit = s.makespan - 1;
    } else if (!slot_fit(&p->project.hours, &p->activities[s.culprit], 0, &slot)) {
        e.limit = -1; /* some piece is too long */
    }
    *infeasible += !s.feasible;
    assert_false(e.limit >= 0 && schedule_exists(&e, 0));
    arena_free(&arena);
}

static void check_against_enumeration(uint64_t seed, int cases, int count, bool hours, bool windows,
                                      int64_t far) {
    struct chance chance = {seed};
    int infeasible = 0;
    for (int n = 0; n < cases; n++) {
        struct random_project p;
        random_project(&chance, &p, count, hours, windows);
        check_case(&p, far, &infeasible);
    }
    assert_true(infeasible < cases / 2);
}

static void small_projects_get_the_shortest_of_all_schedules(void **state) {
    (void)state;
    check_against_enumeration(1, 300, 6, false, false, 40);
}

static void small_projects_with_hours_get_the_shortest_of_all_schedules(void **state) {
    (void)state;
    check_against_enumeration(2, 300, 5, true, false, 60);
}

static void small_projects_with_latest_times_get_the_shortest_of_all_schedules(void **state) {
    (void)state;
    check_against_enumeration(3, 300, 5, false, true, 40);
    check_against_enumeration(4, 300, 5, true, true, 60);
}

/* A resource with room to spare that holds one of two kinds at a time. */
static void kinds_kept_apart_get_the_shortest_of_all_schedules(void **state) {
    (void)state;
    struct chance chance = {7};
    int infeasible = 0, longer = 0;
    for (int n = 0; n < 300; n++) {
        struct random_project p;
        random_project(&chance, &p, 5, n % 2, n % 3 == 0);
        struct arena arena = {0};
        p.project.capacity[0] += 2;
        int64_t mixed = solve(&arena, &p.project).makespan;
        p.project.one_kind[0] = true;
        for (int i = 0; i < p.project.count; i++) p.activities[i].kind = 1 + roll(&chance, 2);
        struct schedule s = solve(&arena, &p.project);
        longer += s.feasible && s.makespan > mixed;
        arena_free(&arena);
        check_case(&p, 60, &infeasible);
    }
    assert_true(longer > 30); /* it does bind */
    assert_true(infeasible < 150);
}

/* Two loads of two coats each between a first and a last step, or three of one: what the scheduler
 * puts in order because it makes no difference must make none.  Now and then two loads are alike
 * but for a latest time or a link. */
static void loads_that_are_alike_get_the_shortest_of_all_schedules(void **state) {
    (void)state;
    struct chance chance = {6};
    int infeasible = 0;
    for (int n = 0; n < 300; n++) {
        struct random_project p;
        random_project(&chance, &p, 6, n % 2, false);
        int64_t within = roll(&chance, 2) ? p.activities[1].wait + roll(&chance, 5) : -1;
        bool chains = roll(&chance, 2);
        p.activities[3] = p.activities[1];
        p.activities[4] = p.activities[2];
        if (!chains) p.activities[2] = p.activities[1];
        int64_t other = roll(&chance, 2) ? within : p.activities[1].wait + roll(&chance, 3);
        const struct activity_link two[] = {
            {0, 1, -1},    {1, 2, within}, {2, 5, -1}, {0, 3, -1},
            {3, 4, other}, {4, 5, -1},     {0, 4, -1},
        };
        const struct activity_link three[] = {{0, 1, -1}, {0, 2, -1}, {0, 3, -1}, {1, 5, -1},
                                              {2, 5, -1}, {3, 5, -1}, {0, 4, -1}};
        p.project.links = chains ? two : three;
        p.project.link_count = chains ? 6 + roll(&chance, 2) : 7;
        check_case(&p, 60, &infeasible);
    }
    assert_true(infeasible < 150);
}

/* The same project with its activities numbered anew. */
static void renumber(struct chance *c, const struct random_project *p, struct random_project *q) {
    int count = p->project.count, number[MOST];
    for (int i = 0; i < count; i++) number[i] = i;
    for (int i = count - 1; i > 0; i--) {
        int k = roll(c, i + 1), kept = number[i];
        number[i] = number[k];
        number[k] = kept;
    }
    *q = *p;
    q->project.activities = q->activities;
    q->project.links = q->links;
    for (int i = 0; i < count; i++) q->activities[number[i]] = p->activities[i];
    for (int k = 0; k < p->project.link_count; k++) {
        q->links[k].before = number[p->links[k].before];
        q->links[k].after = number[p->links[k].after];
    }
}

/* Fewer links: more to decide. */
static void thin_links(struct chance *c, struct random_project *p) {
    int kept = 0;
    for (int k = 0; k < p->project.link_count; k++)
        if (roll(c, 4) == 0) p->links[kept++] = p->links[k];
    p->project.link_count = kept;
}

/* Another numbering and another number of nodes lead the search another way, but no bound that is
 * proved on the one way is above a schedule that is found on the other. */
static void another_way_of_search_leads_to_no_other_end(void **state) {
    (void)state;
    enum { CASES = 40, WAYS = 4 };
    struct chance chance = {151};
    int proved = 0;
    for (int n = 0; n < CASES; n++) {
        struct arena arena = {0};
        struct random_project p, q;
        random_project(&chance, &p, MOST, n % 2, n % 3 == 0);
        thin_links(&chance, &p);
        renumber(&chance, &p, &q);
        int64_t bound = 0, makespan = INT64_MAX;
        for (int way = 0; way < WAYS; way++) {
            struct project *project = way % 2 ? &p.project : &q.project;
            struct schedule s = schedule_solve(&arena, project, way / 2 ? 30000 : 3000);
            if (s.lower_bound > bound) bound = s.lower_bound;
            if (!s.feasible) continue;
            assert_null(validate_schedule(project, &s));
            if (s.makespan < makespan) makespan = s.makespan;
            proved += s.optimal;
        }
        assert_true(bound <= makespan);
        arena_free(&arena);
    }
    assert_true(proved > CASES * WAYS / 2); /* or there is nothing to compare */
}

/* Loads that are alike go on in the order of their numbers. */
static void full_loads_keep_their_order(void **state) {
    (void)state;
    struct arena arena = {0};
    struct activity activities[6];
    struct activity_link links[3];
    for (int i = 0; i < 6; i++) {
        activities[i] = (struct activity){.first = 1, .pieces = 1, .wait = i % 2 ? 5 : 2};
        activities[i].work[0] = activities[i].rest[0] = 2;
    }
    for (int load = 0; load < 3; load++)
        links[load] = (struct activity_link){2 * load, 2 * load + 1, 4};
    struct project project = {.activities = activities,
                              .count = 6,
                              .links = links,
                              .link_count = 3,
                              .capacity = {3},
                              .resources = 1,
                              .hours = {0}};
    struct schedule s = solve(&arena, &project);
    assert_int_equal(s.makespan, 27);
    assert_true(s.optimal && s.start[0] < s.start[2] && s.start[2] < s.start[4]);
    arena_free(&arena);
}

static void schedules_are_sound_and_never_longer_than_serial_generation(void **state) {
    (void)state;
    struct chance chance = {5};
    for (int n = 0; n < 500; n++) {
        struct arena arena = {0};
        struct random_project p;
        random_project(&chance, &p, 8, n % 2, n % 3 == 0);
        struct schedule serial = schedule_serial(&arena, &p.project);
        /* With hardly any nodes too. */
        struct schedule hasty = schedule_solve(&arena, &p.project, n % 50);
        struct schedule s = solve(&arena, &p.project);
        if (serial.feasible) {
            assert_null(validate_schedule(&p.project, &serial));
            assert_null(validate_schedule(&p.project, &hasty));
            assert_true(s.feasible && s.makespan <= hasty.makespan);
            assert_true(hasty.makespan <= serial.makespan);
        }
        arena_free(&arena);
    }
}

static void same_project_same_schedule(void **state) {
    (void)state;
    struct arena arena = {0};
    const struct workshop shop = {40, 6, 4, 3, true};
    struct project project = workshop_project(&arena, &shop);
    struct schedule a = solve(&arena, &project), b = solve(&arena, &project);
    assert_int_equal(a.nodes, b.nodes);
    assert_int_equal(a.lower_bound, b.lower_bound);
    assert_memory_equal(a.start, b.start, (size_t)project.count * sizeof *a.start);
    arena_free(&arena);
}

/* --- runs ------------------------------------------------------------------------------------ */

static void a_usual_run_is_proved_shortest(void **state) {
    (void)state;
    for (int make = 1; make <= 12; make++)
        for (int evenings_only = 0; evenings_only < 2; evenings_only++) {
            struct arena arena = {0};
            const struct workshop shop = {make, 6, 4, 3, evenings_only};
            struct project project = workshop_project(&arena, &shop);
            struct schedule s = solve(&arena, &project);
            assert_true(s.optimal);
            assert_true(s.nodes < SCHEDULE_NODE_LIMIT / 10);
            arena_free(&arena);
        }
}

static void nodes_bound_the_largest_run(void **state) {
    (void)state;
    struct arena arena = {0};
    const struct workshop shop = {500, 6, 3, 4, true};
    struct project project = workshop_project(&arena, &shop);
    struct schedule s = solve(&arena, &project), serial = schedule_serial(&arena, &project);
    assert_true(s.feasible && serial.feasible);
    assert_true(s.makespan <= serial.makespan);
    /* One generation and the tidying of the result may go beyond the limit. */
    assert_true(s.nodes < SCHEDULE_NODE_LIMIT + 400L * project.count);
    arena_free(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pieces_pause_over_the_night_and_the_weekend),
        cmocka_unit_test(a_day_without_opening_is_passed_over),
        cmocka_unit_test(openings_that_touch_at_midnight_are_one),
        cmocka_unit_test(a_week_that_is_open_throughout_never_closes),
        cmocka_unit_test(the_run_begins_where_the_origin_says),
        cmocka_unit_test(work_outside_hours_and_no_work_start_at_once),
        cmocka_unit_test(waits_run_on_while_the_shop_is_closed),
        cmocka_unit_test(a_chain_of_coats_waits_until_all_of_it_fits),
        cmocka_unit_test(latest_times_count_from_the_end_of_the_work),
        cmocka_unit_test(a_chain_waits_for_its_resources),
        cmocka_unit_test(what_a_chain_needs_is_listed_ahead_of_it),
        cmocka_unit_test(a_latest_time_that_no_week_can_keep_is_told),
        cmocka_unit_test(impossible_work_is_told_by_its_culprit),
        cmocka_unit_test(nothing_to_do_takes_no_time),
        cmocka_unit_test(published_instance_has_its_published_makespan),
        cmocka_unit_test(the_judge_knows_right_from_wrong),
        cmocka_unit_test(small_projects_get_the_shortest_of_all_schedules),
        cmocka_unit_test(small_projects_with_hours_get_the_shortest_of_all_schedules),
        cmocka_unit_test(small_projects_with_latest_times_get_the_shortest_of_all_schedules),
        cmocka_unit_test(kinds_kept_apart_get_the_shortest_of_all_schedules),
        cmocka_unit_test(loads_that_are_alike_get_the_shortest_of_all_schedules),
        cmocka_unit_test(another_way_of_search_leads_to_no_other_end),
        cmocka_unit_test(full_loads_keep_their_order),
        cmocka_unit_test(schedules_are_sound_and_never_longer_than_serial_generation),
        cmocka_unit_test(same_project_same_schedule),
        cmocka_unit_test(a_usual_run_is_proved_shortest),
        cmocka_unit_test(nodes_bound_the_largest_run),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
