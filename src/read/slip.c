/* A small reader of its own: lines, their indents, keys, braces and quotes, nothing more.  It reads
 * from the top of the file, since only so is it known which quote or brace is open, but it speaks
 * only of the lines that it was asked about: what looks odd elsewhere was good enough for YAML.
 *
 * A line outside of braces is: blanks, dashes of a list, a key with its colon, a value.  Inside of
 * braces and brackets the text is read entry by entry, over as many lines as it takes.
 */
#include "read/slip.h"

#include <ctype.h>
#include <stdarg.h>
#include <string.h>

#include "base/buf.h"
#include "base/unicode.h"
#include "read/text.h"

enum { LEVELS = 24, OPEN = 24, NONE = -1 };

static const char NBSP[] = "\xC2\xA0", LEFT[] = "\xE2\x80\x9C", RIGHT[] = "\xE2\x80\x9D",
                  LOW[] = "\xE2\x80\x9E";

/* Where the reader stands in an entry between braces or brackets. */
enum stand { AT_ENTRY, AFTER_ENTRY, AT_VALUE, AFTER_VALUE };

struct level {
    int column;
    bool list;
};

struct search {
    struct arena *arena;
    const struct text_file *file;
    struct str text;
    int line, from, to;
    size_t start, end; /* of the line */
    int indent;
    struct level level[LEVELS];
    int levels;
    bool section; /* the key before has no value: what follows may stand further in */
    int block;    /* indent of the key whose text runs over the lines that stand further in */
    struct {
        size_t at;
        int indent;
    } open[OPEN];
    int depth;
    enum stand stand;
    size_t token; /* the last text between braces */
    char quote;   /* that is open over the end of a line, or 0 */
    size_t quote_at;
    struct slip slip;
};

/* Telling */

__attribute__((format(printf, 5, 6))) static void tell(struct search *s, size_t at, size_t size,
                                                       const char *message, const char *hint, ...) {
    if (s->slip.message || s->line < s->from) return;
    struct buf buf = {.arena = s->arena};
    va_list args;
    va_start(args, hint);
    buf_vprintf(&buf, hint, args);
    va_end(args);
    s->slip.at = text_span_at(s->file, at);
    int points = (int)unicode_points((struct str){s->text.data + at, size});
    s->slip.at.length = points > 0 ? points : 1;
    s->slip.message = message;
    s->slip.hint = buf.data;
}

/* For "%.*s". */
#define SHOWN(s, from, to) (int)((to) - (from)), (s)->text.data + (from)

/* Characters */

static char peek(const struct search *s, size_t at) {
    return at < s->end ? s->text.data[at] : '\0';
}

static bool has(const struct search *s, size_t at, const char *sign) {
    return at < s->end && text_starts_with(s->text, at, sign);
}

static bool is_blank(char c) {
    return c == ' ' || c == '\t' || c == '\0'; /* a line ends like a blank */
}

static size_t skip(const struct search *s, size_t at) {
    while (at < s->end && (s->text.data[at] == ' ' || s->text.data[at] == '\t')) at++;
    return at;
}

static bool is_comment(const struct search *s, size_t at) {
    return peek(s, at) == '#' && (at == s->start || is_blank(s->text.data[at - 1]));
}

static size_t find(const struct search *s, size_t at, const char *sign) {
    while (at < s->end && !text_starts_with(s->text, at, sign)) at++;
    return at;
}

/* Where the text that begins here ends, without a comment and the blanks before it. */
static size_t text_end(const struct search *s, size_t at) {
    size_t end = at;
    for (; at < s->end && !is_comment(s, at); at++)
        if (!is_blank(s->text.data[at])) end = at + 1;
    return end;
}

/* The colon that ends a key: a blank or the end of the line is behind it. */
static size_t find_colon(const struct search *s, size_t at) {
    for (; at < s->end && !is_comment(s, at); at++)
        if (s->text.data[at] == ':' && is_blank(peek(s, at + 1))) return at;
    return s->end;
}

/* Behind the letters, digits and blanks that a key is made of. */
static size_t skip_word(const struct search *s, size_t at) {
    if (!isalpha((unsigned char)peek(s, at))) return at;
    while (isalnum((unsigned char)peek(s, at)) || (at < s->end && strchr(" _-", peek(s, at)))) at++;
    return at;
}

/* Whether a key, or a dash of a list, stands here. */
static bool begins_entry(const struct search *s, size_t at) {
    size_t end = skip_word(s, at);
    return (end > at && peek(s, end) == ':') || (peek(s, at) == '-' && is_blank(peek(s, at + 1)));
}

/* Quotes */

/* Behind the closing quote, or the end of the line with s->quote set. */
static size_t skip_quoted(struct search *s, size_t at) {
    while (at < s->end) {
        char c = s->text.data[at++];
        if (s->quote == '"' && c == '\\' && at < s->end) at++;
        if (c != s->quote) continue;
        if (s->quote == '\'' && peek(s, at) == '\'') {
            at++;
            continue;
        }
        s->quote = 0;
        return at;
    }
    return at;
}

static size_t open_quote(struct search *s, size_t at) {
    s->quote = s->text.data[at];
    s->quote_at = at;
    return skip_quoted(s, at + 1);
}

static void tell_unclosed_quote(struct search *s) {
    tell(s, s->quote_at, 1, "the quotes that open here are not closed",
         "put the same sign, %c, behind the text",
         s->quote_at < s->text.size ? s->text.data[s->quote_at] : '"');
}

static void tell_behind_quotes(struct search *s, size_t at) {
    size_t end = text_end(s, at);
    bool single = s->text.data[s->quote_at] == '\'';
    if (find(s, at, single ? "'" : "\"") == s->end)
        tell(s, at, end - at, "text goes on behind the closing quotes",
             "quotes go around the whole text");
    else if (single)
        tell(s, at, end - at, "an apostrophe closes these quotes",
             "put the text between double quotes, such as name: \"Bob's heron\"");
    else
        tell(s, at, end - at, "a quote inside the text closes these quotes",
             "put the text between single quotes, such as name: 'the \"big\" heron'");
}

/* Braces and brackets */

static char closing_of(char opening) {
    return opening == '{' ? '}' : ']';
}

static char innermost(const struct search *s) {
    return s->text.data[s->open[s->depth - 1].at];
}

static void open_bracket(struct search *s, size_t at) {
    if (s->depth == OPEN) return;
    s->open[s->depth].at = at;
    s->open[s->depth++].indent = s->indent;
    s->stand = AT_ENTRY;
}

static void tell_unclosed_bracket(struct search *s) {
    size_t at = s->open[s->depth - 1].at;
    tell(s, at, 1, arena_printf(s->arena, "the %c that opens here is not closed", innermost(s)),
         "put %c behind its last value", closing_of(innermost(s)));
}

static void close_bracket(struct search *s, size_t at) {
    char c = s->text.data[at];
    if (s->depth == 0) {
        tell(s, at, 1, arena_printf(s->arena, "this %c closes nothing", c), "remove it");
        return;
    }
    if (closing_of(innermost(s)) != c)
        tell(s, at, 1, arena_printf(s->arena, "%c does not close %c", c, innermost(s)),
             "write %c here, or %c before it", closing_of(innermost(s)), closing_of(innermost(s)));
    s->depth--;
    s->stand = AFTER_VALUE;
}

/* A colon behind a value: what stands last in it is the next key. */
static void tell_missing_comma(struct search *s, size_t colon) {
    size_t word = colon;
    while (word > s->token && word > s->start && !is_blank(s->text.data[word - 1])) word--;
    tell(s, word, colon - word, "a comma is missing before this key",
         "write , %.*s:", SHOWN(s, word, colon));
}

/* A text without quotes between braces. */
static size_t skip_plain(struct search *s, size_t at) {
    bool value = s->stand == AT_VALUE || s->stand == AFTER_VALUE;
    if (has(s, at, LEFT) || has(s, at, RIGHT) || has(s, at, LOW))
        tell(s, at, strlen(LEFT), "curly quotes do not hold a text together",
             "write straight ones: \"");
    if (peek(s, at) == '(' && value)
        tell(s, at, 1, "round brackets hold nothing together", "write { and } instead");
    s->token = at;
    while (at < s->end && !strchr(",[]{}", s->text.data[at]) && !is_comment(s, at)) {
        char c = s->text.data[at], next = peek(s, at + 1);
        if (c == ':' && (is_blank(next) || strchr(",[]{}\"'", next))) break;
        if (c == ';')
            tell(s, at, 1, "a semicolon does not part one key from the next", "write a comma");
        at++;
    }
    return at;
}

static size_t take_colon(struct search *s, size_t at) {
    if (s->stand == AFTER_VALUE) tell_missing_comma(s, at);
    if (!is_blank(peek(s, at + 1)))
        tell(s, at, 1, "a blank is missing behind this colon", "write %.*s: %c",
             SHOWN(s, s->token, at), peek(s, at + 1));
    s->stand = AT_VALUE;
    return at + 1;
}

/* A # where a value is due, or one that takes a closing brace along. */
static void tell_comment(struct search *s, size_t at) {
    bool closes = find(s, at, "}") < s->end || find(s, at, "]") < s->end;
    if (s->stand == AT_VALUE || closes)
        tell(s, at, text_rest_of_word(s->text, at).size,
             "an unquoted # begins a comment, so the rest of the line is not read",
             "put it in quotes, such as hex: \"#FFD21E\"");
}

/* Reads on between braces; behind the last closing one, or the end of the line. */
static size_t take_braces(struct search *s, size_t at) {
    while (s->depth > 0 && (at = skip(s, at)) < s->end) {
        char c = s->text.data[at];
        bool after = s->stand == AFTER_VALUE || s->stand == AFTER_ENTRY;
        if (is_comment(s, at)) {
            tell_comment(s, at);
            return s->end;
        }
        if (after && !strchr(",:]}", c))
            tell(s, at, 1, "a comma is missing before this",
                 "values in braces and brackets are parted by commas");
        if (c == '{' || c == '[') {
            open_bracket(s, at++);
        } else if (c == '}' || c == ']') {
            close_bracket(s, at++);
        } else if (c == ',') {
            s->stand = AT_ENTRY;
            at++;
        } else if (c == ':') {
            at = take_colon(s, at);
        } else {
            bool quoted = c == '"' || c == '\'';
            if (quoted) s->token = at;
            at = quoted ? open_quote(s, at) : skip_plain(s, at);
            s->stand = s->stand == AT_VALUE || s->stand == AFTER_VALUE ? AFTER_VALUE : AFTER_ENTRY;
        }
    }
    return at;
}

/* Values outside of braces */

/* What may stand behind a closed quote or brace: nothing, or a comment. */
static void check_rest(struct search *s, size_t at, bool quoted) {
    at = skip(s, at);
    if (s->quote || s->depth || at == s->end || is_comment(s, at)) return;
    char c = s->text.data[at];
    if (c == ',' && skip(s, at + 1) == s->end)
        tell(s, at, 1, "a comma too many",
             "outside of braces each key has a line of its own: remove the comma");
    else if (c == '}' || c == ']')
        close_bracket(s, at);
    else if (quoted)
        tell_behind_quotes(s, at);
    else
        tell(s, at, text_end(s, at) - at, "text goes on behind the closing brace",
             "put it before the brace, or remove it");
}

static void tell_second_colon(struct search *s, size_t value, size_t colon) {
    size_t digit = value;
    while (digit < colon && !isdigit((unsigned char)s->text.data[digit])) digit++;
    if (digit < colon)
        tell(s, colon, 1, "a second colon in this line",
             "each key has a line of its own, or stands in braces: {length: 100 mm, width: 20 mm}");
    else
        tell(s, colon, 1, "a second colon in this line", "put the text in quotes: \"%.*s\"",
             SHOWN(s, value, text_end(s, value)));
}

static void take_plain_value(struct search *s, size_t at) {
    size_t end = text_end(s, at), colon = find_colon(s, at);
    bool curly = has(s, at, LEFT) || has(s, at, RIGHT) || has(s, at, LOW);
    if (curly)
        tell(s, at, strlen(LEFT), "curly quotes do not hold a text together",
             "write straight ones: \"");
    if (strchr("@`%&*!", s->text.data[at]))
        tell(s, at, 1, arena_printf(s->arena, "a text cannot begin with %c", s->text.data[at]),
             "put it in quotes: \"%.*s\"", SHOWN(s, at, end));
    if (s->text.data[at] == '(' && colon < s->end)
        tell(s, at, 1, "round brackets hold nothing together", "write { and } instead");
    if (find(s, at, NBSP) < colon && colon < s->end) {
        size_t blank = find(s, at, NBSP);
        tell(s, blank, strlen(NBSP), "a no-break space stands here", "write an ordinary blank");
    }
    if (colon < s->end) tell_second_colon(s, at, colon);
}

static void take_value(struct search *s, size_t at) {
    char c = peek(s, at);
    s->section = at == s->end || is_comment(s, at);
    if (s->section) return;
    if (c == '|' || c == '>') {
        s->block = s->indent;
    } else if (c == '"' || c == '\'') {
        check_rest(s, open_quote(s, at), true);
    } else if (c == '{' || c == '[') {
        open_bracket(s, at);
        check_rest(s, take_braces(s, at + 1), false);
    } else {
        take_plain_value(s, at);
    }
}

/* Indents */

static const char *blanks_of(struct search *s, int count) {
    return count == 0   ? "no blank"
           : count == 1 ? "1 blank"
                        : arena_printf(s->arena, "%d blanks", count);
}

static void tell_indent(struct search *s, size_t at, int column, int due) {
    tell(s, at, text_rest_of_word(s->text, at).size,
         column > due ? "this line stands too far to the right"
                      : "this line stands further left than those it belongs to",
         "it has %s before it; the line that it follows has %s", blanks_of(s, column),
         blanks_of(s, due));
}

static void push_level(struct search *s, int column, bool list) {
    if (s->levels < LEVELS) s->level[s->levels++] = (struct level){column, list};
}

/* A key or a dash begins here: at a level that is open, or further in below a section. */
static void take_level(struct search *s, size_t at, bool list) {
    int column = (int)(at - s->start), left = NONE;
    while (s->levels && s->level[s->levels - 1].column > column)
        left = s->level[--s->levels].column;
    const struct level *top = s->levels ? &s->level[s->levels - 1] : NULL;
    /* A list may stand right under its key. */
    if (top && top->column == column && top->list && !list) {
        s->levels--;
        top = s->levels ? &s->level[s->levels - 1] : NULL;
    }
    if (top && top->column == column && top->list == list) return;
    if (top && top->column == column && list && !s->section)
        tell(s, at, 1, "an entry of a list stands among keys",
             "put it below the key of its list, such as stations:");
    else if (top && top->column < column && left != NONE)
        tell_indent(s, at, column, left);
    else if (top && top->column < column && !s->section)
        tell_indent(s, at, column, top->column);
    else if (!top && left != NONE)
        tell_indent(s, at, column, left);
    push_level(s, column, list);
}

/* Lines */

static void tell_no_colon(struct search *s, size_t at) {
    size_t end = text_end(s, at), word = at;
    size_t equals = find(s, at, "="), wide = find(s, at, "\xEF\xBC\x9A");
    if (has(s, at, "//") || has(s, at, "/*") || has(s, at, "--") || has(s, at, ";")) {
        tell(s, at, 2, "this is not how a comment begins", "write # before it");
        return;
    }
    if (equals < end) {
        tell(s, equals, 1, "a colon is due here, not an equals sign", "such as length: 100 mm");
        return;
    }
    if (wide < end) {
        tell(s, wide, 3, "this is not the colon of a recipe, but a wide one",
             "write an ordinary colon and a blank");
        return;
    }
    while (word < end && !isdigit((unsigned char)s->text.data[word]) &&
           !strchr("{[\"'", s->text.data[word]))
        word++;
    while (word > at && is_blank(s->text.data[word - 1])) word--;
    if (word == end && find(s, at, " ") >= end)
        tell(s, at, end - at, "a colon is missing behind this key",
             "write %.*s:", SHOWN(s, at, end));
    else if (word < end && word > at)
        tell(s, at, word - at, "a colon is missing behind this key", "write %.*s: %.*s",
             SHOWN(s, at, word), SHOWN(s, skip(s, word), end));
    else
        tell(s, at, end - at, "this line has no key with its colon",
             "write a colon and a blank behind its key; a text over several lines begins with "
             "note: | "
             "and stands further in than its key");
}

/* A key in quotes, which open_quote has read. */
static void tell_quoted_key(struct search *s, size_t at) {
    size_t end = at + 1;
    if (s->quote) return; /* they go on in the next line */
    while (s->text.data[end] != s->text.data[at]) end++;
    tell(s, at, end + 1 - at, "a colon is missing behind this key",
         "write %.*s:", SHOWN(s, at, end + 1));
}

/* A sign of the word processor, or a dash without its blank, where an entry of a list begins. */
static void check_dash(struct search *s, size_t at) {
    static const char *const DASHES[] = {"\xE2\x80\x93", "\xE2\x80\x94", "\xE2\x80\xA2",
                                         "\xE2\x88\x92", "*"};
    for (size_t i = 0; i < sizeof DASHES / sizeof *DASHES; i++)
        if (has(s, at, DASHES[i]) && is_blank(peek(s, at + strlen(DASHES[i]))))
            tell(s, at, strlen(DASHES[i]), "an entry of a list begins with a plain dash",
                 "write - here");
    char next = peek(s, at + 1);
    if (peek(s, at) == '-' && (isalpha((unsigned char)next) || strchr("{[\"'", next)) && next)
        tell(s, at, 1, "a blank is missing behind this dash", "write - %c", next);
}

static void take_key(struct search *s, size_t at, bool dashed) {
    size_t word = skip_word(s, at), colon;
    bool quoted = peek(s, at) == '"' || peek(s, at) == '\'';
    if (word > at && peek(s, word) == ':' && !is_blank(peek(s, word + 1))) {
        if (has(s, word + 1, NBSP))
            tell(s, word + 1, strlen(NBSP), "a no-break space stands behind this colon",
                 "write an ordinary blank");
        tell(s, word, 1, "a blank is missing behind this colon", "write %.*s: %.*s",
             SHOWN(s, at, word), SHOWN(s, word + 1, text_end(s, word + 1)));
    }
    colon = quoted ? find_colon(s, open_quote(s, at)) : find_colon(s, at);
    if (colon == s->end) {
        if (dashed)
            take_value(s, at);
        else if (quoted)
            tell_quoted_key(s, at);
        else
            tell_no_colon(s, at);
        return;
    }
    size_t digit = find(s, at, NBSP);
    if (digit < colon)
        tell(s, digit, strlen(NBSP), "a no-break space stands here", "write an ordinary blank");
    take_level(s, at, false);
    take_value(s, skip(s, colon + 1));
}

static void take_block_line(struct search *s, size_t at) {
    bool dashed = false;
    if (has(s, at, NBSP)) {
        tell(s, at, strlen(NBSP), "a no-break space stands before this line",
             "write ordinary blanks");
        return;
    }
    check_dash(s, at);
    while (peek(s, at) == '-' && is_blank(peek(s, at + 1))) {
        take_level(s, at, true);
        at = skip(s, at + 1);
        s->section = dashed = true;
    }
    if (at == s->end || is_comment(s, at)) return;
    char c = peek(s, at);
    if (c == '}' || c == ']')
        close_bracket(s, at);
    else if (c == '{' || c == '[') {
        if (!dashed && s->levels)
            tell(s, at, 1, "a key or a dash is missing before this",
                 "an entry of a list begins with a dash and a blank: - %c", c);
        take_value(s, at);
    } else
        take_key(s, at, dashed);
}

static void take_line(struct search *s) {
    size_t at = skip(s, s->start);
    const char *tab = memchr(s->text.data + s->start, '\t', at - s->start);
    if (s->quote) {
        size_t after = skip_quoted(s, s->start);
        if (s->quote) return;
        /* Whatever is wrong behind quotes that ran over a line is their doing. */
        bool entry = skip(s, after) < s->end && !strchr(",]}#:", s->text.data[skip(s, after)]);
        if (entry) tell_unclosed_quote(s);
        if (s->depth) s->stand = AFTER_VALUE, check_rest(s, take_braces(s, after), false);
        return;
    }
    if (at == s->end || peek(s, at) == '#') return;
    s->indent = (int)(at - s->start);
    if (s->block != NONE && s->indent > s->block) return;
    s->block = NONE;
    if (s->depth) {
        bool entry = s->stand != AT_ENTRY && s->indent <= s->open[0].indent && begins_entry(s, at);
        if (entry) tell_unclosed_bracket(s);
        check_rest(s, take_braces(s, at), false);
        return;
    }
    if (tab)
        tell(s, (size_t)(tab - s->text.data), 1, "a tab stands before this line",
             "indent with blanks, not with tabs");
    take_block_line(s, at);
}

/* The marks of YAML before and behind a document. */
static bool is_mark(const struct search *s) {
    struct str line = {s->text.data + s->start, text_end(s, s->start) - s->start};
    return str_is(line, "---") || str_is(line, "...");
}

struct slip slip_find(struct arena *arena, const struct text_file *file, int from, int to) {
    struct search s = {.arena = arena,
                       .file = file,
                       .text = file->text,
                       .from = from,
                       .to = to,
                       .block = NONE,
                       .quote_at = file->text.size};
    for (; s.line <= to && s.line < file->line_count && !s.slip.message; s.line++) {
        s.start = file->line_start[s.line];
        s.end = s.start + text_rest_of_line(file->text, s.start).size;
        if (!is_mark(&s)) take_line(&s);
    }
    s.line = to;
    bool whole = to + 1 >= file->line_count;
    if (s.quote && whole) tell_unclosed_quote(&s);
    if (s.depth && whole) tell_unclosed_bracket(&s);
    return s.slip;
}
