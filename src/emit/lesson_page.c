#include "emit/lesson_page.h"

#include <math.h>

#include "emit/print/style.h"
#include "emit/words/lesson.h"
#include "emit/write/markup.h"
#include "emit/write/measure.h"
#include "emit/write/page.h"
#include "read/source.h"

static const char *several(struct arena *arena, int count, const char *what) {
    return arena_printf(arena, "%d %s%s", count, what, count == 1 ? "" : "s");
}

/* "405 kg/m³, nine times in ten from 344 kg/m³ to 477 kg/m³" */
static const char *band(struct arena *arena, const struct lesson_figure *f, double mean,
                        double deviation, enum unit_system units) {
    double half = lesson_ninety * deviation;
    return arena_printf(arena, "%s, nine times in ten from %s to %s",
                        lesson_value(arena, f, exp(mean), units),
                        lesson_value(arena, f, exp(mean - half), units),
                        lesson_value(arena, f, exp(mean + half), units));
}

/* How much bears on a figure, and which plugs have no point. */
static void bearing(struct buf *out, const struct lesson_task *task, int figure) {
    struct arena *arena = out->arena;
    const struct lesson_figure *f = &task->figures[figure];
    struct lesson_points points = lesson_points_of(arena, task, figure);
    const char *what = f->kind == LESSON_TIME ? "run" : "plug";
    int plugs = points.count + points.weaker + points.more;
    markup_element(out, "p",
                   arena_printf(arena, "%s of %s %s on it; the tables still do %.0f %%.",
                                several(arena, f->readings, "reading"), several(arena, plugs, what),
                                f->readings == 1 ? "bears" : "bear", f->prior_share * 100));
    if (points.weaker)
        markup_element(out, "p",
                       arena_printf(arena, "%s %s too little of it to have a point.",
                                    several(arena, points.weaker, what),
                                    points.weaker == 1 ? "says" : "say"));
    if (points.more)
        markup_element(out, "p",
                       arena_printf(arena, "%s more had no room: those above say most of it.",
                                    several(arena, points.more, what)));
}

static void plot(struct buf *out, const struct lesson_page *page, const struct lesson_task *task,
                 const struct lesson_trial *trial, const struct figure *drawn) {
    struct arena *arena = out->arena;
    const struct lesson_figure *f = &task->figures[drawn->layer];
    const char *what = f->kind == LESSON_TIME ? "Runs" : "Plugs";
    buf_text(out, "<section class=\"plot\">\n");
    markup_element(out, "h3", lesson_title(arena, f));
    buf_text(out, "\n<figure>");
    markup_image(out, drawn->title, buf_whole(&drawn->svg));
    buf_text(out, "</figure>\n");
    markup_element(out, "p",
                   arena_printf(arena, "As it stands: %s.",
                                band(arena, f, 0, task->task.prior[drawn->layer], page->units)));
    markup_element(out, "p",
                   arena_printf(arena, "By the bench: %s.",
                                band(arena, f, f->mean, f->deviation, page->units)));
    bearing(out, task, drawn->layer);
    if (trial->plugs > 1)
        markup_element(out, "p",
                       arena_printf(arena, "%s that took no part are foretold %s with it.", what,
                                    f->improves ? "better" : "no better"));
    buf_text(out, "</section>\n");
}

static void plots(struct buf *out, const struct lesson_page *page) {
    const struct lesson *l = page->lesson;
    if (!page->masses.count && !page->times.count) return;
    buf_text(out, "<section id=\"figures\">\n");
    markup_element(out, "h2", "Figure by figure");
    markup_element(out, "p",
                   "The dashed curve is the figure as the tables or the recipe have it, the bold "
                   "one as the bench has it; where it lies nine times in ten is hatched. Both are "
                   "drawn equally high: the narrower, the surer.");
    markup_element(
        out, "p",
        "A point is what one plug, or of times one run, says of the figure, all others being "
        "as the other plugs have them; nine times in ten it is right within its line.");
    for (int i = 0; i < page->masses.count; i++)
        plot(out, page, &l->masses, &l->mass_trial, &page->masses.figures[i]);
    for (int i = 0; i < page->times.count; i++)
        plot(out, page, &l->times, &l->time_trial, &page->times.figures[i]);
    buf_text(out, "</section>\n");
}

void lesson_page(struct buf *out, const struct lesson_page *page) {
    struct buf content = {.arena = out->arena};
    char word[BLOB_ID_SIZE];
    buf_text(&content, "<header>\n<h1>What the bench taught</h1>\n</header>\n<main>\n");
    listing_page(&content, page->listing, NULL);
    plots(&content, page);
    buf_text(&content, "</main>\n");
    source_id(buf_whole(&content), word);
    struct page frame = {.title = str_of("What the bench taught"),
                         .more = "",
                         .word = word,
                         .style = style_view_css};
    page_begin(out, &frame);
    buf_str(out, buf_whole(&content));
    page_end(out, &frame);
}
