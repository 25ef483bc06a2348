/* The difference as a chapter of the living page: what was changed, and what that does. */
#include "emit/difference/inner.h"

#include "emit/write/markup.h"

enum { LINES = 200 };

static void cell(struct buf *out, const char *tag, const char *text) {
    buf_printf(out, "<%s>", tag);
    markup_text(out, str_of(text));
    buf_printf(out, "</%s>", tag);
}

static void changes(const struct telling *t, struct buf *out) {
    const struct change_list *list = &t->d->changes;
    int shown = 0;
    buf_text(out, "<ul>\n");
    for (int g = 0; g < list->group_count; g++) {
        const struct change_group *group = &list->groups[g];
        for (int i = group->first, next; i < group->first + group->count; i = next) {
            const char *text = telling_change(t, group, i, &next);
            if (shown++ >= LINES) continue;
            buf_text(out, "<li>");
            cell(out, "b", group->name);
            buf_text(out, ": ");
            cell(out, "span", text);
            buf_text(out, "</li>\n");
        }
    }
    if (shown > LINES) buf_printf(out, "<li>and %d more</li>\n", shown - LINES);
    buf_text(out, "</ul>\n");
}

static void effect(const struct telling *t, struct buf *out, const struct effect *e) {
    const struct effect_value *a = e->before, *b = e->after;
    buf_text(out, "<tr>");
    buf_text(out, "<th class=\"name\">");
    markup_text(out, str_of(telling_label(t, e->any)));
    buf_text(out, "</th>");
    buf_text(out, "<td>");
    cell(out, "del", a ? telling_value(t, a->kind, a->value) : "-");
    buf_text(out, "</td><td>");
    cell(out, "ins", b ? telling_value(t, b->kind, b->value) : "-");
    buf_text(out, "</td>");
    cell(out, "td", telling_effect(t, e));
    buf_text(out, "</tr>\n");
}

static void effects(const struct telling *t, struct buf *out) {
    const struct effect_list *list = &t->d->effects;
    if (!list->count) {
        buf_text(out, "<p>Nothing that differs by more than the bench can tell.</p>\n");
        return;
    }
    buf_text(out, "<div class=\"wide\"><table>\n<tr><td></td><th>old</th><th>new</th>"
                  "<th>difference</th></tr>\n");
    for (int i = 0; i < list->count; i++)
        if (list->items[i].any->group != EFFECT_MATERIAL) effect(t, out, &list->items[i]);
    buf_text(out, "</table></div>\n");
}

void difference_page(struct buf *out, const struct difference *d) {
    struct telling t = telling_of(out->arena, d);
    buf_text(out, "<section id=\"changes\">\n<h2>What was changed</h2>\n");
    changes(&t, out);
    effects(&t, out);
    buf_text(out, "<p>In short: ");
    cell(out, "b", difference_words(out->arena, d));
    buf_text(out, ".</p>\n</section>\n");
}
