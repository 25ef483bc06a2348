/* Reading and showing numbers.
 *
 * A number is read as a whole number of at most 15 digits over a power of ten or a denominator, all
 * of which a double holds exactly, so that one division, rounded once, gives the nearest double.
 */
#include "base/number.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

enum { PLACES_MAX = 22 }; /* 10^22 is the largest power of ten that a double holds exactly */

/* Scanning */

bool scan_is_digit(char c) {
    return c >= '0' && c <= '9';
}

char scan_peek(const struct scan *scan) {
    return scan->at < scan->end ? *scan->at : '\0';
}

bool scan_take(struct scan *scan, const char *text) {
    size_t size = strlen(text);
    if ((size_t)(scan->end - scan->at) < size || memcmp(scan->at, text, size) != 0) return false;
    scan->at += size;
    return true;
}

bool scan_take_blank(struct scan *scan) {
    switch (scan_peek(scan)) {
    case ' ':
    case '\t':
    case '\n':
    case '\r':
        scan->at++;
        return true;
    case '\xC2':
        return scan_take(scan, "\xC2\xA0"); /* no-break space */
    case '\xE2':
        return scan_take(scan, "\xE2\x80\x89") || scan_take(scan, "\xE2\x80\xAF"); /* thin ones */
    default:
        return false;
    }
}

bool scan_skip_blanks(struct scan *scan) {
    const char *before = scan->at;
    while (scan_take_blank(scan)) continue;
    return scan->at > before;
}

bool scan_take_any_case(struct scan *scan, const char *lower) {
    size_t size = strlen(lower);
    if ((size_t)(scan->end - scan->at) < size) return false;
    if (!str_is_any_case((struct str){scan->at, size}, lower)) return false;
    scan->at += size;
    return true;
}

/* Numbers */

struct digits {
    uint64_t value;
    size_t count;    /* all of them */
    int significant; /* without leading zeros */
};

static void take_digits(struct scan *scan, struct digits *digits) {
    for (; scan_is_digit(scan_peek(scan)); scan->at++) {
        digits->count++;
        if (digits->significant == 0 && *scan->at == '0') continue;
        if (digits->significant == NUMBER_DIGITS_MAX + 1) continue;
        digits->significant++;
        digits->value = digits->value * 10 + (uint64_t)(*scan->at - '0');
    }
}

/* What follows the digits before the point. */
static enum number_fault take_decimals(struct scan *scan, struct digits *digits, double *value) {
    static const double POWERS[PLACES_MAX + 1] = {
        1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,  1e8,  1e9,  1e10, 1e11,
        1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
    };
    size_t before = digits->count;
    take_digits(scan, digits);
    size_t places = digits->count - before;
    if (digits->count == 0) return NUMBER_NONE;
    if (places == 0) return NUMBER_POINT;
    if (digits->significant > NUMBER_DIGITS_MAX || places > PLACES_MAX) return NUMBER_LONG;
    *value = (double)digits->value / POWERS[places];
    return NUMBER_FINE;
}

/* What follows the line of a fraction. */
static enum number_fault take_denominator(struct scan *scan, const struct digits *above,
                                          double *value) {
    struct digits under = {0};
    take_digits(scan, &under);
    if (under.count == 0) return NUMBER_FRACTION;
    if (above->significant > NUMBER_DIGITS_MAX || under.significant > NUMBER_DIGITS_MAX)
        return NUMBER_LONG;
    if (under.value == 0) return NUMBER_OVER_ZERO;
    *value = (double)above->value / (double)under.value;
    return NUMBER_FINE;
}

/* A fraction that is one sign, as word processors make them. */
static bool take_sign(struct scan *scan, double *value) {
    static const struct {
        const char *sign;
        double above, under;
    } SIGNS[] = {
        {"\xC2\xBD", 1, 2},     {"\xC2\xBC", 1, 4},     {"\xC2\xBE", 3, 4},
        {"\xE2\x85\x93", 1, 3}, {"\xE2\x85\x94", 2, 3}, {"\xE2\x85\x9B", 1, 8},
        {"\xE2\x85\x9C", 3, 8}, {"\xE2\x85\x9D", 5, 8}, {"\xE2\x85\x9E", 7, 8},
    };
    struct scan ahead = *scan;
    scan_skip_blanks(&ahead);
    if ((unsigned char)scan_peek(&ahead) < 0x80) return false;
    for (size_t i = 0; i < sizeof SIGNS / sizeof *SIGNS; i++) {
        if (!scan_take(&ahead, SIGNS[i].sign)) continue;
        *scan = ahead;
        *value += SIGNS[i].above / SIGNS[i].under;
        return true;
    }
    return false;
}

/* "-1/2" behind a whole number, as in 4-1/2: not a minus, for nothing is taken away here. */
static bool take_hyphen(struct scan *scan) {
    struct scan ahead = *scan;
    if (!scan_take(&ahead, "-") || number_skip_digits(&ahead) == 0) return false;
    if (scan_peek(&ahead) != '/') return false;
    scan->at++;
    return true;
}

/* A whole number stands before; what follows after a blank or a hyphen may be a fraction that
 * belongs to it. */
static enum number_fault take_mixed(struct scan *scan, double *value) {
    struct scan ahead = *scan;
    if (take_sign(scan, value)) return NUMBER_FINE;
    bool apart = scan_skip_blanks(&ahead) || take_hyphen(&ahead);
    if (!apart || !scan_is_digit(scan_peek(&ahead))) return NUMBER_FINE;
    struct digits above = {0};
    double part = 0;
    take_digits(&ahead, &above);
    if (!scan_take(&ahead, "/")) return NUMBER_SEPARATOR;
    enum number_fault fault = take_denominator(&ahead, &above, &part);
    *scan = ahead;
    *value += part;
    return fault;
}

/* What cannot follow a number, whatever comes next. */
static enum number_fault check_end_of_number(const struct scan *scan) {
    struct scan next = {scan->at < scan->end ? scan->at + 1 : scan->end, scan->end};
    switch (scan_peek(scan)) {
    case ',':
        return NUMBER_COMMA;
    case '.':
        return NUMBER_POINT;
    case '/':
        return NUMBER_FRACTION;
    case '\'':
    case '_':
        return scan_is_digit(scan_peek(&next)) ? NUMBER_SEPARATOR : NUMBER_FINE;
    case 'e':
    case 'E':
        if (scan_peek(&next) == '+' || scan_peek(&next) == '-') next.at++;
        return scan_is_digit(scan_peek(&next)) ? NUMBER_EXPONENT : NUMBER_FINE;
    default:
        return NUMBER_FINE;
    }
}

enum number_fault number_take(struct scan *scan, struct number *number) {
    struct digits whole = {0};
    enum number_fault fault = NUMBER_FINE;
    const char *start = scan->at;
    take_digits(scan, &whole);
    number->value = (double)whole.value;
    number->is_size = whole.count == 1 || (whole.count == 2 && *start != '0');
    if (scan_take(scan, ".")) {
        number->is_size = false;
        fault = take_decimals(scan, &whole, &number->value);
    } else if (whole.count == 0 && take_sign(scan, &number->value)) {
        number->is_size = false;
    } else if (whole.count == 0) {
        return scan_peek(scan) == ',' ? NUMBER_COMMA : NUMBER_NONE;
    } else if (scan_take(scan, "/")) {
        number->is_size = false;
        fault = take_denominator(scan, &whole, &number->value);
    } else if (whole.significant > NUMBER_DIGITS_MAX) {
        return NUMBER_LONG;
    } else {
        fault = take_mixed(scan, &number->value);
    }
    return fault ? fault : check_end_of_number(scan);
}

size_t number_skip_digits(struct scan *scan) {
    struct digits digits = {0};
    take_digits(scan, &digits);
    return digits.count;
}

bool number_take_minus(struct scan *scan) {
    if (scan_take(scan, "-") || scan_take(scan, "\xE2\x88\x92")) return true;
    scan_take(scan, "+");
    return false;
}

/* Showing */

/* Places the point in the digits that printf rounds. */
void number_show(struct buf *buf, double value, int digits) {
    if (fabs(value) < 1e-12) value = 0;
    char text[40], figures[32];
    snprintf(text, sizeof text, "%.*e", digits - 1, fabs(value));
    int count = 0, exponent = 0;
    for (const char *c = text; *c && *c != 'e'; c++)
        if (scan_is_digit(*c)) figures[count++] = *c;
    sscanf(strchr(text, 'e') + 1, "%d", &exponent);
    while (count > 1 && figures[count - 1] == '0') count--;
    if (value < 0) buf_char(buf, '-');
    if (exponent < 0) buf_text(buf, "0.");
    for (int zeros = -1 - exponent; zeros > 0; zeros--) buf_char(buf, '0');
    for (int i = 0; i < count; i++) {
        if (i > 0 && i == exponent + 1) buf_char(buf, '.');
        buf_char(buf, figures[i]);
    }
    for (int zeros = exponent + 1 - count; zeros > 0; zeros--) buf_char(buf, '0');
}
