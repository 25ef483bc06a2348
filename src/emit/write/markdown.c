/* Escaping.  A backslash before ASCII punctuation takes its meaning away in every dialect, so every
 * character that can open something gets one: always where it could do so anywhere in a line, and
 * at the beginning of a line where it can only do so there.  Two things a backslash cannot stop:
 * some code hosts make links of bare addresses and of @names after unescaping.  Hence a backslash
 * in the middle of what would be an address (`http\://`, `www\.x`), and the at sign as code.  And
 * the first Markdown of all knew no backslash before `<`: it is written as an entity.
 *
 * Blocks are collected first and then set with their prefix, broken at 92 columns where the next
 * word cannot be mistaken for the beginning of a block.
 */
#include "emit/write/markdown.h"

#include <stdarg.h>
#include <stdint.h>
#include <string.h>

#include "base/unicode.h"

enum {
    LINE_COLUMNS = 92,
    CELL_COLUMNS = 76, /* cells are padded up to this width; a longer one juts out */
    TASK_INDENT = 2,
};

static bool is_letter(uint32_t c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

static bool is_digit(uint32_t c) {
    return c >= '0' && c <= '9';
}

/* The character at `i` of cleaned text, 0 beyond its ends; bytes of longer characters count as
 * letters nowhere. */
static unsigned char at(struct str text, size_t i) {
    return i < text.size ? (unsigned char)text.data[i] : 0;
}

/* Whether `text` begins like the number of a list: "12." or "a)" with nothing behind it. */
static size_t list_mark(struct str text) {
    size_t i = 0;
    while (is_digit(at(text, i))) i++;
    if (!i && is_letter(at(text, 0))) {
        while (strchr("ivxlcdmIVXLCDM", at(text, i)) && at(text, i)) i++;
        if (!i) i = 1;
    }
    bool mark = i && (at(text, i) == '.' || at(text, i) == ')');
    return mark && (i + 1 == text.size || text.data[i + 1] == ' ') ? i : SIZE_MAX;
}

/* Whether the character at `i` needs a backslash. */
static bool is_active(struct str text, size_t i, size_t mark, bool fresh) {
    unsigned char c = at(text, i), before = i ? at(text, i - 1) : 0, after = at(text, i + 1);
    if (c && strchr("\\`*_{}[]>|~^$#", c)) return true;
    if (c == '&') return is_letter(after) || after == '#';
    if (c == '=') return before == '=' || after == '=' || (fresh && !i);
    if (c == ':') { /* schemes, emoji names, definitions; never a ratio */
        return (!is_digit(before) && after && after != ' ') || (fresh && !i);
    }
    if (c == '.' && is_letter(after)) return is_letter(before) || is_digit(before);
    if (c == '(' && before == '\\') return true; /* some dialects have mathematics there */
    if (i == mark) return true;
    return fresh && !i && c && strchr("-+%(", c);
}

void md_escape(struct buf *out, struct str raw, bool fresh) {
    struct str text = unicode_clean(out->arena, raw);
    size_t mark = fresh ? list_mark(text) : SIZE_MAX;
    for (size_t i = 0; i < text.size; i++) {
        char c = text.data[i];
        size_t word = i; /* letters and blanks are never active but as the mark of a list */
        while (word != mark && (is_letter(at(text, word)) || at(text, word) == ' ')) word++;
        if (word > i) {
            buf_bytes(out, text.data + i, word - i);
            i = word - 1;
            continue;
        }
        if (c == '@') {
            size_t end = i;
            while (at(text, end) == '@') end++;
            buf_char(out, '`');
            buf_bytes(out, text.data + i, end - i);
            buf_char(out, '`');
            i = end - 1;
            continue;
        }
        if (is_active(text, i, mark, fresh)) buf_char(out, '\\');
        if (c == '<')
            buf_text(out, "&lt;");
        else
            buf_char(out, c);
    }
}

/* The words between two of a pattern's backticks.  Nothing can be escaped there, so what would end
 * the code, or a table's cell, is shown as its nearest relative. */
static void put_code(struct buf *out, struct str text) {
    if (!text.size) buf_char(out, ' ');
    for (size_t i = 0; i < text.size; i++) {
        char c = text.data[i];
        buf_char(out, c == '`' ? '\'' : c == '|' ? '/' : c);
    }
}

static void put_text(struct buf *out, struct str raw, bool code) {
    struct str text = str_trim(unicode_clean(out->arena, raw));
    bool fresh = !out->size || out->data[out->size - 1] == '\n';
    if (code)
        put_code(out, text);
    else
        md_escape(out, text, fresh);
}

static void put_pattern(struct buf *out, const char *pattern, va_list args) {
    for (const char *p = pattern; *p; p++) {
        bool code = p > pattern && p[-1] == '`';
        if (*p != '%') {
            size_t plain = strcspn(p, "%");
            buf_bytes(out, p, plain);
            p += plain - 1;
        } else if (*++p == 's') {
            put_text(out, str_of(va_arg(args, const char *)), code);
        } else if (*p == '.') { /* .*s */
            p += 2;
            int size = va_arg(args, int);
            const char *data = va_arg(args, const char *);
            put_text(out, (struct str){data, size > 0 ? (size_t)size : 0}, code);
        } else if (*p == 'd') {
            buf_printf(out, "%d", va_arg(args, int));
        } else {
            buf_char(out, '%');
        }
    }
}

struct md md_of(struct buf *out) {
    return (struct md){.out = out, .block = {.arena = out->arena}};
}

/* Whether a line may begin with this word without becoming something else. */
static bool may_begin_line(struct str word) {
    if (!word.size || strchr("-+*#>=:|~`_%!(", word.data[0])) return false;
    return list_mark(word) == SIZE_MAX;
}

/* Sets one line of the block behind the prefix that is already out. */
static void set_line(struct md *md, struct str line, int column) {
    bool begun = false;
    while (line.size) {
        const char *space = memchr(line.data, ' ', line.size);
        struct str word = {line.data, space ? (size_t)(space - line.data) : line.size};
        int width = unicode_width(word);
        if (begun && md->wrapped && column + 1 + width > LINE_COLUMNS && may_begin_line(word)) {
            buf_char(md->out, '\n');
            buf_text(md->out, md->rest);
            column = (int)strlen(md->rest);
        } else if (begun) {
            buf_char(md->out, ' ');
            column++;
        }
        buf_str(md->out, word);
        column += width;
        begun = true;
        size_t used = word.size + (space != NULL);
        line = (struct str){line.data + used, line.size - used};
    }
}

static void open_block(struct md *md, const char *first, const char *rest, bool item) {
    if (md->out->size && !(item && md->list)) buf_char(md->out, '\n');
    md->first = first;
    md->rest = rest;
    md->list = item;
    md->wrapped = true;
    md->block.size = 0;
}

void md_end(struct md *md) {
    struct str text = str_trim((struct str){md->block.data, md->block.size});
    for (bool first = true; first || text.size; first = false) {
        const char *prefix = first ? md->first : md->rest;
        const char *end = text.size ? memchr(text.data, '\n', text.size) : NULL;
        struct str line = {text.data, end ? (size_t)(end - text.data) : text.size};
        buf_text(md->out, prefix);
        set_line(md, line, (int)strlen(prefix));
        while (md->out->size && md->out->data[md->out->size - 1] == ' ') md->out->size--;
        buf_char(md->out, '\n');
        size_t used = line.size + (end != NULL);
        text = (struct str){text.data + used, text.size - used};
    }
}

void md_open_para(struct md *md) {
    open_block(md, "", "", false);
}

void md_open_item(struct md *md) {
    open_block(md, "- ", "  ", true);
}

void md_open_task(struct md *md) {
    open_block(md, "- [ ] ", "  ", true);
}

void md_end_list(struct md *md) {
    md->list = false;
}

void md_break(struct md *md) {
    buf_text(&md->block, "\\\n");
}

void md_further(struct md *md) {
    buf_text(&md->block, "\n\n");
}

void md_add(struct md *md, const char *pattern, ...) {
    va_list args;
    va_start(args, pattern);
    put_pattern(&md->block, pattern, args);
    va_end(args);
}

void md_heading(struct md *md, int level, const char *pattern, ...) {
    static const char *const marks[] = {"# ", "## ", "### ", "#### "};
    va_list args;
    va_start(args, pattern);
    open_block(md, marks[level - 1], "", false);
    md->wrapped = false;
    put_pattern(&md->block, pattern, args);
    md_end(md);
    va_end(args);
}

void md_para(struct md *md, const char *pattern, ...) {
    va_list args;
    va_start(args, pattern);
    md_open_para(md);
    put_pattern(&md->block, pattern, args);
    md_end(md);
    va_end(args);
}

void md_item(struct md *md, const char *pattern, ...) {
    va_list args;
    va_start(args, pattern);
    md_open_item(md);
    put_pattern(&md->block, pattern, args);
    md_end(md);
    va_end(args);
}

void md_task(struct md *md, const char *pattern, ...) {
    va_list args;
    va_start(args, pattern);
    md_open_task(md);
    put_pattern(&md->block, pattern, args);
    md_end(md);
    va_end(args);
}

/* Spaces that Markdown would fold become no-break spaces. */
static void put_spaced(struct buf *out, struct str line) {
    struct str text = unicode_clean(out->arena, line);
    while (text.size && text.data[text.size - 1] == ' ') text.size--;
    size_t from = 0;
    for (size_t i = 0; i <= text.size; i++) {
        bool kept = at(text, i) == ' ' && (i == 0 || text.data[i - 1] == ' ');
        if (!kept && i < text.size) continue;
        md_escape(out, (struct str){text.data + from, i - from}, from == 0);
        if (kept) buf_text(out, "\xc2\xa0");
        from = i + 1;
    }
}

void md_quote(struct md *md, struct str text) {
    text = str_trim(text);
    while (text.size && strchr(" \t\n\r", text.data[text.size - 1])) text.size--;
    bool first = true, open = false;
    while (text.size) {
        const char *end = memchr(text.data, '\n', text.size);
        struct str line = {text.data, end ? (size_t)(end - text.data) : text.size};
        bool blank = !str_trim(unicode_clean(md->out->arena, line)).size;
        if (!blank) {
            if (first)
                open_block(md, "> ", "> ", false);
            else if (open)
                md_break(md);
            else
                buf_text(&md->block, "\n\n");
            put_spaced(&md->block, line);
            first = false;
        }
        open = !blank;
        size_t used = line.size + (end != NULL);
        text = (struct str){text.data + used, text.size - used};
    }
    if (!first) md_end(md);
}

void md_figure(struct md *md, const char *file, const char *title) {
    bool plain = *file && *file != '.';
    for (const char *p = file; *p; p++) {
        plain = plain && (is_letter((unsigned char)*p) || is_digit((unsigned char)*p) ||
                          *p == '.' || *p == '-');
    }
    if (!plain) {
        md_para(md, "%s", title);
        return;
    }
    md_open_para(md);
    md->wrapped = false;
    buf_text(&md->block, "![");
    md_escape(&md->block, str_of(title), false);
    buf_printf(&md->block, "](%s)", file);
    md_end(md);
}

void md_table(struct md *md, const struct md_column *columns, int count) {
    md->columns = columns;
    md->column_count = count;
    md->cell_count = 0;
}

static void add_cell(struct md *md, struct str text) {
    GROW(md->out->arena, md->cells, md->cell_count, md->cell_capacity);
    md->cells[md->cell_count++] = text;
}

void md_cell(struct md *md, const char *pattern, ...) {
    struct buf text = {.arena = md->out->arena};
    va_list args;
    va_start(args, pattern);
    buf_text(&text, "");
    put_pattern(&text, pattern, args);
    va_end(args);
    add_cell(md, (struct str){text.data, text.size});
}

void md_open_cell(struct md *md) {
    md->block.size = 0;
    buf_text(&md->block, "");
}

void md_end_cell(struct md *md) {
    add_cell(md, (struct str){arena_copy(md->out->arena, md->block.data, md->block.size),
                              md->block.size});
}

void md_skip(struct md *md) {
    add_cell(md, str_of(""));
}

static void put_cell(struct buf *out, struct str text, int width, enum md_align align) {
    int spare = width - unicode_width(text);
    if (spare < 0) spare = 0;
    int before = align == MD_RIGHT ? spare : align == MD_CENTRE ? spare / 2 : 0;
    buf_printf(out, "| %*s", before, "");
    buf_str(out, text);
    buf_printf(out, "%*s ", spare - before, "");
}

static void put_dashes(struct buf *out, int width, enum md_align align) {
    buf_text(out, align == MD_CENTRE ? "| :" : "| ");
    int marks = align == MD_LEFT ? 0 : align == MD_CENTRE ? 2 : 1;
    for (int i = 0; i < width - marks; i++) buf_char(out, '-');
    buf_text(out, align == MD_LEFT ? " " : ": ");
}

static int column_width(const struct md *md, int column) {
    const char *title = md->columns[column].title;
    int width = unicode_width(str_of(title));
    if (width < 3) width = 3;
    for (int i = column; i < md->cell_count; i += md->column_count) {
        int cell = unicode_width(md->cells[i]);
        if (cell > width) width = cell < CELL_COLUMNS ? cell : CELL_COLUMNS;
    }
    return width;
}

void md_table_end(struct md *md) {
    while (md->cell_count % md->column_count) md_skip(md);
    open_block(md, "", "", false);
    int *widths = NEW(md->out->arena, int, md->column_count);
    for (int c = 0; c < md->column_count; c++) widths[c] = column_width(md, c);
    for (int c = 0; c < md->column_count; c++) {
        put_cell(md->out, str_of(md->columns[c].title), widths[c], md->columns[c].align);
    }
    buf_text(md->out, "|\n");
    for (int c = 0; c < md->column_count; c++) {
        put_dashes(md->out, widths[c], md->columns[c].align);
    }
    buf_text(md->out, "|\n");
    for (int i = 0; i < md->cell_count; i++) {
        int c = i % md->column_count;
        put_cell(md->out, md->cells[i], widths[c], md->columns[c].align);
        if (c + 1 == md->column_count) buf_text(md->out, "|\n");
    }
    md->columns = NULL;
}
