/* Conversion factors are those of NIST Handbook 44, Appendix C, unless a case says otherwise. */
#include <float.h>
#include <stdlib.h>

#include "close.h"

#include "base/quantity.h"

static struct arena arena;

static int free_arena(void **state) {
    (void)state;
    arena_free(&arena);
    return 0;
}

static struct reading read_as(const char *text, enum dimension dimension) {
    return quantity_parse(&arena, str_of(text), dimension);
}

/* Cases that are read: the text, its dimension, its value in SI. */
struct reading_case {
    const char *text;
    enum dimension dimension;
    double value;
    const char *unit; /* NULL: none */
};

static void assert_read(const struct reading_case *cases, size_t count) {
    for (size_t i = 0; i < count; i++) {
        struct reading reading = read_as(cases[i].text, cases[i].dimension);
        if (reading.error) fail_msg("%s: %s", cases[i].text, reading.error);
        assert_close(reading.value, cases[i].value, 4 * DBL_EPSILON);
        if (cases[i].unit)
            assert_string_equal(reading.unit->name, cases[i].unit);
        else
            assert_null(reading.unit);
    }
}

#define ASSERT_READ(cases) assert_read(cases, sizeof(cases) / sizeof *(cases))

/* Cases that are refused: the text, its dimension, the error and the hint. */
struct refusal_case {
    const char *text;
    enum dimension dimension;
    const char *error, *hint;
};

static void assert_refused(const struct refusal_case *cases, size_t count) {
    for (size_t i = 0; i < count; i++) {
        struct reading reading = read_as(cases[i].text, cases[i].dimension);
        if (!reading.error) fail_msg("'%s' was read", cases[i].text);
        assert_string_equal(reading.error, cases[i].error);
        if (cases[i].hint)
            assert_string_equal(reading.hint, cases[i].hint);
        else
            assert_null(reading.hint);
    }
}

#define ASSERT_REFUSED(cases) assert_refused(cases, sizeof(cases) / sizeof *(cases))

static void numbers_are_whole_decimal_fraction_or_mixed(void **state) {
    (void)state;
    static const struct reading_case CASES[] = {
        {"12", DIM_NUMBER, 12, NULL},
        {"12.5", DIM_NUMBER, 12.5, NULL},
        {".5", DIM_NUMBER, 0.5, NULL},
        {"3/8", DIM_NUMBER, 0.375, NULL},
        {"6 1/2", DIM_NUMBER, 6.5, NULL},
        {"6  3/4", DIM_NUMBER, 6.75, NULL},
        {"010", DIM_NUMBER, 10, NULL},
        {"-3.25", DIM_NUMBER, -3.25, NULL},
        {"+3.25", DIM_NUMBER, 3.25, NULL},
        {"-6 1/2", DIM_NUMBER, -6.5, NULL},
        {"6-1/2", DIM_NUMBER, 6.5, NULL},
        {"\xC2\xBD", DIM_NUMBER, 0.5, NULL},
        {"4\xC2\xBE", DIM_NUMBER, 4.75, NULL},
        {"4 \xE2\x85\x9C", DIM_NUMBER, 4.375, NULL},
        {" 12 ", DIM_NUMBER, 12, NULL},
        {"12\n", DIM_NUMBER, 12, NULL},
        {"0", DIM_NUMBER, 0, NULL},
        {"0.1", DIM_NUMBER, 0.1, NULL},
        {"999999999999999", DIM_NUMBER, 999999999999999.0, NULL},
        {"0.123456789012345", DIM_NUMBER, 0.123456789012345, NULL},
        {"0.0000000000000000000001", DIM_NUMBER, 1e-22, NULL},
        {"\xE2\x88\x92"
         "2",
         DIM_NUMBER, -2, NULL}, /* U+2212 */
    };
    ASSERT_READ(CASES);
}

static void a_decimal_is_the_nearest_double(void **state) {
    (void)state;
    static const char *const TEXTS[] = {"0.1", "0.3", "152.4", "1.005", "2.675", "1234567.8901234"};
    for (size_t i = 0; i < sizeof TEXTS / sizeof *TEXTS; i++)
        assert_true(read_as(TEXTS[i], DIM_NUMBER).value == strtod(TEXTS[i], NULL));
}

static void minus_zero_is_zero(void **state) {
    (void)state;
    assert_false(signbit(read_as("-0", DIM_NUMBER).value));
    assert_false(signbit(read_as("-0 mm", DIM_LENGTH).value));
}

static void every_unit_of_the_language_is_read(void **state) {
    (void)state;
    static const struct reading_case CASES[] = {
        {"12 um", DIM_LENGTH, 12e-6, "um"},
        {"12 mm", DIM_LENGTH, 0.012, "mm"},
        {"12 cm", DIM_LENGTH, 0.12, "cm"},
        {"12 m", DIM_LENGTH, 12, "m"},
        {"40 thou", DIM_LENGTH, 0.001016, "thou"},
        {"6 in", DIM_LENGTH, 0.1524, "in"},
        {"6\"", DIM_LENGTH, 0.1524, "in"},
        {"2 ft", DIM_LENGTH, 0.6096, "ft"},
        {"500 mg", DIM_MASS, 0.0005, "mg"},
        {"6 g", DIM_MASS, 0.006, "g"},
        {"2 kg", DIM_MASS, 2, "kg"},
        {"100 gr", DIM_MASS, 0.006479891, "gr"},
        {"1 oz", DIM_MASS, 0.028349523125, "oz"},
        {"1 lb", DIM_MASS, 0.45359237, "lb"},
        {"30 ml", DIM_VOLUME, 30e-6, "ml"},
        {"1 l", DIM_VOLUME, 0.001, "l"},
        {"8 cm3", DIM_VOLUME, 8e-6, "cm3"},
        {"1 floz", DIM_VOLUME, 29.5735295625e-6, "floz"},
        {"2 in3", DIM_VOLUME, 32.774128e-6, "in3"},
        {"2 cm2", DIM_AREA, 2e-4, "cm2"},
        {"2 in2", DIM_AREA, 12.9032e-4, "in2"},
        {"20 mm/s", DIM_SPEED, 0.02, "mm/s"},
        {"2 in/s", DIM_SPEED, 0.0508, "in/s"},
        {"40 g/m2", DIM_AREAL_MASS, 0.04, "g/m2"},
        {"1.2 g/cm3", DIM_DENSITY, 1200, "g/cm3"},
        {"400 kg/m3", DIM_DENSITY, 400, "kg/m3"},
        {"25 lb/ft3", DIM_DENSITY, 25 * 16.018463373960142, "lb/ft3"},
        {"90 s", DIM_TIME, 90, "s"},
        {"20 min", DIM_TIME, 1200, "min"},
        {"4 h", DIM_TIME, 14400, "h"},
        {"2 d", DIM_TIME, 172800, "d"},
        {"15 degC", DIM_TEMPERATURE, 15, "degC"},
        {"-5 degC", DIM_TEMPERATURE, -5, "degC"},
        {"212 degF", DIM_TEMPERATURE, 100, "degF"},
        {"-40 degF", DIM_TEMPERATURE, -40, "degF"},
        {"180 deg", DIM_ANGLE, 3.14159265358979323846, "deg"},
        {"25 %", DIM_SHARE, 0.25, "%"},
        {"-2.5%", DIM_SHARE, -0.025, "%"},
        {"35 g/kg", DIM_SALINITY, 35, "g/kg"},
        {"90 N", DIM_FORCE, 90, "N"},
        {"1.5 m/s", DIM_SPEED, 1.5, "m/s"},
        {"5.4 km/h", DIM_SPEED, 1.5, "km/h"},
        {"3 mph", DIM_SPEED, 1.34112, "mph"},
        {"3 kn", DIM_SPEED, 1.5433333333333333, "kn"},
        {"1 kgf", DIM_FORCE, 9.80665, "kgf"},
        {"20 lbf", DIM_FORCE, 88.96443230521, "lbf"},
    };
    ASSERT_READ(CASES);
}

static void the_blank_before_a_unit_is_optional(void **state) {
    (void)state;
    static const struct reading_case CASES[] = {
        {"12mm", DIM_LENGTH, 0.012, "mm"},
        {"12   mm", DIM_LENGTH, 0.012, "mm"},
        {"12\tmm", DIM_LENGTH, 0.012, "mm"},
        {"12\xC2\xA0mm", DIM_LENGTH, 0.012, "mm"},
        {"12\xE2\x80\xAFmm", DIM_LENGTH, 0.012, "mm"},
        {"3/8in", DIM_LENGTH, 0.009525, "in"},
        {" 12 mm\n", DIM_LENGTH, 0.012, "mm"},
        {"12 mm ", DIM_LENGTH, 0.012, "mm"},
    };
    ASSERT_READ(CASES);
}

static void pasted_signs_work(void **state) {
    (void)state;
    static const struct reading_case CASES[] = {
        {"12 \xC2\xB5m", DIM_LENGTH, 12e-6, "um"},   /* U+00B5 micro sign */
        {"12 \xCE\xBCm", DIM_LENGTH, 12e-6, "um"},   /* U+03BC Greek mu */
        {"6\xE2\x80\xB3", DIM_LENGTH, 0.1524, "in"}, /* U+2033 double prime */
        {"30\xC2\xB0", DIM_ANGLE, 0.5235987755982988, "deg"},
        {"15 \xC2\xB0"
         "C",
         DIM_TEMPERATURE, 15, "degC"},
        {"59\xC2\xB0"
         "F",
         DIM_TEMPERATURE, 15, "degF"},
        {"15 \xE2\x84\x83", DIM_TEMPERATURE, 15, "degC"}, /* U+2103 */
        {"40 g/m\xC2\xB2", DIM_AREAL_MASS, 0.04, "g/m2"},
        {"8 cm\xC2\xB3", DIM_VOLUME, 8e-6, "cm3"},
        {"1.2 g/cm\xC2\xB3", DIM_DENSITY, 1200, "g/cm3"},
    };
    ASSERT_READ(CASES);
}

static void case_is_tolerated_where_it_cannot_mislead(void **state) {
    (void)state;
    static const struct reading_case CASES[] = {
        {"6 IN", DIM_LENGTH, 0.1524, "in"},       {"2 Kg", DIM_MASS, 2, "kg"},
        {"30 mL", DIM_VOLUME, 30e-6, "ml"},       {"1 L", DIM_VOLUME, 0.001, "l"},
        {"15 DegC", DIM_TEMPERATURE, 15, "degC"}, {"18 AWG", DIM_WIRE, 0.00102368734, NULL},
    };
    for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
        struct reading reading = read_as(CASES[i].text, CASES[i].dimension);
        assert_null(reading.error);
        assert_close(reading.value, CASES[i].value, 1e-7);
    }
    static const char *const MEGA[] = {"12 M", "12 MM", "12 Mm"};
    for (size_t i = 0; i < sizeof MEGA / sizeof *MEGA; i++)
        assert_non_null(read_as(MEGA[i], DIM_LENGTH).error);
    assert_non_null(read_as("12 Mg", DIM_MASS).error);
    assert_non_null(read_as("12 G", DIM_MASS).error);
    assert_non_null(read_as("12 n", DIM_FORCE).error);
}

static void compounds_go_from_large_units_to_small(void **state) {
    (void)state;
    static const struct reading_case CASES[] = {
        {"1 h 30 min", DIM_TIME, 5400, "h"},         {"1h30min", DIM_TIME, 5400, "h"},
        {"1 d 2 h 3 min 4 s", DIM_TIME, 93784, "d"}, {"1 lb 4 oz", DIM_MASS, 0.56699046250, "lb"},
        {"1 ft 2 1/2 in", DIM_LENGTH, 0.3683, "ft"}, {"-1 ft 2 1/2 in", DIM_LENGTH, -0.3683, "ft"},
        {"1 ft 2 1/2 in", DIM_WIRE, 0.3683, "ft"},   {"1 l 20 ml", DIM_VOLUME, 0.00102, "l"},
    };
    ASSERT_READ(CASES);
    static const struct refusal_case REFUSED[] = {
        {"30 min 1 h", DIM_TIME, "units go from large to small, unlike '30 min 1 h'",
         "such as 1 h 30 min, 1 lb 4 oz, 1 ft 2 1/2 in"},
        {"1 h 1 h", DIM_TIME, "units go from large to small, unlike '1 h 1 h'",
         "such as 1 h 30 min, 1 lb 4 oz, 1 ft 2 1/2 in"},
        {"1 h 30", DIM_TIME, "the last number of '1 h 30' has no unit",
         "such as 1 h 30 min, 1 lb 4 oz, 1 ft 2 1/2 in"},
        {"1 lb 4 mm", DIM_MASS, "a mass is due, 'mm' is a length", "such as 6 g"},
        {"20 degC 5 degF", DIM_TEMPERATURE,
         "a temperature is one number with its unit, unlike '20 degC 5 degF'", "such as 20 degC"},
        {"5 % 3 %", DIM_SHARE, "a share is one number with its unit, unlike '5 % 3 %'",
         "such as 25 %"},
        {"1 h -30 min", DIM_TIME, "a time is due, '1 h -30 min' is none", "such as 20 min"},
    };
    ASSERT_REFUSED(REFUSED);
}

/* Diameters in inches: facts of grammar/tables, checked one by one in test_gauge.c. */
static void wires_and_drills_have_their_own_sizes(void **state) {
    (void)state;
    static const struct reading_case CASES[] = {
        {"1.2 mm", DIM_WIRE, 0.0012, "mm"},
        {"0.040 in", DIM_WIRE, 0.001016, "in"},
        {"18 wm", DIM_WIRE, 0.0475 * 0.0254, NULL},
        {"18 swg", DIM_WIRE, 0.048 * 0.0254, NULL},
        {"18wm", DIM_WIRE, 0.0475 * 0.0254, NULL},
        {"36 awg", DIM_WIRE, 0.005 * 0.0254, NULL},
        {"6 mm", DIM_DRILL, 0.006, "mm"},
        {"1/4 in", DIM_DRILL, 0.00635, "in"},
        {"no 30", DIM_DRILL, 0.1285 * 0.0254, NULL},
        {"No 30", DIM_DRILL, 0.1285 * 0.0254, NULL},
        {"letter F", DIM_DRILL, 0.257 * 0.0254, NULL},
        {"letter f", DIM_DRILL, 0.257 * 0.0254, NULL},
    };
    ASSERT_READ(CASES);
}

static void a_bare_gauge_is_refused_with_its_three_diameters(void **state) {
    (void)state;
    static const char HINT[] = "18 awg is 1.02 mm, 18 wm is 1.21 mm, 18 swg is 1.22 mm";
    static const struct refusal_case CASES[] = {
        {"18 gauge", DIM_WIRE, "'18 gauge' does not say which gauge it is", HINT},
        {"18 ga", DIM_WIRE, "'18 ga' does not say which gauge it is", HINT},
        {"18ga.", DIM_WIRE, "'18ga.' does not say which gauge it is", HINT},
        {"18 GAUGE", DIM_WIRE, "'18 GAUGE' does not say which gauge it is", HINT},
        {"99 gauge", DIM_WIRE, "'99 gauge' does not say which gauge it is",
         "such as 1.2 mm or 18 awg"},
    };
    ASSERT_REFUSED(CASES);
}

/* An hour and a half, or a minute and a half: both are offered, and neither is taken. */
static void a_time_with_a_colon_is_asked_about(void **state) {
    (void)state;
    static const struct refusal_case CASES[] = {
        {"1:30", DIM_TIME, "a time is written with its units, unlike '1:30'",
         "write '1 h 30 min', or '1 min 30 s' if that is meant"},
        {"1:75", DIM_TIME, "a time is due, unlike '1:75'",
         "such as 1 h 30 min, 1 lb 4 oz, 1 ft 2 1/2 in"},
        {"1:x", DIM_TIME, "a time is due, unlike '1:x'",
         "such as 1 h 30 min, 1 lb 4 oz, 1 ft 2 1/2 in"},
        {"1:30", DIM_LENGTH, "unknown unit ':30'",
         "a length is written in mm, um, cm, m, thou, in, ft"},
    };
    ASSERT_REFUSED(CASES);
}

static void sizes_that_do_not_exist_are_refused(void **state) {
    (void)state;
    static const struct refusal_case CASES[] = {
        {"41 awg", DIM_WIRE, "there is no 41 awg", "write the diameter, such as 1.2 mm"},
        {"55 swg", DIM_WIRE, "there is no 55 swg", "write the diameter, such as 1.2 mm"},
        {"18.5 awg", DIM_WIRE, "a gauge is a whole number of two digits at most", "such as 18 awg"},
        {"00 awg", DIM_WIRE, "a gauge is a whole number of two digits at most", "such as 18 awg"},
        {"2/0 awg", DIM_WIRE, "a fraction cannot stand over zero", NULL},
        {"-18 awg", DIM_WIRE, "a wire diameter is due, 'awg' is a wire gauge",
         "such as 1.2 mm or 18 awg"},
        {"no 81", DIM_DRILL, "there is no drill 'no 81'", "number drills are no 1 to no 80"},
        {"no 0", DIM_DRILL, "there is no drill 'no 0'", "number drills are no 1 to no 80"},
        {"no 030", DIM_DRILL, "there is no drill 'no 030'", "number drills are no 1 to no 80"},
        {"no 30 mm", DIM_DRILL, "there is no drill 'no 30 mm'", "number drills are no 1 to no 80"},
        {"letter FF", DIM_DRILL, "there is no drill 'letter FF'",
         "letter drills are letter A to letter Z"},
        {"letter 4", DIM_DRILL, "there is no drill 'letter 4'",
         "letter drills are letter A to letter Z"},
        {"18 awg", DIM_LENGTH, "a length is due, 'awg' is a wire gauge", "such as 12 mm"},
        {"18 awg", DIM_DRILL, "a drill size is due, 'awg' is a wire gauge",
         "such as 6 mm, no 30 or letter F"},
    };
    ASSERT_REFUSED(CASES);
}

static void a_number_without_its_unit_is_refused_with_one(void **state) {
    (void)state;
    static const struct refusal_case CASES[] = {
        {"12", DIM_LENGTH, "a length is due, '12' has no unit", "write '12 mm'"},
        {"0", DIM_LENGTH, "a length is due, '0' has no unit", "write '0 mm'"},
        {"6 1/2", DIM_LENGTH, "a length is due, '6 1/2' has no unit", "write '6 1/2 in'"},
        {"6", DIM_MASS, "a mass is due, '6' has no unit", "write '6 g'"},
        {"25", DIM_SHARE, "a share is due, '25' has no unit", "write '25 %'"},
        {"0.25", DIM_SHARE, "a share is due, '0.25' has no unit",
         "write '0.25 %', or '25 %' if that is meant"},
        {"18", DIM_WIRE, "a wire diameter is due, '18' has no unit",
         "write '18 mm', or a gauge such as '18 awg'"},
        {"30", DIM_DRILL, "a drill size is due, '30' has no unit",
         "write '30 mm', or a number drill such as 'no 30'"},
        {"35", DIM_SALINITY, "a salinity is due, '35' has no unit", "write '35 g/kg'"},
    };
    ASSERT_REFUSED(CASES);
}

static void units_of_another_dimension_are_refused(void **state) {
    (void)state;
    static const struct refusal_case CASES[] = {
        {"12 g", DIM_LENGTH, "a length is due, 'g' is a mass", "such as 12 mm"},
        {"12 mm", DIM_MASS, "a mass is due, 'mm' is a length", "such as 6 g"},
        {"12 %", DIM_LENGTH, "a length is due, '%' is a share", "such as 12 mm"},
        {"12 g", DIM_WIRE, "a wire diameter is due, 'g' is a mass", "such as 1.2 mm or 18 awg"},
        {"30 \xC2\xB0", DIM_TEMPERATURE, "a temperature is due, '\xC2\xB0' is an angle",
         "such as 20 degC"},
        {"12 mm", DIM_NUMBER, "a plain number is due, '12 mm' is more than that", "such as 12.5"},
        {"5 %", DIM_NUMBER, "a plain number is due, '5 %' is more than that", "such as 12.5"},
    };
    ASSERT_REFUSED(CASES);
}

static void unknown_units_are_refused_with_what_was_meant(void **state) {
    (void)state;
    static const struct refusal_case CASES[] = {
        {"6 inches", DIM_LENGTH, "unknown unit 'inches'", "did you mean 'in'?"},
        {"6 mils", DIM_LENGTH, "unknown unit 'mils'", "did you mean 'thou'?"},
        {"12 M", DIM_LENGTH, "unknown unit 'M'", "did you mean 'm'?"},
        {"12 MM", DIM_LENGTH, "unknown unit 'MM'", "did you mean 'mm'?"},
        {"12 mmm", DIM_LENGTH, "unknown unit 'mmm'", "did you mean 'mm'?"},
        {"6 grams", DIM_MASS, "unknown unit 'grams'", "did you mean 'g'?"},
        {"20 C", DIM_TEMPERATURE, "unknown unit 'C'", "did you mean 'degC'?"},
        {"25 percent", DIM_SHARE, "unknown unit 'percent'", "did you mean '%'?"},
        {"2 fl oz", DIM_VOLUME, "unknown unit 'fl'", "did you mean 'floz'?"},
        {"5 furlongs", DIM_LENGTH, "unknown unit 'furlongs'",
         "a length is written in mm, um, cm, m, thou, in, ft"},
        {"5 abcdefghijklmnopqrstuvwxyz", DIM_LENGTH, "unknown unit 'abcdefghijklmnopqrstuvwxyz'",
         "a length is written in mm, um, cm, m, thou, in, ft"},
    };
    ASSERT_REFUSED(CASES);
}

static void commas_are_refused_with_the_number_that_was_meant(void **state) {
    (void)state;
    static const struct refusal_case CASES[] = {
        {"12,5 mm", DIM_LENGTH, "a comma is not a decimal sign", "write '12.5 mm'"},
        {"0,125 in", DIM_LENGTH, "a comma is not a decimal sign", "write '0.125 in'"},
        {",5 mm", DIM_LENGTH, "a comma is not a decimal sign", "write '.5 mm'"},
        {"1,000 mm", DIM_LENGTH, "a comma has no place in a number",
         "write '1000 mm', or '1.000 mm' if that is meant"},
        {"1,000,000", DIM_NUMBER, "a comma has no place in a number", "write '1000000'"},
        {"1,000.5", DIM_NUMBER, "a comma has no place in a number", "write '1000.5'"},
    };
    ASSERT_REFUSED(CASES);
}

static void other_numbers_are_refused(void **state) {
    (void)state;
    static const struct refusal_case CASES[] = {
        {"", DIM_LENGTH, "a length is due here", "such as 12 mm"},
        {"  ", DIM_LENGTH, "a length is due here", "such as 12 mm"},
        {"mm", DIM_LENGTH, "a length is due, 'mm' is none", "such as 12 mm"},
        {"nan mm", DIM_LENGTH, "a length is due, 'nan mm' is none", "such as 12 mm"},
        {"inf", DIM_NUMBER, "a plain number is due, 'inf' is none", "such as 12.5"},
        {"-inf g", DIM_MASS, "a mass is due, '-inf g' is none", "such as 6 g"},
        {"0x10 mm", DIM_LENGTH, "unknown unit 'x10'",
         "a length is written in mm, um, cm, m, thou, in, ft"},
        {"1e3 mm", DIM_LENGTH, "a number has no exponent, unlike '1e3 mm'", "such as 12 mm"},
        {"1E+3", DIM_NUMBER, "a number has no exponent, unlike '1E+3'", "such as 12.5"},
        {"1e400 mm", DIM_LENGTH, "a number has no exponent, unlike '1e400 mm'", "such as 12 mm"},
        {"1 000 mm", DIM_LENGTH, "the digits of a number stand together, unlike '1 000 mm'",
         "write 1000 for a thousand, and 6 1/2 for six and a half"},
        {"1'000 mm", DIM_LENGTH, "the digits of a number stand together, unlike '1'000 mm'",
         "write 1000 for a thousand, and 6 1/2 for six and a half"},
        {"1_000", DIM_NUMBER, "the digits of a number stand together, unlike '1_000'",
         "write 1000 for a thousand, and 6 1/2 for six and a half"},
        {"12. mm", DIM_LENGTH, "'12. mm' has a decimal point too many", "such as 12 mm"},
        {"1.2.3 mm", DIM_LENGTH, "'1.2.3 mm' has a decimal point too many", "such as 12 mm"},
        {". mm", DIM_LENGTH, "a length is due, '. mm' is none", "such as 12 mm"},
        {"3/0 in", DIM_LENGTH, "a fraction cannot stand over zero", NULL},
        {"6 1/0 in", DIM_LENGTH, "a fraction cannot stand over zero", NULL},
        {"3/ in", DIM_LENGTH, "a fraction is one whole number over another, unlike '3/ in'",
         "such as 3/8 or 6 1/2"},
        {"1.5/8 in", DIM_LENGTH, "a fraction is one whole number over another, unlike '1.5/8 in'",
         "such as 3/8 or 6 1/2"},
        {"1/2/3 in", DIM_LENGTH, "a fraction is one whole number over another, unlike '1/2/3 in'",
         "such as 3/8 or 6 1/2"},
        {"1000000000000000 mm", DIM_LENGTH, "a number has at most 15 digits", NULL},
        {"0.1234567890123456 mm", DIM_LENGTH, "a number has at most 15 digits", NULL},
        {"0.00000000000000000000001 mm", DIM_LENGTH, "a number has at most 15 digits", NULL},
        {"1/1000000000000000 in", DIM_LENGTH, "a number has at most 15 digits", NULL},
        {"--3 mm", DIM_LENGTH, "a length is due, '--3 mm' is none", "such as 12 mm"},
    };
    ASSERT_REFUSED(CASES);
}

static void a_megabyte_of_digits_is_refused_in_no_time(void **state) {
    (void)state;
    enum { SIZE = 1 << 20 };
    char *text = arena_alloc(&arena, SIZE);
    memset(text, '9', SIZE);
    struct reading reading = quantity_parse(&arena, (struct str){text, SIZE}, DIM_LENGTH);
    assert_string_equal(reading.error, "a number has at most 15 digits");
    memset(text, '0', SIZE);
    reading = quantity_parse(&arena, (struct str){text, SIZE}, DIM_NUMBER);
    assert_null(reading.error);
    assert_true(reading.value == 0);
}

static void what_is_right_costs_no_memory(void **state) {
    (void)state;
    struct arena fresh = {0};
    assert_null(quantity_parse(&fresh, str_of("1 ft 2 1/2 in"), DIM_LENGTH).error);
    assert_null(quantity_parse(&fresh, str_of("letter F"), DIM_DRILL).error);
    assert_null(quantity_parse(&fresh, str_of("18 awg"), DIM_WIRE).error);
    assert_null(fresh.head);
}

static void parts_are_two_numbers_by_volume_or_mass(void **state) {
    (void)state;
    static const struct {
        const char *text;
        double first, second;
        bool by_mass;
    } CASES[] = {
        {"2:1", 2, 1, false},
        {"2:1 by mass", 2, 1, true},
        {"2 : 1 by volume", 2, 1, false},
        {"100:83", 100, 83, false},
        {"1.5:1", 1.5, 1, false},
        {" 1:1 ", 1, 1, false},
        {"1/2:1 by  mass", 0.5, 1, true},
    };
    for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
        struct parts parts;
        const char *hint;
        assert_null(parts_parse(&arena, str_of(CASES[i].text), &parts, &hint));
        assert_close(parts.first, CASES[i].first, DBL_EPSILON);
        assert_close(parts.second, CASES[i].second, DBL_EPSILON);
        assert_int_equal(parts.by_mass, CASES[i].by_mass);
    }
}

static void parts_that_are_none_are_refused(void **state) {
    (void)state;
    static const char *const CASES[] = {"",         "2",
                                        "2:",       ":1",
                                        "2:1:1",    "-2:1",
                                        "2-1",      "2:1 by",
                                        "2:1 mass", "2:1 by weight",
                                        "2 g:1 g",  "1e3:1",
                                        "nan:1",    "2:1 by mass x",
                                        "1/0:1",    "0:1",
                                        "1:0"};
    for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
        struct parts parts;
        const char *hint;
        if (!parts_parse(&arena, str_of(CASES[i]), &parts, &hint)) fail_msg("'%s'", CASES[i]);
        assert_string_equal(hint, "such as 2:1 or 2:1 by mass");
    }
}

static void values_are_shown_in_their_unit_without_trailing_zeros(void **state) {
    (void)state;
    static const struct {
        const char *unit_of; /* a text whose unit is used; NULL: the dimension's first */
        enum dimension dimension;
        double value;
        int digits;
        const char *text;
    } CASES[] = {
        {NULL, DIM_LENGTH, 0.1524, 6, "152.4 mm"},
        {"1 in", DIM_LENGTH, 0.1524, 6, "6 in"},
        {NULL, DIM_WIRE, 0.0012065, 3, "1.21 mm"},
        {NULL, DIM_MASS, 0.0123456, 4, "12.35 g"},
        {NULL, DIM_MASS, 12.3456, 3, "12300 g"},
        {NULL, DIM_LENGTH, -0.0, 3, "0 mm"},
        {NULL, DIM_LENGTH, -1e-18, 3, "0 mm"},
        {NULL, DIM_LENGTH, 1.25e-13, 3, "0.000000000125 mm"},
        {NULL, DIM_LENGTH, 0.0009996, 3, "1 mm"},
        {NULL, DIM_LENGTH, 0.00005, 3, "0.05 mm"},
        {NULL, DIM_LENGTH, 1, 1, "1000 mm"},
        {"1 degF", DIM_TEMPERATURE, 15, 4, "59 degF"},
        {NULL, DIM_TEMPERATURE, -5.5, 4, "-5.5 degC"},
        {NULL, DIM_SHARE, 0.07, 6, "7 %"},
        {NULL, DIM_ANGLE, 0.5235987755982988, 6, "30 deg"},
        {NULL, DIM_NUMBER, 19.95, 6, "19.95"},
    };
    for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
        const struct unit *unit =
            CASES[i].unit_of ? read_as(CASES[i].unit_of, CASES[i].dimension).unit : NULL;
        assert_string_equal(
            quantity_show(&arena, CASES[i].value, CASES[i].dimension, unit, CASES[i].digits),
            CASES[i].text);
    }
}

static void what_is_shown_reads_back(void **state) {
    (void)state;
    for (int i = 0; i < DIM_COUNT_; i++) {
        enum dimension dimension = (enum dimension)i;
        for (double value = 1e-4; value < 1e5; value *= 7.3) {
            const char *text = quantity_show(&arena, value, dimension, NULL, 12);
            struct reading reading = read_as(text, dimension);
            if (reading.error) fail_msg("%s: %s", text, reading.error);
            assert_close(reading.value, value, 1e-11);
        }
    }
}

static void every_dimension_has_a_name_and_an_example_that_reads(void **state) {
    (void)state;
    for (int i = 0; i < DIM_COUNT_; i++) {
        enum dimension dimension = (enum dimension)i;
        assert_non_null(dimension_name(dimension));
        const char *example = dimension_example(dimension), *end = strpbrk(example, ",o");
        if (dimension != DIM_WIRE && dimension != DIM_DRILL) end = NULL;
        struct str first = {example, end ? (size_t)(end - example) : strlen(example)};
        assert_null(quantity_parse(&arena, first, dimension).error);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(numbers_are_whole_decimal_fraction_or_mixed),
        cmocka_unit_test(a_decimal_is_the_nearest_double),
        cmocka_unit_test(minus_zero_is_zero),
        cmocka_unit_test(every_unit_of_the_language_is_read),
        cmocka_unit_test(the_blank_before_a_unit_is_optional),
        cmocka_unit_test(pasted_signs_work),
        cmocka_unit_test(case_is_tolerated_where_it_cannot_mislead),
        cmocka_unit_test(compounds_go_from_large_units_to_small),
        cmocka_unit_test(wires_and_drills_have_their_own_sizes),
        cmocka_unit_test(a_bare_gauge_is_refused_with_its_three_diameters),
        cmocka_unit_test(sizes_that_do_not_exist_are_refused),
        cmocka_unit_test(a_time_with_a_colon_is_asked_about),
        cmocka_unit_test(a_number_without_its_unit_is_refused_with_one),
        cmocka_unit_test(units_of_another_dimension_are_refused),
        cmocka_unit_test(unknown_units_are_refused_with_what_was_meant),
        cmocka_unit_test(commas_are_refused_with_the_number_that_was_meant),
        cmocka_unit_test(other_numbers_are_refused),
        cmocka_unit_test(a_megabyte_of_digits_is_refused_in_no_time),
        cmocka_unit_test(what_is_right_costs_no_memory),
        cmocka_unit_test(parts_are_two_numbers_by_volume_or_mass),
        cmocka_unit_test(parts_that_are_none_are_refused),
        cmocka_unit_test(values_are_shown_in_their_unit_without_trailing_zeros),
        cmocka_unit_test(what_is_shown_reads_back),
        cmocka_unit_test(every_dimension_has_a_name_and_an_example_that_reads),
    };
    return cmocka_run_group_tests_name("quantity", tests, NULL, free_arena);
}
