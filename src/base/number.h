/* Numbers as a bench writes them (12, 12.5, .5, 3/8, 6 1/2), and the scanning that they need.
 *
 * A number has at most 15 digits that count, and its value is the nearest double.  Nothing here
 * knows a locale, allocates while reading, or takes more than linear time.
 */
#ifndef PLUGWRIGHT_NUMBER_H
#define PLUGWRIGHT_NUMBER_H

#include <stdbool.h>

#include "base/buf.h"
#include "base/str.h"

/* What is left of a text. */
struct scan {
    const char *at, *end;
};

char scan_peek(const struct scan *scan);                       /* a zero byte at the end */
bool scan_take(struct scan *scan, const char *text);           /* takes it if it stands next */
bool scan_take_any_case(struct scan *scan, const char *lower); /* the same, in any case */
bool scan_take_blank(struct scan *scan);                       /* no-break spaces count */
bool scan_skip_blanks(struct scan *scan);                      /* whether there was one */
bool scan_is_digit(char c);

enum number_fault {
    NUMBER_FINE,
    NUMBER_NONE,      /* no number here */
    NUMBER_COMMA,     /* 12,5 or 1,000 */
    NUMBER_SEPARATOR, /* 1 000, 1'000 or 1_000 */
    NUMBER_EXPONENT,  /* 1e3 */
    NUMBER_LONG,      /* more digits than NUMBER_DIGITS_MAX */
    NUMBER_POINT,     /* 12. or 1.2.3 */
    NUMBER_FRACTION,  /* 3/ or 1.5/8 or 1/2/3 */
    NUMBER_OVER_ZERO, /* 3/0 */
};

enum { NUMBER_DIGITS_MAX = 15 }; /* 10^15 < 2^53 */

struct number {
    double value;
    bool is_size; /* written as one or two digits, as gauges and drills are */
};

/* Takes a number without a sign. */
enum number_fault number_take(struct scan *scan, struct number *number);

/* Takes a sign if there is one: whether it was a minus. */
bool number_take_minus(struct scan *scan);

/* Takes digits only and returns how many. */
size_t number_skip_digits(struct scan *scan);

/* Writes `value` with at most `digits` significant digits, without an exponent or trailing zeros;
 * what is less than 1e-12 is "0". */
void number_show(struct buf *buf, double value, int digits);

#endif
