#include "command/resume.h"

#include <limits.h>
#include <string.h>

#include "base/hours.h"
#include "compute/work/resume.h"
#include "emit/words/words.h"

/* --- the date -------------------------------------------------------------------------------- */

/* Digits stand where the form has a 9, all else as it is. */
static bool has_form(const char *text, const char *form) {
    if (strlen(text) != strlen(form)) return false;
    for (size_t i = 0; form[i]; i++) {
        bool digit = text[i] >= '0' && text[i] <= '9';
        if (form[i] == '9' ? !digit : text[i] != form[i]) return false;
    }
    return true;
}

static int digits(const char *text, size_t at, int count) {
    int value = 0;
    for (int i = 0; i < count; i++) value = value * 10 + (text[at + (size_t)i] - '0');
    return value;
}

/* A day or a moment that the calendar has. */
static bool read_moment(const char *text, struct moment *moment) {
    bool timed = has_form(text, "9999-99-99T99:99");
    if (!timed && !has_form(text, "9999-99-99")) return false;
    struct moment m = {digits(text, 0, 4), digits(text, 5, 2), digits(text, 8, 2), 0, 0, true};
    if (timed) m.hour = digits(text, 11, 2), m.minute = digits(text, 14, 2);
    struct moment same = moment_after(m, 0);
    *moment = m;
    return m.year >= 1900 && same.year == m.year && same.month == m.month && same.day == m.day &&
           m.hour <= 23 && m.minute <= 59;
}

/* When work can begin on a day or after it; without hours, at the time of day of the first start.
 */
static struct moment first_opening(const struct shop *shop, struct moment day) {
    if (shop->open && shop->open->count) {
        struct hours hours = *shop->open;
        hours.origin = moment_second_of_week(day);
        int64_t from = hours_period_after(&hours, 0).from;
        return moment_after(day, from > 0 ? from : 0);
    }
    if (shop->start.given) day.hour = shop->start.hour, day.minute = shop->start.minute;
    return day;
}

/* --- the steps ------------------------------------------------------------------------------- */

/* The operation that a number on the sheet means, or -1. */
static int operation_numbered(const struct route *route, long number) {
    for (int i = 0; i < route->count; i++)
        if (!route->operations[i].skipped && --number == 0) return i;
    return -1;
}

static int number_of(const struct route *route, int operation) {
    int number = 0;
    for (int i = 0; i <= operation; i++) number += !route->operations[i].skipped;
    return number;
}

/* A number at `*text`, which moves behind it; 0: there is none. */
static long read_number(const char **text) {
    long number = 0;
    for (; **text >= '0' && **text <= '9'; ++*text)
        if (number < INT_MAX / 16) number = number * 10 + (**text - '0');
    return number;
}

static const char *malformed(struct arena *arena, const char *text) {
    return arena_printf(arena,
                        "--done takes numbers of steps as the order prints them, such as 1-9,12, "
                        "not %s",
                        diag_quote(arena, str_of(text)));
}

/* Marks the operations that "1-9,12" names; NULL, or what is wrong. */
static const char *mark_done(struct arena *arena, const struct route *route, const char *text,
                             bool *done) {
    int steps = number_of(route, route->count - 1);
    for (const char *at = text;; at++) {
        long first = read_number(&at), last = first;
        if (*at == '-') at++, last = read_number(&at);
        if ((*at && *at != ',') || first < 1 || last < first) return malformed(arena, text);
        if (last > steps)
            return arena_printf(arena, "--done: there is no step %ld, the order has steps 1 to %d",
                                first > steps ? first : last, steps);
        for (long n = first; n <= last; n++) done[operation_numbered(route, n)] = true;
        if (!*at) return NULL;
    }
}

/* The nearest operation before `operation` that is a step of the sheet and not done. */
static int missing_before(const struct route *route, const bool *done, int operation) {
    while (route->operations[operation].skipped)
        for (int k = 0; k < route->link_count; k++)
            if (route->links[k].after == operation && !done[route->links[k].before]) {
                operation = route->links[k].before;
                break;
            }
    return operation;
}

static const char *out_of_order(struct arena *arena, const struct compilation *c, const bool *done,
                                int after, int link) {
    const struct route *route = &c->results.run.route;
    int before = missing_before(route, done, route->links[link].before);
    const char *reason = route->links[link].reason;
    return arena_printf(
        arena,
        "step %d (%s) cannot be done yet: step %d (%s) comes before it and is not "
        "among the steps of --done%s%s",
        number_of(route, after), words_title(arena, c->recipe, &route->operations[after]),
        number_of(route, before), words_title(arena, c->recipe, &route->operations[before]),
        reason ? "; " : "", reason ? reason : "");
}

const char *resume_compiled(struct arena *arena, struct compilation *c, const char *done,
                            const char *from) {
    const struct route *route = &c->results.run.route;
    struct moment day;
    bool *marks = NULL;
    if (!from) return NULL;
    if (!read_moment(from, &day))
        return arena_printf(arena,
                            "--from takes a date that exists, such as 2027-01-16 or "
                            "2027-01-16T18:30, not %s",
                            diag_quote(arena, str_of(from)));
    if (done) {
        int link;
        marks = NEW(arena, bool, route->count);
        const char *wrong = mark_done(arena, route, done, marks);
        if (wrong) return wrong;
        int after = resume_check(route, marks, &link);
        if (after >= 0) return out_of_order(arena, c, marks, after, link);
    }
    struct shop *shop = c->recipe->shop;
    shop->start = from[10] ? day : first_opening(shop, day);
    results_resume(arena, c->recipe, &c->results, marks);
    if (c->results.run.feasible) return NULL;
    return "what is left of the run does not fit into the opening hours";
}
