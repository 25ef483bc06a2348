/* The run as iCalendar, held against RFC 5545 (Internet Calendaring and Scheduling Core Object
 * Specification, 2009): content lines 3.1, TEXT 3.3.11, floating times 3.3.5, VEVENT 3.6.1,
 * VALARM 3.6.6. */
#include "recipe_text.h"

#include "compute/rework.h"
#include "compute/work/sitting.h"
#include "emit/calendar.h"

static const char shop[] = "shop: {start: 2026-12-05T09:00, open: {sat: \"09:00-12:00\", "
                           "sun: \"10:00-13:00\"}, wheel: 2}\n";

static struct recipe_parts coated(const char *head) {
    return PARTS(SWIMMER, .head = head, .shop = shop);
}

static struct compilation compiled(struct bench *b, struct recipe_parts parts) {
    struct compilation c = bench_compile(b, parts);
    if (c.diags.errors) print_error("%s", bench_said(b));
    assert_int_equal(c.diags.errors, 0);
    return c;
}

static const char *calendar_of(struct bench *b, struct recipe_parts parts) {
    struct compilation c = compiled(b, parts);
    struct buf out = {.arena = &b->arena};
    calendar_emit(&out, c.recipe, &c.results);
    return out.data;
}

/* Lines as RFC 5545 reads them: folds undone.  Checks CRLF and the 75 octets on the way. */
static const char *unfolded(struct bench *b, const char *text) {
    struct buf out = {.arena = &b->arena};
    size_t octets = 0;
    for (const char *p = text; *p; p++) {
        if (*p == '\r') {
            assert_int_equal(p[1], '\n');
            assert_true(octets <= 75);
            if (p[2] == ' ') {
                assert_false(((unsigned char)p[3] & 0xC0) == 0x80); /* no character is cut */
                p += 2;
                octets = 1;
                continue;
            }
            octets = 0;
            buf_char(&out, '\n');
            p++;
        } else {
            assert_int_not_equal(*p, '\n'); /* never bare */
            octets++;
            buf_char(&out, *p);
        }
    }
    return out.data;
}

static int count(const char *text, const char *words) {
    int found = 0;
    for (const char *at = text; (at = strstr(at, words)); at++) found++;
    return found;
}

static void lines_are_folded_and_events_closed(void **state) {
    struct bench *b = *state;
    const char *plain = unfolded(b, calendar_of(b, coated("recipe: 1\nname: Smew\nmake: 3\n")));
    assert_true(strncmp(plain, "BEGIN:VCALENDAR\nVERSION:2.0\nPRODID:", 35) == 0);
    assert_string_equal(plain + strlen(plain) - 14, "END:VCALENDAR\n");
    int events = count(plain, "BEGIN:VEVENT\n");
    assert_int_equal(count(plain, "END:VEVENT\n"), events);
    /* 3.6.1: UID and DTSTAMP once in every event, and DTSTART */
    assert_int_equal(count(plain, "\nUID:"), events);
    assert_int_equal(count(plain, "\nDTSTAMP:"), events);
    assert_int_equal(count(plain, "\nDTSTART:"), events);
    /* 3.6.6: a display alarm has ACTION, TRIGGER and DESCRIPTION */
    int ahead = count(plain, "BEGIN:VALARM\nACTION:DISPLAY\nTRIGGER:-PT5M\nDESCRIPTION:") +
                count(plain, "BEGIN:VALARM\nACTION:DISPLAY\nTRIGGER:-PT60M\nDESCRIPTION:");
    int then = count(plain, "BEGIN:VALARM\nACTION:DISPLAY\nTRIGGER:PT0S\nDESCRIPTION:");
    assert_int_equal(ahead + then, count(plain, "BEGIN:VALARM"));
}

/* Two coats of two loads, two plugs and one: each has a pot life and a wheel, and the second coat
 * of each a latest beginning.  Nothing else has an alarm. */
static void every_deadline_rings_and_every_sitting_stands_once(void **state) {
    struct bench *b = *state;
    struct compilation c =
        compiled(b, PARTS(.body = swimmer_body, .hardware = swimmer_hardware, .shop = shop,
                          .head = "recipe: 1\nname: Smew\nmake: 3\n",
                          .finish = "finish:\n  topcoat: {kind: epoxy, coats: 2, pot life: 30 min, "
                                    "recoat: {after: 4 h, before: 72 h}}\n"));
    struct buf out = {.arena = &b->arena};
    calendar_emit(&out, c.recipe, &c.results);
    const char *plain = unfolded(b, out.data);
    assert_int_equal(count(plain, "TRIGGER:PT0S"), 2 * 2);
    assert_int_equal(count(plain, "TRIGGER:-PT5M"), 2 * 2);
    assert_int_equal(count(plain, "TRIGGER:-PT60M"), 2);
    int sittings = sitting_count(c.recipe, &c.results.run);
    assert_true(sittings > 3);
    assert_int_equal(count(plain, "BEGIN:VEVENT\n"), sittings + 10);
    assert_int_equal(rework_sittings(&b->arena, &c.results).all, sittings);
}

/* No seconds anywhere, and every line of work is in a description. */
static void times_are_whole_minutes(void **state) {
    struct bench *b = *state;
    struct compilation c = compiled(b, coated("recipe: 1\nname: Smew\nmake: 3\n"));
    struct buf out = {.arena = &b->arena};
    calendar_emit(&out, c.recipe, &c.results);
    const char *plain = unfolded(b, out.data);
    for (const char *at = plain; (at = strstr(at, "\nDT")); at++) {
        const char *time = strchr(strchr(at, ':'), 'T');
        assert_int_equal(strncmp(time + 5, "00", 2), 0);
    }
    int lines = 0;
    for (const char *at = plain; (at = strstr(at, "\nDESCRIPTION:")); at++) {
        const char *end = strchr(at + 1, '\n');
        if (strstr(at, "END:V") && strncmp(end + 1, "END:VEVENT", 10) != 0) continue;
        lines++;
        for (const char *p = at; p < end; p++) lines += p[0] == '\\' && p[1] == 'n';
    }
    assert_int_equal(lines, c.results.run.stint_count);
}

static void uids_are_unique_and_stay(void **state) {
    struct bench *b = *state;
    const char *head = "recipe: 1\nname: Smew\nmake: 3\n";
    const char *first = unfolded(b, calendar_of(b, coated(head)));
    const char *again =
        unfolded(b, calendar_of(b, PARTS(SWIMMER, .head = head, .shop = shop,
                                         .water = "water: {temperature: 4 degC}\n")));
    for (const char *at = first; (at = strstr(at, "\nUID:")); at++) {
        size_t size = strcspn(at + 1, "\n") + 2;
        const char *uid = arena_copy(&b->arena, at, size);
        assert_int_equal(count(first, uid), 1);
        assert_int_equal(count(again, uid), 1); /* other water, same run, same UIDs */
    }
}

static void times_float(void **state) {
    struct bench *b = *state;
    const char *plain = unfolded(b, calendar_of(b, coated("recipe: 1\nname: Smew\n")));
    assert_non_null(strstr(plain, "\nDTSTART:20261205T090000\n")); /* no Z, no TZID */
    assert_null(strstr(plain, "TZID"));
    assert_non_null(strstr(plain, "\nDTSTAMP:20261205T000000Z\n")); /* 3.8.7.2: in UTC */
}

static void text_is_escaped(void **state) {
    struct bench *b = *state;
    const char *head = "recipe: 1\nname: 'a;b,c\\d'\n";
    const char *plain = unfolded(b, calendar_of(b, coated(head)));
    assert_non_null(strstr(plain, "\nSUMMARY:a\\;b\\,c\\\\d: "));
}

static void long_names_fold_between_characters(void **state) {
    struct bench *b = *state;
    const char *head = "recipe: 1\nname: "
                       "\u00e4\u00f6\u00fc\u00e4\u00f6\u00fc\u00e4\u00f6\u00fc\u00e4\u00f6\u00fc"
                       "\u00e4\u00f6\u00fc\u00e4\u00f6\u00fc\u00e4\u00f6\u00fc\u00e4\u00f6\u00fc"
                       "\u00e4\u00f6\u00fc\u00e4\u00f6\u00fc\u00e4\u00f6\u00fc\u00e4\u00f6\u00fc\n";
    unfolded(b, calendar_of(b, coated(head)));
}

static void a_run_without_a_start_has_no_calendar(void **state) {
    struct bench *b = *state;
    assert_null(calendar_of(b, PARTS(SWIMMER, .head = "recipe: 1\nname: Smew\n")));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        BENCH_TEST(lines_are_folded_and_events_closed),
        BENCH_TEST(every_deadline_rings_and_every_sitting_stands_once),
        BENCH_TEST(times_are_whole_minutes),
        BENCH_TEST(uids_are_unique_and_stay),
        BENCH_TEST(times_float),
        BENCH_TEST(text_is_escaped),
        BENCH_TEST(long_names_fold_between_characters),
        BENCH_TEST(a_run_without_a_start_has_no_calendar),
    };
    return cmocka_run_group_tests_name("calendar", tests, NULL, NULL);
}
