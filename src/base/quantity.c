/* Reading and showing quantities: numbers (base/number.h) with their units (base/unit.h), gauges
 * and drills (base/gauge.h), and what to say when they are none.
 */
#include "base/quantity.h"

#include <math.h>
#include <stdarg.h>
#include <string.h>

#include "base/buf.h"
#include "base/diag.h"
#include "base/gauge.h"
#include "base/number.h"

/* Messages */

static const char COMPOUNDS[] = "such as 1 h 30 min, 1 lb 4 oz, 1 ft 2 1/2 in";

struct request {
    struct arena *arena;
    struct str text; /* trimmed */
    enum dimension dimension;
};

__attribute__((format(printf, 3, 4))) static struct reading
wrong(const struct request *request, const char *hint, const char *format, ...) {
    struct buf message = {.arena = request->arena};
    va_list args;
    va_start(args, format);
    buf_vprintf(&message, format, args);
    va_end(args);
    return (struct reading){.error = message.data, .hint = hint};
}

static const char *quoted(const struct request *request) {
    return diag_quote(request->arena, request->text);
}

static const char *due(const struct request *request) {
    return dimension_name(request->dimension);
}

static const char *such_as(const struct request *request) {
    return arena_printf(request->arena, "such as %s", dimension_example(request->dimension));
}

/* The text with another character for its commas, or without them if that is a zero byte. */
static const char *without_commas(const struct request *request, char instead) {
    struct buf buf = {.arena = request->arena};
    for (size_t i = 0; i < request->text.size; i++) {
        char c = request->text.data[i] == ',' ? instead : request->text.data[i];
        if (c) buf_char(&buf, c);
    }
    return buf.data;
}

/* 1,000 can be a thousand or a decimal; 12,5 and 0,125 are decimals only. */
static struct reading wrong_comma(const struct request *request) {
    struct str text = request->text;
    const char *comma = memchr(text.data, ',', text.size);
    struct scan after = {comma + 1, text.data + text.size};
    bool thousand = number_skip_digits(&after) == 3 && text.data[0] != '0' && comma > text.data &&
                    comma - text.data <= 3;
    const char *decimal = without_commas(request, '.'), *plain = without_commas(request, '\0');
    const char *as_decimal = diag_quote(request->arena, str_of(decimal));
    struct reading reading;
    if (!thousand) {
        reading = wrong(request, arena_printf(request->arena, "write %s", as_decimal),
                        "a comma is not a decimal sign");
        reading.example[0] = decimal;
        return reading;
    }
    bool either = scan_peek(&after) != ',' && scan_peek(&after) != '.';
    const char *hint =
        arena_printf(request->arena, "write %s", diag_quote(request->arena, str_of(plain)));
    if (either) hint = arena_printf(request->arena, "%s, or %s if that is meant", hint, as_decimal);
    reading = wrong(request, hint, "a comma has no place in a number");
    reading.example[0] = plain;
    reading.example[1] = either ? decimal : NULL;
    return reading;
}

static struct reading wrong_number(const struct request *request, enum number_fault fault) {
    switch (fault) {
    case NUMBER_COMMA:
        return wrong_comma(request);
    case NUMBER_SEPARATOR:
        return wrong(request, "write 1000 for a thousand, and 6 1/2 for six and a half",
                     "the digits of a number stand together, unlike %s", quoted(request));
    case NUMBER_EXPONENT:
        return wrong(request, such_as(request), "a number has no exponent, unlike %s",
                     quoted(request));
    case NUMBER_LONG:
        return wrong(request, NULL, "a number has at most %d digits", NUMBER_DIGITS_MAX);
    case NUMBER_POINT:
        return wrong(request, such_as(request), "%s has a decimal point too many", quoted(request));
    case NUMBER_FRACTION:
        return wrong(request, "such as 3/8 or 6 1/2",
                     "a fraction is one whole number over another, unlike %s", quoted(request));
    case NUMBER_OVER_ZERO:
        return wrong(request, NULL, "a fraction cannot stand over zero");
    case NUMBER_NONE:
    case NUMBER_FINE:
        break;
    }
    if (request->text.size == 0)
        return wrong(request, such_as(request), "%s is due here", due(request));
    return wrong(request, such_as(request), "%s is due, %s is none", due(request), quoted(request));
}

/* The number as it stands, with a unit; a fraction is likely to be of an inch. */
static struct reading wrong_bare(const struct request *request, double value) {
    const char *text = quoted(request);
    bool fraction = memchr(request->text.data, '/', request->text.size) != NULL;
    bool length = dimension_measured(request->dimension) == DIM_LENGTH;
    const char *unit = fraction && length ? "in" : dimension_unit(request->dimension)->name;
    struct buf hint = {.arena = request->arena};
    buf_printf(&hint, "write %.*s %s'", (int)strlen(text) - 1, text, unit);
    if (request->dimension == DIM_WIRE) buf_text(&hint, ", or a gauge such as '18 awg'");
    if (request->dimension == DIM_DRILL) buf_text(&hint, ", or a number drill such as 'no 30'");
    if (request->dimension == DIM_SHARE && value > 0 && value <= 1)
        buf_printf(&hint, ", or '%.10g %%' if that is meant", value * 100);
    struct reading reading =
        wrong(request, hint.data, "%s is due, %s has no unit", due(request), text);
    reading.example[0] =
        arena_printf(request->arena, "%.*s %s", (int)request->text.size, request->text.data, unit);
    if (request->dimension == DIM_SHARE && value > 0 && value <= 1)
        reading.example[1] = arena_printf(request->arena, "%.10g %%", value * 100);
    return reading;
}

static const char *find_gauge(const char *name) {
    const char *system;
    for (size_t i = 0; (system = gauge_system(i)); i++)
        if (str_is_any_case(str_of(name), system)) return system;
    return NULL;
}

static bool is_gauge_word(const char *name) {
    static const char *const WORDS[] = {"gauge", "gauge.", "ga", "ga.", "gage"};
    for (size_t i = 0; i < sizeof WORDS / sizeof *WORDS; i++)
        if (str_is_any_case(str_of(name), WORDS[i])) return true;
    return find_gauge(name) != NULL;
}

/* 1:30, which may be hours or minutes: both are written out. */
static struct reading wrong_clock(const struct request *request, double value, struct scan after) {
    struct scan minutes = after;
    struct number number;
    bool whole = value == floor(value) && !number_take(&minutes, &number) &&
                 minutes.at == minutes.end && number.value < 60;
    if (!whole)
        return wrong(request, COMPOUNDS, "%s is due, unlike %s", due(request), quoted(request));
    const char *hours = arena_printf(request->arena, "%.0f h %.0f min", value, number.value);
    struct reading reading =
        wrong(request,
              arena_printf(request->arena, "write '%s', or '%.0f min %.0f s' if that is meant",
                           hours, value, number.value),
              "a time is written with its units, unlike %s", quoted(request));
    reading.example[0] = hours;
    return reading;
}

static struct reading wrong_unit(const struct request *request, const struct unit_word *word) {
    const char *name = diag_quote(request->arena, word->written);
    if (is_gauge_word(word->name))
        return wrong(request, such_as(request), "%s is due, %s is a wire gauge", due(request),
                     name);
    const char *meant = unit_meant(word, request->dimension);
    const char *hint = meant ? arena_printf(request->arena, "did you mean '%s'?", meant)
                             : unit_list(request->arena, request->dimension);
    return wrong(request, hint, "unknown unit %s", name);
}

/* Gauges and drills */

static struct reading wrong_gauge(const struct request *request, int number) {
    struct buf hint = {.arena = request->arena};
    const char *system, *comma = "";
    for (size_t i = 0; (system = gauge_system(i)); i++) {
        double diameter = gauge_wire(system, number);
        if (diameter <= 0) continue;
        buf_printf(&hint, "%s%d %s is %.2f mm", comma, number, system, diameter * 1000);
        comma = ", ";
    }
    return wrong(request, hint.size ? hint.data : such_as(request),
                 "%s does not say which gauge it is", quoted(request));
}

static struct reading wire_gauge(const struct request *request, struct number number,
                                 const struct unit_word *word) {
    const char *system = find_gauge(word->name);
    if (!number.is_size)
        return wrong(request, "such as 18 awg", "a gauge is a whole number of two digits at most");
    if (!system) return wrong_gauge(request, (int)number.value);
    double diameter = gauge_wire(system, (int)number.value);
    if (diameter <= 0)
        return wrong(request, "write the diameter, such as 1.2 mm", "there is no %d %s",
                     (int)number.value, system);
    return (struct reading){.value = diameter};
}

static struct reading number_drill(const struct request *request, struct scan scan) {
    struct number number;
    scan_skip_blanks(&scan);
    enum number_fault fault = number_take(&scan, &number);
    double diameter = fault || !number.is_size ? 0 : gauge_drill_number((int)number.value);
    if (diameter <= 0 || scan.at < scan.end)
        return wrong(request, "number drills are no 1 to no 80", "there is no drill %s",
                     quoted(request));
    return (struct reading){.value = diameter};
}

static struct reading letter_drill(const struct request *request, struct scan scan) {
    scan_skip_blanks(&scan);
    char letter = scan_peek(&scan);
    if (letter >= 'a' && letter <= 'z') letter = (char)(letter - 'a' + 'A');
    double diameter = scan.end - scan.at == 1 ? gauge_drill_letter(letter) : 0;
    if (diameter <= 0)
        return wrong(request, "letter drills are letter A to letter Z", "there is no drill %s",
                     quoted(request));
    return (struct reading){.value = diameter};
}

/* Reading */

static struct reading check_unit(const struct request *request, const struct unit *unit,
                                 const struct unit_word *word, const struct unit *last) {
    if (unit->dimension != dimension_measured(request->dimension))
        return wrong(request, such_as(request), "%s is due, %s is %s", due(request),
                     diag_quote(request->arena, word->written), dimension_name(unit->dimension));
    if (last && !dimension_is_compound(unit->dimension))
        return wrong(request, such_as(request), "%s is one number with its unit, unlike %s",
                     due(request), quoted(request));
    if (last && unit->scale >= last->scale)
        return wrong(request, COMPOUNDS, "units go from large to small, unlike %s",
                     quoted(request));
    return (struct reading){.unit = unit};
}

/* One number with its unit after another.  `last` is the unit before. */
static struct reading take_quantity(const struct request *request, struct scan scan) {
    struct reading sum = {0};
    const struct unit *last = NULL;
    const char *start = scan.at;
    bool negative = number_take_minus(&scan);
    bool sign = scan.at > start;
    do {
        struct number number;
        struct unit_word word;
        enum number_fault fault = number_take(&scan, &number);
        if (fault) return wrong_number(request, fault);
        scan_skip_blanks(&scan);
        if (scan.at == scan.end && last)
            return wrong(request, COMPOUNDS, "the last number of %s has no unit", quoted(request));
        if (scan.at == scan.end) return wrong_bare(request, number.value);
        if (dimension_measured(request->dimension) == DIM_TIME && scan_take(&scan, ":"))
            return wrong_clock(request, number.value, scan);
        const struct unit *unit = unit_take(&scan, &word);
        scan_skip_blanks(&scan);
        bool alone = !last && !sign && scan.at == scan.end;
        if (!unit && request->dimension == DIM_WIRE && alone && is_gauge_word(word.name))
            return wire_gauge(request, number, &word);
        if (!unit) return wrong_unit(request, &word);
        struct reading checked = check_unit(request, unit, &word, last);
        if (checked.error) return checked;
        double value = negative ? -number.value : number.value;
        sum.value += value * unit->scale + unit->offset;
        if (!last) sum.unit = unit;
        last = unit;
    } while (scan.at < scan.end);
    return sum;
}

static struct reading take_plain_number(const struct request *request, struct scan scan) {
    struct number number;
    bool negative = number_take_minus(&scan);
    enum number_fault fault = number_take(&scan, &number);
    if (fault) return wrong_number(request, fault);
    scan_skip_blanks(&scan);
    if (scan.at < scan.end)
        return wrong(request, such_as(request), "a plain number is due, %s is more than that",
                     quoted(request));
    return (struct reading){.value = negative ? 0 - number.value : number.value};
}

static struct scan scan_of(struct str text) {
    struct scan scan = {text.data, text.data + text.size};
    scan_skip_blanks(&scan);
    return scan;
}

static struct request request_of(struct arena *arena, struct scan scan, enum dimension dimension) {
    const char *end = scan.end;
    while (end > scan.at && (end[-1] == ' ' || end[-1] == '\n' || end[-1] == '\t')) end--;
    return (struct request){arena, {scan.at, (size_t)(end - scan.at)}, dimension};
}

struct reading quantity_parse(struct arena *arena, struct str text, enum dimension dimension) {
    struct scan scan = scan_of(text);
    struct request request = request_of(arena, scan, dimension);
    scan.end = request.text.data + request.text.size;
    if (dimension == DIM_NUMBER) return take_plain_number(&request, scan);
    if (dimension == DIM_DRILL && scan_take_any_case(&scan, "no"))
        return number_drill(&request, scan);
    if (dimension == DIM_DRILL && scan_take_any_case(&scan, "letter"))
        return letter_drill(&request, scan);
    return take_quantity(&request, scan);
}

/* Parts */

static bool take_basis(struct scan *scan, bool *by_mass) {
    if (scan->at == scan->end) return true;
    if (!scan_take(scan, "by") || !scan_skip_blanks(scan)) return false;
    *by_mass = scan_take(scan, "mass");
    return (*by_mass || scan_take(scan, "volume")) && scan->at == scan->end;
}

const char *parts_parse(struct arena *arena, struct str text, struct parts *parts,
                        const char **hint) {
    struct scan scan = scan_of(text);
    struct request request = request_of(arena, scan, DIM_NUMBER);
    scan.end = request.text.data + request.text.size;
    struct number first, second;
    *parts = (struct parts){0};
    *hint = "such as 2:1 or 2:1 by mass";
    bool read = number_take(&scan, &first) == NUMBER_FINE;
    scan_skip_blanks(&scan);
    read = read && scan_take(&scan, ":");
    scan_skip_blanks(&scan);
    read = read && number_take(&scan, &second) == NUMBER_FINE;
    scan_skip_blanks(&scan);
    if (!read || !take_basis(&scan, &parts->by_mass))
        return arena_printf(arena, "parts are due, %s is none", quoted(&request));
    if (first.value <= 0 || second.value <= 0)
        return arena_printf(arena, "both parts are more than zero, unlike %s", quoted(&request));
    parts->first = first.value;
    parts->second = second.value;
    return NULL;
}

/* Showing */

const char *quantity_show(struct arena *arena, double value, enum dimension dimension,
                          const struct unit *unit, int digits) {
    struct buf buf = {.arena = arena};
    if (!unit) unit = dimension_unit(dimension);
    if (unit) value = (value - unit->offset) / unit->scale;
    if (digits < 1) digits = 1;
    if (digits > 17) digits = 17;
    if (isfinite(value))
        number_show(&buf, value, digits);
    else
        buf_text(&buf, isnan(value) ? "nan" : "infinite");
    if (unit) buf_printf(&buf, " %s", unit->name);
    return buf.data;
}
