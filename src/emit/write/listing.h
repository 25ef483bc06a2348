/* A listing of results: chapters of rows, lines and paragraphs, written once and shown twice, as a
 * screenful of text and as part of a page.
 *
 * A row is cells in columns, as text pads them; those that stand flush left are what it is called,
 * those flush right its values.  Of two listings the page shows in the new one what reads otherwise
 * than in the old one; rows are told apart by what they are called, and lines by how they begin.
 */
#ifndef PLUGWRIGHT_WRITE_LISTING_H
#define PLUGWRIGHT_WRITE_LISTING_H

#include <stdbool.h>

#include "base/buf.h"

enum listing_kind {
    LISTING_TITLE,     /* a line before the first chapter */
    LISTING_HEADING,   /* begins a chapter */
    LISTING_ROW,       /* cells in columns */
    LISTING_LINE,      /* one line */
    LISTING_PARAGRAPH, /* as many lines as it takes */
};

struct listing_cell {
    const char *text;
    int width; /* of its column of text; negative: flush right, and a wide one stands apart */
};

struct listing_item {
    enum listing_kind kind;
    const char *chapter; /* LISTING_HEADING: a plain word that stays, whatever its text says */
    struct listing_cell *cells;
    int cell_count;
    size_t cell_capacity;
};

struct listing {
    struct arena *arena;
    struct listing_item *items;
    int count;
    size_t capacity;
};

/* Each begins an item.  Texts are kept, not copied. */
void listing_title(struct listing *listing, const char *text);
void listing_heading(struct listing *listing, const char *chapter, const char *text);
void listing_line(struct listing *listing, const char *text);
void listing_paragraph(struct listing *listing, const char *text);
void listing_row(struct listing *listing);

/* Puts a cell behind those of the row that was begun last. */
void listing_cell(struct listing *listing, const char *text, int width);

/* 78 columns of text. */
void listing_text(struct buf *out, const struct listing *listing);

/* Chapters as sections with tables, escaped; what reads otherwise in `former` (or NULL) as
 * insertion and deletion. */
void listing_page(struct buf *out, const struct listing *listing, const struct listing *former);

#endif
