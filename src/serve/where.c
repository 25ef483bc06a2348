#include "serve/where.h"

#include <string.h>

#include "read/text.h"

/* A mapping or a list that is open at the place, the recipe itself first. */
struct level {
    bool flow, list;
    size_t column;             /* of a block: where its keys or dashes stand */
    const struct part *part;   /* of its keys, or of its items */
    const struct field *field; /* the last key; of a list the one whose value it is */
    bool value;                /* a colon stands behind the key */
    size_t begin;              /* of what stands in it */
    size_t from;               /* of the key or value that comes last */
};

struct reader {
    struct arena *arena;
    struct str text; /* up to the place */
    struct level levels[WHERE_LEVELS];
    int depth;
    struct where *where;
};

/* --- levels ---------------------------------------------------------------------------------- */

static struct level *top(struct reader *r) {
    return &r->levels[r->depth - 1];
}

static bool holds_parts(const struct field *field) {
    return field && (!grammar_is_leaf(field) || field->kind == FIELD_LOAD);
}

/* Of what is opened in the value, or among the items, of a level. */
static const struct part *part_within(const struct level *level) {
    const struct field *field = level->field;
    return field && holds_parts(field) ? &grammar_parts[field->part] : NULL;
}

/* Deeper than any recipe may be, the innermost level is used again. */
static void open_level(struct reader *r, bool flow, bool list, size_t column, size_t from) {
    const struct level *outer = top(r);
    bool values = list && !holds_parts(outer->field); /* of the key that they stand behind */
    struct level inner = {.flow = flow,
                          .list = list,
                          .column = column,
                          .part = values ? outer->part : part_within(outer),
                          .field = list ? outer->field : NULL,
                          .value = list,
                          .begin = from,
                          .from = from};
    if (r->depth < WHERE_LEVELS) r->depth++;
    *top(r) = inner;
}

static void close_deeper(struct reader *r, size_t column, bool lists) {
    while (r->depth > 1) {
        const struct level *level = top(r);
        bool deeper = level->flow || level->column > column ||
                      (lists && level->list && level->column == column);
        if (!deeper) break;
        r->depth--;
    }
}

static void take_key(struct reader *r, struct str key, size_t value) {
    struct level *level = top(r);
    level->field = level->part ? grammar_field(level->part, key) : NULL;
    level->value = true;
    level->from = value;
}

/* --- flow: what stands in brackets ------------------------------------------------------------ */

static bool ends_key(struct str text, size_t at) {
    if (text.data[at] != ':') return false;
    return at + 1 == text.size || strchr(" \t\r\n,}]", text.data[at + 1]);
}

/* Behind a text in quotes that begins here, or the end where it is not closed. */
static size_t skip_quoted(struct str text, size_t at) {
    char quote = text.data[at++];
    while (at < text.size && text.data[at] != quote)
        at += text.data[at] == '\\' && quote == '"' && at + 1 < text.size ? 2 : 1;
    return at < text.size ? at + 1 : at;
}

static size_t line_end(struct str text, size_t at) {
    while (at < text.size && !text_break_size(text, at)) at++;
    return at;
}

static size_t column_at(struct str text, size_t line) {
    size_t at = line;
    while (at < text.size && text.data[at] == ' ') at++;
    return at - line;
}

static const struct level *block_level(const struct reader *r) {
    int i = r->depth - 1;
    while (i > 0 && r->levels[i].flow) i--;
    return &r->levels[i];
}

/* Whether the line that begins here can be no more of the brackets above it: they were forgotten.
 */
static bool leaves_flow(const struct reader *r, struct str text, size_t line) {
    size_t column = column_at(text, line), at = line + column;
    bool empty = at == text.size || text_break_size(text, at) || text.data[at] == '#';
    return !empty && column <= block_level(r)->column && !strchr("}]", text.data[at]);
}

static struct str key_between(struct str text, size_t from, size_t to) {
    struct str key = str_trim((struct str){text.data + from, to - from});
    bool quoted =
        key.size >= 2 && strchr("'\"", key.data[0]) && key.data[key.size - 1] == key.data[0];
    return quoted ? (struct str){key.data + 1, key.size - 2} : key;
}

static void take_comma(struct reader *r, size_t behind) {
    struct level *level = top(r);
    level->value = level->list;
    if (!level->list) level->field = NULL;
    level->from = behind;
}

/* Takes one mark of the brackets, or goes on by one word; the byte behind. */
static size_t flow_mark(struct reader *r, size_t at) {
    char c = r->text.data[at];
    bool begins = text_skip_blanks(r->text, top(r)->from) == at;
    if (begins && strchr("'\"", c)) return skip_quoted(r->text, at);
    if (c == '#' && (begins || strchr(" \t", r->text.data[at - 1]))) return line_end(r->text, at);
    if (c == '{' || c == '[')
        open_level(r, true, c == '[', 0, at + 1);
    else if (c == '}' || c == ']')
        r->depth--;
    else if (c == ',')
        take_comma(r, at + 1);
    else if (!top(r)->list && !top(r)->value && ends_key(r->text, at))
        take_key(r, key_between(r->text, top(r)->from, at), at + 1);
    return at + 1;
}

/* What stands between a bracket and its end, which may be lines below; where it goes on. */
static size_t read_flow(struct reader *r, size_t at) {
    while (at < r->text.size && top(r)->flow) {
        size_t size = text_break_size(r->text, at);
        if (size && leaves_flow(r, r->text, at + size)) {
            close_deeper(r, block_level(r)->column, false);
            return at;
        }
        bool fresh = size && text_skip_blanks(r->text, top(r)->from) == at;
        at = size ? at + size : flow_mark(r, at);
        if (fresh) top(r)->from = at; /* nothing was written on that line */
    }
    return at;
}

/* --- block: what stands by its indentation -----------------------------------------------------
 */

static size_t next_line(struct str text, size_t at) {
    at = line_end(text, at);
    return at < text.size ? at + text_break_size(text, at) : at;
}

/* Behind the lines of a block of text, which stand further in than its key. */
static size_t skip_block_text(struct reader *r, size_t at, size_t column) {
    for (at = next_line(r->text, at); at < r->text.size; at = next_line(r->text, at)) {
        size_t own = column_at(r->text, at);
        bool empty = at + own == r->text.size || text_break_size(r->text, at + own);
        if (own <= column && !empty) break;
    }
    return at;
}

/* A value from here to the end of its line, or of its brackets, quotes or block of text. */
static size_t read_value(struct reader *r, size_t at) {
    size_t start = text_skip_blanks(r->text, at);
    char c = start < r->text.size ? r->text.data[start] : '\n';
    if (c == '{' || c == '[') {
        open_level(r, true, c == '[', 0, start + 1);
        start = read_flow(r, start + 1);
    } else if (c == '"' || c == '\'') {
        start = skip_quoted(r->text, start);
    } else if (c == '|' || c == '>') {
        return skip_block_text(r, start, top(r)->column);
    }
    return next_line(r->text, start);
}

/* The colon behind the key that begins here, or the end of the line. */
static size_t key_end(struct str text, size_t at) {
    if (strchr("'\"", text.data[at])) at = skip_quoted(text, at);
    while (at < text.size && !text_break_size(text, at) && !ends_key(text, at)) at++;
    return at;
}

/* Opens what the keys or dashes in this column belong to. */
static void settle(struct reader *r, size_t column, bool dash) {
    close_deeper(r, column, !dash);
    const struct level *level = top(r);
    bool there = level->column == column && level->list == dash;
    bool deeper = level->column < column || dash; /* a list may stand right under its key */
    if (!there && deeper && (level->list || !level->field || holds_parts(level->field) || dash))
        open_level(r, false, dash, column, 0);
}

static bool is_dash(struct str text, size_t at) {
    return text.data[at] == '-' && (at + 1 == text.size || strchr(" \r\n", text.data[at + 1]));
}

static size_t read_line(struct reader *r, size_t line) {
    size_t column = column_at(r->text, line), at = line + column;
    while (at < r->text.size && is_dash(r->text, at)) {
        settle(r, at - line, true);
        top(r)->from = at + 1;
        at = text_skip_blanks(r->text, at + 1);
        column = at - line;
    }
    if (at < r->text.size && (text_break_size(r->text, at) || r->text.data[at] == '#'))
        return next_line(r->text, at);
    bool brackets = at < r->text.size && strchr("{[", r->text.data[at]);
    size_t colon = at < r->text.size && !brackets ? key_end(r->text, at) : at;
    bool keyed = colon < r->text.size && r->text.data[colon] == ':';
    if (brackets) return read_value(r, at);
    if (keyed || !top(r)->list || holds_parts(top(r)->field)) settle(r, column, false);
    if (!keyed) { /* a key that is being written, an item, or more of a text */
        if (!top(r)->list && (top(r)->column == column || !top(r)->value)) {
            top(r)->field = NULL;
            top(r)->value = false;
            top(r)->from = at;
        }
        return next_line(r->text, colon);
    }
    take_key(r, key_between(r->text, at, colon), colon + 1);
    return read_value(r, colon + 1);
}

/* --- what stands around the place ---------------------------------------------------------------
 */

static void give(struct arena *arena, struct where *where, struct str key) {
    GROW(arena, where->given, where->given_count, where->given_capacity);
    where->given[where->given_count++] = key;
}

/* The keys in this column, from the line before or behind, until one stands further out. */
static void give_column(struct reader *r, struct str whole, size_t column, size_t line) {
    for (size_t at = line; at < whole.size; at = next_line(whole, at)) {
        size_t own = column_at(whole, at), start = at + own;
        while (start < whole.size && is_dash(whole, start) && own < column)
            own = (start = text_skip_blanks(whole, start + 1)) - at;
        if (start == whole.size || text_break_size(whole, start) || whole.data[start] == '#')
            continue;
        if (at != line && (column_at(whole, at) < column)) break;
        size_t colon = own == column ? key_end(whole, start) : start;
        if (colon < whole.size && whole.data[colon] == ':')
            give(r->arena, r->where, key_between(whole, start, colon));
    }
}

/* The line on which the mapping begins that holds this place. */
static size_t first_line(struct str whole, size_t column, size_t at) {
    size_t first = at;
    while (first && !text_break_size(whole, first - 1)) first--;
    for (size_t line = first; line;) {
        size_t above = line - 1;
        while (above && !text_break_size(whole, above - 1)) above--;
        size_t own = column_at(whole, above);
        bool empty = above + own == whole.size || text_break_size(whole, above + own) ||
                     whole.data[above + own] == '#';
        bool item = !empty && own < column && is_dash(whole, above + own) &&
                    text_skip_blanks(whole, above + own + 1) - above == column;
        if (item) return above;
        if (!empty && own < column) break;
        line = above;
        if (!empty) first = above;
    }
    return first;
}

/* The keys between these brackets and not between others in them. */
static void give_brackets(struct reader *r, struct str whole, size_t begin) {
    int depth = 0;
    for (size_t at = begin, key = begin; at < whole.size && depth >= 0; at++) {
        size_t size = text_break_size(whole, at);
        bool begins = text_skip_blanks(whole, key) == at;
        char c = whole.data[at];
        if (size && leaves_flow(r, whole, at + size)) break;
        if (begins && strchr("'\"", c)) at = skip_quoted(whole, at) - 1;
        if (!depth && ends_key(whole, at)) give(r->arena, r->where, key_between(whole, key, at));
        if (strchr("{[", c)) depth++;
        if (strchr("}]", c)) depth--;
        if (strchr(",{[:", c) || (size && begins)) key = at + 1;
    }
}

static bool ends_word(struct str text, size_t at, const struct where *where) {
    if (text_break_size(text, at)) return true;
    if (where->flow && strchr(",{}[]", text.data[at])) return true;
    if (!where->value && ends_key(text, at)) return true;
    return text.data[at] == '#' && at && text.data[at - 1] == ' ';
}

static void find_words(struct str whole, size_t at, struct where *where) {
    size_t last = text_skip_blanks(whole, where->from);
    where->from = last < at ? last : at;
    where->to = at;
    while (where->to < whole.size && !ends_word(whole, where->to, where)) where->to++;
    while (where->to > at && strchr(" \t", whole.data[where->to - 1])) where->to--;
    where->word = at;
    while (where->word > where->from && !strchr(" \t", whole.data[where->word - 1])) where->word--;
}

/* A document that begins with `workshop: 1` is no recipe. */
static enum part_id root_of(struct str text) {
    for (size_t at = 0; at < text.size; at = next_line(text, at)) {
        if (text_starts_with(text, at, "recipe:")) return PART_recipe;
        if (!text_starts_with(text, at, "workshop:")) continue;
        size_t value = text_skip_blanks(text, at + strlen("workshop:"));
        if (value < text.size && text.data[value] >= '0' && text.data[value] <= '9')
            return PART_workshop;
    }
    return PART_recipe;
}

/* On a line that is empty up to the place, its column says what belongs there. */
static void settle_blank(struct reader *r, size_t line) {
    settle(r, column_at(r->text, line), false);
    top(r)->field = NULL;
    top(r)->value = false;
    top(r)->from = r->text.size;
}

struct where where_find(struct arena *arena, struct str whole, size_t at) {
    struct where where = {.part = NULL};
    struct reader r = {.arena = arena, .text = {whole.data, at}, .where = &where};
    size_t line = 0, last = 0;
    r.levels[0] = (struct level){.part = &grammar_parts[root_of(whole)]};
    r.depth = 1;
    for (; line < at; line = read_line(&r, line)) last = line;
    bool blank = at == 0 || text_break_size(whole, at - 1) || last + column_at(r.text, last) == at;
    size_t start = at;
    while (start && !text_break_size(whole, start - 1)) start--;
    if (blank && !top(&r)->flow) settle_blank(&r, start);
    const struct level *level = top(&r);
    where.part = level->part;
    where.field = level->field;
    where.value = level->value;
    where.flow = level->flow;
    where.from = level->from;
    find_words(whole, at, &where);
    if (!where.value && where.part)
        where.field = grammar_field(
            where.part, str_trim((struct str){whole.data + where.from, where.to - where.from}));
    if (where.value) return where;
    if (level->flow)
        give_brackets(&r, whole, level->begin);
    else
        give_column(&r, whole, level->column, first_line(whole, level->column, start));
    return where;
}
