/* Day numbers count from 1970-01-01; years begin in March, so that the leap day comes last, and 400
 * years make one era of 146,097 days. */
#include "base/clock.h"

static const int64_t era_days = 146097;

const char *const clock_weekday[WEEKDAYS] = {"mon", "tue", "wed", "thu", "fri", "sat", "sun"};

static int64_t floor_div(int64_t a, int64_t b) {
    return a / b - (a % b != 0 && (a < 0) != (b < 0));
}

static int64_t day_number(int year, int month, int day) {
    int64_t y = year - (month <= 2), era = floor_div(y, 400), of_era = y - era * 400;
    int64_t of_year = (153 * (month + (month > 2 ? -3 : 9)) + 2) / 5 + day - 1;
    return era * era_days + of_era * 365 + of_era / 4 - of_era / 100 + of_year - 719468;
}

static void date_of(int64_t number, struct moment *moment) {
    number += 719468;
    int64_t era = floor_div(number, era_days), of_era = number - era * era_days;
    int64_t year = (of_era - of_era / 1460 + of_era / 36524 - of_era / 146096) / 365;
    int64_t of_year = of_era - (365 * year + year / 4 - year / 100);
    int64_t month = (5 * of_year + 2) / 153;
    moment->day = (int)(of_year - (153 * month + 2) / 5 + 1);
    moment->month = (int)(month < 10 ? month + 3 : month - 9);
    moment->year = (int)(year + era * 400 + (moment->month <= 2));
}

struct moment moment_after(struct moment start, int64_t seconds) {
    int64_t second = start.hour * 3600 + start.minute * 60 + seconds;
    int64_t days = floor_div(second, SECONDS_OF_DAY);
    struct moment moment = {.given = true};
    second -= days * SECONDS_OF_DAY;
    moment.hour = (int)(second / 3600);
    moment.minute = (int)(second / 60 % 60);
    date_of(day_number(start.year, start.month, start.day) + days, &moment);
    return moment;
}

int64_t moment_between(struct moment from, struct moment to) {
    int64_t days =
        day_number(to.year, to.month, to.day) - day_number(from.year, from.month, from.day);
    return days * SECONDS_OF_DAY + (to.hour - from.hour) * 3600 + (to.minute - from.minute) * 60;
}

/* 1970-01-01 was a Thursday. */
int moment_weekday(struct moment moment) {
    int64_t day = day_number(moment.year, moment.month, moment.day) + 3;
    return (int)(day - floor_div(day, WEEKDAYS) * WEEKDAYS);
}

int64_t moment_second_of_week(struct moment moment) {
    return moment_weekday(moment) * SECONDS_OF_DAY + moment.hour * 3600 + moment.minute * 60;
}
