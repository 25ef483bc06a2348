/* What the bench taught as a page: the listing that is printed too, and a plot for each figure with
 * what it says in words (docs/command.md, Learning from the bench).
 *
 * One HTML file without outside files and without a script.
 */
#ifndef PLUGWRIGHT_LESSON_PAGE_H
#define PLUGWRIGHT_LESSON_PAGE_H

#include "compute/lesson.h"
#include "emit/drawing/figure.h"
#include "emit/write/listing.h"

struct lesson_page {
    const struct lesson *lesson;
    const struct listing *listing;
    struct figure_list masses, times; /* drawn of the figures that `layer` tells */
    enum unit_system units;
};

void lesson_page(struct buf *out, const struct lesson_page *page);

#endif
