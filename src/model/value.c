#include "model/value.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/unicode.h"
#include "model/reference.h"

static bool wrong(struct value_problem *problem, const char *error, const char *hint) {
    problem->rule = "value";
    problem->error = error;
    problem->hint = hint;
    return false;
}

/* A bound may be missed by rounding of the unit: 11.811 in is 299.9994 mm, 30 % is 0.3. */
static bool within(double value, double min, double max) {
    const double slack = 1e-9;
    return value >= min - slack * fabs(min) && value <= max + slack * fabs(max);
}

static bool check_range(struct arena *arena, const struct field *field, struct reading reading,
                        struct value_problem *problem) {
    if (within(reading.value, field->min, field->max)) return true;
    problem->rule = "range";
    problem->hint = NULL;
    problem->error =
        arena_printf(arena, "%s %s is outside %s to %s", field->key,
                     quantity_show(arena, reading.value, field->dimension, reading.unit, 10),
                     quantity_show(arena, field->min, field->dimension, reading.unit, 6),
                     quantity_show(arena, field->max, field->dimension, reading.unit, 6));
    return false;
}

static bool takes(struct arena *arena, const struct field *field, const char *text) {
    struct reading reading = quantity_parse(arena, str_of(text), field->dimension);
    return !reading.error && within(reading.value, field->min, field->max);
}

/* A hint says only to write what the field takes: all that it says, one of both, or the range; and
 * the quantity that shows the dimension is one that the field takes. */
static const char *hint_that_holds(struct arena *arena, const struct field *field,
                                   struct reading reading) {
    const char *shown = dimension_example(field->dimension), *taken = NULL;
    bool all = true;
    for (int i = 0; i < 2 && reading.example[i]; i++) {
        bool good = takes(arena, field, reading.example[i]);
        if (good && !taken) taken = reading.example[i];
        all &= good;
    }
    if (!reading.example[0]) {
        struct reading example = quantity_parse(arena, str_of(shown), field->dimension);
        bool used = reading.hint && strstr(reading.hint, shown) && !example.error;
        all = !used || takes(arena, field, shown);
    }
    if (all) return reading.hint;
    if (taken) return arena_printf(arena, "write %s", diag_quote(arena, str_of(taken)));
    return arena_printf(arena, "from %s to %s",
                        quantity_show(arena, field->min, field->dimension, NULL, 6),
                        quantity_show(arena, field->max, field->dimension, NULL, 6));
}

static bool take_quantity(struct arena *arena, struct str text, const struct field *field,
                          double *value, struct value_problem *problem) {
    struct reading reading = quantity_parse(arena, text, field->dimension);
    if (reading.error) return wrong(problem, reading.error, hint_that_holds(arena, field, reading));
    if (!check_range(arena, field, reading, problem)) return false;
    *value = reading.value;
    return true;
}

static bool read_quantity(struct arena *arena, struct str text, const struct field *field,
                          void *object, struct value_problem *problem) {
    return take_quantity(arena, text, field, grammar_member(field, object), problem);
}

static bool read_solvable(struct arena *arena, struct str text, const struct field *field,
                          void *object, struct value_problem *problem) {
    double *value = grammar_member(field, object);
    bool *solve = grammar_beside(field, object);
    *solve = str_is(text, "solve");
    if (*solve) *value = NAN;
    if (*solve || take_quantity(arena, text, field, value, problem)) return true;
    if (problem->hint) problem->hint = arena_printf(arena, "%s, or the word solve", problem->hint);
    return false;
}

static bool read_opt(struct arena *arena, struct str text, const struct field *field, void *object,
                     struct value_problem *problem) {
    struct opt *opt = grammar_member(field, object);
    opt->given = true;
    return take_quantity(arena, text, field, &opt->value, problem);
}

/* A length from the nose, or a share of the length; that it lies on the body is a rule. */
static bool read_position(struct arena *arena, struct str text, const struct field *field,
                          void *object, struct value_problem *problem) {
    struct position *position = grammar_member(field, object);
    bool nose = str_is(text, "nose"), tail = str_is(text, "tail");
    position->given = true;
    position->share = nose || tail || memchr(text.data, '%', text.size) != NULL;
    if (nose || tail) position->value = tail;
    if (nose || tail) return true;
    struct field range = *field;
    if (position->share) range.dimension = DIM_SHARE, range.max = 1;
    return take_quantity(arena, text, &range, &position->value, problem);
}

static bool read_integer(struct arena *arena, struct str text, const struct field *field,
                         void *object, struct value_problem *problem) {
    int *value = grammar_member(field, object);
    struct reading reading = quantity_parse(arena, text, DIM_NUMBER);
    if (reading.error || reading.value != floor(reading.value)) {
        double least = field->min > 1 ? field->min : 1, example = least + 5;
        if (example > field->max) example = field->max;
        return wrong(problem,
                     arena_printf(arena, "%s is a whole number, %s is none", field->key,
                                  diag_quote(arena, text)),
                     arena_printf(arena, "such as %.0f", example));
    }
    if (!check_range(arena, field, reading, problem)) return false;
    *value = (int)reading.value;
    return true;
}

static bool read_flag(struct arena *arena, struct str text, const struct field *field, void *object,
                      struct value_problem *problem) {
    bool *value = grammar_member(field, object);
    *value = str_is(text, "true") || str_is(text, "yes");
    if (*value || str_is(text, "false") || str_is(text, "no")) return true;
    return wrong(problem,
                 arena_printf(arena, "%s is neither true nor false", diag_quote(arena, text)),
                 NULL);
}

static bool read_text(struct arena *arena, struct str text, const struct field *field, void *object,
                      struct value_problem *problem) {
    struct str *value = grammar_member(field, object);
    size_t points = unicode_points(text);
    *value = text;
    if (!str_trim(text).size)
        return wrong(problem, arena_printf(arena, "%s is empty", field->key), NULL);
    if ((double)points <= field->max) return true;
    problem->rule = "range";
    problem->error = arena_printf(arena, "%s has %zu characters; %d are allowed", field->key,
                                  points, (int)field->max);
    return false;
}

/* Whether a name has the word in it, blanks, hyphens and capitals apart: red cedar stands in
 * western redcedar. */
static bool has_word(const char *name, struct str word) {
    enum { LEAST = 3 };
    char plain[2][64];
    size_t sizes[2] = {0, 0};
    struct str texts[2] = {str_of(name), word};
    for (int t = 0; t < 2; t++)
        for (size_t i = 0; i < texts[t].size && sizes[t] + 1 < sizeof plain[t]; i++) {
            char c = texts[t].data[i];
            if (c >= 'A' && c <= 'Z') c = (char)(c - 'A' + 'a');
            if (c != ' ' && c != '-') plain[t][sizes[t]++] = c;
        }
    plain[0][sizes[0]] = plain[1][sizes[1]] = '\0';
    return sizes[1] >= LEAST && word.size < sizeof plain[1] && strstr(plain[0], plain[1]);
}

/* All rows that a word of the trade may mean, the one as a question; or NULL. */
static const char *meant_hint(struct arena *arena, struct str text, const struct field *field) {
    struct buf list = {.arena = arena};
    const char *name, *only = NULL;
    bool wood = field->row_name == reference_wood_name;
    int count = 0;
    for (int i = 0; (name = grammar_word(field, i)); i++) {
        if (!*name || !(has_word(name, text) || (wood && reference_wood_meant(text, name))))
            continue;
        buf_printf(&list, "%s%s", count ? ", " : "", name);
        only = name, count++;
    }
    if (count == 1) return arena_printf(arena, "did you mean '%s'?", only);
    return count ? arena_printf(arena, "which one: %s?", list.data) : NULL;
}

static const char *word_hint(struct arena *arena, struct str text, const struct field *field) {
    const char *names[128], *name;
    size_t count = 0;
    for (int i = 0; count < 128 && (name = grammar_word(field, i)); i++)
        if (*name) names[count++] = name;
    const char *meant = meant_hint(arena, text, field);
    if (meant) return meant;
    const char *nearest = str_nearest(text, names, count);
    return nearest ? arena_printf(arena, "did you mean '%s'?", nearest)
                   : arena_printf(arena, "one of: %s", grammar_words(arena, field));
}

/* Of a word that is not known the first row is taken, and said to be wrong. */
static bool read_word(struct arena *arena, struct str text, const struct field *field, void *object,
                      struct value_problem *problem) {
    int row = grammar_word_find(field, text), taken = row < 0 ? 0 : row;
    /* Enums of the model are ints in size; checked where they are declared to the compiler. */
    _Static_assert(sizeof(enum section_shape) == sizeof(int), "choices are stored as int");
    memcpy(grammar_member(field, object), &taken, sizeof taken);
    if (row >= 0) return true;
    const char *error =
        arena_printf(arena, "%s is no %s that is known here", diag_quote(arena, text), field->key);
    return wrong(problem, error, word_hint(arena, text, field));
}

/* A wood of the table: own ones are the binder's. */
static bool read_species(struct arena *arena, struct str text, const struct field *field,
                         void *object, struct value_problem *problem) {
    const struct wood_row **row = grammar_beside(field, object);
    int found = grammar_word_find(field, text);
    *(struct str *)grammar_member(field, object) = text;
    *row = &reference_wood[found < 0 ? 0 : found];
    if (found >= 0) return true;
    return wrong(
        problem,
        arena_printf(arena, "%s is no %s that is known here", diag_quote(arena, text), field->key),
        word_hint(arena, text, field));
}

static bool read_parts(struct arena *arena, struct str text, const struct field *field,
                       void *object, struct value_problem *problem) {
    const char *hint = NULL;
    const char *error = parts_parse(arena, text, grammar_member(field, object), &hint);
    return error ? wrong(problem, error, hint) : true;
}

static int hex_digit(char c) {
    const char *digits = "0123456789abcdef", *upper = "0123456789ABCDEF";
    for (int i = 0; i < 16; i++)
        if (c == digits[i] || c == upper[i]) return i;
    return -1;
}

static bool read_hex(struct arena *arena, struct str text, const struct field *field, void *object,
                     struct value_problem *problem) {
    unsigned *value = grammar_member(field, object);
    bool right = text.size == 7 && text.data[0] == '#';
    *value = 0;
    *(bool *)grammar_beside(field, object) = true;
    for (size_t i = 1; right && i < 7; i++) {
        int digit = hex_digit(text.data[i]);
        right = digit >= 0;
        *value = *value * 16 + (unsigned)(right ? digit : 0);
    }
    if (right) return true;
    return wrong(problem,
                 arena_printf(arena, "%s %s is not a colour", field->key, diag_quote(arena, text)),
                 "six hexadecimal digits behind a #, in quotes: \"#FFD21E\"");
}

/* `pattern` holds a 9 where a digit is due and itself elsewhere. */
static bool matches(struct str text, const char *pattern) {
    if (text.size != strlen(pattern)) return false;
    for (size_t i = 0; i < text.size; i++) {
        bool digit = text.data[i] >= '0' && text.data[i] <= '9';
        if (pattern[i] == '9' ? !digit : text.data[i] != pattern[i]) return false;
    }
    return true;
}

static int digits_at(struct str text, size_t at, size_t count) {
    int value = 0;
    for (size_t i = at; i < at + count; i++) value = value * 10 + (text.data[i] - '0');
    return value;
}

static int days_in(int year, int month) {
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    return month == 2 && leap ? 29 : days[month - 1];
}

/* Whether the calendar has that day. */
static bool is_day(const struct moment *moment) {
    return moment->year >= 1900 && moment->month >= 1 && moment->month <= 12 && moment->day >= 1 &&
           moment->day <= days_in(moment->year, moment->month);
}

/* ISO 8601, a calendar date. */
static bool read_date(struct arena *arena, struct str text, const struct field *field, void *object,
                      struct value_problem *problem) {
    struct moment *moment = grammar_member(field, object);
    const char *hint = "a date such as 2027-03-01";
    if (!matches(text, "9999-99-99"))
        return wrong(problem,
                     arena_printf(arena, "%s %s is not an ISO 8601 date", field->key,
                                  diag_quote(arena, text)),
                     hint);
    *moment = (struct moment){.year = digits_at(text, 0, 4),
                              .month = digits_at(text, 5, 2),
                              .day = digits_at(text, 8, 2),
                              .given = true};
    if (is_day(moment)) return true;
    return wrong(
        problem,
        arena_printf(arena, "%s %s is no date that exists", field->key, diag_quote(arena, text)),
        hint);
}

/* ISO 8601, local time to the minute; seconds of 00 are taken too. */
static bool read_moment(struct arena *arena, struct str text, const struct field *field,
                        void *object, struct value_problem *problem) {
    struct moment *moment = grammar_member(field, object);
    const char *hint = "a local time such as 2026-12-05T09:00";
    if (!matches(text, "9999-99-99T99:99") && !matches(text, "9999-99-99T99:99:00"))
        return wrong(problem,
                     arena_printf(arena, "%s %s is not an ISO 8601 local time", field->key,
                                  diag_quote(arena, text)),
                     hint);
    *moment = (struct moment){digits_at(text, 0, 4),  digits_at(text, 5, 2),  digits_at(text, 8, 2),
                              digits_at(text, 11, 2), digits_at(text, 14, 2), true};
    if (is_day(moment) && moment->hour <= 23 && moment->minute <= 59) return true;
    return wrong(problem,
                 arena_printf(arena, "%s %s is no date and time that exists", field->key,
                              diag_quote(arena, text)),
                 hint);
}

static const struct {
    enum field_kind kind;
    bool (*read)(struct arena *arena, struct str text, const struct field *field, void *object,
                 struct value_problem *problem);
} kinds[FIELD_KINDS] = {
#define KIND(id, ...)  [FIELD_##id] = {.kind = FIELD_##id, __VA_ARGS__},
#define READ(function) .read = function,
#include "model/kind.def"
};

bool value_read(struct arena *arena, struct str text, const struct field *field, void *object,
                struct value_problem *problem) {
    return kinds[field->kind].read(arena, text, field, object, problem);
}

/* Minutes after midnight of a clock time at `at`, or -1. */
static int clock_at(struct str text, size_t at) {
    int hour = digits_at(text, at, 2), minute = digits_at(text, at + 3, 2);
    int total = hour * 60 + minute;
    return minute > 59 || total > 24 * 60 ? -1 : total;
}

/* One opening of the day that begins at second `midnight` of the week. */
static bool read_period(const struct node *node, int64_t midnight, struct period *period,
                        struct value_problem *problem) {
    const char *hint =
        "hours such as \"18:00-21:30\"; past midnight, write two days: \"20:00-24:00\" "
        "and \"00:00-01:00\"";
    problem->at = node->at;
    if (node->kind != NODE_SCALAR || !matches(node->text, "99:99-99:99"))
        return wrong(problem, "this is not a time of opening", hint);
    int from = clock_at(node->text, 0), to = clock_at(node->text, 6);
    *period =
        (struct period){midnight + from * SECONDS_OF_MINUTE, midnight + to * SECONDS_OF_MINUTE};
    if (from >= 0 && from < to) return true;
    return wrong(problem, "an opening begins before it ends, between 00:00 and 24:00", hint);
}

/* Adds the openings of one day to the `*count` that are there. */
static bool read_day(const struct node *node, int day, struct period *periods, int *count,
                     struct value_problem *problem) {
    const struct node *item = node->kind == NODE_SEQUENCE ? node->first : node;
    bool many = node->kind == NODE_SEQUENCE;
    for (int of_day = 0; item; of_day++, item = many ? item->next : NULL) {
        struct period *period = &periods[*count];
        problem->at = item->at;
        if (of_day == MAX_PERIODS) return wrong(problem, "a day has at most 8 openings", NULL);
        if (!read_period(item, (int64_t)day * SECONDS_OF_DAY, period, problem)) return false;
        if (of_day && period->from < period[-1].to)
            return wrong(problem, "openings of a day follow one another without overlap", NULL);
        ++*count;
    }
    return true;
}

static int day_of(struct str key) {
    for (int day = 0; day < WEEKDAYS; day++)
        if (str_is(key, clock_weekday[day])) return day;
    return -1;
}

static int by_beginning(const void *a, const void *b) {
    const struct period *x = a, *y = b;
    return (x->from > y->from) - (x->from < y->from);
}

bool value_hours(struct arena *arena, const struct node *node, struct hours **hours,
                 struct value_problem *problem) {
    if (node->kind != NODE_MAPPING)
        return wrong(problem, "'open' has weekdays as its keys",
                     "open: {mon: \"18:00-21:30\", sat: [\"09:00-12:00\", \"13:00-17:00\"]}");
    if (node->count == 0) return true;
    struct period *periods = NEW(arena, struct period, node->count * MAX_PERIODS);
    int count = 0;
    for (const struct node *child = node->first; child; child = child->next) {
        int day = day_of(child->key);
        problem->at = child->key_at;
        if (day < 0)
            return wrong(problem,
                         arena_printf(arena, "%s is no weekday", diag_quote(arena, child->key)),
                         "mon, tue, wed, thu, fri, sat, sun");
        if (child->kind == NODE_EMPTY) continue;
        if (!read_day(child, day, periods, &count, problem)) return false;
    }
    qsort(periods, (size_t)count, sizeof *periods, by_beginning);
    *hours = NEW(arena, struct hours, 1);
    **hours = (struct hours){.period = periods, .count = count, .cycle = SECONDS_OF_WEEK};
    return true;
}
