/* A small Markdown writer: escaping, blank lines, wrapping, lists, tick boxes and tables.
 *
 * It writes the part of Markdown that CommonMark, GitHub's dialect and Pandoc share (pipe tables
 * and task lists are the only extensions), laid out so that it reads well unrendered.  It knows
 * nothing of plugs.
 *
 * A pattern is Markdown of our own, a literal in the source; what its arguments bring is text and
 * is always escaped:
 *     %s  a C string     %.*s  a slice (MD_STR)     %d  an int     %%  a per cent sign
 *     `%s`  the same as code: a backtick reads as an apostrophe there, a bar as a slash
 * So no argument can put markup, HTML, a link, an image, a raw block, an attribute, a note, a
 * citation, mathematics or metadata into the document.  Text is cleaned as base/unicode.h says.
 */
#ifndef PLUGWRIGHT_WRITE_MARKDOWN_H
#define PLUGWRIGHT_WRITE_MARKDOWN_H

#include <stdbool.h>

#include "base/buf.h"

/* The two arguments of %.*s. */
#define MD_STR(text) (int)(text).size, (text).data

#define MD_PATTERN(which) __attribute__((format(printf, which, which + 1)))

enum md_align { MD_LEFT, MD_RIGHT, MD_CENTRE };

struct md_column {
    const char *title; /* of our own: not escaped */
    enum md_align align;
};

struct md {
    struct buf *out;
    struct buf block;  /* the block that is being written, without its prefix */
    const char *first; /* prefix of its first line, … */
    const char *rest;  /* … of every further line */
    bool list;         /* the last block was a list item: the next item follows it tightly */
    bool wrapped;      /* lines of the block may be broken */
    const struct md_column *columns;
    int column_count;
    struct str *cells; /* of the table that is being written, row by row */
    int cell_count;
    size_t cell_capacity;
};

struct md md_of(struct buf *out);

/* Whole blocks. */
MD_PATTERN(3) void md_heading(struct md *md, int level, const char *pattern, ...);
MD_PATTERN(2) void md_para(struct md *md, const char *pattern, ...);
MD_PATTERN(2) void md_item(struct md *md, const char *pattern, ...);
MD_PATTERN(2) void md_task(struct md *md, const char *pattern, ...); /* an item with a tick box */

/* A paragraph or an item in parts: open one, add to it, end it. */
void md_open_para(struct md *md);
void md_open_item(struct md *md);
void md_open_task(struct md *md);
MD_PATTERN(2) void md_add(struct md *md, const char *pattern, ...);
void md_break(struct md *md);   /* a line break that stays */
void md_further(struct md *md); /* a further paragraph of the same item */
void md_end(struct md *md);

/* Ends a list, so that the next item begins a new one. */
void md_end_list(struct md *md);

/* Free text as it stands, line by line, as a quotation; leading and repeated spaces are kept. */
void md_quote(struct md *md, struct str text);

/* An image of our own beside the document.  `file` is a plain name of letters, digits, dots and
 * hyphens; any other is left out, and the title stands in its place. */
void md_figure(struct md *md, const char *file, const char *title);

/* A table, cell by cell; a row that was not filled up is filled with empty cells. */
void md_table(struct md *md, const struct md_column *columns, int count);
MD_PATTERN(2) void md_cell(struct md *md, const char *pattern, ...);
void md_skip(struct md *md);      /* an empty cell */
void md_open_cell(struct md *md); /* a cell in parts, by md_add */
void md_end_cell(struct md *md);
void md_table_end(struct md *md);

/* Appends one text, escaped.  `fresh`: it stands at the beginning of a line. */
void md_escape(struct buf *out, struct str text, bool fresh);

#endif
