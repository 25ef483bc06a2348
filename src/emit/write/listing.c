#include "emit/write/listing.h"

#include <string.h>

#include "base/unicode.h"
#include "emit/write/markup.h"

enum { WIDTH = 78 };

/* --- filling --------------------------------------------------------------------------------- */

static struct listing_item *add(struct listing *listing, enum listing_kind kind) {
    GROW(listing->arena, listing->items, listing->count, listing->capacity);
    struct listing_item *item = &listing->items[listing->count++];
    *item = (struct listing_item){.kind = kind};
    return item;
}

static void add_text(struct listing *listing, enum listing_kind kind, const char *text) {
    add(listing, kind);
    listing_cell(listing, text, 0);
}

void listing_title(struct listing *listing, const char *text) {
    add_text(listing, LISTING_TITLE, text);
}

void listing_heading(struct listing *listing, const char *chapter, const char *text) {
    add_text(listing, LISTING_HEADING, text);
    listing->items[listing->count - 1].chapter = chapter;
}

void listing_line(struct listing *listing, const char *text) {
    add_text(listing, LISTING_LINE, text);
}

void listing_paragraph(struct listing *listing, const char *text) {
    add_text(listing, LISTING_PARAGRAPH, text);
}

void listing_row(struct listing *listing) {
    add(listing, LISTING_ROW);
}

void listing_cell(struct listing *listing, const char *text, int width) {
    struct listing_item *item = &listing->items[listing->count - 1];
    GROW(listing->arena, item->cells, item->cell_count, item->cell_capacity);
    item->cells[item->cell_count++] = (struct listing_cell){text, width};
}

/* --- as text --------------------------------------------------------------------------------- */

static void pad_cells(struct buf *out, const struct listing_item *row) {
    buf_text(out, "  ");
    for (int i = 0; i < row->cell_count; i++) {
        const struct listing_cell *cell = &row->cells[i];
        if (cell->width < 0 && unicode_width(str_of(cell->text)) >= -cell->width)
            buf_char(out, ' ');
        unicode_pad(out, cell->text, cell->width);
    }
    buf_char(out, '\n');
}

/* Words broken at blanks, two columns in. */
static void wrap(struct buf *out, const char *text) {
    buf_char(out, ' ');
    for (int at = 1; *text;) {
        size_t size = strcspn(text, " ");
        int wide = unicode_width((struct str){text, size});
        bool fits = at == 1 || at + 1 + wide <= WIDTH;
        buf_text(out, fits ? " " : "\n  ");
        buf_bytes(out, text, size);
        at = (fits ? at : 1) + 1 + wide;
        text += size + strspn(text + size, " ");
    }
    buf_char(out, '\n');
}

void listing_text(struct buf *out, const struct listing *listing) {
    for (int i = 0; i < listing->count; i++) {
        const struct listing_item *item = &listing->items[i];
        const char *text = item->cell_count ? item->cells[0].text : "";
        switch (item->kind) {
        case LISTING_TITLE:
            buf_printf(out, "%s\n", text);
            break;
        case LISTING_HEADING:
            buf_printf(out, "\n%s\n", text);
            break;
        case LISTING_ROW:
            pad_cells(out, item);
            break;
        case LISTING_LINE:
            buf_printf(out, "  %s\n", text);
            break;
        case LISTING_PARAGRAPH:
            wrap(out, text);
            break;
        }
    }
}

/* --- which item of the former listing is which -------------------------------------------------
 */

/* Where the chapter of item `index` begins. */
static int chapter_of(const struct listing *listing, int index) {
    while (index > 0 && listing->items[index].kind != LISTING_HEADING) index--;
    return index;
}

/* The first `words` words of a text. */
static struct str beginning(const char *text, int words) {
    size_t size = 0;
    for (; words > 0 && text[size]; words--) {
        size += strspn(text + size, " ");
        size += strcspn(text + size, " ");
    }
    return (struct str){text, size};
}

static bool is_label(const struct listing_cell *cell) {
    return cell->width > 0;
}

static bool same_labels(const struct listing_item *a, const struct listing_item *b) {
    if (a->cell_count != b->cell_count) return false;
    for (int i = 0; i < a->cell_count; i++) {
        if (is_label(&a->cells[i]) != is_label(&b->cells[i])) return false;
        if (is_label(&a->cells[i]) && strcmp(a->cells[i].text, b->cells[i].text) != 0) return false;
    }
    return true;
}

/* Whether two items are called the same: rows by their labels, lines by two words, the others by
 * their place. */
static bool same_name(const struct listing_item *a, const struct listing_item *b) {
    if (a->kind != b->kind) return false;
    if (a->kind == LISTING_ROW) return same_labels(a, b);
    return a->kind != LISTING_LINE ||
           str_equal(beginning(a->cells[0].text, 2), beginning(b->cells[0].text, 2));
}

/* How many items of that name stand before it in its chapter. */
static int rank_of(const struct listing *listing, int index) {
    int rank = 0;
    for (int i = chapter_of(listing, index); i < index; i++)
        rank += same_name(&listing->items[i], &listing->items[index]);
    return rank;
}

/* Where the chapter of that word begins, or -1. */
static int find_chapter(const struct listing *listing, const char *chapter) {
    if (!chapter) return 0;
    for (int i = 0; i < listing->count; i++)
        if (listing->items[i].chapter && strcmp(listing->items[i].chapter, chapter) == 0) return i;
    return -1;
}

static const struct listing_item *find_item(const struct listing *former,
                                            const struct listing *listing, int index) {
    const struct listing_item *item = &listing->items[index];
    int at = find_chapter(former, listing->items[chapter_of(listing, index)].chapter);
    int rank = rank_of(listing, index);
    for (int i = at; at >= 0 && i < former->count; i++) {
        if (i > at && former->items[i].kind == LISTING_HEADING) break;
        if (same_name(&former->items[i], item) && rank-- == 0) return &former->items[i];
    }
    return NULL;
}

/* --- as part of a page ----------------------------------------------------------------------- */

struct page {
    struct buf *out;
    const struct listing *listing, *former;
    bool table, section;
};

static void marked(struct buf *out, const char *tag, struct str text) {
    if (!text.size) return;
    buf_printf(out, "<%s>", tag);
    markup_text(out, text);
    buf_printf(out, "</%s>", tag);
}

/* Bytes of whole words that both begin with. */
static size_t common_front(struct str a, struct str b) {
    size_t same = 0, words = 0;
    while (same < a.size && same < b.size && a.data[same] == b.data[same])
        if (a.data[same++] == ' ') words = same;
    return words;
}

static size_t common_back(struct str a, struct str b) {
    size_t same = 0, words = 0;
    while (same < a.size && same < b.size && a.data[a.size - 1 - same] == b.data[b.size - 1 - same])
        if (a.data[a.size - 1 - same++] == ' ') words = same;
    return words;
}

/* A text, and what of it reads otherwise than before, to the word. */
static void text_since(struct buf *out, const char *text, const char *before) {
    struct str now = str_of(text), was = str_of(before);
    if (str_equal(now, was)) {
        markup_text(out, now);
        return;
    }
    size_t front = common_front(now, was);
    struct str new = {now.data + front, now.size - front},
               old = {was.data + front, was.size - front};
    size_t back = common_back(new, old);
    new.size -= back;
    old.size -= back;
    markup_text(out, (struct str){now.data, front});
    marked(out, "del", old);
    if (old.size && new.size) buf_char(out, ' ');
    marked(out, "ins", new);
    markup_text(out, (struct str){new.data + new.size, back});
}

/* A cell whose value is another one. */
static void value_since(struct buf *out, const char *text, const char *before) {
    marked(out, "del", str_of(before));
    if (*before) buf_char(out, ' ');
    marked(out, "ins", str_of(text));
}

static void text_of(const struct page *page, const char *text, const struct listing_item *before) {
    if (!page->former)
        markup_text(page->out, str_of(text));
    else if (!before)
        marked(page->out, "ins", str_of(text));
    else
        text_since(page->out, text, before->cells[0].text);
}

static void row(struct page *page, const struct listing_item *item,
                const struct listing_item *before) {
    bool head = item->cell_count && !*item->cells[0].text && !page->table;
    if (!page->table) buf_text(page->out, "<div class=\"wide\"><table>\n");
    page->table = true;
    buf_text(page->out, "<tr>");
    for (int i = 0; i < item->cell_count; i++) {
        const struct listing_cell *cell = &item->cells[i];
        const char *tag = (is_label(cell) || head) && *cell->text ? "th" : "td";
        buf_printf(page->out, "<%s%s>", tag, is_label(cell) ? " class=\"name\"" : "");
        if (before && strcmp(before->cells[i].text, cell->text) != 0)
            value_since(page->out, cell->text, before->cells[i].text);
        else if (page->former && !before)
            marked(page->out, "ins", str_of(cell->text));
        else
            markup_text(page->out, str_of(cell->text));
        buf_printf(page->out, "</%s>", tag);
    }
    buf_text(page->out, "</tr>\n");
}

static void end_table(struct page *page) {
    if (page->table) buf_text(page->out, "</table></div>\n");
    page->table = false;
}

static void begin_section(struct page *page, const struct listing_item *item,
                          const struct listing_item *before) {
    if (page->section) buf_text(page->out, "</section>\n");
    page->section = true;
    buf_printf(page->out, "<section id=\"%s\">\n<h2>", item->chapter);
    text_of(page, item->cells[0].text, before);
    buf_text(page->out, "</h2>\n");
}

static void item_of(struct page *page, int index) {
    const struct listing_item *item = &page->listing->items[index];
    const struct listing_item *before =
        page->former ? find_item(page->former, page->listing, index) : NULL;
    if (item->kind == LISTING_ROW) {
        row(page, item, before);
        return;
    }
    end_table(page);
    if (item->kind == LISTING_HEADING) {
        begin_section(page, item, before);
        return;
    }
    buf_text(page->out, "<p>");
    text_of(page, item->cells[0].text, before);
    buf_text(page->out, "</p>\n");
}

void listing_page(struct buf *out, const struct listing *listing, const struct listing *former) {
    struct page page = {.out = out, .listing = listing, .former = former};
    for (int i = 0; i < listing->count; i++) item_of(&page, i);
    end_table(&page);
    if (page.section) buf_text(out, "</section>\n");
}
