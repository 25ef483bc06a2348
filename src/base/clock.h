/* Local clock time without a zone: dates and weekdays (proleptic Gregorian calendar).
 *
 * A day has 24 hours here, always: a recipe's times are what the shop's clock shows, and a change
 * to or from summer time is the clock's affair (RFC 5545 calls such times floating).
 */
#ifndef PLUGWRIGHT_CLOCK_H
#define PLUGWRIGHT_CLOCK_H

#include <stdbool.h>
#include <stdint.h>

enum {
    WEEKDAYS = 7, /* Monday first, as ISO 8601 counts */
    SECONDS_OF_MINUTE = 60,
    SECONDS_OF_DAY = 24 * 60 * SECONDS_OF_MINUTE,
    SECONDS_OF_WEEK = WEEKDAYS * SECONDS_OF_DAY,
};

extern const char *const clock_weekday[WEEKDAYS]; /* "mon", as recipes name it */

struct moment {
    int year, month, day, hour, minute;
    bool given;
};

struct moment moment_after(struct moment start, int64_t seconds);
int64_t moment_between(struct moment from, struct moment to); /* seconds */
int moment_weekday(struct moment moment);                     /* 0 = Monday */
int64_t moment_second_of_week(struct moment moment);          /* 0 = Monday 00:00 */

#endif
