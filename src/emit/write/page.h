/* The frame of a page of HTML that stands by itself: it fetches nothing, and its policy lets it
 * show data and the style and script that it carries, by a word that is made of its content.
 */
#ifndef PLUGWRIGHT_WRITE_PAGE_H
#define PLUGWRIGHT_WRITE_PAGE_H

#include "base/buf.h"

struct page {
    struct str title;
    const char *more; /* behind the title, or "" */
    const char *word; /* plain, and another one for other content */
    struct str style;
    struct str script; /* empty: none, and the policy lets none run */
};

/* What stands before the body's content and behind it.  A page with a script says its word there
 * (`data-state`). */
void page_begin(struct buf *out, const struct page *page);
void page_end(struct buf *out, const struct page *page);

#endif
