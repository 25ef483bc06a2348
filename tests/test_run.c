/* Dates, opening hours, and runs that keep every rule there is: judged by what a run says of
 * itself, without looking at how it was found. */
#include "recipe_text.h"

#include "base/clock.h"
#include "compute/work/run.h"

/* --- the calendar ---------------------------------------------------------------------------- */

static struct moment on(int year, int month, int day) {
    return (struct moment){year, month, day, 0, 0, true};
}

/* Known from any calendar. */
static void weekdays_are_those_of_the_calendar(void **state) {
    (void)state;
    static const struct {
        int year, month, day, weekday; /* 0 = Monday */
    } known[] = {
        {2026, 11, 25, 2}, {2000, 1, 1, 5}, {1970, 1, 1, 3}, {1969, 7, 20, 6},
        {2024, 2, 29, 3},  {1900, 1, 1, 0}, {2100, 3, 1, 0}, {1999, 12, 31, 4},
    };
    for (size_t i = 0; i < sizeof known / sizeof *known; i++)
        assert_int_equal(moment_weekday(on(known[i].year, known[i].month, known[i].day)),
                         known[i].weekday);
}

/* Zeller's congruence (1887), Monday = 0. */
static int zeller(int year, int month, int day) {
    if (month < 3) month += 12, year--;
    int century = year / 100, of_century = year % 100;
    int h =
        (day + 13 * (month + 1) / 5 + of_century + of_century / 4 + century / 4 + 5 * century) % 7;
    return (h + 5) % 7; /* there 0 is Saturday */
}

static int days_in(int year, int month) {
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    bool leap = year % 400 == 0 || (year % 4 == 0 && year % 100 != 0);
    return days[month - 1] + (month == 2 && leap);
}

/* Every day of 250 years follows the one before. */
static void days_follow_one_another(void **state) {
    (void)state;
    struct moment start = on(1900, 1, 1);
    int64_t day = 0;
    for (int year = 1900; year < 2150; year++)
        for (int month = 1; month <= 12; month++)
            for (int date = 1; date <= days_in(year, month); date++, day++) {
                struct moment m = moment_after(start, day * 86400);
                if (m.year != year || m.month != month || m.day != date)
                    print_error("%d-%d-%d is not %d-%d-%d\n", m.year, m.month, m.day, year, month,
                                date);
                assert_true(m.year == year && m.month == month && m.day == date);
                assert_int_equal(moment_weekday(m), zeller(year, month, date));
            }
}

static void seconds_carry_into_minutes_hours_and_days(void **state) {
    (void)state;
    struct moment start = {2028, 2, 28, 23, 30, true};
    struct moment m = moment_after(start, 45 * 60 + 59);
    assert_int_equal(m.month, 2);
    assert_int_equal(m.day, 29); /* a leap year */
    assert_int_equal(m.hour, 0);
    assert_int_equal(m.minute, 15);
    m = moment_after((struct moment){2026, 12, 31, 23, 59, true}, 60);
    assert_int_equal(m.year, 2027);
    assert_int_equal(m.month, 1);
    assert_int_equal(m.day, 1);
    assert_int_equal(moment_second_of_week((struct moment){2026, 11, 25, 9, 5, true}),
                     2 * 86400 + 9 * 3600 + 5 * 60);
}

/* --- a run judged by what it says ------------------------------------------------------------ */

struct ran {
    const struct recipe *recipe;
    struct run run;
};

static const char *const wheel_finish =
    "finish:\n  seal: {}\n  paint: {layers: [{colour: white, kind: opaque}, {colour: green, kind: "
    "transparent, where: back}]}\n  topcoat: {kind: epoxy, coats: 2}\n";

static struct ran run_with(struct bench *b, int make, const char *shop, const char *steps) {
    struct ran r = {
        .recipe = bench_good(
            b, PARTS(.head = arena_printf(&b->arena, "recipe: 1\nname: Box\nmake: %d\n", make),
                     .body = swimmer_body, .hardware = swimmer_hardware,
                     .lip = "lip: {thickness: 2 mm, length: 34 mm, width: 20 mm, shape: "
                            "round, at: 8 mm, angle: 35 deg, slot: 10 mm}\n",
                     .ballast = "ballast: {bores: [{at: 50 mm, drill: 9 mm, load: [{mass: 6 "
                                "g}]}]}\n",
                     .eyes = swimmer_eyes, .finish = wheel_finish, .shop = shop, .steps = steps))};
    struct route planned = route_of(&b->arena, r.recipe, 0.01, &b->diags);
    if (b->diags.errors) print_error("%s", bench_said(b));
    assert_int_equal(b->diags.errors, 0);
    r.run = run_of(&b->arena, r.recipe, &planned);
    return r;
}

static const struct run_step *step_of(const struct ran *r, int operation, int load) {
    for (int i = 0; i < r->run.count; i++)
        if (r->run.steps[i].operation == operation && (!load || r->run.steps[i].load == load))
            return &r->run.steps[i];
    return NULL;
}

/* Whether the shop is open all the time between two seconds of the run. */
static bool open_between(const struct ran *r, int64_t from, int64_t to) {
    const struct hours *open = r->recipe->shop->open;
    if (!open) return true;
    for (int64_t at = from / 60 * 60; at < to; at += 60) { /* openings begin and end on minutes */
        int64_t of_week = (at + r->run.hours.origin) % (7 * 86400);
        bool is_open = false;
        for (int i = 0; i < open->count; i++)
            is_open |= of_week >= open->period[i].from && of_week < open->period[i].to;
        if (!is_open) return false;
    }
    return true;
}

static int loads_of(const struct ran *r, int operation) {
    int loads = 0;
    for (int i = 0; i < r->run.count; i++) loads += r->run.steps[i].operation == operation;
    return loads;
}

/* Every step once for each load, with all its plugs; waits as long as the route says. */
static void check_steps(const struct ran *r) {
    int64_t last = 0, hands_on = 0;
    for (int o = 0; o < r->run.route.count; o++) {
        const struct operation *operation = &r->run.route.operations[o];
        int plugs = 0, loads = loads_of(r, o);
        assert_true(loads >= 1);
        if (!operation->coat && !operation->by_wheel) assert_int_equal(loads, 1);
        for (int load = 1; load <= loads; load++)
            assert_non_null(step_of(r, o, loads > 1 ? load : 0));
        for (int i = 0; i < r->run.count; i++) {
            const struct run_step *s = &r->run.steps[i];
            if (s->operation != o) continue;
            plugs += s->plugs;
            assert_true(s->plugs >= 1 && s->start >= 0 && s->work_end >= s->start);
            assert_int_equal(s->end, s->work_end + llround(operation->wait));
            assert_int_equal(s->hands_on,
                             llround(operation->fixed) + llround(operation->each) * s->plugs);
            assert_true(s->work_end - s->start >= s->hands_on);
            if (s->end > last) last = s->end;
            hands_on += s->hands_on;
        }
        assert_int_equal(plugs, r->recipe->make);
    }
    assert_int_equal(r->run.makespan, last);
    assert_int_equal(r->run.hands_on, hands_on);
    assert_true(r->run.lower_bound <= r->run.makespan);
    if (r->run.optimal) assert_int_equal(r->run.lower_bound, r->run.makespan);
}

/* Nothing begins before what it follows has ended, or after its recoat window has closed.  Where
 * both go by the same loads, each load waits for itself alone. */
static void check_order(const struct ran *r) {
    for (int i = 0; i < r->run.route.link_count; i++) {
        const struct precedence *link = &r->run.route.links[i];
        bool by_load = loads_of(r, link->before) == loads_of(r, link->after);
        for (int k = 0; k < r->run.count; k++) {
            const struct run_step *after = &r->run.steps[k];
            if (after->operation != link->after) continue;
            for (int m = 0; m < r->run.count; m++) {
                const struct run_step *before = &r->run.steps[m];
                if (before->operation != link->before) continue;
                if (by_load && before->load != after->load) continue;
                assert_true(after->start >= before->end);
                if (link->within > 0)
                    assert_true(after->start <= before->work_end + llround(link->within));
            }
        }
    }
}

/* One builder: no two steps are worked on at once. */
static void check_builder(const struct ran *r) {
    for (int i = 0; i < r->run.count; i++)
        for (int k = i + 1; k < r->run.count; k++) {
            const struct run_step *a = &r->run.steps[i], *b = &r->run.steps[k];
            if (a->hands_on && b->hands_on)
                assert_true(a->work_end <= b->start || b->work_end <= a->start);
        }
}

/* When a load leaves the wheel: its wait goes on elsewhere. */
static int64_t off_wheel(const struct ran *r, const struct run_step *step) {
    int64_t held = llround(r->run.route.operations[step->operation].held);
    return step->work_end + held < step->end ? step->work_end + held : step->end;
}

/* The wheel never turns more plugs than it holds, a coat's own time on it included. */
static void check_wheel(const struct ran *r) {
    for (int i = 0; i < r->run.count; i++) {
        int turning = 0;
        int64_t at = r->run.steps[i].start; /* the number changes only where a step begins */
        for (int k = 0; k < r->run.count; k++) {
            const struct run_step *s = &r->run.steps[k];
            if (r->run.route.operations[s->operation].station == AT_WHEEL && s->start <= at &&
                at < off_wheel(r, s))
                turning += s->plugs;
        }
        assert_true(turning <= r->recipe->shop->wheel);
    }
}

/* Stints: within the hours, none longer than a step, every plug in one of them. */
static void check_stints(const struct ran *r) {
    for (int i = 0; i < r->run.count; i++) {
        const struct run_step *s = &r->run.steps[i];
        const struct operation *operation = &r->run.route.operations[s->operation];
        int64_t worked = 0, from = -1, to = -1;
        int next = 1, stints = 0;
        for (int k = 0; k < r->run.stint_count; k++) {
            const struct stint *stint = &r->run.stints[k];
            if (stint->step != i) continue;
            if (from < 0) from = stint->from;
            assert_true(stint->from >= to);
            to = stint->to;
            worked += stint->to - stint->from;
            assert_int_equal(stint->first_plug, next);
            next = stint->last_plug + 1;
            stints++;
            assert_int_equal(stint->last, next == s->plugs + 1);
            assert_true(open_between(r, stint->from, stint->to));
        }
        assert_int_equal(worked, s->hands_on);
        if (!stints) continue;
        assert_int_equal(from, s->start);
        assert_int_equal(to, s->work_end);
        assert_int_equal(next, s->plugs + 1);
        if (operation->coat) assert_int_equal(stints, 1);
    }
}

static void check_run(const struct ran *r) {
    assert_true(r->run.feasible);
    check_steps(r);
    check_order(r);
    check_builder(r);
    check_wheel(r);
    check_stints(r);
}

static const char *const shops[] = {
    NULL,
    "shop: {wheel: 4, open: {mon: \"18:00-21:30\", wed: \"18:00-21:30\", sat: [\"09:00-12:00\", "
    "\"13:00-17:00\"]}}\n",
    "shop: {start: 2026-11-25T20:15, open: {mon: \"19:00-22:00\", tue: \"19:00-22:00\", wed: "
    "\"19:00-22:00\", thu: \"19:00-22:00\", fri: \"20:00-24:00\", sat: [\"00:00-02:00\", "
    "\"10:00-18:00\"]}}\n",
    "shop: {temperature: 14 degC, wheel: 1}\n",
};

static void runs_of_one_six_and_forty_keep_every_rule(void **state) {
    static const int makes[] = {1, 6, 40};
    for (size_t shop = 0; shop < sizeof shops / sizeof *shops; shop++)
        for (int i = 0; i < 3; i++) {
            struct ran r = run_with(*state, makes[i], shops[shop], NULL);
            check_run(&r);
        }
}

static void the_same_recipe_runs_the_same_way_every_time(void **state) {
    struct ran one = run_with(*state, 13, shops[1], NULL),
               other = run_with(*state, 13, shops[1], NULL);
    assert_int_equal(one.run.count, other.run.count);
    for (int i = 0; i < one.run.count; i++) {
        assert_int_equal(one.run.steps[i].operation, other.run.steps[i].operation);
        assert_int_equal(one.run.steps[i].start, other.run.steps[i].start);
    }
}

static void more_plugs_never_take_less_work(void **state) {
    int64_t last = 0;
    for (int make = 1; make <= 15; make += 2) {
        struct ran r = run_with(*state, make, NULL, NULL);
        assert_true(r.run.hands_on > last);
        last = r.run.hands_on;
    }
}

/* --- hours ----------------------------------------------------------------------------------- */

static void openings_that_touch_over_midnight_count_as_one(void **state) {
    static const struct {
        const char *open;
        int minutes;
    } cases[] = {
        {"{fri: \"20:00-24:00\", sat: \"00:00-02:00\"}", 6 * 60},
        {"{sun: \"21:00-24:00\", mon: [\"00:00-01:00\", \"18:00-20:00\"]}", 4 * 60},
        {"{wed: [\"09:00-12:00\", \"12:00-16:30\"]}", 7 * 60 + 30},
        {"{wed: [\"09:00-12:00\", \"12:01-16:30\"]}", 4 * 60 + 29},
        {"{fri: \"20:00-23:59\", sat: \"00:00-02:00\"}", 3 * 60 + 59},
    };
    struct bench *b = *state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct ran r =
            run_with(b, 2, arena_printf(&b->arena, "shop: {open: %s}\n", cases[i].open), NULL);
        assert_int_equal(hours_longest(&r.run.hours), cases[i].minutes * 60);
        check_run(&r);
    }
}

static void a_shop_that_is_always_open_has_no_longest_opening(void **state) {
    struct ran r = run_with(*state, 2, NULL, NULL);
    assert_int_equal(hours_longest(&r.run.hours), 0);
    assert_int_equal(r.run.hours.origin, 0);
    assert_int_equal(r.run.steps[0].start, 0);
}

static void open_day_and_night_is_as_good_as_no_hours_at_all(void **state) {
    struct ran always = run_with(*state, 7, NULL, NULL);
    struct ran whole = run_with(
        *state, 7,
        "shop: {open: {mon: \"00:00-24:00\", tue: \"00:00-24:00\", wed: \"00:00-24:00\", thu: "
        "\"00:00-24:00\", fri: \"00:00-24:00\", sat: \"00:00-24:00\", sun: \"00:00-24:00\"}}\n",
        NULL);
    assert_int_equal(hours_longest(&whole.run.hours), 7 * 86400);
    assert_int_equal(whole.run.makespan, always.run.makespan);
    check_run(&whole);
}

static void a_run_begins_with_the_first_opening_after_its_start(void **state) {
    /* 2026-11-25 is a Wednesday; at 22:30 the shop is closed until Saturday at nine */
    struct ran r = run_with(*state, 2,
                            "shop: {start: 2026-11-25T22:30, open: {wed: \"18:00-22:00\", sat: "
                            "\"09:00-17:00\"}}\n",
                            NULL);
    struct moment first = moment_after(r.recipe->shop->start, r.run.steps[0].start);
    assert_int_equal(first.day, 28);
    assert_int_equal(first.hour, 9);
    assert_int_equal(first.minute, 0);
    check_run(&r);
}

static void a_run_without_a_date_begins_with_the_first_opening_of_the_week(void **state) {
    struct ran r =
        run_with(*state, 2, "shop: {open: {thu: \"18:00-22:00\", sat: \"09:00-17:00\"}}\n", NULL);
    assert_int_equal(r.run.hours.origin, 3 * 86400 + 18 * 3600);
    assert_int_equal(r.run.steps[0].start, 0);
    check_run(&r);
}

static void a_start_in_the_past_is_a_start_like_any_other(void **state) {
    static const char open[] = "open: {mon: \"18:00-22:00\", sat: \"09:00-17:00\"}}\n";
    struct bench *b = *state;
    /* both Mondays at six in the evening */
    struct ran past =
        run_with(b, 3, arena_printf(&b->arena, "shop: {start: 2001-01-01T18:00, %s", open), NULL);
    struct ran later =
        run_with(b, 3, arena_printf(&b->arena, "shop: {start: 2026-11-30T18:00, %s", open), NULL);
    assert_int_equal(past.run.makespan, later.run.makespan);
    check_run(&past);
}

static void a_run_goes_over_the_leap_day(void **state) {
    /* 2028-02-28 is a Monday: two evenings later it is the first of March */
    struct ran r = run_with(*state, 1,
                            "shop: {start: 2028-02-28T18:00, open: {mon: \"18:00-22:00\", tue: "
                            "\"18:00-22:00\", wed: \"18:00-22:00\", thu: \"18:00-22:00\"}}\n",
                            NULL);
    bool leap_day = false, march = false;
    for (int i = 0; i < r.run.count; i++) {
        struct moment m = moment_after(r.recipe->shop->start, r.run.steps[i].start);
        leap_day |= m.month == 2 && m.day == 29;
        march |= m.month == 3 && m.day == 1;
        if (r.run.steps[i].hands_on) assert_true(m.hour >= 18 && m.hour < 22);
    }
    assert_true(leap_day && march);
    check_run(&r);
}

/* Six minutes a plug and three beside: 40 plugs are split between plugs over the evenings. */
static void bench_work_is_split_between_plugs_and_coats_are_not(void **state) {
    struct ran r = run_with(*state, 40, shops[1], NULL);
    check_run(&r);
    int split = 0;
    for (int i = 0; i < r.run.stint_count; i++) split += !r.run.stints[i].last;
    assert_true(split > 0);
}

static void work_longer_than_every_opening_makes_a_run_impossible(void **state) {
    struct ran r =
        run_with(*state, 1, "shop: {open: {mon: \"18:00-20:00\", sat: \"09:00-11:30\"}}\n",
                 "steps: [{add: inlay, title: Inlay, after: sand, hands-on: 2 h 31 min}]\n");
    assert_false(r.run.feasible);
    assert_string_equal(r.run.route.operations[r.run.culprit].id, "inlay");
    assert_int_equal(hours_longest(&r.run.hours), 150 * 60);
    r = run_with(*state, 1, "shop: {open: {mon: \"18:00-20:00\", sat: \"09:00-11:30\"}}\n",
                 "steps: [{add: inlay, title: Inlay, after: sand, hands-on: 2 h 30 min}]\n");
    check_run(&r);
}

/* --- topcoats -------------------------------------------------------------------------------- */

/* By the row of epoxy the wheel turns for 4 h of the day that the last coat cures. */
static void the_wheel_is_free_again_when_it_has_turned_long_enough(void **state) {
    struct ran r = run_with(*state, 12, "shop: {temperature: 21 degC, wheel: 6}\n", NULL);
    int last = route_find(&r.run.route, str_of("topcoat-2"));
    const struct run_step *one = step_of(&r, last, 1), *other = step_of(&r, last, 2);
    assert_int_equal(r.run.route.operations[last].station, AT_WHEEL);
    assert_int_equal(one->end - one->work_end, 24 * 3600);
    assert_int_equal(one->plugs, 6);
    assert_true(other->start >= one->work_end + 4 * 3600);
    assert_true(other->start < one->end);
    check_run(&r);
}

/* A wait of the recipe's own that is shorter than the turning ends it. */
static void the_wheel_is_held_no_longer_than_the_step_waits(void **state) {
    struct ran r = run_with(*state, 12, "shop: {temperature: 21 degC, wheel: 6}\n",
                            "steps: [{change: topcoat-2, wait: 2 h}]\n");
    int last = route_find(&r.run.route, str_of("topcoat-2"));
    assert_int_equal(step_of(&r, last, 1)->end - step_of(&r, last, 1)->work_end, 2 * 3600);
    check_run(&r);
}

/* What hangs still goes round the wheel, however small that is. */
static void a_topcoat_that_is_not_turned_needs_no_wheel(void **state) {
    static const struct {
        const char *kind;
        enum station_used place;
    } kinds[] = {{"varnish", AT_BENCH}, {"lacquer", AT_SPRAY}, {"light-cured resin", AT_BENCH}};
    struct bench *b = *state;
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++) {
        const char *finish =
            arena_printf(&b->arena, "finish: {topcoat: {kind: %s, coats: 2}}\n", kinds[i].kind);
        const struct recipe *recipe =
            bench_good(b, PARTS(.head = "recipe: 1\nname: Box\nmake: 9\n", .finish = finish,
                                .shop = "shop: {wheel: 1}\n"));
        struct route route = route_of(&b->arena, recipe, 0.01, &b->diags);
        struct ran r = {.recipe = recipe, .run = run_of(&b->arena, recipe, &route)};
        int coat = route_find(&r.run.route, str_of("topcoat-1"));
        assert_int_equal(r.run.route.operations[coat].station, kinds[i].place);
        assert_int_equal(step_of(&r, coat, 0)->plugs, 9);
        assert_int_equal(r.run.topcoat_load, 9);
        check_run(&r);
    }
}

/* Three coats of an hour each do not fit an evening of two hours and a half: none is laid at night.
 */
static void every_coat_of_sealer_is_laid_in_open_hours(void **state) {
    struct ran r = run_with(*state, 6,
                            "shop: {open: {mon: \"18:00-20:30\", tue: \"18:00-20:30\", "
                            "sat: \"09:00-17:00\"}}\n",
                            NULL);
    int first = route_find(&r.run.route, str_of("seal-1"));
    int second = route_find(&r.run.route, str_of("seal-2"));
    assert_true(step_of(&r, second, 0)->start >= step_of(&r, first, 0)->work_end + 3600);
    assert_true(step_of(&r, first, 0)->hands_on > 0 && step_of(&r, second, 0)->hands_on > 0);
    check_run(&r);
}

static void more_plugs_than_the_wheel_holds_make_loads(void **state) {
    struct ran r = run_with(*state, 14, "shop: {wheel: 6}\n", NULL);
    int coat = route_find(&r.run.route, str_of("topcoat-1"));
    assert_int_equal(step_of(&r, coat, 1)->plugs, 6);
    assert_int_equal(step_of(&r, coat, 2)->plugs, 6);
    assert_int_equal(step_of(&r, coat, 3)->plugs, 2);
    check_run(&r);
}

/* A coat is laid on a whole load in one go: what an opening is too short for makes smaller loads.
 */
static void a_coat_that_no_opening_is_long_enough_for_goes_by_loads(void **state) {
    struct ran r =
        run_with(*state, 40, "shop: {open: {mon: \"18:00-19:00\", thu: \"18:00-19:00\"}}\n", NULL);
    int seal = route_find(&r.run.route, str_of("seal-1"));
    assert_true(loads_of(&r, seal) > 1);
    for (int i = 0; i < r.run.count; i++)
        if (r.run.route.operations[r.run.steps[i].operation].coat)
            assert_true(r.run.steps[i].hands_on <= 3600);
    check_run(&r);
}

static void a_step_of_ones_own_at_the_wheel_goes_by_loads_too(void **state) {
    struct ran r = run_with(*state, 10, "shop: {wheel: 4}\n",
                            "steps: [{add: dip, title: Dip, after: colour-2, before: topcoat-1, "
                            "needs: wheel, hands-on: 2 min, wait: 2 h}]\n");
    assert_non_null(step_of(&r, route_find(&r.run.route, str_of("dip")), 3));
    check_run(&r);
}

/* Open on Saturdays alone, the second coat cannot be laid within 24 hours: it is scuffed. */
static void a_window_that_the_hours_cannot_keep_is_opened_by_scuffing(void **state) {
    struct ran r = run_with(*state, 2, "shop: {open: {sat: \"09:00-12:00\"}}\n", NULL);
    int scuff = route_find(&r.run.route, str_of("scuff-2"));
    struct bench *b = *state;
    struct route planned = route_of(&b->arena, r.recipe, 0.01, &b->diags);
    assert_int_equal(route_find(&planned, str_of("scuff-2")), -1); /* the run puts it in */
    assert_true(scuff >= 0);
    check_run(&r);
    struct ran kept = run_with(*state, 2, "shop: {open: {sat: \"09:00-17:00\"}}\n", NULL);
    assert_int_equal(route_find(&kept.run.route, str_of("scuff-2")),
                     -1); /* 4 h later is still open */
    check_run(&kept);
}

/* Varnish hangs and never sees the wheel: its window closes in a shop that opens once a week too.
 */
static void a_coat_that_hangs_is_scuffed_like_one_on_the_wheel(void **state) {
    struct bench *b = *state;
    const struct recipe *recipe =
        bench_good(b, PARTS(.finish = "finish: {topcoat: {kind: varnish, coats: 2}}\n",
                            .shop = "shop: {open: {sat: \"09:00-12:00\"}}\n"));
    struct route planned = route_of(&b->arena, recipe, 0.01, &b->diags);
    struct ran r = {.recipe = recipe, .run = run_of(&b->arena, recipe, &planned)};
    assert_true(r.run.feasible);
    assert_true(route_find(&r.run.route, str_of("scuff-2")) >= 0);
    check_run(&r);
}

static void a_step_knows_when_its_window_closes(void **state) {
    struct ran r = run_with(*state, 2, "shop: {temperature: 21 degC}\n", NULL);
    int first = route_find(&r.run.route, str_of("topcoat-1"));
    int second = route_find(&r.run.route, str_of("topcoat-2"));
    assert_int_equal(step_of(&r, second, 0)->latest, step_of(&r, first, 0)->work_end + 24 * 3600);
    assert_int_equal(step_of(&r, first, 0)->latest, -1);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(weekdays_are_those_of_the_calendar),
        BENCH_TEST(days_follow_one_another),
        BENCH_TEST(seconds_carry_into_minutes_hours_and_days),
        BENCH_TEST(runs_of_one_six_and_forty_keep_every_rule),
        BENCH_TEST(the_same_recipe_runs_the_same_way_every_time),
        BENCH_TEST(more_plugs_never_take_less_work),
        BENCH_TEST(openings_that_touch_over_midnight_count_as_one),
        BENCH_TEST(a_shop_that_is_always_open_has_no_longest_opening),
        BENCH_TEST(open_day_and_night_is_as_good_as_no_hours_at_all),
        BENCH_TEST(a_run_begins_with_the_first_opening_after_its_start),
        BENCH_TEST(a_run_without_a_date_begins_with_the_first_opening_of_the_week),
        BENCH_TEST(a_start_in_the_past_is_a_start_like_any_other),
        BENCH_TEST(a_run_goes_over_the_leap_day),
        BENCH_TEST(bench_work_is_split_between_plugs_and_coats_are_not),
        BENCH_TEST(work_longer_than_every_opening_makes_a_run_impossible),
        BENCH_TEST(the_wheel_is_free_again_when_it_has_turned_long_enough),
        BENCH_TEST(the_wheel_is_held_no_longer_than_the_step_waits),
        BENCH_TEST(a_topcoat_that_is_not_turned_needs_no_wheel),
        BENCH_TEST(every_coat_of_sealer_is_laid_in_open_hours),
        BENCH_TEST(more_plugs_than_the_wheel_holds_make_loads),
        BENCH_TEST(a_coat_that_no_opening_is_long_enough_for_goes_by_loads),
        BENCH_TEST(a_step_of_ones_own_at_the_wheel_goes_by_loads_too),
        BENCH_TEST(a_window_that_the_hours_cannot_keep_is_opened_by_scuffing),
        BENCH_TEST(a_coat_that_hangs_is_scuffed_like_one_on_the_wheel),
        BENCH_TEST(a_step_knows_when_its_window_closes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
